"""Parts put in that are counted or sized: "put a ten mike cap on the fan", "put ten screws in the panel", "used four
twenty by twenty by twos", "get me six of those".
"""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at
from hatchnote.notes.states import DONE, NEEDED
from hatchnote.notes.telling import not_ours, segment, unreal
from hatchnote.notes.wordlists import words

_PUT = words(
    """
    put used stuck threw slapped hung dropped popped slid loaded cut stabbed screwed spun plugged fitted
    run ran slipped snapped landed bolted mounted wired tossed clipped
    """
)
_BASE = words("put use cut run")
_PARTICLES = words("in on up back")
_BETWEEN = words(
    """
    a an another some of the those these more new matched fresh brand it her them with one blower
    pleated supply
    """
)
_ASKED = ("needed", "recommended", "declined", "offered", "not")
_FETCH = (["get", "me"], ["send", "me"], ["bring", "me"], ["get", "us"], ["send", "us"])


class Phrase(NamedTuple):
    """A part named with its count and size."""

    comp: str
    many: float | None
    start: int
    stop: int
    mention: Mention
    exact: bool
    """Whether a count, a size or "new" says that it is a part fitted, no part worked on."""


def phrase(doc: Doc, at: int, end: int) -> Phrase | None:
    """The counted or sized part that begins at token `at`."""
    count: float | None = None
    exact = False
    i = at
    while i < min(end, at + 11):
        if doc.tokens[i].brk and i > at:
            return None
        m = doc.owner[i]
        if m is not None and m.start == i:
            if m.kind == "size" and m.comp:
                after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
                exact = True
                if after is None or after.comp != m.comp or not after.part:
                    return Phrase(m.comp, count, at, m.stop, m, True)
                i = m.stop
                continue
            if m.kind == "value" and m.value is not None and not m.value.text:
                if m.value.ucum is None and m.stop - m.start <= 2 and m.value.first == int(m.value.first):
                    count = m.value.first
                exact = True
                i = m.stop
                continue
            if m.kind == "word" and m.comp and m.part:
                return Phrase(m.comp, count, at, m.stop, m, exact)
        word = doc.norm[i]
        if word in ("pair", "couple", "dozen", "both"):
            count, exact = count_at(doc, i), True
        elif word in ("new", "fresh", "set"):
            exact = True
        elif word not in _BETWEEN and not (i == at and word in _PARTICLES):
            return None
        i += 1
    return None


def counted_in(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Add the parts of one sentence that were put in so; a part that an act of `out` already has is left to it."""
    for i in range(begin, end - 1):
        if doc.norm[i] == "did" and (
            i == begin or doc.tokens[i].brk or doc.norm[i - 1] in ("i", "we", "and")
        ):
            _did(doc, i, begin, end, out)
        elif doc.norm[i] in _PUT:
            _put(doc, i, begin, end, out)
        elif doc.norm[i : i + 2] in _FETCH:
            _fetched(doc, i, begin, end, out)


def _put(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    at = i + 1
    while at < end and doc.norm[at] in _PARTICLES and not doc.tokens[at].brk:
        at += 1
    if doc.norm[i] == "loaded" or doc.norm[at : at + 1] in (["it"], ["her"]):
        while at < end and doc.norm[at] in ("it", "her", "them", "up", "with") and not doc.tokens[at].brk:
            at += 1
    if doc.norm[i] in ("cut", "screwed", "plugged") and doc.norm[i + 1] not in _PARTICLES:
        return
    found = phrase(doc, at, end)
    if found is None or not found.exact or not _fits(doc, found) or _taken(found, out):
        return
    a, _ = segment(doc, i, begin, end)
    here = doc.owner[i] or Mention("word", i, i + 1)
    if any(m.has("cue", *_ASKED) for m in doc.within(a, i)) or unreal(doc, here, begin):
        return
    if not_ours(doc, here, begin, end) or (
        doc.norm[i] in _BASE and i > a and doc.norm[i - 1] in ("to", "can", "will")
    ):
        return
    out.append(
        Act("replace", DONE, i, i, found.stop, (begin, end), [_object(found)], "counted, and put in", None)
    )


_WORN_OUT = frozenset({"air-filter", "supply-fan-belt", "bearing"})


def _did(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Did both belts, B X sixties", "did the filters, six sixteen by twenty by twos": with a size they are new."""
    found = phrase(doc, i + 1, end)
    if found is None or found.comp not in _WORN_OUT or _taken(found, out):
        return
    sized = found.mention.kind == "size" or any(
        m.kind == "size" and m.comp == found.comp for m in doc.within(found.stop, min(end, found.stop + 4))
    )
    a, _ = segment(doc, i, begin, end)
    if not sized or any(m.has("cue", *_ASKED) for m in doc.within(a, i)):
        return
    out.append(
        Act("replace", DONE, i, i, found.stop, (begin, end), [_object(found)], "did, with a size", None)
    )


def _fits(doc: Doc, found: Phrase) -> bool:
    entry = doc.vocabulary.components[found.comp]
    return not entry.no_part and bool(entry.size)


def _fetched(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Get me six of the twenty by twenty by twos": to order."""
    found = phrase(doc, i + 2, end)
    if found is None or doc.vocabulary.components[found.comp].no_part or _taken(found, out):
        return
    a, _ = segment(doc, i, begin, end)
    if i > a and doc.norm[i - 1] not in ("please", "and", "can", "you", "to", "so"):
        return
    out.append(Act("order", NEEDED, i, i, found.stop, (begin, end), [_object(found)], "to be fetched"))


def _object(found: Phrase) -> Object:
    if found.mention.kind == "size":
        return Object(found.comp, None, found.many, found.mention.start, found.stop)
    return Object(
        found.comp,
        found.mention.number,
        found.many,
        found.mention.start,
        found.stop,
        mention=found.mention,
        plural=found.mention.plural,
    )


def _taken(found: Phrase, out: list[Act]) -> bool:
    for act in out:
        near = found.start - 3 <= act.start <= found.stop
        for o in act.objects:
            if (
                o.mention is found.mention
                or o.start == found.mention.start
                or (near and o.comp == found.comp)
            ):
                return True
    return False
