"""The size of a part from the words around it; the numbers of a size are no readings."""

from __future__ import annotations

from bisect import bisect_left
from itertools import islice
from typing import Any

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_before
from hatchnote.notes.sizes import size_text
from hatchnote.notes.unit_behind import INCHES, KILO

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


def count_of(doc: Doc, obj: Object, size: str | None, start: int, stop: int) -> float | None:
    """ "A new set of filters, six sixteen by twenty by twos": the count stands before the size."""
    if size is None:
        return None
    m = next((x for x in doc.within(start, stop) if x.kind == "size" and x.slug == size), None)
    return count_before(doc, m) if m is not None else None


def sizes_with_counts(doc: Doc, obj: Object, start: int, stop: int) -> list[tuple[str, float]]:
    """ "Two sixteen by twenty by ones and four sixteen by twenty five by ones": each size with its count."""
    sizes = [m for m in doc.within(start, stop) if m.kind == "size" and m.comp == obj.comp and not m.claimed]
    if len({m.slug for m in sizes}) < 2:
        return []
    counts = [count_before(doc, m) or _count_of_name(doc, m) for m in sizes]
    if sum(c is not None for c in counts) < len(sizes) - 1:
        return []
    for m in sizes:
        m.claimed = "size"
    first = counts[0] or obj.count
    return [(m.slug, c or 1) for m, c in zip(sizes, [first, *counts[1:]], strict=True)]


def _count_of_name(doc: Doc, size: Mention) -> float | None:
    """ "Four filters sixteen by twenty by two": the count stands before the name of what is sized."""
    name = doc.owner[size.start - 1] if size.start else None
    named = name is not None and name.comp == size.comp and name.kind == "word"
    return count_before(doc, name) if named and name is not None else None


def size_after(doc: Doc, obj: Object, at: int, end: int) -> str | None:
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


def size_it_had(doc: Doc, obj: Object, at: int) -> str | None:
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


def size_in(doc: Doc, obj: Object, spec: tuple[str, ...], start: int, stop: int) -> str | None:
    if not spec:
        return None
    values: list[tuple[str, float, str]] = []
    used: list[Mention] = []
    sizes = [m for m in doc.within(start, stop) if m.kind == "size" and not m.claimed]
    instead = [
        m for m in sizes if doc.norm[m.start - 2] == "for" and doc.norm[m.start - 1] in ("a", "an", "the")
    ]
    if instead and len(sizes) > 1:
        sizes = instead  # "swapped the A X forty seven for an A X forty six"
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
        if _MEASURED & {*doc.norm[max(start, m.start - 2) : m.start]}:
            continue  # "measured six one, changed it"
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


_MEASURED = frozenset(
    [
        "measured",
        "measures",
        "measuring",
        "reads",
        "read",
        "reading",
        "tested",
        "tests",
        "testing",
        "getting",
        "spiked",
    ]
)
PARTS_OF_A_HORSE = {
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
        part = PARTS_OF_A_HORSE.get(doc.norm[i])
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
    close = k + 1 < len(mentions) and mentions[k + 1].start == mentions[k].stop
    if "A" in spec and close and number <= _MOST_AT_ONCE and not have:
        return None  # "three forty five time delays": how many
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


def same_as_before(
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


_MOST_AT_ONCE = 12
_OTHER_ONES = frozenset({"one", "ones", "new", "another", "order", "ordered", "two", "both"})


def takes_size(doc: Doc, obj: Object, at: int) -> bool:
    """ "Hung two new ones", "order one" take the size said before; "replaced that" does not."""
    if obj.sized or set(doc.norm[at : obj.stop + 1]) & _OTHER_ONES:
        return True
    near = obj.mention
    return near is not None and near.start > 0 and doc.norm[near.start - 1] in ("a", "an")


def told_as_size(doc: Doc, at: int) -> bool:
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


def size_before(doc: Doc, obj: Object, at: int, spec: tuple[str, ...]) -> str | None:
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
    return size_in(doc, obj, spec, start, stop) if stop > start else None


def _count_of_size(doc: Doc, m: Mention) -> float | None:
    """ "six of the sixteen by twenty five by two"."""
    return count_before(doc, m)


def size_at_hand(doc: Doc, obj: Object, at: int, spec: tuple[str, ...]) -> str | None:
    """ "I had a two pole thirty amp on the truck, so that's what I replaced it with"."""
    for i in range(at - 1, max(0, at - 22), -1):
        if doc.tokens[i].brk == 2:
            return None
        if doc.norm[i] in ("had", "got", "have") and doc.norm[i - 1] in ("i", "we") and i + 1 < at:
            if doc.norm[i + 1] in ("a", "an", "one", "the", "some"):
                return size_in(doc, obj, spec, i, at)
            m = doc.owner[i + 1]
            return size_in(doc, obj, spec, i, at) if m is not None and m.kind == "value" else None
    return None
