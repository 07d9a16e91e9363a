"""Is the store well, and what it holds in numbers."""

from __future__ import annotations

import shutil
import sqlite3

from hatchnote.store import Store


def trouble(store: Store, *, keep_free: int) -> list[str]:
    """What is wrong, in sentences; empty when all is well."""
    found = []
    try:
        store.db.value("SELECT count(*) FROM figures")
    except sqlite3.DatabaseError as error:
        found.append(f"The database does not answer ({error}).")
    if shutil.disk_usage(store.folder).free < keep_free:
        found.append("The disk is nearly full; uploads are refused.")
    return found


def integrity(store: Store) -> list[str]:
    """SQLite's own full check and its check of references; empty when the database is whole."""
    found = [str(next(iter(r.values()))) for r in store.db.rows("PRAGMA integrity_check")]
    broken = store.db.rows("PRAGMA foreign_key_check")
    return [line for line in found if line != "ok"] + [f"{r['table']} refers to nothing" for r in broken]


def ticket_counts(store: Store) -> dict[str, int]:
    rows = store.db.rows("SELECT status, count(*) AS n FROM tickets GROUP BY status")
    return {r["status"]: int(r["n"]) for r in rows}


def checks_per_open_ticket(store: Store) -> float:
    found = store.db.value("SELECT avg(checks) FROM tickets WHERE revision > 0 AND status <> 'approved'")
    return float(found or 0.0)
