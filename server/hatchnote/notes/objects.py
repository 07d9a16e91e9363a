"""What a verb is done to: the parts behind it, before it, or meant by "it", "those", "four"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.objects_before import (
    is_passive,
    nothing_behind,
    part_in_front,
    parts_before,
    size_in_front,
    starts_clause,
)
from hatchnote.notes.objects_behind import parts_behind
from hatchnote.notes.objects_meant import meant
from hatchnote.notes.vocabulary import Term


def objects_of(doc: Doc, verb: Mention, term: Term, begin: int, end: int) -> list[Object]:
    """The parts `verb` is done to."""
    behind = parts_behind(doc, verb, begin, end)
    taker = (
        doc.owner[verb.start - 2] if verb.start - 2 >= begin and doc.norm[verb.start - 1] == "got" else None
    )
    if (
        term.form == "past"
        and taker is not None
        and taker.comp
        and taker.part
        and not doc.tokens[verb.start].brk
    ):
        subject = parts_before(doc, verb, begin)
        if subject:
            return subject  # "the coil got washed and the drain got blown out"
    before = doc.owner[verb.start - 1] if verb.start > begin and not doc.tokens[verb.start].brk else None
    ends = (
        verb.stop >= end
        or doc.tokens[verb.stop].brk > 0
        or doc.norm[verb.stop] in ("and", "but", "so", "then", "with")
    )
    if (
        term.form == "past"
        and ends
        and before is not None
        and before.comp
        and before.part
        and not before.modifier
    ):
        subject = parts_before(doc, verb, begin)
        if subject:
            return subject  # "gas valve replaced, gas union resealed"
    if term.form == "past" and is_passive(doc, verb, begin):
        subject = parts_before(doc, verb, begin)
        if subject:
            return subject
        fronted = part_in_front(doc, verb, begin)
        if fronted is not None:
            return [fronted]
        if behind and _over_a_break(doc, verb, behind[0]):
            return []  # "five pounds were recovered, the liquid line was repaired"
    alone = ends and doc.tokens[verb.start].brk > 0 and verb.start > begin
    if behind and term.form == "past" and alone:
        fronted = part_in_front(doc, verb, begin) or size_in_front(doc, verb, begin)
        if fronted is not None:
            return [fronted]  # "six filters, sixteen by twenty by two, changed, belt's good"
    if behind and ends and term.form == "past" and _told_of_itself(doc, behind[0], end):
        behind = []  # "everything washed, filters changed": the part behind has an act of its own
    if behind:
        return behind
    if term.form in ("past", "ing"):
        subject = parts_before(doc, verb, begin)
        if subject and not starts_clause(doc, verb, begin):
            return subject
    if term.form == "past" and nothing_behind(doc, verb, end):
        fronted = part_in_front(doc, verb, begin) or (size_in_front(doc, verb, begin) if alone else None)
        if fronted is not None:
            return [fronted]
    return meant(doc, verb, term, begin, end)


def _told_of_itself(doc: Doc, o: Object, end: int) -> bool:
    """Whether a part is followed by its own act or state: "filters changed", "belts good"."""
    if o.pronoun or o.stop >= end or doc.tokens[o.stop].brk:
        return False
    after = doc.owner[o.stop]
    return after is not None and (any(t.form == "past" for t in after.of("verb")) or after.has("condition"))


def _over_a_break(doc: Doc, verb: Mention, first: Object) -> bool:
    """Whether a clause of its own begins between a passive verb and the part behind it."""
    return any(doc.tokens[k].brk or doc.norm[k] == "and" for k in range(verb.stop, first.start + 1))
