"""What the worklist's filters offer."""

from __future__ import annotations

from hatchnote.store import Store
from hatchnote.store.database import Row


def sites(store: Store, *, most: int) -> list[Row]:
    """Ids and names of all sites in order; empty when there are more than `most`: too many to choose from a list."""
    rows = store.db.rows("SELECT id, name FROM sites ORDER BY name LIMIT ?", (most + 1,))
    return [] if len(rows) > most else rows
