"""How long a ticket takes from the command line: `python benchmarks/ticket_time.py SOUND [SOUND...]`.

Prints, for every sound: start-up (a process that loads the models and listens to a tenth of a second of silence),
the whole `hatchnote ticket SOUND --json`, its ratio to the sound's length, the processor time (to judge by on a
machine with other work to do), and the greatest memory used.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import tempfile
import time
import wave
from pathlib import Path

HATCHNOTE = Path(sys.executable).with_name("hatchnote")


def processor() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def timed(sound: Path) -> tuple[float, str]:
    began = time.perf_counter()
    done = subprocess.run([HATCHNOTE, "ticket", str(sound), "--json"], capture_output=True, text=True)
    took = time.perf_counter() - began
    if done.returncode:
        raise SystemExit(done.stderr)
    return took, done.stdout


def main() -> None:
    with tempfile.TemporaryDirectory() as work:
        silence = Path(work) / "silence.wav"
        with wave.open(str(silence), "wb") as out:
            out.setparams((1, 2, 16_000, 0, "NONE", ""))
            out.writeframes(bytes(3200))
        timed(silence)  # model files joined and in the page cache
        before = processor()
        print(f"start-up {timed(silence)[0]:.1f} s, processor {processor() - before:.1f} s", flush=True)
    for name in sys.argv[1:]:
        before = processor()
        took, answer = timed(Path(name))
        seconds = sum(d["duration_s"] for d in json.loads(answer)["dictations"])
        print(
            f"{name}: {took:.1f} s for {seconds:.1f} s of sound, ratio {took / seconds:.2f}; "
            f"processor {processor() - before:.1f} s",
            flush=True,
        )
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"memory at most {peak:.0f} MB")


if __name__ == "__main__":
    main()
