"""Numbers written in figures: fractions, mixed numbers, times of day, dates, telephone numbers, powers of ten."""

from __future__ import annotations

from collections.abc import Sequence

from hatchnote.notes.numbers.grammar import Match, match
from hatchnote.notes.tokens import Token

_DENOMINATORS = frozenset([2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 32, 64, 100, 128])
_ORDINAL_ENDINGS = frozenset(["st", "nd", "rd", "th"])
_SUPERSCRIPT = {"²": 2, "³": 3}


def written(tokens: Sequence[Token], shape: str, values: list[float], at: int, stop: int) -> Match | None:
    """The number written at token `at` (a sign, figures or a fraction character), or None.

    `stop` bounds the clause. Spoken tails ("3 and a half", "1.5 million") are the grammar's.
    """
    sign = 1.0
    begin = at
    if shape[at] == "S":
        if not _is_minus(tokens, shape, at):
            return None
        sign, begin = -1.0, at + 1
    c = shape[begin]
    if c == "F":
        return Match(begin + 1, sign * values[begin], "fraction")
    found = _special(tokens, shape, values, begin, stop)
    if found is None:
        found = match(shape, values, begin, stop) or Match(begin + 1, values[begin], "written")
    return Match(found.stop, sign * found.value, found.style)


def _is_minus(tokens: Sequence[Token], shape: str, at: int) -> bool:
    """A dash is a minus sign where it touches the figure after it and nothing before it."""
    if not tokens[at + 1].glued:
        return False
    if at == 0 or tokens[at].brk:
        return True
    if tokens[at].glued:
        return tokens[at - 1].text in "=~≈<>/@"
    return shape[at - 1] not in "ND" or not tokens[at + 1].glued


def _special(tokens: Sequence[Token], shape: str, values: list[float], at: int, stop: int) -> Match | None:
    """Figures that continue in one of the written patterns."""
    value = values[at]
    after = at + 1
    if after >= len(tokens):
        return None
    c = shape[after]
    gap = tokens[after].gap
    if c == "F" and after < stop and gap in ("", " "):
        return Match(after + 1, value + values[after], "mixed")
    if shape[at] == "D":
        return _power(tokens, shape, values, at, stop)
    if c == "N" and gap == ":":
        return _clock(tokens, shape, values, at)
    if c == "." and gap == "" and tokens[after].lower in _ORDINAL_ENDINGS:
        return Match(after + 1, value, "ordinal")
    if c == "/" and gap == "" and _pattern(shape, tokens, after, "/N"):
        return _stroke(tokens, shape, values, at)
    if c == "S" and gap == "" and _pattern(shape, tokens, after, "SN"):
        if _pattern(shape, tokens, after, "SN/N") and _proper(values[after + 1], values[after + 3]):
            return Match(after + 4, value + values[after + 1] / values[after + 3], "mixed")
        return _dashes(tokens, shape, at, value)
    if c == "a" and after + 1 < stop and shape[after + 1] in "FN":
        if shape[after + 1] == "F":
            return Match(after + 2, value + values[after + 1], "mixed")
        if _pattern(shape, tokens, after + 2, "/N") and _proper(values[after + 1], values[after + 3]):
            return Match(after + 4, value + values[after + 1] / values[after + 3], "mixed")
    if c == "N" and gap == " " and _pattern(shape, tokens, after + 1, "/N"):
        top, below = values[after], values[after + 2]
        if _proper(top, below) and not _pattern(shape, tokens, after + 3, "/N"):
            return Match(after + 3, value + top / below, "mixed")
    return _power(tokens, shape, values, at, stop)


def _pattern(shape: str, tokens: Sequence[Token], at: int, wanted: str) -> bool:
    """Whether the class letters `wanted` follow at `at`, all glued together."""
    if not shape.startswith(wanted, at):
        return False
    return all(tokens[i].gap == "" for i in range(at, at + len(wanted)))


def _proper(top: float, below: float) -> bool:
    return 0 < top < below and below in _DENOMINATORS


def _clock(tokens: Sequence[Token], shape: str, values: list[float], at: int) -> Match:
    stop = at + 2
    minutes = values[at] + values[at + 1] / 60
    if stop < len(tokens) and shape[stop] in "ND" and tokens[stop].gap == ":":
        stop += 1
    return Match(stop, minutes, "time")


def _stroke(tokens: Sequence[Token], shape: str, values: list[float], at: int) -> Match | None:
    top, below = values[at], values[at + 2]
    if _pattern(shape, tokens, at + 3, "/N"):
        return Match(at + 5, top, "date") if top <= 31 and below <= 31 else None
    if _proper(top, below):
        return Match(at + 3, top / below, "fraction")
    return None


def _dashes(tokens: Sequence[Token], shape: str, at: int, value: float) -> Match | None:
    """555-123-4567, 2026-11-25, 11-25-2026: telephone numbers and dates."""
    run = [tokens[at].text]
    stop = at + 1
    while len(run) < 5 and _pattern(shape, tokens, stop, "SN"):
        run.append(tokens[stop + 1].text)
        stop += 2
    lengths = [len(text) for text in run]
    if lengths in ([3, 3, 4], [1, 3, 3, 4], [3, 4]):
        return Match(stop, value, "phone")
    if (
        len(run) == 3
        and (lengths[0] == 4 or lengths[2] in (2, 4))
        and max(lengths[1:]) <= 4
        and lengths[1] <= 2
    ):
        return Match(stop, value, "date")
    return None


def _power(tokens: Sequence[Token], shape: str, values: list[float], at: int, stop: int) -> Match | None:
    """1.5e3, 1.5 x 10^3, 10^6, 3 × 10³."""
    after = at + 1
    if after + 1 < stop and tokens[after].lower == "e" and tokens[after].glued and tokens[after + 1].glued:
        negative = shape[after + 1] == "S" and after + 2 < stop
        digits = after + 2 if negative else after + 1
        if shape[digits] == "N" and values[digits] < 300:
            return Match(
                digits + 1, _scaled(values[at], -values[digits] if negative else values[digits]), "power"
            )
    base, factor = at, 1.0
    if after + 2 < stop and tokens[after].text in ("x", "×", "*", "·") and shape[after + 1] == "N":
        if values[after + 1] != 10:
            return None
        base, factor = after + 1, values[at]
    if shape[base] != "N" or values[base] != 10 or base + 1 >= stop:
        return None
    mark = tokens[base + 1]
    if mark.text in _SUPERSCRIPT and mark.glued:
        return Match(base + 2, _scaled(factor, _SUPERSCRIPT[mark.text]), "power")
    if base != at and shape[base + 1] == "S" and mark.glued and base + 2 < stop and shape[base + 2] == "N":
        return Match(base + 3, _scaled(factor, -min(values[base + 2], 300.0)), "power")  # 5.5x10-3
    if mark.text == "^":
        negative = base + 2 < stop and shape[base + 2] == "S"
        digits = base + 3 if negative else base + 2
        if digits < stop and shape[digits] == "N" and values[digits] < 300:
            return Match(
                digits + 1, _scaled(factor, -values[digits] if negative else values[digits]), "power"
            )
    return None


def _scaled(value: float, power: float) -> float:
    return float(f"{value!r}e{int(power)}") if "e" not in repr(value) else value * 10.0**power
