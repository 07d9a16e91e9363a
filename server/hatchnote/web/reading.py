"""Fast reading of typed or corrected text: what it says, what follows from it, what is missing."""

from __future__ import annotations

import uuid
from typing import Any

from flask import Blueprint

from hatchnote.domain import Equipment, Nameplate, Transcript, Visit
from hatchnote.store import places
from hatchnote.tickets.document import to_json
from hatchnote.tickets.main_job import read_all, ticket_from_facts
from hatchnote.web import shapes as s
from hatchnote.web.context import store
from hatchnote.web.endpoint import EVERYONE, endpoint

bp = Blueprint("reading", __name__)
Json = dict[str, Any]


@endpoint(
    bp,
    "POST",
    "/read",
    roles=EVERYONE,
    summary="Read text at once; nothing is stored",
    body=s.obj(
        {"text": s.text(20_000), "equipment": s.all_of(s.TAG, 200), "site_id": s.or_null(s.ID)},
        optional=("equipment", "site_id"),
    ),
    answers={
        200: s.obj(
            {
                "facts": s.all_of({"$ref": "#/components/schemas/Machine"}),
                "computed": s.all_of({"type": "object"}),
                "cautions": s.all_of({"type": "object"}),
                "missing": s.all_of({"type": "object"}),
            }
        )
    },
)
def read_text(body: Json) -> Json:
    known: dict[str, Equipment] = {}
    altitude: float | None = None
    if body.get("site_id"):
        altitude = places.site(store(), body["site_id"])["altitude_ft"]
        known = {e.tag: e for e in places.equipment(store(), body["site_id"])}
    for tag in body.get("equipment", []):
        known.setdefault(tag, Equipment(tag))
    words = Transcript.from_text(body["text"])
    facts = read_all([words], list(known.values()))
    plates: dict[str | None, Nameplate] = {e.tag: e.nameplate for e in known.values()}
    ticket = ticket_from_facts(
        [words],
        facts,
        id=str(uuid.uuid4()),
        visit=Visit(date="2000-01-01", altitude_ft=altitude),
        nameplates=plates,
    )
    machines = to_json(ticket)["equipment"]

    def gathered(name: str) -> list[Json]:
        return [{**item, "tag": m["tag"]} for m in machines for item in m[name]]

    return {
        "facts": machines,
        "computed": gathered("computed"),
        "cautions": gathered("cautions"),
        "missing": gathered("missing"),
    }
