"""Finding units in a row of tokens: one tree of all their forms, and what a neighbouring word decides.

The public door is `hatchnote.notes.units`, which loads the tree from models/vocabulary/units.toml.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from hatchnote.measures import is_known
from hatchnote.notes.tokens import Token

LEAF = ""
"""The key under which a branch of the tree keeps what its form means."""


class Unit(NamedTuple):
    """One unit: UCUM code, the text beside a number, what it measures, and how two bare figures of it are meant."""

    ucum: str
    name: str
    kind: str
    said: str = "whole"


class Meaning(NamedTuple):
    """One meaning of an ambiguous word; `unit.ucum` is "" where the word is no unit."""

    unit: Unit
    near: frozenset[str]


class UnitMatch(NamedTuple):
    stop: int
    unit: Unit
    others: tuple[Unit, ...] = ()
    """The other meanings of an ambiguous word."""


Entry = Unit | tuple[Meaning, ...]
_REACH_BACK, _REACH_ON = 14, 6
_TIMES = frozenset(["s", "min", "h", "d", "wk", "mo", "a"])
_RAISED = {2: "²", 3: "³", -1: "⁻¹"}
_POWERS = {"²": 2, "³": 3, "squared": 2, "cubed": 3}


class Units:
    """All unit forms in one tree of tokens."""

    def __init__(self) -> None:
        self.tree: dict[str, Any] = {}
        self.symbols: dict[str, Unit] = {}
        self.glued: dict[str, Unit] = {}
        self.by_ucum: dict[str, Unit] = {}
        self.dictated: dict[str, tuple[str, float]] = {}
        """Words of a form as dictations are read by it: UCUM code, and the factor for it."""

    def match(self, tokens: Sequence[Token], at: int, *, written: bool = True) -> UnitMatch | None:
        """The longest unit that begins at token `at`.

        `written` says the number before it is in figures; one-letter symbols count only then.
        """
        if at >= len(tokens):
            return None
        found = self._simple(tokens, at, written)
        if found is None or found.stop >= len(tokens):
            return found
        return self._compound(tokens, at, found) or found

    def _simple(self, tokens: Sequence[Token], at: int, written: bool) -> UnitMatch | None:
        node = self.tree.get(tokens[at].lower)
        best: Entry | None = None
        stop = at
        i = at + 1
        n = len(tokens)
        while node is not None:
            entry = node.get(LEAF)
            if entry is not None:
                best, stop = entry, i
            if i >= n or tokens[i].brk:
                break
            node = node.get(tokens[i].lower)
            i += 1
        if stop <= at + 1:
            symbol = self.symbols.get(tokens[at].text)
            if symbol is None and written and tokens[at].glued:
                symbol = self.glued.get(tokens[at].text)
            if symbol is not None and (written or tokens[at].text in ("F", "C", "V", "A")):
                mark = not tokens[at].text[0].isalpha()
                alone = mark or at + 1 >= n or not _runs_on(tokens[at + 1], symbol)
                if alone and not _spelled(tokens, at):
                    return UnitMatch(at + 1, symbol)
        if best is None:
            return None
        if isinstance(best, Unit):
            return UnitMatch(stop, best)
        return _settle(tokens, at, stop, best)

    def _compound(self, tokens: Sequence[Token], at: int, first: UnitMatch) -> UnitMatch | None:
        """ "gallons per day", "m/s²", "kg / m³": a unit divided by another, or raised to a power."""
        stop, unit = first.stop, first.unit
        mark = tokens[stop]
        if mark.brk:
            return None
        power, end = _power(tokens, stop)
        if power and unit.ucum[-1:].isalpha():
            raised = _made(unit, f"{unit.ucum}{power}", f"{unit.name}{_RAISED.get(power, power)}")
            if raised is not unit:
                unit, stop = raised, end
                if stop >= len(tokens):
                    return UnitMatch(stop, unit)
                mark = tokens[stop]
        word = mark.lower
        if word in ("per", "/", "a", "an", "every") and stop + 1 < len(tokens) and "/" not in unit.ucum:
            second = self._simple(tokens, stop + 1, True)
            if second is not None and second.unit.ucum and "/" not in second.unit.ucum:
                below = second.unit
                timed = below.ucum in _TIMES and unit.kind not in ("time", "voltage", "temperature")
                if word in ("per", "/") or timed:
                    end = second.stop
                    code, name = below.ucum, below.name
                    power, raised_end = _power(tokens, end) if end < len(tokens) else (0, end)
                    if power > 0:
                        code, name, end = f"{code}{power}", f"{name}{_RAISED.get(power, power)}", raised_end
                    made = _made(unit, f"{unit.ucum}/{code}", f"{unit.name}/{name}")
                    if made is not unit:
                        return UnitMatch(end, made)
        return UnitMatch(stop, unit) if stop > first.stop else None


def _power(tokens: Sequence[Token], at: int) -> tuple[int, int]:
    """The power written at token `at` ("²", "^3", "-1", "squared", "2" glued on) and where it ends; 0 for none."""
    mark = tokens[at]
    named = _POWERS.get(mark.lower, 0)
    if named:
        return (named, at + 1) if mark.glued or mark.kind == "w" else (0, at)
    if not mark.glued:
        return 0, at
    if mark.text in ("2", "3"):
        return int(mark.text), at + 1
    if at + 1 < len(tokens) and tokens[at + 1].glued and tokens[at + 1].text in ("1", "2", "3"):
        if mark.text == "^":
            return int(tokens[at + 1].text), at + 2
        if mark.text in "-−":
            return -int(tokens[at + 1].text), at + 2
    return 0, at


@lru_cache(maxsize=4096)
def _made(unit: Unit, ucum: str, name: str) -> Unit:
    """The compound unit, or `unit` itself where UCUM has no such code."""
    return Unit(ucum, name, "compound", unit.said) if is_known(ucum) else unit


def _runs_on(after: Token, symbol: Unit) -> bool:
    """Letters or figures glued to a symbol make it part of something else; the 2 of "m2" is a power."""
    power = after.text in ("2", "3") and symbol.kind in ("length", "time")
    return after.glued and after.kind in "wn" and not power


def _spelled(tokens: Sequence[Token], at: int) -> bool:
    """A letter followed by more single letters is an abbreviation being spelled ("two C O"), no symbol."""
    return (
        at + 1 < len(tokens)
        and len(tokens[at].text) == 1
        and not tokens[at + 1].brk
        and len(tokens[at + 1].text) == 1
        and tokens[at + 1].kind == "w"
        and tokens[at + 1].lower != "a"
        and tokens[at + 1].text.isupper()
    )


def _settle(tokens: Sequence[Token], at: int, stop: int, meanings: tuple[Meaning, ...]) -> UnitMatch:
    """The meaning whose telling word stands nearest in the sentence; the first where there is none."""
    best, nearest = meanings[0].unit, 1e9
    i, reach = at - 1, 0
    while i >= 0 and reach < _REACH_BACK:
        if tokens[i + 1].brk > 1:
            break
        reach += 1
        if reach >= nearest:
            break
        word = tokens[i].lower.removesuffix("'s")
        for meaning in meanings:
            if word in meaning.near:
                best, nearest = meaning.unit, float(reach)
                break
        i -= 1
    i, reach, clauses = stop, 0, 0
    while i < len(tokens) and reach < _REACH_ON and tokens[i].brk < 2:
        reach += 1
        clauses += tokens[i].brk
        distance = reach + (0.5 if reach == 1 else 1.5) + 6 * clauses
        if distance >= nearest:
            break
        word = tokens[i].lower.removesuffix("'s")
        for meaning in meanings:
            if word in meaning.near:
                best, nearest = meaning.unit, distance
                break
        i += 1
    return UnitMatch(stop, best, tuple(m.unit for m in meanings if m.unit.ucum and m.unit.ucum != best.ucum))
