"""How long the office waits among many tickets: `python -m benchmarks.office.pages FOLDER [--rounds N]`.

One person, one request at a time, through the real server: worklist in every order and filter, deep pages, search,
and the page of the busiest machine with its plots. The folder comes from `benchmarks.office.generate`.
"""

from __future__ import annotations

import argparse
import json
import random
import re
from pathlib import Path
from urllib.parse import quote

from benchmarks.office.generate import WORDS
from benchmarks.office.server import served
from benchmarks.office.visitor import Visitor, table

SEARCHES = (
    "contactor",
    "capacitor drain",
    "BX42",
    "RTU-3 igniter",
    '"site 0042"',
    "quarry bearing",
    "16x25x2",
    "cap",
)


def measure(folder: Path, rounds: int) -> None:
    chance = random.Random(1)
    with served(folder) as (port, _):
        who = Visitor(port, "office0")
        sites = json.loads(who.get("sites, API", "/api/v1/sites"))["sites"]
        busiest, others = sites[0]["id"], [s["id"] for s in sites[1:]]
        technicians = re.findall(
            rb'<option value="([0-9a-f-]{36})">Technician', who.get("first page", "/office")
        )
        cursors = dict.fromkeys(("newest", "oldest", "checks", "missing"), "")
        for _ in range(rounds):
            for sort, cursor in cursors.items():
                answer = who.get(
                    "worklist, API", f"/api/v1/tickets?sort={sort}" + (cursor and f"&cursor={cursor}")
                )
                cursors[sort] = json.loads(answer)["next"] or ""
            who.get("worklist, page", "/office")
            status = chance.choice(("draft", "approved", "checked"))
            who.ask("worklist, rows", "GET", f"/office?status={status}", **{"HX-Request": "true"})
            who.get("worklist, by site", f"/api/v1/tickets?site={chance.choice(others)}")
            person = chance.choice(technicians).decode()
            who.get(
                "worklist, by technician, state",
                f"/api/v1/tickets?technician={person}&status=draft&sort=checks",
            )
            words = chance.choice(SEARCHES) if chance.random() < 0.5 else " ".join(chance.sample(WORDS, 2))
            who.get("search, API", f"/api/v1/tickets?q={quote(words)}")
            who.get("search, page", f"/office?q={quote(words)}&status=draft")
            tag = f"RTU-{chance.randrange(1, 5)}"
            point = chance.choice(("capacitance", "superheat", "current", "voltage"))
            site = chance.choice(others)
            who.get("plot, any machine, API", f"/api/v1/equipment/{site}/{tag}/history?point={point}")
            who.get("plot, any machine, page", f"/office/equipment/{site}/{tag}?point={point}")
            who.get("plot, busiest machine, page", f"/office/equipment/{busiest}/{tag}?point={point}")
        del who.times["sign in"]
        print(table(who.times))
        print(f"errors: {len(who.errors)}", *who.errors[:5], sep="\n")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--rounds", type=int, default=60)
    given = parser.parse_args()
    measure(given.folder, given.rounds)
