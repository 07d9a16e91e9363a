"""Values taken back by voice: out of the ticket, kept in the record."""

import pytest
from tests.notes.short import reading

from hatchnote.notes import read_notes

CASES = {
    "Suction one eighteen, no wait, one twenty eight.": ("suction-pressure 128 psig", 118),
    "Manifold three point two, strike that, three point five inches.": (
        "manifold-pressure 3.5 in. w.c.",
        3.2,
    ),
    "Superheat is ten, sorry, twelve degrees.": ("superheat 12 °F", 10),
    "Discharge three fifteen. Scratch that, three fifty.": ("discharge-pressure 350 psig", 315),
    "Evacuated to four hundred, correction, three eighty microns": ("vacuum 380 microns", 400),
    "Blower sheave is seven and three quarters, sorry, eight and three quarters.": (
        "sheave pulley-diameter 8.75 in.",
        7.75,
    ),
    "Manifold three point four, no, make that three point five": ("manifold-pressure 3.5 in. w.c.", 3.4),
    "Outdoor sensor reads twenty thousand ohms, I mean twenty one thousand ohms": (
        "outdoor-air-sensor resistance 21000 ohm",
        20000,
    ),
}


@pytest.mark.parametrize("text", CASES)
def test_the_last_word_counts(text):
    facts = read_notes(text)
    wanted, old = CASES[text]
    assert [reading(r) for r in facts.readings] == [wanted]
    assert [r.value for r in facts.withdrawn] == [old]


def test_in_a_list_only_the_last_value_is_taken_back():
    facts = read_notes("L1 to L2 478, L2 to L3 481, correction, 482, L1 to L3 476.")
    assert [(r.legs, r.value) for r in facts.readings] == [("L1-L2", 478), ("L2-L3", 482), ("L1-L3", 476)]


def test_taken_back_and_nothing_said_in_its_place():
    facts = read_notes("Compressor amps fourteen two, disregard that, that was the other one.")
    assert not facts.readings and [r.value for r in facts.withdrawn] == [14.2]


def test_an_apology_takes_nothing_back():
    assert [
        r.value for r in read_notes("Suction one eighteen. Sorry about the noise, truck went by.").readings
    ] == [118]


def test_the_same_said_twice_is_one_reading():
    assert len(read_notes("RTU-1 suction is 118. Like I said, suction 118.").readings) == 1
