"""What a recogniser writes for trade words: short phrases spoken by machine, in real noise, and heard again.

    nice -n 15 python -m benchmarks.notes.mishearings hear --noise FOLDER [--only N] [--out FILE]
    python -m benchmarks.notes.mishearings score [tests/notes/mishearings.jsonl]

`hear` speaks every phrase of `phrases()` (voices of flite and espeak-ng, see benchmarks/listening/voices.py), mixes it
with a noise clip of FOLDER at 5 to 10 dB, listens with `hatchnote.speech`, and appends {"said", "term", "kind",
"voice", "noise", "db", "heard"} a line; what is in the file already is not heard again. `score` prints, for both halves
(a phrase's half is a bit of its hash), how many misheard trade words are read as what was said, and how many
repairs are wrong.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAIRS = ROOT / "tests" / "notes" / "mishearings.jsonl"
MAKERS = ("flite-slt", "espeak-us", "flite-rms", "espeak-gb", "flite-awb")
TOGETHER = 4
"""Phrases in one clip, with a pause between them: a window of the recogniser is 30 s, whatever it holds."""
PAUSE_S = 0.9

COMPONENTS = {
    "The {} is pitted and burnt.": ["contactor"],
    "Replaced the {} on unit three.": [
        "capacitor", "inducer", "igniter", "thermostat", "disconnect", "transformer", "actuator", "economizer",
        "accumulator", "filter drier", "smoke detector", "relay", "limit switch", "bushing",
    ],
    "The {} is cracked.": ["heat exchanger", "sheave", "drain pan", "plenum", "gasket", "manifold", "blower wheel"],
    "Cleaned the {} today.": ["flame sensor", "evaporator coil", "condenser coil", "burner", "damper"],
    "Found the {} leaking.": ["schrader core", "distributor", "reversing valve", "expansion valve", "drip leg"],
    "The {} is noisy.": ["compressor", "inducer motor", "blower motor", "bearing", "condenser fan motor"],
    "Adjusted the {} two turns.": ["regulator", "linkage", "set screw", "pillow block"],
}  # fmt: skip
POINTS = {
    "{} is one twenty eight.": ["suction pressure", "suction"],
    "{} is three eighty five.": ["head pressure", "discharge pressure", "liquid pressure"],
    "{} is twelve degrees.": ["superheat", "subcooling"],
    "{} is nineteen degrees.": ["delta T", "approach", "temperature split"],
    "{} is seventy two degrees.": [
        "return air", "supply air", "wet bulb", "dry bulb", "mixed air", "outdoor air", "saturation",
    ],
    "{} is three point five inches.": ["manifold pressure", "inlet pressure", "static pressure"],
    "{} is forty eight parts.": ["carbon monoxide"],
    "{} is forty five percent.": ["humidity", "economizer minimum", "efficiency", "unbalance"],
}  # fmt: skip
UNITS = {
    "The capacitor reads thirty eight {}.": ["microfarads"],
    "The sensor reads eleven {}.": ["kilohms", "ohms"],
    "The compressor pulls seventeen {}.": ["amps"],
    "The flame sensor shows three {}.": ["microamps"],
    "The winding reads five hundred {}.": ["megohms"],
    "Line two has four seventy eight {}.": ["volts"],
    "Pulled it down to four hundred {}.": ["microns"],
    "Gas pressure three point five {}.": ["inches water column"],
    "Airflow is twelve hundred {}.": ["C F M"],
    "Charge is nine {} four ounces.": ["pounds"],
    "The motor is one and a half {}.": ["horsepower"],
    "Suction one twenty {}.": ["P S I", "pounds per square inch"],
    "The line runs at sixty {}.": ["hertz"],
    "The blower turns eleven hundred {}.": ["R P M"],
}  # fmt: skip
VERBS = {
    "We {} the coil.": ["rinsed", "brushed", "combed"],
    "I {} the blower bearings.": ["greased", "lubricated"],
    "I {} the sheave and the belt.": ["aligned", "tensioned", "replaced"],
    "I {} the lugs.": ["tightened", "torqued"],
    "I {} the joint.": ["brazed", "soaped"],
    "I {} the system.": ["evacuated", "purged", "recovered", "charged"],
    "I {} the compressor.": ["megged", "jumpered"],
    "The belt is {}.": ["glazed", "frayed", "slipping"],
    "The coil is {}.": ["plugged", "matted", "fouled", "iced up"],
    "The switch is {}.": ["tripped", "stuck open", "corroded"],
    "The contacts are {}.": ["pitted", "welded"],
    "The capacitor is {}.": ["bulged", "swollen"],
}  # fmt: skip


def phrases() -> list[tuple[str, str, str]]:
    """(phrase, term, kind), the kinds in turn, so that a part of the list has all of them."""
    groups = [
        [(frame.format(term), term, kind) for frame, terms in table.items() for term in terms]
        for kind, table in (("component", COMPONENTS), ("point", POINTS), ("unit", UNITS), ("word", VERBS))
    ]
    out: list[tuple[str, str, str]] = []
    for i in range(max(map(len, groups))):
        out += [group[i] for group in groups if i < len(group)]
    return out


def half(said: str) -> str:
    """ "tuning" or "held out", by a bit of the phrase's hash."""
    return "held out" if hashlib.sha256(said.encode()).digest()[0] & 1 else "tuning"


