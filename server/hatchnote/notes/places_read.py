"""Where a point was read and at which stage: in the flue or a room, on a side, at low or high fire, of which line."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.subjects import Line, Subject, doc_words

STAGED = frozenset({"manifold-pressure", "co", "oxygen", "stack-temperature", "flame-signal"})
"""Points at which "high" and "low" are firing stages, no sides of the circuit."""


FIRED = frozenset({"temperature-rise", "gas-input", "flame-signal", "draft", "inlet-gas-pressure"})
"""Points that are read at a firing stage where one is named."""


def of_a_speed(line: Line, m: Mention) -> bool:
    """ "One thirty eight on low and one sixty on high": a stage of what was read, no side of the circuit."""
    last = line.made[-1] if line.made else None
    if last is None or line.doc.norm[m.start - 1] != "on" or line.points[last.point].circuit:
        return False
    return m.start - last.stop <= 2


_LINES = {"suction-pressure": "suction-line-temperature", "liquid-pressure": "liquid-line-temperature"}


_WARM = (20, 140)
"""°F: what a refrigerant line can be, and no line voltage."""


def line_of(line: Line, k: int) -> str | None:
    """ "Suction sixty eight, line's fifty one": the line whose pressure was just told, not the volts of one."""
    m = line.items[k]
    if doc_words(line.doc, m) != "line" or not line.made:
        return None
    warmth = _LINES.get(line.made[-1].point)
    nxt = line.items[k + 1] if k + 1 < len(line.items) else None
    if warmth is None or nxt is None or nxt.value is None or nxt.value.ucum not in (None, "[degF]"):
        return None
    return warmth if _WARM[0] <= nxt.value.first <= _WARM[1] else None


def side_behind(line: Line, m: Mention) -> bool:
    """ "Point eight supply, minus point five return": a side right behind a static is where it was read."""
    last = line.made[-1] if line.made else None
    if (
        last is None
        or last.point not in ("static-pressure", "humidity")
        or last.position
        or m.start - last.stop > 2
    ):
        return False
    tokens, norm = line.doc.tokens, line.doc.norm
    closed = m.stop >= line.end or tokens[m.stop].brk or norm[m.stop] in ("and", "but", "side")
    joined = not any(tokens[i].brk for i in range(last.stop, m.start + 1))
    between = all(w in ("on", "the", "at", "in") for w in norm[last.stop : m.start])
    if not (closed and joined and between and norm[m.start] in line.points[last.point].positions):
        return False
    m.claimed = "position"
    return True


def of_the_room(line: Line, m: Mention) -> bool:
    """ "C O ambient zero": where the gas was measured, no air's warmth."""
    waiting = line.subject is not None and not line.subject.used and line.subject.points[:1] == ["co"]
    return waiting and doc_words(line.doc, m) in ("ambient", "room", "space")


def in_the_flue(line: Line, m: Mention) -> bool:
    """ "C O up the flue is three ninety": where the gas was measured, not how warm it was there."""
    doc = line.doc
    if doc_words(doc, m) not in ("flue", "stack", "vent", "exhaust"):
        return False
    waiting = line.subject is not None and line.subject.points[:1] in (["co"], ["oxygen"])
    if not waiting and not (line.made and line.made[-1].point == "co"):
        return False
    if not waiting and line.subject is not None:
        line.subject = Subject(["co"], m.start, position="flue", mention=m)
    before = [w for w in doc.norm[max(line.begin, m.start - 2) : m.start] if w != "the"]
    return not doc.tokens[m.start].brk and before[-1:] in (
        ["in"],
        ["up"],
        ["from"],
        ["through"],
        ["out"],
        ["inside"],
    )


def staged(line: Line) -> bool:
    """Whether the firing stage is spoken of: "high" then is no high side."""
    last = line.made[-1] if line.made else line.state.last
    if line.made and last is not None and last.point in FIRED:
        return any(x.kind == "stage" for x in line.items)
    stage = any(x.kind == "stage" for x in line.doc.within(max(0, line.begin - 20), line.end))
    return last is not None and last.point in STAGED and (stage or bool(line.made))


def dioxide(line: Line, m: Mention) -> bool:
    """ "C O two" with no further number behind it is another gas, unless the word was repaired."""
    if (
        any(r.start == m.start for r in line.doc.repairs)
        or m.stop >= line.end
        or line.doc.norm[m.stop] not in ("2", "two")
    ):
        return False
    nxt = m.stop + 1
    return nxt >= line.end or not (
        line.doc.tokens[nxt].kind == "n" or CLASS.get(line.doc.norm[nxt], ".") in "dtxhpzZ"
    )
