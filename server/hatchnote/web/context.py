"""What a request needs and where it finds it: the store, the settings, the bell, and who is asking."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from flask import current_app, g

from hatchnote.errors import NotFound
from hatchnote.jobs.bell import Bell
from hatchnote.settings import Settings
from hatchnote.store import Store, places
from hatchnote.store.database import Row
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


def own_or_all(owner_id: str, what: str = "thing", *, also: str | None = None) -> None:
    """Raises NotFound unless this person may see what belongs to `owner_id`: existence is not told either.

    `also` is another technician who may: whose visit it is now, of sound and photos that another one brought.
    """
    if not sees_all() and me().id not in (owner_id, also):
        raise NotFound(f"There is no such {what}.")


def may_send_to(ticket: Row) -> None:
    """Raises NotFound unless sound, photos and notes of this person belong to the ticket.

    They do, too, for the technician whose visit it was: his phone may hold what he spoke before the office gave
    the visit to another, and nothing that was spoken may be lost.
    """
    if (
        not sees_all()
        and me().id != ticket["technician_id"]
        and not places.was_of(store(), ticket["id"], me().id)
    ):
        raise NotFound("There is no such ticket.")


def actor() -> Actor:
    return "office" if sees_all() else "technician"
