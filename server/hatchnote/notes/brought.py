"""Parts put in with the particle at the end, brought or fetched, or said to be new: acts with light verbs."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import count_at, from_mention
from hatchnote.notes.states import DONE, NEEDED
from hatchnote.notes.telling import segment, unreal
from hatchnote.notes.wordlists import words

_PUT = words("put stuck threw slapped hung dropped popped slid slipped bolted snapped tossed got there")
_TAIL = frozenset({"it", "there", "too", "today", "now", "them", "also"})
_INDEFINITE = frozenset({"a", "an", "new", "fresh", "another"})
_FETCH = frozenset({"get", "bring", "pick"})
_BEFORE_FETCH = frozenset({"to", "i'll", "we'll", "will", "gotta"})
_NOT_A_THING = frozenset({"to", "working", "running", "going", "reading", "back"})


def brought(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Find them in one sentence; parts that an act of `out` already has are left to it."""
    for i in range(begin, end):
        word = doc.norm[i]
        if word in _PUT:
            _put_in(doc, i, begin, end, out)
        if word in _FETCH:
            _fetch(doc, i, begin, end, out)
        elif word == "got" and not _put_in_found(out, i):
            _got_going(doc, i, begin, end, out)
        elif word == "new" and i > begin and doc.norm[i - 1] in ("both", "all"):
            _all_new(doc, i, begin, end, out)


_GOING = words("moving working turning opening closing going swinging free freed loose unstuck stroking")
_STICKING = frozenset(
    {"outdoor-air-damper", "economizer", "economizer-actuator", "reversing-valve", "roof-hatch"}
)


def _put_in_found(out: list[Act], i: int) -> bool:
    return any(a.start <= i < a.stop for a in out)


def _got_going(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Got the damper moving again": freed."""
    a, b = segment(doc, i, begin, end)
    part = next((m for m in doc.within(i + 1, min(b, i + 5)) if m.comp in _STICKING and m.part), None)
    if part is None or part.stop >= b or doc.norm[part.stop] not in _GOING or _asked(doc, a, i):
        return
    if any(o.comp == part.comp and x.verb == "repair" for x in out for o in x.objects):
        return
    out.append(Act("repair", DONE, i, i, part.stop + 1, (begin, end), [from_mention(doc, part)], "got going"))


def _taken(part: Mention, out: list[Act]) -> bool:
    return any(o.mention is part or o.start == part.start for a in out for o in a.objects)


def _asked(doc: Doc, start: int, stop: int) -> bool:
    cues = ("needed", "recommended", "declined", "offered", "not")
    return any(m.has("cue", *cues) or m.has("verb", "order", "quote") for m in doc.within(start, stop))


def _put_in(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Put four sixteen by twenty by two filters in", "got a new inducer in there", "put two A forty twos on"."""
    a, b = segment(doc, i, begin, end)
    stop = b
    while stop > i and doc.norm[stop - 1] in _TAIL:
        stop -= 1
    if stop - i < 3 or stop - i > 12 or doc.norm[stop - 1] not in ("in", "on"):
        return
    first = doc.norm[i + 1]
    if doc.norm[i] in ("got", "there") and "new" not in doc.norm[i + 1 : i + 3]:
        return
    if (
        (first not in _INDEFINITE and count_at(doc, i + 1) is None)
        or _asked(doc, a, stop)
        or unreal(doc, doc.owner[i] or Mention("word", i, i + 1), begin)
    ):
        return
    parts = [m for m in doc.within(i + 1, stop) if m.part and m.comp and m.kind == "word"]
    sizes = [m for m in doc.within(i + 1, stop) if m.kind == "size" and m.comp]
    things = parts or sizes
    if not things or _taken(things[-1], out) or things[-1].stop != stop - 1:
        return
    thing = things[-1]
    if doc.vocabulary.components[thing.comp].no_part:
        return
    obj = from_mention(doc, thing)
    obj.count = count_at(doc, i + 1) or obj.count
    out.append(Act("replace", DONE, i, i, stop, (begin, end), [obj], "put in"))


def _fetch(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Need to get a gas valve", "I'm going to bring two belts": parts to order."""
    lead = doc.norm[i - 1] if i > begin and not doc.tokens[i].brk else ""
    opens = i == begin and doc.norm[i] in ("bring", "pick")
    if not opens and lead not in _BEFORE_FETCH:
        return
    a, b = segment(doc, i, begin, end)
    if doc.norm[i] == "pick":
        i += 1
        if i >= b or doc.norm[i] != "up":
            return
    if i + 1 >= b or unreal(doc, doc.owner[i] or Mention("word", i, i + 1), begin):
        return
    if any(m.has("cue", "not", "declined", "recommended", "offered") for m in doc.within(a, i)):
        return
    if doc.norm[i + 1] not in _INDEFINITE and count_at(doc, i + 1) is None:
        return
    parts = components(doc, i + 1, min(b, i + 7), heads=False)
    if not parts or _taken(parts[0], out) or doc.vocabulary.components[parts[0].comp].no_part:
        return
    after = doc.owner[parts[0].stop] if parts[0].stop < b else None
    if after is not None and after.has("verb"):
        return  # "to get a coil cleaned"
    if parts[0].stop < b and doc.norm[parts[0].stop] in _NOT_A_THING:
        return
    obj = from_mention(doc, parts[0])
    out.append(Act("order", NEEDED, i, a, parts[0].stop, (begin, end), [obj], "to be fetched"))


def _all_new(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Contactor and capacitor both new"."""
    a, b = segment(doc, i, begin, end)
    if i + 1 != b or _asked(doc, a, i):
        return
    found = [m for m in components(doc, a, i, heads=False) if not doc.vocabulary.components[m.comp].no_part]
    if doc.norm[i - 1] == "all" and not found and a > begin:
        found = [m for m in components(doc, segment(doc, a - 1, begin, end)[0], a) if m.plural]
        found = [m for m in found if not doc.vocabulary.components[m.comp].no_part][-1:]
    elif len(found) < 2:
        return
    if not found or any(_taken(m, out) for m in found):
        return
    out.append(
        Act(
            "replace",
            DONE,
            i,
            a,
            i + 1,
            (begin, end),
            [from_mention(doc, m) for m in found],
            "both new",
        )
    )
