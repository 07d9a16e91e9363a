"""Make a data folder with many invented tickets: `python -m benchmarks.office.generate FOLDER [--tickets N]`.

20 readings a ticket over two machines, 2,000 sites of four machines, five years of visits, one site far busier
than the others. The first 400 tickets go through the store's own functions; the rest are rows made after their
pattern, with sites, days, words and values of their own. The seed is fixed, so figures compare.
"""

from __future__ import annotations

import argparse
import datetime as dt
import random
import time
import uuid
from pathlib import Path
from typing import Any

from hatchnote import passwords
from hatchnote.domain import (
    Check,
    Equipment,
    Facts,
    Finding,
    MachineRecord,
    Nameplate,
    Part,
    Reading,
    Span,
    Ticket,
    Transcript,
    Visit,
    WorkItem,
)
from hatchnote.store import Store, open_store, people, places, recordings, tickets
from hatchnote.tickets import to_json
from hatchnote.tickets.revisions import checks, digest

PASSWORD = "roof hatch ladder 12"
SITES, MACHINES, TECHNICIANS = 2000, 4, 40
PATTERNS = 400
BUSY_SHARE = 0.01
"""So much of all visits goes to the first site: a machine seen hundreds of times."""
POINTS = (
    ("suction-pressure", 118, 9, "psig", "[psi]", None),
    ("discharge-pressure", 340, 25, "psig", "[psi]", None),
    ("current", 11.4, 1.5, "A", "A", "compressor"),
    ("voltage", 472, 6, "V", "V", "disconnect"),
    ("capacitance", 38, 2, "µF", "uF", "run-capacitor"),
    ("supply-air-temperature", 55, 4, "°F", "[degF]", None),
    ("return-air-temperature", 75, 3, "°F", "[degF]", None),
    ("outdoor-air-temperature", 88, 12, "°F", "[degF]", None),
    ("superheat", 12, 4, "°F", "[degF]", None),
    ("subcooling", 10, 3, "°F", "[degF]", None),
)
WORDS = [
    "checked", "cleaned", "replaced", "belt", "filter", "coil", "contactor", "capacitor", "pressure", "suction", "head",
    "amps", "compressor", "fan", "motor", "drain", "pan", "trap", "panel", "screws", "economizer", "damper", "actuator",
    "voltage", "superheat", "subcooling", "found", "left", "running", "noisy",
]  # fmt: skip
COMPONENTS = (
    "contactor",
    "run-capacitor",
    "air-filter",
    "supply-fan-belt",
    "bearing",
    "igniter",
    "gas-valve",
)


def build(folder: Path, count: int, seed: int = 20260304) -> None:
    """Fill the folder. Prints how far it is."""
    chance = random.Random(seed)
    store = open_store(folder)
    store.db.connection.execute("PRAGMA synchronous = OFF")  # only while filling; the server opens its own
    with store.db.write():
        crew = _people(store)
        sites = _sites(store, chance)
        for _ in range(min(PATTERNS, count)):
            _ticket(store, chance, crew, sites)
    started = time.monotonic()
    patterns = _patterns(store)
    for first in range(PATTERNS, count, 2000):
        last = min(first + 2000, count)
        with store.db.write():
            _copies(store, chance, patterns, crew, sites, last - first)
        if (first - PATTERNS) % 10_000 == 0 or last == count:
            print(f"{last:,} tickets, {time.monotonic() - started:,.0f} s", flush=True)
    store.db.connection.execute("ANALYZE")
    store.db.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    store.close()


def _patterns(store: Store) -> list[dict[str, Any]]:
    """The rows of the first tickets, to make others after."""
    out = []
    for row in store.db.rows("SELECT * FROM tickets"):
        revision = store.db.row("SELECT * FROM revisions WHERE ticket_id = ?", (row["id"],))
        readings = store.db.rows("SELECT * FROM readings WHERE ticket_id = ?", (row["id"],))
        search = store.db.row("SELECT parts FROM ticket_search WHERE rowid = ?", (row["seq"],))
        heard = store.db.row("SELECT * FROM hearings WHERE ticket_id = ?", (row["id"],))
        out.append(
            {"heard": heard, "ticket": row, "revision": revision, "readings": readings, "search": search}
        )
    return out


def _copies(
    store: Store,
    chance: random.Random,
    patterns: list[dict[str, Any]],
    crew: list[tuple[str, str]],
    sites: list[tuple[str, str]],
    count: int,
) -> None:
    rows: dict[str, list[dict[str, Any]]] = {
        name: [] for name in ("visits", "tickets", "revisions", "readings", "hearings")
    }
    search = []
    seq = store.db.value("SELECT max(seq) FROM tickets")
    for n in range(1, count + 1):
        pattern = chance.choice(patterns)
        id, (site_id, site), (technician_id, technician), date = _place(chance, crew, sites)
        place = {"site_id": site_id, "date": date, "technician_id": technician_id}
        ticket = {**pattern["ticket"], "id": id, "seq": seq + n, **place}
        rows["visits"].append({"id": id, **place, "created_at": ticket["created_at"]})
        rows["tickets"].append(ticket)
        if ticket["status"] != "approved":  # what people still edit needs the words it was read from
            heard = {k: v for k, v in pattern["heard"].items() if k != "seq"}
            rows["hearings"].append({**heard, "ticket_id": id, "source_id": str(uuid.uuid4())})
        rows["revisions"].append({**pattern["revision"], "ticket_id": id})
        tags = chance.sample([f"RTU-{m + 1}" for m in range(MACHINES)], 2)
        for k, r in enumerate(pattern["readings"]):
            value = round(r["value"] * chance.uniform(0.9, 1.1), 1)
            new = {"ticket_id": id, "site_id": site_id, "date": date, "tag": tags[k % 2], "value": value}
            rows["readings"].append({**r, **new})
        facets = tickets.facets(
            status=ticket["status"], site_id=site_id, technician_id=technician_id, date=date
        )
        words = " ".join(chance.choices(WORDS, k=90))
        search.append((seq + n, words, " ".join(tags), pattern["search"]["parts"], site, technician, facets))
    with store.db.write() as connection:
        for table, made in ((t, m) for t, m in rows.items() if m):
            names = list(made[0])
            sql = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join(':' + n for n in names)})"
            connection.executemany(sql, made)
        connection.executemany(
            "INSERT INTO ticket_search (rowid, words, tags, parts, site, technician, facets) VALUES (?,?,?,?,?,?,?)",
            search,
        )


