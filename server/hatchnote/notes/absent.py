"""Parts that are not there, said by a plain "no": "the door had no gasket", "there's no trap on it"."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.focus import is_point
from hatchnote.notes.wordlists import words

_HAS = words("had has have having got there is was were there's with")
_NO_MORE = frozenset({"no", "any", "a", "zero"})
_DENIED = words("wasn't weren't isn't aren't ain't didn't doesn't don't never hasn't haven't hadn't not")
_WHERE = words(
    "on in at there here it when to for around anywhere from anymore left either whatsoever so and"
)
_STOCK = words("truck van shop stock hand me us warehouse supply house store today order spare")
_CONCRETE = words(
    """
    gasket condensate-trap air-filter insulation panel-screw panel supply-fan-belt smoke-detector
    schrader-core disconnect thermostat crankcase-heater fuse filter-drier condenser-fan-blade
    outdoor-air-damper gas-union drain-pan contactor run-capacitor flame-sensor igniter
    outdoor-air-sensor supply-air-sensor return-air-sensor coil-sensor motor-mount wire-terminal
    economizer-actuator limit-switch rollout-switch roof-hatch condensate-line start-capacitor
    """
)
"""Parts one can see that they are not there; "no gas", "no power" tell of other things."""
_STUFF = frozenset(
    {
        "gas",
        "condensate",
        "smoke",
        "drain",
        "limit",
        "points",
        "contacts",
        "drains",
        "media",
        "hatch",
        "belt drive",
    }
)


def absent(doc: Doc, begin: int, end: int) -> Iterator[tuple[Mention, str]]:
    """The parts of one sentence that he says are not there, with their slugs."""
    for m in doc.within(begin, end):
        if not m.comp or m.kind != "word" or not m.part or m.comp not in _CONCRETE or is_point(doc, m):
            continue
        if (
            " ".join(doc.norm[m.start : m.stop]) in _STUFF
            or not _none(doc, m, begin)
            or not _ends(doc, m, end)
        ):
            continue
        yield m, m.comp


def _none(doc: Doc, m: Mention, begin: int) -> bool:
    i = m.start - 1
    if doc.tokens[m.start].brk or i < begin:
        return False
    if doc.norm[i] == "no" and (i == begin or doc.tokens[i].brk):
        # "no gasket on the door"
        return doc.norm[m.stop : m.stop + 2] in (
            ["on", "the"],
            ["in", "the"],
            ["on", "it"],
            ["in", "it"],
            ["at", "the"],
        )
    if i <= begin:
        return False
    if doc.norm[i] in ("new", "old", "more", "other") or doc.norm[i] not in _NO_MORE or doc.tokens[i].brk:
        return False
    before = doc.norm[i - 1]
    if doc.norm[i] == "no":
        return before in _HAS and doc.norm[i - 2 : i] not in (
            ["i", "had"],
            ["i", "have"],
            ["i", "got"],
            ["we", "had"],
        )
    if doc.norm[i] == "zero":
        return before in ("got", "had", "has")
    if before in ("have", "has", "had", "even"):
        i -= 1
        before = doc.norm[i - 1] if i - 1 >= begin else ""
    if before == "there":
        i -= 1
        before = doc.norm[i - 1] if i - 1 >= begin else ""
    if before not in _DENIED or i - 2 < begin:
        return False
    who = doc.norm[i - 2]
    return who in ("there", "it", "unit", "door", "they", "machine") or _named(doc, i - 2)


def _named(doc: Doc, i: int) -> bool:
    owner = doc.owner[i]
    return owner is not None and (owner.kind == "machine" or bool(owner.comp))


def _ends(doc: Doc, m: Mention, end: int) -> bool:
    """Nothing behind the part makes it another thing ("no filter drop") or tells of the van."""
    if m.stop >= end or doc.tokens[m.stop].brk:
        return True
    if doc.norm[m.stop] not in _WHERE:
        return False
    behind = set(doc.norm[m.stop : min(end, m.stop + 5)])
    return not behind & _STOCK and not any(
        x.has("condition") or x.claimed == "verb" or x.kind == "value"
        for x in doc.within(m.stop, min(end, m.stop + 4))
    )
