"""What the second listener heard at a value: the same number, the same figures grouped otherwise, or another number."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from difflib import SequenceMatcher
from itertools import pairwise
from typing import NamedTuple

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.numbers import find_numbers, reread
from hatchnote.notes.numbers.words import classes
from hatchnote.notes.tokens import Token, tokenize

_LOOK_BACK = 12
"""Hearings before a place that may still reach it."""
_MOST_PIECES = 6


class Second(NamedTuple):
    """`parted`: it heard the figures parted where the point of the value is: "18-6" for what was written 186."""

    agrees: bool
    others: tuple[Alternative, ...] = ()
    parted: bool = False


def second_heard(doc: Doc, d: Draft, words: range, times: Sequence[float]) -> Second | None:
    """What was heard a second time at the words of a draft's number; None where nobody listened again.

    `times` are the beginnings of all second hearings.
    """
    if not doc.second or d.value is None or not words or doc.words[words[0]].start is None:
        return None
    begin, end = doc.words[words[0]].start or 0.0, doc.words[words[-1]].end or 0.0
    at = bisect_left(times, end)
    here = [h for h in doc.second[max(0, at - _LOOK_BACK) : at] if h.end > begin and h.start < end]
    if not here:
        return None
    tokens = tokenize(" ".join(h.text for h in here))
    if not find_numbers(tokens):
        return None
    said = doc.tokens[d.source.start : d.source.value.number_stop] if d.source and d.source.value else []
    parted = _parted(tokens, d.value)
    if _parted(tokens, d.value / 10) and not any(n.value == d.value for n in find_numbers(tokens)):
        # "25-1" is no way to say two hundred and fifty one
        return Second(False, (Alternative(d.value / 10, d.ucum, f"{d.value / 10:.10g}"),))
    pounds = _pounds(d, tokens)
    if pounds is not None:
        return Second(False, (pounds,))
    if _same_number(doc, d, tokens) or _same_figures(said, tokens) or parted:
        return Second(True, (), parted)
    share = (begin - here[0].start) / max(0.1, here[-1].end - here[0].start)
    return Second(False, _others(doc, d, tokens, share))


def _pounds(d: Draft, tokens: Sequence[Token]) -> Alternative | None:
    """The weight of "nine pounds six ounces" where the first listener wrote "9.6 ounces"."""
    pounds, _, ounces = f"{d.value:.10g}".partition(".")
    heard = [p.figures for p in _pieces(tokens)]
    if d.ucum != "[oz_av]" or not ounces or not {"pound", "pounds"} & {t.lower for t in tokens}:
        return None
    if (pounds, ounces) not in pairwise(heard) or int(ounces) >= 16:
        return None
    return Alternative(int(pounds) + int(ounces) / 16, "[lb_av]", f"{pounds} lb {ounces} oz")


def _same_number(doc: Doc, d: Draft, tokens: Sequence[Token]) -> bool:
    entry = doc.vocabulary.points[d.point]
    low, high = entry.possible
    numbers = find_numbers(tokens)
    values = {n.value for n in numbers} | {p.value for n in numbers for p in n.alternatives}
    assert d.value is not None
    scale = {1.0, 1000.0, 0.001, 1 / 16} if d.ucum != entry.ucum else {1.0}
    if any(abs(v * s - d.value) < 1e-6 * max(1.0, abs(d.value)) for v in values for s in scale):
        return True
    return any(
        abs(v - d.value) < 1e-6
        for reading in reread(tokens, 0, min(len(tokens), 60), low=low, high=high)[:4]
        for v in reading.values
    )


class _Piece(NamedTuple):
    figures: str
    start: int
    stop: int


def _pieces(tokens: Sequence[Token]) -> list[_Piece]:
    """The figures of every number word or written number, in order: "five one, 18.6" -> 5, 1, 186."""
    shape, values = classes(tokens)
    out: list[_Piece] = []
    for i, c in enumerate(shape):
        if c == "d" and i and shape[i - 1] == "x":
            out[-1] = _Piece(f"{values[i - 1] + values[i]:.0f}", i - 1, i + 1)
        elif c in "dtxzZ":
            out.append(_Piece(f"{values[i]:.0f}", i, i + 1))
        elif c in "ND":
            out.append(_Piece(tokens[i].text.replace(",", "").replace(".", ""), i, i + 1))
        elif c in "HQo":
            out.append(_Piece(f"/{values[i]:.0f}", i, i + 1))
        elif c == "F" or tokens[i].text == "/":
            out.append(_Piece(tokens[i].text, i, i + 1))
    return out


def _same_figures(said: Sequence[Token], heard: Sequence[Token]) -> bool:
    """Whether the figures of a number said in several pieces stand in what was heard, at the edges of its pieces.

    "7 decimal 4" in "7 decimals, 4 inches", "5.1" in "5-1, 5-3": where the point is, the first listener wrote. A number
    of one piece is no such evidence: 15 is not 1.5. Of "nine and a quarter" the second may have heard the
    beginning only, which is no other number.
    """
    mine, theirs = [p.figures for p in _pieces(said)], [p.figures for p in _pieces(heard)]
    if not mine:
        return False
    whole = "".join(mine)
    for i in range(len(theirs)):
        text = ""
        for k in range(i, min(i + _MOST_PIECES, len(theirs))):
            text += theirs[k]
            if text == whole and (k > i or len(mine) > 1):
                return True
            if len(text) >= len(whole):
                break
    tail = [t.lower for t in heard[-2:]]
    cut_off = tail[-1:] == ["and"] or tail == ["and", "a"]
    return cut_off and len(mine) == 2 and mine[1].startswith("/") and mine[0] in theirs


def _parted(heard: Sequence[Token], value: float) -> bool:
    """Whether two numbers of the hearing stand side by side that are the value before and behind its point."""
    whole, _, part = f"{abs(value):.10g}".partition(".")
    if len(part) != 1 or len(whole) < 2:
        return False
    pieces = _pieces(heard)
    for a, b in pairwise(pieces):
        dash = b.start - a.stop == 1 and heard[a.stop].text == "-"
        if (dash or b.start == a.stop) and not heard[b.start].brk and (a.figures, b.figures) == (whole, part):
            return True
    return False


def _others(doc: Doc, d: Draft, tokens: Sequence[Token], share: float) -> tuple[Alternative, ...]:
    """What the value can be by the second hearing, likeliest first; `share` is where in it the value stands, 0 to 1."""
    low, high = doc.vocabulary.points[d.point].possible
    others = [n for n in find_numbers(tokens) if low <= n.value <= high]
    # What shares its figures is more likely the same number than what merely stands near.
    figures = f"{d.value:.10g}"
    others.sort(
        key=lambda n: (
            -round(SequenceMatcher(None, figures, f"{n.value:.10g}").ratio(), 1),
            abs(n.start / max(1, len(tokens)) - share),
        )
    )
    return tuple(Alternative(n.value, d.ucum, f"{n.value:.10g}") for n in others[:2])
