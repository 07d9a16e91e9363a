"""Recordings, their segments of sound, typed notes, and what was heard in them.

What was heard is never overwritten: another listening adds a row.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hatchnote.domain import Facts, Transcript
from hatchnote.errors import Conflict, NotFound
from hatchnote.store import Store
from hatchnote.store.database import Row
from hatchnote.store.packing import dumps, pack, unpack_as


@dataclass(frozen=True, slots=True)
class Segment:
    """One piece of sound as the phone announced it; sizes and digest are None while it is still recorded."""

    id: str
    seq: int
    bytes: int | None
    sha256: str | None
    mime: str | None


@dataclass(frozen=True, slots=True)
class Hearing:
    """One listening to one recording or note."""

    source_id: str
    spoken_at: str
    transcript: Transcript
    facts: Facts
    seq: int | None = None
    """Its place among all listenings, once it is kept."""


def recording(store: Store, id: str) -> Row:
    """Raises NotFound."""
    row = store.db.row(
        "SELECT recordings.*, tickets.date AS visit_date, tickets.site_id,"
        " tickets.technician_id AS ticket_technician_id FROM recordings"
        " JOIN tickets ON tickets.id = ticket_id WHERE recordings.id = ?",
        (id,),
    )
    if row is None:
        raise NotFound("There is no such recording.")
    return {**row, "settings": json.loads(row["settings"]), "marks": json.loads(row["marks"])}


def of_ticket(store: Store, ticket_id: str) -> list[Row]:
    return store.db.rows(
        "SELECT id, started_at, finished, duration_s, sound_sha256, sound_mime FROM recordings"
        " WHERE ticket_id = ? ORDER BY started_at, id",
        (ticket_id,),
    )


def put_recording(
    store: Store,
    id: str,
    *,
    ticket_id: str,
    technician_id: str,
    started_at: str,
    segments: list[Segment],
    marks: list[dict[str, Any]],
    finished: bool,
    settings: dict[str, Any],
) -> None:
    """Make or renew a recording's manifest.

    Raises Conflict when it belongs to another ticket or when a segment already received is announced with
    other bytes. A manifest can only grow: a segment left out of a later one stays.
    """
    with store.db.write():
        old = store.db.row("SELECT ticket_id, finished FROM recordings WHERE id = ?", (id,))
        if old and old["ticket_id"] != ticket_id:
            raise Conflict("This recording belongs to another ticket; nothing was changed.")
        row = {
            "id": id,
            "ticket_id": ticket_id,
            "started_at": started_at,
            "finished": int(finished or bool(old and old["finished"])),
            "settings": dumps(settings),
            "marks": dumps(marks),
        }
        if old:
            store.db.change(
                "UPDATE recordings SET started_at = :started_at, finished = :finished, settings = :settings,"
                " marks = :marks WHERE id = :id",
                row,
            )
        else:
            store.db.insert("recordings", {**row, "technician_id": technician_id, "created_at": store.now()})
        for segment in segments:
            put_segment(store, id, segment)


def put_segment(store: Store, recording_id: str, new: Segment) -> None:
    """Announce a segment, or learn more about one. Raises Conflict when it contradicts what was received."""
    with store.db.write():
        old = store.db.row("SELECT * FROM segments WHERE id = ?", (new.id,))
        if old is None:
            if store.db.row(
                "SELECT 1 FROM segments WHERE recording_id = ? AND seq = ?", (recording_id, new.seq)
            ):
                raise Conflict(
                    f"This recording already has another segment number {new.seq}; nothing was changed."
                )
            row = {"id": new.id, "recording_id": recording_id, "seq": new.seq, "bytes": new.bytes}
            store.db.insert("segments", {**row, "sha256": new.sha256, "mime": new.mime})
            return
        if old["recording_id"] != recording_id or old["seq"] != new.seq:
            raise Conflict("This segment belongs to another place; nothing was changed.")
        if old["blob_sha256"] and new.sha256 and new.sha256 != old["blob_sha256"]:
            raise Conflict("This segment was already received with other bytes; record again under a new id.")
        store.db.change(
            "UPDATE segments SET bytes = coalesce(?, bytes), sha256 = coalesce(?, sha256), mime = coalesce(?, mime)"
            " WHERE id = ?",
            (new.bytes, new.sha256, new.mime, new.id),
        )


def segments(store: Store, recording_id: str) -> list[Row]:
    """In order, each with how many bytes have arrived: all of them once it is whole."""
    return store.db.rows(
        "SELECT segments.*, coalesce(CASE WHEN blob_sha256 IS NOT NULL THEN bytes END,"
        " (SELECT max(offset) FROM uploads WHERE ref = segments.id AND state = 'open'), 0) AS received_bytes"
        " FROM segments WHERE recording_id = ? ORDER BY seq",
        (recording_id,),
    )


def growing(store: Store, *, least_bytes: int) -> list[Row]:
    """Recordings not yet listened to of which something has arrived in open uploads, the latest first."""
    return store.db.rows(
        "SELECT recordings.id, recordings.technician_id, tickets.date AS visit_date, sum(offset) AS arrived"
        " FROM uploads JOIN recordings ON recordings.id = uploads.recording_id"
        " JOIN tickets ON tickets.id = recordings.ticket_id"
        " WHERE uploads.kind = 'segment' AND uploads.state = 'open' AND uploads.length IS NULL AND NOT finished"
        " GROUP BY recordings.id HAVING arrived >= ? ORDER BY max(uploads.created_at) DESC LIMIT 20",
        (least_bytes,),
    )


def segment(store: Store, id: str) -> Row | None:
    return store.db.row("SELECT * FROM segments WHERE id = ?", (id,))


def receive_segment(store: Store, id: str, *, sha256: str, size: int) -> None:
    """Note that the segment's bytes are in the blob store."""
    changed = store.db.change(
        "UPDATE segments SET blob_sha256 = :sha, sha256 = :sha, bytes = :size, received_at = :now"
        " WHERE id = :id AND (blob_sha256 IS NULL OR blob_sha256 = :sha)",
        {"sha": sha256, "size": size, "now": store.now(), "id": id},
    )
    if not changed:
        raise Conflict("This segment was already received with other bytes; record again under a new id.")


