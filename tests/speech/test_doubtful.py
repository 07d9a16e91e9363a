"""When a number is heard a third time, and what stands afterwards. The recogniser is played by a table of answers
here, for what is tested is the judgement; test_transcribe listens with the real one."""

import numpy as np
import pytest

from hatchnote.domain import SecondHearing, Word
from hatchnote.speech.audio import RATE
from hatchnote.speech.doubtful import MOST, ThirdHearing, doubtful, settled
from hatchnote.speech.guards import Hypothesis
from hatchnote.speech.second import Passage


def spoken(text, p=0.9, start=0.0):
    return tuple(Word(w, start + i * 0.5, start + i * 0.5 + 0.4, p) for i, w in enumerate(text.split()))


class Answers:
    """In place of a recogniser: hears the same words in every sound, as long as the sound lasts."""

    name = "base"

    def __init__(self, text):
        self.text, self.asked = text, 0

    def encode(self, sounds):
        return sounds

    def decode(self, sounds, *, beam, offsets):
        self.asked += 1
        words = spoken(self.text, start=offsets[0])
        return [Hypothesis(words, self.text, -0.2, 0.0, len(sounds[0]) / RATE)]


def settle(first, second, third, p=0.9):
    """The words and hearings afterwards; `second` is (word number, text) for every run of numbers."""
    words = spoken(first, p)
    passage = Passage(np.zeros(int((len(words) * 0.5 + 1) * RATE), dtype=np.float32), 0.0, words)
    hearings = [SecondHearing(words[i].start, words[i].end, text, "tiny.en") for i, text in second]
    recogniser = Answers(third)
    after, beside = ThirdHearing(recogniser).settle(passage, hearings)
    return " ".join(w.text for w in after), beside, recogniser.asked


def test_where_both_agree_nobody_listens_again():
    text, beside, asked = settle("suction 118 psig", [(1, "118 psig")], "suction 118 psig")
    assert (text, asked, len(beside)) == ("suction 118 psig", 0, 1)


def test_two_of_three_overrule_the_first_and_its_number_is_kept_beside():
    text, beside, asked = settle("legs two 150 volts", [(1, "two 115 volts")], "legs two 115 volts")
    assert text == "legs two 115 volts" and asked == 1
    assert [h.text for h in beside] == ["two 115 volts", "two 150 volts"]
    assert "overruled" in beside[-1].listener


def test_the_first_stands_when_the_third_agrees_with_it_or_with_nobody():
    for third in ("suction 118 psig", "suction 140 psig", "thank you"):
        text, beside, asked = settle("suction 118 psig", [(1, "108 psig")], third)
        assert text == "suction 118 psig" and asked == 1
        assert [h.text for h in beside] == ["108 psig"]


def test_an_improbable_word_is_doubtful_even_where_both_agree():
    assert doubtful(spoken("118", 0.3), "118 psig")
    assert not doubtful(spoken("118", 0.9), "one eighteen psig")


def test_letters_glued_to_figures_are_settled_too():
    better = settled(spoken("VX44,", 0.4), "BX-44. Align the", spoken("BX44."))
    assert better is not None and better[0].text == "BX44." and better[0].p == 0.4


@pytest.mark.parametrize("second", ["5.8, after", "5-8, after", "58 after"])
def test_a_point_that_another_wrote_proves_nothing(second):
    assert settled(spoken("5-8,"), second, spoken("5-8")) is None


@pytest.mark.parametrize("second", ["three eights. Motor", "3 eighths inch", "three-eighths, left it"])
def test_a_hyphen_gives_way_to_a_fraction_that_another_heard(second):
    better = settled(spoken("3-8."), second, spoken("3-8"))
    assert better is not None and better[0].text == "3/8."


def test_in_noise_that_leaves_everything_doubtful_only_some_is_heard_again():
    first = "suction 118 liquid 340 return 75 supply 55 outdoor 90 head 300"
    wrong = [(i, "44") for i in (1, 3, 5, 7, 9, 11)]
    *_, asked = settle(first, wrong, "suction 118")
    assert asked == MOST
