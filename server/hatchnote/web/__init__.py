"""The web server: `create_app` puts the blueprints together, one a concern."""

from __future__ import annotations

import logging
import sqlite3
from typing import TYPE_CHECKING, Any

from hatchnote.settings import Settings

if TYPE_CHECKING:
    from flask import Flask

    from hatchnote.store import Store

log = logging.getLogger("hatchnote.web")


def create_app(settings: Settings, store: Store | None = None) -> Flask:
    """The WSGI application on a data folder. Its database is opened (and made) here."""
    from flask import Flask
    from werkzeug.middleware.proxy_fix import ProxyFix

    from hatchnote.jobs.bell import Bell
    from hatchnote.store import open_store
    from hatchnote.web import security
    from hatchnote.web.context import Context

    app = Flask("hatchnote.web", static_folder="static", static_url_path="/static")
    app.json.sort_keys = False  # type: ignore[attr-defined]
    app.json.ensure_ascii = False  # type: ignore[attr-defined]
    app.url_map.merge_slashes = False
    app.extensions["hatchnote"] = Context(store or open_store(settings.data), settings, Bell(settings))
    security.init_app(app)
    _register(app)
    _answer_errors(app)
    app.wsgi_app = _method_override(app.wsgi_app)  # type: ignore[method-assign]
    if settings.proxies:
        n = settings.proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=n, x_proto=n, x_host=n)  # type: ignore[method-assign]
    return app


def _register(app: Flask) -> None:
    from hatchnote.web import (
        corrections,
        documents,
        health,
        history,
        imports,
        media,
        office,
        openapi,
        phone,
        queue,
        reading,
        recordings,
        remote,
        session,
        tickets,
        uploads,
        visits,
    )

    rooms = (
        session,
        visits,
        recordings,
        uploads,
        media,
        tickets,
        documents,
        history,
        imports,
        corrections,
        reading,
        queue,
        remote,
        openapi,
        health,
        office,
        phone,
    )
    for room in rooms:
        app.register_blueprint(room.bp)


def _answer_errors(app: Flask) -> None:
    from flask import Response, jsonify, render_template, request
    from werkzeug.exceptions import HTTPException

    from hatchnote.errors import BadInput, Conflict, HatchnoteError, NoRoom, NotFound
    from hatchnote.store.database import is_full
    from hatchnote.web.receiving import Refusal

    known: list[tuple[type[Exception], int, str]] = [
        (Refusal, 422, "refused"),
        (BadInput, 400, "bad-input"),
        (NotFound, 404, "not-found"),
        (Conflict, 409, "conflict"),
        (NoRoom, 507, "no-room"),
        (HatchnoteError, 500, "failed"),
    ]

    def answer(status: int, code: str, sentence: str, headers: dict[str, str] | None = None) -> Response:
        if request.path.startswith(("/api/", "/uploads", "/healthz", "/metrics")) or request.method != "GET":
            response = jsonify({"error": sentence, "code": code})
        else:
            response = Response(
                render_template("error.html", status=status, sentence=sentence), mimetype="text/html"
            )
        response.status_code = status
        response.headers.update(headers or {})
        return response

    @app.errorhandler(HatchnoteError)
    def ours(error: HatchnoteError) -> Response:
        status, code = next((n, c) for kind, n, c in known if isinstance(error, kind))
        return answer(status, code, str(error))

    @app.errorhandler(HTTPException)
    def http(error: HTTPException) -> Any:
        status = error.code or 500
        if status in (301, 302, 304, 307, 308, 416):
            return error
        sentence = {
            404: "There is no such page or thing; check the address.",
            405: "This address does not do that; see the API's description.",
            401: "You are not signed in; sign in and try again.",
            413: "This is larger than the server takes; send less at once.",
        }.get(status, error.description or error.name)
        code = getattr(error, "slug", None) or error.name.lower().replace(" ", "-")
        if getattr(error, "slug", None):
            sentence = error.description or sentence
        headers = dict(getattr(error, "extra_headers", {}))
        if status == 405 and getattr(error, "valid_methods", None):
            headers["Allow"] = ", ".join(sorted(error.valid_methods))  # type: ignore[attr-defined]
        return answer(status, code, sentence, headers)

    @app.errorhandler(Exception)
    def unforeseen(error: Exception) -> Response:
        if isinstance(error, sqlite3.OperationalError) and is_full(error):
            return answer(
                507, "no-room", "The server's disk is full; nothing was changed, so free some space."
            )
        if isinstance(error, sqlite3.OperationalError) and "locked" in str(error):
            return answer(503, "busy", "The server is busy; try again in a moment.", {"Retry-After": "2"})
        log.exception("%s %s failed", request.method, request.path)
        return answer(
            500, "failed", "The server failed and noted why; nothing was stored by halves, so try again."
        )


def _method_override(wsgi: Any) -> Any:
    """tus lets a client that cannot send PATCH or DELETE send POST with X-HTTP-Method-Override."""

    def application(environ: dict[str, Any], start_response: Any) -> Any:
        wanted = environ.get("HTTP_X_HTTP_METHOD_OVERRIDE", "").upper()
        if (
            environ["REQUEST_METHOD"] == "POST"
            and wanted in ("PATCH", "DELETE", "HEAD")
            and environ.get("PATH_INFO", "").startswith("/uploads/")
        ):
            environ["REQUEST_METHOD"] = wanted
        return wsgi(environ, start_response)

    return application
