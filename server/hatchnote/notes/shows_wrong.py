"""Sensors that show too much or too little: "reads four degrees high", "it's six degrees off from my meter"."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Mention

_SHOWERS = (
    "thermostat",
    "supply-air-sensor",
    "return-air-sensor",
    "outdoor-air-sensor",
    "coil-sensor",
    "condenser-coil-sensor",
    "evaporator-coil-sensor",
)
_ASTRAY = frozenset({"high", "low", "off", "warm", "cold", "out", "hot", "too"})
_DEGREES = frozenset({"degree", "degrees"})


def astray(doc: Doc, m: Mention, begin: int, end: int) -> Mention | None:
    """The sensor or thermostat that value `m` says is off by so much; None where it says nothing of the kind."""
    if (
        m.kind != "value"
        or m.stop >= end
        or doc.tokens[m.stop].brk
        or not _DEGREES & set(doc.norm[m.start : m.stop])
    ):
        return None
    if doc.norm[m.stop] not in _ASTRAY:
        return None
    named = [x for x in doc.within(begin, m.start) if x.comp and x.part]
    near = named[-1] if named else focus_before(doc, m.start, (), 20)
    return near if near is not None and near.comp in _SHOWERS else None


def shows_wrong(doc: Doc, begin: int, end: int) -> list[tuple[Mention, Mention]]:
    """Each such value of one sentence with its sensor."""
    found = [(m, astray(doc, m, begin, end)) for m in doc.within(begin, end)]
    return [(m, part) for m, part in found if part is not None]
