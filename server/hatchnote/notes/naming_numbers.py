"""Numbers that name a thing and measure nothing: terminals, breakers, fault codes, "a forty" that is a part."""

from __future__ import annotations

from hatchnote.notes.basis import MOTOR_SPEEDS
from hatchnote.notes.doc import Mention
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.subjects import Line
from hatchnote.notes.wordlists import words

_TERMINALS = words("across terminals terminal pins pin posts post tabs")
_BETWEEN = frozenset({"between", "from"})
_CONTINUITY = words("continuity open closed shorted infinity infinite contact contacts terminals pins")
_NAMED = words("numbers breakers spaces slots codes code faults fault circuits positions switches dips dip")
_OF_A_BOARD = words("breaker breakers space spaces slot slots board panel")
_LETTERS = words("r c y y1 y2 w w1 w2 g o b l n")
_MOST_TERMINALS = 20
_BY_SIZE = frozenset({"run-capacitor", "start-capacitor", "fuse", "disconnect"})
"""Parts whose one number is what they are: "it's a forty" is a reading of these."""


def names_a_thing(line: Line, m: Mention) -> bool:
    """Whether a number without a unit names a terminal, a breaker, a code, or a part by its size."""
    value = m.value
    assert value is not None
    if value.ucum is not None:
        behind = line.doc.norm[m.stop] if m.stop < line.end and not line.doc.tokens[m.stop].brk else ""
        return behind in ("ones", "one") and value.ucum not in ("[degF]", "[psi]")  # "the quarter inch ones"
    sizes = (
        [float(x) for x in value.text.split("-")] if value.text and "-" in value.text[1:] else [value.first]
    )
    if value.text in ("open", "closed") or any(x != int(x) or x < 0 for x in sizes):
        return False
    return _terminal(line, m, sizes) or _of_a_row(line, m) or _by_its_size(line, m)


def _lead(line: Line, at: int) -> tuple[int, int]:
    """Back from token `at` over a row of numbers and terminal letters: (token before the row, numbers passed)."""
    doc, i, count = line.doc, at - 1, 0
    while i >= line.begin:
        word = doc.norm[i]
        number = CLASS.get(word, ".") in "dtx" or doc.tokens[i].kind == "n"
        if not number and word not in _LETTERS and word not in ("and", "to", "or", "&"):
            break
        count += number
        i -= 1
    return i, count


def _terminal(line: Line, m: Mention, sizes: list[float]) -> bool:
    """ "No continuity across two and four", "open between one and three", "pins 3 and 5"."""
    doc = line.doc
    if max(sizes) > _MOST_TERMINALS or m.stop - m.start > (3 if len(sizes) > 1 else 1):
        return False
    lead, passed = _lead(line, m.start)
    if lead < line.begin:
        return False
    nxt = doc.norm[m.stop] if m.stop < line.end and not doc.tokens[m.stop].brk else ""
    several = bool(passed) or len(sizes) > 1 or nxt in ("and", "to")
    if not several:
        return False
    if doc.norm[lead] in _TERMINALS:
        return True
    low = max(line.begin, lead - 6)
    return doc.norm[lead] in _BETWEEN and bool(_CONTINUITY & {*doc.norm[low:lead]})


def _of_a_row(line: Line, m: Mention) -> bool:
    """ "Breaker number fourteen, sixteen, eighteen", "codes 31, 57 and 93": numbers out of a list of names."""
    doc = line.doc
    lead, passed = _lead(line, m.start)
    if not passed or lead < line.begin:
        return False
    if doc.norm[lead] in _NAMED:
        return True
    return doc.norm[lead] == "number" and bool(_OF_A_BOARD & {*doc.norm[line.begin : lead]})


def _by_its_size(line: Line, m: Mention) -> bool:
    """ "Had a 40 on there that couldn't carry it", "somebody put an 80 in": a part told by its size."""
    doc = line.doc
    if m.start <= line.begin or doc.norm[m.start - 1] not in ("a", "an") or doc.tokens[m.start].brk:
        return False
    before = doc.owner[m.start - 1]
    if before is not None and before.kind in ("circuit", "legs"):
        return False  # "circuit A 118 over 355"
    nxt = doc.owner[m.stop] if m.stop < line.end and not doc.tokens[m.stop].brk else None
    if nxt is not None and (nxt.has("point") or nxt.comp):
        return False
    if m.value is not None and m.value.first in MOTOR_SPEEDS:
        return False  # "the motor's a seventeen twenty five, two horse"
    subject = line.subject
    if subject is not None and subject.strong:
        return False
    comp = subject.comp.comp if subject is not None and subject.comp is not None else ""
    if comp in _BY_SIZE or any(x.comp in _BY_SIZE for x in doc.within(max(0, m.start - 30), m.start)):
        return False
    return not any(d.point == "capacitance" for d in line.made)
