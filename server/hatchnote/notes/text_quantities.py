"""Quantities in any English text: a number with its unit of measure, and where it stands.

    >>> [(q.value, q.ucum) for q in quantities("two pounds three ounces at 24VAC")]
    [(2.1875, '[lb_av]'), (24.0, 'V')]

A bare number is no quantity, nor is a count of things, a price, a time of day or a date. A range, a list and a pair
of ratings are several quantities of one unit ("10 to 12 volts", "208/230 V"); feet and inches, pounds and ounces said
together are one. A tolerance is the size of its half ("plus or minus 5 percent" is 5 %).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hatchnote.measures import convert
from hatchnote.notes.numbers import Number, find_numbers
from hatchnote.notes.tokens import Token, tokenize
from hatchnote.notes.units import Unit, Units, load_units


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with its unit. `start` and `end` are characters of the text; `unit` is what a technician reads."""

    value: float
    ucum: str
    unit: str
    start: int
    end: int
    text: str
    kind: str = ""
    """What is measured: "pressure", "length", ... as in units.toml; "compound" for one made of two units."""
    tolerance: bool = False
    alternatives: tuple[tuple[float, str], ...] = ()
    """Other (value, UCUM code) that the same words can mean."""


class _Found:
    """A number and the unit it has got so far."""

    __slots__ = ("number", "others", "stop", "unit", "value")

    def __init__(self, number: Number) -> None:
        self.number = number
        self.value = number.value
        self.stop = number.stop
        self.unit: Unit | None = None
        self.others: tuple[Unit, ...] = ()


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_FILLERS = _words(
    "more full whole business working calendar additional extra straight solid consecutive nominal us metric good of"
)
_SHARING = frozenset(["range", "or", "and", "slash", "plus", "by", "over", "tolerance"])
_NO_QUANTITY = frozenset(["time", "date", "phone", "money", "pronoun", "designation"])
_PARTS = {
    "[lb_av]": ("[oz_av]", 16.0),
    "[ft_i]": ("[in_i]", 12.0),
    "[stone_av]": ("[lb_av]", 14.0),
    "h": ("min", 60.0),
    "min": ("s", 60.0),
    "deg": ("'", 60.0),
}
_ARTICLES = frozenset(["a", "an"])
_ONE_OF = frozenset(["a", "an", "another", "one", "per", "the", "every"])
_SINGULAR = _words("inch foot hour pound gallon mile ton minute day year")
_QUOTES = frozenset("\"'”’")
_DECADE_WORDS = _words("the his her their my your our its mid early late")


def quantities(text: str) -> list[Quantity]:
    """Every quantity in `text`, in order. Never raises; time grows with the length of the text."""
    tokens = tokenize(text)
    numbers = find_numbers(tokens)
    if not numbers:
        return []
    units = load_units()
    found = [_Found(number) for number in numbers]
    for item in found:
        _attach(units, tokens, item)
    _share(tokens, found)
    kept = _combine(units, tokens, found)
    return [_quantity(text, tokens, item) for item in kept]


def _attach(units: Units, tokens: Sequence[Token], item: _Found) -> None:
    number = item.number
    if number.kind in _NO_QUANTITY or number.stop >= len(tokens):
        return
    if number.kind == "index" and tokens[number.start].glued and number.start:
        return  # "L1", "RTU3"
    at = number.stop
    fraction = number.style in ("fraction", "mixed")
    if tokens[at].brk and tokens[at].text not in "°%\"'":
        return
    if number.style == "ordinal" and number.kind == "ordinal":
        return
    written = number.shape[-1] in "NDF³"
    match = units.match(tokens, at, written=written)
    thousands = (
        tokens[at].lower == "k" and tokens[at].glued and at + 1 < len(tokens) and not tokens[at + 1].brk
    )
    if thousands and (match is None or match.stop == at + 1):
        after = units.match(tokens, at + 1, written=False)
        if after is not None and after.unit.ucum and not tokens[at + 1].glued:
            item.unit, item.others, item.stop = after.unit, after.others, after.stop
            item.value = number.value * 1000  # "0.5k miles"
            return
    if match is None or not match.unit.ucum:
        skip = _filler(tokens, at, fraction)
        if not skip:
            return
        match = units.match(tokens, at + skip, written=False)
        if match is None or not match.unit.ucum:
            return
        at += skip
    if not _plausible(tokens, number, at, match.stop):
        return
    item.unit, item.others, item.stop = match.unit, match.others, match.stop
    _count_of_things(tokens, item)
    item.value = _value(item.number, match.unit)


