"""A value among words that were hardly heard carries a mark, however sure the recogniser was of the value."""

from __future__ import annotations

from hatchnote.domain import SecondHearing, Transcript, Word
from hatchnote.notes import read_notes
from hatchnote.notes.surroundings import hardly_heard


def spoken(around: float, p: float = 0.95) -> Transcript:
    texts = ["and", "here", "suction", "pressure", "was", "one", "eighteen", "on", "that", "side", "today"]
    words = tuple(
        Word(t, 0.4 * i, 0.4 * i + 0.4, p if t in ("one", "eighteen") else around)
        for i, t in enumerate(texts)
    )
    agrees = SecondHearing(2.0, 2.8, "one eighteen", "another listener", 0.6)
    return Transcript(words, duration_s=5.0, second=(agrees,))


def test_quiet_surroundings_leave_a_value_alone():
    (reading,) = read_notes(spoken(0.95)).readings
    assert reading.value == 118 and reading.check is None


def test_a_hardly_heard_stretch_marks_it_even_when_both_listeners_agree():
    (reading,) = read_notes(spoken(0.5)).readings
    assert reading.value == 118 and reading.check is not None
    assert "hardly heard" in reading.check.why


def test_typed_words_are_never_hardly_heard():
    words = [Word(t) for t in ["suction", "one", "eighteen"]]
    assert not hardly_heard(words, range(1, 3))
    assert not hardly_heard([], range(0))


def test_only_the_seconds_around_count():
    far = [Word("x", 0.5 * i, 0.5 * i + 0.4, 0.1) for i in range(20)]
    near = [Word("y", 20 + 0.5 * i, 20.4 + 0.5 * i, 0.9) for i in range(20)]
    assert not hardly_heard([*far, *near], range(25, 27))
    assert hardly_heard([*far, *near], range(3, 5))
