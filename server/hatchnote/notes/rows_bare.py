"""Rows of values that nothing was named for: three of a kind, and a row that goes on over full stops."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.machines import number_word
from hatchnote.notes.subjects import Line, Subject, as_mention

_STANDARD_VOLTS = (208.0, 230.0, 240.0, 460.0, 480.0, 575.0, 600.0)
"""Service voltages (ANSI C84.1, from memory); a reading within a tenth of one may be a leg's."""
_LEGS = 3
_LEGGED = frozenset({"voltage", "current", "resistance"})
"""Points whose values of one row are those of three legs, near each other."""


_SAME_ROW = 1.3


def row_goes_on(line: Line, k: int) -> bool:
    """ "Blower amps three nine. Three eight. Three seven.": a row that pauses have cut into sentences."""
    m, last = line.items[k], line.state.last
    value = m.value
    alone = len(line.items) == 1 or (len(line.items) == 2 and line.items[1 - k].kind == "legs")
    if not alone or value is None or value.text or last is None or last.sentence != line.index - 1:
        return False
    if (
        last.point not in _LEGGED
        or last.value is None
        or last.basis != "measured"
        or last.tag != line.doc.tag_at[m.start]
    ):
        return False
    if line.end - line.begin > m.stop - m.start + 2 or value.ucum not in (None, last.ucum):
        return False
    found = fit(line.points[last.point], value, last.component)
    if found.cost >= UNLIKELY or not 1 / _SAME_ROW <= found.value / max(last.value, 1e-9) <= _SAME_ROW:
        return False
    subject = Subject([last.point], m.start, as_mention(last), strong=False)
    return take(line, m, subject, "a row goes on") is not None


def bare_row(line: Line, k: int) -> bool:
    """ "I've got two twelve, two fifteen, two eleven": three values that nothing was named for, by their size.

    Volts where all three lie near one service voltage; amps of the motor or compressor spoken of before. Marked: the
    point was not said.
    """
    row = line.items[k : k + _LEGS]
    if len(row) < _LEGS or any(m.kind != "value" or m.value is None or m.claimed for m in row):
        return False
    if any(b.start - a.stop > 1 for a, b in pairwise(row)):
        return False
    values = [m.value for m in row if m.value is not None]
    if any(v.ucum is not None or v.text for v in values):
        return False
    volts = [v.first for v in values]
    part = _next_of_its_kind(line, row[0], focus_before(line.doc, row[0].start))
    behind = line.items[k + _LEGS] if k + _LEGS < len(line.items) else None
    place = behind if behind is not None and behind.modifier and behind.start - row[-1].stop <= 2 else None
    if any(all(abs(v - standard) <= standard / 10 for v in volts) for standard in _STANDARD_VOLTS):
        at = place if place is not None and place.comp in line.points["voltage"].components else None
        subject = Subject(["voltage"], row[0].start, at)
    elif part is not None and part.comp in line.points["current"].components:
        subject = Subject(["current"], row[0].start, part)
        sizes = [fit(line.points["current"], v, part.comp) for v in values]
        if any(s.cost >= UNLIKELY for s in sizes) or max(s.value for s in sizes) > 1.3 * min(
            s.value for s in sizes
        ):
            return False
    else:
        return False
    for m in row:
        draft = take(line, m, subject, "three of a kind")
        if draft is not None and (place is None or subject.comp is not place):
            draft.doubts.append("the point was not said with the number")
    return True


def _next_of_its_kind(line: Line, first: Mention, part: Mention | None) -> Mention | None:
    """ "Compressor one, nine one, ... Two, nine four, ...": the next part of the kind, by the number before the row."""
    doc = line.doc
    at = line.begin + (doc.norm[line.begin] == "number")
    if (
        part is None
        or not (part.number or "").isdigit()
        or first.start != at + 1
        or not doc.tokens[at + 1].brk
    ):
        return part
    number = number_word(doc, at)
    if number is None or number != int(part.number or 0) + 1:
        return part
    return replace(part, number=str(number))
