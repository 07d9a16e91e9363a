"""An hour of rooftop noise with nobody speaking: no word, no reading, no work item.

    python -m benchmarks.listening.hour_of_noise --audio FOLDER [--minutes 60]

The folder's noise clips follow one another at changing loudness, the babble of a restaurant left out: those are
voices. Prints what was heard, the time it took, and the process's greatest memory with both models loaded.
"""

from __future__ import annotations

import argparse
import os
import resource
import time
from pathlib import Path

import numpy as np

from benchmarks.listening.material import noises
from hatchnote.notes import read_notes
from hatchnote.speech.live import Listener


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--audio", type=Path, default=Path(os.environ.get("HATCHNOTE_AUDIO", "audio")))
    parser.add_argument("--minutes", type=float, default=60)
    given = parser.parse_args()
    clips = [x for name, x in noises(given.audio).items() if "babble" not in name]
    rng = np.random.default_rng(7)
    listener = Listener(["RTU-3"])
    began, cpu = time.perf_counter(), time.process_time()
    while listener.seconds < given.minutes * 60:
        clip = clips[int(rng.integers(len(clips)))]
        listener.feed((clip * rng.uniform(0.05, 2.0)).clip(-1, 1).astype(np.float32))
    heard = listener.finish()
    facts = read_notes(heard)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{heard.duration_s / 60:.0f} min of noise in {time.perf_counter() - began:.0f} s "
        f"({time.process_time() - cpu:.0f} s of processor): {len(heard.words)} words {heard.text[:200]!r}, "
        f"{len(facts.readings)} readings, {len(facts.work)} work items; memory at most {peak:.0f} MB"
    )


if __name__ == "__main__":
    main()
