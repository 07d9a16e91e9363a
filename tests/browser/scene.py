"""An invented visit with a draft that has something of everything, made through the API."""

from __future__ import annotations

import datetime as dt
import uuid

NOTE = (
    "RTU 3. Suction pressure 118, discharge 340, manifold pressure three point five inches, supply air 58. "
    "Compressor 1 amps 11.2. Replaced the contactor. Belt BX42 is cracked, needs replacing. "
    "RTU 4. Return air 75. Cleaned the flame sensor."
)


def write_visit(person, site="Low Mill bakery", text=NOTE):
    """Make a visit of today and a typed note; returns its id, which is the ticket's too."""
    visit = str(uuid.uuid4())
    today = dt.date.today().isoformat()
    person.call("PUT", f"/visits/{visit}", {"site_name": site, "date": today})
    person.call(
        "PUT", f"/notes/{uuid.uuid4()}", {"ticket_id": visit, "text": text, "at": f"{today}T14:00:00Z"}
    )
    return visit


def reading(document, point, tag="RTU-3"):
    machine = next(m for m in document["equipment"] if m["tag"] == tag)
    return next(r for r in machine["readings"] if r["point"] == point)


def edit(item, value, before, kind="reading", field="value"):
    now = dt.datetime.now(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    about = {"kind": kind, "item": item, "field": field, "before": before, "after": value}
    return {"id": str(uuid.uuid4()), "at": now, "op": "set", **about}