def hear(noise_folder: Path, out: Path, only: int | None, round_: int) -> None:
    import numpy as np
    import soundfile

    from benchmarks.listening.material import mix
    from benchmarks.listening.voices import speak
    from hatchnote.speech import transcribe
    from hatchnote.speech.audio import RATE, decode
    from hatchnote.speech.settings import ListenSettings

    clips = sorted(noise_folder.glob("*.flac"))
    settings = ListenSettings(second_model="none", retell=False, threads=1)
    known = set()
    if out.exists():
        known = {(r["said"], r["voice"]) for r in map(json.loads, out.read_text().splitlines())}
    todo = []
    for i, (said, term, kind) in enumerate(phrases()[:only]):
        voice = MAKERS[(i + round_) % len(MAKERS)]
        if (said, voice) not in known:
            todo.append((i, said, term, kind, voice))
    with tempfile.TemporaryDirectory() as work:
        for at in range(0, len(todo), TOGETHER):
            batch = todo[at : at + TOGETHER]
            clip = clips[(at // TOGETHER + 3 * round_) % len(clips)]
            level = (5, 7, 10)[(at // TOGETHER + round_) % 3]
            parts, edges, length = [], [], 0
            for i, said, _, _, voice in batch:
                sound = decode(speak(said, voice, Path(work) / f"{i}.wav")).samples
                sound = sound / max(1e-6, float(np.abs(sound).max())) * 0.5
                parts += [sound, np.zeros(int(PAUSE_S * RATE), dtype=np.float32)]
                length += len(sound) + int(PAUSE_S * RATE)
                edges.append(length / RATE - PAUSE_S / 2)
            mixed = mix(np.concatenate(parts), decode(clip).samples, level, at)
            path = Path(work) / "clip.wav"
            soundfile.write(path, mixed, RATE)
            words = transcribe(path, settings=settings).words
            with out.open("a", encoding="utf-8") as file:
                begin = 0.0
                for (_, said, term, kind, voice), edge in zip(batch, edges, strict=True):
                    mine = [w for w in words if begin <= ((w.start or 0) + (w.end or 0)) / 2 < edge]
                    begin = edge
                    row = {
                        "said": said, "term": term, "kind": kind, "voice": voice, "noise": clip.stem, "db": level,
                        "heard": " ".join(w.text.strip() for w in mine),
                        "p": [round(w.p if w.p is not None else 1.0, 2) for w in mine],
                    }  # fmt: skip
                    file.write(json.dumps(row) + "\n")
                    print(row["said"], "->", row["heard"], flush=True)


def score(pairs: Path, show: bool) -> None:
    from hatchnote.domain import Transcript, Word
    from hatchnote.notes.read import read_doc

    counts: dict[str, dict[str, int]] = {}
    for line in pairs.read_text(encoding="utf-8").splitlines():
        row = json.loads(line)
        words = tuple(Word(text, 0.0, 0.0, p) for text, p in zip(row["heard"].split(), row["p"], strict=True))
        if not words:
            continue
        count = counts.setdefault(half(row["said"]), dict.fromkeys(("misheard", "repaired", "wrong"), 0))
        misheard = row["term"].lower() not in row["heard"].lower()
        doc = read_doc(Transcript(words))
        repairs = [r for r in doc.repairs if not r.quiet]
        right = [r for r in repairs if any(w in row["said"].lower() for w in r.meant.split())]
        count["misheard"] += misheard
        count["repaired"] += bool(misheard and right)
        count["wrong"] += len(repairs) - len(right)
        if show:
            for r in repairs:
                print(f"{half(row['said'])}: {row['said']} -> {r.heard!r} read as {r.meant!r}")
    for name, count in sorted(counts.items()):
        print(name, *(f"{k} {v}" for k, v in count.items()))


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    verbs = parser.add_subparsers(dest="verb", required=True)
    listen = verbs.add_parser("hear", help="speak, mix and listen; appends to the file of pairs")
    listen.add_argument("--noise", type=Path, default=Path(os.environ.get("HATCHNOTE_AUDIO", ".")) / "noise")
    listen.add_argument("--out", type=Path, default=PAIRS)
    listen.add_argument("--only", type=int)
    listen.add_argument(
        "--round", type=int, default=0, help="another round gives every phrase another voice and noise"
    )
    count = verbs.add_parser(
        "score", help="how many mishearings are repaired, and how many repairs are wrong"
    )
    count.add_argument("pairs", type=Path, nargs="?", default=PAIRS)
    count.add_argument("--show", action="store_true")
    given = parser.parse_args()
    if given.verb == "hear":
        hear(given.noise, given.out, given.only, given.round)
    else:
        score(given.pairs, given.show)


if __name__ == "__main__":
    main()
