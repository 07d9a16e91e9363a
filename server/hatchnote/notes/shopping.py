"""Lists of parts to order over several sentences: "Shopping list. Filters, eight, twenty by twenty. Belts, two"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components
from hatchnote.notes.doc import Doc
from hatchnote.notes.object_of_verb import from_mention
from hatchnote.notes.parts_listed import quantity_behind
from hatchnote.notes.states import DONE, NEEDED

_OPEN = (
    " shopping list ",
    " parts list ",
    " order list ",
    " parts to order ",
    " need to order the following ",
    " here's what i need ",
    " what i need ordered ",
    " list of parts ",
    " parts i need ",
    " things to order ",
)


def opens_list(doc: Doc, begin: int, end: int) -> bool:
    """Whether a sentence announces a list of parts to order."""
    said = f" {' '.join(doc.norm[begin:end])} "
    return any(x in said for x in _OPEN) and "the order list" not in said


def wanted(doc: Doc, begin: int, end: int, found: list[Act]) -> tuple[list[Act], bool]:
    """The acts of a sentence of such a list, and whether the list goes on behind it."""
    if any(a.state == DONE and a.rule != "a new part" for a in found):
        return found, False
    lead = doc.norm[begin : begin + 3]
    parts = [
        m
        for m in components(doc, begin, min(end, begin + 6))
        if not doc.vocabulary.components[m.comp].no_part
    ]
    if (
        not parts
        or "order" in lead
        or any(m.has("point") and not m.part for m in doc.within(begin, parts[0].start))
    ):
        return found, "order" not in lead and len(parts) > 0
    part = parts[0]
    if any(a.verb == "order" for a in found):
        return found, True
    stop = next((m.start for m in components(doc, part.stop, end) if m.comp != part.comp), end)
    obj = from_mention(doc, part)
    obj.count = obj.count or quantity_behind(doc, part.stop, stop)
    return [
        Act("order", NEEDED, part.start, begin, part.stop, (begin, end), [obj], "on the list to order")
    ], True
