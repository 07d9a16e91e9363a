"""Accounts as the command line sees them: add, list, reset, on a data folder."""

from __future__ import annotations

from pathlib import Path

from hatchnote.errors import BadInput, NotFound
from hatchnote.passwords import hash_password
from hatchnote.settings import load
from hatchnote.store import Store, open_store, people
from hatchnote.store.people import Role, User


def add(data: Path | None, *, name: str, role: Role, full_name: str | None, password: str) -> User:
    """Raises BadInput for a bad name or password, Conflict for a name that is taken."""
    return add_to(_store(data), name=name, role=role, full_name=full_name, password=password)


def add_to(store: Store, *, name: str, role: Role, full_name: str | None, password: str) -> User:
    """The same on an open store."""
    name = name.strip()
    if not name or len(name) > 100 or any(ord(c) < 32 for c in name):
        raise BadInput("An account's name has 1 to 100 characters on one line.")
    return people.add_user(
        store, name=name, role=role, full_name=full_name or None, password_hash=hash_password(password)
    )


def listing(data: Path | None) -> list[User]:
    """Every account. Raises NotFound where there is no data folder."""
    return people.users(_store(data, made=True))


def reset(data: Path | None, *, name: str, password: str) -> None:
    """Set a new password and end every session. Raises NotFound for an unknown name."""
    store = _store(data, made=True)
    found = people.user_named(store, name)
    if found is None:
        raise NotFound(f"There is no account named {name}; see `hatchnote users list`.")
    people.set_password(store, found[0].id, hash_password(password), end_sessions=True)


def _store(data: Path | None, *, made: bool = False) -> Store:
    settings = load(data=data)
    if made and not settings.database.is_file():
        raise NotFound(f"There is no data in {settings.data}; name the data folder with --data.")
    return open_store(settings.data)
