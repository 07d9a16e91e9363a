"""Reading a stretch of words again, now that it is known what was measured and how large it can be.

    reread(tokens, i, j, low=2, high=60, count=3)     "four four two four four four" as amps: 4.4, 2.4, 4.4? or ...

Spoken figures can be cut at many places and the point may be unspoken. The plausible range of the point and the
number of values expected decide; every cut that fits is returned, the likeliest first.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from hatchnote.notes.numbers.grammar import Parse, readings
from hatchnote.notes.numbers.words import classes
from hatchnote.notes.tokens import Token

_MAX_TOKENS = 60
_MAX_GROUP = 9
_KEPT = 12
_BREAK_INSIDE = 1.2
_DASH_INSIDE = 0.8
_CUT_FIGURES = 0.5
_NO_BREAK_BETWEEN = 0.25


class Cut(NamedTuple):
    """One value of a list: the characters it was read from and how it was read."""

    start_char: int
    end_char: int
    parse: Parse


class Rereading(NamedTuple):
    """A whole stretch read as values one after another. Lower `cost` is likelier."""

    cost: float
    cuts: tuple[Cut, ...]

    @property
    def values(self) -> tuple[float, ...]:
        return tuple(cut.parse.value for cut in self.cuts)


class _Unit(NamedTuple):
    """A piece that is never cut further: a word, or one figure of a written number."""

    letter: str
    value: float
    start: int
    end: int
    joint: float
    """What it costs to read on over the gap before this piece inside one number."""
    free: bool
    """A comma or the like stands before it: a list goes on here at no cost."""


def reread(
    tokens: Sequence[Token], start: int, stop: int, *, low: float, high: float, count: int | None = None
) -> list[Rereading]:
    """All ways to read tokens `start`..`stop` as values between `low` and `high`, likeliest first (at most 12).

    `count` asks for exactly so many values. Every number token of the stretch is used; words between that are
    no part of a number ("and", "or", commas) part values. Empty where nothing fits, or the stretch is longer
    than 60 tokens.
    """
    if stop - start > _MAX_TOKENS:
        return []
    pieces = _pieces(tokens[start:stop])
    if not pieces:
        return []
    shape = "".join(p.letter for p in pieces)
    values = [p.value for p in pieces]
    n = len(pieces)
    best: list[list[Rereading]] = [[] for _ in range(n + 1)]
    best[0] = [Rereading(0.0, ())]
    for at in range(n):
        if not best[at]:
            continue
        opening = _opening(pieces[at], at)
        inside = 0.0
        for end in range(at + 1, min(n, at + _MAX_GROUP) + 1):
            if end - 1 > at:
                inside += pieces[end - 1].joint
            for parse in _parses(shape, values, at, end):
                if not low <= parse.value <= high:
                    continue
                cut = Cut(pieces[at].start, pieces[end - 1].end, parse)
                cost = parse.cost + inside + opening
                best[end].extend(Rereading(r.cost + cost, (*r.cuts, cut)) for r in best[at])
        for end in range(at + 1, min(n, at + _MAX_GROUP) + 1):
            if len(best[end]) > 4 * _KEPT:
                best[end] = _shortlist(best[end], count)
    final = [r for r in best[n] if count is None or len(r.cuts) == count]
    final = [Rereading(round(r.cost + _unevenness(r), 3), r.cuts) for r in final]
    return sorted(final, key=lambda r: r.cost)[:_KEPT]


def _opening(piece: _Unit, at: int) -> float:
    """What it costs to begin a new value before `piece`."""
    if at == 0 or piece.free:
        return 0.0
    return _NO_BREAK_BETWEEN + (_CUT_FIGURES if piece.joint == 0 and piece.letter == "N" else 0.0)


def _shortlist(found: list[Rereading], count: int | None) -> list[Rereading]:
    found = [r for r in found if count is None or len(r.cuts) <= count]
    return sorted(found, key=lambda r: r.cost + _unevenness(r))[: 2 * _KEPT]


def _unevenness(reading: Rereading) -> float:
    """Values of one list are said in one manner and lie near each other."""
    if len(reading.cuts) < 2:
        return 0.0
    places = {len(cut.parse.text.partition(".")[2]) for cut in reading.cuts}
    sizes = [abs(value) for value in reading.values if value]
    spread = max(sizes) / min(sizes) if sizes else 1.0
    return 1.5 * (len(places) - 1) + (0.0 if spread < 1.5 else 0.4 if spread < 4 else 1.0)


def _parses(shape: str, values: list[float], at: int, end: int) -> list[Parse]:
    if shape[at] in "ap" and end - at == 1:
        return []
    if set(shape[at:end]) == {"N"}:  # figures of one or several written numbers, side by side
        text = "".join(str(int(v)) for v in values[at:end])
        whole = Parse(float(text), "written", 0.0, text)
        points = []
        for cut in range(1, len(text)):
            written = f"{text[:cut]}.{text[cut:]}"
            points.append(Parse(float(written), "point lost", 0.4 + 0.8 * (len(text) - cut - 1), written))
        return [whole, *points] if len(text) == 1 or text[0] != "0" else points
    return readings(shape, values, at, end)


def _pieces(tokens: Sequence[Token]) -> list[_Unit]:
    shape, values = classes(tokens)
    out: list[_Unit] = []
    free = False
    joint = 0.3
    for i, token in enumerate(tokens):
        letter = shape[i]
        parted = token.brk > 0 or free
        dash = letter == "S" and bool(out) and token.glued
        if letter == "." or dash or (letter == "a" and not _inside_a_number(shape, i)):
            free = free or letter != "S"
            joint = _DASH_INSIDE
            if letter == "." and token.lower not in ("or", "to", "&", "then"):
                joint = 9.0
            continue
        gap_cost = (
            _BREAK_INSIDE if token.brk else joint if joint != 0.3 else 0.0 if letter not in "N" else 0.4
        )
        if letter == "N" and token.text.isdigit() and len(token.text) <= 12:
            for k, figure in enumerate(token.text):
                at, first = token.start + k, k == 0
                out.append(
                    _Unit("N", float(figure), at, at + 1, gap_cost if first else 0.0, parted and first)
                )
        else:
            out.append(_Unit(letter, values[i], token.start, token.end, gap_cost, parted))
        free, joint = False, 0.3
    return out


def _inside_a_number(shape: str, at: int) -> bool:
    return (
        0 < at < len(shape) - 1
        and shape[at - 1] in "hkdtxN"
        and shape[at + 1] in "ndtx"
        and (shape[at - 1] in "hk" or shape[at + 1 : at + 3] in ("nH", "nQ", "no", "dQ", "do", "dH"))
    )
