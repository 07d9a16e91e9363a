"""Two numbers that are one: ranges, the two voltages of a plate; and a unit that is the name of what comes next."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.numbers import Number
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.unit_behind import Unit
from hatchnote.notes.wordlists import words

_RATED_PAIRS = frozenset({115, 120, 200, 208, 220, 230, 240, 277, 440, 460, 480, 575, 370, 380, 400, 415})
_TWO_RATINGS = frozenset({(115, 230), (120, 208), (120, 240), (200, 230), (208, 230), (208, 240), (230, 460)})
"""Voltages that one plate gives together (nominal and utilization voltages of ANSI C84.1)."""


def two_ratings(doc: Doc, numbers: list[Number], k: int) -> bool:
    """ "Plate says two oh eight two thirty": the two voltages of a plate, run together and alone."""
    a, b = numbers[k], numbers[k + 1]
    if (a.value, b.value) not in _TWO_RATINGS or b.start != a.stop or doc.tokens[b.start].brk:
        return False
    third = numbers[k + 2] if k + 2 < len(numbers) else None
    before = numbers[k - 1] if k else None
    listed = third is not None and third.start - b.stop <= 1 and _line_volts(third)
    return not listed and not (before is not None and a.start - before.stop <= 1 and _line_volts(before))


def _line_volts(number: Number) -> bool:
    return 100 <= number.value <= 600


def is_range(doc: Doc, a: Number, b: Number) -> bool:
    """Two numbers joined by "to" are a range where the second is larger and nothing was moved from one to the other."""
    if b.link == "slash" and not (a.value in _RATED_PAIRS and b.value in _RATED_PAIRS):
        return False
    if _swings(doc, a):
        return a.value != b.value
    if not 0 <= a.value < b.value or b.value > 3 * max(a.value, 0.1):
        return False
    back = a.start - 1
    for i in range(back, max(back - 8, -1), -1):
        if doc.tokens[i + 1].brk > 1:
            break
        if doc.norm[i] in ("from", "went", "bumped", "raised", "dropped", "moved", "changed", "swapped"):
            return False
    return True


_SWINGS = words(
    """
    swings swinging swung hunts hunting hunted bounces bouncing bounced wanders wandering wandered varies varying varied
    fluctuates fluctuating fluctuated ranges ranging ranged floats floating floated drifts drifting cycles cycling
    jumps jumping bounce swing hunt vary fluctuate wander anywhere
    """
)
_SWING_BACK = 7


def _swings(doc: Doc, a: Number) -> bool:
    """ "Superheat swings from four to thirty", "hunting between two and eighteen": it is never either for long."""
    i = a.start - 1
    while i >= 0 and a.start - i < _SWING_BACK and not doc.tokens[i + 1].brk:
        if doc.norm[i] in _SWINGS:
            return (
                doc.norm[a.start - 1] in ("from", "between") or doc.norm[i] == "anywhere" or i == a.start - 1
            )
        i -= 1
    return False


_LEAST_VOLTS = 18.0
_MOST_AMPS = 100.0


def heads_next(doc: Doc, number: Number, unit: Unit) -> bool:
    """ "Three eight, three seven volts two oh nine": told without a pause, the unit is the name of the next row."""
    at = unit.stop
    if (
        unit.ucum not in ("V", "A")
        or at >= len(doc.tokens)
        or doc.tokens[at].brk
        or doc.tokens[number.stop].brk
    ):
        return False
    if doc.tokens[at].kind != "n" and CLASS.get(doc.norm[at], ".") not in "dtx":
        return False
    return number.value < _LEAST_VOLTS if unit.ucum == "V" else number.value >= _MOST_AMPS
