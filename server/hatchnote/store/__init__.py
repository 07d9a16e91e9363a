"""All that is kept: one SQLite database and a folder of blobs. Only this room writes SQL.

Each file holds the queries of one concern as functions whose first argument is the `Store`.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from hatchnote.places import make_folder
from hatchnote.store.blobs import Blobs
from hatchnote.store.database import Database

Clock = Callable[[], float]
"""Unix seconds; passed in so that tests need no waiting."""


class Store:
    """One data folder: its database, its blobs, its unfinished uploads."""

    def __init__(self, folder: Path, *, clock: Clock = time.time) -> None:
        self.folder = folder
        self.db = Database(folder / "hatchnote.db")
        self.blobs = Blobs(folder / "blobs")
        self.uploads = folder / "uploads"
        self.now = clock

    def close(self) -> None:
        self.db.close()


def open_store(folder: Path, *, clock: Clock = time.time) -> Store:
    """The store in `folder`, made and brought up to date where needed.

    Raises HatchnoteError when the database cannot be opened.
    """
    from hatchnote.store.migrations import bring_up_to_date

    for part in (folder, folder / "blobs", folder / "uploads"):
        make_folder(part)
    store = Store(folder, clock=clock)
    bring_up_to_date(store.db.connection)
    return store


__all__ = ["Clock", "Store", "open_store"]
