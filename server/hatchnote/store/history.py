"""A machine's readings over the years, straight from the index of readings: no document is opened."""

from __future__ import annotations

from collections.abc import Iterable

from hatchnote.store import Store
from hatchnote.store.database import Row

SERIES_KEY = ("point", "component", "number", "legs", "stage", "circuit", "position", "basis")
"""Readings that agree in all of these measure the same thing on another day or at another moment."""
_KEY = ", ".join(SERIES_KEY)


def series(store: Store, site_id: str, tag: str) -> list[Row]:
    """What was ever measured on a machine: the key's fields, `n` readings, the `last` day. Most often first."""
    return store.db.rows(
        f"SELECT {_KEY}, count(*) AS n, max(date) AS last FROM readings"
        f" WHERE site_id = ? AND tag = ? AND value IS NOT NULL GROUP BY {_KEY} ORDER BY n DESC, point LIMIT 200",
        (site_id, tag),
    )


def points(store: Store, site_id: str, tag: str) -> list[Row]:
    """{point, n} of a machine, most often first: answered by the index alone."""
    return store.db.rows(
        "SELECT point, count(*) AS n FROM readings WHERE site_id = ? AND tag = ? GROUP BY point ORDER BY n DESC, point",
        (site_id, tag),
    )


def charged(store: Store, site_ids: Iterable[str], *, first: str, before: str) -> list[str]:
    """Ids of tickets of these sites, of days from `first` to the one before `before`, that tell of refrigerant."""
    found: dict[str, None] = {}
    for site_id in dict.fromkeys(site_ids):
        rows = store.db.rows(
            "SELECT DISTINCT ticket_id, date FROM readings WHERE site_id = ? AND point = 'refrigerant-charge'"
            " AND date >= ? AND date < ? ORDER BY date",
            (site_id, first, before),
        )
        found |= {r["ticket_id"]: None for r in rows}
    return list(found)


def readings(store: Store, site_id: str, tag: str, point: str, *, limit: int = 3000) -> list[Row]:
    """Every reading of one point on a machine, oldest first (the latest `limit` of them)."""
    rows = store.db.rows(
        f"SELECT ticket_id, item, date, moment, value, unit, ucum, text, marked, {_KEY} FROM readings"
        " WHERE site_id = ? AND tag = ? AND point = ? ORDER BY date DESC, ticket_id DESC LIMIT ?",
        (site_id, tag, point, limit),
    )
    return rows[::-1]
