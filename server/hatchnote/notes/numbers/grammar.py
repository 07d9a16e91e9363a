"""The grammar of spoken numbers, written over the class letters of `words`.

`match(shape, values, at, stop)` reads the longest number that begins at one token. Where the same words can be
more than one number ("eleven two") it gives the reading that is commonest with meters and gauges; `readings`
gives all of them.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_C99 = "(?:xd|x|t|d|Z)"
_LOW = "(?:xd|x|t|d|[zZ]d)"
_C999 = f"(?:(?:xd|x|t|d|n|N)h(?:a?{_LOW})?|{_C99})"
_BIG = f"(?:(?:(?:{_C999}|n|N|D)ka?)+{_C999}?(?<!a))"
_HUNDREDS = f"(?:(?:(?:xd|x|t|d|n|N)h|(?<![a-zA-Z])h)(?:a?{_LOW})?)"
_PAIR = "(?:d(?:x(?:d(?![xt]))?|t)|d[zZ]d(?![dzZ])|(?:xd|x|t)(?:[zZ]d|xd|x|t))"
_DIGITS = "(?:[dzZ][dzZ]+(?![xth]))"
_INT = f"(?:{_BIG}|{_HUNDREDS}|{_DIGITS}|{_PAIR}|{_C99}|N|D)"
_SPOKEN_INT = f"(?:{_BIG}|{_HUNDREDS}|{_DIGITS}|{_PAIR}|{_C99})"

_NUMBER = re.compile(
    "m?(?:"
    rf"(?P<decimal>(?:{_SPOKEN_INT}|z|N)?p(?:(?:[dzZ](?!p))+|xd?|t|N)k?)"
    rf"|(?P<mixed>(?:{_INT})a(?:n|d|t|NS?)?(?:xQ|H|Q|o)k?)"
    r"|(?P<fraction>(?:(?:n|d|t|NS?)(?:H|Q|o)|(?:d|t|xd)xQ|xd?Q|H)(?:nk)?)"
    r"|(?P<mixed2>(?:xd|t|d|N)(?:(?:d|t)(?:xQ|Q|o)|NS?Q)(?!h))"
    r"|(?P<joined>(?:d[zZ]d|d(?:xd?|t)|[dzZ]{3,})k(?![dtx]))"
    r"|(?P<ordinal>x?[oO])"
    r"|(?P<buck>[nd]b(?:xd|x|t|[zZ]d))"
    rf"|(?P<big>{_BIG}|{_HUNDREDS})"
    r"|(?P<tenths>(?:t|xd)[dzZ](?![dzZxth])|t[dzZ](?=td)|xd[dzZ](?=xd[dzZ])|(?:dxd|dt|dx(?=[zZ]))[dzZ](?![dzZxthp]))"
    rf"|(?P<digits>{_DIGITS})"
    rf"|(?P<pair>{_PAIR})"
    rf"|(?P<plain>{_C99})"
    ")"
)


class Parse(NamedTuple):
    """One way to read words as a number. `cost` ranks it: 0 is said like this every day, 3 and more hardly ever."""

    value: float
    style: str
    cost: float
    text: str = ""
    """The figures as they would be written, with the zeros that were said: "6.0"."""


class Match(NamedTuple):
    stop: int
    value: float
    style: str


def cardinal(shape: str, values: list[float], start: int, stop: int) -> float:
    """ "two hundred and six thousand", "twenty two hundred", "1.5 million": tens and ones add, scales multiply."""
    total = current = 0.0
    seen = False
    for i in range(start, stop):
        c = shape[i]
        if c in "dtxND":
            current += values[i]
            seen = True
        elif c == "h":
            current = (current if seen else 1) * 100
            seen = True
        elif c == "k":
            total += (current if seen else 1) * values[i]
            current, seen = 0.0, False
    return total + current


def figures(shape: str, values: list[float], start: int, stop: int) -> str:
    """The words as figures side by side: "four seventy eight" -> "478", "two oh eight" -> "208"."""
    return "".join(chunks(shape, values, start, stop))


def chunks(shape: str, values: list[float], start: int, stop: int) -> list[str]:
    """The figures of every part that is said in one breath: "four seventy eight" -> ["4", "78"]."""
    out: list[str] = []
    i = start
    while i < stop:
        c = shape[i]
        if c == "x" and i + 1 < stop and shape[i + 1] == "d":
            out.append(str(int(values[i] + values[i + 1])))
            i += 2
            continue
        if c in "dtxzZN":
            out.append(str(int(values[i])))
        i += 1
    return out


def _decimal(shape: str, values: list[float], start: int, stop: int) -> float:
    point = shape.index("p", start, stop)
    end = stop - 1 if shape[stop - 1] == "k" else stop
    whole = _whole(shape, values, start, point)
    value = float(f"{whole:.0f}.{figures(shape, values, point + 1, end) or '0'}")
    return value * values[stop - 1] if end < stop else value


def _whole(shape: str, values: list[float], start: int, stop: int) -> float:
    if start >= stop:
        return 0.0
    piece = shape[start:stop]
    if "h" in piece or "k" in piece or "D" in piece:
        return cardinal(shape, values, start, stop)
    return float(figures(shape, values, start, stop)[:300] or 0)


def _fraction(shape: str, values: list[float], start: int, stop: int) -> float | None:
    """Value of "a half", "five sixteenths", "nineteen sixty fourths"; None where the words are no fraction."""
    below = values[stop - 1]
    top = stop - 1
    if shape[stop - 1] == "Q" and top - 1 > start and shape[top - 1] == "x":
        tens = values[top - 1]
        if tens not in (30, 60) or below not in (2, 4):
            if shape[top - 2] not in "dt":
                return (cardinal(shape, values, start, top) or 1) / below
            return None
        below += tens
        top -= 1
    above = cardinal(shape, values, start, top) if top > start and shape[start] != "n" else 1.0
    if shape[stop - 1] == "H" and above >= below:
        return None  # "fourteen quarter inch screws": a count, then a size
    return above / below


def match(shape: str, values: list[float], at: int, stop: int) -> Match | None:
    """The number that begins at token `at`, reading no further than `stop`; None where none begins."""
    found = _NUMBER.match(shape, at, stop)
    if found is None:
        return None
    style = found.lastgroup or ""
    start, end = found.span(style)
    value: float | None
    if style == "decimal":
        value = _decimal(shape, values, start, end)
    elif style == "fraction":
        scale = 1.0
        last = end
        if shape[end - 1] == "k":
            scale, last = values[end - 1], end - 2
        value = _fraction(shape, values, start, last)
        if value is None:  # "two half horse motors": a count, then a half
            return _without_fraction(shape, values, at, start, end)
        value *= scale
    elif style in ("mixed", "mixed2"):
        value, style = _mixed(shape, values, start, end), "mixed"
        if value is None:
            return _without_fraction(shape, values, at, start, end)
    elif style == "joined":  # "one eight five thousand": figures, then their scale
        value, style = float(figures(shape, values, start, end - 1)) * values[end - 1], "cardinal"
    elif style == "ordinal":
        value = sum(values[start:end])
    elif style == "buck":
        value = values[start] * 100 + cardinal(shape, values, start + 2, end)
    elif style == "big":
        value, style = cardinal(shape, values, start, end), "cardinal"
    elif style == "tenths":
        text = figures(shape, values, start, end)
        value = float(text[:-1] + "." + text[-1])
    elif style == "plain":
        value, style = cardinal(shape, values, start, end), "cardinal"
    else:
        value = float(figures(shape, values, start, end)[:300])
        if style == "digits" and end - start == 2 and shape[start] == "d":
            value, style = value / 10, "tenths"  # "four two" is 4.2 unless the unit says otherwise
    if shape[at] == "m":
        value = -value
    return Match(end, value, style)


def _without_fraction(shape: str, values: list[float], at: int, start: int, end: int) -> Match | None:
    for stop in range(end - 1, start, -1):
        if shape[stop - 1] not in "an":
            return match(shape, values, at, stop)
    return None


def _mixed(shape: str, values: list[float], start: int, end: int) -> float | None:
    scale, last = (values[end - 1], end - 1) if shape[end - 1] == "k" else (1.0, end)
    joint = shape.rfind("a", start, last)
    if joint < 0:
        joint = begin = start + (2 if shape[start : start + 2] == "xd" else 1)
    else:
        begin = joint + 1
    part = _fraction(shape, values, begin, last)
    if part is None or part >= 1:
        return None
    piece = shape[start:joint]
    whole = values[start] if piece in ("N", "D") else _whole(shape, values, start, joint)
    return (whole + part) * scale


def readings(shape: str, values: list[float], start: int, stop: int) -> list[Parse]:
    """Every plausible way to read tokens `start`..`stop` as ONE number, the likeliest first."""
    negative = shape[start] in "mS"
    begin = start + 1 if negative else start
    out: dict[float, Parse] = {}

    def add(value: float, style: str, cost: float, text: str) -> None:
        if negative:
            value, text = -value, "-" + text
        if value not in out or out[value].cost > cost:
            out[value] = Parse(value, style, cost, text)

    whole = match(shape, values, begin, stop) if begin < stop else None
    piece = shape[begin:stop]
    if whole is not None and whole.stop == stop:
        add(whole.value, whole.style, 0.0, f"{whole.value:.10g}")
    elif piece in ("N", "D"):
        add(values[begin], "written", 0.0, f"{values[begin]:.10g}")
    if piece and set(piece) <= set("dtxzZN"):
        parts = chunks(shape, values, begin, stop)
        for parse in _side_by_side(parts, piece):
            add(*parse)
    return sorted(out.values(), key=lambda p: p.cost)


def _side_by_side(parts: list[str], piece: str) -> list[Parse]:
    """Figures set side by side, with the point unspoken at every place where it may stand."""
    text = "".join(parts)
    if len(text) > 12:
        return []
    out = [Parse(float(text), "side by side", _joint_cost(parts), text)]
    for cut in range(1, len(parts)):
        left, right = "".join(parts[:cut]), "".join(parts[cut:])
        if len(left) > 1 and left[0] == "0":
            continue
        cost = (0.6 if len(right) == 1 else 1.4 + 0.3 * len(right)) + 0.5 * _joint_cost(parts[:cut])
        out.append(Parse(float(f"{left}.{right}"), "point unspoken", cost, f"{left}.{right}"))
    if piece == "N":
        for cut in range(1, len(text)):
            cost = 2.0 + 0.5 * (len(text) - cut)
            out.append(
                Parse(float(f"{text[:cut]}.{text[cut:]}"), "point lost", cost, f"{text[:cut]}.{text[cut:]}")
            )
    return out


def _joint_cost(parts: list[str]) -> float:
    """How unusual it is to say a whole number in these parts."""
    if len(parts) == 1:
        return 0.0
    lengths = [len(p) for p in parts]
    if lengths[0] == 1 and lengths[1:] == [2]:
        return 0.0 if parts[1][0] != "0" else 1.0
    if lengths == [2, 2]:
        return 0.3
    if all(n == 1 for n in lengths):
        return 0.3 if len(parts) > 2 else 0.8
    if lengths[0] == 2 and lengths[1:] == [1, 1] and parts[1] == "0":
        return 0.4
    return 1.5
