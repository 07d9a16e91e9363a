"""Parts fitted, taken out or to be ordered, with size and count; the numbers of a size are no readings."""

from __future__ import annotations

from bisect import bisect_left
from itertools import islice
from typing import Any

from hatchnote.notes.doc import Doc, Item, Mention
from hatchnote.notes.object_of_verb import Object, count_at, count_before
from hatchnote.notes.sizes import size_text
from hatchnote.notes.unit_behind import INCHES, KILO

_USES = {"replace": "installed", "install": "installed", "order": "to-order", "remove": "removed"}
_UNIT = {
    "A": "A",
    "V": "V",
    "uF": "uF",
    "[HP]": "hp",
    "/min": "rpm",
    "[VA]": "VA",
    "W": "W",
    "poles": "poles",
    INCHES: "in",
    "[in_i]": "in",
    "kOhm": "Ohm",
    "Ohm": "Ohm",
    KILO: "Ohm",
}
_MOTOR_SPEEDS = frozenset(
    {825, 850, 1050, 1075, 1100, 1140, 1160, 1625, 1725, 1740, 1750, 1760, 3450, 3500, 1200, 1800, 3600}
)
_CAPACITOR_VOLTS = frozenset({110, 125, 165, 220, 250, 330, 370, 440})
_NOMINAL_OHMS = frozenset(
    {1000, 2000, 2252, 3000, 5000, 10000, 15000, 20000, 30000, 50000, 100000, 120, 250, 500, 1500}
)
_RATED_VOLTS = frozenset({24, 115, 120, 200, 208, 230, 240, 277, 370, 440, 460, 480, 575})


def parts_of(
    doc: Doc,
    verb: str,
    state: str,
    obj: Object,
    at: int,
    stretch: tuple[int, int],
    acts: list[Any],
    listed: Any = None,
) -> list[dict[str, Any]]:
    """The parts that a work item implies: none, one, or one of each size said ("two of these and four of those").

    `stretch` are the tokens in which the object's size can stand.
    """
    use = _USES.get(verb)
    if (
        use is None
        or use == "removed"
        or (use != "to-order" and state != "done")
        or (use == "to-order" and state not in ("needed", "recommended", "done"))
    ):
        return []
    entry = doc.vocabulary.components[obj.comp]
    if entry.no_part:
        return []
    begin, end = stretch
    start, stop = _reach(doc, at, obj, begin, end, acts)
    several = _sizes_with_counts(doc, obj, start, stop)
    if several:
        return [
            {"component": obj.comp, "description": entry.label, "size": size, "quantity": count, "use": use}
            for size, count in several
        ]
    size = _size(doc, obj, entry.size, start, stop)
    quantity = obj.count or _count_of(doc, obj, size, start, stop) or 1
    if size is not None and obj.comp == "panel-screw" and " " in size.removesuffix(" in."):
        many, _, size = size.partition(" ")  # "fourteen five sixteenths screws"
        quantity = float(many)
    if size is None and listed is not None:
        size = _size(doc, obj, entry.size, listed[0].start, _to_next_part(doc, listed[0], listed[2][1]))
    if listed is not None and quantity == 1 and listed[1]:
        quantity = listed[1]
    if size is None or (obj.pronoun and obj.count is None):
        old = _same_as_before(doc, obj, at, entry.size)
        if old is not None and size is None:
            size = old[0]
        if old is not None and obj.count is None and old[1]:
            quantity = old[1]
        if size is None and obj.pronoun and _takes_size(doc, obj, at):
            size = _size_before(doc, obj, at, entry.size)
        if size is None and obj.pronoun and _told_as_size(doc, at):
            size = _size_before(doc, obj, at, entry.size)
        if size is None and ("belt" in entry.size or "filter" in entry.size):
            size = _size_after(doc, obj, at, end) or _size_it_had(doc, obj, at)
    return [
        {"component": obj.comp, "description": entry.label, "size": size, "quantity": quantity, "use": use}
    ]


