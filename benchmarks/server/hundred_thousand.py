"""100,000 tickets and 2,000,000 readings in SQLite: worklist, search and a machine's plot, 95th percentile.

    .venv/bin/python benchmarks/server/hundred_thousand.py [--tickets 100000] [--folder FOLDER]

Invented data from a fixed seed: 400 sites with 5 machines each, 60 technicians, 20 readings a ticket, transcripts of
some 60 words drawn from the trade's vocabulary with a Zipf-like frequency. The folder is made once and used again.
Times by the clock say little on a machine that others use; the processor's own time stands beside them.
"""

from __future__ import annotations

import argparse
import datetime as dt
import os
import random
import statistics
import tempfile
import time
import uuid
from collections.abc import Callable
from pathlib import Path

from hatchnote.store import Store, history, open_store, people, places, worklist
from hatchnote.store.tickets import facets

WORDS = [
    "the",
    "and",
    "is",
    "was",
    "at",
    "on",
    "left",
    "found",
    "suction",
    "discharge",
    "pressure",
    "liquid",
    "line",
    "temperature",
    "supply",
    "return",
    "air",
    "outdoor",
    "degrees",
    "psig",
    "volts",
    "amps",
    "microfarads",
    "replaced",
    "cleaned",
    "tightened",
    "inspected",
    "contactor",
    "capacitor",
    "condenser",
    "fan",
    "motor",
    "compressor",
    "belt",
    "sheave",
    "bearing",
    "filter",
    "drain",
    "pan",
    "trap",
    "economizer",
    "damper",
    "actuator",
    "igniter",
    "burner",
    "heat",
    "exchanger",
    "gas",
    "valve",
    "pressure",
    "switch",
    "relay",
    "transformer",
    "board",
    "thermostat",
    "wiring",
    "terminal",
    "panel",
    "screw",
    "gasket",
    "curb",
    "insulation",
    "leaking",
    "worn",
    "cracked",
    "loose",
    "dirty",
    "plugged",
    "corroded",
    "burnt",
    "pitted",
    "noisy",
    "seized",
    "bulged",
    "tripped",
    "blown",
    "iced",
    "obsolete",
]
POINTS = (
    ("suction-pressure", "[psi]", "psig", 118), ("discharge-pressure", "[psi]", "psig", 340),
    ("supply-air-temperature", "[degF]", "°F", 55), ("return-air-temperature", "[degF]", "°F", 75),
    ("capacitance", "uF", "µF", 45), ("current", "A", "A", 12), ("voltage", "V", "V", 478),
    ("superheat", "[degF]", "°F", 10),
)  # fmt: skip
STATUSES = ("draft", "checked", "approved", "approved", "approved", "returned")


def site_id(n: int) -> str:
    return str(uuid.UUID(int=n + 1))


