"""Machines named by where they stand: "R T U four is the one over the kitchen ... Kitchen one, inlet six eight".

Only a place that was told with a machine's tag stands for it afterwards, and only in a dictation of several machines.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words

_AT = words("over above for by on in at near serving feeding behind")
_BETWEEN = words("is was the one unit that that's which feeds does a it's over")
_ENDS = words("end side one unit corner")
_ARTICLES = words("the a an their")
_IS = words("is was as being called")
_THINGS = words("one unit machine rooftop side end")
_LONGEST = 3
_REACH = 8


def named_places(doc: Doc) -> None:
    """Put a machine wherever a place told before with a tag is named as "the north one", "on the north"."""
    told = _told(doc)
    if len({tag for tag, _ in told.values()}) < 2:
        return
    places = sorted(told, key=len, reverse=True)
    i = 0
    while i < len(doc.norm):
        place = next((p for p in places if tuple(doc.norm[i : i + len(p)]) == p and i > told[p][1]), None)
        if place is None:
            i += 1
            continue
        stop = i + len(place)
        start, number = i, None
        one = (
            stop < len(doc.norm)
            and doc.norm[stop] in ("one", "unit", "machine", "ones")
            and not doc.tokens[stop].brk
        )
        if start and doc.norm[start - 1] == "the":
            start -= 1
        on = start > 0 and doc.norm[start - 1] in ("on", "for", "at")
        if one:
            stop += 1
        if one:
            _unnumber(doc, stop - 1)
        if (one or on or _value_behind(doc, stop)) and _free(doc, start, stop, parts=one):
            number = "on" if on else None
            for other in doc.within(start, stop):
                doc.drop(other)
            m = doc.put(Mention("machine", start, stop, slug=told[place][0]))
            m.number = number
        i = stop
    doc.settle()


def _told(doc: Doc) -> dict[tuple[str, ...], tuple[str, int]]:
    """Place -> (tag, token after the words that told it); a place told of two machines stands for neither."""
    out: dict[tuple[str, ...], tuple[str, int]] = {}
    twice: set[tuple[str, ...]] = set()
    for m in doc.mentions:
        if m.kind != "machine":
            continue
        before = _told_before(doc, m)
        if before:
            if before in out and out[before][0] != m.slug:
                twice.add(before)
            out.setdefault(before, (m.slug, m.stop))
            continue
        i = m.stop
        while i < len(doc.norm) and i - m.stop < _REACH and not doc.tokens[i].brk and doc.norm[i] not in _AT:
            if doc.norm[i] not in _BETWEEN:
                break
            i += 1
        if i + 2 >= len(doc.norm) or doc.norm[i] not in _AT or doc.tokens[i].brk or doc.norm[i + 1] != "the":
            continue
        begin = stop = i + 2
        while stop < len(doc.norm) and stop - begin < _LONGEST and not (stop > begin and _ends(doc, stop)):
            stop += 1
        place = tuple(w for w in doc.norm[begin:stop] if w not in _ENDS)
        if not place or (place in out and out[place][0] != m.slug):
            twice.add(place)
        elif place not in out:
            out[place] = (m.slug, stop)
    return {p: t for p, t in out.items() if p not in twice}


def _told_before(doc: Doc, m: Mention) -> tuple[str, ...]:
    """ "The north unit is R T U one", "the one by the hatch is R T U two": the place of it; () where none is told."""
    i = m.start - 1
    if i < 2 or doc.tokens[m.start].brk:
        return ()
    if doc.norm[i] in _IS:
        i -= 1
    elif not doc.tokens[i].lower.endswith(("'s", "’s")):
        return ()
    last = i
    if doc.norm[last] in _THINGS:
        last -= 1
    first = last
    while (
        first > 0
        and last - first < _LONGEST
        and not doc.tokens[first].brk
        and doc.norm[first] not in _ARTICLES
    ):
        first -= 1
    if (
        doc.norm[first] not in _ARTICLES
        or first == last
        or any(t.brk for t in doc.tokens[first + 1 : m.start])
    ):
        return ()
    if last == i and (first < 1 or doc.norm[first - 1] not in _AT):
        return ()  # "the kitchen is R T U one" may tell where the kitchen is served from
    owners = [o for o in doc.owner[first + 1 : last + 1] if o is not None]
    if any(o.kind != "word" or o.has("verb") for o in owners):
        return ()
    return tuple(w for w in doc.norm[first + 1 : last + 1] if w not in _ENDS)


def _unnumber(doc: Doc, at: int) -> None:
    """ "South unit eighteen seven": where a place tells which unit, the number behind it is none."""
    owner = doc.owner[at]
    if (
        owner is not None
        and owner.kind == "machine"
        and owner.start == at
        and doc.norm[at] in ("unit", "machine")
    ):
        doc.drop(owner)


def _ends(doc: Doc, i: int) -> bool:
    return (
        bool(doc.tokens[i].brk)
        or doc.norm[i] in ("and", "is", "has", "which", "but", "with")
        or _held(doc, i)
    )


def _held(doc: Doc, i: int) -> bool:
    owner = doc.owner[i]
    return owner is not None and (owner.kind != "word" or bool(owner.comp) or owner.has("verb"))


def _value_behind(doc: Doc, at: int) -> bool:
    return (
        at < len(doc.norm)
        and not doc.tokens[at].brk
        and (doc.tokens[at].kind == "n" or CLASS.get(doc.norm[at], ".") in "dtxp")
    )


def _free(doc: Doc, start: int, stop: int, *, parts: bool) -> bool:
    return all(o is None or (o.kind == "word" and (parts or not o.comp)) for o in doc.owner[start:stop])
