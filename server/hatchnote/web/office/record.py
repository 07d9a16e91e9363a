"""The record of one ticket: every change with who and when, every revision, what differs between two."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from flask import Response, request

from hatchnote.errors import BadInput
from hatchnote.export import wording
from hatchnote.store import tickets
from hatchnote.store.database import Row
from hatchnote.tickets.revisions import difference
from hatchnote.tickets.takeback import void
from hatchnote.web.context import store
from hatchnote.web.office import bp, office_only, page


@bp.get("/office/tickets/<uuid:id>/record")
@office_only
def show_record(id: Any) -> Response:
    row = tickets.ticket(store(), str(id))
    revisions = tickets.revisions(store(), str(id))
    names = _names(tickets.revision(store(), str(id), row["revision"]).document) if row["revision"] else {}
    record = tickets.changes(store(), str(id))
    by_id = {c["id"]: c for c in record}
    gone = void((c["id"], c["op"], c["after"]) for c in record)
    changes = [_line(c, by_id, names, c["id"] in gone) for c in record]
    a, b = _number("a"), _number("b")
    rows = None
    if a is not None and b is not None:
        old, new = (tickets.revision(store(), str(id), n).document for n in (a, b))
        before = _names(old)
        now = _names(new)
        rows = [
            _told_by_name(
                {**r, "name": now.get(r["item"]) or before.get(r["item"]) or r["item"] or r["kind"]}, now
            )
            for r in difference(old, new)
        ]
    return page(
        "office/record.html",
        "worklist",
        ticket=row,
        revisions=revisions,
        changes=changes[::-1],
        a=a,
        b=b,
        rows=rows,
    )


_DONE = {
    "set": "changed",
    "add": "added",
    "remove": "removed",
    "move": "moved to another machine",
    "accept": "kept as it is",
    "join": "joined to the dictation before",
    "part": "read apart from the dictation before",
    "status": "state",
    "note": "note",
}


def _line(c: Row, by_id: Mapping[str, Row], names: Mapping[str, str], gone: bool) -> dict[str, Any]:
    """One change as the page shows it; one that takes another back shows that one the other way round."""
    shown = {**c, "name": names.get(c["item"], c["item"]), "gone": gone, "done": _DONE.get(c["op"], c["op"])}
    if c["kind"] == "dictation":
        shown |= {"before": None, "after": None}
    target = by_id.get(c["after"]) if c["op"] == "back" else None
    if target:
        of = _line(target, by_id, names, gone=True)
        shown |= {
            "name": of["name"],
            "done": f"took back: {of['done']}",
            "before": of["after"],
            "after": of["before"],
        }
    return shown


def _told_by_name(row: dict[str, Any], names: Mapping[str, str]) -> dict[str, Any]:
    """A dictation that another goes on from by what people call it."""
    if row["field"] != "continues":
        return row
    named = {side: names.get(row[side], row[side]) for side in ("before", "after")}
    return {**row, **named, "field": "goes on from"}


def _number(name: str) -> int | None:
    text = request.args.get(name, "")
    if not text:
        return None
    if not text.isdecimal() or len(text) > 9:
        raise BadInput("A revision is a whole number; choose two from the list.")
    return int(text)


def _names(document: dict[str, Any]) -> dict[str, str]:
    """What a person calls every item: "RTU-3, suction pressure"."""
    out = {d["id"]: f"dictation or note {n}" for n, d in enumerate(document["dictations"], 1)}
    for machine in document["equipment"]:
        of = wording.machine_name(machine["tag"])
        for r in machine["readings"]:
            out[r["id"]] = f"{of}, {wording.reading_name(r)}"
        for w in machine["work"]:
            out[w["id"]] = f"{of}, {wording.work_name(w)}"
        for p in machine["parts"]:
            out[p["id"]] = f"{of}, part {wording.plain(p['component'])}"
        for f in machine["findings"]:
            out[f["id"]] = f"{of}, {wording.finding_name(f)}"
        for c in machine["computed"]:
            out[c["id"]] = f"{of}, {c['name']}"
        for photo in machine["photos"]:
            out[photo["id"]] = f"{of}, photo {photo['caption'] or photo['name']}"
    return out


@bp.app_template_filter("told")
def told(value: Any) -> str:
    """A value of the record as a person reads it."""
    if value is None or value == "":
        return "nothing"
    if isinstance(value, dict):
        if "why" in value:
            return f"check: {value['why']}"
        if "point" in value:
            return f"{wording.plain(value['point'])} {wording.value(value)}"
        return ", ".join(f"{k} {told(v)}" for k, v in value.items() if v not in (None, "", [], {}))[:400]
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return wording.number(float(value))
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
