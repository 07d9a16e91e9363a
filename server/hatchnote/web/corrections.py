"""Heard this, meant that: the list of corrections, and words of the company's own that follow from it."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from hatchnote import own_words
from hatchnote.errors import BadInput, NotFound
from hatchnote.store import corrections, places, recordings, tickets, worklist
from hatchnote.store.database import Row
from hatchnote.web import shapes as s
from hatchnote.web.context import settings, store
from hatchnote.web.endpoint import OFFICE, endpoint

bp = Blueprint("corrections", __name__)
Json = dict[str, Any]
TRIED = 60
"""Past tickets that a preview reads again: those that hold the words, latest first."""

_KIND = {"enum": list(own_words.KINDS)}
_ENTRY = s.obj({"kind": _KIND, "slug": s.text(60, 1), "said": s.text(80, 1)})
_TERM = {"point": "points", "component": "components", "verb": "verbs", "condition": "conditions"}


@endpoint(
    bp,
    "GET",
    "/corrections",
    roles=OFFICE,
    summary="What was heard and what people made of it, most often first",
    answers={
        200: s.obj(
            {
                "corrections": s.all_of(
                    s.obj(
                        {
                            "heard": s.STRING,
                            "item": s.STRING,
                            "field": s.STRING,
                            "before": s.ANY,
                            "meant": s.ANY,
                            "times": s.INTEGER,
                            "last": s.NUMBER,
                            "ticket": s.STRING,
                            "vocabulary": s.or_null(_KIND),
                        }
                    )
                )
            }
        )
    },
)
def list_corrections() -> Json:
    found: dict[tuple[str, ...], Json] = {}
    for row in corrections.corrections(store()):
        heard = _heard(row)
        key = (heard.casefold(), row["kind"], row["field"], repr(row["before"]), repr(row["after"]))
        if key in found:
            found[key]["times"] += 1
        else:
            found[key] = {
                "heard": heard,
                "item": row["kind"],
                "field": row["field"],
                "before": row["before"],
                "meant": row["after"],
                "times": 1,
                "last": row["received_at"],
                "ticket": row["ticket_id"],
                "vocabulary": _TERM.get(row["field"]) if row["after"] else None,
            }
    ordered = sorted(found.values(), key=lambda c: (-c["times"], -c["last"]))
    return {"corrections": ordered[:1000]}


def _heard(row: Row) -> str:
    """The words the item was read from; of work, parts and findings those of the dictation at its span."""
    was = row["was"]
    if was.get("said"):
        return str(was["said"])
    span = was.get("heard") or {}
    if not span.get("dictation"):
        return ""
    try:
        ticket = tickets.ticket(store(), row["ticket_id"])
        document = tickets.revision(store(), row["ticket_id"], ticket["revision"]).document
    except NotFound:
        return ""
    for d in document["dictations"]:
        if d["id"] == span["dictation"]:
            return " ".join(w["text"] for w in d["words"])[span["from"] : span["to"]]
    return ""


@endpoint(
    bp,
    "POST",
    "/vocabulary/entries",
    roles=OFFICE,
    summary="Add a spoken form to the company's own words; the next reading knows it",
    body=_ENTRY,
    answers={200: s.obj({"added": s.BOOLEAN})},
)
def add_entry(body: Json) -> Json:
    return {"added": own_words.add(settings(), body["kind"], _known(body), body["said"])}


@endpoint(
    bp,
    "POST",
    "/vocabulary/preview",
    roles=OFFICE,
    summary="Which past tickets would have read differently with such an entry; nothing is changed",
    body=_ENTRY,
    answers={
        200: s.obj(
            {
                "looked_at": s.INTEGER,
                "tickets": s.all_of(
                    s.obj(
                        {
                            "id": s.STRING,
                            "site": s.STRING,
                            "date": s.STRING,
                            "before": s.all_of(s.STRING),
                            "after": s.all_of(s.STRING),
                        }
                    )
                ),
            }
        )
    },
)
def preview_entry(body: Json) -> Json:
    slug = _known(body)
    rows, _ = worklist.page(store(), worklist.Wanted(words=f'"{body["said"]}"', limit=TRIED))
    notes = [
        (
            [h.transcript.text for h in recordings.hearings(store(), r["id"])],
            places.equipment(store(), r["site_id"]),
        )
        for r in rows
    ]
    compared = own_words.preview(settings(), body["kind"], slug, body["said"], notes)
    changed = [
        {"id": r["id"], "site": r["site"], "date": r["date"], "before": before, "after": after}
        for r, (before, after) in zip(rows, compared, strict=True)
        if before or after
    ]
    return {"looked_at": len(rows), "tickets": changed}


def _known(body: Json) -> str:
    from hatchnote.notes.vocabulary import load

    slug = str(body["slug"])
    if slug not in getattr(load(), body["kind"]):
        raise BadInput(f"There is no term {slug} among the {body['kind']}; choose one from the list.")
    return slug
