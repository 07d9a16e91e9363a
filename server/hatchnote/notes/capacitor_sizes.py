"""The two sections of a dual capacitor told right before its name, with or without "plus": "two 40 5 dual caps"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.numbers import Parse
from hatchnote.notes.numbers.words import CLASS, VALUE

_CAPACITORS = ("run-capacitor", "start-capacitor")
_SHAPES = frozenset({"round", "oval", "dual", "run", "motor", "style", "new"})
_LEAST, _MOST = 12.5, 100.0
"""Microfarads of the larger section (common practice, no source)."""
_SMALL = (3.0, 4.0, 5.0, 6.0, 7.5, 10.0, 12.5)


def capacitor_sizes(doc: Doc) -> None:
    """Give both values the unit, so that neither is taken for a count."""
    for m in list(doc.mentions):
        if m.comp not in _CAPACITORS or m.kind != "word" or not m.start or doc.tokens[m.start].brk:
            continue
        at = m.start - 1
        while at and doc.norm[at] in _SHAPES and not doc.tokens[at].brk:
            at -= 1
        small = doc.owner[at]
        large = _before(doc, small)
        if small is None or small.value is None or large is None or large.value is None:
            continue
        large = _without_count(doc, large)
        assert large.value is not None
        bare = small.value.ucum is None and large.value.ucum in (None, "uF")
        if bare and small.value.first in _SMALL and _LEAST <= large.value.first <= _MOST:
            small.value.ucum = large.value.ucum = "uF"
            small.value.link = "plus"


def _without_count(doc: Doc, large: Mention) -> Mention:
    """ "Three forty five plus five": the first word counts, the rest is the size."""
    value = large.value
    assert value is not None
    hundreds, size = divmod(value.first, 100)
    spoken = CLASS.get(doc.norm[large.start], ".") == "d" and VALUE[doc.norm[large.start]] == hundreds
    if not spoken or value.ucum is not None or not _LEAST <= size <= _MOST or large.stop - large.start < 2:
        return large
    cut, stop = large.start + 1, large.stop
    count = Value([Parse(hundreds, "cardinal", 0.0, "")], "cardinal", shape="d", number_stop=cut)
    rest = Value([Parse(size, "cardinal", 0.0, "")], "cardinal", shape="x", number_stop=stop)
    doc.drop(large)
    doc.put(Mention("value", cut - 1, cut, value=count))
    put = doc.put(Mention("value", cut, stop, value=rest))
    doc.settle()
    return put


def _before(doc: Doc, small: Mention | None) -> Mention | None:
    if small is None or small.kind != "value" or not small.start:
        return None
    i = small.start - 1
    if doc.norm[i] in ("plus", "+", "slash", "/") and i:
        i -= 1
    large = doc.owner[i]
    return large if large is not None and large.kind == "value" and not doc.tokens[small.start].brk else None


SECTION = "section"
"""Claims the name of a motor that only says which section of a capacitor was read."""
_DRIVEN = frozenset({"compressor", "supply-fan-motor", "condenser-fan-motor"})
_NEAR = 30
_AMPS = frozenset({"amps", "amp", "pulling", "pulls", "drawing", "draws", "amperage"})


def capacitor_sections(doc: Doc) -> None:
    """ "Thirty eight point six on herm and four point nine on the fan": no motor was read, nor is one meant by "it"."""
    for m in doc.mentions:
        if m.kind != "word" or m.comp not in _DRIVEN or m.start < 3:
            continue
        i = m.start - 1 if doc.norm[m.start - 1] != "the" else m.start - 2
        read = doc.owner[i - 1]
        if doc.norm[i] != "on" or read is None or read.kind != "value" or read.value is None:
            continue
        if read.value.ucum not in (None, "uF") or read.value.first > _MOST:
            continue
        low = max(0, i - _NEAR)
        named = [x.start for x in doc.within(low, i) if x.comp in _CAPACITORS]
        if named and not _AMPS & {*doc.norm[named[-1] : i]}:
            m.claimed, m.modifier = SECTION, True
