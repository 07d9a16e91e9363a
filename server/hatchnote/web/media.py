"""Receipts, and the bytes of sound and photos with byte ranges, so that a browser can seek."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, send_file

from hatchnote import photos as pictures
from hatchnote.errors import NotFound
from hatchnote.store import photos, recordings
from hatchnote.web import receiving
from hatchnote.web import shapes as s
from hatchnote.web.context import own_or_all, settings, store
from hatchnote.web.endpoint import EVERYONE, endpoint

bp = Blueprint("media", __name__)
Json = dict[str, Any]
_PRIVATE = "private, max-age=31536000, immutable"


@endpoint(
    bp,
    "GET",
    "/receipts/<uuid:id>",
    roles=EVERYONE,
    summary="Proof that a segment or photo is held whole: its digest and size; 404 while it is not",
    answers={200: s.RECEIPT},
)
def get_receipt(id: str) -> Json:
    segment = recordings.segment(store(), id)
    if segment is not None and segment["blob_sha256"]:
        of = recordings.recording(store(), segment["recording_id"])
        own_or_all(of["technician_id"], "receipt", also=of["ticket_technician_id"])
        sha256, size = segment["blob_sha256"], segment["bytes"]
    else:
        photo = _photo(id, "receipt")
        sha256, size = photo["sha256"], photo["bytes"]
    if not store().blobs.has(sha256):
        raise NotFound("The bytes are not held (any more); keep your copy and send it again.")
    return {"id": id, "sha256": sha256, "bytes": size}


@endpoint(
    bp,
    "GET",
    "/recordings/<uuid:id>/sound",
    roles=EVERYONE,
    summary="The recording as one playable file, with byte ranges",
    answers={200: "audio/mp4", 206: "audio/mp4", 416: None},
)
def get_sound(id: str) -> Response:
    row = recordings.recording(store(), id)
    own_or_all(row["technician_id"], "recording", also=row["ticket_technician_id"])
    if row["sound_sha256"]:
        return _send(row["sound_sha256"], row["sound_mime"])
    pieces = recordings.segments(store(), id)
    if len(pieces) == 1 and pieces[0]["blob_sha256"]:
        return _send(pieces[0]["blob_sha256"], _sound_type(pieces[0]["mime"]))
    raise NotFound("The sound is not ready to be played yet; try again in a moment.")


@endpoint(
    bp,
    "GET",
    "/photos/<uuid:id>/image",
    roles=EVERYONE,
    summary="The photo, upright, as JPEG; its place is left out unless the settings keep it",
    answers={200: "image/jpeg", 206: "image/jpeg", 416: None},
)
def get_image(id: str) -> Response:
    row = _photo(id, "photo")
    if settings().photo_location == "keep" and row["mime"] in ("image/jpeg", "image/png", "image/webp"):
        return _send(row["sha256"], row["mime"])
    shown = row["shown_sha256"]
    if not shown or not store().blobs.has(shown):
        with receiving.ONE_PICTURE:
            data = pictures.derive(
                store().blobs.read(row["sha256"]), name=row["name"], edge=pictures.SHOWN_EDGE
            )
        shown = store().blobs.put(data)
        photos.set_shown(store(), id, shown)
    return _send(shown, "image/jpeg")


@endpoint(
    bp,
    "GET",
    "/photos/<uuid:id>/thumbnail",
    roles=EVERYONE,
    summary="The photo, small, upright, as JPEG",
    answers={200: "image/jpeg", 206: "image/jpeg", 416: None},
)
def get_thumbnail(id: str) -> Response:
    return _send(_photo(id, "photo")["thumb_sha256"], "image/jpeg")


def _photo(id: str, what: str) -> Json:
    try:
        row = photos.photo(store(), id)
        own_or_all(row["user_id"], what, also=row["ticket_technician_id"])
    except NotFound:
        raise NotFound(f"There is no such {what}.") from None
    return row


def _send(sha256: str, mime: str) -> Response:
    path = store().blobs.path(sha256)
    if not path.is_file():
        raise NotFound("This file is missing from the store; restore it from a backup.")
    response = send_file(path.resolve(), mimetype=mime, conditional=True, etag=sha256)
    response.headers["Cache-Control"] = _PRIVATE
    response.headers["Accept-Ranges"] = "bytes"
    return response


def _sound_type(announced: str | None) -> str:
    """Only ever a sound type, whatever the phone called it."""
    kind = (announced or "").split(";")[0].strip().lower()
    return (
        kind
        if kind.startswith("audio/") and kind.isascii() and kind.isprintable()
        else "application/octet-stream"
    )
