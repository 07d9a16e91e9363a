"""How many of a part: counts said behind it or before it."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.object_of_verb import Object, count_at, count_before

_COUNTERS = ("each", "of", "total", "pieces", "piece", "altogether", "pcs")


_COUNTED = frozenset({"air-filter", "panel-screw", "wire-terminal"})
"""Parts that come in numbers and of which no reading is a small whole number."""


def count_behind(doc: Doc, obj: Object, at: int, end: int) -> float | None:
    """ "Filters replaced, six, sixteen by sixteen by two", "igniter, one each"."""
    i = max(at, obj.stop) + (at >= obj.stop)
    while i < end and not doc.tokens[i].brk:
        i += 1
    if i >= end or i - max(at, obj.stop) > 4:
        return None
    if doc.norm[i] == "all" and i + 1 < end and count_at(doc, i + 1) is not None:
        i += 1  # "filters got swapped, all four"
        if i + 1 >= end or doc.tokens[i + 1].brk or doc.norm[i + 1] == "of":
            held = doc.owner[i]
            if held is not None and held.kind == "value":
                held.claimed = "count"
            return count_at(doc, i)
    if doc.norm[i] in ("yes", "yep", "yeah") and i + 1 < end and doc.tokens[i + 1].brk:
        i += 1
    count = count_at(doc, i)
    owner = doc.owner[i]
    if count is None or (owner is not None and owner.kind == "size"):
        return _count_later(doc, i, end)
    if count > 48 or (owner is not None and owner.kind == "value" and owner.claimed):
        return None
    alone = i + 1 >= end or doc.tokens[i + 1].brk > 0 or doc.norm[i + 1] in _COUNTERS
    if not alone or (owner is not None and owner.kind == "value" and owner.stop != i + 1):
        return None
    more = i + 1 < end and (doc.norm[i + 1] in _COUNTERS or _size_there(doc, i + 1, end))
    more = more or (i + 1 >= end and obj.comp in _COUNTED and obj.plural)
    if not more:
        return None
    if owner is not None and owner.kind == "value":
        owner.claimed = "count"
    return count


def as_quantity(doc: Doc, obj: Object, begin: int, end: int) -> float | None:
    """ "Filters 16x25x2 qty 4", "belts, quantity two", "new belts both sides, matched pair": told by a word for it."""
    for i in range(max(begin, obj.start - 6), min(end, obj.stop + 10)):
        word = doc.norm[i]
        if word in ("qty", "quantity") and i + 1 < end:
            at = i + 1 + (doc.norm[i + 1] in ("of", "is", ":"))
            count = count_at(doc, at) if at < end else None
            if count is not None:
                owner = doc.owner[at]
                if owner is not None and owner.kind == "value":
                    owner.claimed = "count"
                return count
        if obj.comp in _IN_PAIRS and (
            doc.norm[i : i + 2]
            in (["matched", "pair"], ["both", "sides"], ["both", "grooves"], ["both", "ends"])
        ):
            return 2.0
    return None


_IN_PAIRS = frozenset({"supply-fan-belt", "bearing"})


def _count_later(doc: Doc, at: int, end: int) -> float | None:
    """ "Order belt, A forty four, two of them"."""
    for i in range(at, min(end - 1, at + 9)):
        if doc.tokens[i].brk and doc.norm[i + 1 : i + 3] in (["of", "them"], ["of", "those"]):
            count = count_at(doc, i)
            owner = doc.owner[i]
            if count is not None and owner is not None and owner.kind == "value":
                owner.claimed = "count"
            return count
    return None


def _size_there(doc: Doc, at: int, end: int) -> bool:
    owner = doc.owner[at] if at < end else None
    return owner is not None and owner.kind == "size"


def behind_its_size(doc: Doc, obj: Object, at: int, begin: int) -> float | None:
    """ "Twenty by twenty by two, six of those, changed them": how many of a size, told right behind it."""
    for m in reversed(doc.within(max(begin, at - 24), at)):
        if m.kind != "size" or m.comp != obj.comp:
            continue
        i = m.stop
        if i + 1 >= at or not doc.tokens[i].brk or doc.norm[i + 1] not in ("of", "each", "total"):
            return None
        count = count_at(doc, i)
        owner = doc.owner[i]
        if count is not None and owner is not None and owner.kind == "value":
            owner.claimed = "count"
        return count
    return None


def said_before(doc: Doc, obj: Object, at: int) -> float | None:
    """The count that "changed those" takes from "takes six of the sixteen by twenty five by two"."""
    said = {doc.norm[i] for i in range(at, min(len(doc.tokens), obj.stop + 3))}
    if not said & {"those", "these", "them"}:
        return None
    tag = doc.tag_at[at]
    for m in reversed(doc.within(max(0, at - 40), at)):
        if m.kind == "size" and m.comp == obj.comp and doc.tag_at[m.start] == tag:
            count = count_before(doc, m)
            if count is None:
                continue  # "six filters, sixteen by twenty by two, changed those"
            return count if count > 1 else None
        if m.comp == obj.comp and m.kind == "word":
            count = count_before(doc, m)
            if count:
                return count if count > 1 else None
    return None
