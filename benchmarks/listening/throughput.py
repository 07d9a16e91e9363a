"""Seconds of sound heard per second: `python -m benchmarks.listening.throughput --audio FOLDER [--device cuda]`.

All dictations of the folder stand one after another in one recording. Prints, for each batch size, the rate with and
without the second listener, the processor time a second of sound (which other work on the machine changes least),
and the share of time spent outside the recogniser. With `--workers 4` as many threads take the dictations one by one,
as a worker with HATCHNOTE_WORKERS=4 takes jobs, and what they ask for at the same time is decoded together.
"""

from __future__ import annotations

import argparse
import os
import time
from concurrent.futures import ThreadPoolExecutor
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
    parser.add_argument("--second", default="none,tiny.en", help="second listeners")
    parser.add_argument(
        "--workers", help="threads with a dictation each, instead of batches of one recording"
    )
    given = parser.parse_args()
    files = sorted((given.audio / "dictations").glob("*.ogg"))[: given.only]
    sound = np.concatenate([decode(p).samples for p in files])
    Recogniser.encode = _clocked(Recogniser.encode)  # type: ignore[method-assign]
    Recogniser.decode = _clocked(Recogniser.decode)  # type: ignore[method-assign]
    base = replace(ListenSettings.from_environment(), device=given.device, compute=given.compute)
    if given.workers:
        backlog([decode(p).samples for p in files], base, given.second.split(","), given.workers)
        return
    for second in given.second.split(","):
        for batch in map(int, given.batch.split(",")):
            settings = replace(base, second_model=second, batch=batch)
            Listener(settings=settings).feed(sound[: 30 * RATE])  # models loaded, kernels warm
            _spent, began, used = 0.0, time.perf_counter(), time.process_time()
            listener = Listener(["RTU-3"], settings=settings)
            listener.feed(sound)
            words = listener.finish().words
            took, used = time.perf_counter() - began, time.process_time() - used
            print(
                f"{given.device} {given.compute or 'default'} batch {batch:3} second {second:8} "
                f"{len(sound) / RATE:6.0f} s of sound in {took:6.1f} s = {len(sound) / RATE / took:6.1f} ×; "
                f"processor {used / len(sound) * RATE:.3f} a second; "
                f"outside the recogniser {1 - _spent / took:5.1%}; {len(words)} words",
                flush=True,
            )


def backlog(sounds: list[np.ndarray], base: ListenSettings, seconds: list[str], workers: str) -> None:
    """A backlog of recordings heard by so many threads: one model, one batch for what is asked at the same time."""

    def hear(sound: np.ndarray) -> None:
        listener = Listener(["RTU-3"], settings=settings)
        listener.feed(sound)
        listener.finish()

    length = sum(map(len, sounds)) / RATE
    for second in seconds:
        for count in map(int, workers.split(",")):
            settings = replace(base, second_model=second, batch=1, together=count > 1)
            hear(sounds[0][: 20 * RATE])
            began, used = time.perf_counter(), time.process_time()
            with ThreadPoolExecutor(count) as pool:
                list(pool.map(hear, sounds))
            took, used = time.perf_counter() - began, time.process_time() - used
            print(
                f"{base.device} {count:3} workers, second {second:8} {length:6.0f} s of sound in {took:6.1f} s "
                f"= {length / took:6.1f} ×; processor {used / length:.3f} a second",
                flush=True,
            )


if __name__ == "__main__":
    main()
