"""Sites, machines and visits."""

from __future__ import annotations

import datetime as dt
from typing import Any

from flask import Blueprint

from hatchnote.domain import Equipment, Nameplate
from hatchnote.errors import BadInput
from hatchnote.jobs import draft
from hatchnote.store import places, tickets
from hatchnote.store.database import Row
from hatchnote.store.packing import from_plain
from hatchnote.web import shapes as s
from hatchnote.web.context import me, own_or_all, sees_all, store
from hatchnote.web.endpoint import EVERYONE, OFFICE, endpoint

bp = Blueprint("visits", __name__)
Json = dict[str, Any]


@endpoint(
    bp,
    "GET",
    "/sites",
    roles=EVERYONE,
    summary="All sites by name",
    answers={200: s.obj({"sites": s.all_of(s.SITE)})},
)
def list_sites() -> Json:
    rows = places.sites(store())
    return {"sites": [{k: r[k] for k in ("id", "name", "altitude_ft", "address")} for r in rows]}


@endpoint(bp, "GET", "/sites/<uuid:id>", roles=EVERYONE, summary="One site", answers={200: s.SITE})
def get_site(id: str) -> Row:
    return places.site(store(), id)


@endpoint(
    bp,
    "PUT",
    "/sites/<uuid:id>",
    roles=OFFICE,
    summary="Make or change a site",
    body=s.SITE_BODY,
    answers={200: s.SITE},
)
def put_site(id: str, body: Json) -> Row:
    name = body["name"].strip()
    if not name:
        raise BadInput("A site needs a name.")
    return places.put_site(
        store(), id, name=name, altitude_ft=body.get("altitude_ft"), address=body.get("address")
    )


@endpoint(
    bp,
    "GET",
    "/sites/<uuid:id>/equipment",
    roles=EVERYONE,
    summary="The machines of a site",
    answers={200: s.obj({"equipment": s.all_of(s.MACHINE)})},
)
def list_machines(id: str) -> Json:
    places.site(store(), id)
    return {"equipment": [places.equipment_json(e) for e in places.equipment(store(), id)]}


@endpoint(
    bp,
    "GET",
    "/sites/<uuid:id>/equipment/<tag>",
    roles=EVERYONE,
    summary="One machine",
    answers={200: s.MACHINE},
)
def get_machine(id: str, tag: str) -> Json:
    return places.equipment_json(places.machine(store(), id, tag))


@endpoint(
    bp,
    "PUT",
    "/sites/<uuid:id>/equipment/<tag>",
    roles=OFFICE,
    summary="Make or change a machine: its nicknames and nameplate",
    body=s.MACHINE_BODY,
    answers={200: s.MACHINE},
)
def put_machine(id: str, tag: str, body: Json) -> Json:
    tag = tag.strip()
    if not tag or len(tag) > 60 or not tag.isprintable():
        raise BadInput("A machine's tag has 1 to 60 characters on one line, for example RTU-3.")
    value = Equipment(
        tag, tuple(body.get("nicknames") or ()), from_plain(Nameplate, body.get("nameplate") or {})
    )
    places.put_machine(store(), id, value)
    return places.equipment_json(places.machine(store(), id, tag))


@endpoint(
    bp,
    "GET",
    "/visits",
    roles=EVERYONE,
    summary="Visits of a day: one's own, or everybody's for the office",
    query={"date": s.DAY},
    answers={200: s.all_of(s.VISIT)},
)
def list_visits(query: Json) -> list[Json]:
    only = None if sees_all() else me().id
    rows = places.visits(store(), date=query["date"], technician_id=only)
    machines: dict[str, list[Json]] = {}
    return [_visit(r, machines) for r in rows]


@endpoint(bp, "GET", "/visits/<uuid:id>", roles=EVERYONE, summary="One visit", answers={200: s.VISIT})
def get_visit(id: str) -> Json:
    row = places.visit(store(), id)
    own_or_all(row["technician_id"], "visit")
    return _visit(row, {})


@endpoint(
    bp,
    "PUT",
    "/visits/<uuid:id>",
    roles=EVERYONE,
    summary="Make or change a visit; making one makes its ticket, whose id is the visit's",
    body=s.VISIT_BODY,
    answers={200: s.VISIT, 201: s.VISIT},
)
def put_visit(id: str, body: Json) -> tuple[Json, int]:
    if ("site_id" in body) == ("site_name" in body):
        raise BadInput("Give either site_id or site_name.")
    day(body["date"])
    technician = body.get("technician_id") or me().id
    if not sees_all() and technician != me().id:
        raise BadInput("A technician makes his own visits only; leave technician_id out.")
    with store().db.write():
        try:
            old = places.visit(store(), id)
        except LookupError:
            old = None
        if old is not None:
            own_or_all(old["technician_id"], "visit")
        if "site_name" in body:
            name = body["site_name"].strip()
            if not name:
                raise BadInput("The site needs a name.")
            site_id = places.find_or_make_site(store(), name)
        else:
            site_id = body["site_id"]
        row, new = places.put_visit(store(), id, site_id=site_id, date=body["date"], technician_id=technician)
        moved = old is not None and any(row[k] != old[k] for k in ("site_id", "date", "technician_id"))
        if moved and tickets.ticket(store(), id)["revision"]:
            draft.redraft(store(), id, who=me().id, why="visit changed")
    return _visit(row, {}), 201 if new else 200


def day(text: str) -> str:
    """Raises BadInput when there is no such day."""
    try:
        return dt.date.fromisoformat(text).isoformat()
    except ValueError:
        raise BadInput(f"{text} is no day; write it as 2026-03-04.") from None


def _visit(row: Row, machines: dict[str, list[Json]]) -> Json:
    site_id = row["site_id"]
    if site_id not in machines:
        machines[site_id] = [places.equipment_json(e) for e in places.equipment(store(), site_id)]
    return {
        "id": row["id"],
        "date": row["date"],
        "status": row["status"],
        "site": {"id": site_id, "name": row["site_name"], "altitude_ft": row["altitude_ft"]},
        "technician": {"id": row["technician_id"], "name": row["technician_name"]},
        "equipment": machines[site_id],
        "ticket_id": row["id"],
    }