def _count_of(doc: Doc, obj: Object, size: str | None, start: int, stop: int) -> float | None:
    """ "A new set of filters, six sixteen by twenty by twos": the count stands before the size."""
    if size is None or obj.pronoun:
        return None
    m = next((x for x in doc.within(start, stop) if x.kind == "size" and x.slug == size), None)
    return count_before(doc, m) if m is not None else None


def _sizes_with_counts(doc: Doc, obj: Object, start: int, stop: int) -> list[tuple[str, float]]:
    """ "Two sixteen by twenty by ones and four sixteen by twenty five by ones": each size with its count."""
    sizes = [m for m in doc.within(start, stop) if m.kind == "size" and m.comp == obj.comp and not m.claimed]
    if len({m.slug for m in sizes}) < 2:
        return []
    counts = [count_before(doc, m) for m in sizes]
    if sum(c is not None for c in counts) < len(sizes) - 1:
        return []
    for m in sizes:
        m.claimed = "size"
    first = counts[0] or obj.count
    return [(m.slug, c or 1) for m, c in zip(sizes, [first, *counts[1:]], strict=True)]


def _size_after(doc: Doc, obj: Object, at: int, end: int) -> str | None:
    """ "Put a new belt on while it was apart, a B X sixty two", "changed the belt. It's an A fifty one"."""
    at_next = bisect_left(doc.sentences, (end, end))
    stop = doc.sentences[at_next][1] if at_next < len(doc.sentences) else end
    for i in range(max(at, obj.stop), min(stop, at + 30)):
        m = doc.owner[i]
        if i > end + 5 or doc.tag_at[i] != doc.tag_at[at]:
            return None
        if m is not None and m.start == i and i > obj.stop and m.comp == obj.comp and m.kind == "word":
            return None  # spoken of anew: its size is its own
        if m is not None and m.kind == "size" and m.comp == obj.comp and not m.claimed:
            m.claimed = "size"
            return m.slug
    return None


def _size_it_had(doc: Doc, obj: Object, at: int) -> str | None:
    """ "The filter's a sixteen by twenty by one, dirty, changed it": a new one has the size of the old one."""
    tag = doc.tag_at[at]
    crossed = 0
    for i in range(at - 1, max(-1, at - 30), -1):
        crossed += doc.tokens[i + 1].brk == 2
        m = doc.owner[i]
        if crossed > 2 or doc.tag_at[i] != tag:
            return None
        if m is not None and m.kind == "size" and m.comp == obj.comp:
            if m.claimed:
                return None
            m.claimed = "size"
            return m.slug
    return None


def _reach(doc: Doc, at: int, obj: Object, begin: int, end: int, acts: list[Any]) -> tuple[int, int]:
    """The tokens in which the part's size is said: from the verb to the next act, reading or sentence."""
    start = min(at, obj.start)
    while start > begin and not doc.tokens[start].brk:
        start -= 1
    stop = max(at, obj.stop)
    later = [a.start for a in acts if a.start > stop and a.start < end]
    limit = min([end, *later])
    i = stop
    while i < limit:
        owner = doc.owner[i]
        if doc.norm[i] == "it's" and i + 1 < limit and doc.norm[i + 1] in ("a", "an"):
            i += 1
            continue
        if (
            owner is not None
            and owner.has("verb")
            and not owner.part
            and i > obj.stop
            and doc.tokens[owner.start].brk
        ):
            break
        if doc.norm[i] in (
            "now",
            "it's",
            "pulling",
            "reads",
            "reading",
            "set",
            "amps",
            "so",
            "because",
            "but",
            "now's",
        ):
            break
        if (
            owner is not None
            and owner.has("cue", "left", "rated", "was", "found")
            and owner.kind == "word"
            and not owner.comp
            and owner.start >= obj.stop
            and not _named_anew(doc, owner, limit)
        ):
            break
        if (
            owner is not None
            and owner.comp
            and owner.comp != obj.comp
            and owner.kind == "word"
            and owner.has("component")
            and not owner.modifier
            and i > obj.stop
        ):
            break
        horse = doc.norm[i] in ("horse", "horsepower", "hp")
        if owner is not None and owner.has("point") and not owner.comp and not owner.has("cue") and not horse:
            break
        i = max(i + 1, owner.stop if owner else i + 1)
    return start, min(i, limit)