def _count_of_things(tokens: Sequence[Token], item: _Found) -> None:
    """ "one five horsepower motor" is one motor of 5 hp: the last figure alone belongs to the unit."""
    number = item.number
    if item.unit is None or item.unit.said != "count" or number.shape not in ("dd", "dt", "tdd"):
        return
    if number.shape == "dt" and (number.values[0] != 1 or item.unit.ucum == "[in_i]"):
        return
    last = number.stop - 1
    item.number = number._replace(
        start=last, start_char=tokens[last].start, value=number.values[-1], style="cardinal",
        shape=number.shape[-1], values=number.values[-1:],
    )  # fmt: skip


def _filler(tokens: Sequence[Token], at: int, fraction: bool) -> int:
    """How many words stand between number and unit: "half an inch", "quarter of an inch", "five more minutes"."""
    word = tokens[at].lower
    if fraction and word in _ARTICLES:
        return 1
    if fraction and word == "of" and at + 1 < len(tokens) and tokens[at + 1].lower in ("a", "an", "the"):
        return 2
    return 1 if word in _FILLERS and (word != "of" or fraction) and at + 1 < len(tokens) else 0


def _plausible(tokens: Sequence[Token], number: Number, at: int, stop: int) -> bool:
    """Whether the letters behind a number are a unit there: "5 in the box" and "the 1980s" have none."""
    first = tokens[at]
    word = first.text
    if stop - at > 1:
        return True
    if word in ("in", "In"):
        return _inch_follows(tokens, stop, first)
    if word in _QUOTES or word in "′″":
        possessive = stop < len(tokens) and tokens[stop].glued and tokens[stop].kind == "w"
        return (
            first.glued and not possessive and number.shape[-1] in "NDF" and not _quoted(tokens, number, word)
        )
    if word == "s" and first.glued:
        before = tokens[number.start - 1].lower if number.start else ""
        return not (number.value >= 1000 or (number.value % 10 == 0 and before in _DECADE_WORDS))
    if first.lower == "second" and not first.gap.startswith("-"):
        return not number.shape.endswith("x") or (
            number.shape == "x" and stop < len(tokens) and not tokens[stop].brk
        )
    if word == "#":
        return first.glued
    return True


def _inch_follows(tokens: Sequence[Token], stop: int, word: Token) -> bool:
    if word.glued or stop >= len(tokens) or tokens[stop].brk:
        return True
    after = tokens[stop]
    if after.kind == "n":
        return not (len(after.text) == 4 and after.text[:2] in ("18", "19", "20"))  # "2 in 1979"
    return after.gap.startswith(".") or after.lower in _AFTER_INCH


_AFTER_INCH = _words(
    "wide long deep thick tall high diameter dia pipe by x of line copper od id filter filters duct round and "
    "w belt tubing sheave or to lbs lb per"
)


def _quoted(tokens: Sequence[Token], number: Number, mark: str) -> bool:
    """A quotation mark behind a number closes a quotation when the same mark opened one just before."""
    return any(
        tokens[i].text == mark and (i == 0 or not tokens[i].glued)
        for i in range(max(0, number.start - 4), number.start)
    )


def _value(number: Number, unit: Unit) -> float:
    """The reading of the number that suits the unit: "four two" is 4.2 amps and 42 volts."""
    if number.style == "tenths" and unit.said == "whole" and number.shape.lstrip("m") in ("dd", "dz", "dZ"):
        return round(number.value * 10)
    return number.value


def _share(tokens: Sequence[Token], found: list[_Found]) -> None:
    """Numbers joined to one that has a unit have that unit too: "10 to 12 psi", "45/5 µF", "8, 9 and 10 volts"."""
    listed = False
    for i in range(len(found) - 2, -1, -1):
        item, after = found[i], found[i + 1]
        link = after.number.link
        if after.unit is None or item.unit is not None or item.number.kind != "quantity":
            listed = False
            continue
        if link in ("or", "and"):
            if tokens[item.number.stop].brk and item.number.link != "list":
                continue  # "in 2013, and 278,000 t"
            listed = True
        elif link == "list" and not listed and not _alike(item.number, after.number):
            continue
        if link in _SHARING or link == "list":
            if link == "by" and after.unit.kind != "length":
                continue
            item.unit, item.others = after.unit, after.others
            item.value = _value(item.number, after.unit)


