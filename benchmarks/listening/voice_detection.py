"""What the voice detection lets through: `python -m benchmarks.listening.voice_detection --audio FOLDER --texts FILE`.

The network's probabilities are computed once a condition; every pair of thresholds and every pause cuts them anew.
Prints the share of speech that no segment covers (speech: frames above 0.5 in the same dictation without noise), the
share of the recording that is decoded, how many segments a minute, and how much of noise alone is taken for speech.
Nothing is recognised here, so a sweep costs seconds; what a setting does to words is for `run.py`.
"""

from __future__ import annotations

import argparse
import os
from dataclasses import replace
from pathlib import Path

import numpy as np

from benchmarks.listening import material
from benchmarks.listening.voices import ROOT
from hatchnote.speech.activity import FRAME, Cutter, SpeechMeter
from hatchnote.speech.audio import RATE, decode
from hatchnote.speech.settings import ListenSettings

SHIPPED = ListenSettings()
SWEEP = {
    "on 0.20 off 0.10": replace(SHIPPED, speech_on=0.2, speech_off=0.1),
    "on 0.25 off 0.15, shipped": SHIPPED,
    "on 0.35 off 0.20": replace(SHIPPED, speech_on=0.35, speech_off=0.2),
    "on 0.50 off 0.35": replace(SHIPPED, speech_on=0.5, speech_off=0.35),
    "on 0.65 off 0.50": replace(SHIPPED, speech_on=0.65, speech_off=0.5),
    "shipped, pause 0.2 s": replace(SHIPPED, pause_s=0.2),
    "shipped, pause 0.7 s": replace(SHIPPED, pause_s=0.7),
    "shipped, pad 0.1 s": replace(SHIPPED, pad_s=0.1),
    "shipped, pad 0.5 s": replace(SHIPPED, pad_s=0.5),
}


def covered(probabilities: list[float], samples: int, settings: ListenSettings) -> tuple[np.ndarray, int]:
    """Frames inside a segment, and how many segments there are."""
    cutter = Cutter(settings)
    segments = [*cutter.feed(probabilities), *cutter.finish(samples)]
    inside = np.zeros(len(probabilities), dtype=bool)
    for s in segments:
        inside[s.start // FRAME : -(-s.end // FRAME)] = True
    return inside, len(segments)


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--audio", type=Path, default=Path(os.environ.get("HATCHNOTE_AUDIO", "audio")))
    parser.add_argument("--texts", type=Path, default=ROOT / "benchmarks" / "notes" / "dev.jsonl")
    parser.add_argument("--conditions", default=",".join(material.CONDITIONS))
    parser.add_argument("--only", type=int)
    given = parser.parse_args()
    items = material.dictations(given.texts, given.audio, only=given.only)
    noises = material.noises(given.audio)
    names = sorted(noises)
    clean = [decode(i.sound).samples for i in items]
    spoken = [np.array(SpeechMeter().feed(c, last=True)) >= 0.5 for c in clean]
    print("| condition | setting | speech missed | decoded | segments a minute |\n|---|---|---|---|---|")
    for condition in given.conditions.split(","):
        heard = []
        for n, (item, sound) in enumerate(zip(items, clean, strict=True)):
            noise = noises[names[(n * 7 + len(condition)) % len(names)]]
            mixed = material.in_condition(sound, condition, noise, item.id + condition)
            heard.append((SpeechMeter().feed(mixed, last=True), len(mixed)))
        for name, settings in SWEEP.items():
            missed = speech = inside = frames = segments = 0
            for (probabilities, samples), said in zip(heard, spoken, strict=True):
                got, count = covered(probabilities, samples, settings)
                size = min(len(got), len(said))
                missed += int((said[:size] & ~got[:size]).sum())
                speech += int(said.sum())
                inside += int(got.sum())
                frames += len(got)
                segments += count
            minutes = frames * FRAME / RATE / 60
            print(
                f"| {condition} | {name} | {missed / speech:.2%} | {inside / frames:.1%} | {segments / minutes:.1f} |",
                flush=True,
            )
    alone = [(SpeechMeter().feed(noises[n], last=True), len(noises[n])) for n in names]
    for name, settings in SWEEP.items():
        parts = [covered(p, s, settings)[0] for p, s in alone]
        share = sum(int(p.sum()) for p in parts) / sum(len(p) for p in parts)
        print(f"| noise alone | {name} | | {share:.1%} | |", flush=True)


if __name__ == "__main__":
    main()
