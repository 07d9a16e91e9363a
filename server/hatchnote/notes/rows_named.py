"""Three or more points named in a row, then their values in the same order: "return, supply, outside: 74, 56, 91"."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.subjects import Line, Subject
from hatchnote.notes.wordlists import words

RULE = "points in a row, then their values in order"
_LEAST = 3
_BETWEEN_NAMES = words("and the a air temp temperature")
_BEFORE_VALUES = words(
    "are is were was at read reads came come in out to now i've got i have it's them they're"
)


def named_row(line: Line, k: int) -> bool:
    """Take the run of values that begins at item `k` for the points named before it; whether that was done."""
    values = _run_of_values(line, k)
    names = _row_of_names(line, k)
    if len(names) < _LEAST or len(values) != len(names):
        return False
    subjects = [
        Subject([t.slug for t in m.of("point")], m.start, m if m.comp else None, mention=m) for m in names
    ]
    if len({s.points[0] for s in subjects}) < len(subjects):
        return False
    for subject, m in zip(subjects, values, strict=True):
        assert m.value is not None
        if min(fit(line.points[slug], m.value).cost for slug in subject.points) >= UNLIKELY + 1:
            return False
    for subject, m in zip(subjects, values, strict=True):
        if take(line, m, subject, RULE) is not None:
            subject.used += 1
    line.subject = subjects[-1]
    return True


def _run_of_values(line: Line, k: int) -> list[Mention]:
    run = [line.items[k]]
    for m in line.items[k + 1 :]:
        between = line.doc.norm[run[-1].stop : m.start]
        plain = m.kind == "value" and m.value is not None and not m.claimed and not m.value.text
        if not plain or any(w != "and" for w in between):
            break
        run.append(m)
    return run


def _row_of_names(line: Line, k: int) -> list[Mention]:
    """The points named one behind the other right before item `k`, each without a value of its own."""
    doc = line.doc
    names: list[Mention] = []
    at = line.items[k].start
    for m in reversed(line.items[:k]):
        if m.kind in ("machine", "circuit") and not names:
            at = m.start
            continue
        between = doc.norm[m.stop : at]
        allowed = _BETWEEN_NAMES if names else _BEFORE_VALUES
        if not all(w in allowed for w in between):
            break
        if m.kind != "word" or not m.has("point"):
            if not names and all(w in _BEFORE_VALUES for w in doc.norm[m.start : m.stop]):
                at = m.start
                continue
            break
        names.append(m)
        at = m.start
    return names[::-1]
