"""Parts said to be new, with no verb of fitting: "new belt B X fifty one", "she got a new inducer"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, from_mention
from hatchnote.notes.states import DECLINED, DONE, NEEDED, NOT_DONE, RECOMMENDED
from hatchnote.notes.telling import heading, not_ours, segment, unreal
from hatchnote.notes.wordlists import words

_NEW = frozenset({"new", "fresh"})
_ARTICLES = frozenset({"a", "an", "the", "her", "its", "some", "another"})
_JOINTS = frozenset({"and", "with", "so", "then", "plus", "also", "now"})
_AFTER = words(
    """
    as well along for on and in on too installed with there today plus for also now all throughout around both while
    when
    """
)
_GIVEN = words("got gave given getting give put treated")
_TAKERS = words(
    "it she he unit machine they them her that this everything both all each one two three four five six"
)
_ELSEWHERE = (
    "in the truck",
    "in the van",
    "on the truck",
    "in my truck",
    "in my van",
    "on order",
    "on the way",
    "at the shop",
    "back at",
    "coming",
    "ordered",
    "with me",
    "downstairs",
    "in the box",
    "for next",
    "for you",
    "to put in",
    "to install",
)
_ASKED = ("needed", "recommended", "declined", "offered", "not")


def new_parts(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Find them in one sentence; a part that an act of `out` already has is left to it."""
    for i in range(begin, end - 1):
        if doc.norm[i] not in _NEW:
            continue
        part = _named(doc, i, end)
        if part is None or _taken(part, out) or doc.vocabulary.components[part.comp].no_part:
            continue
        start = _start(doc, i, begin)
        bare = start == begin or doc.tokens[start].brk > 0
        joined = not bare and doc.norm[start - 1] in _JOINTS and _went_before(doc, start, begin, out)
        given = not bare and _given(doc, start, part, begin, end)
        wish = _wished(doc, part, end, bare) or _under_heading(doc, i, begin, end, bare and not out)
        if wish is not None and (bare or joined):
            out.append(
                Act(
                    "replace",
                    wish,
                    i,
                    start,
                    part.stop,
                    (begin, end),
                    [_object(doc, part, i)],
                    f"new: {wish}",
                )
            )
            continue
        if not (bare or joined or given) or not _ends(doc, part, end):
            continue
        at = Mention("word", i, i + 1)
        if _asked(doc, begin, i) or unreal(doc, at, begin) or not_ours(doc, at, begin, end):
            continue
        out.append(
            Act("replace", DONE, i, start, part.stop, (begin, end), [_object(doc, part, i)], "a new part")
        )
    named_new(doc, begin, end, out)
    got_counted(doc, begin, end, out)
    pair_of(doc, begin, end, out)


def _under_heading(doc: Doc, i: int, begin: int, end: int, alone: bool) -> str | None:
    """ "Recommend, new belt", "next visit, new igniter": the state its heading gives; None where it gives none."""
    told = heading(doc, i, begin, end) if alone else None
    return told if told in (RECOMMENDED, NEEDED, DECLINED, NOT_DONE) else None