def set_sound(store: Store, id: str, *, sha256: str, mime: str, duration_s: float) -> None:
    store.db.change(
        "UPDATE recordings SET sound_sha256 = ?, sound_mime = ?, duration_s = ? WHERE id = ?",
        (sha256, mime, duration_s, id),
    )


def set_words_so_far(store: Store, id: str, words: str) -> None:
    store.db.change("UPDATE recordings SET words_so_far = ? WHERE id = ?", (words, id))


# ---------------------------------------------------------------- typed notes


def put_note(store: Store, id: str, *, ticket_id: str, user_id: str, text: str, at: str) -> bool:
    """True when it was new. Raises Conflict when this id already says something else."""
    with store.db.write():
        old = store.db.row("SELECT ticket_id, text FROM notes WHERE id = ?", (id,))
        if old is None:
            row = {"id": id, "ticket_id": ticket_id, "user_id": user_id, "text": text, "at": at}
            store.db.insert("notes", {**row, "created_at": store.now()})
            return True
        if (old["ticket_id"], old["text"]) != (ticket_id, text):
            raise Conflict("This note was already sent with other words; send the new words under a new id.")
        return False


# ---------------------------------------------------------------- what was heard


def add_hearing(
    store: Store, heard: Hearing, *, ticket_id: str, key: str, listened_s: float | None = None
) -> bool:
    """Keep a listening. `key` names the bytes and settings it was made from: the same key twice is one row."""
    row = {
        "source_id": heard.source_id,
        "ticket_id": ticket_id,
        "spoken_at": heard.spoken_at,
        "heard_at": store.now(),
        "key": key,
        "listened_s": listened_s,
        "transcript": pack(heard.transcript),
        "facts": pack(heard.facts),
    }
    marks = ", ".join("?" * len(row))
    sql = f"INSERT INTO hearings ({', '.join(row)}) VALUES ({marks}) ON CONFLICT (source_id, key) DO NOTHING"
    return store.db.change(sql, list(row.values())) > 0


def hearings(store: Store, ticket_id: str) -> list[Hearing]:
    """The latest listening to each recording and note of a ticket, in the order they were spoken."""
    rows = store.db.rows(
        "SELECT seq, source_id, spoken_at, transcript, facts FROM hearings WHERE seq IN"
        " (SELECT max(seq) FROM hearings WHERE ticket_id = ? GROUP BY source_id) ORDER BY spoken_at, source_id",
        (ticket_id,),
    )
    return [
        Hearing(
            r["source_id"],
            r["spoken_at"],
            unpack_as(Transcript, r["transcript"]),
            unpack_as(Facts, r["facts"]),
            r["seq"],
        )
        for r in rows
    ]


# ---------------------------------------------------------------- what was read from joined dictations


def read_together(store: Store, key: str) -> tuple[Facts, dict[str, str]] | None:
    """What was read from joined dictations, and which items follow which, under the key of what was joined."""
    row = store.db.row("SELECT facts, followed_by FROM read_together WHERE key = ?", (key,))
    return None if row is None else (unpack_as(Facts, row["facts"]), json.loads(row["followed_by"]))


def keep_read_together(
    store: Store, key: str, *, ticket_id: str, facts: Facts, followed_by: Mapping[str, str]
) -> None:
    row = {"key": key, "ticket_id": ticket_id, "read_at": store.now(), "facts": pack(facts)}
    store.db.upsert("read_together", {**row, "followed_by": dumps(dict(followed_by))}, key=["key"])
