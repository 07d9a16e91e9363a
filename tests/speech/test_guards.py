"""When a decoding is not believed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hatchnote.domain import Word
from hatchnote.speech.guards import Hypothesis, agree, echoes, failing, loops
from hatchnote.speech.priming import TRADE
from hatchnote.speech.settings import ListenSettings

GOOD = Hypothesis(
    words=tuple(Word(w, p=0.9) for w in ("Suction", "one", "eighteen,", "liquid", "three", "forty.")),
    text="Suction one eighteen, liquid three forty.",
    log_prob=-0.3,
    no_speech=0.02,
    seconds=4.0,
)
S = ListenSettings()


def test_plain_speech_is_believed():
    assert failing(GOOD, S, prompt=TRADE) is None


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"text": "  "}, "nothing"),
        ({"no_speech": 0.9, "log_prob": -1.2}, "no speech"),
        ({"text": "thank you very much and " * 12, "seconds": 25.0}, "repeats"),
        ({"text": "oh my oh my oh my oh my"}, "loops"),
        (
            {"text": "one two three four five six seven eight nine ten eleven", "seconds": 1.0},
            "too many words",
        ),
        ({"text": "suction, discharge and liquid pressure in psig, superheat"}, "echo of the priming"),
        ({"text": "you", "words": (Word("you", 0.0, 4.9, 0.03),)}, "stretched"),
        ({"log_prob": -1.3}, "unsure"),
    ],
)
def test_each_guard(change, why):
    assert failing(replace(GOOD, **change), S, prompt=TRADE) == why


def test_three_equal_legs_are_no_loop():
    assert not loops(["eleven", "two", "eleven", "two", "eleven", "two"])
    assert not loops(["460", "460", "460", "460"])


def test_trade_words_said_by_himself_are_no_echo():
    assert not echoes("suction and discharge pressure looked fine, superheat was nine", TRADE)


def test_two_hearings_of_one_sentence_agree_and_two_inventions_do_not():
    assert agree("Suction 118, liquid 340, box 10 kilohms.", "Section 118 liquid 340 box ten kilohms")
    assert not agree("Thank you for watching.", "I'm going to go to the next one.")
