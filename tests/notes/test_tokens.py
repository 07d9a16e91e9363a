"""Text is cut where numbers, letters and signs meet, and nothing of it is lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchnote.notes.tokens import tokenize


def texts(line):
    return [t.text for t in tokenize(line)]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("24VAC", ["24", "VAC"]),
        ("L2478", ["L", "2478"]),
        ("0.627kΩ", ["0.627", "kΩ"]),
        ('3½"', ["3", "½", '"']),
        ("16x25x2", ["16", "x", "25", "x", "2"]),
        ("208/230", ["208", "/", "230"]),
        ("twenty-five", ["twenty", "five"]),
        ("1,140 rpm", ["1,140", "rpm"]),
        ("m³ and m2", ["m", "³", "and", "m", "2"]),
        ("914-337", ["914", "-", "337"]),
        ("10 - 12", ["10", "-", "12"]),
        ("+/- 5", ["+", "/", "-", "5"]),
        ("R T U three's", ["R", "T", "U", "three's"]),
    ],
)
def test_letters_figures_and_signs_are_cut_apart(line, expected):
    assert texts(line) == expected


def test_glued_says_that_nothing_stands_between():
    tokens = tokenize("24VAC or 24 VAC")
    assert [t.glued for t in tokens] == [True, True, False, False, False]


@pytest.mark.parametrize(
    ("line", "breaks"),
    [
        ("one, two", [0, 1]),
        ("one. Two", [0, 2]),
        ("3.5 in. w.c. on high", [0, 0, 0, 0, 0, 0]),
        ("one\ntwo", [0, 2]),
        ("1, 18", [0, 1]),
        ("one (two) three", [0, 1, 1]),
        ("Amps 5.6. Volts", [0, 0, 2]),
    ],
)
def test_commas_and_full_stops_are_breaks_and_abbreviations_none(line, breaks):
    assert [t.brk for t in tokenize(line)] == breaks


@given(st.text())
def test_every_text_is_cut_without_overlap_and_every_figure_is_kept(text):
    tokens = tokenize(text)
    at = 0
    for token in tokens:
        assert at <= token.start < token.end <= len(text)
        assert text[token.start : token.end] == token.text
        assert text[at : token.start] == token.gap
        at = token.end
    kept = "".join(t.text for t in tokens)
    assert [c for c in text if c in "0123456789½¼¾"] == [c for c in kept if c in "0123456789½¼¾"]


@given(st.text(alphabet="ab1 ,.-'"), st.text(alphabet="ab1 ,.-'"))
def test_cutting_the_same_text_twice_gives_the_same(text, other):
    first = tokenize(text)
    tokenize(other)
    assert tokenize(text) == first