def fill(store: Store, tickets: int) -> None:
    """Rows straight into the tables: making 100,000 documents one by one is not what is measured here."""
    chance = random.Random(7)
    weights = [1 / (n + 1) for n in range(len(WORDS))]
    now = store.now()
    store.db.rows("PRAGMA cache_size = -400000")  # for filling only; measuring opens the store anew
    store.db.rows("PRAGMA wal_autocheckpoint = 100000")
    with store.db.write() as connection:
        who = [
            people.add_user(
                store, name=f"t{n}", role="technician", full_name=f"Technician {n}", password_hash=None
            ).id
            for n in range(60)
        ]
        sites = [
            str(
                places.put_site(
                    store, str(uuid.UUID(int=n + 1)), name=f"Site {n:03d}", altitude_ft=None, address=None
                )["id"]
            )
            for n in range(400)
        ]
        day = dt.date(2020, 1, 1)
        for n in range(tickets):
            id = str(uuid.UUID(int=(1 << 64) + n))
            site, person, status = chance.choice(sites), chance.choice(who), chance.choice(STATUSES)
            date = (day + dt.timedelta(days=n * 2400 // tickets)).isoformat()
            place = (site, date, person)
            connection.execute("INSERT INTO visits VALUES (?, ?, ?, ?, ?)", (id, *place, now))
            connection.execute(
                "INSERT INTO tickets (seq, id, status, revision, site_id, date, technician_id, checks, missing,"
                " machines, created_at, updated_at) VALUES (?, ?, ?, 1, ?, ?, ?, ?, ?, 2, ?, ?)",
                (n + 1, id, status, *place, chance.randrange(5), chance.randrange(8), now, now),
            )
            said = " ".join(chance.choices(WORDS, weights, k=60))
            tags = chance.sample(["RTU-1", "RTU-2", "RTU-3", "RTU-4", "RTU-5"], 2)
            connection.execute(
                "INSERT INTO ticket_search (rowid, words, tags, parts, site, technician, facets)"
                " VALUES (?, ?, ?, ?, ?, ?, ?)",
                (n + 1, said, " ".join(tags), chance.choice(WORDS), f"Site {int(uuid.UUID(site)) - 1:03d}", person,
                 facets(status=status, site_id=site, technician_id=person, date=date)),
            )  # fmt: skip
            for k in range(20):
                point, ucum, unit, about = chance.choice(POINTS)
                connection.execute(
                    "INSERT INTO readings (ticket_id, item, site_id, tag, point, basis, value, unit, ucum, marked,"
                    " date) VALUES (?, ?, ?, ?, ?, 'measured', ?, ?, ?, 0, ?)",
                    (
                        id,
                        f"r-{k}",
                        site,
                        tags[k % 2],
                        point,
                        chance.gauss(about, about / 10),
                        unit,
                        ucum,
                        date,
                    ),
                )
    store.db.rows("PRAGMA optimize")


def measure(name: str, act: Callable[[random.Random], object], *, times: int = 200) -> float:
    chance = random.Random(11)
    took, worked = [], []
    for _ in range(times):
        started, began = time.perf_counter(), time.process_time()
        act(chance)
        worked.append((time.process_time() - began) * 1000)
        took.append((time.perf_counter() - started) * 1000)
    took.sort()
    worked.sort()
    at = int(len(took) * 0.95) - 1
    print(
        f"{name:<42} p50 {statistics.median(took):7.2f}  p95 {took[at]:7.2f}  worst {took[-1]:7.2f} ms"
        f"   processor p50 {statistics.median(worked):6.2f}  p95 {worked[at]:6.2f} ms"
    )
    return worked[at]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--tickets", type=int, default=100_000)
    parser.add_argument(
        "--folder", type=Path, default=Path(tempfile.gettempdir()) / "hatchnote-hundred-thousand"
    )
    arguments = parser.parse_args()
    store = open_store(arguments.folder)
    if not store.db.value("SELECT count(*) FROM tickets"):
        started = time.perf_counter()
        fill(store, arguments.tickets)
        print(f"filled in {time.perf_counter() - started:.0f} s", flush=True)
        store.close()
        store = open_store(arguments.folder)
    tickets, readings = (store.db.value(f"SELECT count(*) FROM {t}") for t in ("tickets", "readings"))
    size = (arguments.folder / "hatchnote.db").stat().st_size / 1e6
    print(f"{tickets} tickets, {readings} readings, {size:.0f} MB")
    sites = [s["id"] for s in places.sites(store)]
    who = [u.id for u in people.users(store)]
    cursors: list[str | None] = [None]
    for _ in range(200):
        cursors.append(worklist.page(store, worklist.Wanted(cursor=cursors[-1]))[1])

    def listed(**wanted: object) -> Callable[[random.Random], object]:
        return lambda chance: worklist.page(
            store,
            worklist.Wanted(**{k: v(chance) if callable(v) else v for k, v in wanted.items()}),  # type: ignore[arg-type]
        )

    def a_person(chance: random.Random) -> str:
        return chance.choice(who)

    def some(chance: random.Random) -> str:
        return " ".join(chance.sample(WORDS, 2))

    results = [
        measure("worklist, newest", listed()),
        measure("worklist, a page far down", listed(cursor=lambda c: c.choice(cursors))),
        measure("worklist, drafts with most checks", listed(status="draft", sort="checks")),
        measure(
            "worklist, most missing of one technician",
            listed(technician_id=lambda c: c.choice(who), sort="missing"),
        ),
        measure("worklist, one site", listed(site_id=lambda c: c.choice(sites))),
        measure(
            "worklist, one technician, one state",
            listed(technician_id=lambda c: c.choice(who), status="returned"),
        ),
        measure("search, one word", listed(words=lambda c: c.choice(WORDS))),
        measure("search, two words", listed(words=some)),
        measure("search, a common word of one site", listed(words="the", site_id=lambda c: c.choice(sites))),
        measure("search, a common word in drafts", listed(words="suction", status="draft")),
        measure("search, a machine at a site", listed(words="RTU-3", site_id=lambda c: c.choice(sites))),
        measure("search, a beginning", listed(words="con")),
        measure(
            "search, a common word on one day",
            listed(words="the", first_day="2021-03-04", last_day="2021-03-04"),
        ),
        measure(
            "search, a common word in five months",
            listed(words="the", first_day="2021-01-15", last_day="2021-06-20"),
        ),
        measure("search, a common word until a day", listed(words="the", last_day="2020-02-01")),
        measure(
            "search, a rare word on one day",
            listed(words="obsolete", first_day="2021-03-04", last_day="2021-03-04"),
        ),
        measure("search, no such word", listed(words="zeppelin")),
        measure("a machine's points", lambda c: history.series(store, c.choice(sites), "RTU-3")),
        measure(
            "a machine's plot",
            lambda c: history.readings(store, c.choice(sites), "RTU-3", c.choice(POINTS)[0]),
        ),
    ]
    load = os.getloadavg()[0]
    print(f"largest p95 of processor time: {max(results):.1f} ms (budget 100 ms); load average {load:.1f}")


if __name__ == "__main__":
    main()
