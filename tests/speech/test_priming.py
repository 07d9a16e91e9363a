"""The priming text holds no number in any form: numbers told to the recogniser come out as readings."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from hatchnote.speech.numberwords import carries_number, number_runs
from hatchnote.speech.priming import SITE_WORDS, TRADE, priming_text

AWKWARD = [
    "RTU-3",
    "AHU-12",
    "Big Bertha",
    "unit two",
    "the third one",
    "EF-A",
    "MAU 7",
    "forty-five",
    "½ ton",
    "CU1A",
]


def numbers_in(text: str) -> list[str]:
    return [w for w in text.split() if any(c.isdigit() or c.isnumeric() for c in w) or carries_number(w)]


def test_the_trade_text_holds_no_number():
    assert numbers_in(TRADE) == []


def test_site_words_lose_their_numbers_and_keep_their_letters():
    text = priming_text(AWKWARD)
    assert numbers_in(text) == []
    assert "AHU" in text and "Big Bertha" in text and "EF-A" in text and "MAU" in text


@given(st.lists(st.text(max_size=30), max_size=40))
def test_whatever_the_site_calls_its_machines(terms):
    assert numbers_in(priming_text(terms)) == []


def test_either_part_can_be_left_out():
    assert priming_text(["AHU-2"], site=False) == TRADE
    assert priming_text(["AHU-2"], trade=False) == "AHU."
    assert priming_text([], trade=False) is None


def test_the_site_cannot_flood_the_prompt():
    names = [f"{a}{b}{c} unit" for a in "BCDF" for b in "aeiou" for c in "klmnp"]
    assert priming_text(names).count(" unit") <= SITE_WORDS + TRADE.count(" unit")


# num2words spells the numbers; none of its words may be missed.
@pytest.mark.parametrize("kind", ["cardinal", "ordinal", "year"])
def test_spelled_numbers_are_known(kind):
    for n in [*range(131), 478, 1000, 1725, 2300, 21_000, 1_000_000]:
        for word in num2words(n, to=kind).replace(",", "").split():
            if word != "and":
                assert carries_number(word), (n, word)


def test_runs_of_numbers():
    said = "L1 to L2 four seventy eight and the first belt was half gone , 7.2"
    assert number_runs(said.split()) == [(0, 1), (2, 6), (14, 15)]


@pytest.mark.parametrize(
    ("said", "runs"),
    [
        ("manifold 9 and a quarter now", ["9 and a quarter"]),
        ("shaft one and three sixteenths long", ["one and three sixteenths"]),
        ("about 1 and 3/16 of it", ["1 and 3/16"]),
        ("suction 118 and 12 of superheat", ["118", "12"]),
        ("two and a dog", ["two"]),
    ],
)
def test_a_whole_number_and_its_fraction_are_one_run(said, runs):
    words = said.split()
    assert [" ".join(words[a:b]) for a, b in number_runs(words)] == runs
