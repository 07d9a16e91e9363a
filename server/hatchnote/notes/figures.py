"""Stage: values. Every number that is not part of a name, with the unit said after it, and sizes as text."""

from __future__ import annotations

from hatchnote.notes.amounts import and_a_half, as_said, one_and_a_part, ounces_behind, put_value
from hatchnote.notes.capacitor_sizes import capacitor_sizes
from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.figures_in_rows import WHY, in_row
from hatchnote.notes.filter_sizes import counted_filter, without_by
from hatchnote.notes.meter_open import meter_open
from hatchnote.notes.no_volts import no_volts
from hatchnote.notes.numbers import Number, Parse, find_numbers
from hatchnote.notes.parted import parted
from hatchnote.notes.ranges import heads_next, is_range, two_ratings
from hatchnote.notes.sizes import belt_at, filter_from
from hatchnote.notes.taken_apart import (
    behind_leg,
    dashed_point,
    eighths,
    parted_decimals,
    point_put_in,
    sections,
    volts_with_a_point,
)
from hatchnote.notes.tokens import Token
from hatchnote.notes.unit_behind import unit_after
from hatchnote.notes.wordlists import words

REQUIRES = ("mentions", "legs", "machines", "refrigerant")
ASSIGNS = ("values", "sizes")
_MASKED = Token("_", "_", 0, 0, "s", " ", 0)
_NOT_VALUES = words(
    """
    time date phone code money ordinal index designation pronoun
    """
)
_COUNTED = words(
    """
    tap taps
    times time years year weeks week days day months month turns turn clicks units unit people guys guy men man
    tons ton foot feet ft story stories floors floor trips trip calls minutes' bucks guests cars stops
    steps miles mile blocks customers tables rooms stores stop o'clock percent's cans tubes boxes bags
    cycles cycle gallons gallon
    """
)
_WHICH = frozenset(["is", "was", "has", "had", "reads"])
_WHICH_ONE = frozenset(["new", "old", "other", "another", "bad", "good", "same"])
"""Words that make "one" a thing: "new one thirty two point four"."""
_SIGNALS = frozenset({(0.0, 10.0), (2.0, 10.0), (4.0, 20.0), (1.0, 5.0), (0.0, 5.0)})
"""Volts and milliamps of control signals (ISA 50.00.01 for 4-20 mA; the volts are common practice, no source)."""
_FEET_UNITS = frozenset(["pounds", "pound", "per", "lbs", "lb", "a"])


def figures(doc: Doc) -> None:
    """Find all values and sizes."""
    for i in sorted(doc.run_together):
        behind_leg(doc, i)
    for i in sorted(doc.phased):
        number = float(doc.tokens[i].text) - 3
        put_value(
            doc,
            Mention(
                "value",
                i,
                i + 1,
                value=Value(
                    [Parse(number, "taken apart", 0.0, "")],
                    "written",
                    "V",
                    "volts",
                    shape="N",
                    number_stop=i + 1,
                ),
            ),
        )
    meter_open(doc)
    no_volts(doc)
    sections(doc)
    eighths(doc)
    parted_decimals(doc)
    parted(doc)
    _belts(doc)
    without_by(doc)
    one_and_a_part(doc)
    pronouns = {
        i
        for i in range(1, len(doc.norm))
        if doc.norm[i] == "one" and doc.norm[i - 1] in _WHICH_ONE and not doc.tokens[i].brk
    }
    tokens = [
        _MASKED._replace(brk=t.brk) if i in pronouns or _is_taken(doc, i) else _singular(t)
        for i, t in enumerate(doc.tokens)
    ]
    numbers = find_numbers(tokens)
    k = 0
    while k < len(numbers):
        k = _one(doc, numbers, k)
    doc.settle()
    capacitor_sizes(doc)


_PLURALS = {
    w + "s": w
    for w in [
        "two",
        "three",
        "four",
        "five",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "twenty",
        "thirty",
        "forty",
        "fifty",
        "sixty",
    ]
} | {
    "sixes": "six",
    "twenties": "twenty",
    "thirties": "thirty",
    "forties": "forty",
    "fifties": "fifty",
    "sixties": "sixty",
}


def _singular(token: Token) -> Token:
    """ "forty fives": things of that size."""
    word = _PLURALS.get(token.lower)
    return token._replace(lower=word, text=word) if word else token


