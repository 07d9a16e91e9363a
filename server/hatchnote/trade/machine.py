"""One machine of the visit: its readings, work, parts and findings, its plate, and how the right readings are chosen.

Choosing: what was measured as left goes before what was measured as found, and the two are never mixed in one value. A
reading with no moment fits either. Several different values for the same thing are a conflict, never an average.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from hatchnote.domain import Facts, Finding, Moment, Nameplate, Part, Reading, WorkItem
from hatchnote.errors import BadInput
from hatchnote.measures import compatible
from hatchnote.places import MODELS, data_folder
from hatchnote.trade.amounts import Q
from hatchnote.trade.formulas.psychrometrics import SEA_LEVEL, atmospheric_pressure
from hatchnote.trade.nameplates import Plate
from hatchnote.trade.refrigerants import REFRIGERANTS, known_name

DIFFERENCES = frozenset({"superheat", "subcooling", "temperature-rise", "temperature-drop"})
ROOF_WIDE = frozenset({"outdoor-air-temperature"})
"""Said of no machine, these hold for all of them."""


@dataclass(frozen=True, slots=True)
class Want:
    """A reading that is looked for. `steady` values (outdoor air) fit any moment."""

    point: str
    component: tuple[str | None, ...] = ()
    number: str | None = None
    circuit: str | None = None
    stage: str | None = None
    positions: tuple[str | None, ...] = ()
    but_not: tuple[str, ...] = ("wet-bulb",)
    steady: bool = False
    same_circuit: bool = False
    same_stage: bool = False

    def fits(self, r: Reading) -> bool:
        return (
            r.point == self.point
            and r.basis == "measured"
            and (not self.component or r.component in self.component)
            and (self.number is None or r.number == self.number)
            and (not self.same_circuit or r.circuit == self.circuit)
            and (not self.same_stage or r.stage == self.stage)
            and (not self.positions or r.position in self.positions)
            and (r.position is None or r.position not in self.but_not)
        )


@dataclass(frozen=True, slots=True)
class Chosen:
    """What was found for a set of wants: the readings by key, or why there is no set."""

    readings: Mapping[str, Reading]
    lacking: tuple[str, ...] = ()
    moment: Moment | None = None
    conflict: str | None = None

    @property
    def whole(self) -> bool:
        return not self.lacking and not self.conflict

    @property
    def why(self) -> str:
        """Why there is no whole set, in words."""
        if self.conflict:
            return self.conflict
        when = f" {self.moment.replace('-', ' ')}" if self.moment else ""
        return "missing: " + ", ".join(f"{words(p)}{when}" for p in self.lacking)


def words(slug: str) -> str:
    """A slug as a person says it."""
    return slug.replace("-", " ")


def amount(reading: Reading) -> Q:
    """The reading's value with its unit; a text reading has none and must not come here."""
    if reading.value is None:
        raise ValueError(f"reading {reading.id} has no value")
    return Q(reading.value, reading.ucum or "1", reading.point in DIFFERENCES)


@lru_cache(maxsize=1)
def _unit_of_points() -> Mapping[str, str]:
    path = data_folder(MODELS) / "vocabulary" / "points.toml"
    points = tomllib.loads(path.read_text(encoding="utf-8"))
    return {slug: entry["ucum"] for slug, entry in points.items() if entry.get("ucum")}


def has_right_unit(reading: Reading) -> bool:
    """Whether the value's unit measures what the point is; a reading without a value has nothing to be wrong."""
    usual = _unit_of_points().get(reading.point)
    if reading.value is None or usual is None:
        return True
    try:
        return compatible(reading.ucum or "1", usual)
    except BadInput:
        return False


@dataclass(frozen=True)
class Machine:
    """Everything about one tag (None: said of no particular machine)."""

    tag: str | None
    readings: tuple[Reading, ...]
    work: tuple[WorkItem, ...]
    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]
    plate: Plate
    refrigerant: str | None
    refrigerant_problem: str | None
    altitude_ft: float | None
    odd_units: tuple[Reading, ...] = ()
    """Readings in a unit of another kind than their point: nothing is worked out from them."""
    told: tuple[str, ...] = ()
    """What he said about informing somebody, in his words."""

    @property
    def atmosphere(self) -> float:
        """psia at the site; sea level where its altitude is not known."""
        return SEA_LEVEL if self.altitude_ft is None else atmospheric_pressure(self.altitude_ft)

    @property
    def altitude_words(self) -> str:
        return "sea level assumed" if self.altitude_ft is None else f"{self.altitude_ft:.0f} ft"

    def measured(self, want: Want) -> list[Reading]:
        """All measured readings with a value that fit."""
        return [r for r in self.by_point.get(want.point, ()) if r.value is not None and want.fits(r)]

    @cached_property
    def by_point(self) -> Mapping[str, tuple[Reading, ...]]:
        """The readings of every point, in order of speech."""
        out: dict[str, list[Reading]] = {}
        for r in self.readings:
            out.setdefault(r.point, []).append(r)
        return {point: tuple(found) for point, found in out.items()}

    def circuits(self, points: Sequence[str]) -> list[str | None]:
        """Circuits that have any of these points, in order of mention."""
        found = [r.circuit for r in self.readings if r.point in points and r.basis == "measured"]
        return list(dict.fromkeys(found))

    def choose(self, wants: Mapping[str, Want]) -> Chosen:
        """One reading for every want, all of one moment: as left where that is whole, else as found."""
        options = {key: self.measured(want) for key, want in wants.items()}
        tries = [_of_moment(wants, options, moment) for moment in ("as-left", "as-found")]
        for chosen in tries:
            if chosen.whole:
                return chosen
        conflicts = [c for c in tries if c.conflict]
        if conflicts:
            return conflicts[0]
        return max(tries, key=lambda c: (len(c.readings), c.moment == "as-left"))


