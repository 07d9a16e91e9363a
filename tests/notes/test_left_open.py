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


@pytest.mark.parametrize("said", ["3-8", "3-8's", "5-8"])
def test_a_range_heard_with_a_hyphen_is_marked_with_what_else_it_can_be(said):
    [reading] = readings(heard(f"Belt deflection is {said} inch."), "belt-deflection")
    assert reading.check is not None
    a, b = said[0], said[2]
    assert {x.text for x in reading.check.alternatives} >= {f"{a}.{b}", f"{a}/{b}"}


def test_typed_it_is_what_was_meant():
    [reading] = readings("Belt deflection is 3-8 inch.", "belt-deflection")
    assert reading.check is None or "hyphen" not in reading.check.why


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
