"""Tickets: the row the worklist shows, every revision's document, and the record of changes."""

from __future__ import annotations

import calendar
import datetime as dt
import json
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from hatchnote.errors import NotFound
from hatchnote.store import Store
from hatchnote.store.database import Row
from hatchnote.store.packing import dumps, pack, unpack

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Revision:
    """A document as it stood, why it came to be, and the digest of its content."""

    revision: int
    status: str
    at: float
    who: str | None
    why: str
    sha256: str
    document: Json


def ticket(store: Store, id: str) -> Row:
    """The ticket's row with its site and technician. Raises NotFound."""
    row = store.db.row(
        "SELECT tickets.*, sites.name AS site, sites.altitude_ft,"
        " coalesce(users.full_name, users.name) AS technician FROM tickets"
        " JOIN sites ON sites.id = tickets.site_id JOIN users ON users.id = technician_id WHERE tickets.id = ?",
        (id,),
    )
    if row is None:
        raise NotFound("There is no such ticket.")
    return row


def revision(store: Store, ticket_id: str, number: int) -> Revision:
    """Raises NotFound."""
    row = store.db.row("SELECT * FROM revisions WHERE ticket_id = ? AND revision = ?", (ticket_id, number))
    if row is None:
        raise NotFound(f"This ticket has no revision {number}.")
    document = unpack(row["body"])
    return Revision(
        number,
        row["status"],
        row["at"],
        row["who"],
        row["why"],
        row["sha256"],
        {**document, "revision": number},
    )


def revisions(store: Store, ticket_id: str) -> list[Row]:
    """All revisions without their documents, latest first."""
    return store.db.rows(
        "SELECT revision, revisions.status, at, coalesce(full_name, name) AS who, why, sha256 FROM revisions"
        " LEFT JOIN users ON users.id = who WHERE ticket_id = ? ORDER BY revision DESC",
        (ticket_id,),
    )


def save_revision(
    store: Store,
    ticket_id: str,
    document: Json,
    *,
    sha256: str,
    who: str | None,
    why: str,
    checks: int,
    note: str | None,
    digest: str | None,
) -> int:
    """Keep the document as the next revision and bring the worklist, search and history up to date.

    Call inside a transaction that also read what the document was made from.
    """
    with store.db.write():
        row = ticket(store, ticket_id)
        number = int(row["revision"]) + 1
        now = store.now()
        body = {k: v for k, v in document.items() if k != "revision"}
        status = document["status"]
        store.db.insert(
            "revisions",
            {
                "ticket_id": ticket_id,
                "revision": number,
                "status": status,
                "at": now,
                "who": who,
                "why": why,
                "sha256": sha256,
                "body": pack(body),
            },
        )
        store.db.change(
            "UPDATE tickets SET revision = ?, status = ?, note = ?, digest = ?, checks = ?, missing = ?,"
            " machines = ?, updated_at = ?, approved_at = CASE WHEN ? = 'approved' THEN ? END WHERE id = ?",
            (
                number,
                status,
                note,
                digest,
                checks,
                sum(len(m["missing"]) for m in document["equipment"]),
                sum(1 for m in document["equipment"] if m["tag"]),
                now,
                status,
                now,
                ticket_id,
            ),
        )
        _index(store, {**row, "status": status}, document)
        return number


def _index(store: Store, row: Row, document: Json) -> None:
    parts = [p for m in document["equipment"] for p in m["parts"]]
    store.db.change("DELETE FROM ticket_search WHERE rowid = ?", (row["seq"],))
    store.db.insert(
        "ticket_search",
        {
            "rowid": row["seq"],
            "words": "\n".join(" ".join(w["text"] for w in d["words"]) for d in document["dictations"]),
            "tags": " ".join(m["tag"] for m in document["equipment"] if m["tag"]),
            "parts": " ".join(f"{p['component']} {p['description']} {p['size'] or ''}" for p in parts),
            "site": row["site"],
            "technician": row["technician"],
            "facets": facets(
                status=row["status"],
                site_id=row["site_id"],
                technician_id=row["technician_id"],
                date=row["date"],
            ),
        },
    )
    store.db.change("DELETE FROM readings WHERE ticket_id = ?", (row["id"],))
    place = {"ticket_id": row["id"], "site_id": row["site_id"], "date": row["date"]}
    copied = ("point", "component", "number", "legs", "stage", "circuit", "position", "basis", "moment")
    for machine in document["equipment"]:
        for r in machine["readings"]:
            store.db.insert(
                "readings",
                {
                    **place,
                    "item": r["id"],
                    "tag": machine["tag"],
                    **{c: r[c] for c in copied},
                    "value": r["value"],
                    "unit": r["unit"],
                    "ucum": r["ucum"],
                    "text": r["text"],
                    "marked": int(bool(r["check"])),
                },
            )


