"""Accounts, sessions, signed-in phones, pairing codes and the brake on guessing passwords.

Secrets that are presented (session tokens, pairing codes) are random and stored as SHA-256 only;
passwords are argon2id hashes made by `hatchnote.passwords`.
"""

from __future__ import annotations

import hashlib
import secrets
import uuid
from dataclasses import dataclass
from typing import Literal, cast

from hatchnote.errors import Conflict, NotFound
from hatchnote.store import Store
from hatchnote.store.database import Row

Role = Literal["technician", "office", "administrator"]
ROLES: tuple[Role, ...] = ("technician", "office", "administrator")
TOUCH_S = 600
"""A session's last use is written at most this often: every write costs a flush to disk."""


@dataclass(frozen=True, slots=True)
class User:
    id: str
    name: str
    full_name: str | None
    role: Role
    active: bool

    @property
    def shown_name(self) -> str:
        return self.full_name or self.name


@dataclass(frozen=True, slots=True)
class Session:
    id: str
    user: User
    csrf: str
    device: str | None


@dataclass(frozen=True, slots=True)
class NewSession:
    """`token` goes into the cookie and is nowhere else."""

    token: str
    session: Session
    lasts_s: float


_USER = "users.id, users.name, users.full_name, users.role, users.active"


def add_user(
    store: Store, *, name: str, role: Role, full_name: str | None, password_hash: str | None
) -> User:
    """Raises Conflict when the name is taken (upper and lower case are the same name)."""
    row = {
        "id": str(uuid.uuid4()),
        "name": name,
        "full_name": full_name,
        "role": role,
        "password": password_hash,
        "active": 1,
        "created_at": store.now(),
    }
    with store.db.write():
        if store.db.row("SELECT 1 FROM users WHERE name = ?", (name,)):
            raise Conflict(
                f"There is already an account named {name}; choose another name or reset its password."
            )
        store.db.insert("users", row)
    return _user(row)


def users(store: Store) -> list[User]:
    return [_user(r) for r in store.db.rows(f"SELECT {_USER} FROM users ORDER BY name")]


def user(store: Store, id: str) -> User:
    """Raises NotFound."""
    row = store.db.row(f"SELECT {_USER} FROM users WHERE id = ?", (id,))
    if row is None:
        raise NotFound("There is no such account.")
    return _user(row)


def user_named(store: Store, name: str) -> tuple[User, str | None] | None:
    """The account and its password hash."""
    row = store.db.row(f"SELECT {_USER}, password FROM users WHERE name = ?", (name,))
    return None if row is None else (_user(row), row["password"])


def set_password(store: Store, user_id: str, password_hash: str, *, end_sessions: bool) -> None:
    with store.db.write():
        store.db.change("UPDATE users SET password = ? WHERE id = ?", (password_hash, user_id))
        if end_sessions:
            store.db.change(
                "UPDATE sessions SET ended_at = ? WHERE user_id = ? AND ended_at IS NULL",
                (store.now(), user_id),
            )


def change_user(store: Store, user_id: str, *, role: Role, full_name: str | None, active: bool) -> User:
    """A closed account is signed out everywhere. Raises NotFound, and Conflict for the last administrator."""
    with store.db.write():
        before = user(store, user_id)
        if before.role == "administrator" and (role != "administrator" or not active):
            others = store.db.value(
                "SELECT count(*) FROM users WHERE role = 'administrator' AND active AND id <> ?", (user_id,)
            )
            if not others:
                raise Conflict("This is the last administrator; make another one first.")
        store.db.change(
            "UPDATE users SET role = ?, full_name = ?, active = ? WHERE id = ?",
            (role, full_name, active, user_id),
        )
        if not active:
            store.db.change(
                "UPDATE sessions SET ended_at = ? WHERE user_id = ? AND ended_at IS NULL",
                (store.now(), user_id),
            )
        return user(store, user_id)


# ---------------------------------------------------------------- sessions


def start_session(store: Store, who: User, *, lasts_s: float, device: str | None = None) -> NewSession:
    token = secrets.token_urlsafe(32)
    now = store.now()
    row = {
        "token_sha256": _digest(token),
        "id": str(uuid.uuid4()),
        "user_id": who.id,
        "csrf": secrets.token_urlsafe(24),
        "device": device,
        "created_at": now,
        "seen_at": now,
        "expires_at": now + lasts_s,
    }
    store.db.insert("sessions", row)
    return NewSession(token, Session(str(row["id"]), who, str(row["csrf"]), device), lasts_s)


