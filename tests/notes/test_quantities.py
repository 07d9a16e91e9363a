"""Quantities in any English text: what is one, what is none, and where it stands."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchnote.notes import quantities


def found(line):
    return [(pytest.approx(q.value), q.ucum) for q in quantities(line)]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("three and a half inches of water column", [(3.5, "[in_i'H2O]")]),
        ("evacuated to three eighty microns", [(380, "um[Hg]")]),
        ("one eighteen psig and 24VAC", [(118, "[psi]"), (24, "V")]),
        ("16x25x2 and sixteen by twenty five by two", []),
        ("208/230 V", [(208, "V"), (230, "V")]),
        ("a half horse motor", [(0.5, "[HP]")]),
        ("one five horsepower motor", [(5, "[HP]")]),
        ("an inch and a half", [(1.5, "[in_i]")]),
        ("a quarter of an inch", [(0.25, "[in_i]")]),
        ("two pounds three ounces", [(2.1875, "[lb_av]")]),
        ("5 ft 11 in", [(5 + 11 / 12, "[ft_i]")]),
        ("5'11\"", [(5 + 11 / 12, "[ft_i]")]),
        ("between 10 and 12 psi", [(10, "[psi]"), (12, "[psi]")]),
        ("10 to 12 volts", [(10, "V"), (12, "V")]),
        ("forty plus five mfd", [(40, "uF"), (5, "uF")]),
        (
            "four seventy eight, four eighty one and four seventy six volts",
            [(478, "V"), (481, "V"), (476, "V")],
        ),
        ("plus or minus 5 percent", [(5, "%")]),
        ("minus 40 degrees Celsius", [(-40, "Cel")]),
        ("60 km/h", [(60, "km/h")]),
        ("1.5 million gallons", [(1.5e6, "[gal_us]")]),
        ("0.5k miles", [(500, "[mi_i]")]),
        ("four two amps but two four volts", [(4.2, "A"), (24, "V")]),
        ("the sensor reads point six two seven K", [(0.627, "kOhm")]),
        ("a dozen eggs and 3 apples for $5 at 3:30 pm in the 1980s", []),
        ("put 5 in the box", []),
        ("the third floor, unit 12", []),
        ('he said "5" twice', []),
    ],
)
def test_what_is_a_quantity(line, expected):
    assert found(line) == expected


def test_a_quantity_says_where_it_stands():
    line = 'Manifold was 3½" w.c. on high.'
    (q,) = quantities(line)
    assert line[q.start : q.end] == q.text == '3½" w.c'
    assert q.unit == "in. w.c."


def test_an_ambiguous_word_keeps_its_other_meaning():
    (q,) = quantities("it took 8 ounces")
    assert (8.0, "[foz_us]") in q.alternatives


@given(st.text())
def test_no_text_makes_it_raise(text):
    for q in quantities(text):
        assert q.text == text[q.start : q.end]


PIECES_TEXT = """
five 12 3½ point half a and an inch inches of water " ' ft lb oz pounds three ounces to 10-12 ±5
volts / ° F % k K meg . , per second minute ^2 ² in m s A twenty two e9 x10 - minus
"""
PIECES = PIECES_TEXT.split()


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=25))
def test_no_mixture_of_numbers_and_units_makes_it_raise(words):
    for joint in (" ", ""):
        text = joint.join(words)
        for q in quantities(text):
            assert q.text == text[q.start : q.end] and q.text


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(
        ["Well, okay.", "The customer was not there.", "Nice view up here!", "I had to move the truck."]
    )
)
def test_chatter_between_sentences_changes_nothing(chatter):
    lines = [
        "Suction one eighteen psig.",
        "Manifold three and a half inches of water.",
        "Pulled 380 microns of vacuum.",
    ]
    plain = [(q.value, q.ucum) for q in quantities(" ".join(lines))]
    mixed = [(q.value, q.ucum) for q in quantities(f" {chatter} ".join(lines))]
    assert plain == mixed == [(118.0, "[psi]"), (3.5, "[in_i'H2O]"), (380.0, "um[Hg]")]


@pytest.mark.parametrize(
    "piece",
    [
        "5 volts and ",
        "five or ",
        "one, two, three amps ",
        "an inch and a half ",
        "2 lb 3 oz ",
        "5'",
        "9 microns ",
    ],
)
def test_a_text_four_times_as_long_costs_about_four_times_as_much(piece):
    from time import process_time

    def cost(n):
        began = process_time()
        quantities(piece * n)
        return process_time() - began

    cost(300)
    short = min(cost(500) for _ in range(3))
    long = min(cost(2000) for _ in range(3))
    assert long < 12 * short + 0.02


def test_a_figure_too_long_to_be_a_measurement_is_none():
    assert quantities("9" * 400 + " psig") == []
    assert [q.value for q in quantities("1234567 psig")] == [1234567]
