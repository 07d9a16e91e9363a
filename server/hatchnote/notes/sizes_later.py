"""A part's size told in a sentence of its own: "Changed the contactor. Three pole forty amp."."""

from __future__ import annotations

from bisect import bisect_left

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.part_sizes import PARTS_OF_A_HORSE
from hatchnote.notes.wordlists import words

_LEAD = words(
    """
    it it's its is that that's they they're the new one this a an another was i we used uses takes use put in
    size by with for and called went fitted both are those these
    """
)
_ARTICLES = frozenset({"a", "an"})
_BETWEEN = words("and by with coil at a an rated on the it of is volt control side one ones")
_OWN = frozenset({"poles", "hp", "uF", "VA"})
"""Kinds of figures that no reading of a part has: they are its size wherever they are told."""
_TOLD = {"poles": "poles", "uF": "uF", "[HP]": "hp", "[VA]": "VA"}
_AFTER = frozenset({"is", "what", "motor", "one", "ones", "type", "now", "too"})
_MOST = 12


def told_later(doc: Doc, obj: Object, end: int, spec: tuple[str, ...]) -> tuple[int, int] | None:
    """The tokens of the next sentence that hold nothing but a size of `spec`; None where it tells other things."""
    at = bisect_left(doc.sentences, (end, end))
    if at >= len(doc.sentences) or doc.sentences[at][0] != end or doc.tag_at[end] != doc.tag_at[end - 1]:
        return None
    begin, stop = doc.sentences[at]
    i = begin
    article = False
    while i < stop and i - begin < _MOST:
        m = doc.owner[i]
        if m is not None and m.comp == obj.comp and m.kind == "word" and m.part and not m.modifier:
            i = m.stop  # "the new contactor is a two pole"
            continue
        if (m is not None and m.kind in ("value", "size")) or _horse(doc, i):
            break
        if doc.norm[i] not in _LEAD:
            return None
        article = article or doc.norm[i] in _ARTICLES
        i = m.stop if m is not None and m.kind == "word" and not m.comp else i + 1
    start = i
    kinds: set[str] = set()
    while i < stop and i - begin < 2 * _MOST:
        m = doc.owner[i]
        if m is not None and m.kind in ("value", "size"):
            kinds.add(_kind(m, spec))
            i = m.stop
        elif _horse(doc, i):
            kinds.add("hp")
            i += 2
        elif doc.norm[i] in _BETWEEN or (m is not None and m.comp == obj.comp and m.part):
            i = m.stop if m is not None and m.comp == obj.comp else i + 1
        else:
            break
    if i == start or not _ends(doc, i, stop):
        return None
    alone = i >= stop or doc.tokens[i].brk > 0
    if kinds & _OWN or (article and kinds - {"other"}) or (alone and start == begin and "length" in kinds):
        return start, i
    return None


def _horse(doc: Doc, i: int) -> bool:
    """ "Third horse", which is no number elsewhere."""
    return doc.norm[i] in PARTS_OF_A_HORSE and doc.norm[i + 1 : i + 2] in (["horse"], ["horsepower"])


def _kind(m: Mention, spec: tuple[str, ...]) -> str:
    """What a figure tells of such a part: one of `_OWN`, "length", "rating" or "other"."""
    value = m.value
    if value is None or value.text:
        return "other"
    own = _TOLD.get(value.ucum or "")
    if own in spec:
        return str(own)
    if "uF" in spec and value.ucum is None and (value.link == "plus" or value.style in ("mixed", "fraction")):
        return "uF"
    lengths = "in" in spec or "thread" in spec
    if lengths and (value.style in ("fraction", "mixed") or value.ucum in ("inch?", "[in_i]")):
        return "length"
    return "rating" if (value.ucum in spec or value.ucum is None) else "other"


def _ends(doc: Doc, i: int, stop: int) -> bool:
    if i >= stop or doc.tokens[i].brk:
        return True
    return doc.norm[i] in _AFTER
