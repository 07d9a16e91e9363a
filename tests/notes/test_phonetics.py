"""Words that sound alike: the likeness itself, repair where the place asks for it, and none in ordinary speech."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchnote.domain import Transcript, Word
from hatchnote.notes.phonetics import alike, sound
from hatchnote.notes.read import read_doc, read_notes
from hatchnote.notes.sounding import MARGIN

HERE = Path(__file__).parent

ORDINARY = """
The manager walked me up to the roof and talked about his daughter's wedding for ten minutes.
I parked by the loading dock, grabbed a coffee and signed the visitor sheet at the front counter.
We should bring the longer ladder next time because the hatch is tight and the railing is loose.
Traffic was terrible on the bridge this morning, forty minutes for six miles.
She changed the appointment to the afternoon and asked for a receptionist to let us in.
I opened the umbrella, checked the schedule and closed the tailgate before lunch.
He replaced the carpet in the hallway and painted the fence behind the restaurant.
They ordered twelve sandwiches, three pizzas and a salad for the whole crew.
"""


def meant(text: str) -> list[tuple[str, str]]:
    return [(r.heard, r.meant) for r in read_doc(text).repairs]


@pytest.mark.parametrize(
    ("heard", "said", "other"),
    [
        ("megons", "megohms", "microns"),
        ("transporter", "transformer", "thermostat"),
        ("billow lock", "pillow block", "ball valve"),
        ("kompresser", "compressor", "capacitor"),
    ],
)
def test_the_word_that_was_said_sounds_nearer_than_another(heard: str, said: str, other: str) -> None:
    assert alike(sound(heard), sound(said)) > alike(sound(heard), sound(other)) + MARGIN


@given(st.text(max_size=40), st.text(max_size=40))
def test_likeness_is_mutual_and_within_0_and_1(one: str, other: str) -> None:
    a, b = sound(one), sound(other)
    assert 0 <= alike(a, b) == alike(b, a) <= 1
    assert alike(a, a) == 1


def test_a_unit_nobody_listed_is_read_and_marked() -> None:
    readings = read_notes("Compressor winding to ground reads 500 megons.").readings
    assert [(r.value, r.ucum) for r in readings] == [(500, "MOhm")]
    assert readings[0].check
    assert "megons" in str(readings[0]) and "megohms" in str(readings[0])


def test_the_object_of_a_trade_verb_and_the_word_before_a_head_noun() -> None:
    assert meant("Replaced the kompresser on unit 3.") == [("kompresser", "compressor")]
    assert meant("Cleaned the new thermostadt today.") == [("thermostadt", "thermostat")]


def test_what_a_part_is_and_the_word_before_a_point() -> None:
    assert meant("The compressor is grownded.") == [("grownded", "grounded")]
    assert meant("Dischardge pressure is 385.") == [("Dischardge", "discharge")]


def test_nothing_is_read_otherwise_where_no_place_asks_for_it() -> None:
    assert meant("The kompresser.") == []
    assert meant("Replaced it for Kompresser, he asked.") == []


def test_a_common_word_is_doubted_only_where_it_was_hardly_heard() -> None:
    def heard(p: float) -> list[str]:
        text = "Found the extension valve leaking"
        words = tuple(Word(w, 0.0, 0.0, p if w == "extension" else 0.9) for w in text.split())
        return [r.meant for r in read_doc(Transcript(words)).repairs]

    assert heard(0.3) == ["expansion"]
    assert heard(0.9) == []


def test_ordinary_speech_comes_through_untouched() -> None:
    for line in ORDINARY.strip().splitlines():
        assert meant(line) == [], line


def test_dictations_hold_no_repair_by_sound_but_those_listed() -> None:
    for path in sorted((HERE.parent / "dictations").glob("*.jsonl")):
        for line in path.read_text(encoding="utf-8").splitlines():
            doc = read_doc(json.loads(line)["script"])
            listed = {s.meant for s in doc.vocabulary.soundalikes}
            assert [(r.heard, r.meant) for r in doc.repairs if r.meant not in listed] == []


def test_no_repair_of_what_a_recogniser_wrote_names_a_word_that_was_not_said() -> None:
    """Phrases of our own, spoken by synthesisers in noise, heard by Whisper base: see benchmarks/notes."""
    repaired = 0
    for line in (HERE / "mishearings.jsonl").read_text(encoding="utf-8").splitlines():
        row = json.loads(line)
        words = tuple(Word(t, 0.0, 0.0, p) for t, p in zip(row["heard"].split(), row["p"], strict=True))
        for r in read_doc(Transcript(words)).repairs:
            if r.quiet:
                continue
            assert any(w in row["said"].lower() for w in r.meant.split()), (row["said"], r)
            repaired += 1
    assert repaired >= 4


def test_figures_stay_what_they_were() -> None:
    doc = read_doc("The winding reads 500 megons and line 2 is 478 voltz.")
    for token, word in zip(doc.tokens, doc.norm, strict=True):
        if token.kind == "n":
            assert word == token.text
