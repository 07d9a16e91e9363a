"""The small language of the data files: what must be in a record for a caution, a gap or a hint to show.

A trigger is a table with `kind` and conditions, all of which must hold. Lists mean "one of".

    always
    reading      point, component, position, basis, moment ("unmarked" for none), above, below, outside, ucum
    work         verb, component ("none" for no component), state (done where left out), detail
    part         component, use, sized
    finding      component, condition
    computed     of (kind of value), judgement, above, below, says (words in its formula or expected range)
    saturation   point; above, below in °F: the dew point of that pressure
    refrigerant  names; without names: any that is known
    plate        field "charge"
    altitude     unknown, above (ft)
    told         he said that he informed somebody
    words        any: said somewhere in the record
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from hatchnote.domain import Computed, Reading
from hatchnote.errors import BadInput
from hatchnote.measures import convert
from hatchnote.trade import refrigerants as sat
from hatchnote.trade.limits import limits, plain
from hatchnote.trade.machine import Machine, amount, words
from hatchnote.trade.worked.sheet import shown

Trigger = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Match:
    """What made a trigger hold: ids of items, and how to name them to a person."""

    id: str | None
    named: str
    doubtful: bool = False


@dataclass(frozen=True)
class Scene:
    """A machine with what was worked out for it."""

    machine: Machine
    computed: tuple[Computed, ...]

    @cached_property
    def by_kind(self) -> Mapping[str, tuple[Computed, ...]]:
        """What was worked out, by the name of its kind."""
        out: dict[str, list[Computed]] = {}
        for c in self.computed:
            out.setdefault(c.name.split(", ")[0], []).append(c)
        return {name: tuple(found) for name, found in out.items()}

    def circuits(self) -> list[str]:
        return list(dict.fromkeys(r.circuit for r in self.machine.readings if r.circuit))

    def of_circuit(self, circuit: str) -> Scene:
        """Only what belongs to this circuit or to none."""
        machine = replace(
            self.machine, readings=tuple(r for r in self.machine.readings if r.circuit in (circuit, None))
        )
        others = [f"circuit {c}" for c in self.circuits() if c != circuit]
        kept = tuple(c for c in self.computed if not any(o in c.name.split(", ") for o in others))
        return Scene(machine, kept)


def matches(trigger: Trigger, scene: Scene) -> list[Match]:
    """Everything in the scene that makes the trigger hold; empty when it does not."""
    return list(KINDS[trigger["kind"]](trigger, scene))


def any_of(triggers: Sequence[Trigger], scene: Scene) -> list[Match]:
    """All matches of all triggers."""
    return [m for t in triggers for m in matches(t, scene)]


def all_of(triggers: Sequence[Trigger], scene: Scene) -> list[Match]:
    """All matches where every trigger has one; else empty."""
    every: list[Match] = []
    for trigger in triggers:
        found = matches(trigger, scene)
        if not found:
            return []
        every += found
    return every


def _in(value: str | None, trigger: Trigger, key: str, none: str = "none") -> bool:
    return key not in trigger or (value if value is not None else none) in trigger[key]


def _between(value: float, trigger: Trigger) -> bool:
    outside = trigger.get("outside")
    return (
        value > trigger.get("above", float("-inf"))
        and value < trigger.get("below", float("inf"))
        and (outside is None or not outside[0] <= value <= outside[1])
    )


def _numeric(trigger: Trigger) -> bool:
    return any(k in trigger for k in ("above", "below", "outside"))


def name_reading(reading: Reading) -> str:
    """ "suction pressure 98 psig, as found"."""
    of = f"{words(reading.component)} " if reading.component else ""
    when = f", {words(reading.moment)}" if reading.moment else ""
    return f"{of}{words(reading.point)} {reading.text or shown(reading)}{when}"


def _of_points(trigger: Trigger, scene: Scene) -> Iterator[Reading]:
    for point in trigger["point"]:
        yield from scene.machine.by_point.get(point, ())


def _always(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    yield Match(None, "")


def _reading(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    for r in _of_points(trigger, scene):
        if "basis" in trigger and r.basis != trigger["basis"]:
            continue
        if not (_in(r.component, trigger, "component") and _in(r.position, trigger, "position")):
            continue
        if not _in(r.moment, trigger, "moment", "unmarked"):
            continue
        if _numeric(trigger):
            if r.value is None:
                continue
            try:
                value = convert(r.value, r.ucum or trigger["ucum"], trigger["ucum"], difference=r.difference)
            except BadInput:
                continue
            if not _between(value, trigger):
                continue
        yield Match(r.id, name_reading(r), r.check is not None)


def _work(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    for w in scene.machine.work:
        if w.state not in trigger.get("state", ("done",)) or not _in(w.component, trigger, "component"):
            continue
        if not _in(w.verb, trigger, "verb"):
            continue
        if "detail" in trigger and not any(d in (w.detail or "").lower() for d in trigger["detail"]):
            continue
        yield Match(w.id, f"{words(w.verb)} {words(w.component or '')}".strip(), w.check is not None)


def _part(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    for p in scene.machine.parts:
        if (
            _in(p.component, trigger, "component")
            and _in(p.use, trigger, "use")
            and (p.size or not trigger.get("sized"))
        ):
            yield Match(p.id, words(p.component), p.check is not None)


def _finding(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    for f in scene.machine.findings:
        if _in(f.component, trigger, "component") and _in(f.condition, trigger, "condition"):
            yield Match(f.id, f"{words(f.component)} {words(f.condition)}", f.check is not None)


def _computed(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    of = trigger.get("of")
    for c in scene.by_kind.get(limits().by_kind[of].name, ()) if of else scene.computed:
        if "judgement" in trigger and c.judgement != trigger["judgement"]:
            continue
        if "says" in trigger and not any(s in f"{c.formula} {c.expected}" for s in trigger["says"]):
            continue
        if _numeric(trigger) and (c.value is None or not _between(c.value, trigger)):
            continue
        value = "" if c.value is None else f" {plain(c.value)} {c.unit}"
        yield Match(c.id, f"{c.name}{value}", c.depends_on_check)


def _saturation(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    refrigerant = scene.machine.refrigerant
    if refrigerant is None:
        return
    for r in _of_points(trigger, scene):
        if r.basis != "measured" or r.value is None:
            continue
        try:
            psia = sat.absolute_pressure(amount(r), scene.machine.atmosphere)
            dew = sat.saturation_temperature(refrigerant, psia, "dew")
        except BadInput:
            continue
        if _between(dew, trigger):
            yield Match(r.id, f"{name_reading(r)} ({dew:.0f} °F saturated)", r.check is not None)


def _refrigerant(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    known = scene.machine.refrigerant
    if known and ("names" not in trigger or known in trigger["names"]):
        yield Match(None, known)


def _plate(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    plate = scene.machine.plate
    circuits: list[str | None] = [*scene.circuits(), None]
    for circuit in circuits:
        try:
            found = plate.charge(circuit)
        except ValueError:
            found = None
        if found or plate.filed.charge_lb:
            yield Match(found.reading.id if found and found.reading else None, "full charge")
            return


def _altitude(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    altitude = scene.machine.altitude_ft
    if altitude is None:
        if trigger.get("unknown"):
            yield Match(None, "")
    elif "above" in trigger and altitude > trigger["above"]:
        yield Match(None, f"{altitude:.0f} ft")


def _told(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    for said in scene.machine.told:
        yield Match(None, said)


def _words(trigger: Trigger, scene: Scene) -> Iterator[Match]:
    m = scene.machine
    texts = [(w.id, w.detail) for w in m.work] + [(p.id, p.description) for p in m.parts]
    texts += [(r.id, r.said) for r in m.readings]
    for id_, text in texts:
        if text and any(w in text.lower() for w in trigger["any"]):
            yield Match(id_, text)


KINDS = {
    "always": _always,
    "reading": _reading,
    "work": _work,
    "part": _part,
    "finding": _finding,
    "computed": _computed,
    "saturation": _saturation,
    "refrigerant": _refrigerant,
    "plate": _plate,
    "altitude": _altitude,
    "told": _told,
    "words": _words,
}
