"""The machines an item is said of: the one spoken of, or several by "on both", "on all four", "on one and three"."""

from __future__ import annotations

import re

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.wordlists import words

_HOW_MANY = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_EACH = (
    " on all of them ",
    " on all units ",
    " on every unit ",
    " on all the units ",
    " all the units ",
    " all units ",
    " on each unit ",
    " on each one ",
    " on each of them ",
    " on every one ",
    " on all machines ",
    " on every machine ",
    " for each unit ",
    " for each one ",
    " for each machine ",
    " one for each ",
    " for each of them ",
)
_BEHIND = 6


def tags_for(doc: Doc, sentence: tuple[int, int], start: int, stop: int) -> tuple[str | None, ...]:
    """The machines an item of tokens `start`..`stop` is said of, in the order they were named."""
    if len(doc.tags) > 1:
        begin, end = sentence
        words = f" {' '.join(doc.norm[start : min(end, stop + 5)])} "
        lead = f" {' '.join(doc.norm[begin : min(end, begin + 4)])} "
        if (
            any(w in words for w in _EACH)
            or _counted(doc, words)
            or _counted(doc, lead)
            or _all_of(doc, begin)
            or _they_all(doc, begin, start)
        ):
            return tuple(doc.tags)
        if words.endswith(" on each ") or " on each," in words or _each_ends(doc, start, min(end, stop + 5)):
            return tuple(doc.tags)
        named = _named(doc, stop, end) or _told_together(doc, begin, start)
        if named:
            return named
    return (doc.tag_at[start],)


def _told_together(doc: Doc, begin: int, start: int) -> tuple[str, ...]:
    """ "Three and four got six each", "one and two, good": several machines named last before the item."""
    for i in range(start, begin - 1, -1):
        m = doc.owner[i]
        if m is not None and m.kind == "machine":
            return _and_another(doc, m) if start - m.stop < _BEHIND else ()
        if m is not None and m.kind == "machines":
            return tuple(m.slug.split(","))
    return ()


def _and_another(doc: Doc, last: Mention) -> tuple[str, ...]:
    """ "R T U one and R T U two": two machines named in one breath; nothing where the last stands alone."""
    if last.start < 2 or doc.norm[last.start - 1] != "and" or doc.tokens[last.start].brk:
        return ()
    first = doc.owner[last.start - 2]
    if first is None or first.kind != "machine" or first.slug == last.slug or doc.tokens[last.start - 1].brk:
        return ()
    return first.slug, last.slug


_ONE_EACH = words(
    """
    drain pans condenser evaporator coils economizers thermostats blowers disconnects smoke units
    machines curbs gas belts traps inducers igniters drives curbs dampers exchangers roofs
    """
)


def _all_of(doc: Doc, begin: int) -> bool:
    """ "All five drain pans are clean": of parts that every machine has one of."""
    said = doc.norm[begin : begin + 3]
    if len(said) < 3:
        return False
    if said[0] == "both" and len(doc.tags) == 2:
        return said[1] in _ONE_EACH - {"belts", "coils", "blowers", "condenser", "evaporator"} and not any(
            m.number for m in doc.within(begin, begin + 3)
        )
    if said[0] != "all" or _HOW_MANY.get(said[1]) != len(doc.tags):
        return False
    return said[2] in _ONE_EACH


_GOT = words(
    "got get gets need needs have has had take takes took are were is was run runs look looks will want wants"
)


def _they_all(doc: Doc, begin: int, at: int) -> bool:
    """ "All four got new filters", "both had their coils washed", "each one gets six": the machines are the subject."""
    a = at
    while a > begin and not doc.tokens[a].brk:
        a -= 1
    for start in {begin, a}:
        i = start + (doc.norm[start] in ("and", "so", "then", "they", "but"))
        said = doc.norm[i : i + 4]
        if len(said) < 3:
            continue
        many = len(doc.tags)
        stop = 0
        if said[0] == "all" and _HOW_MANY.get(said[1]) == many:
            stop = 2
        elif said[0] == "both" and many == 2:
            stop = 1
        elif (said[0] in ("each", "every") and said[1] == "one") or said[:2] == ["everything", "up"]:
            stop = 2
        if stop and said[stop : stop + 2] == ["of", "them"]:
            stop += 2
        if stop and i + stop < len(doc.norm) and doc.norm[i + stop] in _GOT:
            return True
    return False


def _each_ends(doc: Doc, start: int, stop: int) -> bool:
    """ "Changed four filters on each, sixteen by twenty": "each" closes its clause."""
    return any(
        doc.norm[i] == "each"
        and doc.norm[i - 1] == "on"
        and (i + 1 >= len(doc.tokens) or doc.tokens[i + 1].brk)
        for i in range(max(1, start), stop)
    )


def _counted(doc: Doc, said: str) -> bool:
    """ "On both", "on all four", "on any of the three": as many as were named."""
    many = len(doc.tags)
    if many == 2 and re.search(r" (on both|both units|both machines|on either|on the two) ", said):
        return True
    found = re.search(r" on (?:all|any of the|any of them|each of the|all of the|the) (\w+) ", said)
    if found is None:
        found = re.search(r" all (\w+) (?:units|machines) ", said)
    return found is not None and _HOW_MANY.get(found.group(1)) == many


def _named(doc: Doc, at: int, end: int) -> tuple[str, ...]:
    """ "Greased the bearings on one and three": numbers behind "on" that are numbers of the machines named."""
    for i in range(at, min(end - 1, at + _BEHIND)):
        if doc.tokens[i].brk:
            return ()
        if doc.norm[i] in ("on", "for", "at") and i + 1 < end:
            first = doc.owner[i + 1]
            after = doc.owner[first.stop + 1] if first is not None and first.stop + 1 < end else None
            if (
                first is not None
                and first.kind == "machine"
                and after is not None
                and after.kind == "machine"
            ):
                both = _and_another(doc, after)
                if both:
                    return both
        if doc.norm[i] == "on":
            tags = _numbers(doc, i + 1, end)
            if tags:
                return tags
    return ()


def _numbers(doc: Doc, i: int, end: int) -> tuple[str, ...]:
    out: list[str] = []
    while i < end:
        if doc.norm[i] in ("and", "on") and out:
            i += 1
            continue
        owner = doc.owner[i]
        if doc.tokens[i].brk and not out:
            break
        value = number_word(doc, i)
        if value is None or (owner is not None and owner.stop - owner.start > 1 and owner.kind != "machine"):
            break
        tag = _tag(doc, int(value))
        if tag is None:
            break
        out.append(tag)
        i += 1
    if not out or (
        i < end and not doc.tokens[i].brk and doc.norm[i] not in ("so", "but", "because", "not", "too")
    ):
        return ()
    return tuple(dict.fromkeys(out))


def _tag(doc: Doc, number: int) -> str | None:
    found = [t for t in doc.tags if re.fullmatch(rf"[A-Z]+-{number}", t)]
    return found[0] if len(found) == 1 else None
