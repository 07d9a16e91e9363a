"""Sessions, roles, CSRF protection and security headers, for every request."""

from __future__ import annotations

import hmac
from collections.abc import Callable
from functools import wraps
from typing import Any, ParamSpec, TypeVar
from urllib.parse import urlsplit

from flask import Flask, Response, abort, g, redirect, request, url_for
from werkzeug.exceptions import HTTPException

from hatchnote.settings import Settings
from hatchnote.store import people
from hatchnote.store.people import NewSession, Role, Session
from hatchnote.web.context import context, session

P = ParamSpec("P")
R = TypeVar("R")

COOKIE = "hatchnote_session"
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
SIGNED_OUT_WRITES = frozenset({"session.sign_in", "session.sign_in_form", "session.claim_pairing"})
"""The only writing endpoints that need no session; they check the Origin instead of a CSRF token."""
TOKEN_WRITES_PREFIX = "remote."
"""Endpoints of workers on other hosts: a bearer token, never a cookie."""

POLICY = (
    "default-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; object-src 'none'; base-uri 'none';"
    " form-action 'self'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "microphone=(self), camera=(self), geolocation=(), payment=(), usb=()",
}


class Refused(HTTPException):
    """An HTTP refusal with our own code and sentence."""

    def __init__(self, status: int, code: str, sentence: str, headers: dict[str, str] | None = None) -> None:
        super().__init__(sentence)
        self.code = status
        self.slug = code
        self.extra_headers = headers or {}


def init_app(app: Flask) -> None:
    app.before_request(_load_session)
    app.before_request(_check_forgery)
    app.after_request(_add_headers)


def _load_session() -> None:
    g.session = None
    token = request.cookies.get(COOKIE)
    if token and not request.path.startswith(("/static/", "/healthz")):
        s = context().settings
        g.session = people.session(
            context().store, token, browser_s=s.session_hours * 3600, device_s=s.device_days * 86400
        )


def _check_forgery() -> None:
    if request.method in SAFE_METHODS or request.endpoint is None:
        return
    if request.endpoint.startswith(TOKEN_WRITES_PREFIX):
        return
    if request.endpoint in SIGNED_OUT_WRITES:
        if not _same_origin():
            raise Refused(403, "origin", "This came from another site; open hatchnote itself and try again.")
        return
    found = session()
    if found is None:
        raise signed_out()
    given = request.headers.get("X-CSRF-Token") or (
        request.form.get("csrf", "")
        if (request.mimetype or "").startswith(("application/x-www", "multipart/"))
        else ""
    )
    if not hmac.compare_digest(given.encode(), found.csrf.encode()):
        raise Refused(
            403, "csrf", "The page is out of date or this came from another site; reload and try again."
        )


def _same_origin() -> bool:
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
        return False
    origin = request.headers.get("Origin")
    if not origin or origin == "null":
        return origin is None
    public = context().settings.public_address
    return urlsplit(origin).netloc == request.host or bool(public and origin == public)


def signed_out() -> Refused:
    return Refused(401, "signed-out", "You are not signed in (any more); sign in and try again.")


def need(*roles: Role) -> None:
    """Raises 401 for nobody and 403 for a person of another role."""
    found = session()
    if found is None:
        raise signed_out()
    if roles and found.user.role not in roles:
        raise Refused(403, "role", f"This is for {' and '.join(roles)} accounts; ask one of them.")


def login_required(*roles: Role) -> Callable[[Callable[P, R]], Callable[P, R | Any]]:
    """For HTML pages: nobody is sent to the sign-in page, a person of another role is told 403.

    Without roles any signed-in person may see the page.
    """

    def decorate(view: Callable[P, R]) -> Callable[P, R | Any]:
        @wraps(view)
        def checked(*args: P.args, **kwargs: P.kwargs) -> R | Any:
            found = session()
            if found is None:
                if request.method in SAFE_METHODS:
                    return redirect(url_for("session.sign_in_page", next=request.full_path.rstrip("?")))
                abort(401)
            if roles and found.user.role not in roles:
                raise Refused(403, "role", f"This page is for {' and '.join(roles)} accounts.")
            return view(*args, **kwargs)

        checked.hatchnote_roles = roles  # type: ignore[attr-defined]
        return checked

    return decorate


def set_cookie(response: Response, new: NewSession, settings: Settings) -> None:
    response.set_cookie(
        COOKIE,
        new.token,
        max_age=int(new.lasts_s) if new.session.device else None,
        httponly=True,
        samesite="Lax",
        secure=settings.secure or request.is_secure,
        path="/",
    )


def end(found: Session | None) -> None:
    if found is not None:
        people.end_session(context().store, found.id)


def _add_headers(response: Response) -> Response:
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.is_secure or context().settings.secure:
        response.headers.setdefault("Strict-Transport-Security", "max-age=31536000")
    if request.path.startswith(("/api/", "/uploads")) or request.path in ("/signin", "/metrics", "/healthz"):
        response.headers.setdefault("Cache-Control", "no-store")
    return response
