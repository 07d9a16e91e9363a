"""The phone app's files, served at the root: the service worker must live there to see the whole app."""

from __future__ import annotations

import mimetypes
from pathlib import Path

from flask import Blueprint, Response, send_from_directory
from werkzeug.exceptions import NotFound

from hatchnote.places import PWA, data_folder

bp = Blueprint("phone", __name__)
_TYPES = {
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".css": "text/css",
    ".html": "text/html",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".wasm": "application/wasm",
}


@bp.get("/")
def index() -> Response:
    return _file("index.html")


@bp.get("/<path:name>")
def file(name: str) -> Response:
    """Any file of the app. Hidden files and anything outside the folder are not found."""
    return _file(name)


def _file(name: str) -> Response:
    if any(part.startswith(".") for part in name.split("/")):
        raise NotFound
    suffix = Path(name).suffix
    kind = _TYPES.get(suffix) or mimetypes.guess_type(name)[0] or "application/octet-stream"
    if suffix not in _TYPES and not kind.startswith(("image/", "font/", "audio/", "text/plain")):
        raise NotFound
    response = send_from_directory(data_folder(PWA), name, mimetype=kind, conditional=True)
    # The service worker keeps the app for offline use; the browser's own cache would keep old versions.
    response.headers["Cache-Control"] = "no-cache"
    return response