def _named_anew(doc: Doc, cue: Mention, limit: int) -> bool:
    """ "Replaced with a new one, three quarter inch": "new one" names the part, no reading of it."""
    if doc.norm[cue.stop - 1] != "one" or "new" not in doc.norm[cue.start : cue.stop]:
        return False
    return cue.stop >= limit or doc.tokens[cue.stop].brk > 0 or doc.norm[cue.stop] in ("in", "on")


def _size(doc: Doc, obj: Object, spec: tuple[str, ...], start: int, stop: int) -> str | None:
    if not spec:
        return None
    values: list[tuple[str, float, str]] = []
    used: list[Mention] = []
    sizes = [m for m in doc.within(start, stop) if m.kind == "size" and not m.claimed]
    mentions = [
        m
        for m in doc.within(start, stop)
        if m.kind == "value" and not m.claimed and m.value is not None and not m.value.text
    ]
    for k, m in enumerate(mentions):
        value = m.value
        assert value is not None
        what = _UNIT.get(value.ucum or "")
        number = value.first
        if doc.norm[m.start - 2 : m.start] == ["inch", "and"] and number < 1:
            number += 1  # "inch and three sixteenths"
        if value.ucum == KILO or value.ucum == "kOhm":
            number *= 1000
        if m.stop < len(doc.norm) and doc.norm[m.stop] == "now" and not doc.tokens[m.stop].brk:
            continue  # what it reads, not what it is
        if value.ucum is None and m.stop < len(doc.norm) and doc.norm[m.stop] in ("new", "of", "ones", "one"):
            continue  # how many
        if value.ucum is None:
            what = _bare(spec, number, value, [w for w, _, _ in values], mentions, k)
        if what == "in" and "in" not in spec and "thread" in spec:
            what = "thread"
        if what == "Ohm" and number not in _NOMINAL_OHMS:
            continue  # what a sensor reads is not its type
        if what in spec:
            values.append((what, number, value.style))
            used.append(m)
    if "hp" in spec and not any(w == "hp" for w, _, _ in values):
        values += _horses(doc, start, stop)
    text = size_text(spec, values, sizes)
    if text:
        for m in (*used, *[s for s in sizes if s.comp == obj.comp]):
            m.claimed = "size"
    return text


_PARTS_OF_A_HORSE = {
    "half": 1 / 2,
    "third": 1 / 3,
    "quarter": 1 / 4,
    "fifth": 1 / 5,
    "sixth": 1 / 6,
    "eighth": 1 / 8,
}


def _horses(doc: Doc, start: int, stop: int) -> list[tuple[str, float, str]]:
    """ "Third horse" with no article, which is no number elsewhere."""
    for i in range(start, stop - 1):
        part = _PARTS_OF_A_HORSE.get(doc.norm[i])
        if part is not None and doc.norm[i + 1] in ("horse", "horsepower", "hp"):
            return [("hp", part, "fraction")]
    return []


def _bare(
    spec: tuple[str, ...], number: float, value: Any, have: list[str], mentions: list[Mention], k: int
) -> str | None:
    """What a number without a unit is in a size."""
    if "rpm" in spec and number in _MOTOR_SPEEDS:
        return "rpm"
    if "uF" in spec:
        after = mentions[k + 1].value if k + 1 < len(mentions) else None
        if value.link == "plus" or (after is not None and after.link == "plus"):
            return "uF"
        if number in _CAPACITOR_VOLTS and "uF" in have:
            return "V"
        return "uF" if not have and 1 <= number <= 400 else None
    if "A" in spec and have[-1:] == ["poles"] and 5 <= number <= 600:
        return "A"
    said = any(x.value is not None and x.value.ucum == "A" for x in mentions)
    if "A" in spec and spec[0] == "A" and 0.5 <= number <= 600 and not have and not said:
        return "A"
    if value.style in ("fraction", "mixed"):
        if "in" in spec or "thread" in spec:
            return "in" if "in" in spec else "thread"
        if "hp" in spec and number < 30:
            return "hp"
    if "V" in spec and number in _RATED_VOLTS and have:
        return "V"
    return None


