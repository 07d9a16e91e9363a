"""Seconds of sound heard per second: `python -m benchmarks.listening.throughput --audio FOLDER [--device cuda]`.

All dictations of the folder stand one after another in one recording, as in a backlog. Prints, for each batch
size, the rate with and without the second listener, and the share of time spent outside the recogniser.
"""

from __future__ import annotations

import argparse
import os
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

from hatchnote.speech.audio import RATE, decode
from hatchnote.speech.live import Listener
from hatchnote.speech.recognise import Recogniser
from hatchnote.speech.settings import ListenSettings

_spent = 0.0


def _clocked(method):
    def wrapper(*args, **named):
        global _spent
        began = time.perf_counter()
        try:
            return method(*args, **named)
        finally:
            _spent += time.perf_counter() - began

    return wrapper


def main() -> None:
    global _spent
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--audio", type=Path, default=Path(os.environ.get("HATCHNOTE_AUDIO", "audio")))
    parser.add_argument("--device", default="cpu")
    parser.add_argument("--compute")
    parser.add_argument("--batch", default="1,4")
    parser.add_argument("--only", type=int)
    given = parser.parse_args()
    files = sorted((given.audio / "dictations").glob("*.ogg"))[: given.only]
    sound = np.concatenate([decode(p).samples for p in files])
    Recogniser.encode = _clocked(Recogniser.encode)  # type: ignore[method-assign]
    Recogniser.decode = _clocked(Recogniser.decode)  # type: ignore[method-assign]
    base = replace(ListenSettings.from_environment(), device=given.device, compute=given.compute)
    for second in ("none", "tiny.en"):
        for batch in map(int, given.batch.split(",")):
            settings = replace(base, second_model=second, batch=batch)
            Listener(settings=settings).feed(sound[: 30 * RATE])  # models loaded, kernels warm
            _spent, began = 0.0, time.perf_counter()
            listener = Listener(["RTU-3"], settings=settings)
            listener.feed(sound)
            words = listener.finish().words
            took = time.perf_counter() - began
            print(
                f"{given.device} {given.compute or 'default'} batch {batch:3} second {second:8} "
                f"{len(sound) / RATE:6.0f} s of sound in {took:6.1f} s = {len(sound) / RATE / took:6.1f} ×; "
                f"outside the recogniser {1 - _spent / took:5.1%}; {len(words)} words",
                flush=True,
            )


if __name__ == "__main__":
    main()
