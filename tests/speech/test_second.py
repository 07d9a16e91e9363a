"""Where the second listener listens, and how its words are laid beside the first one's."""

from __future__ import annotations

import numpy as np

from hatchnote.domain import Word
from hatchnote.speech.audio import RATE
from hatchnote.speech.guards import Hypothesis
from hatchnote.speech.rest import with_rest
from hatchnote.speech.second import Passage, align, windows_around_numbers


def spoken(text: str, every: float = 0.5) -> tuple[Word, ...]:
    return tuple(Word(w, i * every, i * every + 0.4, 0.9) for i, w in enumerate(text.split()))


def passage(text: str) -> Passage:
    words = spoken(text)
    return Passage(np.zeros(int((len(words) * 0.5 + 1) * RATE), dtype=np.float32), 0.0, words)


def test_without_a_number_nothing_is_heard_again():
    assert windows_around_numbers(passage("cleaned the flame sensor and cycled it")) == []


def test_a_number_is_heard_with_what_stands_around_it():
    ((start, end),) = windows_around_numbers(
        passage("the return air temperature here is 68 degrees and fine today")
    )
    assert start < 2.0 and end > 4.4


def test_near_numbers_share_a_window_and_far_ones_do_not():
    near = passage("suction 118 and the liquid 340")
    far = passage("suction 118 " + "and then we looked at other things for quite a while " * 3 + "liquid 340")
    assert len(windows_around_numbers(near)) == 1
    assert len(windows_around_numbers(far)) == 2


def test_words_are_laid_beside_words():
    first = ["suction", "118", "liquid", "340", "box", "10.2"]
    second = ["section", "118", "liquid", "three", "forty", "box", "10.2"]
    ranges = align(first, second)
    assert [" ".join(second[a:b]) for a, b in ranges] == [
        "section",
        "118",
        "liquid",
        "three forty",
        "box",
        "10.2",
    ]


def test_what_the_second_left_out_stands_empty():
    assert align(["a", "118", "b"], ["a", "b"])[1] == (1, 1)


def hypothesis(*words: Word) -> Hypothesis:
    return Hypothesis(words, " ".join(w.text for w in words), -0.2, 0.0, 10.0)


def test_a_decoding_that_stops_early_is_continued():
    sound = np.zeros(10 * RATE, dtype=np.float32)
    asked: list[float] = []

    def more(rest, offset):
        asked.append(offset)
        return hypothesis(Word("340", 105.0, 109.5, 0.9))

    told = with_rest(hypothesis(Word("118", 100.0, 103.0, 0.9)), sound, 100.0, 110.0, more)
    assert [w.text for w in told.words] == ["118", "340"] and told.text == "118 340"
    assert asked == [103.05]


def test_a_decoding_that_reached_the_end_is_left_alone():
    told = hypothesis(Word("118", 100.0, 109.0, 0.9))
    assert with_rest(told, np.zeros(10 * RATE, dtype=np.float32), 100.0, 110.0, lambda s, o: None) is told


def test_a_rest_that_is_not_believed_adds_nothing():
    told = hypothesis(Word("118", 100.0, 103.0, 0.9))
    assert with_rest(told, np.zeros(10 * RATE, dtype=np.float32), 100.0, 110.0, lambda s, o: None) is told
