"""Amounts said in two breaths: "two pounds three ounces", "an inch and a quarter", "a pound"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.numbers import Number, Parse, find_numbers
from hatchnote.notes.unit_behind import unit_after
from hatchnote.notes.wordlists import words


def as_said(number: Number) -> Parse:
    return Parse(number.value, number.style, 0.0, f"{number.value:.10g}")


def and_a_half(doc: Doc, numbers: list[Number], k: int, stop: int) -> Number | None:
    """ "two pounds and a half", "an inch and a quarter"."""
    if k + 1 >= len(numbers) or stop >= len(doc.tokens) or doc.norm[stop] != "and":
        return None
    second = numbers[k + 1]
    return (
        second
        if second.start == stop + 1
        and second.style == "fraction"
        and second.value < 1
        and unit_after(doc, second.stop) is None
        else None
    )


_AMOUNT = words(
    """
    had has with like got
    about was is at added to roughly almost maybe it's were nearly
    """
)


def one_and_a_part(doc: Doc) -> None:
    """ "a pound and a half": the article is the number."""
    for i in range(len(doc.tokens) - 3):
        if doc.norm[i] in ("a", "an") and doc.owner[i] is None:
            unit = unit_after(doc, i + 1)
            if (
                unit is not None
                and i
                and doc.norm[i - 1] in _AMOUNT
                and unit.ucum in ("inch?", "[lb_av]", "[oz_av]")
                and (unit.stop >= len(doc.tokens) or doc.norm[unit.stop] != "and")
            ):
                value = Value(
                    [Parse(1.0, "cardinal", 0.0, "1")], "cardinal", unit.ucum, unit.text, number_stop=i + 1
                )
                put_value(doc, Mention("value", i, unit.stop, value=value))
                continue
            if (
                unit is not None
                and unit.stop + 1 < len(doc.tokens)
                and doc.norm[unit.stop] == "and"
                and (
                    doc.norm[unit.stop + 1] in ("a", "an", "one", "three", "half", "five", "seven")
                    or doc.tokens[unit.stop + 1].kind in "nf"
                )
            ):
                found = find_numbers(doc.tokens[unit.stop + 1 : unit.stop + 4])
                if found and found[0].start == 0 and found[0].style == "fraction" and found[0].value < 1:
                    value = Value(
                        [Parse((1 + found[0].value) * unit.factor, "mixed", 0.0, "")],
                        "mixed",
                        unit.ucum,
                        unit.text,
                    )
                    put_value(doc, Mention("value", i, unit.stop + 1 + found[0].stop, value=value))


def ounces_behind(doc: Doc, numbers: list[Number], k: int, stop: int) -> tuple[int, float] | None:
    """ "two pounds three ounces", "eight pounds twelve": what the second number adds, in ounces."""
    if k + 1 >= len(numbers):
        return None
    second = numbers[k + 1]
    between = second.start - stop
    if between > 1 or (between == 1 and doc.norm[stop] != "and") or doc.tokens[second.start].brk > 1:
        return None
    unit = unit_after(doc, second.stop)
    if unit and unit.ucum == "[oz_av]" and second.value < 16:
        return unit.stop, second.value
    lone = second.stop >= len(doc.tokens) or doc.tokens[second.stop].brk
    if unit is None and between == 0 and not doc.tokens[second.start].brk and 0 < second.value < 16 and lone:
        return second.stop, second.value
    return None


def put_value(doc: Doc, mention: Mention) -> None:
    for other in doc.within(mention.start, mention.stop):
        doc.drop(other)
    doc.put(mention)