def session(store: Store, token: str, *, browser_s: float, device_s: float) -> Session | None:
    """The living session of this token. Each use puts its end off again."""
    row = store.db.row(
        f"SELECT sessions.id AS session_id, csrf, device, seen_at, expires_at, {_USER} FROM sessions"
        " JOIN users ON users.id = user_id"
        " WHERE token_sha256 = ? AND ended_at IS NULL AND expires_at > ? AND users.active",
        (_digest(token), store.now()),
    )
    if row is None:
        return None
    if store.now() - row["seen_at"] > TOUCH_S:
        lasts = browser_s if row["device"] is None else device_s
        store.db.change(
            "UPDATE sessions SET seen_at = ?, expires_at = ? WHERE id = ? AND ended_at IS NULL",
            (store.now(), store.now() + lasts, row["session_id"]),
        )
    return Session(row["session_id"], _user(row), row["csrf"], row["device"])


def end_session(store: Store, session_id: str) -> None:
    store.db.change(
        "UPDATE sessions SET ended_at = ? WHERE id = ? AND ended_at IS NULL", (store.now(), session_id)
    )


def devices(store: Store, *, user_id: str | None) -> list[Row]:
    """Signed-in phones and browsers, of one person or of all, latest use first."""
    return store.db.rows(
        "SELECT sessions.id, coalesce(device, 'browser') AS device, device IS NOT NULL AS phone, user_id,"
        " coalesce(full_name, name) AS user_name, sessions.created_at, seen_at FROM sessions"
        " JOIN users ON users.id = user_id WHERE ended_at IS NULL AND expires_at > :now"
        " AND (:user IS NULL OR user_id = :user) ORDER BY seen_at DESC, sessions.id LIMIT 500",
        {"now": store.now(), "user": user_id},
    )


def session_owner(store: Store, session_id: str) -> str:
    """Raises NotFound."""
    owner = store.db.value("SELECT user_id FROM sessions WHERE id = ? AND ended_at IS NULL", (session_id,))
    if owner is None:
        raise NotFound("There is no such device.")
    return cast(str, owner)


# ---------------------------------------------------------------- pairing a phone


def make_pairing(store: Store, *, user_id: str, made_by: str, lasts_s: float) -> tuple[str, float]:
    """A code for one phone, and when it ends."""
    code = secrets.token_urlsafe(18)
    ends = store.now() + lasts_s
    store.db.insert(
        "pairings",
        {"code_sha256": _digest(code), "user_id": user_id, "made_by": made_by, "expires_at": ends},
    )
    return code, ends


def claim_pairing(store: Store, code: str) -> User | None:
    """Whose code this is, once; None when it is unknown, used or too old."""
    with store.db.write():
        claimed = store.db.change(
            "UPDATE pairings SET claimed_at = :now WHERE code_sha256 = :code AND claimed_at IS NULL"
            " AND expires_at > :now",
            {"now": store.now(), "code": _digest(code)},
        )
        if not claimed:
            return None
        owner = store.db.value("SELECT user_id FROM pairings WHERE code_sha256 = ?", (_digest(code),))
        who = user(store, str(owner))
        return who if who.active else None


# ---------------------------------------------------------------- the brake on guessing


def wait_for(store: Store, keys: tuple[str, ...]) -> float:
    """Seconds until somebody with one of these names or addresses may try again; 0: now."""
    marks = ", ".join("?" * len(keys))
    until = store.db.value(f"SELECT max(until) FROM sign_in_failures WHERE who IN ({marks})", keys)
    return max(0.0, float(until or 0) - store.now())


def count_failure(store: Store, key: str, *, free_tries: int) -> None:
    """After `free_tries` failures each further one doubles the wait, up to an hour."""
    with store.db.write():
        row = store.db.row("SELECT count, until FROM sign_in_failures WHERE who = ?", (key,))
        count = 1 + (row["count"] if row and store.now() - row["until"] < 24 * 3600 else 0)
        wait = 0.0 if count < free_tries else min(3600.0, 5.0 * 2.0 ** (count - free_tries))
        store.db.upsert(
            "sign_in_failures", {"who": key, "count": count, "until": store.now() + wait}, key=["who"]
        )


def forget_failures(store: Store, key: str) -> None:
    store.db.change("DELETE FROM sign_in_failures WHERE who = ?", (key,))


def _user(row: Row) -> User:
    return User(row["id"], row["name"], row["full_name"], row["role"], bool(row["active"]))


def _digest(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()
