"""Tidying: uploads whose time is up, sound and old rows that the settings let go."""

from __future__ import annotations

import logging

from hatchnote.settings import Settings
from hatchnote.store import Store, uploads

log = logging.getLogger("hatchnote.store")
AT_ONCE = 1000
"""Segments looked at in one go."""


def tidy(store: Store, settings: Settings) -> dict[str, int]:
    """Remove what may go; says how much of each went. Safe to run at any time, twice, and by two workers."""
    removed = {"uploads": 0, "sound": 0, "rows": 0}
    for id in uploads.expired(store):
        uploads.remove(store, id)
        removed["uploads"] += 1
    if settings.keep_sound_days:
        removed["sound"] = _let_sound_go(store, store.now() - settings.keep_sound_days * 86400)
    if settings.keep_change_days:
        before = store.now() - settings.keep_change_days * 86400
        with store.db.write():
            removed["rows"] += store.db.change(
                "DELETE FROM jobs WHERE state = 'done' AND ended_at < ?", (before,)
            )
            removed["rows"] += store.db.change(
                "DELETE FROM sessions WHERE coalesce(ended_at, expires_at) < ?", (before,)
            )
    store.db.change("DELETE FROM pairings WHERE expires_at < ?", (store.now() - 86400,))
    store.db.change("DELETE FROM sign_in_failures WHERE until < ?", (store.now() - 86400,))
    if any(removed.values()):
        log.info("tidied: %s", removed)
    return removed


def _let_sound_go(store: Store, before: float) -> int:
    """Delete the sound of tickets approved before then; words, readings and the record of changes stay."""
    rows = store.db.rows(
        "SELECT recordings.id, segments.id AS segment_id, sound_sha256, blob_sha256 FROM recordings"
        " JOIN tickets ON tickets.id = ticket_id"
        " JOIN segments ON recording_id = recordings.id WHERE tickets.status = 'approved' AND approved_at < ?"
        " AND (sound_sha256 IS NOT NULL OR (blob_sha256 IS NOT NULL AND let_go_at IS NULL))"
        " AND NOT EXISTS (SELECT 1 FROM jobs WHERE jobs.ref = recordings.id AND state IN ('waiting', 'running'))"
        " LIMIT ?",
        (before, AT_ONCE),
    )
    gone = 0
    for digest in {d for r in rows for d in (r["sound_sha256"], r["blob_sha256"]) if d}:
        kept = store.db.value(
            "SELECT count(*) FROM segments JOIN recordings ON recordings.id = recording_id"
            " JOIN tickets ON tickets.id = ticket_id WHERE blob_sha256 = ?"
            " AND (tickets.status <> 'approved' OR approved_at >= ?)",
            (digest, before),
        )
        if not kept and store.blobs.has(digest):
            store.blobs.remove(digest)
            gone += 1
    for id in {r["id"] for r in rows}:
        store.db.change("UPDATE recordings SET sound_sha256 = NULL, sound_mime = NULL WHERE id = ?", (id,))
    # Seen, even where the same bytes stay for another ticket: the next thousand must get their turn.
    for row in rows:
        store.db.change("UPDATE segments SET let_go_at = ? WHERE id = ?", (store.now(), row["segment_id"]))
    return gone
