"""Parts fitted or to be ordered, said without a verb of doing: "new one in", "four went in", "two to order"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, count_before, from_mention
from hatchnote.notes.parts_listed import claim_counts, is_asked_for, listed, on_order, to_order
from hatchnote.notes.states import DECLINED, DONE, NEEDED, RECOMMENDED
from hatchnote.notes.telling import segment
from hatchnote.notes.told_by_form import back_on, labelled, minimum_set, on_bypass, tagged
from hatchnote.notes.wordlists import words

_LEADS = words("and so with then a an the put got")

_IN = frozenset(
    {"in", "on", "installed", "fitted", "there", "it", "too", "at", "her", "place", "today", "instead"}
)

_WENT = frozenset({"went", "gone", "came", "come"})

_TAKEN_TO = words("dumpster trash truck van scrap garbage bin recycling")
_PEOPLE = frozenset({"i", "we", "he", "she", "they", "you", "guy"})


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
        elif word == "new" and i > begin and _counted_alone(doc, i, begin, end):
            _so_many_new(doc, i, begin, end, out, before)
        elif word == "new":
            _new_part_in(doc, i, begin, end, out)
        elif word in ("in", "on") and (i + 1 >= end or doc.tokens[i + 1].brk or doc.norm[i + 1] == "there"):
            _bare_in(doc, i, begin, end, out, before)
        elif word == "order" and i > begin and doc.norm[i - 1] in ("on", "the", "back", "special"):
            on_order(doc, i, begin, end, out)
        elif word == "minimum" and " set to " in f" {' '.join(doc.norm[i + 1 : i + 6])} ":
            minimum_set(doc, i, begin, end, out)
        elif word in ("label", "sticker") and doc.norm[i + 1 : i + 2] == ["on"]:
            labelled(doc, i, begin, end, out)
        elif word == "tag" and doc.norm[i + 1 : i + 2] == ["on"]:
            tagged(doc, i, begin, end, out)
        elif word in _WENT:
            _went_in(doc, i, begin, end, out)
        elif word == "with" and i + 1 < end and doc.norm[i + 1] in ("it", "them", "that"):
            _with_it(doc, i, begin, end, out)
        elif word == "to" and i + 1 < end and doc.norm[i + 1] == "order":
            to_order(doc, i, begin, end, out)
    listed(doc, begin, end, out, before)
    back_on(doc, begin, end, out)
    on_bypass(doc, begin, end, out)


_THREW = words("threw slapped stuck popped hung throwed chucked tossed put got")


def _new_one(doc: Doc, i: int, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "Contactor burnt, new one in", "Bulged. New one, forty five, three seventy", "four new ones on"."""
    a, b = segment(doc, i, begin, end)
    a = max([a, *(k + 1 for k in range(a, i) if doc.norm[k] in ("and", "so", "but", "then"))])
    put = [k for k in range(a, i) if doc.norm[k] in _THREW]
    if (
        put
        and i - put[-1] <= 3
        and not is_asked_for(doc, a, i)
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
    elif any(doc.norm[k] not in _IN and not _sized(doc, k) for k in range(i + 2, b)):
        return
    if is_asked_for(doc, a, i):
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
    if count is None and doc.norm[i + 1] == "ones" and near.kind == "word":
        count = count_before(doc, near)  # "both belts worn, new ones on"
    obj = Object(near.comp, near.number, count, start, b, pronoun=True, mention=near, sized=True)
    claim_counts(doc, a, i)
    out.append(Act("replace", state, start, start, b, (begin, end), [obj], "a new one, without a verb"))


def _sized(doc: Doc, k: int) -> bool:
    owner = doc.owner[k]
    return owner is not None and owner.kind == "size"


def _counted_alone(doc: Doc, i: int, begin: int, end: int) -> bool:
    a, b = segment(doc, i, begin, end)
    return i == a + 1 and b == i + 1 and count_at(doc, a) is not None


def _so_many_new(doc: Doc, i: int, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "Contactors pitted, both. Two new, two pole thirty."."""
    near = focus_before(doc, i - 1, parts_only=True)
    if near is None or is_asked_for(doc, begin, i):
        return
    count = count_at(doc, i - 1)
    claim_counts(doc, i - 1, i)
    obj = Object(near.comp, None, count, i - 1, i + 1, pronoun=True, mention=near, sized=True)
    out.append(Act("replace", DONE, i - 1, i - 1, i + 1, (begin, end), [obj], "so many new"))


def _one_new(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "I put one new, the B fifty four"."""
    near = focus_before(doc, i - 1, parts_only=True)
    a, b = segment(doc, i, begin, end)
    if near is None or not {"put", "mount", "mounted", "installed", "install", "place", "placed"} & set(
        doc.norm[a:i]
    ):
        return
    if is_asked_for(doc, a, i) or any(a <= x.start <= i for x in out):
        return
    obj = Object(near.comp, near.number, None, i - 1, b, pronoun=True, mention=near, sized=True)
    out.append(Act("replace", DONE, i, a, b, (begin, end), [obj], "one put in new"))


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
    if is_asked_for(doc, segment(doc, i, begin, end)[0], i) or any(
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
    if i - lead < 2 or count is None or any(a <= x.start <= i for x in out) or is_asked_for(doc, a, i):
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
    claim_counts(doc, lead, lead + 1)
    out.append(Act("replace", DONE, a, a, i + 1, (begin, end), [obj], "counted, and in"))


def _last_fitted(before: list[Act]) -> Mention | None:
    for act in reversed(before):
        if act.verb in ("replace", "install") and act.state == DONE and act.objects:
            o = act.objects[-1]
            return o.mention or Mention("word", o.start, o.stop, comp=o.comp)
    return None


def _went_in(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Four twenty by twenty by twos went in", "a new valve had gone in", "four pounds had gone back in"."""
    k = i + 1
    while k < end and doc.norm[k] in ("back", "right"):
        k += 1
    if k >= end or doc.norm[k] not in ("in", "on") or doc.norm[i] in ("came", "come"):
        return
    if doc.norm[i] == "gone" and doc.norm[i - 1] in ("is", "are", "was", "were"):
        return  # "the screws were gone on the panel"
    if set(doc.norm[k + 1 : min(end, k + 4)]) & _TAKEN_TO:
        return  # "the old one went in the dumpster"
    after = doc.owner[k + 1] if k + 1 < end and not doc.tokens[k + 1].brk else None
    sized = any(m.kind == "size" for m in doc.within(segment(doc, i, begin, end)[0], i))
    if after is not None and (after.comp or after.kind == "machine") and not sized:
        return
    a, _ = segment(doc, i, begin, end)
    if any(doc.norm[x] in _PEOPLE for x in range(a, i)) or is_asked_for(doc, a, i):
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
