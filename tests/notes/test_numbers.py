"""Numbers as they are said, as recognisers write them, and what they are for."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchnote.notes.numbers import find_numbers, readings_of, reread
from hatchnote.notes.tokens import tokenize


def numbers(line):
    return find_numbers(tokenize(line))


def values(line):
    return [n.value for n in numbers(line)]


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("four seventy eight", 478), ("one eighteen", 118), ("one oh eight", 108), ("four seven eight", 478),
        ("seventeen twenty five", 1725), ("eleven forty", 1140), ("twelve hundred", 1200),
        ("twenty two hundred", 2200), ("sixty eight hundred", 6800), ("two hundred six thousand", 206000),
        ("two hundred and eighty five", 285), ("one million two hundred thousand and five", 1200005),
        ("point six", 0.6), ("oh point five", 0.5), ("point six two seven", 0.627), ("point oh five", 0.05),
        ("one point oh", 1.0), ("twenty six point four", 26.4), ("two point twenty five", 2.25),
        ("three and a half", 3.5), ("a half", 0.5), ("half", 0.5), ("five sixteenths", 0.3125), ("three quarter", 0.75),
        ("seven and three quarters", 7.75), ("one and seven sixteenths", 1.4375), ("an eighth", 0.125),
        ("nineteen sixty fourths", 19 / 64), ("two and a half million", 2.5e6), ("half a million", 5e5),
        ("eleven two", 11.2), ("ten nine", 10.9), ("twenty two four", 22.4), ("six oh", 6.0),
        ("one eighteen five", 118.5),
        ("minus five", -5), ("negative point nine", -0.9), ("five below", -5), ("a buck twenty", 120),
        ("a hundred", 100), ("zero", 0), ("ninety nine point nine", 99.9), ("nineteen oh five", 1905),
        ("3½", 3.5), ("3 1/2", 3.5), ("3-1/2", 3.5), ("1/2", 0.5), ("1,140", 1140), (".45", 0.45), ("-40", -40),
        ("minus 40", -40), ("1.5 million", 1.5e6), ("2 hundred", 200), ("1.5e3", 1500), ("3 x 10^6", 3e6),
        ("5.5x10-3", 0.0055),
    ],
)  # fmt: skip
def test_a_number_said_alone(said, value):
    assert values(said) == [pytest.approx(value)]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("eleven two, eleven five, ten nine", [(11.2, ""), (11.5, "list"), (10.9, "list")]),
        ("eleven two eleven five ten nine", [(11.2, ""), (11.5, ""), (10.9, "")]),
        ("two oh eight two thirty", [(208, ""), (230, "")]),
        ("two oh eight to two thirty", [(208, ""), (230, "range")]),
        ("between ten and twelve", [(10, ""), (12, "range")]),
        ("10 to 12", [(10, ""), (12, "range")]),
        ("10-12", [(10, ""), (12, "range")]),
        ("forty plus five", [(40, ""), (5, "plus")]),
        ("one eighteen over three sixty", [(118, ""), (360, "over")]),
        ("208/230", [(208, ""), (230, "slash")]),
        ("16x25x2", [(16, ""), (25, "by"), (2, "by")]),
        ("sixteen by twenty five by two", [(16, ""), (25, "by"), (2, "by")]),
        ("six point two six point one six point three", [(6.2, ""), (6.1, ""), (6.3, "")]),
        ("four seventy eight four eighty one", [(478, ""), (481, "")]),
    ],
)
def test_numbers_that_stand_together_say_how(line, expected):
    assert [(n.value, n.link) for n in numbers(line)] == [(pytest.approx(v), link) for v, link in expected]


def test_the_figure_before_phase_counts_phases():
    assert values("rated four sixty three phase") == [460, 3]
    assert values("a forty three pole") == [40, 3]


def test_a_tolerance_is_marked_and_positive():
    (number,) = numbers("plus or minus five percent")
    assert (number.value, number.tolerance) == (5, True)


@pytest.mark.parametrize(
    ("line", "kinds"),
    [
        ("compressor two four point one", ["index", "quantity"]),
        ("L one to L two four seventy eight", ["index", "index", "quantity"]),
        ("R T U three is down", ["index"]),
        ("R four ten A", ["designation"]),
        ("it's a four ten A unit", ["designation"]),
        ("a three pole forty amp", ["quantity", "quantity"]),
        ("a B X forty four", ["designation"]),
        ("C O two monitor", ["designation"]),
        ("C O two hundred eighty five", ["quantity"]),
        ("extension four one two", ["code"]),
        ("the part number ends in four four seven", ["code"]),
        ("gate code's on the work order, it's five five oh nine", ["code"]),
        ("call 555-123-4567", ["phone"]),
        ("at 10:20 on 11/25/2026", ["time", "date"]),
        ("June 14", ["date"]),
        ("ten thirty a m", ["time"]),
        ("$14.50 or five bucks", ["money", "money"]),
        ("second tube, the 3rd floor, the twenty third", ["ordinal", "ordinal", "ordinal"]),
        ("this one is good", ["pronoun"]),
    ],
)
def test_numbers_that_measure_nothing_are_told_apart(line, kinds):
    assert [n.kind for n in numbers(line)] == kinds


@pytest.mark.parametrize(
    ("line", "low", "high", "count", "expected"),
    [
        ("four two four four four three", 2, 30, 3, (4.2, 4.4, 4.3)),
        ("eleven two eleven five ten nine", 2, 60, 3, (11.2, 11.5, 10.9)),
        ("four seventy eight four eighty one four seventy six", 100, 600, 3, (478, 481, 476)),
        ("two forty two thirty eight", 100, 600, 2, (240, 238)),
        ("seventy two fifty four", 0, 130, 2, (72, 54)),
        ("914-337", 2, 30, 3, (9.1, 4.3, 3.7)),
        ("152-17", 5, 30, 2, (15.2, 17)),
        ("5, 5, 3, 5", 2, 30, 2, (5.5, 3.5)),
        ("1, 18", 60, 200, 1, (118,)),
        ("47", 2, 30, 1, (4.7,)),
        ("twelve five", 2, 60, 1, (12.5,)),
        ("twelve five", 100, 600, 1, (125,)),
        ("four seven eight", 100, 600, 1, (478,)),
        ("three five", 2, 14, 1, (3.5,)),
        ("three five", 20, 130, 1, (35,)),
    ],
)
def test_the_plausible_range_decides_how_words_are_cut(line, low, high, count, expected):
    tokens = tokenize(line)
    best = reread(tokens, 0, len(tokens), low=low, high=high, count=count)[0]
    assert best.values == pytest.approx(expected)


def test_alternatives_keep_the_other_readings():
    tokens = tokenize("twelve five")
    (number,) = find_numbers(tokens)
    assert number.value == 12.5
    assert 125 in [p.value for p in number.alternatives]
    assert [p.value for p in readings_of(tokens, number, low=100, high=600)] == [125]


WORDS_TEXT = """
one two six nine oh zero ten eleven twenty thirty ninety hundred thousand point and a half quarter
eighths minus plus or to by over third second buck k R T U L 5 12 3.5 ½ , . - / x $ % in volts amps
10:20 1/2 million
"""
WORDS = WORDS_TEXT.split()


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=30))
def test_no_row_of_number_words_makes_it_raise_or_overlap(words):
    line = " ".join(words)
    tokens = tokenize(line)
    at = 0
    for number in find_numbers(tokens):
        assert at <= number.start < number.stop <= len(tokens)
        assert number.start_char == tokens[number.start].start
        assert number.value == number.value
        assert isinstance(number.alternatives, list)
        at = number.stop
    for rereading in reread(tokens, 0, len(tokens), low=0, high=1000):
        assert all(0 <= value <= 1000 for value in rereading.values)


@given(st.text())
def test_no_text_makes_it_raise(text):
    tokens = tokenize(text)
    for number in find_numbers(tokens):
        assert text[number.start_char : number.end_char].strip()


@pytest.mark.parametrize(
    "piece", ["four ", "twenty two ", "1 ", "point six ", "a half and ", "5-", "one, ", "1/2 "]
)
def test_a_text_four_times_as_long_costs_about_four_times_as_much(piece):
    from time import process_time

    def cost(n):
        tokens = tokenize(piece * n)
        began = process_time()
        find_numbers(tokens)
        return process_time() - began

    cost(500)
    short = min(cost(2000) for _ in range(3))
    long = min(cost(8000) for _ in range(3))
    assert long < 12 * short + 0.01
