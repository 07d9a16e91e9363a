"""Sites, the machines on their roofs, and visits. Creating a visit creates its ticket under the same id."""

from __future__ import annotations

import dataclasses
import json
import uuid
from typing import Any

from hatchnote.domain import Equipment, Nameplate
from hatchnote.errors import Conflict, NotFound
from hatchnote.store import Store
from hatchnote.store.database import Row
from hatchnote.store.packing import dumps, from_plain


def sites(store: Store) -> list[Row]:
    return store.db.rows(
        "SELECT id, name, altitude_ft, address, (SELECT count(*) FROM equipment WHERE site_id = sites.id)"
        " AS machines FROM sites ORDER BY name LIMIT 5000"
    )


def site(store: Store, id: str) -> Row:
    """Raises NotFound."""
    row = store.db.row("SELECT id, name, altitude_ft, address FROM sites WHERE id = ?", (id,))
    if row is None:
        raise NotFound("There is no such site.")
    return row


def site_named(store: Store, name: str) -> Row | None:
    return store.db.row("SELECT id, name, altitude_ft, address FROM sites WHERE name = ?", (name,))


def put_site(store: Store, id: str, *, name: str, altitude_ft: float | None, address: str | None) -> Row:
    """Make or change a site. Raises Conflict when another site has the name."""
    with store.db.write():
        other = site_named(store, name)
        if other and other["id"] != id:
            raise Conflict(f"There is already a site named {name}; choose another name.")
        row = {"id": id, "name": name, "altitude_ft": altitude_ft, "address": address}
        store.db.upsert("sites", {**row, "updated_at": store.now()}, key=["id"])
        return row


def find_or_make_site(store: Store, name: str) -> str:
    with store.db.write():
        found = site_named(store, name)
        if found:
            return str(found["id"])
        return str(put_site(store, str(uuid.uuid4()), name=name, altitude_ft=None, address=None)["id"])


# ---------------------------------------------------------------- machines


def equipment(store: Store, site_id: str) -> list[Equipment]:
    """The machines of a site in order of their tags."""
    rows = store.db.rows(
        "SELECT tag, nicknames, nameplate FROM equipment WHERE site_id = ? ORDER BY tag", (site_id,)
    )
    return [_equipment(r) for r in rows]


def machine(store: Store, site_id: str, tag: str) -> Equipment:
    """Raises NotFound."""
    row = store.db.row(
        "SELECT tag, nicknames, nameplate FROM equipment WHERE site_id = ? AND tag = ?", (site_id, tag)
    )
    if row is None:
        raise NotFound("There is no such machine at this site.")
    return _equipment(row)


def put_machine(store: Store, site_id: str, value: Equipment) -> None:
    """Make or change a machine. Raises NotFound when there is no such site."""
    with store.db.write():
        site(store, site_id)
        row = {
            "site_id": site_id,
            "tag": value.tag,
            "nicknames": dumps(list(value.nicknames)),
            "nameplate": dumps(dataclasses.asdict(value.nameplate)),
            "updated_at": store.now(),
        }
        store.db.upsert("equipment", row, key=["site_id", "tag"])


def equipment_json(value: Equipment) -> dict[str, Any]:
    """A machine as the API gives it; unknown plate fields are left out."""
    plate = {k: v for k, v in dataclasses.asdict(value.nameplate).items() if v not in (None, ())}
    return {"tag": value.tag, "nicknames": list(value.nicknames), "nameplate": plate}


def _equipment(row: Row) -> Equipment:
    nameplate = from_plain(Nameplate, json.loads(row["nameplate"]))
    return Equipment(row["tag"], tuple(json.loads(row["nicknames"])), nameplate)


# ---------------------------------------------------------------- visits


_VISIT = (
    "SELECT visits.id, visits.date, visits.site_id, sites.name AS site_name, sites.altitude_ft,"
    " visits.technician_id, coalesce(users.full_name, users.name) AS technician_name, tickets.status"
    " FROM visits JOIN sites ON sites.id = visits.site_id JOIN users ON users.id = visits.technician_id"
    " JOIN tickets ON tickets.id = visits.id "
)


def visits(store: Store, *, date: str | None, technician_id: str | None) -> list[Row]:
    """Visits of a day (or the latest 200), of one technician or of all."""
    return store.db.rows(
        _VISIT
        + "WHERE (:date IS NULL OR visits.date = :date) AND (:who IS NULL OR visits.technician_id = :who)"
        " ORDER BY visits.date DESC, site_name, visits.id LIMIT 200",
        {"date": date, "who": technician_id},
    )


def visit(store: Store, id: str) -> Row:
    """Raises NotFound."""
    row = store.db.row(_VISIT + "WHERE visits.id = ?", (id,))
    if row is None:
        raise NotFound("There is no such visit.")
    return row


def put_visit(store: Store, id: str, *, site_id: str, date: str, technician_id: str) -> tuple[Row, bool]:
    """Make or change a visit, its ticket with it; True when it was new.

    Raises NotFound for an unknown site or technician, Conflict once the ticket is approved.
    """
    with store.db.write():
        site(store, site_id)
        if not store.db.row("SELECT 1 FROM users WHERE id = ? AND active", (technician_id,)):
            raise NotFound("There is no such technician.")
        place = {"site_id": site_id, "date": date, "technician_id": technician_id}
        old = store.db.row("SELECT site_id, date, technician_id FROM visits WHERE id = ?", (id,))
        if old == place:
            return visit(store, id), False
        now = store.now()
        if old is None:
            store.db.insert("visits", {"id": id, **place, "created_at": now})
            store.db.insert("tickets", {"id": id, **place, "created_at": now, "updated_at": now})
            return visit(store, id), True
        if store.db.value("SELECT status FROM tickets WHERE id = ?", (id,)) == "approved":
            raise Conflict("This visit's ticket is approved; return it before the visit is changed.")
        if old["technician_id"] != technician_id:
            former = {"visit_id": id, "user_id": old["technician_id"], "until": now}
            store.db.upsert("former_technicians", former, key=["visit_id", "user_id"])
        for table in ("visits", "tickets"):
            store.db.change(
                f"UPDATE {table} SET site_id = :site_id, date = :date, technician_id = :technician_id WHERE id = :id",
                {**place, "id": id},
            )
        return visit(store, id), False


def was_of(store: Store, visit_id: str, user_id: str) -> bool:
    """Whether the visit was this technician's before it was given to another."""
    sql = "SELECT 1 FROM former_technicians WHERE visit_id = ? AND user_id = ?"
    return store.db.row(sql, (visit_id, user_id)) is not None
