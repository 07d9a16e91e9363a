"""Parts fitted or to be ordered, said without a verb of doing: "new one in", "four went in", "two to order"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, count_before, from_mention
from hatchnote.notes.states import DECLINED, DONE, NEEDED, NOT_DONE, RECOMMENDED
from hatchnote.notes.telling import segment
from hatchnote.notes.wordlists import words

_LEADS = words("and so with then a an the put got")
_IN = frozenset(
    {"in", "on", "installed", "fitted", "there", "it", "too", "at", "her", "place", "today", "instead"}
)
_WENT = frozenset({"went", "gone", "came", "come"})
_PEOPLE = frozenset({"i", "we", "he", "she", "they", "you", "guy"})
_HEADS = {
    ("parts", "needed"): "order",
    ("parts", "to", "order"): "order",
    ("to", "order"): "order",
    ("need", "to", "order"): "order",
    ("parts", "on", "order"): "order",
    ("order",): "order",
    ("parts", "used"): "used",
    ("parts",): "used",
    ("materials",): "used",
    ("material",): "used",
    ("materials", "used"): "used",
    ("parts", "installed"): "used",
}


def fitted(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """Find them all in one sentence."""
    for i in range(begin, end):
        word = doc.norm[i]
        if word == "new" and i + 1 < end and doc.norm[i + 1] in ("one", "ones"):
            _new_one(doc, i, begin, end, out, before)
        elif (
            word == "new"
            and i > begin + 1
            and doc.norm[i - 1] == "one"
            and (i + 1 >= end or doc.tokens[i + 1].brk)
        ):
            _one_new(doc, i, begin, end, out)
        elif word == "new":
            _new_part_in(doc, i, begin, end, out)
        elif word in ("in", "on") and (i + 1 >= end or doc.tokens[i + 1].brk or doc.norm[i + 1] == "there"):
            _bare_in(doc, i, begin, end, out, before)
        elif word == "order" and doc.norm[i - 1] in ("on", "the") and i > begin:
            _on_order(doc, i, begin, end, out)
        elif word == "minimum" and " set to " in f" {' '.join(doc.norm[i + 1 : i + 6])} ":
            _minimum_set(doc, i, begin, end, out)
        elif word == "tag" and doc.norm[i + 1 : i + 2] == ["on"]:
            _tagged(doc, i, begin, end, out)
        elif word in _WENT:
            _went_in(doc, i, begin, end, out)
        elif word == "with" and i + 1 < end and doc.norm[i + 1] in ("it", "them", "that"):
            _with_it(doc, i, begin, end, out)
        elif word == "to" and i + 1 < end and doc.norm[i + 1] == "order":
            _to_order(doc, i, begin, end, out)
    _listed(doc, begin, end, out, before)
    _back_on(doc, begin, end, out)


_DAYS = words("monday tuesday wednesday thursday friday saturday sunday tomorrow next first")


def _back_on(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Back Wednesday at seven."."""
    if doc.norm[begin] != "back" or end - begin < 2 or doc.norm[begin + 1] not in (_DAYS | {"on", "in"}):
        return
    if {"if", "was", "were", "is", "none"} & set(doc.norm[begin:end]) or any(
        x.verb == "return-visit" for x in out
    ):
        return
    if doc.norm[begin + 1] in ("on", "in") and not (_DAYS | {"week", "days"}) & set(
        doc.norm[begin : begin + 5]
    ):
        return
    out.append(Act("return-visit", NEEDED, begin, begin, begin + 2, (begin, end), [], "back on a day"))


def _asked(doc: Doc, begin: int, stop: int) -> bool:
    return any(
        m.has("cue", "needed", "recommended", "declined", "offered", "not") or m.has("verb", "order", "quote")
        for m in doc.within(begin, stop)
    )


_THREW = words("threw slapped stuck popped hung throwed chucked tossed put got")


