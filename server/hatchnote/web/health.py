"""Whether the server is well, and its figures for Prometheus (text format 0.0.4)."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, jsonify, request

from hatchnote.store import health
from hatchnote.web.context import session, settings, store
from hatchnote.web.security import Refused, signed_out

bp = Blueprint("health", __name__)


@bp.get("/healthz")
def healthz() -> Any:
    """200 when the database answers and the disk has room; 503 and what is wrong otherwise."""
    trouble = health.trouble(store(), keep_free=settings().keep_free_mb * 1024 * 1024)
    return jsonify(
        {"status": "well" if not trouble else "unwell", "trouble": trouble}
    ), 503 if trouble else 200


@bp.get("/metrics")
def metrics() -> Response:
    """For this machine itself, or for an administrator."""
    found = session_if_any()
    local = request.remote_addr in ("127.0.0.1", "::1") and not request.headers.get("X-Forwarded-For")
    if not local:
        if found is None:
            raise signed_out()
        if found.user.role != "administrator":
            raise Refused(403, "role", "Figures are for this machine itself and for administrators.")
    from hatchnote.web.figures import exposition

    body, kind = exposition(store())
    return Response(body, content_type=kind)


def session_if_any() -> Any:
    return session()
