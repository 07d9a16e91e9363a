"""A temperature difference across one part of the refrigerant's way: "nine degrees across the drier"."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.subjects import COPULA, Line, Subject
from hatchnote.notes.wordlists import words

_PARTS = frozenset({"filter-drier", "reversing-valve", "metering-valve", "service-valve"})
_DIFFERENCE = words("difference drop delta split change t temperature temp degree degrees of a rise diff")
_ACROSS = frozenset({"across", "through", "over", "between"})
_SIDES = (
    ("from", "in", "to", "out"),
    ("in", "to", "out"),
    ("in", "and", "out"),
    ("inlet", "to", "outlet"),
    ("from", "inlet", "to", "outlet"),
    ("side", "to", "side"),
    ("end", "to", "end"),
    ("from", "end", "to", "end"),
    ("from", "one", "end", "to", "the", "other"),
    ("from", "one", "side", "to", "the", "other"),
)


def across_part(line: Line, k: int) -> bool:
    """Take the value at item `k` as the difference across a part named behind it, before it, or as its subject."""
    m = line.items[k]
    value = m.value
    if value is None or value.text or value.ucum not in (None, "[degF]", "Cel", "K"):
        return False
    part = _behind(line, m) or _before(line, m) or _spoken_of(line, k)
    if part is None:
        return False
    draft = take(line, m, Subject(["temperature-drop"], m.start, part), "a difference across a part")
    if draft is None:
        return False
    for x in line.doc.within(m.stop, min(line.end, m.stop + 4)):
        if x.has("point", "temperature-drop"):
            x.claimed = "suffix"
    part.claimed = part.claimed or "suffix"
    return True


def _part_at(line: Line, i: int) -> Mention | None:
    """The part behind "across" at token `i`."""
    at = i + 1
    while at < line.end and line.doc.norm[at] in ("the", "that", "its", "a"):
        at += 1
    part = line.doc.owner[at] if at < line.end else None
    return part if part is not None and part.comp in _PARTS and part.kind == "word" else None


def _behind(line: Line, m: Mention) -> Mention | None:
    """ "Nine degrees across the drier", "a six degree difference through the reversing valve"."""
    i = m.stop
    told = m.value is not None and m.value.ucum is not None
    while i < line.end and line.doc.norm[i] in _DIFFERENCE and i - m.stop < 5:
        told = True
        i += 1
    if not told or i >= line.end or line.doc.norm[i] not in _ACROSS:
        return None
    return _part_at(line, i)


def _before(line: Line, m: Mention) -> Mention | None:
    """ "The temperature drop across the drier was nine degrees"."""
    i = m.start - 1
    while i > line.begin and line.doc.norm[i] in COPULA:
        i -= 1
    part = line.doc.owner[i]
    if part is None or part.comp not in _PARTS or part.kind != "word":
        return None
    i = part.start - 1
    while i > line.begin and line.doc.norm[i] in ("the", "that", "its"):
        i -= 1
    if i <= line.begin or line.doc.norm[i] not in _ACROSS:
        return None
    return part if line.doc.norm[i - 1] in _DIFFERENCE else None


def _spoken_of(line: Line, k: int) -> Mention | None:
    """ "Drier's plugged, nine degrees drop from in to out"."""
    m = line.items[k]
    i = m.stop
    while i < line.end and line.doc.norm[i] in _DIFFERENCE:
        i += 1
    behind = tuple(line.doc.norm[i : i + 6])
    if not any(behind[: len(side)] == side for side in _SIDES):
        return None
    named = [x for x in line.items[:k] if x.comp and x.kind == "word" and x.part]
    return named[-1] if named and named[-1].comp in _PARTS else None