def _new_one(doc: Doc, i: int, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "Contactor burnt, new one in", "Bulged. New one, forty five, three seventy", "four new ones on"."""
    a, b = segment(doc, i, begin, end)
    a = max([a, *(k + 1 for k in range(a, i) if doc.norm[k] in ("and", "so", "but", "then"))])
    put = [k for k in range(a, i) if doc.norm[k] in _THREW]
    if (
        put
        and i - put[-1] <= 3
        and not _asked(doc, a, i)
        and not any(x.start >= a and x.start <= i for x in out)
    ):
        a = put[-1] + 1
    count = None
    for k in range(a, i):
        count = count_at(doc, k) or count
        if doc.norm[k] not in _LEADS and count_at(doc, k) is None:
            return
    wish = next((x for x in doc.within(i + 2, b) if x.has("cue", "recommended", "needed", "declined")), None)
    state = DONE
    if wish is not None and wish.start <= i + 3:
        state = (
            RECOMMENDED
            if wish.has("cue", "recommended")
            else NEEDED
            if wish.has("cue", "needed")
            else DECLINED
        )
    elif any(doc.norm[k] not in _IN for k in range(i + 2, b)):
        return
    if _asked(doc, a, i):
        return
    near = focus_before(doc, i, parts_only=True)
    if near is None or any(x.start < i < x.stop for x in out):
        return
    same = [
        x
        for x in [*before, *out]
        if any(o.comp == near.comp for o in x.objects) and x.verb in ("replace", "install")
    ]
    if same and i - same[-1].start < 40:
        return
    start = a
    obj = Object(near.comp, near.number, count, start, b, pronoun=True, mention=near, sized=True)
    _claim(doc, a, i)
    out.append(Act("replace", state, start, start, b, (begin, end), [obj], "a new one, without a verb"))


def _one_new(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "I put one new, the B fifty four"."""
    near = focus_before(doc, i - 1, parts_only=True)
    a, b = segment(doc, i, begin, end)
    if near is None or not {"put", "mount", "mounted", "installed", "install", "place", "placed"} & set(
        doc.norm[a:i]
    ):
        return
    if _asked(doc, a, i) or any(a <= x.start <= i for x in out):
        return
    obj = Object(near.comp, near.number, None, i - 1, b, pronoun=True, mention=near, sized=True)
    out.append(Act("replace", DONE, i, a, b, (begin, end), [obj], "one put in new"))


def _claim(doc: Doc, start: int, stop: int) -> None:
    for m in doc.within(start, stop):
        if m.kind == "value":
            m.claimed = "count"


def _new_part_in(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "New gas valve's in, half inch"."""
    part = next((m for m in doc.within(i, min(end, i + 5)) if m.part and m.comp and m.kind == "word"), None)
    if part is None or part.stop >= end or any(doc.tokens[k].brk for k in range(i + 1, part.stop + 1)):
        return
    k = part.stop
    if doc.norm[k] in ("is", "are", "now"):
        k += 1
    if (
        k >= end
        or doc.norm[k] not in ("in", "on", "installed")
        or (k + 1 < end and not doc.tokens[k + 1].brk)
    ):
        return
    if _asked(doc, segment(doc, i, begin, end)[0], i) or any(
        o.mention is part for x in out for o in x.objects
    ):
        return
    obj = from_mention(doc, part)
    out.append(Act("replace", DONE, i, i, k + 1, (begin, end), [obj], "a new one is in"))


_COUNTED = frozenset(
    {"new", "more", "of", "those", "the", "and", "all", "both", "same", "these", "them", "so", "then"}
)


def _bare_in(doc: Doc, i: int, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "Twelve filters in, twenty by twenty by two", "four sixteen by twenty by twos in", "twelve more of those in"."""
    a, _ = segment(doc, i, begin, end)
    lead = a
    while lead < i and doc.norm[lead] in ("and", "so", "then", "with"):
        lead += 1
    count = count_at(doc, lead)
    if i - lead < 2 or count is None or any(a <= x.start <= i for x in out) or _asked(doc, a, i):
        return
    things = [
        m for m in doc.within(lead, i) if m.comp and (m.kind == "size" or (m.kind == "word" and m.part))
    ]
    for k in range(lead, i):
        owner = doc.owner[k]
        known = owner is not None and (owner in things or owner.kind in ("value", "size"))
        if not known and doc.norm[k] not in _COUNTED and count_at(doc, k) is None:
            return
    if things:
        thing = things[-1]
        if doc.vocabulary.components[thing.comp].no_part:
            return
        obj = (
            from_mention(doc, thing)
            if thing.kind == "word"
            else Object(thing.comp, None, count, a, thing.stop)
        )
        obj.count = obj.count or count
    elif "those" in doc.norm[lead:i] or "more" in doc.norm[lead:i] or "same" in doc.norm[lead:i]:
        near = focus_before(doc, a, parts_only=True, sizes=True) or _last_fitted(before)
        if near is None:
            return
        obj = Object(near.comp, None, count, a, i + 1, pronoun=True, mention=near)
    else:
        return
    _claim(doc, lead, lead + 1)
    out.append(Act("replace", DONE, a, a, i + 1, (begin, end), [obj], "counted, and in"))


def _last_fitted(before: list[Act]) -> Mention | None:
    for act in reversed(before):
        if act.verb in ("replace", "install") and act.state == DONE and act.objects:
            o = act.objects[-1]
            return o.mention or Mention("word", o.start, o.stop, comp=o.comp)
    return None


def _on_order(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Contactor, two pole thirty amp, on the order list", "I've got a flame sensor on order"."""
    listed = (
        doc.norm[i - 1] == "the"
        and i + 1 < end
        and doc.norm[i + 1] == "list"
        and doc.norm[i - 2] in ("on", "to")
    )
    if not listed and doc.norm[i - 1] != "on":
        return
    found = [m for m in components(doc, begin, i - 1) if not doc.vocabulary.components[m.comp].no_part]
    if not found or doc.norm[begin] in ("i'm", "waiting"):
        return
    for x in [x for x in out if x.verb in ("order", "replace") and x.start >= found[-1].start - 4]:
        if x.verb == "order" or x.state != DONE:
            out.remove(x)
    obj = from_mention(doc, found[-1])
    out.append(Act("order", NEEDED, i - 1, found[-1].start, i + 1, (begin, end), [obj], "on the order list"))


def _minimum_set(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Minimum set to fifteen percent": the economizer is adjusted; "set at" tells what it is."""
    if _asked(doc, segment(doc, i, begin, end)[0], i) or any(
        a.verb == "adjust" and a.start >= i - 3 for a in out
    ):
        return
    obj = Object("economizer", None, None, i, i + 3, pronoun=True)
    out.append(Act("adjust", DONE, i, i, i + 3, (begin, end), [obj], "minimum set"))


_TAGGED = words("it her unit disconnect machine breaker valve handle switch panel thermostat")


def _tagged(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Red tag on the unit", "tag's on it"."""
    a, _ = segment(doc, i, begin, end)
    lead = doc.norm[a:i]
    if not set(lead) <= {"red", "a", "the", "warning", "danger", "my", "and", "lockout", "yellow"}:
        return
    behind = doc.norm[i + 2 : min(end, i + 7)]
    what = next((k for k, w in enumerate(behind) if w in _TAGGED), None)
    if what is None or what > 2 or any(x.verb == "label" for x in out):
        return
    out.append(Act("label", DONE, i, a, i + 2, (begin, end), [], "a tag is on it"))


def _went_in(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Four twenty by twenty by twos went in", "a new valve had gone in", "four pounds had gone back in"."""
    k = i + 1
    while k < end and doc.norm[k] in ("back", "right"):
        k += 1
    if k >= end or doc.norm[k] not in ("in", "on") or doc.norm[i] in ("came", "come"):
        return
    if doc.norm[i] == "gone" and doc.norm[i - 1] in ("is", "are", "was", "were"):
        return  # "the screws were gone on the panel"
    after = doc.owner[k + 1] if k + 1 < end and not doc.tokens[k + 1].brk else None
    sized = any(m.kind == "size" for m in doc.within(segment(doc, i, begin, end)[0], i))
    if after is not None and (after.comp or after.kind == "machine") and not sized:
        return
    a, _ = segment(doc, i, begin, end)
    if any(doc.norm[x] in _PEOPLE for x in range(a, i)) or _asked(doc, a, i):
        return
    pounds = [
        m
        for m in doc.within(a, i)
        if m.kind == "value" and m.value is not None and m.value.ucum in ("[lb_av]", "[oz_av]", "kg")
    ]
    if pounds:
        obj = Object("refrigerant", None, None, i, k + 1)
        out.append(Act("charge", DONE, i, pounds[0].start, k + 1, (begin, end), [obj], "went in"))
        return
    parts = components(doc, a, i)
    sizes = [m for m in doc.within(a, i) if m.kind == "size"]
    if parts:
        found = [from_mention(doc, parts[-1])]
        two = parts[-2:-1]
        if two and parts[-1].start - two[0].stop <= 3 and "and" in doc.norm[two[0].stop : parts[-1].start]:
            found.insert(0, from_mention(doc, two[0]))
    elif sizes:
        count = count_before(doc, sizes[0])
        found = [Object(sizes[0].comp, None, count, sizes[0].start, sizes[0].stop)]
    else:
        return
    found = [o for o in found if not doc.vocabulary.components[o.comp].no_part]
    # "along with a new filter drier"
    along = next(
        (x for x in range(k + 1, end - 1) if (doc.norm[x], doc.norm[x + 1]) == ("along", "with")), None
    )
    if along is not None:
        found += [from_mention(doc, m) for m in components(doc, along, min(end, along + 7), heads=False)[:1]]
    if found:
        out.append(Act("replace", DONE, i, found[0].start, k + 1, (begin, end), found, "went in"))


def _with_it(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Compressor two has to be replaced, and the drier with it": the same act of another part."""
    a, _ = segment(doc, i, begin, end)
    parts = components(doc, a, i)
    model = next((x for x in reversed(out) if x.start < a and x.objects), None)
    if not parts or model is None or any(m.has("verb") and m.claimed == "verb" for m in doc.within(a, i)):
        return
    obj = from_mention(doc, parts[-1])
    out.append(Act(model.verb, model.state, a, a, i + 2, (begin, end), [obj], "the same with it"))


def _to_order(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "One to order, two pole forty", "Two to order", "a new belt to order"."""
    if any(x.verb == "order" and x.start in (i, i + 1) for x in out):
        for x in out:
            if x.verb == "order" and x.start in (i, i + 1) and x.objects and i > begin:
                count = count_at(doc, i - 1)
                if count is not None and not doc.tokens[i].brk:
                    x.objects[0].count = count
                    x.objects[0].sized = True
                    _claim(doc, i - 1, i)
        return
    a, _ = segment(doc, i, begin, end)
    parts = components(doc, a, i)
    count = count_at(doc, i - 1) if i > begin else None
    if parts:
        obj = from_mention(doc, parts[-1])
    elif count is not None:
        near = focus_before(doc, i, parts_only=True, sizes=True)
        if near is None:
            return
        obj = Object(near.comp, near.number, count, i - 1, i + 2, pronoun=True, mention=near, sized=True)
        _claim(doc, i - 1, i)
    else:
        return
    out.append(Act("order", NEEDED, i, a, i + 2, (begin, end), [obj], "to order"))


def _listed(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "Parts, one relay, twenty four volt", "Parts needed, supply fan belt, B forty eight, quantity two"."""
    stop = begin + 1
    while stop < end and not doc.tokens[stop].brk:
        stop += 1
    kind = _HEADS.get(tuple(doc.norm[begin:stop]))
    if kind is None or stop >= end:
        return
    parts = [
        m for m in components(doc, stop, end, heads=False) if not doc.vocabulary.components[m.comp].no_part
    ]
    for k, part in enumerate(parts):
        if any(o.mention is part for x in out for o in x.objects):
            continue
        obj = from_mention(doc, part)
        limit = parts[k + 1].start if k + 1 < len(parts) else end
        obj.count = obj.count or quantity_behind(doc, part.stop, limit)
        if kind == "order":
            out.append(Act("order", NEEDED, part.start, begin, limit, (begin, end), [obj], "parts to order"))
            continue
        model = next(
            (
                x
                for x in reversed(before)
                if x.verb in ("replace", "install") and x.state == DONE and _same(x, part)
            ),
            None,
        )
        if model is not None:
            model.listed = (part, obj.count, (begin, end))
            continue
        out.append(Act("replace", DONE, part.start, begin, limit, (begin, end), [obj], "parts used"))


def _same(act: Act, part: Mention) -> bool:
    return any(o.comp == part.comp for o in act.objects)


def quantity_behind(doc: Doc, start: int, stop: int) -> float | None:
    """ "quantity two", ", one" behind a listed part."""
    for i in range(start, stop):
        if doc.norm[i] in ("quantity", "qty") and i + 1 < stop:
            _claim(doc, i + 1, i + 2)
            return count_at(doc, i + 1)
        alone = doc.tokens[i].brk and (i + 1 >= stop or doc.tokens[i + 1].brk)
        if alone and count_at(doc, i) is not None:
            _claim(doc, i, i + 1)
            return count_at(doc, i)
    return None


def superseded(acts: list[Act], tag_at: list[str | None]) -> list[Act]:
    """ "Burners needed a brushing so I brushed them": what was needed and then done is done."""
    dropped: set[int] = set()
    for k, act in enumerate(acts):
        after = acts[k + 1] if k + 1 < len(acts) else None
        if after is not None and after.verb == act.verb == "order" and after.start - act.start < 16:
            same = {o.comp for o in after.objects} == {o.comp for o in act.objects}
            if same and tag_at[after.start] == tag_at[act.start] and all(o.pronoun for o in after.objects):
                dropped.add(k)  # "order one, correction, order two"
        if after is not None and _counted_again(act, after):
            dropped.add(k)  # "I changed twelve, uh, ten, I changed ten"
        if not act.objects or act.verb in ("order", "quote", "return-visit"):
            continue
        comps = {(o.comp, o.number) for o in act.objects}
        if act.state in (RECOMMENDED, NEEDED) and _answered(act, acts[k + 1 : k + 14], comps, tag_at):
            dropped.add(k)
        if act.state not in (NEEDED, NOT_DONE):
            continue
        for later in acts[k + 1 : k + 6]:
            done = later.state == DONE and later.verb == act.verb and tag_at[later.start] == tag_at[act.start]
            if done and later.start - act.start < 30 and comps <= {(o.comp, o.number) for o in later.objects}:
                dropped.add(k)
    return [a for k, a in enumerate(acts) if k not in dropped]


def _counted_again(act: Act, after: Act) -> bool:
    return (
        after.verb == act.verb
        and after.state == act.state == DONE
        and after.sentence == act.sentence
        and after.start - act.start < 9
        and len(act.objects) == len(after.objects) == 1
        and act.objects[0].comp == after.objects[0].comp
        and act.objects[0].number == after.objects[0].number
        and act.tags == after.tags
        and act.objects[0].count is not None
        and after.objects[0].count is not None
    )


def _answered(
    act: Act, later: list[Act], comps: set[tuple[str, str | None]], tag_at: list[str | None]
) -> bool:
    """Whether advice was declined afterwards, or taken and done."""
    return any(
        x.verb == act.verb
        and tag_at[x.start] == tag_at[act.start]
        and comps == {(o.comp, o.number) for o in x.objects}
        and (x.state == DECLINED or (x.state == DONE and act.state == RECOMMENDED))
        for x in later
    )
