"""Lists of parts used and to order, and what is on the order list."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, from_mention
from hatchnote.notes.states import DONE, NEEDED
from hatchnote.notes.telling import segment

_HEADS = {
    ("parts", "needed"): "order",
    ("parts", "required"): "order",
    ("parts", "wanted"): "order",
    ("parts", "to", "get"): "order",
    ("materials", "needed"): "order",
    ("materials", "required"): "order",
    ("for", "the", "order"): "order",
    ("on", "order"): "order",
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


def is_asked_for(doc: Doc, begin: int, stop: int) -> bool:
    return any(
        m.has("cue", "needed", "recommended", "declined", "offered", "not") or m.has("verb", "order", "quote")
        for m in doc.within(begin, stop)
    )


def claim_counts(doc: Doc, start: int, stop: int) -> None:
    for m in doc.within(start, stop):
        if m.kind == "value":
            m.claimed = "count"


def on_order(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Contactor, two pole thirty amp, on the order list", "I've got a flame sensor on order"."""
    listed = (
        doc.norm[i - 1] == "the"
        and i + 1 < end
        and doc.norm[i + 1] == "list"
        and doc.norm[i - 2] in ("on", "to")
    )
    back = doc.norm[i - 1] in ("back", "special") and i - 2 >= begin and doc.norm[i - 2] == "on"
    if not listed and not back and doc.norm[i - 1] != "on":
        return
    found = [m for m in components(doc, begin, i - 1 - back) if not doc.vocabulary.components[m.comp].no_part]
    if not found or doc.norm[begin] in ("i'm", "waiting"):
        return
    for x in [x for x in out if x.verb in ("order", "replace") and x.start >= found[-1].start - 4]:
        if x.verb == "order" or x.state != DONE or x.rule.startswith(("a new", "new")):
            out.remove(x)
    obj = from_mention(doc, found[-1])
    out.append(Act("order", NEEDED, i - 1, found[-1].start, i + 1, (begin, end), [obj], "on the order list"))


def to_order(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "One to order, two pole forty", "Two to order", "a new belt to order"."""
    if any(x.verb == "order" and x.start in (i, i + 1) for x in out):
        for x in out:
            if x.verb == "order" and x.start in (i, i + 1) and x.objects and i > begin:
                count = count_at(doc, i - 1)
                if count is not None and not doc.tokens[i].brk:
                    x.objects[0].count = count
                    x.objects[0].sized = True
                    claim_counts(doc, i - 1, i)
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
        claim_counts(doc, i - 1, i)
    else:
        return
    out.append(Act("order", NEEDED, i, a, i + 2, (begin, end), [obj], "to order"))


def listed(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
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
            claim_counts(doc, i + 1, i + 2)
            return count_at(doc, i + 1)
        alone = doc.tokens[i].brk and (i + 1 >= stop or doc.tokens[i + 1].brk)
        if alone and count_at(doc, i) is not None:
            claim_counts(doc, i, i + 1)
            return count_at(doc, i)
    return None
