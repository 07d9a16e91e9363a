"""The refrigerant log: what each addition, recovery, evacuation or leak test leaves on record.

Columns follow the contents of a service record in 40 CFR 82.157 (identity and location of the appliance, date,
parts serviced and type of service of each, who did it, amount and type of refrigerant added or removed, full
charge, leak rate and method). Each independent circuit is an appliance of its own. Which rule covers a machine is
for its owner to decide; check the current text of 40 CFR 82 and 84.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from hatchnote.export import wording
from hatchnote.export.tables import write
from hatchnote.measures import convert

Json = dict[str, Any]

COLUMNS = (
    "date", "site", "address", "machine", "circuit", "refrigerant", "full_charge_lb", "event", "amount_lb",
    "amount_as_recorded", "days_since_last_addition", "leak_rate_percent_per_year", "leak_rate_method",
    "parts_and_services", "leak_test", "technician", "to_check", "status", "ticket", "item",
)  # fmt: skip
_METHOD = "annualizing method, 40 CFR 82.152"
_EVENTS = {"added": "added", "recovered": "recovered"}
_TOLD_BY_VERB = {"recover": "recovered", "charge": "added", "evacuate": "evacuated", "leak-test": "leak test"}
_CIRCUIT_PARTS = {
    "compressor", "condenser-coil", "evaporator-coil", "metering-valve", "filter-drier", "reversing-valve",
    "service-valve", "schrader-core", "refrigerant-line", "high-pressure-switch", "low-pressure-switch", "refrigerant",
}  # fmt: skip
_DESIGNATION = re.compile(r"\bR-\d{2,4}[A-Za-z]{0,2}\b")


@dataclass(frozen=True, slots=True)
class Charge:
    """What a machine's plate says of one circuit. `lb` is the full charge in pounds, or None."""

    refrigerant: str | None = None
    lb: tuple[float, ...] = ()

    def of(self, circuit: str | None) -> float | None:
        """The full charge of a circuit; of the only one where none is named."""
        if circuit and circuit.isdigit() and 0 < int(circuit) <= len(self.lb):
            return self.lb[int(circuit) - 1]
        return self.lb[0] if len(self.lb) == 1 else None


@dataclass(frozen=True, slots=True)
class LoggedTicket:
    """A ticket with what its document does not hold: where the site is and what the plates say."""

    document: Json
    address: str | None = None
    charges: Mapping[str | None, Charge] = field(default_factory=dict)
    """By machine tag."""


@dataclass(frozen=True, slots=True)
class _Event:
    ticket: Json
    machine: Json
    circuit: str | None
    event: str
    pounds: float | None
    recorded: str
    check: str | None
    item: str


def refrigerant_log_csv(tickets: Iterable[LoggedTicket], *, since: str | None = None) -> bytes:
    """One row an event, oldest first; tickets before `since` (YYYY-MM-DD) count but have no rows.

    The leak rate is worked out at each addition from the days since the addition before it on the same circuit in
    these tickets; it stays empty where no earlier addition or no full charge is known.
    """
    logged = sorted(tickets, key=lambda t: (t.document["visit"]["date"], t.document["id"]))
    last: dict[tuple[str | None, str | None, str | None], dt.date] = {}
    rows: list[tuple[object, ...]] = []
    for one in logged:
        visit = one.document["visit"]
        day = dt.date.fromisoformat(visit["date"])
        for e in _events(one.document):
            plate = one.charges.get(e.machine["tag"], Charge())
            full = plate.of(e.circuit)
            # A machine with one circuit is one appliance, whether or not somebody said "circuit one".
            appliance = (visit["site"], e.machine["tag"], e.circuit if len(plate.lb) != 1 else None)
            days: int | None = None
            rate: float | None = None
            if e.event == "added" and e.pounds is not None:
                before = last.get(appliance)
                days = (day - before).days if before else None
                rate = leak_rate(e.pounds, full, days)
                last[appliance] = day
            if since and visit["date"] < since:
                continue
            rows.append(
                (visit["date"], visit["site"], one.address, e.machine["tag"], e.circuit,
                 plate.refrigerant or _named(e.machine), full, e.event, e.pounds and round(e.pounds, 4), e.recorded,
                 days, rate and round(rate, 2), _METHOD if rate is not None else None, _services(e.machine),
                 _leak_tests(e.machine), visit["technician"], e.check, one.document["status"], one.document["id"],
                 e.item)
            )  # fmt: skip
    return write(COLUMNS, rows)


def leak_rate(added_lb: float, full_charge_lb: float | None, days: int | None) -> float | None:
    """Percent of the full charge a year: added ÷ full × 365 ÷ min(365, days since the last addition) × 100."""
    if not full_charge_lb or not days or days < 1:
        return None
    return added_lb / full_charge_lb * 365 / min(365, days) * 100


def _events(ticket: Json) -> Iterable[_Event]:
    for machine in ticket["equipment"]:
        amounts = _amounts(machine)
        for circuit, event, pounds, recorded, check, item in amounts:
            yield _Event(ticket, machine, circuit, event, pounds, recorded, check, item)
        told = {event for _, event, *_ in amounts}
        for w in machine["work"]:
            kind = _TOLD_BY_VERB.get(w["verb"])
            if kind and w["state"] == "done" and kind not in told:
                why = w["check"]["why"] if w["check"] else None
                yield _Event(
                    ticket, machine, None, kind, None, w["detail"] or "amount not recorded", why, w["id"]
                )


def _amounts(machine: Json) -> list[tuple[str | None, str, float | None, str, str | None, str]]:
    """Pounds and ounces said of one event are one amount: "1 lb 8 oz" are two readings and one row."""
    out: dict[tuple[str | None, str], tuple[float | None, list[str], str | None, str]] = {}
    for r in machine["readings"]:
        kind = _EVENTS.get(r["position"] or "")
        if r["point"] != "refrigerant-charge" or kind is None or r["basis"] != "measured":
            continue
        pounds = convert(r["value"], r["ucum"], "[lb_av]") if r["value"] is not None and r["ucum"] else None
        why = r["check"]["why"] if r["check"] else None
        key = (r["circuit"], kind)
        if key in out:
            sum_lb, said, check, item = out[key]
            pounds = None if pounds is None or sum_lb is None else sum_lb + pounds
            out[key] = (pounds, [*said, wording.value(r)], check or why, item)
        else:
            out[key] = (pounds, [wording.value(r)], why, r["id"])
    return [(c, k, lb, " ".join(said), check, item) for (c, k), (lb, said, check, item) in out.items()]


def _services(machine: Json) -> str:
    """Parts of the refrigerant circuit and what was done to each."""
    done = [w for w in machine["work"] if w["state"] == "done" and w["component"] in _CIRCUIT_PARTS]
    return "; ".join(dict.fromkeys(wording.work_name(w) for w in done))


def _leak_tests(machine: Json) -> str:
    tests = [w for w in machine["work"] if w["verb"] == "leak-test"]
    return "; ".join(
        f"{wording.STATE_NAMES[w['state']]}{': ' + w['detail'] if w['detail'] else ''}" for w in tests
    )


def _named(machine: Json) -> str | None:
    """A refrigerant designation in the machine's own record, where the plate is not known and only one is named."""
    texts = [str(x) for c in machine["computed"] for x in (c["formula"], c["expected"])]
    texts += [str(w["detail"]) for w in machine["work"]] + [str(r["text"]) for r in machine["readings"]]
    found = {m for text in texts for m in _DESIGNATION.findall(text)}
    return found.pop() if len(found) == 1 else None