def _of_moment(wants: Mapping[str, Want], options: Mapping[str, Sequence[Reading]], moment: Moment) -> Chosen:
    found: dict[str, Reading] = {}
    lacking = []
    conflict = None
    for key, want in wants.items():
        marked = [r for r in options[key] if r.moment == moment]
        unmarked = [r for r in options[key] if r.moment is None]
        pool = marked or unmarked or (list(options[key]) if want.steady else [])
        if not pool:
            lacking.append(want.point)
            continue
        values = {(r.value, r.ucum) for r in pool}
        if len(values) > 1:
            listed = " and ".join(f"{v:g}" for v, _ in sorted(values, key=lambda x: x[0] or 0))
            conflict = f"several readings of {words(want.point)} differ: {listed}"
            continue
        found[key] = pool[0]
    says = moment if any(r.moment == moment for r in found.values()) else None
    return Chosen(found, tuple(lacking), says, conflict)


def machines(
    facts: Facts, nameplates: Mapping[str | None, Nameplate], altitude_ft: float | None
) -> list[Machine]:
    """The machines of a visit in order of first mention; what belongs to none comes last, where there is any."""
    items: list[Reading | WorkItem | Part | Finding]
    items = [*facts.readings, *facts.work, *facts.parts, *facts.findings]
    tags: list[str | None] = list(dict.fromkeys([*facts.tags, *(i.tag for i in items if i.tag is not None)]))
    roof = tuple(r for r in facts.readings if r.tag is None and r.point in ROOF_WIDE)
    untagged = [i for i in items if i.tag is None]
    if [i for i in untagged if not (tags and isinstance(i, Reading) and i.point in ROOF_WIDE)]:
        tags.append(None)
    return [_machine(tag, facts, nameplates.get(tag) or Nameplate(), altitude_ft, roof, tags) for tag in tags]


def _machine(
    tag: str | None,
    facts: Facts,
    filed: Nameplate,
    altitude_ft: float | None,
    roof: tuple[Reading, ...],
    tags: Sequence[str | None],
) -> Machine:
    every = tuple(r for r in facts.readings if r.tag == tag)
    own = tuple(r for r in every if has_right_unit(r))
    have = {r.point for r in own}
    shared = tuple(r for r in roof if tag is not None and r.point not in have and has_right_unit(r))
    refrigerant, problem = _refrigerant(tag, facts, filed, tags)
    return Machine(
        tag,
        own + shared,
        tuple(w for w in facts.work if w.tag == tag),
        tuple(p for p in facts.parts if p.tag == tag),
        tuple(f for f in facts.findings if f.tag == tag),
        Plate(filed, tuple(r for r in own if r.basis == "rated")),
        refrigerant,
        problem,
        altitude_ft,
        tuple(r for r in every if not has_right_unit(r)),
        tuple(said for t, said in facts.told if t in (tag, None)),
    )


def _refrigerant(
    tag: str | None, facts: Facts, filed: Nameplate, tags: Sequence[str | None]
) -> tuple[str | None, str | None]:
    """The refrigerant that has a table, or None and the reason in words."""
    named = [name for t, name in facts.refrigerants if t == tag]
    if not named and len([t for t in tags if t is not None]) <= 1:
        named = [name for _, name in facts.refrigerants]
    if filed.refrigerant:
        named.append(filed.refrigerant)
    distinct = list(dict.fromkeys(known_name(n) or n for n in named))
    if not distinct:
        return None, "missing: refrigerant"
    if len(distinct) > 1:
        return None, f"two refrigerants are named, {' and '.join(distinct)}"
    if distinct[0] not in REFRIGERANTS:
        return None, f"there is no table for {distinct[0]}"
    return distinct[0], None
