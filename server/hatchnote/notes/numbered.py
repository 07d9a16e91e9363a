"""Machines told by their number alone, in a dictation that names no machine in full."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.part_numbers import NUMBERED
from hatchnote.notes.wordlists import words

_OPENING = frozenset(
    ["so", "then", "okay", "ok", "now", "and", "next", "first", "this", "is", "it's", "that's", "on"]
)
_GOES_ON = frozenset(["", "first", "at", "the", "next", "up", "over", "is", "has", "had", "was", "here"])


_ROW = frozenset(["on", "for", "units"])
_TOLD = words("is are was were reads read had has have at got ran came i all") | {""}
_MOST = 40
_LEAST_UNSURE = 3
_PARTS = 4
"""A rooftop machine mostly has no more of a kind (common practice, no source)."""


def row_on(doc: Doc) -> None:
    """ "Manifold on one, two and three was 3.5, 3.4 and 3.1": machines in a row by number alone, marked.

    Two numbers may be circuits or compressors where a refrigerant's reading is told; three are machines.
    """
    single = any(m.kind == "machine" for m in doc.mentions)
    several = len({m.slug for m in doc.mentions if m.kind == "machine"}) > 1
    if several or any(m.kind == "machines" for m in doc.mentions):
        return
    for begin, end in doc.sentences:
        for i in range(begin + 1, end - 2):
            if doc.norm[i] not in _ROW or doc.tokens[i + 1].brk:
                continue
            numbers, stop = _row(doc, i + 1, end)
            after = doc.norm[stop] if stop < end and not doc.tokens[stop].brk else ""
            told = doc.owner[stop] if stop < end else None
            act = told is not None and (
                any(t.form == "past" for t in told.of("verb")) or told.has("condition")
            )
            if len(numbers) < 2 or (after not in _TOLD and not act):
                continue
            if single or not _of_machines(doc, begin, end, len(numbers)):
                _of_one_machine(doc, begin, i, stop, numbers)
                continue
            for other in doc.within(i + 1, stop):
                doc.drop(other)
            tags = [f"RTU-{n}" for n in numbers]
            m = doc.put(Mention("machines", i + 1, stop, slug=",".join(tags)))
            m.number = "on"
            for tag in tags:
                doc.doubtful_tags[tag] = f'heard "{doc.said(i, stop)}": the kind of machine was not said'
    doc.settle()


def _of_one_machine(doc: Doc, begin: int, i: int, stop: int, numbers: list[int]) -> None:
    """ "Compressor amps on one and two", "superheat on one and two": the parts' or the circuits' own numbers."""
    if numbers[-1] > _PARTS or any(o is not None and o.kind != "word" for o in doc.owner[i + 1 : stop]):
        return
    named = [m for m in doc.within(begin, i) if m.comp in NUMBERED and m.kind == "word"]
    told = ",".join(map(str, numbers))
    if named and named[-1].number is not None:
        return
    for other in doc.within(i + 1, stop):
        doc.drop(other)
    if named:
        named[-1].number = told
        doc.put(Mention("number", i + 1, stop, slug=told))
    elif any(doc.vocabulary.points[t.slug].circuit for m in doc.within(begin, i) for t in m.of("point")):
        doc.put(Mention("circuit", i + 1, stop, slug=told, number="on"))


def _row(doc: Doc, at: int, end: int) -> tuple[list[int], int]:
    """Rising numbers with commas and a last "and" between, from token `at`: (numbers, token behind them)."""
    numbers: list[int] = []
    stop = at
    joined = False
    while at < end:
        value = number_word(doc, at)
        owner = doc.owner[at]
        if value is None or not 1 <= value <= _MOST or (owner is not None and owner.kind != "word"):
            break
        if numbers and value <= numbers[-1]:
            break
        numbers.append(value)
        stop = at + 1
        if joined:
            break
        joined = stop < end and doc.norm[stop] == "and"
        at = stop + joined
        if not joined and not (stop < end and doc.tokens[stop].brk == 1):
            break
    return (numbers, stop) if joined else ([], stop)


def _of_machines(doc: Doc, begin: int, end: int, count: int) -> bool:
    here = doc.within(max(0, begin - 12), end)
    if any(m.comp in NUMBERED or m.has("family") or m.kind == "circuit" for m in here):
        return False
    points = [t.slug for m in doc.within(begin, end) for t in m.of("point")]
    return count >= _LEAST_UNSURE or not any(doc.vocabulary.points[p].circuit for p in points)


def unnamed(doc: Doc) -> None:
    """ "So this is number four at the rink": machines told by number alone, marked, since their kind was not said."""
    found: list[tuple[int, str]] = []
    for i, word in enumerate(doc.norm):
        value = number_word(doc, i + 1) if word == "number" else None
        if value is None or not 1 <= value <= 40 or doc.tokens[i + 1].brk:
            continue
        before = "" if not i or doc.tokens[i].brk == 2 else doc.norm[i - 1]
        after = doc.norm[i + 2] if i + 2 < len(doc.norm) and not doc.tokens[i + 2].brk else ""
        if (before and before not in _OPENING) or after not in _GOES_ON:
            continue
        if not found and any(m.comp or m.has("family") for m in doc.within(0, i)):
            return  # it may be the number of a part
        owners = (doc.owner[i], doc.owner[i + 1])
        if all(o is None or o.kind == "word" for o in owners):
            found.append((i, f"RTU-{value}"))
    for i, tag in found:
        for other in doc.within(i, i + 2):
            doc.drop(other)
        m = doc.put(Mention("machine", i, i + 2, slug=tag))
        m.number = "on" if i and doc.norm[i - 1] == "on" else None
        doc.doubtful_tags[tag] = f'heard "{doc.said(i, i + 2)}": the kind of machine was not said'
    doc.settle()