def _place(
    chance: random.Random, crew: list[tuple[str, str]], sites: list[tuple[str, str]]
) -> tuple[str, tuple[str, str], tuple[str, str], str]:
    site = sites[0] if chance.random() < BUSY_SHARE else chance.choice(sites)
    date = (dt.date(2021, 1, 1) + dt.timedelta(days=chance.randrange(1826))).isoformat()
    return str(uuid.UUID(int=chance.getrandbits(128), version=4)), site, chance.choice(crew), date


def _people(store: Store) -> list[tuple[str, str]]:
    secret = passwords.hash_password(PASSWORD)
    for n in range(40):
        people.add_user(
            store, name=f"office{n}", role="office", full_name=f"Office {n}", password_hash=secret
        )
    return [
        (people.add_user(store, name=f"tech{n}", role="technician", full_name=f"Technician {n}",
                         password_hash=secret).id, f"Technician {n}")
        for n in range(TECHNICIANS)
    ]  # fmt: skip


def _sites(store: Store, chance: random.Random) -> list[tuple[str, str]]:
    out = []
    for n in range(SITES):
        id = str(uuid.UUID(int=chance.getrandbits(128), version=4))
        name = f"Sample site {n:04d} {chance.choice(('north', 'south', 'mill', 'quarry', 'harbor'))}"
        places.put_site(
            store, id, name=name, altitude_ft=chance.randrange(6000), address=f"{n} Sample Street"
        )
        for m in range(MACHINES):
            plate = Nameplate(volts="460", refrigerant="R-410A", capacitor_uf=(40.0,), compressor_rla=(14.0,))
            places.put_machine(store, id, Equipment(f"RTU-{m + 1}", (), plate))
        out.append((id, name))
    return out


def _ticket(
    store: Store, chance: random.Random, crew: list[tuple[str, str]], sites: list[tuple[str, str]]
) -> None:
    id, (site_id, site), (technician_id, technician), date = _place(chance, crew, sites)
    places.put_visit(store, id, site_id=site_id, date=date, technician_id=technician_id)
    heard = Transcript.from_text(
        " ".join(chance.choices(WORDS, k=90)), id=str(uuid.UUID(int=chance.getrandbits(128)))
    )
    machines = tuple(
        _machine(chance, tag, heard.id) for tag in chance.sample([f"RTU-{m + 1}" for m in range(MACHINES)], 2)
    )
    status = chance.choices(("approved", "checked", "draft", "returned"), (85, 6, 8, 1))[0]
    body = to_json(Ticket(id, status, Visit(date, site, technician), machines, (heard,)))  # type: ignore[arg-type]
    facts = Facts(
        readings=tuple(r for m in machines for r in m.readings),
        work=tuple(w for m in machines for w in m.work),
        parts=tuple(p for m in machines for p in m.parts),
        findings=tuple(f for m in machines for f in m.findings),
        tags=tuple(m.tag for m in machines if m.tag),
    )
    recordings.add_hearing(
        store, recordings.Hearing(str(heard.id), f"{date}T15:00:00Z", heard, facts), ticket_id=id, key="made"
    )
    sha256 = digest(body)
    tickets.save_revision(
        store, id, body, sha256=sha256, who=None, why="listened", checks=checks(body), note=None,
        digest=sha256 if status == "approved" else None,
    )  # fmt: skip


def _machine(chance: random.Random, tag: str, dictation: str | None) -> MachineRecord:
    def span() -> Span:
        at = chance.randrange(300)
        return Span(at, at + 20, dictation)

    def id() -> str:
        return f"{chance.getrandbits(64):016x}"

    readings = tuple(
        Reading(
            id(), point, span(), "as said", round(chance.gauss(middle, spread), 1), unit, ucum, component=component,
            number="1" if component else None, tag=tag,
            check=Check("heard twice differently") if chance.random() < 0.02 else None,
        )
        for point, middle, spread, unit, ucum, component in POINTS
    )  # fmt: skip
    component = chance.choice(COMPONENTS)
    return MachineRecord(
        tag,
        f"We replaced the {component.replace('-', ' ')}.",
        readings,
        (WorkItem(id(), "replace", "done", span(), component=component, tag=tag),),
        (
            Part(
                id(),
                component,
                "installed",
                span(),
                size=chance.choice(("BX42", "16x25x2", "40+5 uF")),
                tag=tag,
            ),
        ),
        (Finding(id(), component, "worn", span(), tag=tag),),
    )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--tickets", type=int, default=100_000)
    given = parser.parse_args()
    build(given.folder, given.tickets)
