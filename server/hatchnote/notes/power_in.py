"""Volts told by where they go: "got four sixty going in", "two forty coming into the disconnect"."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.subjects import COPULA, Line, Subject

_SERVICE = (115.0, 120.0, 208.0, 230.0, 240.0, 277.0, 460.0, 480.0, 575.0, 600.0)
"""Service voltages (ANSI C84.1, from memory)."""
_NEAR = 0.08
_ELECTRIC = frozenset(
    {
        "variable-frequency-drive",
        "transformer",
        "contactor",
        "disconnect",
        "control-board",
        "fuse",
        "compressor",
    }
)
_WAYS = (
    ("going", "in"),
    ("going", "into"),
    ("coming", "in"),
    ("coming", "into"),
    ("going", "to"),
    ("coming", "to"),
    ("coming", "out"),
    ("going", "out"),
    ("feeding", "it"),
    ("in", "and"),
    ("on", "top"),
    ("on", "the", "top"),
    ("at", "the", "lugs"),
    ("on", "the", "lugs"),
    ("on", "the", "input"),
    ("at", "the", "input"),
    ("on", "the", "output"),
    ("on", "the", "primary"),
    ("on", "primary"),
    ("on", "the", "line"),
    ("on", "the", "load"),
    ("incoming",),
)
"""Where a voltage is told to go, right behind it."""
_SIDES = frozenset({"primary", "line", "load"})
"""Words that are volts by themselves: no part need be spoken of."""
_GOT = COPULA | {"have", "with", "good", "there's", "has", "a", "and", "but"}


def power_in(line: Line, k: int) -> bool:
    """Take the value at item `k` as volts where it is near a service voltage and goes into an electrical part."""
    m = line.items[k]
    value = m.value
    if value is None or value.text or value.ucum is not None or not value.parses:
        return False
    if not any(abs(value.first - v) <= _NEAR * v for v in _SERVICE) or not _goes(line, m):
        return False
    subject = line.subject
    if subject is not None and subject.strong and not subject.used:
        return False
    part = subject.comp if subject is not None else None
    if part is None or part.comp not in _ELECTRIC:
        behind = [x for x in line.items[k + 1 : k + 2] if x.comp in _ELECTRIC and x.part]
        part = behind[0] if behind else focus_before(line.doc, m.start, tuple(_ELECTRIC), 20)
    told = bool(_SIDES & {*line.doc.norm[m.stop : m.stop + 3]})
    if (part is None and not told) or fit(line.points["voltage"], value).cost >= UNLIKELY:
        return False
    return take(line, m, Subject(["voltage"], m.start, part), "volts that go in") is not None


def _goes(line: Line, m: Mention) -> bool:
    doc = line.doc
    before = doc.norm[m.start - 1] if m.start > line.begin else ""
    if before not in _GOT and m.start != line.begin and not doc.tokens[m.start].brk:
        return False
    i = m.stop
    if i < line.end and doc.norm[i] in ("right", "volts"):
        i += 1
    behind = tuple(doc.norm[i : min(line.end, i + 3)])
    return any(behind[: len(way)] == way for way in _WAYS)
