"""One thing measured twice in one breath with two numbers: one of the names was heard wrong, or lost its "line"."""

from __future__ import annotations

from itertools import groupby

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.wordlists import words

TWICE = "two numbers for one thing in the same breath"
LINE = "named as a pressure for the second time; may be the line's temperature"
_LINES = {
    "suction-pressure": "suction-line-temperature",
    "liquid-pressure": "liquid-line-temperature",
    "discharge-pressure": "discharge-line-temperature",
}
ONCE = words(
    """
    suction-pressure discharge-pressure liquid-pressure suction-line-temperature liquid-line-temperature
    discharge-line-temperature superheat subcooling return-air-temperature supply-air-temperature
    mixed-air-temperature outdoor-air-temperature temperature-rise temperature-drop oxygen co stack-temperature
    humidity manifold-pressure inlet-gas-pressure flame-signal
    """
)
"""Points of which a machine, a circuit or a firing stage has one value at a time."""


def named_twice(doc: Doc) -> None:
    """Mark both, or take the second for its line's temperature where it can be that; typed text is left as it is."""
    if not doc.words or doc.words[0].p is None:
        return
    for _, group in groupby(doc.drafts, key=lambda d: d.sentence):
        drafts = [d for d in group if not d.withdrawn]
        seen: dict[tuple[str | None, ...], int] = {}
        for k, d in enumerate(drafts):
            if d.point not in ONCE or d.value is None:
                continue
            where = (d.point, d.component, d.number, d.tag, d.stage, d.circuit, d.position, d.basis, d.moment)
            first = seen.setdefault(where, k)
            before = drafts[first]
            if k - first < 2 or d.value == before.value or all(x.point == d.point for x in drafts[first:k]):
                continue  # side by side they are a list
            if not _is_line(doc, d, drafts):
                for one in (before, d):
                    if TWICE not in one.doubts:
                        one.doubts.append(TWICE)


def _is_line(doc: Doc, d: Draft, drafts: list[Draft]) -> bool:
    line = _LINES.get(d.point)
    if line is None or d.value is None or any(x.point == line and x.circuit == d.circuit for x in drafts):
        return False
    entry = doc.vocabulary.points[line]
    low, high = entry.likely
    unit_said = d.source is not None and d.source.value is not None and d.source.value.ucum is not None
    if unit_said or not low <= d.value <= high:
        return False
    d.others = (Alternative(d.value, d.ucum, f"{d.value:.10g}"), *d.others)
    d.point, d.ucum = line, entry.ucum
    d.doubts.append(LINE)
    return True
