"""A ticket's states, the digest that freezes an approved one, and what differs between two revisions."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any, Literal, cast

from hatchnote.domain import TicketStatus
from hatchnote.tickets.document import Json

Actor = Literal["technician", "office"]
"""The technician whose visit it is, or somebody of the office (administrators included)."""

ARROWS: dict[tuple[TicketStatus, TicketStatus], frozenset[Actor]] = {
    ("draft", "checked"): frozenset({"technician", "office"}),
    ("returned", "checked"): frozenset({"technician", "office"}),
    ("checked", "draft"): frozenset({"technician", "office"}),
    ("checked", "approved"): frozenset({"office"}),
    ("checked", "returned"): frozenset({"office"}),
    ("approved", "returned"): frozenset({"office"}),
}
"""Who may draw which arrow:

    draft → checked → approved      returned → checked
    checked → draft                 checked, approved → returned (with a note)

The office may check in a technician's place (he is ill, he has left); the record says who did it.
"""


def may(before: TicketStatus, after: TicketStatus, actor: Actor) -> bool:
    return actor in ARROWS.get((before, after), frozenset())


def next_states(before: TicketStatus, actor: Actor) -> list[TicketStatus]:
    """The states this person may choose now."""
    return [to for (start, to), who in ARROWS.items() if start == before and actor in who]


def digest(document: Json) -> str:
    """SHA-256 of the document's content: keys sorted, no white space, UTF-8; the revision number left out."""
    body = {k: v for k, v in document.items() if k != "revision"}
    text = json.dumps(body, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


_LISTS = ("readings", "work", "parts", "findings", "computed", "missing", "cautions", "photos")


def difference(old: Json, new: Json) -> list[Json]:
    """What changed from one document to another, item by item and field by field.

    Rows are {op: "added"|"removed"|"changed", kind, item, tag, field, before, after}; `field` is None where
    a whole item came or went. Order: the new document's, then what is gone.
    """
    rows: list[Json] = []
    if old.get("status") != new.get("status"):
        rows.append(_row("changed", "ticket", None, None, "status", old.get("status"), new.get("status")))
    for name in ("site", "date", "technician"):
        before, after = old["visit"].get(name), new["visit"].get(name)
        if before != after:
            rows.append(_row("changed", "visit", None, None, name, before, after))
    was, now = _by_id(old), _by_id(new)
    for key, (tag, item) in now.items():
        if key not in was:
            rows.append(_row("added", *key, tag, None, None, item))
            continue
        old_tag, old_item = was[key]
        if old_tag != tag:
            rows.append(_row("changed", *key, tag, "tag", old_tag, tag))
        for name in sorted(item.keys() | old_item.keys()):
            if item.get(name) != old_item.get(name):
                rows.append(_row("changed", *key, tag, name, old_item.get(name), item.get(name)))
    rows += [
        _row("removed", *key, tag, None, item, None) for key, (tag, item) in was.items() if key not in now
    ]
    heard = {d["id"]: d for d in old["dictations"]}
    for d in new["dictations"]:
        was_on = heard.get(d["id"], {}).get("continues")
        if d.get("continues") != was_on:
            rows.append(_row("changed", "dictation", d["id"], None, "continues", was_on, d.get("continues")))
    rows += [
        _row("added", "dictation", d["id"], None, None, None, " ".join(w["text"] for w in d["words"]))
        for d in new["dictations"]
        if d["id"] not in heard
    ]
    return rows


def checks(document: Json) -> int:
    """How many items ask a person to look."""
    return sum(1 for _, item in _by_id(document).values() if item.get("check"))


def _by_id(document: Json) -> dict[tuple[str, str], tuple[str | None, Json]]:
    return {(kind, item["id"]): (tag, item) for kind, tag, item in _walk(document)}


def _walk(document: Json) -> Iterator[tuple[str, str | None, Json]]:
    for machine in document["equipment"]:
        for name in _LISTS:
            kind = {"readings": "reading", "parts": "part", "findings": "finding", "photos": "photo"}.get(
                name, name
            )
            for item in machine[name]:
                yield kind, machine["tag"], cast(Json, item)


def _row(
    op: str, kind: str, item: str | None, tag: str | None, field: str | None, before: Any, after: Any
) -> Json:
    return {
        "op": op,
        "kind": kind,
        "item": item,
        "tag": tag,
        "field": field,
        "before": before,
        "after": after,
    }
