"""Figures that tell which part is meant, not what was read: "I need a three horse motor", "order me a four inch"."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.subjects import LINKERS, Line
from hatchnote.notes.wordlists import words

_OF_PARTS = frozenset({"[HP]", "V", "uF", "inch?", "[in_i]", "[VA]", "W", "A", "/min"})
_FITTING = frozenset({"replace", "install", "order", "quote"})
_WANTING = words("need needs want wants get grab bring had have has use using got with")
_SMALL = words(
    "in her it there on a an the new one me us up of for and back him them in to you is what i now please"
)
_BACK = 14
_NEAR = 40
"""Tokens behind a part's order in which its size may still be told."""


def for_part(line: Line, m: Mention) -> bool:
    """Whether a value in a unit of parts stands behind a verb of fitting or ordering, only sizes between."""
    value = m.value
    assert value is not None
    if not _for_part(line, m):
        return False
    m.claimed = "of a part"
    return True


def _for_part(line: Line, m: Mention) -> bool:
    value = m.value
    assert value is not None
    if _bored(line, m):
        return True
    behind = line.doc.owner[m.stop] if m.stop < line.end and not line.doc.tokens[m.stop].brk else None
    if behind is not None and behind.has("point") and not behind.part:
        return False  # "put a new one on, half inch deflection"
    if value.ucum is None:
        return _behind_size(line, m)
    if value.ucum not in _OF_PARTS:
        return False
    doc = line.doc
    if value.ucum == "[HP]" and any(
        x.kind == "part" and 0 < m.start - x.at < _NEAR and "hp" in (x.fields["size"] or "")
        for x in doc.items
    ):
        return True  # the part that was ordered or fitted just before has it as its size
    article = doc.norm[m.start - 1] in ("a", "an", "another") if m.start > line.begin else False
    article = article or doc.norm[m.start] in ("a", "an")
    if value.ucum in ("A", "V", "uF", "W") and not article:
        return False
    i = m.start - 1
    while i >= line.begin and m.start - i < _BACK:
        owner = doc.owner[i]
        if article and value.ucum == "[HP]" and doc.norm[i] == "had":
            return True  # "I had a third horse in the truck"
        if owner is not None and owner.has("cue", "left", "found", "was", "setting"):
            return False
        if owner is not None and owner.has("verb") and any(t.slug in _FITTING for t in owner.of("verb")):
            return True
        if owner is not None and owner.kind in ("value", "size"):
            i = owner.start - 1
            continue
        if owner is not None and owner.has("cue", "needed"):
            return article or value.ucum == "[HP]"
        if doc.norm[i] in _WANTING and article and value.ucum == "[HP]":
            return True
        if owner is not None and not owner.has("cue") and not (owner.comp and i < m.start - 3):
            return False
        if owner is None and doc.norm[i] not in _SMALL and doc.norm[i] not in LINKERS:
            return False
        i -= 1
    return False


def _bored(line: Line, m: Mention) -> bool:
    """ "Needs a new sheave, seven eighths bore": what the wanted part has, not what was measured."""
    doc = line.doc
    if m.stop >= line.end or doc.norm[m.stop] not in ("bore", "bored", "shaft") or doc.tokens[m.stop].brk:
        return False
    named = [x for x in line.items if x.comp and x.part and x.kind == "word" and x.stop <= m.start]
    if not named or m.start - named[-1].stop > 4:
        return False
    lead = doc.within(max(line.begin, named[-1].start - 5), named[-1].start)
    wanted = any(x.has("cue", "needed") or any(t.slug in _FITTING for t in x.of("verb")) for x in lead)
    return wanted or doc.norm[named[-1].start - 1] == "new"


def _behind_size(line: Line, m: Mention) -> bool:
    """ "A third horse eleven hundred", "five horse motor, seventeen fifty, two oh eight": more of the same plate."""
    k = line.items.index(m)
    j = k - 1
    while j >= 0 and line.items[j].comp and line.items[j].kind == "word":
        j -= 1
    before = line.items[j] if j >= 0 else None
    return (
        before is not None
        and before.kind == "value"
        and before.claimed == "of a part"
        and m.start - before.stop <= 3
    )