def _same_as_before(
    doc: Doc, obj: Object, at: int, spec: tuple[str, ...]
) -> tuple[str | None, float | None] | None:
    """Size and count that "those", "same" and "two more of those" take from what was said of the part before."""
    said = [doc.norm[i] for i in range(max(0, at - 5), min(len(doc.tokens), obj.stop + 3))]
    again = bool({"those", "same", "these"} & set(said)) or "of those" in " ".join(said)
    if not again:
        return None
    for item in islice(reversed(doc.items), 30):
        if (
            item.kind == "part"
            and item.fields["component"] == obj.comp
            and (item.tag == doc.tag_at[at] or "same" in said or "more" in said)
        ):
            return item.fields["size"], None
    tag = doc.tag_at[at]
    for m in reversed(doc.within(max(0, at - 60), at)):
        if m.kind == "size" and m.comp == obj.comp and doc.tag_at[m.start] == tag and m.claimed != "size":
            m.claimed = "size"
            return m.slug, _count_of_size(doc, m)
    return None


_OTHER_ONES = frozenset({"one", "ones", "new", "another", "order", "ordered", "two", "both"})


def _takes_size(doc: Doc, obj: Object, at: int) -> bool:
    """ "Hung two new ones", "order one" take the size said before; "replaced that" does not."""
    if obj.sized or set(doc.norm[at : obj.stop + 1]) & _OTHER_ONES:
        return True
    near = obj.mention
    return near is not None and near.start > 0 and doc.norm[near.start - 1] in ("a", "an")


def _told_as_size(doc: Doc, at: int) -> bool:
    """ "Cap's bad, forty five plus five, four forty volt, swapped it": nothing but values right before the verb."""
    i = at - 1
    stop = at
    values = 0
    while i >= 0 and stop - i < 12 and doc.tokens[i + 1].brk < 2:
        m = doc.owner[i]
        if m is not None and m.kind == "value" and m.value is not None:
            values += 1
            i = m.start - 1
            continue
        if doc.norm[i] not in ("and", "i", "so", "plus", "a", "we", "it's"):
            return values > 1 and doc.tokens[i + 1].brk == 1
        i -= 1
    return False


def _size_before(doc: Doc, obj: Object, at: int, spec: tuple[str, ...]) -> str | None:
    """The size said of the part between its last name and `at`, of the same machine."""
    tag = doc.tag_at[at]
    start = at
    for m in reversed(doc.within(max(0, at - 45), at)):
        if doc.tag_at[m.start] != tag:
            break
        if m.comp == obj.comp and (m.kind == "size" or (m.kind == "word" and m.part)):
            start = m.start
            if m.kind == "word":
                break
    stop = at
    for m in doc.within(start + 1, at):
        if (
            m.comp
            and m.kind == "word"
            and m.part
            and m.comp != obj.comp
            and not m.modifier
            and m.has("component")
        ):
            stop = m.start
            break
        if (m.has("point") and not m.comp) or doc.norm[m.start - 1] in ("reads", "reading", "read", "at"):
            stop = m.start
            break
    return _size(doc, obj, spec, start, stop) if stop > start else None


