"""Who is there: signing in and out, this person, phones paired by QR code, signed-in devices, accounts."""

from __future__ import annotations

import datetime as dt
import io
import math
from typing import Any

from flask import Blueprint, Response, jsonify, redirect, render_template, request

from hatchnote import accounts
from hatchnote.errors import NotFound
from hatchnote.passwords import hash_password, matches
from hatchnote.store import people
from hatchnote.store.people import Session, User
from hatchnote.web import shapes as s
from hatchnote.web.context import me, session, settings, store
from hatchnote.web.endpoint import ADMINISTRATOR, EVERYONE, NOBODY_NEEDED, OFFICE, endpoint
from hatchnote.web.security import COOKIE, Refused, end, set_cookie

bp = Blueprint("session", __name__)
Json = dict[str, Any]
WRONG = "The name or the password is wrong; try again or ask an administrator."


@endpoint(bp, "GET", "/me", roles=EVERYONE, summary="Who is signed in", answers={200: s.ME})
def get_me() -> Json:
    found = session()
    assert found is not None
    return _me(found)


def _me(found: Session) -> Json:
    now = dt.datetime.now(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    return {
        "id": found.user.id,
        "name": found.user.shown_name,
        "role": found.user.role,
        "csrf": found.csrf,
        "server_time": now,
    }


@endpoint(
    bp,
    "POST",
    "/session",
    roles=NOBODY_NEEDED,
    summary="Sign in; sets the session cookie",
    body=s.obj({"name": s.text(100, 1), "password": s.text(512, 1)}),
    answers={200: s.ME},
)
def sign_in(body: Json) -> Response:
    new = _sign_in(body["name"], body["password"])
    response = jsonify(_me(new.session))
    set_cookie(response, new, settings())
    return response


@endpoint(bp, "DELETE", "/session", roles=EVERYONE, summary="Sign out", answers={204: None})
def sign_out() -> Response:
    end(session())
    response = Response(status=204)
    response.delete_cookie(COOKIE, path="/")
    return response


@bp.get("/signin")
def sign_in_page() -> Any:
    return render_template("signin.html", error=None, next=_local(request.args.get("next", "")), name="")


@bp.post("/signin")
def sign_in_form() -> Any:
    name = request.form.get("name", "")[:100]
    to = _local(request.form.get("next", ""))
    try:
        new = _sign_in(name, request.form.get("password", "")[:512])
    except Refused as refusal:
        page = render_template("signin.html", error=refusal.description, next=to, name=name)
        return page, refusal.code, refusal.extra_headers
    response = redirect(to or ("/" if new.session.user.role == "technician" else "/office"), 303)
    set_cookie(response, new, settings())  # type: ignore[arg-type]
    return response


@bp.post("/signout")
def sign_out_form() -> Any:
    end(session())
    response = redirect("/signin", 303)
    response.delete_cookie(COOKIE, path="/")
    return response


def _local(path: str) -> str:
    """Only ever back to a path of our own."""
    return path if path.startswith("/") and not path.startswith(("//", "/\\")) and path.isprintable() else ""


def _sign_in(name: str, password: str) -> people.NewSession:
    keys = (f"name:{name.casefold()}", f"address:{request.remote_addr}")
    _brake(keys)
    found = people.user_named(store(), name)
    if not matches(password, found[1] if found else None) or found is None or not found[0].active:
        people.count_failure(store(), keys[0], free_tries=settings().sign_in_tries)
        people.count_failure(store(), keys[1], free_tries=settings().sign_in_tries * 10)
        raise Refused(401, "wrong-password", WRONG)
    people.forget_failures(store(), keys[0])
    end(session())
    return people.start_session(store(), found[0], lasts_s=settings().session_hours * 3600)


def _brake(keys: tuple[str, ...]) -> None:
    wait = people.wait_for(store(), keys)
    if wait > 0:
        seconds = math.ceil(wait)
        raise Refused(
            429,
            "too-many-tries",
            f"Too many wrong tries; wait {seconds} s and try again.",
            {"Retry-After": str(seconds)},
        )


# ---------------------------------------------------------------- phones


@endpoint(
    bp,
    "POST",
    "/pairings",
    roles=OFFICE,
    summary="Make a code (and QR code) that signs one phone in for a person",
    body=s.obj({"user_id": s.STRING}),
    answers={201: s.obj({"code": s.STRING, "url": s.STRING, "qr_svg": s.STRING, "expires_at": s.STRING})},
)
def make_pairing(body: Json) -> tuple[Json, int]:
    who = people.user(store(), body["user_id"])
    if not who.active:
        raise NotFound("There is no such account.")
    if who.role != "technician" and me().role != "administrator":
        raise Refused(
            403, "role", "Only an administrator pairs the phone of an office or administrator account."
        )
    lasts = settings().pairing_minutes * 60
    code, ends = people.make_pairing(store(), user_id=who.id, made_by=me().id, lasts_s=lasts)
    url = (settings().public_address or request.host_url.rstrip("/")) + f"/#pair={code}"
    until = dt.datetime.fromtimestamp(ends, dt.UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
    return {"code": code, "url": url, "qr_svg": _qr(url), "expires_at": until}, 201


def _qr(text: str) -> str:
    import segno

    out = io.BytesIO()
    segno.make(text, error="m").save(
        out, kind="svg", scale=6, border=4, xmldecl=False, svgclass=None, lineclass=None
    )
    return out.getvalue().decode()


@endpoint(
    bp,
    "POST",
    "/pairings/claim",
    roles=NOBODY_NEEDED,
    summary="Sign a phone in with its code; sets the session cookie",
    body=s.obj({"code": s.text(100, 1), "device": s.text(100, 1)}),
    answers={200: s.ME},
)
def claim_pairing(body: Json) -> Response:
    keys = (f"pairing:{request.remote_addr}",)
    _brake(keys)
    who = people.claim_pairing(store(), body["code"])
    if who is None:
        people.count_failure(store(), keys[0], free_tries=settings().sign_in_tries * 10)
        raise Refused(
            401, "pairing", "This code was used already or is too old; ask the office for a new one."
        )
    end(session())
    new = people.start_session(
        store(), who, lasts_s=settings().device_days * 86400, device=body["device"].strip() or "phone"
    )
    response = jsonify(_me(new.session))
    set_cookie(response, new, settings())
    return response


_DEVICE = s.obj({"id": s.STRING, "device": s.STRING, "phone": s.BOOLEAN, "user_id": s.STRING,
                 "user_name": s.STRING, "created_at": s.NUMBER, "seen_at": s.NUMBER, "this": s.BOOLEAN})  # fmt: skip


@endpoint(
    bp,
    "GET",
    "/devices",
    roles=EVERYONE,
    summary="Signed-in phones and browsers: one's own, or everybody's for an administrator",
    answers={200: s.obj({"devices": s.all_of(_DEVICE)})},
)
def list_devices() -> Json:
    mine = session()
    assert mine is not None
    only = None if mine.user.role == "administrator" else mine.user.id
    rows = people.devices(store(), user_id=only)
    return {"devices": [{**r, "phone": bool(r["phone"]), "this": r["id"] == mine.id} for r in rows]}


@endpoint(
    bp,
    "DELETE",
    "/devices/<uuid:id>",
    roles=EVERYONE,
    summary="Sign a phone or browser out",
    answers={204: None},
)
def sign_out_device(id: str) -> None:
    owner = people.session_owner(store(), id)
    if me().role != "administrator" and owner != me().id:
        raise NotFound("There is no such device.")
    people.end_session(store(), id)


# ---------------------------------------------------------------- accounts


_USER = s.obj(
    {"id": s.STRING, "name": s.STRING, "full_name": s.NULL_STRING, "role": s.ROLE, "active": s.BOOLEAN}
)


def _user(u: User) -> Json:
    return {"id": u.id, "name": u.name, "full_name": u.full_name, "role": u.role, "active": u.active}


@endpoint(
    bp,
    "GET",
    "/users",
    roles=OFFICE,
    summary="All accounts",
    answers={200: s.obj({"users": s.all_of(_USER)})},
)
def list_users() -> Json:
    return {"users": [_user(u) for u in people.users(store())]}


@endpoint(
    bp,
    "POST",
    "/users",
    roles=ADMINISTRATOR,
    summary="Add an account",
    body=s.obj(
        {
            "name": s.text(100, 1),
            "role": s.ROLE,
            "full_name": s.or_null(s.text(200)),
            "password": s.text(512, 1),
        },
        optional=("full_name",),
    ),
    answers={201: _USER},
)
def add_user(body: Json) -> tuple[Json, int]:
    new = accounts.add_to(
        store(),
        name=body["name"],
        role=body["role"],
        full_name=body.get("full_name"),
        password=body["password"],
    )
    return _user(new), 201


@endpoint(
    bp,
    "PATCH",
    "/users/<uuid:id>",
    roles=ADMINISTRATOR,
    summary="Change an account: role, name, password, open or closed",
    body=s.obj(
        {
            "role": s.ROLE,
            "full_name": s.or_null(s.text(200)),
            "active": s.BOOLEAN,
            "password": s.text(512, 1),
        },
        optional=("role", "full_name", "active", "password"),
    ),
    answers={200: _USER},
)
def change_user(id: str, body: Json) -> Json:
    before = people.user(store(), id)
    if "password" in body:
        people.set_password(store(), id, hash_password(body["password"]), end_sessions=True)
    return _user(
        people.change_user(
            store(),
            id,
            role=body.get("role", before.role),
            full_name=body.get("full_name", before.full_name),
            active=body.get("active", before.active),
        )
    )
