"""Three legs of one thing of which one value stands apart: rarer on a roof than a figure heard wrong."""

from __future__ import annotations

from itertools import groupby

from hatchnote.notes.doc import Doc, Draft

WHY = "stands apart from the other two legs"
_ALIKE = {"voltage": 0.02, "current": 0.08}
"""How far apart two legs may be to count as alike, as a share of the larger (common practice, no source)."""
_APART = {"voltage": 0.035, "current": 0.25}
"""How far the third must be from both (common practice, no source)."""


def legs_differ(doc: Doc) -> None:
    """Mark the value that stands apart from two that agree; typed text is left as it is."""
    if not doc.words or doc.words[0].p is None:
        return
    measured = [d for d in doc.drafts if d.point in _ALIKE and d.value and d.basis == "measured"]
    for _, group in groupby(
        measured, key=lambda d: (d.sentence, d.point, d.component, d.number, d.tag, d.circuit, d.moment)
    ):
        three = list(group)
        if len(three) == 3:
            odd = _apart(three)
            if odd is not None:
                odd.doubts.append(WHY)


def _apart(three: list[Draft]) -> Draft | None:
    for odd in three:
        a, b = (d.value or 0.0 for d in three if d is not odd)
        point, value = odd.point, odd.value or 0.0
        if abs(a - b) <= _ALIKE[point] * max(a, b) and min(abs(value - a), abs(value - b)) > _APART[
            point
        ] * max(a, b):
            return odd
    return None
