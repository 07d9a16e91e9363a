"""Acts without a verb of their own: "needs a new contactor", "four more of those", "they said no"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, from_mention
from hatchnote.notes.states import DECLINED, NEEDED, RECOMMENDED

_OWN_THINGS = frozenset({"truck", "van", "car", "ladder", "meter", "vac", "drill", "boss", "phone"})


def needs_part(doc: Doc, m: Mention, begin: int, end: int, out: list[Act]) -> Act | None:
    """ "Needs a new contactor", "could use a belt", "said no to new filters": to be replaced, without a verb."""
    if m.start > begin and doc.norm[m.start - 1] in _OWN_THINGS and not doc.tokens[m.start].brk:
        return None  # "my truck needs a new belt"
    nxt = m.stop
    while nxt < end and doc.norm[nxt] in (
        "a",
        "an",
        "new",
        "some",
        "another",
        "one",
        "the",
        "us",
        "me",
        "you",
        "to",
        "on",
        "set",
        "of",
        "all",
        "both",
        "two",
        "three",
        "four",
    ):
        nxt += 1
    ones = doc.norm[nxt - 1] == "one" if nxt > m.stop else False
    asked = doc.owner[nxt] if nxt < end and not doc.tokens[nxt].brk else None
    if ones and asked is not None and any(t.form == "past" for t in asked.of("verb")):
        return None  # "I need one ordered"
    if (
        (nxt >= end and not ones)
        or (nxt < end and doc.tokens[nxt].brk and not ones)
        or any(doc.tokens[i].brk for i in range(m.stop, nxt))
    ):
        return None
    owner = doc.owner[nxt] if nxt < end and not doc.tokens[nxt].brk else None
    said = doc.norm[m.stop : nxt]
    if (said[-1:] == ["one"] and ("new" in said or "another" in said)) or said == ["one"]:
        near = focus_before(doc, m.start, parts_only=True)
        if near is not None and (owner is None or not owner.part):
            state = (
                DECLINED if m.has("cue", "declined") else NEEDED if m.has("cue", "needed") else RECOMMENDED
            )
            obj = Object(near.comp, near.number, None, m.start, nxt, pronoun=True)
            return Act("replace", state, m.start, m.start, nxt, (begin, end), [obj], f"{state} part", m)
    sized = _wants_size(doc, m, begin, end, out)
    if sized is not None:
        return sized
    words = set(doc.norm[m.stop : nxt]) | set(doc.norm[m.start : m.stop])
    if owner is None or not owner.comp or owner.kind != "word" or not owner.part:
        if owner is not None and owner.kind in ("value", "size") and m.has("cue", "needed"):
            return _needs_size(doc, m, owner, begin, end)
        return None
    if m.has("cue", "recommended") and not words & {
        "use",
        "new",
        "recommend",
        "recommending",
        "recommended",
        "suggest",
        "suggested",
        "get",
    }:
        return None
    if m.has("cue", "needed") and not words & {
        "a",
        "an",
        "new",
        "another",
        "some",
        "needs",
        "need",
        "needed",
        "due",
        "one",
        "requires",
        "require",
        "needing",
        "both",
        "all",
        "two",
        "three",
    }:
        return None
    if not words & {"a", "an", "new", "another", "some"} and any(
        x.has("verb") for x in doc.within(owner.stop, min(end, owner.stop + 4))
    ):
        return None
    if any(a.start <= m.start < a.stop for a in out):
        return None
    after = doc.owner[owner.stop] if owner.stop < end and not doc.tokens[owner.stop].brk else None
    if after is not None and any(t.form == "past" for t in after.of("verb")):
        return None  # "ought to get that coil washed"
    state = DECLINED if m.has("cue", "declined") else NEEDED if m.has("cue", "needed") else RECOMMENDED
    if doc.vocabulary.components[owner.comp].no_part:
        return None
    objects = [from_mention(doc, owner), *_and_more(doc, owner, end)]
    return Act("replace", state, m.start, m.start, owner.stop, (begin, end), objects, f"{state} part", m)


def _and_more(doc: Doc, first: Mention, end: int) -> list[Object]:
    """ "Need a fan motor, half horse, and a 24 inch blade": the parts the list goes on with, over their sizes."""
    out: list[Object] = []
    i, counted = first.stop, False
    while i < end and doc.tokens[i].brk < 2:
        m = doc.owner[i]
        if m is not None and m.kind in ("value", "size") and not (m.comp and m.kind == "size"):
            counted = counted or (m.value is not None and m.value.ucum is None)
            i = m.stop
        elif m is not None and m.comp and m.kind == "word" and m.part:
            if not counted or doc.vocabulary.components[m.comp].no_part or m.comp == first.comp:
                break
            out.append(from_mention(doc, m))
            i, counted = m.stop, False
        elif doc.norm[i] in ("a", "an", "new", "another", "some", "both"):
            i, counted = i + 1, True
        elif m is None and (
            doc.norm[i] in ("and", "plus", "also", "phase", "volt", "rpm") or doc.tokens[i].brk
        ):
            if doc.norm[i] not in ("and", "plus", "also", "phase"):
                break
            i += 1
        else:
            break
    return out


_BEFORE_SIZE = frozenset(
    [
        "a",
        "an",
        "new",
        "some",
        "another",
        "pair",
        "matched",
        "set",
        "of",
        "the",
        "more",
        "to",
        "get",
        "on",
        "in",
        "put",
    ]
)


def _wants_size(doc: Doc, m: Mention, begin: int, end: int, out: list[Act]) -> Act | None:
    """ "Recommend two new B X sixty eights", "could use a pair of A forty fours": what is wanted, told by its size."""
    i = m.stop
    count: float | None = None
    while i < end and i - m.stop < 7 and not doc.tokens[i].brk:
        owner = doc.owner[i]
        if owner is not None and owner.kind == "size":
            after = doc.owner[owner.stop] if owner.stop < end and not doc.tokens[owner.stop].brk else None
            if (after is not None and (after.part or after.has("verb"))) or owner.claimed:
                return None
            if any(a.start >= m.start and a.start < owner.stop for a in out):
                return None
            state = (
                DECLINED if m.has("cue", "declined") else NEEDED if m.has("cue", "needed") else RECOMMENDED
            )
            obj = Object(owner.comp, None, count, owner.start, owner.stop)
            owner.claimed = "wanted"
            return Act(
                "replace", state, m.start, m.start, owner.stop, (begin, end), [obj], f"{state} size", m
            )
        number = count_at(doc, i)
        if number is None and doc.norm[i] not in _BEFORE_SIZE:
            return None
        count = number or (2.0 if doc.norm[i] == "pair" else count)
        i += 1
    return None


def _needs_size(doc: Doc, m: Mention, size: Mention, begin: int, end: int) -> Act | None:
    if size.value is not None and size.value.ucum in ("[lb_av]", "[oz_av]") and size.start - m.stop < 3:
        gas = [Object("refrigerant", None, None, size.start, size.stop)]
        return Act("charge", NEEDED, m.start, m.start, size.stop, (begin, end), gas, "so much gas needed", m)
    for other in doc.within(size.stop, min(end, size.stop + 6)):
        if other.kind in ("value", "size"):
            continue
        article = any(doc.norm[i] in ("a", "an", "new") for i in range(m.stop, other.start))
        article = article or (other.plural and count_at(doc, m.stop) is not None)
        if other.comp and other.kind == "word" and other.part and article:
            wanted = [from_mention(doc, other)]
            return Act(
                "replace", NEEDED, m.start, m.start, other.stop, (begin, end), wanted, "needed part", m
            )
        break
    return None


def more_of_the_same(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "R T U two, four more twenty by twenty by two": the work of the machine before, done here again."""
    if not before:
        return
    for i in range(begin, end):
        if doc.norm[i] == "more" and i > begin:
            count = count_at(doc, i - 1)
            if count is None:
                continue
            size = next(
                (x for x in doc.within(i, min(end, i + 5)) if x.kind == "size" and not x.claimed), None
            )
            part = next((x for x in doc.within(i, min(end, i + 4)) if x.comp and x.kind == "word"), None)
            comp = size.comp if size else part.comp if part else ""
            if not comp and (i + 1 >= end or doc.tokens[i + 1].brk):
                last = next((a for a in reversed(before) if a.verb == "replace" and a.objects), None)
                comp = last.objects[-1].comp if last is not None else ""  # "changed four more"
            model = next((a for a in reversed(before) if any(o.comp == comp for o in a.objects)), None)
            if model is None or any(a.start <= i < a.stop + 4 for a in out):
                continue
            named = size or part
            obj = Object(comp, None, count, i - 1, named.stop if named is not None else i + 1)
            out.append(
                Act(
                    model.verb,
                    model.state,
                    i - 1,
                    i - 1,
                    obj.stop,
                    (begin, end),
                    [obj],
                    "more of the same",
                    None,
                )
            )


