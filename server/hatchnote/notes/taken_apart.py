"""Figures as recognisers write them, taken apart or put together: "L2478", "3-8ths", "13-4", "4.10"."""

from __future__ import annotations

import re

from hatchnote.notes.amounts import put_value
from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.numbers import Number, Parse
from hatchnote.notes.numbers.words import CLASS, VALUE
from hatchnote.notes.unit_behind import INCHES, unit_after

_BELOW = frozenset({"2", "4", "8", "16", "32", "64"})
_JOINED = re.compile(r"([1-9]\d?)(16|32|64)|([1357])(8)")
_PARTS = {"8ths": 8, "16ths": 16, "32nds": 32, "64ths": 64, "eighths": 8, "sixteenths": 16}
_ORDINAL = ("th", "ths", "s", "nd", "nds")


def eighths(doc: Doc) -> None:
    """ "3-8th", "7 16th", "716th", "5, 16ths": a fraction as recognisers write it.

    One that ends in s, without a comma in it, is read with the numbers already.
    """
    for i in range(len(doc.tokens) - 1):
        if doc.tokens[i].kind != "n" or not doc.tokens[i].text.isdigit():
            continue
        if _and_and(doc, i):
            continue
        if doc.norm[i + 1] in _PARTS and doc.tokens[i + 1].gap == ", ":
            top, under = int(doc.tokens[i].text), _PARTS[doc.norm[i + 1]]
            if top % 2:
                _part(doc, i, i + 2, top, under, f'heard "{doc.said(i, i + 2)}"')
            continue
        below = i + 2 if doc.norm[i + 1] == "-" else i + 1
        if below + 1 < len(doc.tokens) and doc.norm[below] in _BELOW and _ordinal(doc, below + 1):
            top, parted = int(doc.tokens[i].text), bool(doc.tokens[below].brk)
            if not parted or (top % 2 and doc.tokens[below].gap == ", " and _whole_before(doc, i)):
                why = f'heard "{doc.said(i, below + 2)}"' if parted else ""
                _part(doc, i, below + 2, top, int(doc.norm[below]), why)
            continue
        joined = _JOINED.fullmatch(doc.tokens[i].text)
        if joined is None or not _ordinal(doc, i + 1):
            continue
        top, under = (int(x) for x in joined.groups() if x)
        unit = unit_after(doc, i + 2)
        if under != 8 or (unit is not None and unit.ucum == INCHES):
            _part(doc, i, i + 2, top, under, f'heard "{doc.said(i, i + 2)}"')


def _ordinal(doc: Doc, i: int) -> bool:
    return doc.tokens[i].glued and doc.norm[i] in _ORDINAL


def _whole_before(doc: Doc, i: int) -> int:
    """The whole number of "1 and 7, 16th" before its part at token `i`; 0 where there is none."""
    if i < 2 or doc.norm[i - 1] != "and" or doc.tokens[i].brk or doc.tokens[i - 1].brk:
        return 0
    text = doc.tokens[i - 2].text
    return int(text) if text.isdigit() and len(text) <= 2 else 0


def _and_and(doc: Doc, i: int) -> bool:
    """ "1 and 7 and 16": one and seven sixteenths, the ending of which was not heard."""
    whole = _whole_before(doc, i)
    if not whole or i + 2 >= len(doc.tokens) or doc.norm[i + 1] != "and":
        return False
    if any(t.brk for t in doc.tokens[i + 1 : i + 3]):
        return False
    top, below = int(doc.tokens[i].text), doc.norm[i + 2]
    inches = unit_after(doc, i + 3)
    if (
        below not in ("16", "32", "64")
        or not top % 2
        or top >= int(below)
        or (inches and inches.ucum != INCHES)
    ):
        return False
    _part(doc, i, i + 3, top, int(below), f'heard "{doc.said(i - 2, i + 3)}"')
    return True


def _part(doc: Doc, start: int, stop: int, top: int, below: int, why: str) -> None:
    whole = _whole_before(doc, start)
    start = start - 2 if whole else start
    if top >= below or not doc.free(start, stop):
        return
    unit = unit_after(doc, stop)
    value = Value(
        [Parse(whole + top / below, "mixed" if whole else "fraction", 0.0, "")],
        "fraction",
        unit.ucum if unit else None,
        shape="Q",
        ambiguous=bool(why),
        why=why,
        number_stop=stop,
    )
    put_value(doc, Mention("value", start, unit.stop if unit else stop, value=value))


def parted_decimals(doc: Doc) -> None:
    """ "1-6 decimal 5", "2 - 6 point 1": figures said one by one before a spoken point, read together and marked."""
    for i in range(len(doc.tokens) - 3):
        point = i + 3 if doc.norm[i + 1] == "-" else i + 2
        if point + 1 >= len(doc.tokens) or doc.norm[point] not in ("point", "decimal"):
            continue
        if any(t.brk for t in doc.tokens[i + 1 : point + 2]):
            continue
        figures = [doc.tokens[k].text for k in (i, point - 1, point + 1)]
        if not all(f.isdigit() for f in figures) or [len(f) for f in figures[:2]] != [1, 1]:
            continue
        if doc.tokens[i].kind != "n" or not doc.free(i, point + 2):
            continue
        unit = unit_after(doc, point + 2)
        text = f"{figures[0]}{figures[1]}.{figures[2]}"
        value = Value(
            [Parse(float(text), "put together", 0.3, text), Parse(float(text[1:]), "decimal", 1.0, text[1:])],
            "written",
            unit.ucum if unit else None,
            unit.text if unit else "",
            shape="N",
            ambiguous=True,
            why=f'heard "{doc.said(i, point + 2)}"',
            number_stop=point + 2,
        )
        put_value(doc, Mention("value", i, unit.stop if unit else point + 2, value=value))