def facets(*, date: str | None = None, **values: str) -> str:
    """Words that let full-text search filter by itself: "status_draft site_id_3f2a… year_2026 month_202603 …"."""
    if date:
        values |= {"year": date[:4], "month": date[:7], "day": date}
    return " ".join(f"{name}_{value.replace('-', '')}" for name, value in values.items())


def facets_between(first: str, last: str) -> list[str]:
    """The fewest years, months and days, as such words, that make up these days, both included."""
    day, end = dt.date.fromisoformat(first), dt.date.fromisoformat(last)
    found = []
    while day <= end:
        name, length = "day", 1
        if day.day == 1:
            month = calendar.monthrange(day.year, day.month)[1]
            if day + dt.timedelta(days=month - 1) <= end:
                name, length = "month", month
            if day.month == 1 and dt.date(day.year, 12, 31) <= end:
                name, length = "year", 365 + calendar.isleap(day.year)
        found.append(f"{name}_{day.isoformat().replace('-', '')[: {'day': 8, 'month': 6, 'year': 4}[name]]}")
        if day.toordinal() + length > dt.date.max.toordinal():
            break
        day += dt.timedelta(days=length)
    return found


# ---------------------------------------------------------------- the record of changes


def add_changes(
    store: Store, ticket_id: str, revision: int, who: str | None, changes: Sequence[Json]
) -> None:
    """Each change is {id, at, op, kind, item, field, before, after, was}; values may be any JSON."""
    for c in changes:
        values = {k: None if c.get(k) is None else dumps(c[k]) for k in ("before", "after", "was")}
        plain = {k: c.get(k) for k in ("id", "at", "op", "kind", "item", "field")}
        store.db.insert(
            "changes",
            {
                **plain,
                **values,
                "id": c.get("id") or str(uuid.uuid4()),
                "ticket_id": ticket_id,
                "revision": revision,
                "received_at": store.now(),
                "who": who,
            },
        )


def known_changes(store: Store, ids: Sequence[str]) -> dict[str, str]:
    """Which of these change ids are already on record, and for which ticket."""
    marks = ", ".join("?" * len(ids))
    return {
        r["id"]: r["ticket_id"]
        for r in store.db.rows(f"SELECT id, ticket_id FROM changes WHERE id IN ({marks})", list(ids))
    }


def edits(store: Store, ticket_id: str) -> list[Row]:
    """Every edit in the order it was accepted, values decoded; changes of state and notes are none."""
    rows = store.db.rows(
        "SELECT * FROM changes WHERE ticket_id = ? AND op NOT IN ('status', 'note') ORDER BY seq",
        (ticket_id,),
    )
    return [_decoded(r) for r in rows]


def changes(store: Store, ticket_id: str) -> list[Row]:
    """The whole record, oldest first, with people's names."""
    rows = store.db.rows(
        "SELECT changes.id, revision, at, received_at, coalesce(full_name, name) AS who, op, kind, item, field,"
        " before, after FROM changes LEFT JOIN users ON users.id = who WHERE ticket_id = ? ORDER BY seq",
        (ticket_id,),
    )
    return [_decoded(r) for r in rows]


def last_author(store: Store, ticket_id: str, item: str, field: str | None) -> str | None:
    """Who last changed this field of this item."""
    found = store.db.value(
        "SELECT coalesce(full_name, name) FROM changes JOIN users ON users.id = who"
        " WHERE ticket_id = ? AND item = ? AND (field IS ? OR op IN ('remove', 'add')) ORDER BY seq DESC LIMIT 1",
        (ticket_id, item, field),
    )
    return None if found is None else str(found)


def _decoded(row: Row) -> Row:
    return {
        k: json.loads(v) if k in ("before", "after", "was") and v is not None else v for k, v in row.items()
    }
