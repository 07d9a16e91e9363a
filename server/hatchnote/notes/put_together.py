"""Figures that a recogniser parted: "suction 1, 18", "heads 3 38", "4-68", "11 60 RPM", "oxygen 10. 4%".

They are put together only where the first piece alone cannot be a value of what is measured and the whole can; the
value is marked, with what was heard.
"""

from __future__ import annotations

from hatchnote.notes.doc import Mention, Value
from hatchnote.notes.fitting import fit
from hatchnote.notes.named_twice import ONCE
from hatchnote.notes.numbers import Parse
from hatchnote.notes.subjects import BY_UNIT, Line
from hatchnote.notes.vocabulary import PointEntry

_STRANGE = 1.9
"""Cost from which a value is unusual for its point."""
_MOST_FIGURES = 4


def put_together(line: Line, k: int) -> None:
    """Join the value at item `k` with the next where only that makes sense."""
    a = line.items[k]
    if k + 1 >= len(line.items) or a.value is None or a.value.ucum or a.value.shape != "N":
        return
    b = line.items[k + 1]
    if b.kind != "value" or b.value is None or b.claimed or b.value.shape != "N" or not _next_to(line, a, b):
        return
    first, second = line.doc.tokens[a.start].text, line.doc.tokens[b.start].text
    if not (first.isdigit() and second.isdigit()) or len(first) + len(second) > _MOST_FIGURES:
        return
    points = _points(line, b)
    if _one_by_one(line, k, first, second, points):
        return
    if not points or min(fit(p, a.value).cost for p in points) < _STRANGE:
        return
    joined = _joined(line, a, b, first, second, points)
    if joined is None:
        return
    for i in range(a.start, b.stop):
        line.doc.owner[i] = a
    a.value, a.stop = joined, b.stop
    line.items.pop(k + 1)
    b.kind = "dropped"


def _one_by_one(line: Line, k: int, first: str, second: str, points: list[PointEntry]) -> bool:
    """ "Manifold 3, 4, inlet 6, 9": two single figures of what has one value at a time, read as that one."""
    a, b = line.items[k], line.items[k + 1]
    subject = line.subject
    if subject is None or not subject.strong or subject.used or len(first) != 1 or len(second) != 1:
        return False
    if (
        not points
        or points[0].slug not in ONCE
        or a.value is None
        or b.value is None
        or b.value.link == "and"
    ):
        return False
    third = line.items[k + 2] if k + 2 < len(line.items) else None
    if (
        third is not None
        and third.kind == "value"
        and third.start == b.stop
        and third.value
        and not third.value.ucum
    ):
        return False
    point = points[0]
    texts = [f"{first}.{second}", first + second] if point.spoken == "tenths" else [first + second]
    texts = texts[::-1] if point.difference else texts
    text = next((t for t in texts if point.likely[0] <= float(t) <= point.likely[1]), None)
    if text is None:
        return False
    parses = [Parse(float(text), "put together", 0.3, text), Parse(float(first), "written", 3.0, first)]
    value = Value(
        parses, "written", b.value.ucum, b.value.unit_text, shape="N", number_stop=b.value.number_stop, ambiguous=True
    )  # fmt: skip
    value.why = f'heard "{line.doc.said(a.start, b.start + 1)}"'
    for i in range(a.start, b.stop):
        line.doc.owner[i] = a
    a.value, a.stop = value, b.stop
    line.items.pop(k + 1)
    b.kind = "dropped"
    return True


def _next_to(line: Line, a: Mention, b: Mention) -> bool:
    """Whether nothing but a space, a comma, a dash or the full stop of "10. 4" stands between."""
    between = line.doc.norm[a.stop : b.start]
    return between in ([], ["-"]) and line.doc.tokens[b.start].brk < 2


def _points(line: Line, b: Mention) -> list[PointEntry]:
    """What may be measured here: the subject's points, those of the value before, what the unit can be."""
    assert b.value is not None
    slugs: list[str] = []
    if line.subject is not None:
        slugs += line.subject.points
    if line.made and not slugs:
        slugs.append(line.made[-1].point)
    unit = BY_UNIT.get(b.value.ucum or "")
    if unit:
        slugs.append(unit)
    return [line.points[s] for s in dict.fromkeys(slugs) if not line.points[s].text]


def _joined(
    line: Line, a: Mention, b: Mention, first: str, second: str, points: list[PointEntry]
) -> Value | None:
    assert b.value is not None
    digits = first + second
    value = Value(
        [Parse(float(digits), "put together", 0.5, digits)], "written", b.value.ucum, b.value.unit_text, shape="N",
        number_stop=b.value.number_stop,
    )  # fmt: skip
    if len(first) > 2 or min(fit(p, value).cost for p in points) >= _STRANGE:
        return None
    value.why = f'heard "{line.doc.said(a.start, b.start + 1)}"'
    value.ambiguous = True
    return value