_CAPACITOR = ("run-capacitor", "start-capacitor")
_PLATE_VOLTS = (["three", "seventy"], ["four", "forty"], ["370"], ["440"])
"""The voltages run capacitors are made for (common practice, no source)."""


_LINKS = frozenset({"plus", "over", "and", "by", "slash", "/", "+", "with"})


def sections(doc: Doc) -> None:
    """ "Cap is forty five five three seventy": the two sections of a dual capacitor, and the volts on its plate."""
    for i in range(1, len(doc.tokens) - 1):
        if CLASS.get(doc.norm[i]) != "x" or any(t.brk for t in doc.tokens[i + 1 : i + 3]):
            continue
        tens = i + 1
        if (
            CLASS.get(doc.norm[tens]) == "d"
            and tens + 1 < len(doc.norm)
            and CLASS.get(doc.norm[tens + 1]) == "d"
        ):
            tens += 1
        if (
            CLASS.get(doc.norm[tens]) != "d"
            or VALUE[doc.norm[tens]] not in (3, 5)
            or (tens == i + 1 and VALUE[doc.norm[i]] > 60)
        ):
            continue
        large = VALUE[doc.norm[i]] + (VALUE[doc.norm[i + 1]] if tens == i + 2 else 0)
        volts = any(doc.norm[tens + 1 : tens + 1 + len(v)] == v for v in _PLATE_VOLTS)
        near = [m for m in doc.within(max(0, i - 6), i) if m.comp in _CAPACITOR]
        dual = "dual" in doc.norm[max(0, i - 4) : i]
        goes_on = doc.norm[tens + 1 : tens + 2]
        if (
            goes_on
            and goes_on[0] in _LINKS
            and CLASS.get(doc.norm[min(tens + 2, len(doc.norm) - 1)], ".") in "dx"
        ):
            continue  # "forty five plus five": the smaller section comes behind
        if large % 5 or not (volts or (dual and near)) or not doc.free(i, tens + 1):
            continue
        for start, stop, number, link in (
            (i, tens, large, ""),
            (tens, tens + 1, VALUE[doc.norm[tens]], "plus"),
        ):
            value = Value(
                [Parse(number, "cardinal", 0.0, "")],
                "cardinal",
                "uF" if volts else None,
                link=link,
                shape="x",
            )
            value.number_stop = stop
            put_value(doc, Mention("value", start, stop, value=value))


def behind_leg(doc: Doc, i: int) -> None:
    """The value in "L2478": 478, with the whole figure kept as the other reading."""
    text = doc.tokens[i].text
    value = Value(
        [Parse(float(text[1:]), "taken apart", 0.3, text[1:])],
        "written",
        shape="N",
        ambiguous=True,
        why=f'heard "L{text}"',
        number_stop=i + 1,
    )
    unit = unit_after(doc, i + 1)
    if unit:
        value.ucum, value.unit_text = unit.ucum, unit.text
    put_value(doc, Mention("value", i, unit.stop if unit else i + 1, value=value))


def point_put_in(doc: Doc, number: Number) -> list[Parse]:
    """ "4.10", "1.18": figures of a whole number that a recogniser parted with a point."""
    if number.shape != "D":
        return []
    digits = doc.tokens[number.start].text.replace(".", "")
    if not 3 <= len(digits) <= 4 or not digits.isdigit():
        return []
    return [Parse(float(digits), "point put in", 2.0, digits)]


_LINE_VOLTS = frozenset(
    {110, 115, 120, 200, 208, 220, 230, 240, 277, 370, 380, 400, 415, 440, 460, 480, 575, 600}
)
"""Voltages of supplies and plates (ANSI C84.1, and what run capacitors are made for)."""


def volts_with_a_point(doc: Doc, number: Number, ucum: str | None) -> int | None:
    """The volts in "4.40 volt", "2.30 V", where a recogniser parted what was said in two: 440, 230; else None."""
    if ucum != "V" or number.shape != "D" or not doc.words or doc.words[0].p is None:
        return None
    whole, _, part = doc.tokens[number.start].text.partition(".")
    volts = int(whole + part) if whole.isdigit() and len(part) == 2 else 0
    return volts if volts in _LINE_VOLTS else None


def dashed_point(doc: Doc, numbers: list[Number], k: int) -> Mention | None:
    """ "13-4", "11-2": a point that a recogniser wrote as a dash."""
    if k + 1 >= len(numbers):
        return None
    a, b = numbers[k], numbers[k + 1]
    if (
        b.link != "range"
        or a.shape != "N"
        or b.shape != "N"
        or b.value > 9
        or b.value >= a.value
        or b.start - a.stop > 1
    ):
        return None
    if b.start > a.stop and doc.norm[a.stop] != "-":
        return None
    unit = unit_after(doc, b.stop)
    text = doc.said(a.start, b.stop)
    digits = f"{a.value:.0f}{b.value:.0f}"
    parses = [
        Parse(a.value + b.value / 10, "taken together", 0.3, ""),
        Parse(float(digits), "put together", 1.0, digits),
    ]
    value = Value(
        parses,
        "written",
        unit.ucum if unit else None,
        shape="N",
        ambiguous=True,
        why=f'heard "{text}"',
        number_stop=b.stop,
    )
    return Mention("value", a.start, unit.stop if unit else b.stop, value=value)
