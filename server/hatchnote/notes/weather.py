"""The temperature outdoors as people tell it: "it's ninety four in the shade", "five below", "minus ten out"."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.subjects import Line, Subject

_IT = frozenset(
    ["it's", "it", "its", "was", "is", "about", "around", "degrees", "only", "just", "maybe", "like", "a"]
)
_COLDEST, _HOTTEST = -60.0, 130.0


def weather(line: Line, m: Mention) -> bool:
    """Take a value as the outdoor temperature where its own words say so; whether that was done."""
    value = m.value
    assert value is not None
    if value.ucum not in (None, "[degF]", "Cel") or value.text or not value.parses:
        return False
    if (
        line.subject is not None
        and line.subject.strong
        and not line.subject.used
        and line.subject.at > m.start - 6
    ):
        return False
    doc = line.doc
    tail = (
        [] if m.stop < line.end and doc.tokens[m.stop].brk else doc.norm[m.stop : min(line.end, m.stop + 3)]
    )
    told = m.start == line.begin or bool(doc.tokens[m.start].brk) or doc.norm[m.start - 1] in _IT
    below = tail[:1] == ["below"] and (
        len(tail) < 2 or tail[1] in ("zero", "and", "out", "here", "outside", "up")
    )
    below = below or (tail[:1] == ["below"] and m.stop + 1 < line.end and bool(doc.tokens[m.stop + 1].brk))
    out = tail[:1] == ["out"] and _closes(line, m.stop + 1) and not _going_in(line, m)
    plain = value.ucum in ("[degF]", "Cel") and m.start == line.begin and _nothing_measured(line, m)
    if not plain and (not told or not (below or out)):
        return False
    if not _COLDEST <= value.first <= _HOTTEST:
        return False
    if below and value.first > 0:
        value.parses = [p._replace(value=-p.value) for p in value.parses]
    return take(line, m, Subject(["outdoor-air-temperature"], m.start), "told of the weather") is not None


def _nothing_measured(line: Line, m: Mention) -> bool:
    """ "Ninety degrees and a truck every ten minutes": a sentence that opens with degrees and names nothing."""
    rest = line.items[line.items.index(m) + 1 :]
    joined = (
        m.stop >= line.end
        or line.doc.tokens[m.stop].brk
        or line.doc.norm[m.stop] in ("and", "today", "already")
    )
    return bool(joined) and not any(x.has("point") or x.comp or x.kind in ("legs", "circuit") for x in rest)


def _closes(line: Line, at: int) -> bool:
    doc = line.doc
    return (
        at >= line.end
        or bool(doc.tokens[at].brk)
        or doc.norm[at] in ("and", "there", "here", "today", "but", "eh")
    )


def _going_in(line: Line, m: Mention) -> bool:
    """ "Seventy in, one oh five out" tells of the air through the machine."""
    doc = line.doc
    for i in range(max(line.begin + 1, m.start - 6), m.stop):
        before = doc.owner[i - 1]
        if doc.norm[i] in ("in", "coming") and before is not None and before.kind == "value":
            return True
    return False
