"""Sound is cut the same way while it comes in as afterwards, and no speech falls between two segments."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchnote.speech.activity import FRAME, Cutter, SpeechMeter
from hatchnote.speech.audio import RATE
from hatchnote.speech.level import HighPass
from hatchnote.speech.settings import ListenSettings

S = ListenSettings()
STRETCHES = st.lists(st.tuples(st.booleans(), st.integers(1, 1200)), min_size=1, max_size=12)


def probabilities(stretches: list[tuple[bool, int]]) -> list[float]:
    return [0.9 if speaks else 0.05 for speaks, frames in stretches for _ in range(frames)]


def cut(p: list[float], pieces: list[int] | None = None):
    cutter = Cutter(S)
    out, at = [], 0
    for size in pieces or [len(p)]:
        out += cutter.feed(p[at : at + size])
        at += size
    out += cutter.feed(p[at:])
    return out + cutter.finish(len(p) * FRAME)


@given(STRETCHES, st.lists(st.integers(1, 300), max_size=20))
@settings(deadline=None)
def test_slices_are_cut_like_the_whole(stretches, pieces):
    p = probabilities(stretches)
    assert cut(p, pieces) == cut(p)


@given(STRETCHES)
@settings(deadline=None)
def test_segments_are_in_order_fit_the_window_and_hold_all_speech(stretches):
    p = probabilities(stretches)
    segments = cut(p)
    for a, b in pairwise(segments):
        assert a.end <= b.start
    covered = np.zeros(len(p) * FRAME, dtype=bool)
    for s in segments:
        assert 0 <= s.start < s.end <= len(p) * FRAME
        assert (s.end - s.start) / RATE <= 30
        covered[s.start : s.end] = True
    at = 0
    for speaks, frames in stretches:
        if speaks and frames * FRAME / RATE >= S.min_speech_s + 0.05:
            assert covered[at * FRAME : (at + frames) * FRAME].all()
        at += frames


def test_a_long_pause_ends_a_segment_before_the_next_word():
    cutter = Cutter(S)
    speech = [0.9] * 100
    assert cutter.feed(speech + [0.05] * 20) == []
    assert len(cutter.feed([0.05] * 40)) == 1


def test_silence_has_no_segment():
    assert cut([0.02] * 2000) == []


def test_the_meter_says_the_same_of_slices(samples):
    whole = SpeechMeter().feed(samples, last=True)
    meter, sliced = SpeechMeter(), []
    rng = np.random.default_rng(1)
    at = 0
    while at < len(samples):
        size = int(rng.integers(1, 9000))
        sliced += meter.feed(samples[at : at + size])
        at += size
    sliced += meter.feed(samples[:0], last=True)
    assert np.allclose(whole, sliced, atol=1e-4)
    assert max(whole) > 0.9 and min(whole) < 0.2


def test_the_high_pass_takes_rumble_and_leaves_the_voice():
    t = np.arange(RATE * 2) / RATE
    rumble, voice = np.sin(2 * np.pi * 30 * t), np.sin(2 * np.pi * 200 * t)
    steady = slice(RATE // 2, None)
    assert np.abs(HighPass(80).apply(rumble.astype(np.float32))[steady]).max() < 0.1
    assert np.abs(HighPass(80).apply(voice.astype(np.float32))[steady]).max() > 0.9


def test_the_high_pass_says_the_same_of_slices():
    noise = np.random.default_rng(0).normal(size=20_000).astype(np.float32)
    sliced = HighPass(80)
    pieces = [sliced.apply(noise[a:b]) for a, b in ((0, 10), (10, 5000), (5000, 5001), (5001, 20_000))]
    assert np.allclose(np.concatenate(pieces), HighPass(80).apply(noise), atol=1e-4)
