"""Listen to every dictation in every condition with every step, and keep what was heard.

    python -m benchmarks.listening.run --audio FOLDER --texts dev.jsonl --steps plain,base,hatchnote

What was heard goes to benchmarks/out/listening/*.jsonl (one file a step and condition; kept ones are not
heard again), the table to the screen; `python -m benchmarks.listening.report` scores, tabulates and plots.
"""

from __future__ import annotations

import argparse
import json
import os
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path

import numpy as np

from benchmarks.listening import material
from benchmarks.listening.score import digit_errors, word_errors
from benchmarks.listening.voices import ROOT
from hatchnote.domain import Transcript, Word
from hatchnote.speech.audio import RATE, decode
from hatchnote.speech.settings import ListenSettings

OUT = ROOT / "benchmarks" / "out" / "listening"
_BARE = ListenSettings(
    prime_trade=False,
    prime_site=False,
    second_model="none",
    third=False,
    retell=False,
    speech_on=0.5,
    speech_off=0.35,
)  # our segments and guards, nothing else

_PRIMED = replace(_BARE, prime_trade=True, prime_site=True)

STEPS: dict[str, ListenSettings | None] = {
    "plain": None,
    "segments": _BARE,
    "high-pass": replace(_BARE, high_pass_hz=80),
    "level": replace(_BARE, level=True),
    "suppress": _BARE,
    "primed": _PRIMED,
    "primed-trade": replace(_BARE, prime_trade=True),
    "primed-site": replace(_BARE, prime_site=True),
    "beam-1": replace(_PRIMED, beam=1),
    "beam-2": replace(_PRIMED, beam=2),
    "beam-8": replace(_PRIMED, beam=8),
    "soft-6": replace(_PRIMED, soft_length_s=6),
    "soft-20": replace(_PRIMED, soft_length_s=20),
    "vad-0.35": replace(_PRIMED, speech_on=0.35, speech_off=0.2),
    "vad-0.25": replace(_PRIMED, speech_on=0.25, speech_off=0.15),
    "vad-0.35-beam-8": replace(_PRIMED, speech_on=0.35, speech_off=0.2, beam=8),
    "retell": replace(_PRIMED, retell=True),
    "second-tiny": replace(_PRIMED, retell=True, second_model="tiny.en"),
    "second-tiny-beam-5": replace(_PRIMED, retell=True, second_model="tiny.en", second_beam=5),
    "second-base": replace(_PRIMED, retell=True, second_model="base"),
    "third": replace(_PRIMED, retell=True, second_model="tiny.en", third=True),
    "hatchnote": ListenSettings(),
}
"""None is plain faster-whisper: same weights and compute type, beam 5, its own segmentation, no priming."""


def listen_with(step: str) -> Callable[[np.ndarray, list[str]], Transcript]:
    settings = STEPS[step]
    if settings is None:
        return _plain
    threads = ListenSettings.from_environment().threads
    return lambda sound, tags: ours(sound, tags, replace(settings, threads=threads))


def ours(sound: np.ndarray, tags: list[str], settings: ListenSettings) -> Transcript:
    from hatchnote.speech.live import Listener

    listener = Listener(tags, settings=settings)
    listener.feed(sound)
    return listener.finish()


def _plain(sound: np.ndarray, tags: list[str]) -> Transcript:
    from hatchnote.speech.recognise import load

    model = load("base", ListenSettings.from_environment())._model
    segments, _ = model.transcribe(sound, language="en", beam_size=5, word_timestamps=True)
    words: list[Word] = []
    for s in segments:
        for w in s.words:
            text = w.word.strip()
            if words and not w.word.startswith(" "):
                last = words[-1]
                words[-1] = Word(last.text + text, last.start, w.end, min(last.p or 0, w.probability))
            else:
                words.append(Word(text, w.start, w.end, w.probability))
    return Transcript(tuple(words), duration_s=len(sound) / RATE)


def hear(step: str, condition: str, items: list[material.Dictation], noises: dict[str, np.ndarray]) -> Path:
    """Hear what is not yet kept; the file with one JSON line a dictation."""
    OUT.mkdir(parents=True, exist_ok=True)
    path = OUT / f"{step}@{condition}.jsonl"
    known = {json.loads(x)["id"] for x in path.read_text().splitlines()} if path.exists() else set()
    listen = listen_with(step)
    names = sorted(noises)
    with path.open("a", encoding="utf-8") as out:
        for i, item in enumerate(items):
            if item.id in known:
                continue
            noise = names[(i * 7 + len(condition)) % len(names)] if names else ""
            clean = decode(item.sound).samples
            sound = material.in_condition(clean, condition, noises.get(noise, clean), item.id + condition)
            if step == "suppress":
                sound = material.suppressed(sound)
            began, cpu = time.perf_counter(), time.process_time()
            heard = listen(sound, item.tags)
            row = {
                "id": item.id,
                "noise": noise if condition.endswith("dB") else None,
                "wall_s": round(time.perf_counter() - began, 2),
                "cpu_s": round(time.process_time() - cpu, 2),
                "sound_s": round(len(sound) / RATE, 2),
                "words": [[w.text, w.start, w.end, w.p] for w in heard.words],
                "second": [[s.start, s.end, s.text, s.listener, s.p] for s in heard.second],
            }
            out.write(json.dumps(row) + "\n")
            out.flush()
    return path


def _hear_one(task: tuple[str, str, list[material.Dictation], Path]) -> tuple[str, str]:
    step, condition, items, audio = task
    hear(step, condition, items, material.noises(audio))
    return step, condition


def line(step: str, condition: str, said: dict[str, str]) -> str:
    """One row of the table: what is kept for a step and a condition."""
    rows = [json.loads(x) for x in (OUT / f"{step}@{condition}.jsonl").read_text().splitlines()]
    rows = [r for r in rows if r["id"] in said]
    texts = [(said[r["id"]], " ".join(w[0] for w in r["words"])) for r in rows]
    words = np.sum([word_errors(a, b) for a, b in texts], axis=0)
    figures = np.sum([digit_errors(a, b) for a, b in texts], axis=0)
    cost = sum(r["cpu_s"] for r in rows) / sum(r["sound_s"] for r in rows)
    return (
        f"{condition:>10} {step:<18} {len(rows):3} dictations   word errors {words[0] / words[1]:6.1%}   "
        f"digit errors {figures[0] / figures[1]:6.1%}   cpu/sound {cost:.2f}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--audio", type=Path, default=Path(os.environ.get("HATCHNOTE_AUDIO", "audio")))
    parser.add_argument("--texts", type=Path, default=ROOT / "benchmarks" / "notes" / "dev.jsonl")
    parser.add_argument("--steps", default="plain,hatchnote")
    parser.add_argument("--conditions", default=",".join(material.CONDITIONS))
    parser.add_argument("--voice", help="render all dictations with one voice instead")
    parser.add_argument("--only", type=int, help="the first so many dictations")
    parser.add_argument(
        "--jobs", type=int, default=1, help="pairs of step and condition at once; set HATCHNOTE_THREADS"
    )
    given = parser.parse_args()
    items = material.dictations(given.texts, given.audio, voice=given.voice, only=given.only)
    said = {d.id: d.script for d in items}
    tasks = [(s, c, items, given.audio) for c in given.conditions.split(",") for s in given.steps.split(",")]
    with ProcessPoolExecutor(given.jobs, mp_context=get_context("spawn")) as pool:
        for step, condition in pool.map(_hear_one, tasks):
            print(line(step, condition, said), flush=True)


if __name__ == "__main__":
    main()
