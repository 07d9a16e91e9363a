"""A decoding that stops before the speech does is continued: Whisper likes to end at a full stop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from hatchnote.speech.audio import RATE
from hatchnote.speech.guards import Hypothesis

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_UNTOLD_S = 1.5
"""Speech left after the last word from which on it is worth decoding again: a number takes a second."""
_TIMES = 2


def with_rest(
    told: Hypothesis,
    sound: NDArray[np.float32],
    offset: float,
    speech_end: float,
    decode: Callable[[NDArray[np.float32], float], Hypothesis | None],
) -> Hypothesis:
    """`told` continued to `speech_end` (s). `decode(sound, offset)` gives None for what is not to be believed."""
    for _ in range(_TIMES):
        if not told.words:
            return told
        end = told.words[-1].end or 0.0
        if speech_end - end < _UNTOLD_S:
            return told
        # A word's end is good to about 0.2 s; starting a little later does not hear it twice.
        rest = decode(sound[int((end + 0.05 - offset) * RATE) :], end + 0.05)
        if rest is None or not rest.words:
            return told
        told = replace(
            told,
            words=told.words + rest.words,
            text=f"{told.text} {rest.text}",
            log_prob=min(told.log_prob, rest.log_prob),
        )
    return told