def _is_taken(doc: Doc, i: int) -> bool:
    owner = doc.owner[i]
    if owner is None:
        return False
    return (
        owner.kind != "word"
        or owner.number is not None
        or (owner.stop - owner.start > 1 and owner.has("point", "oxygen"))
    )


def _belts(doc: Doc) -> None:
    i = 0
    while i < len(doc.tokens):
        found = belt_at(doc, i)
        if found:
            stop, text = found
            for other in doc.within(i, stop):
                doc.drop(other)
            m = doc.put(Mention("size", i, stop, slug=text, comp="supply-fan-belt"))
            m.claimed = ""
            i = stop
        else:
            i += 1


def _one(doc: Doc, numbers: list[Number], k: int) -> int:
    """Handle the number at `k` with those that hang on it; the index after them."""
    number = numbers[k]
    row = in_row(doc, number)
    for one in row:
        parses = [as_said(one), *one.alternatives]
        value = Value(parses, one.style, link=one.link, shape=one.shape, number_stop=one.stop)
        value.ambiguous, value.why = True, WHY
        put_value(doc, Mention("value", one.start, one.stop, value=value))
    if row:
        return k + 1
    chain = [number]
    while k + len(chain) < len(numbers) and numbers[k + len(chain)].link in ("by", "x"):
        chain.append(numbers[k + len(chain)])
    counted = counted_filter(doc, numbers, k)
    if counted is not None:
        cut, stop, sides, used = counted
        if cut > number.start:
            many = find_numbers(doc.tokens[number.start : cut])[0].value
            count = Value([Parse(many, "cardinal", 0.0, "")], "cardinal", shape="d", number_stop=cut)
            put_value(doc, Mention("value", number.start, cut, value=count))
        put_value(doc, Mention("size", cut, stop, slug=sides, comp="air-filter"))
        return k + used
    if len(chain) >= 2:
        text = filter_from(doc, chain)
        if not text and chain[0].value > 96 and chain[0].shape[:1] == "d" and len(chain[0].shape) > 1:
            # "four sixteen by twenty five by two": a count runs into the size
            cut = chain[0].start + 1
            rest = find_numbers(doc.tokens[cut : chain[0].stop])
            if len(rest) == 1:
                text = filter_from(doc, [rest[0], *chain[1:]])
                if text:
                    put_value(
                        doc,
                        Mention(
                            "value",
                            chain[0].start,
                            cut,
                            value=Value(
                                [Parse(chain[0].values[0], "cardinal", 0.0, "")],
                                "cardinal",
                                shape="d",
                                number_stop=cut,
                            ),
                        ),
                    )
                    put_value(doc, Mention("size", cut, chain[-1].stop, slug=text, comp="air-filter"))
                    return k + len(chain)
        if text:
            put_value(doc, Mention("size", chain[0].start, chain[-1].stop, slug=text, comp="air-filter"))
            return k + len(chain)
    if number.kind in _NOT_VALUES and not _measured_after_all(doc, number):
        return k + 1
    after = doc.norm[number.stop] if number.stop < len(doc.tokens) and not doc.tokens[number.stop].brk else ""
    if doc.norm[number.start] == "one" and number.stop == number.start + 1 and after in _WHICH:
        return k + 1  # "one is a thirty five plus five": which, not how much
    if number.start and doc.norm[number.start - 1] == "oh" and not doc.tokens[number.start].brk:
        return k + 1  # a leading nought is a code's
    if (
        doc.norm[number.start] == "half"
        and number.stop == number.start + 1
        and after in ("the", "of", "my", "those")
    ):
        return k + 1  # "half the screws were missing"
    dashed = dashed_point(doc, numbers, k)
    if dashed is not None:
        put_value(doc, dashed)
        return k + 2
    if (
        k + 1 < len(numbers)
        and (numbers[k + 1].link in ("range", "slash") or two_ratings(doc, numbers, k))
        and numbers[k + 1].kind == "quantity"
    ):
        second = numbers[k + 1]
        driven = unit_after(doc, second.stop)
        if driven and driven.ucum in ("V", "mA") and (number.value, second.value) in _SIGNALS:
            return k + 2  # what an actuator is driven by
        if is_range(doc, number, second):
            text = f"{number.value:.10g}-{second.value:.10g}"
            unit = unit_after(doc, second.stop)
            stop = unit.stop if unit else second.stop
            value = Value(
                [as_said(number)],
                number.style,
                unit.ucum if unit else None,
                "",
                text,
                number_stop=second.stop,
            )
            value.shape = number.shape
            put_value(doc, Mention("value", number.start, stop, value=value))
            return k + 2
    if number.stop < len(doc.tokens) and not doc.tokens[number.stop].brk:
        word = doc.norm[number.stop]
        if word in _COUNTED and not (
            word in ("foot", "feet", "ft")
            and number.stop + 1 < len(doc.tokens)
            and doc.norm[number.stop + 1] in _FEET_UNITS
        ):
            return k + 1
    unit = unit_after(doc, number.stop)
    if unit and heads_next(doc, number, unit):
        unit = None
    stop = unit.stop if unit else number.stop
    if (
        unit
        and number.shape[:1] == "d"
        and len(number.shape) > 1
        and number.shape[1] in "dtx"
        and number.values[0] <= 8
    ):
        part = doc.owner[stop] if stop < len(doc.tokens) and not doc.tokens[stop].brk else None
        if part is not None and part.comp and part.plural and unit.ucum in ("A", "inch?", "[HP]", "V"):
            # "three thirty amp fuses": a count and a size
            rest = find_numbers(doc.tokens[number.start + 1 : number.stop])
            if len(rest) == 1 and rest[0].stop == number.stop - number.start - 1:
                cut = number.start + 1
                put_value(
                    doc,
                    Mention(
                        "value",
                        number.start,
                        cut,
                        value=Value(
                            [Parse(number.values[0], "cardinal", 0.0, "")],
                            "cardinal",
                            shape="d",
                            number_stop=cut,
                        ),
                    ),
                )
                size = Value(
                    [as_said(rest[0])],
                    rest[0].style,
                    unit.ucum,
                    unit.text,
                    shape=rest[0].shape,
                    number_stop=number.stop,
                )
                put_value(doc, Mention("value", cut, stop, value=size))
                return k + 1
    lost = point_put_in(doc, number)
    volts = volts_with_a_point(doc, number, unit.ucum if unit else None)
    value = Value(
        [as_said(number), *number.alternatives, *lost],
        number.style,
        unit.ucum if unit else None,
        link=number.link,
        shape=number.shape,
        number_stop=number.stop,
    )
    if volts is not None:
        value.parses = [Parse(volts, "point put in", 0.0, str(volts)), as_said(number)]
        value.ambiguous, value.why = True, f'heard "{doc.said(number.start, number.stop)}"'
    if unit:
        value.unit_text = unit.text
        if unit.factor != 1:
            value.parses = [p._replace(value=p.value * unit.factor) for p in value.parses]
        if unit.ucum == "[lb_av]":
            more = ounces_behind(doc, numbers, k, stop)
            if more:
                stop, ounces = more
                value.parses = [Parse(value.parses[0].value + ounces / 16, "pounds and ounces", 0.0, "")]
                value.number_stop = numbers[k + 1].stop
                put_value(doc, Mention("value", number.start, stop, value=value))
                return k + 2
        half = and_a_half(doc, numbers, k, stop)
        if half is not None:
            value.parses = [Parse(value.parses[0].value + half.value * unit.factor, "mixed", 0.0, "")]
            value.number_stop = half.stop
            put_value(doc, Mention("value", number.start, half.stop, value=value))
            return k + 2
    put_value(doc, Mention("value", number.start, stop, value=value))
    return k + 1


_GLUED_POINTS = words(
    """
    co sh sc rat sat oat mat rh sp amps volts
    """
)
_AFTER_PARTS = words(
    """
    pole compressor compressors fan line leg tank pump
    """
)


def _measured_after_all(doc: Doc, number: Number) -> bool:
    """ "three pole forty amp", "compressor eleven two": a number behind such a word is its index only while small."""
    if number.kind not in ("index", "designation") or not number.start:
        return False
    named = doc.owner[number.start - 1]
    if named is not None and named.kind == "word" and named.has("point") and named.stop - named.start > 1:
        return True  # "O A T ninety one": the letters are a point's, not a name the number belongs to
    if doc.norm[number.start - 1] in _GLUED_POINTS and number.value != 2:
        return True  # "CO18"
    if number.kind != "index":
        return False
    if doc.norm[number.start - 3 : number.start] == ["to", "the", "unit"] and number.value > 40:
        return True  # "voltage to the unit 482"
    before = doc.norm[number.start - 1]
    return before in _AFTER_PARTS and (
        before == "pole" or number.value > 8 or number.value != int(number.value)
    )
