"""What a request needs and where it finds it: the store, the settings, the bell, and who is asking."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from flask import current_app, g

from hatchnote.errors import NotFound
from hatchnote.jobs.bell import Bell
from hatchnote.settings import Settings
from hatchnote.store import Store
from hatchnote.store.people import Session, User
from hatchnote.tickets.revisions import Actor


@dataclass(frozen=True, slots=True)
class Context:
    store: Store
    settings: Settings
    bell: Bell


def context() -> Context:
    return cast(Context, current_app.extensions["hatchnote"])


def store() -> Store:
    return context().store


def settings() -> Settings:
    return context().settings


def session() -> Session | None:
    """The living session of this request, loaded once before it by `hatchnote.web.security`."""
    return cast("Session | None", g.get("session"))


def me() -> User:
    """Who is asking. Only behind a role check."""
    found = session()
    if found is None:
        raise NotFound("There is no such thing.")
    return found.user


def sees_all() -> bool:
    """The office and administrators see every ticket, a technician his own."""
    return me().role != "technician"


def own_or_all(owner_id: str, what: str = "thing") -> None:
    """Raises NotFound unless this person may see what belongs to `owner_id`: existence is not told either."""
    if not sees_all() and owner_id != me().id:
        raise NotFound(f"There is no such {what}.")


def actor() -> Actor:
    return "office" if sees_all() else "technician"
