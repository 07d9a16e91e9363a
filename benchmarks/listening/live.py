"""While he speaks: seconds from the last word to the draft, and whether the draft equals the one made at once.

    python -m benchmarks.listening.live --audio FOLDER [--seconds 60,180,600] [--runs 3]

Sound is fed as it would be recorded, half a second at a time, on a simulated clock: the listener works at real
speed while the next slices queue up, so that being behind at the last word counts. Nothing is waited for.
On a machine that has other work to do, `--clock cpu` counts processor seconds over two cores instead of the wall's.
"""

from __future__ import annotations

import argparse
import os
import time
from pathlib import Path

import numpy as np

from hatchnote.speech.audio import RATE, decode
from hatchnote.speech.live import Listener

SLICE_S = 0.5


def dictation(audio: Path, seconds: int, run: int) -> np.ndarray:
    """Dictations one after another, a different first one each run, cut to a length."""
    files = sorted((audio / "dictations").glob("*.ogg"))
    parts: list[np.ndarray] = []
    length = 0
    while length < seconds * RATE:
        parts.append(decode(files[(run * 5 + len(parts)) % len(files)]).samples)
        length += len(parts[-1])
    return np.concatenate(parts)[: seconds * RATE]


def spent(clock: str) -> float:
    """Seconds on the wall, or of two cores' work."""
    return time.perf_counter() if clock == "wall" else time.process_time() / 2


def wait_after_last_word(sound: np.ndarray, by: str) -> tuple[float, str]:
    """Seconds between the end of the sound and the transcript, and its text."""
    listener = Listener(["RTU-3"])
    clock = 0.0
    size = int(SLICE_S * RATE)
    for at in range(0, len(sound), size):
        piece = sound[at : at + size]
        clock = max(clock, (at + len(piece)) / RATE)  # a slice cannot be heard before it is spoken
        began = spent(by)
        listener.feed(piece)
        clock += spent(by) - began
    began = spent(by)
    text = listener.finish().text
    clock += spent(by) - began
    return clock - len(sound) / RATE, text


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--audio", type=Path, default=Path(os.environ.get("HATCHNOTE_AUDIO", "audio")))
    parser.add_argument("--seconds", default="60,180,600")
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--clock", choices=("wall", "cpu"), default="wall")
    given = parser.parse_args()
    warm = Listener(["RTU-3"])
    warm.feed(dictation(given.audio, 20, 0))
    warm.finish()
    for seconds in map(int, given.seconds.split(",")):
        waits, same = [], 0
        for run in range(given.runs):
            sound = dictation(given.audio, seconds, run)
            waited, text = wait_after_last_word(sound, given.clock)
            waits.append(waited)
            if run == 0:
                whole = Listener(["RTU-3"])
                whole.feed(sound)
                same = int(whole.finish().text == text)
        print(
            f"{seconds:4} s of dictation: draft's words {np.quantile(waits, 0.5):.1f} s after the last word (p50), "
            f"{np.quantile(waits, 0.95):.1f} s (p95), {given.runs} runs; "
            f"{'same words as at once' if same else 'OTHER words than at once'}",
            flush=True,
        )


if __name__ == "__main__":
    main()
