"""Values that somebody began and then said in full: "discharge three, hang on, discharge three thirty six"."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.subjects import Line

_REACH = 14
_TIMES_AS_MUCH = 10


def begun_anew(line: Line, m: Mention) -> bool:
    """Whether a value is the beginning of the next: the same words and more, right behind or behind the same name."""
    value = m.value
    if value is None or value.ucum is not None or value.text or m.stop - m.start > 1:
        return False
    doc = line.doc
    said = doc.norm[m.start : m.stop]
    nxt = next((x for x in line.items if x.kind == "value" and x.start >= m.stop), None)
    if nxt is None or nxt.value is None or nxt.start - m.stop > _REACH:
        return False
    longer = nxt.stop - nxt.start > len(said) and doc.norm[nxt.start : nxt.start + len(said)] == said
    if not longer or abs(nxt.value.first) < _TIMES_AS_MUCH * abs(value.first):
        return False
    if nxt.start == m.stop:
        return doc.tokens[nxt.start].brk == 1  # "two, two eleven"
    before = next((x for x in reversed(line.items) if x.stop <= m.start and x.kind in ("word", "legs")), None)
    if before is None:
        return False
    name = doc.norm[before.start : before.stop]
    between = [x for x in line.items if m.stop <= x.start and x.stop <= nxt.start]
    return any(doc.norm[x.start : x.stop] == name for x in between)
