"""Parts fitted, taken out or to be ordered, with size and count; the numbers of a size are no readings."""

from __future__ import annotations

from typing import Any

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.part_sizes import (
    count_of,
    same_as_before,
    size_after,
    size_at_hand,
    size_before,
    size_in,
    size_it_had,
    sizes_with_counts,
    takes_size,
    told_as_size,
)
from hatchnote.notes.sizes_later import told_later

_USES = {"replace": "installed", "install": "installed", "order": "to-order", "remove": "removed"}


def parts_of(
    doc: Doc,
    verb: str,
    state: str,
    obj: Object,
    at: int,
    stretch: tuple[int, int],
    acts: list[Any],
    listed: Any = None,
) -> list[dict[str, Any]]:
    """The parts that a work item implies: none, one, or one of each size said ("two of these and four of those").

    `stretch` are the tokens in which the object's size can stand.
    """
    use = _USES.get(verb)
    if (
        use is None
        or use == "removed"
        or (use != "to-order" and state != "done")
        or (use == "to-order" and state not in ("needed", "recommended", "done"))
    ):
        return []
    entry = doc.vocabulary.components[obj.comp]
    if entry.no_part:
        return []
    begin, end = stretch
    start, stop = _reach(doc, at, obj, begin, end, acts)
    several = sizes_with_counts(doc, obj, start, stop)
    if not several and obj.pronoun:
        several = sizes_with_counts(doc, obj, begin, at)  # "four of these and two of those, changed them"
    if several:
        return [
            {"component": obj.comp, "description": entry.label, "size": size, "quantity": count, "use": use}
            for size, count in several
        ]
    size = size_in(doc, obj, entry.size, start, stop)
    quantity = obj.count or count_of(doc, obj, size, start, stop) or 1
    if size is not None and obj.comp == "panel-screw" and " " in size.removesuffix(" in."):
        many, _, size = size.partition(" ")  # "fourteen five sixteenths screws"
        quantity = float(many)
    if size is None and listed is not None:
        size = size_in(doc, obj, entry.size, listed[0].start, _to_next_part(doc, listed[0], listed[2][1]))
    if listed is not None and quantity == 1 and listed[1]:
        quantity = listed[1]
    if size is None or (obj.pronoun and obj.count is None):
        old = same_as_before(doc, obj, at, entry.size)
        if old is not None and size is None:
            size = old[0]
        if old is not None and obj.count is None and old[1]:
            quantity = old[1]
        if size is None and obj.pronoun and takes_size(doc, obj, at):
            size = size_before(doc, obj, at, entry.size)
        if size is None and obj.pronoun and told_as_size(doc, at):
            size = size_before(doc, obj, at, entry.size)
        if size is None and obj.pronoun:
            size = size_at_hand(doc, obj, at, entry.size)
        if size is None and ("belt" in entry.size or "filter" in entry.size):
            size = size_after(doc, obj, at, end) or size_it_had(doc, obj, at)
    if size is None and entry.size:
        later = told_later(doc, obj, acts[0].sentence[1] if acts else end, entry.size)
        size = size_in(doc, obj, entry.size, *later) if later is not None else None
    return [
        {"component": obj.comp, "description": entry.label, "size": size, "quantity": quantity, "use": use}
    ]


def _reach(doc: Doc, at: int, obj: Object, begin: int, end: int, acts: list[Any]) -> tuple[int, int]:
    """The tokens in which the part's size is said: from the verb to the next act, reading or sentence."""
    start = min(at, obj.start)
    while start > begin and not doc.tokens[start].brk:
        start -= 1
    stop = max(at, obj.stop)
    later = [a.start for a in acts if a.start > stop and a.start < end]
    limit = min([end, *later])
    i = stop
    while i < limit:
        owner = doc.owner[i]
        if doc.norm[i] == "it's" and i + 1 < limit and doc.norm[i + 1] in ("a", "an"):
            i += 1
            continue
        if (
            owner is not None
            and owner.has("verb")
            and not owner.part
            and i > obj.stop
            and owner.start > at
            and doc.tokens[owner.start].brk
        ):
            break
        if doc.norm[i] in (
            "now",
            "it's",
            "pulling",
            "reads",
            "reading",
            "set",
            "amps",
            "so",
            "because",
            "but",
            "now's",
        ):
            break
        if (
            owner is not None
            and owner.has("cue", "left", "rated", "was", "found")
            and doc.norm[owner.start - 2 : owner.start] not in (["while", "i"], ["while", "we"])
            and owner.kind == "word"
            and not owner.comp
            and owner.start >= obj.stop
            and not _named_anew(doc, owner, limit)
        ):
            break
        if (
            owner is not None
            and owner.comp
            and owner.comp != obj.comp
            and owner.kind == "word"
            and owner.has("component")
            and not owner.modifier
            and i > obj.stop
        ):
            break
        horse = doc.norm[i] in ("horse", "horsepower", "hp")
        if owner is not None and owner.has("point") and not owner.comp and not owner.has("cue") and not horse:
            break
        i = max(i + 1, owner.stop if owner else i + 1)
    return start, min(i, limit)


def _named_anew(doc: Doc, cue: Mention, limit: int) -> bool:
    """ "Replaced with a new one, three quarter inch": "new one" names the part, no reading of it."""
    if doc.norm[cue.stop - 1] != "one" or "new" not in doc.norm[cue.start : cue.stop]:
        return False
    return cue.stop >= limit or doc.tokens[cue.stop].brk > 0 or doc.norm[cue.stop] in ("in", "on")


def _to_next_part(doc: Doc, part: Mention, end: int) -> int:
    for m in doc.within(part.stop, end):
        if m.comp and m.kind == "word" and m.part and m.comp != part.comp:
            return m.start
    return end
