"""Works asked for at the same time share a batch, oldest first; one that is poison fails alone."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from hatchnote.speech import transcribe
from hatchnote.speech.settings import ListenSettings
from hatchnote.speech.together import Together


class Slow:
    """Does works only when the gate is open, and remembers what came together."""

    def __init__(self):
        self.batches, self.gate, self.busy = [], threading.Event(), threading.Event()

    def __call__(self, key, works):
        self.batches.append((key, list(works)))
        self.busy.set()
        assert self.gate.wait(20)
        if "poison" in works:
            raise ValueError("poison")
        return [w.upper() for w in works]


def test_what_came_while_the_model_was_busy_is_done_together_and_the_oldest_first():
    slow = Slow()
    together = Together(slow, most=3)
    with ThreadPoolExecutor(8) as pool:
        first = pool.submit(together.ask, "en", ["a"])
        assert slow.busy.wait(20)
        rest = []
        for key, works in (("en", ["b", "c"]), ("es", ["d"]), ("en", ["e", "f"])):
            rest.append(pool.submit(together.ask, key, works))
            while sum(t.work in works for t in together._waiting) < len(works):
                time.sleep(0.001)
        slow.gate.set()
        assert first.result() == ["A"]
        assert [r.result() for r in rest] == [["B", "C"], ["D"], ["E", "F"]]
    assert slow.batches == [("en", ["a"]), ("en", ["b", "c", "e"]), ("es", ["d"]), ("en", ["f"])]


def test_a_poisonous_work_fails_for_its_own_recording_only():
    slow = Slow()
    together = Together(slow, most=8)
    with ThreadPoolExecutor(4) as pool:
        first = pool.submit(together.ask, "en", ["a"])
        assert slow.busy.wait(20)
        bad = pool.submit(together.ask, "en", ["poison"])
        good = pool.submit(together.ask, "en", ["b"])
        while len(together._waiting) < 2:
            time.sleep(0.001)
        slow.gate.set()
        assert first.result() == ["A"] and good.result() == ["B"]
        with pytest.raises(ValueError, match="poison"):
            bad.result()


@pytest.mark.speech
@pytest.mark.slow
def test_recordings_heard_together_have_the_words_of_each_heard_alone(dictation):
    small = ListenSettings(model="tiny.en", second_model="none")
    alone = transcribe(dictation, settings=small)
    both = ListenSettings(model="tiny.en", second_model="none", together=True)
    with ThreadPoolExecutor(2) as pool:
        heard = list(pool.map(lambda _: transcribe(dictation, settings=both), range(2)))
    assert alone.text and {h.text for h in heard} == {alone.text}