def so_does(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "and so does the belt", "same with the filters": the act before, of another part."""
    part_for_it(doc, begin, end, out, before)
    for i in range(begin, end - 2):
        if (doc.norm[i], doc.norm[i + 1]) not in (
            ("so", "does"),
            ("so", "do"),
            ("as", "does"),
            ("same", "with"),
            ("same", "for"),
            ("so", "did"),
            ("so", "has"),
            ("so", "have"),
            ("so", "was"),
            ("so", "were"),
        ):
            continue
        part = next((m for m in components(doc, i + 2, min(end, i + 6), heads=False)), None)
        model = next((a for a in reversed([*before, *out]) if a.start < i), None)
        if part is not None and model is not None and model.objects and i - model.start < 25:
            obj = from_mention(doc, part)
            out.append(
                Act(model.verb, model.state, i, i, part.stop, (begin, end), [obj], "the same of another part")
            )


_AND_THEN = frozenset({"and", "then", "the", "a", "an", "new", "also", "plus", "so"})
_SINCE = 32


def part_for_it(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "And then the run cap for it": a part that goes with the one just fitted."""
    for part in components(doc, begin, min(end, begin + 8))[:1]:
        if doc.norm[part.stop : part.stop + 2] != ["for", "it"] or part.stop + 2 > end:
            continue
        if set(doc.norm[begin : part.start]) - _AND_THEN or doc.norm[begin] not in _AND_THEN:
            continue
        model = next((a for a in reversed([*before, *out]) if a.start < part.start), None)
        fitted = model is not None and model.verb in ("replace", "install", "order") and model.objects
        if model is None or not fitted or part.start - model.start > _SINCE:
            continue
        if any(o.comp == part.comp for a in out for o in a.objects):
            continue
        obj = from_mention(doc, part)
        rule = f"{model.verb}: goes with it"
        out.append(Act(model.verb, model.state, part.start, begin, part.stop, (begin, end), [obj], rule))


_USUAL = {
    "air-filter": "replace",
    "supply-fan-belt": "replace",
    "bearing": "lubricate",
    "condenser-coil": "clean",
    "evaporator-coil": "clean",
    "burner": "clean",
    "flame-sensor": "clean",
    "supply-fan-wheel": "clean",
    "condensate-line": "flush",
    "condensate-trap": "flush",
}
"""What is done to a part at its time. Common practice, no source."""


def due(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Filters are due", "the belt's overdue": the usual act is needed; nothing where it is told what for."""
    for i in range(begin + 1, end):
        if doc.norm[i] not in ("due", "overdue") or (i + 1 < end and not _closes(doc, i + 1)):
            continue
        k = i - 1
        while k > begin and doc.norm[k] in (
            "is",
            "are",
            "about",
            "way",
            "past",
            "long",
            "all",
            "both",
            "just",
            "now",
        ):
            k -= 1
        part = doc.owner[k]
        if part is None or not part.comp or not part.part or any(a.start <= k < a.stop for a in out):
            continue
        if any(m.has("cue", "not", "declined") for m in doc.within(max(begin, k - 3), i)):
            continue
        verb = _USUAL.get(part.comp)
        if verb is None:
            continue
        act = Act(verb, NEEDED, i, part.start, i + 1, (begin, end), [from_mention(doc, part)], f"{verb}: due")
        out.insert(sum(a.start < i for a in out), act)  # in the order of speech: it may be met behind it


def got_done(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "The filters got done, four of them": the usual act, marked."""
    for i in range(begin, end):
        part: Mention | None = None
        if doc.norm[i] == "done" and doc.norm[i - 1] in ("got", "was", "were", "been") and i - 2 >= begin:
            k = i - 2 - (doc.norm[i - 2] in ("all", "both", "have", "has", "had"))
            part = doc.owner[k] if k >= begin else None
        if part is None or not part.comp or not part.part or part.modifier or part.comp not in _USUAL:
            continue
        behind = doc.owner[part.stop] if part.stop < end and not doc.tokens[part.stop].brk else None
        if any(o.comp == part.comp for a in out for o in a.objects) or (
            behind is not None and behind.has("verb")
        ):
            continue
        if any(
            m.has("cue", "not", "declined", "recommended", "needed") for m in doc.within(max(begin, i - 6), i)
        ):
            continue
        act = Act(
            _USUAL[part.comp],
            "done",
            i,
            min(i, part.start),
            max(i + 1, part.stop),
            (begin, end),
            [from_mention(doc, part)],
            f"{_USUAL[part.comp]}: done with",
        )
        act.doubt = f'heard "{doc.said(min(i, part.start), max(i + 1, part.stop))}": taken for the usual work'
        out.append(act)


def _closes(doc: Doc, at: int) -> bool:
    return bool(doc.tokens[at].brk) or doc.norm[at] in (
        "now",
        "again",
        "too",
        "and",
        "so",
        "soon",
        "next",
        "this",
    )