def _alike(one: Number, other: Number) -> bool:
    """Whether two numbers of a list look like readings of one thing: "478, 481, 476 volts"."""
    return one.style == other.style and one.value > 10 and 0.8 < one.value / (other.value or 1) < 1.25


def _combine(units: Units, tokens: Sequence[Token], found: list[_Found]) -> list[_Found]:
    """Two units said as one quantity, and the halves that follow their unit."""
    out: list[_Found] = []
    for item in found:
        last = out[-1] if out else None
        if item.unit is None:
            _late_fraction(units, tokens, item, last)
            if item.unit is not None:
                out.append(item)
            elif last is not None and last.unit is not None and last.unit.ucum == "[ft_i]":
                _bare_inches(tokens, last, item)
            continue
        if last is not None and last.unit is not None and _continues(tokens, last, item):
            part = _PARTS[last.unit.ucum]
            last.value += abs(item.value) / part[1] if last.value >= 0 else -abs(item.value) / part[1]
            last.stop = item.stop
            continue
        out.append(item)
    return out


def _continues(tokens: Sequence[Token], last: _Found, item: _Found) -> bool:
    part = _PARTS.get(last.unit.ucum) if last.unit else None
    if part is None or item.unit is None:
        return False
    code = item.unit.ucum
    ounce = part[0] == "[oz_av]" and code == "[foz_us]"
    water = part[0] == "[in_i]" and code == "[in_i'H2O]"
    if not (code == part[0] or ounce or water) or not 0 <= item.value < part[1]:
        return False
    between = item.number.start - last.stop
    if between == 0:
        return tokens[item.number.start].brk < 2
    joint = tokens[last.stop].text
    return between == 1 and (joint.lower() == "and" or joint == "-") and not tokens[last.stop].brk


def _bare_inches(tokens: Sequence[Token], last: _Found, item: _Found) -> None:
    """ "five foot eleven", "5'11": the inches need no unit."""
    number = item.number
    if number.start != last.stop or tokens[number.start].brk or number.kind not in ("quantity", "index"):
        return
    if 0 < number.value < 12 and number.style in ("cardinal", "written", "mixed", "fraction"):
        after = tokens[number.stop] if number.stop < len(tokens) else None
        if after is None or after.brk or after.kind == "s" or not after.lower.isalpha():
            last.value += number.value / 12
            last.stop = number.stop


def _late_fraction(units: Units, tokens: Sequence[Token], item: _Found, last: _Found | None) -> None:
    """ "an inch and a half", "two pounds and a quarter": the fraction follows the unit."""
    number = item.number
    if number.style != "fraction" or not 0 < number.value < 1 or number.start < 2:
        return
    if tokens[number.start - 1].lower != "and" or tokens[number.start].brk or tokens[number.start - 1].brk:
        return
    if last is not None and last.unit is not None and last.stop == number.start - 1:
        last.value += number.value
        last.stop = number.stop
        return
    for begin in range(number.start - 2, max(-1, number.start - 6), -1):
        article = begin > 0 and tokens[begin - 1].lower in _ONE_OF and not tokens[begin].brk
        if not article and begin > 0 and not tokens[begin].brk and tokens[begin].lower not in _SINGULAR:
            continue
        match = units.match(tokens, begin, written=False)
        if match is not None and match.stop == number.start - 1 and match.unit.ucum:
            first = begin - 1 if article else begin
            item.value = 1 + number.value
            item.unit, item.others = match.unit, match.others
            item.number = number._replace(start=first, start_char=tokens[first].start)
            return


def _quantity(text: str, tokens: Sequence[Token], item: _Found) -> Quantity:
    unit = item.unit
    if unit is None:  # never: only items with a unit are kept
        raise AssertionError
    number = item.number
    start, end = number.start_char, tokens[item.stop - 1].end
    others: list[tuple[float, str]] = [(item.value, u.ucum) for u in item.others]
    if item.stop >= number.stop and number.style in ("tenths", "digits", "pair"):
        others += [(p.value, unit.ucum) for p in number.alternatives if p.cost < 1.5]
    return Quantity(
        item.value,
        unit.ucum,
        unit.name,
        start,
        end,
        text[start:end],
        unit.kind,
        number.tolerance,
        tuple(others),
    )


__all__ = ["Quantity", "convert", "quantities"]
