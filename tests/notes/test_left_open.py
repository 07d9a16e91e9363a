"""Heard words that leave a value open are marked; the same words typed are not."""

import pytest

from hatchnote.domain import SecondHearing, Transcript, Word
from hatchnote.notes import read_notes


def heard(text, second=None, p=0.95):
    words = tuple(Word(w, i * 0.5, i * 0.5 + 0.4, p) for i, w in enumerate(text.split()))
    beside = tuple(SecondHearing(words[i].start, words[i].end, t, "tiny.en") for i, t in second or ())
    return Transcript(words, second=beside)


def readings(source, point):
    return [r for r in read_notes(source).readings if r.point == point]


def test_a_range_heard_with_a_hyphen_is_marked_with_what_else_it_can_be():
    [reading] = readings(heard("RTU-1. Blower amps before were 5-8."), "current")
    assert reading.value == 5.8 and reading.check is not None
    assert "5-8" in {x.text for x in reading.check.alternatives}


def test_typed_it_is_what_was_meant():
    [reading] = readings("Belt deflection is 3-8 inch.", "belt-deflection")
    assert reading.check is None or "hyphen" not in reading.check.why


def test_ounces_with_a_point_may_be_pounds_and_ounces():
    [charge] = readings(heard("RTU-1. Weighed in 9.6 ounces of R-410A."), "refrigerant-charge")
    assert charge.check is not None and 9.375 in [x.value for x in charge.check.alternatives]


@pytest.mark.parametrize("said", ["1 and 3 sixteenths", "1 and 316ths", "1 and 3/16"])
def test_a_whole_number_before_a_fraction_is_read_with_it_or_marked(said):
    got = readings(heard(f"RTU-1. Shaft size is {said}."), "shaft-size")
    assert got and all(r.check or r.value == 1.1875 for r in got)


def test_figures_one_by_one_are_marked():
    got = readings(heard("RTU-2. Blower amps 4, 2, 4, 4, 4, 3."), "current")
    assert got and all(r.check for r in got)


def test_three_legs_are_a_list_and_not_marked():
    got = readings(heard("RTU-2. Blower amps 4.2, 4.4, 4.3."), "current")
    assert [r.check for r in got] == [None] * 3


def test_a_second_hearing_without_the_number_is_a_mark_even_where_its_own_number_is_none():
    words = "Suction pressure is 118 psig."
    [clear] = readings(heard(words, [(3, "118 psig")]), "suction-pressure")
    [marked] = readings(heard(words, [(3, "four thousand times a day")]), "suction-pressure")
    assert clear.check is None and marked.check is not None


def test_two_numbers_for_the_same_terminals_are_marked_and_one_for_each_is_not():
    cut = readings(heard("RTU-1. Now L1, L2, 2, 36, L2, L3, 2, 38."), "current")
    assert cut and all(r.check for r in cut)
    whole = readings(heard("RTU-1. Voltage L1 to L2 236, L2 to L3 238."), "voltage")
    assert [(r.value, r.check) for r in whole] == [(236, None), (238, None)]


def test_a_number_run_into_another_word_is_marked():
    [oxygen] = readings(heard("RTU-1. Oxygen 8-boy 1, heat exchanger inspected."), "oxygen")
    assert oxygen.check is not None
    [motor] = readings(heard("RTU-1. Blower motor is a 5-horse motor."), "power")
    assert motor.check is None


def test_of_two_hearings_the_likely_one_is_taken_and_the_other_kept():
    words = "RTU-1. Line voltage is 15 volts."
    [reading] = readings(heard(words, [(4, "115 volts")]), "voltage")
    assert reading.value == 115 and reading.check is not None
    assert 15 in [x.value for x in reading.check.alternatives]
    [kept] = readings(heard("RTU-1. Suction pressure 120 psig.", [(3, "118 psig")]), "suction-pressure")
    assert kept.value == 120 and kept.check is not None


@pytest.mark.parametrize(
    ("said", "point", "value"),
    [
        ("RTU-1. Return air is 6.8 degrees.", "return-air-temperature", 68),
        ("RTU-1. Head pressure 3.80.", "discharge-pressure", 380),
        ("RTU-1. Temperature rise 4.4 degrees.", "temperature-rise", 44),
        ("RTU-1. Belt deflection is 3-8 inch.", "belt-deflection", 0.375),
    ],
)
def test_figures_grouped_unlikely_are_read_the_one_likely_way_and_marked(said, point, value):
    [reading] = readings(heard(said), point)
    assert reading.value == value and reading.check is not None
    assert any(x.text in said for x in reading.check.alternatives)


def test_what_is_likely_as_it_stands_is_left_alone():
    [supply] = readings(heard("RTU-1. Supply air is 54.5 degrees."), "supply-air-temperature")
    assert (supply.value, supply.check) == (54.5, None)
    [typed] = readings("RTU-1. Return air is 6.8 degrees.", "return-air-temperature")
    assert typed.value == 6.8