def count_behind(doc: Doc, obj: Object, at: int, end: int) -> float | None:
    """ "Filters replaced, six, sixteen by sixteen by two", "igniter, one each"."""
    i = max(at, obj.stop) + (at >= obj.stop)
    while i < end and not doc.tokens[i].brk:
        i += 1
    if i >= end or i - max(at, obj.stop) > 4:
        return None
    if doc.norm[i] in ("yes", "yep", "yeah") and i + 1 < end and doc.tokens[i + 1].brk:
        i += 1
    count = count_at(doc, i)
    owner = doc.owner[i]
    if count is None:
        return _count_later(doc, i, end)
    if count > 48 or (owner is not None and owner.kind == "value" and owner.claimed):
        return None
    alone = i + 1 >= end or doc.tokens[i + 1].brk > 0 or doc.norm[i + 1] in ("each", "of", "total")
    if not alone or (owner is not None and owner.kind == "value" and owner.stop != i + 1):
        return None
    more = i + 1 < end and (doc.norm[i + 1] in ("each", "of", "total") or _size_there(doc, i + 1, end))
    if not more:
        return None
    if owner is not None and owner.kind == "value":
        owner.claimed = "count"
    return count


def _count_later(doc: Doc, at: int, end: int) -> float | None:
    """ "Order belt, A forty four, two of them"."""
    for i in range(at, min(end - 1, at + 9)):
        if doc.tokens[i].brk and doc.norm[i + 1 : i + 3] in (["of", "them"], ["of", "those"]):
            count = count_at(doc, i)
            owner = doc.owner[i]
            if count is not None and owner is not None and owner.kind == "value":
                owner.claimed = "count"
            return count
    return None


def _size_there(doc: Doc, at: int, end: int) -> bool:
    owner = doc.owner[at] if at < end else None
    return owner is not None and owner.kind == "size"


def _to_next_part(doc: Doc, part: Mention, end: int) -> int:
    for m in doc.within(part.stop, end):
        if m.comp and m.kind == "word" and m.part and m.comp != part.comp:
            return m.start
    return end


def said_before(doc: Doc, obj: Object, at: int) -> float | None:
    """The count that "changed those" takes from "takes six of the sixteen by twenty five by two"."""
    said = {doc.norm[i] for i in range(at, min(len(doc.tokens), obj.stop + 3))}
    if not said & {"those", "these", "them"}:
        return None
    tag = doc.tag_at[at]
    for m in reversed(doc.within(max(0, at - 40), at)):
        if m.kind == "size" and m.comp == obj.comp and doc.tag_at[m.start] == tag:
            count = count_before(doc, m)
            return count if count and count > 1 else None
        if m.comp == obj.comp and m.kind == "word":
            count = count_before(doc, m)
            if count:
                return count if count > 1 else None
    return None


def _count_of_size(doc: Doc, m: Mention) -> float | None:
    """ "six of the sixteen by twenty five by two"."""
    return count_before(doc, m)


def removed_parts(doc: Doc) -> None:
    """ "The old inducer's coming back with me for warranty": a part taken along."""
    for begin, end in doc.sentences:
        words = " ".join(doc.norm[begin:end])
        if not any(cue in words for cue in _TAKEN):
            continue
        for m in doc.within(begin, end):
            if (
                m.comp
                and m.kind == "word"
                and m.start > begin
                and doc.norm[m.start - 1] in ("old", "bad", "failed", "original", "defective")
            ):
                after = " ".join(doc.norm[m.stop : min(end, m.stop + 9)])
                if any(cue in after for cue in _TAKEN):
                    fields = {
                        "component": m.comp,
                        "description": doc.vocabulary.components[m.comp].label,
                        "size": None,
                        "quantity": 1,
                        "use": "removed",
                    }
                    doc.items.append(
                        Item("part", m.start, m.start, m.stop, doc.tag_at[m.start], fields, "taken along")
                    )


_TAKEN = (
    "warranty",
    "with me",
    "in my truck",
    "in the truck",
    "back to the shop",
    "for core",
    "for the core",
    "core credit",
    "in my van",
    "to the shop with me",
    "for warranty",
    "in the van",
    "on the truck",
    "to the shop",
    "to the supplier",
    "returned to",
    "sent back",
    "to the parts house",
    "home with me",
    "to the supply house",
    "for the scrap",
    "for scrap",
    "to the scrap",
    "for a rebuild",
    "for exchange",
    "for credit",
)
