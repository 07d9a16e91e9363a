"""What recognisers do to words and figures, and the marks that follow."""

import pytest
from tests.notes.short import reading

from hatchnote.domain import SecondHearing, Transcript, Word
from hatchnote.notes import read_notes

REPAIRED = {
    "Supply air sensor reads 0.627 columns": "supply-air-sensor resistance 0.627 kohm",
    "Flame signal 3.1 micro apps": "flame-signal 3.1 uA",
    "RTU-3 suction 1, 18": "RTU-3 suction-pressure 118 psig",
    "Voltage L1 to L2478": "voltage 478 V L1-L2",
    "CO2 in the flue is 45 parts": "co 45 ppm flue",
    "RTU1, rated 463 phase": "RTU-1 voltage 460 V rated",
    "Belt isn't a 38, looks good": "belt-size A38",
    "Compressor 1 is pulling 112": "compressor 1 current 11.2 A",
}


@pytest.mark.parametrize("text", REPAIRED)
def test_a_repair_is_read_and_marked(text):
    found = read_notes(text).readings
    assert [reading(r) for r in found] == [REPAIRED[text]]
    assert found[0].check is not None


@pytest.mark.parametrize(
    "text",
    ["The columns in the lobby are nice.", "The contractor next door waved.", "He had a shave and a burger."],
)
def test_without_a_neighbour_a_word_stays_what_it_is(text):
    facts = read_notes(text)
    assert not (facts.readings or facts.work or facts.findings)


def test_repaired_parts_are_marked_too():
    facts = read_notes("The motor chief is worn, replaced the contractor, it was pitted.")
    assert {f.component for f in facts.findings} == {"sheave", "contactor"}
    assert all(f.check for f in facts.findings)


def test_a_lost_point_in_a_list_is_put_back_and_marked():
    found = read_notes("Blower amps 6.2 on L1, 60 on L2, 61 on L3").readings
    assert [r.value for r in found] == [6.2, 6.0, 6.1]
    assert [r.check is not None for r in found] == [False, True, True]
    assert found[1].check.alternatives[0].value == 60


def spoken(text, p=0.95, unsure=(), second=()):
    words = []
    at = 0.0
    for word in text.split():
        words.append(Word(word, at, at + 0.4, 0.2 if word in unsure else p))
        at += 0.5
    return Transcript(tuple(words), second=tuple(second))


def test_sure_words_carry_no_mark_and_seconds_are_kept():
    (r,) = read_notes(spoken("suction is 118 today")).readings
    assert r.check is None
    assert (r.heard.start, r.heard.end) == (1.0, 1.4)


def test_an_unsure_number_word_is_marked():
    (r,) = read_notes(spoken("suction is 118 today", unsure=("118",))).readings
    assert "not sure" in r.check.why


def test_a_second_hearing_that_agrees_takes_the_doubt_away():
    long = "suction is 118 today and it looks all right to me from up here"
    (alone,) = read_notes(spoken(long, unsure=("118",))).readings
    assert alone.check is not None
    again = SecondHearing(0.5, 2.0, "is one eighteen today", "other")
    (r,) = read_notes(spoken(long, unsure=("118",), second=[again])).readings
    assert r.check is None


def test_a_second_hearing_that_differs_is_marked_with_its_number():
    again = SecondHearing(0.5, 2.0, "is one twenty eight today", "other")
    (r,) = read_notes(spoken("suction is 118 today", second=[again])).readings
    assert "second hearing" in r.check.why
    assert 128 in [a.value for a in r.check.alternatives]


def test_an_unusual_value_is_marked_and_kept():
    (r,) = read_notes("Static pressure is 5.5").readings
    assert r.value == 5.5 and "unusual" in r.check.why


def test_a_machine_the_site_does_not_have_is_marked():
    (r,) = read_notes("RTU-7 suction 118", equipment=["RTU-1", "RTU-2"]).readings
    assert r.tag == "RTU-7" and "no machine of this site" in r.check.why


def test_nicknames_resolve_to_the_sites_machine():
    from hatchnote.domain import Equipment

    site = [Equipment("RTU-1", ("the kitchen unit",)), Equipment("RTU-2", ("north unit",))]
    found = read_notes("The kitchen unit, suction 118. North unit, suction 121.", equipment=site).readings
    assert [(r.tag, r.value) for r in found] == [("RTU-1", 118), ("RTU-2", 121)]
    assert all(r.check is None for r in found)
