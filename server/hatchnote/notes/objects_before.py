"""The parts before a verb: its subject, or what was put in front of it on a list."""

from __future__ import annotations

from hatchnote.notes.clauses import PRONOUNS, components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, count_before, dedupe, from_mention
from hatchnote.notes.wordlists import words

_PASSIVE = words("was were is are been be being got get gets has have had needs need needed to")

_AFTER_ALL = words("today and too out off up again also back then with as already")


def nothing_behind(doc: Doc, verb: Mention, end: int) -> bool:
    return verb.stop >= end or doc.tokens[verb.stop].brk > 0 or doc.norm[verb.stop] in _AFTER_ALL


_LIST_WORDS = words(
    """
    same size yes no kind permanent pieces piece each of them all by the a an and x pleats pleated new
    those type in on at inside behind bad total both was were is are got also then
    """
)


def part_in_front(doc: Doc, verb: Mention, begin: int) -> Object | None:
    """ "Filters, eight, twenty by twenty five by two, changed": part, count and size before a verb of its own."""
    at = verb.start
    while (
        at > begin
        and not doc.tokens[at].brk
        and doc.norm[at - 1]
        in ("was", "were", "been", "had", "has", "have", "got", "and", "is", "are", "not")
    ):
        at -= 1
    if (
        at - 1 > begin
        and not doc.tokens[at].brk
        and doc.tokens[at - 1].brk
        and count_at(doc, at - 1) is not None
    ):
        at -= 1  # "filters, eighteen by twenty by one, three replaced"
        first = count_at(doc, at)
    else:
        first = None
    if at == begin or not doc.tokens[at].brk:
        return None
    count: float | None = first
    counted: Mention | None = doc.owner[at] if first is not None else None
    i = at - 1
    while i >= begin and verb.start - i < 26:
        m = doc.owner[i]
        if m is not None and m.kind == "value" and m.value is not None and not m.value.text:
            if (
                m.value.ucum is None
                and m.value.first == int(m.value.first)
                and 1 <= m.value.first <= 48
                and m.stop - m.start == 1
                and doc.norm[m.start - 1] not in ("on", "number", "unit", "machine", "circuit", "stage")
            ):
                count, counted = m.value.first, m
            i = m.start - 1
        elif m is not None and m.comp and m.kind == "word" and m.part:
            if m.modifier:
                i = m.start - 1
                continue
            own = count_before(doc, m)
            if own is None and counted is not None:
                counted.claimed = "count"
            return Object(m.comp, m.number, own or count, m.start, m.stop, mention=m, plural=m.plural)
        elif m is not None and (m.kind == "size" or m.has("condition") or m.has("verb")):
            i = m.start - 1
        elif doc.norm[i] in _LIST_WORDS or count_at(doc, i) is not None:
            place = i > begin and doc.norm[i - 1] in ("on", "number", "unit", "machine", "circuit")
            count = count or (None if place else count_at(doc, i))
            i -= 1
        else:
            return None
    return None


def size_in_front(doc: Doc, verb: Mention, begin: int) -> Object | None:
    """ "Twelve twenty by twenty by four, changed": the size stands for the part."""
    for m in reversed(doc.within(max(begin, verb.start - 12), verb.start)):
        if m.kind == "size" and m.comp:
            after = doc.norm[m.stop : verb.start]
            if set(after) - {"each", "of", "those", "them", "all", "inch", "pleated", "pleats"}:
                return None
            return Object(m.comp, None, count_before(doc, m), m.start, m.stop)
        if m.kind != "value":
            return None
    return None


def starts_clause(doc: Doc, verb: Mention, begin: int) -> bool:
    return (
        verb.start == begin
        or doc.tokens[verb.start].brk > 0
        or doc.norm[verb.start - 1] in ("and", "then", "so", "i", "we", "but")
    )


def is_passive(doc: Doc, verb: Mention, begin: int) -> bool:
    if verb.start <= begin or doc.tokens[verb.start].brk:
        return False
    before = doc.norm[verb.start - 1]
    if before in ("had", "have", "has", "got", "get"):
        return False
    owner = doc.owner[verb.start - 1]
    return before in _PASSIVE or (
        owner is not None
        and owner.has("cue", "needed", "recommended", "not", "was")
        and before not in ("i", "i'll", "not", "never")
    )


def parts_ahead(doc: Doc, verb: Mention, begin: int) -> list[Object]:
    """The parts before a verb in its clause."""
    return parts_before(doc, verb, begin)


def parts_before(doc: Doc, verb: Mention, begin: int) -> list[Object]:
    """The parts before a verb: "four filters changed", "the core and the cap need replaced"."""
    i = verb.start - 1
    start = verb.start
    while i >= begin and verb.start - i < 14:
        if doc.tokens[i + 1].brk and i + 1 <= verb.start:
            break
        if doc.norm[i] in ("because", "so", "but"):
            break
        start = i
        i -= 1
    found = components(doc, start, verb.start)
    stands = doc.norm[verb.start - 2] if verb.start - 2 >= start else ""
    if (found and stands == "one") or (not found and stands in ("one", "it", "that", "them", "they")):
        near = found[0] if found else focus_before(doc, verb.start - 2)
        if near is not None and near.start >= begin and near.kind == "word":
            return [Object(near.comp, near.number, None, verb.start, verb.stop, pronoun=True, mention=near)]
    if not found:
        found = components(doc, start, verb.start, heads=False)
    if not found:
        if any(doc.norm[x] in PRONOUNS for x in range(start, verb.start)):
            near = focus_before(doc, start)
            if near is None:
                return []
            count = count_before(doc, near) if near.start >= begin and near.kind == "word" else None
            if doc.norm[start] == "all" and verb.start == start + 2:
                count = count or count_at(doc, start + 1)  # "filters, all six changed"
            return [Object(near.comp, near.number, count, near.start, near.stop, pronoun=True, mention=near)]
        return []
    last = found[-1]
    out = [last]
    for m in reversed(found[:-1]):
        if any(doc.norm[x] == "and" for x in range(m.stop, out[0].start)) and out[0].start - m.stop <= 3:
            out.insert(0, m)
        else:
            break
    return dedupe([from_mention(doc, m) for m in out])