def named_new(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Belt, new, A forty two", "contactor new, three pole forty amp": new behind the part, its size behind that."""
    for i in range(begin + 1, end):
        if doc.norm[i] not in _NEW or not _apart(doc, i, end):
            continue
        k = i - 1 - (doc.norm[i - 1] in ("brand", "a"))
        if k > begin and doc.norm[i] == "fresh" and doc.norm[k] in ("is", "are", "all"):
            k -= 1 + (doc.norm[k] == "all" and doc.norm[k - 1] == "are")
        part = doc.owner[k]
        if part is None or not part.comp or not part.part or part.modifier or _taken(part, out):
            continue
        a, _ = segment(doc, part.start, begin, end)
        lead = part.start - 1
        while lead >= a and (doc.norm[lead] in _ARTICLES or count_at(doc, lead) is not None):
            lead -= 1
        if (lead >= a and doc.norm[lead] not in _JOINTS) or doc.vocabulary.components[part.comp].no_part:
            continue
        if _asked(doc, begin, i) or unreal(doc, Mention("word", i, i + 1), begin):
            continue
        obj = from_mention(doc, part)
        out.append(Act("replace", DONE, i, part.start, i + 1, (begin, end), [obj], "named, and new"))


def _apart(doc: Doc, i: int, end: int) -> bool:
    """Whether "new" at `i` stands for itself: a pause, a size or the end behind it."""
    k = i + 1 + (doc.norm[i + 1 : i + 2] in (["one"], ["ones"]))
    if k > i + 1 and not doc.tokens[i].brk:
        return False
    if k >= end or doc.tokens[k].brk:
        return True
    owner = doc.owner[k]
    return owner is not None and owner.kind in ("value", "size") and bool(doc.tokens[i].brk)


def pair_of(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Two new bearings, one inch bore, and a matched pair of B X sixty eights": the list of new parts goes on."""
    for i in range(begin + 1, end - 2):
        if doc.norm[i] not in ("pair", "set") or doc.norm[i + 1] != "of":
            continue
        m = doc.owner[i + 2]
        lead = i
        while lead > begin and doc.norm[lead - 1] in ("a", "new", "matched", "fresh", "another"):
            lead -= 1
        listed = any(a.rule == "a new part" and begin <= a.start < i and i - a.stop < 16 for a in out)
        if (
            m is None
            or not m.comp
            or m.start != i + 2
            or not listed
            or doc.norm[lead - 1] != "and"
            or _taken(m, out)
        ):
            continue
        count = 2 if doc.norm[i] == "pair" else None
        obj = Object(m.comp, None, count, m.start, m.stop)
        out.append(Act("replace", DONE, i, lead, m.stop, (begin, end), [obj], "a new pair"))


def got_counted(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "The north one got four sixteen by twenty by twos", "unit two got six filters"."""
    for i in range(begin + 1, end - 2):
        if doc.norm[i] != "got" or doc.tokens[i].brk or count_at(doc, i + 1) is None or _asked(doc, begin, i):
            continue
        taker = doc.owner[i - 1]
        machine = taker is not None and taker.kind == "machine"
        if not machine and doc.norm[i - 1] not in (
            "one",
            "unit",
            "it",
            "she",
            "machine",
            "two",
            "three",
            "four",
        ):
            continue
        thing = None
        for m in doc.within(i + 2, min(end, i + 9)):
            if m.comp and (m.kind == "size" or (m.kind == "word" and m.part and m.comp == "air-filter")):
                thing = m
                break
            if doc.tokens[m.start].brk or m.kind not in ("value", "word"):
                break
        same = doc.norm[i + 2 : i + 5] == ["of", "the", "same"] or doc.norm[i + 2 : i + 4] == ["more", "of"]
        if thing is None and same:
            near = focus_before(doc, i, parts_only=True, sizes=True)
            thing = (
                near
                if near is not None
                else next((m for m in reversed(doc.within(max(0, i - 45), i)) if m.kind == "size"), None)
            )
        if thing is None or _taken(thing, out):
            continue
        count = count_at(doc, i + 1)
        pronoun = thing.start < i
        obj = Object(
            thing.comp,
            None,
            count,
            i if pronoun else thing.start,
            thing.stop if not pronoun else i + 5,
            pronoun,
        )
        out.append(Act("replace", DONE, i, i, max(i + 2, obj.stop), (begin, end), [obj], "got so many"))


_IS = words("is are was were will be has been would still also being")


def _wished(doc: Doc, part: Mention, end: int, copula: bool) -> str | None:
    """ "A new inducer motor is recommended", "a new wheel will be needed"."""
    i = part.stop
    while i < min(end, part.stop + 4) and not doc.tokens[i].brk:
        m = doc.owner[i]
        if m is not None and m.has("cue", "recommended", "needed", "declined") and copula:
            return (
                RECOMMENDED if m.has("cue", "recommended") else NEEDED if m.has("cue", "needed") else DECLINED
            )
        if doc.norm[i] in ("required", "needed", "advised") and copula:
            return RECOMMENDED if doc.norm[i] == "advised" else NEEDED
        if m is not None and m.has("cue", "declined") and doc.norm[i] in _IS:
            return DECLINED
        if m is not None and m.has("cue", "recommended", "needed") and doc.norm[i] in ("will", "is", "are"):
            return NEEDED if m.has("cue", "needed") else RECOMMENDED
        if doc.norm[i] not in _IS:
            return None
        copula = True
        i += 1
    return None


def _named(doc: Doc, i: int, end: int) -> Mention | None:
    """The part behind "new", or the size that names one ("a new A fifty one")."""
    reach = i + 6
    for m in doc.within(i + 1, min(end, i + 12)):
        if m.kind in ("value", "size"):
            reach += m.stop - m.start  # "new seven and a half mike run cap"
        if m.start >= reach or any(doc.tokens[x].brk for x in range(i + 1, m.start + 1)):
            return None
        if m.part and m.comp and m.kind == "word":
            return None if m.modifier and doc.norm[i - 2 : i] != ["with", "a"] else m
        if m.kind == "size" and m.comp:
            after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
            if after is not None and after.part:
                continue
            return m if m.start == i + 1 else None
    return None


def _object(doc: Doc, part: Mention, i: int) -> Object:
    if part.kind != "size":
        return from_mention(doc, part)
    count = count_at(doc, i - 1) if i and not doc.tokens[i].brk else None
    return Object(part.comp, None, count, part.start, part.stop)


def _start(doc: Doc, i: int, begin: int) -> int:
    """Over what leads a new part in: a count, an article, "and so"."""
    start = i
    if start > begin and not doc.tokens[start].brk and doc.norm[start - 1] == "brand":
        start -= 1
    joined = start > begin and not doc.tokens[start].brk
    if joined and (doc.norm[start - 1] in _ARTICLES or count_at(doc, start - 1) is not None):
        start -= 1
    lead = start
    while lead > begin and not doc.tokens[lead].brk and doc.norm[lead - 1] in _JOINTS:
        lead -= 1
    return lead if lead == begin or doc.tokens[lead].brk else start


def _ends(doc: Doc, part: Mention, end: int) -> bool:
    if part.stop >= end or doc.tokens[part.stop].brk or doc.norm[part.stop] in _AFTER:
        return True
    if doc.tokens[part.stop - 1].lower.endswith(("'s", "’s")):
        return False  # "new coil's fourteen ohms"
    owner = doc.owner[part.stop]
    return owner is not None and owner.kind in ("value", "size")


def _went_before(doc: Doc, start: int, begin: int, out: list[Act]) -> bool:
    """ "Put four filters in and a new A fifty one": the list goes on."""
    return any(
        a.verb in ("replace", "install")
        and a.state == DONE
        and begin <= a.start < start
        and start - a.stop < 16
        for a in out
    )


def _given(doc: Doc, start: int, part: Mention, begin: int, end: int) -> bool:
    """ "She got a new motor", "gave it a new belt", "set her up with a new transformer"."""
    a, _ = segment(doc, start, begin, end)
    behind = " ".join(doc.norm[part.stop : min(end, part.stop + 5)])
    if any(x in behind for x in _ELSEWHERE):
        return False
    if doc.norm[start - 1] == "with" and doc.norm[start - 2] == "left":
        return True  # "belt found cracked, left with a new one"
    if doc.norm[start - 1] == "with" and {"went", "go"} & set(doc.norm[max(a, start - 4) : start - 1]):
        low = max(a, start - 6)
        return "went" in doc.norm[low:start] or "had" in doc.norm[low:start]  # "went back with a new inducer"
    if doc.norm[start - 1] == "with":
        low = max(a, start - 5)
        return bool({"set", "fixed", "fitted"} & set(doc.norm[low:start])) and "up" in doc.norm[low:start]
    k = start - 1
    while k > a and (doc.norm[k] in _TAKERS or _is_part(doc, k)):
        k -= 1
    if doc.norm[k] not in _GIVEN:
        return False
    if doc.norm[k] in ("gave", "give", "put") or k < start - 1:
        return k == a or doc.norm[k - 1] not in ("they", "he", "to")
    if doc.norm[k] != "got" or k == a:
        return False
    taker = doc.owner[k - 1]
    return doc.norm[k - 1] in _TAKERS - {"he", "they"} or (
        taker is not None and (taker.kind == "machine" or bool(taker.comp and taker.part))
    )


def _is_part(doc: Doc, k: int) -> bool:
    m = doc.owner[k]
    return m is not None and (m.kind == "machine" or (bool(m.comp) and m.part))


def _asked(doc: Doc, begin: int, stop: int) -> bool:
    return any(
        m.has("cue", *_ASKED) or m.has("verb", "order", "quote", "recommend") for m in doc.within(begin, stop)
    )


def _taken(part: Mention, out: list[Act]) -> bool:
    return any(o.mention is part or o.start == part.start for a in out for o in a.objects)
