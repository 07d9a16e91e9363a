"""Firing stages told as headings, in pairs, or by "low" and "high" alone: "Low fire. Manifold one seven."."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft, Mention
from hatchnote.notes.marked import take_over
from hatchnote.notes.wordlists import words

_FIRED = words(
    "manifold-pressure co oxygen stack-temperature temperature-rise flame-signal draft gas-input supply-air-temperature"
)
"""Points that are read anew at every firing stage."""
_COLD = words("suction-pressure discharge-pressure liquid-pressure superheat subcooling")
_SMALL = words(
    """
    numbers number readings reading first then next now on at in for to the a and of going over up okay so test
    results combustion same thing here is are this that's it's second always each order pairs columns column
    """
)
_BEHIND_NO_STAGE = words(
    "side pressure head suction voltage limit charge temp temperature ambient gas level spot"
)
_LONGEST = 7
_ORDINALS = {"first": "low", "second": "high", "one": "low", "two": "high", "1": "low", "2": "high"}


def stages_by_side(doc: Doc) -> None:
    """Make stages of "low and high", "on low" and "low: ..." where something is read that has firing stages.

    The stages of a sentence that reads gas or flue are firing stages, also where they are told by number.
    """
    for begin, end in doc.sentences:
        here = doc.within(begin, end)
        fired = any(m.has("point", *_FIRED) for m in here)
        if not fired or any(m.has("point", *_COLD) and not _low_or_high(doc, m) for m in here):
            continue
        for m in here:
            if m.kind == "stage" and not m.slug:
                m.slug = _by_number(doc, m)
        ordered = any(m.kind == "stage" and {"first", "second"} & {*doc.norm[m.start : m.stop]} for m in here)
        for i in range(begin + 1, end):
            last = i + 1 >= end or doc.tokens[i + 1].brk > 0
            if ordered and last and doc.norm[i] in ("first", "second") and doc.norm[i - 1] == "on":
                take_over(doc, i, i + 1, "stage", _ORDINALS[doc.norm[i]])  # "thirty one on first"
        for i in range(begin, end):
            if doc.norm[i] not in ("low", "high") or not _bare(doc, i, end):
                continue
            opens = (i == begin or doc.tokens[i].brk > 0) and i + 1 < end and doc.tokens[i + 1].brk > 0
            pair = doc.norm[i + 1 : i + 3] in (["and", "high"], ["and", "low"])
            other = doc.norm[max(begin, i - 2) : i] in (["low", "and"], ["high", "and"])
            if opens or pair or other or (i > begin and doc.norm[i - 1] == "on"):
                take_over(doc, i, i + 1, "stage", doc.norm[i])


def _by_number(doc: Doc, m: Mention) -> str:
    return next((_ORDINALS[w] for w in doc.norm[m.start : m.stop] if w in _ORDINALS), "")


def _low_or_high(doc: Doc, m: Mention) -> bool:
    return m.stop - m.start == 1 and doc.norm[m.start] in ("low", "high")


def _bare(doc: Doc, i: int, end: int) -> bool:
    owner = doc.owner[i]
    if owner is not None and (owner.kind != "word" or owner.stop - owner.start > 1):
        return False
    return i + 1 >= end or doc.tokens[i + 1].brk > 0 or doc.norm[i + 1] not in _BEHIND_NO_STAGE


def in_pairs(doc: Doc, drafts: list[Draft], begin: int, end: int) -> None:
    """ "Manifold, low and high, found one nine and three one, left one seven and three five": in the order named."""
    named = [m for m in doc.within(begin, end) if m.kind == "stage" and m.slug]
    fired = [d for d in drafts if d.point in _FIRED and d.basis == "measured"]
    if len(named) != 2 or len(fired) < 2 or len(fired) % 2 or named[0].slug == named[1].slug:
        return
    if named[1].stop > fired[0].start or not all(
        doc.norm[i] in ("and", "fire", "stage", "then", "the") for i in range(named[0].stop, named[1].start)
    ):
        return
    if any(a.point != b.point for a, b in zip(fired[::2], fired[1::2], strict=True)):
        return
    for k, d in enumerate(fired):
        d.stage = named[k % 2].slug


def under_headings(doc: Doc, by_sentence: dict[int, list[Draft]]) -> None:
    """Give what is read below "Low fire." its stage, up to the next heading, machine or cooling circuit.

    Below "Low fire, then high fire." the two values of every point are taken in that order.
    """
    stages: list[str] = []
    tag: str | None = None
    for number, begin, end in doc.numbered_sentences():
        here = by_sentence.get(number, [])
        named = [m for m in doc.within(begin, end) if m.kind == "stage"]
        if named and not here and _heads(doc, named, begin, end):
            stages = [s for s in (m.slug or _by_number(doc, m) for m in named) if s]
            tag = doc.tag_at[named[-1].start]
            continue
        if any(m.kind == "machine" for m in doc.within(begin, end)):
            stages = []
        if not stages or not here:
            continue
        if doc.tag_at[here[0].at] != tag or any(d.point in _COLD for d in here) or named:
            stages = []
            continue
        fired = [d for d in here if d.stage is None and d.point in _FIRED and d.basis == "measured"]
        for point in {d.point for d in fired}:
            alike = [d for d in fired if d.point == point]
            if len(stages) == 1 or len(alike) == len(stages):
                for k, d in enumerate(alike):
                    d.stage = stages[k % len(stages)]


def _heads(doc: Doc, named: list[Mention], begin: int, end: int) -> bool:
    if len(named) > 2 or end - begin > _LONGEST * len(named) or len({m.slug for m in named}) < len(named):
        return False
    inside = {i for m in named for i in range(m.start, m.stop)}
    rest = [doc.norm[i] for i in range(begin, end) if i not in inside]
    machines = {w for m in doc.within(begin, end) if m.kind == "machine" for w in doc.norm[m.start : m.stop]}
    return all(w in _SMALL or w in machines for w in rest)
