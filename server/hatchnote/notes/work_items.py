"""The work items and parts that the acts of a dictation make."""

from __future__ import annotations

from typing import Any

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Item
from hatchnote.notes.kept import held_by
from hatchnote.notes.machines_meant import tags_for
from hatchnote.notes.object_of_verb import Object, count_at
from hatchnote.notes.part_counts import as_quantity, behind_its_size, count_behind, said_before
from hatchnote.notes.parts import parts_of
from hatchnote.notes.states import DONE
from hatchnote.notes.wordlists import words

_FITTING = ("replace", "install", "order")
_LEAD = words(
    "a an the new old another two three four five six eight some its with along and plus also then both"
)


def write_items(doc: Doc, acts: list[Act]) -> None:
    """Add the items of all acts, each once a machine; a part said twice is one."""
    seen: set[tuple[object, ...]] = set()
    by_sentence: dict[tuple[int, int], list[Act]] = {}
    for act in acts:
        by_sentence.setdefault(act.sentence, []).append(act)
    for act in acts:
        targets: list[Object | None] = list(act.objects) or [None]
        tags = act.tags or tags_for(doc, act.sentence, act.start, act.stop)
        for k, target in enumerate(targets):
            quantity = _quantity(doc, act, target) if target is not None else None
            parts = _parts(doc, act, target, _stretch(doc, act, k), by_sentence[act.sentence])
            if len(parts) > 1:
                quantity = None  # of each size its own count
            elif parts and parts[0]["quantity"] > 1:
                quantity = quantity or parts[0]["quantity"]
            each = " for each " in f"{' '.join(doc.norm[act.start : min(act.sentence[1], act.stop + 6)])} "
            if each and parts and len(tags) > 1 and parts[0]["quantity"] == len(tags):
                parts, quantity = (
                    [{**p, "quantity": 1} for p in parts],
                    None,
                )  # "two contactors, one for each unit"
            if quantity == len(tags) and len(tags) > 1 and not parts:
                quantity = None  # "both traps were plugged, flushed both": one on each machine
            small = held_by(doc, act) if k == 0 else None
            if small is not None:
                parts += parts_of(doc, "install", DONE, small, small.start, act.sentence, [])
            for tag in tags:
                _write(doc, act, tag, target, quantity, parts, seen)


def _parts(
    doc: Doc, act: Act, target: Object | None, stretch: tuple[int, int], others: list[Act]
) -> list[dict[str, Any]]:
    if target is None or (target.pronoun and act.verb == "replace" and act.state == DONE and target.done):
        return []
    mine = act.listed if act.listed and act.listed[0].comp == target.comp else None
    return parts_of(doc, act.verb, act.state, target, act.start, stretch, others, mine)


def _write(
    doc: Doc,
    act: Act,
    tag: str | None,
    target: Object | None,
    quantity: float | None,
    parts: list[dict[str, Any]],
    seen: set[tuple[object, ...]],
) -> None:
    comp = target.comp if target else None
    number = target.number if target and act.verb != "order" else None  # a part ordered has no place yet
    again = False
    for one in number.split(",") if number and "," in number else [number]:
        key = (tag, act.verb, comp, one, act.state)
        twin = (tag, "replace", comp, one, DONE)
        if key in seen or (act.verb in ("replace", "install") and act.state == DONE and twin in seen):
            again = True
            continue
        seen.add(key)
        fields = {
            "verb": act.verb,
            "state": act.state,
            "component": comp,
            "number": one,
            "quantity": quantity,
        }
        doubts = [act.doubt] if act.doubt else []
        doc.items.append(Item("work", act.at, act.start, act.stop, tag, fields, act.rule, doubts))
    for part in parts:
        if again and _same_part(doc, act, tag, part):
            continue
        fields = dict(part)
        doc.items.append(Item("part", act.at, act.start, act.stop, tag, fields, f"{act.verb}: {part['use']}"))


def _same_part(doc: Doc, act: Act, tag: str | None, part: dict[str, Any]) -> bool:
    """ "A new contactor went in": found by two rules, one part."""
    for x in reversed(doc.items[-8:]):
        here = x.kind == "part" and x.tag == tag and act.sentence[0] <= x.start < act.sentence[1]
        if here and all(x.fields[k] == part[k] for k in ("component", "use")):
            return part["size"] is None or x.fields["size"] == part["size"]
    return False


def _quantity(doc: Doc, act: Act, target: Object) -> float | None:
    if target.count is None and (target.plural or act.verb not in _FITTING):
        target.count = 2 if _both_behind(doc, act) else None
    if act.verb in _FITTING:
        if target.count is None:
            target.count = count_behind(doc, target, act.start, act.sentence[1])
        if target.count is None:
            target.count = as_quantity(doc, target, *act.sentence)
        if target.count is None:
            target.count = behind_its_size(doc, target, act.start, act.sentence[0])
        if target.pronoun and not (target.count and target.count > 1):
            target.count = said_before(doc, target, act.start) or target.count
    return target.count if target.count and target.count > 1 else None


def _both_behind(doc: Doc, act: Act) -> bool:
    """ "Greased, both.", "bearings greased, both of them"."""
    at = act.mention.stop if act.mention is not None else act.start + 1
    end = act.sentence[1]
    for i in range(at, min(end, at + 4)):
        if doc.tokens[i].brk and doc.norm[i] == "both":
            return i + 1 >= end or doc.tokens[i + 1].brk > 0 or doc.norm[i + 1] == "of"
    return False


def _stretch(doc: Doc, act: Act, k: int) -> tuple[int, int]:
    """Where the size of the act's object `k` can stand: behind the object before it, before the one after it."""
    begin, end = act.sentence
    objects = act.objects
    if k < len(objects) and not objects[k].pronoun:
        if k and not objects[k - 1].pronoun:
            begin = max(begin, min(objects[k - 1].stop, objects[k].start))
            begin = _lead_of(doc, objects[k].start, begin)
        if k + 1 < len(objects) and objects[k + 1].start > objects[k].start:
            end = min(end, max(_lead_of(doc, objects[k + 1].start, objects[k].stop), objects[k].stop))
    return begin, end


def _lead_of(doc: Doc, at: int, low: int) -> int:
    """From a part's name back over its article, count and size: where what is said of it begins."""
    i = at
    while i > low and not doc.tokens[i].brk:
        owner = doc.owner[i - 1]
        if owner is not None and owner.kind in ("value", "size"):
            i = owner.start
        elif doc.norm[i - 1] in _LEAD or count_at(doc, i - 1) is not None:
            i -= 1
        else:
            break
    return max(i, low)
