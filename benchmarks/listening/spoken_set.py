"""Dictations that the rules were not written from, spoken, heard and scored by category only.

    python -m benchmarks.listening.spoken_set render                 # of tests/dictations/blind-b.jsonl, four voices
    python -m benchmarks.listening.spoken_set hear --noise FOLDER    # clean, and at 10 dB of the folder's noise
    python -m benchmarks.listening.spoken_set score

`--texts FILE.jsonl` takes another set, `--of 12` so many of it, spread evenly; `--kind flite` flite's three voices
instead of Kokoro's four. Sound and transcripts stay in .cache/spoken-set; the screen shows scores and counts of kinds
of error, never a text, a line or a single miss, so that a set can stay unseen by whoever edits the rules
(tests/dictations/README.md); `--show` prints the misses of a set that is open. FOLDER holds noise recordings, one is
taken a dictation. `--label NAME` keeps what is heard under a name of its own, to compare two ways of hearing.
"""

from __future__ import annotations

import argparse
import json
import re
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from benchmarks.listening import material
from benchmarks.listening.voices import CACHE, FLITE, KOKORO, ROOT, speak
from benchmarks.notes.score import Tally, found, key
from hatchnote.domain import Reading, SecondHearing, Transcript, Word
from hatchnote.speech.audio import RATE, decode

TEXTS = ROOT / "tests" / "dictations" / "blind-b.jsonl"
HERE = CACHE / "spoken-set"
VOICES = {"kokoro": KOKORO, "flite": FLITE}
CONDITIONS = ("clean", "10dB")
VALUE = ("point", "value", "ucum", "text")


@dataclass(frozen=True)
class Spoken:
    """A dictation of the set with the voice that speaks it and where its sound lies."""

    id: str
    script: str
    gold: dict
    voice: str
    sound: Path

    @property
    def tags(self) -> list[str]:
        """What the site would tell the recogniser: its machines' tags."""
        return sorted({i["tag"] for kind in self.gold.values() for i in kind if i.get("tag")})


@dataclass(frozen=True)
class Part:
    """Which texts, by which kind of voice, and under which name what is heard is kept."""

    texts: Path
    kind: str
    of: int
    label: str = ""

    @property
    def folder(self) -> Path:
        return HERE / self.texts.stem / self.kind

    def items(self) -> list[Spoken]:
        """So many of the set, spread evenly over it (so over its hands), the voices taking turns."""
        rows = [json.loads(line) for line in self.texts.read_text(encoding="utf-8").splitlines()]
        rows = [r for r in rows if not r["id"].endswith("-r")]  # twins: the same speech, written otherwise
        of = min(self.of, len(rows))
        picks = [rows[i * len(rows) // of] for i in range(of)]
        voices = VOICES[self.kind]
        return [
            Spoken(r["id"], r["script"], r["gold"], voices[i % len(voices)], self.folder / f"{r['id']}.wav")
            for i, r in enumerate(picks)
        ]

    def heard(self, condition: str) -> Path:
        return self.folder / f"{self.label or 'heard'}@{condition}.jsonl"


def render(part: Part) -> None:
    for item in part.items():
        if not item.sound.exists():
            speak(item.script, item.voice, item.sound)
        print(f"{item.id} {item.voice}", flush=True)


def hear(part: Part, condition: str, noise: list[Path]) -> None:
    """Hear what is rendered and not yet heard; one JSON line a dictation."""
    from hatchnote.speech.live import Listener
    from hatchnote.speech.settings import ListenSettings

    path = part.heard(condition)
    known = {json.loads(x)["id"] for x in path.read_text().splitlines()} if path.exists() else set()
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8") as out:
        for i, item in enumerate(part.items()):
            if item.id in known or not item.sound.exists():
                continue
            sound = decode(item.sound).samples
            if condition != "clean":
                clip = decode(noise[i * 7 % len(noise)]).samples
                sound = material.in_condition(sound, condition, clip, item.id + condition)
            began = time.process_time()
            heard = _listen(Listener(item.tags, settings=ListenSettings.from_environment()), sound)
            row = {
                "id": item.id,
                "sound_s": round(len(sound) / RATE, 2),
                "cpu_s": round(time.process_time() - began, 2),
                "words": [[w.text, w.start, w.end, w.p] for w in heard.words],
                "second": [[s.start, s.end, s.text, s.listener, s.p] for s in heard.second],
            }
            out.write(json.dumps(row) + "\n")
            out.flush()
            print(f"{item.id} {item.voice} {condition}", flush=True)


def _listen(listener, sound: np.ndarray) -> Transcript:
    listener.feed(sound)
    return listener.finish()


def score(part: Part, condition: str, *, show: bool) -> None:
    """F1 of value with unit and point, wrong values without a mark, and why readings were missed."""
    from hatchnote.notes import read_notes

    path = part.heard(condition)
    if not path.exists() or not path.stat().st_size:
        print(f"{part.kind:7} {condition:6} not heard yet")
        return
    heard = {(row := json.loads(x))["id"]: row for x in path.read_text().splitlines()}
    tally, unmarked, wrong, causes = Tally(), 0, 0, Counter[str]()
    items = [i for i in part.items() if i.id in heard]
    for item in items:
        transcript = _transcript(heard[item.id])
        try:
            readings = read_notes(transcript, equipment=item.tags).readings
        except (
            Exception
        ) as e:  # a benchmark goes on: a dictation that makes the reading raise counts as wholly missed
            causes[f"reading raised {type(e).__name__} on a dictation"] += 1
            readings = ()
        want = Counter(key(g, VALUE) for g in item.gold["readings"])
        missed, _ = tally.add(want, Counter(found(r, VALUE) for r in readings))
        causes.update(_cause(dict(m), readings, transcript.text) for m in missed)
        left = Counter(want)
        wrongs = []
        for r in readings:
            k = found(r, VALUE)
            good, left[k] = left[k] > 0, left[k] - (left[k] > 0)
            unmarked += r.check is None
            wrong += r.check is None and not good
            if not good:
                wrongs.append(r)
        if show:
            _show(item, transcript, missed, wrongs)
    sound, cpu = (sum(heard[i.id].get(k, 0) for i in items) for k in ("sound_s", "cpu_s"))
    name = " ".join((part.kind, part.label)).strip()
    print(f"{name:7} {condition:6} {len(items)} dictations  value+unit+point {tally.line()}")
    print(f"{'':14} unmarked {unmarked}, wrong among them {wrong} ({wrong / max(1, unmarked):.1%})"
          + (f"; cpu/sound {cpu / sound:.2f}" if sound else ""))  # fmt: skip
    print(f"{'':14} missed: " + (", ".join(f"{n} {c}" for c, n in causes.most_common()) or "none"))


def _show(item: Spoken, heard: Transcript, missed: list[tuple], wrong: list[Reading]) -> None:
    """For sets that are open: what was missed and what was read instead, with the words around."""
    print(f"\n== {item.id} {item.voice}\nSAID  {item.script}\nHEARD {heard.text}")
    for m in missed:
        print("  -", dict(m))
    for r in wrong:
        mark = "marked" if r.check else "UNMARKED"
        print(f"  + {r.point} {r.value} {r.ucum} {r.text or ''} said {r.said!r} {r.rule!r} {mark}")
    for s in heard.second:
        print(f"    {s.start:6.2f}-{s.end:6.2f} {s.text!r} {s.p}")


def _cause(want: dict, readings: tuple[Reading, ...], text: str) -> str:
    """The kind of a miss: whether its digits were heard, and what became of them."""
    value = want.get("value")
    if value is None:
        return "a size, a range or an open not read"
    digits = re.sub(r"\D", "", f"{abs(value):g}")
    if any(r.value is not None and r.value == value for r in readings):
        return "value read under another point or unit, or once where it was said twice"
    if any(r.point == want["point"] and r.check for r in readings if r.value != value):
        return "another value read for the point, marked"
    if digits in re.sub(r"\D", "", text):
        return "digits heard, not read"
    return "digits not heard as said (or said as a fraction or a word)"


def _transcript(row: dict) -> Transcript:
    return Transcript(
        tuple(Word(*w) for w in row["words"]), second=tuple(SecondHearing(*s) for s in row["second"])
    )


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("step", choices=("render", "hear", "score"))
    parser.add_argument("--texts", type=Path, default=TEXTS)
    parser.add_argument("--of", type=int, default=24, help="so many of the texts, spread evenly")
    parser.add_argument("--kind", choices=tuple(VOICES), default="kokoro")
    parser.add_argument("--noise", type=Path, help="a folder of noise recordings, for 10dB")
    parser.add_argument("--conditions", default=",".join(CONDITIONS))
    parser.add_argument("--label", default="")
    parser.add_argument("--show", action="store_true", help="print every miss, of a set that is open")
    given = parser.parse_args()
    part = Part(given.texts, given.kind, given.of, given.label)
    if given.step == "render":
        render(part)
        return
    noise = (
        sorted(p for p in given.noise.iterdir() if p.suffix in (".flac", ".ogg", ".wav"))
        if given.noise
        else []
    )
    for condition in given.conditions.split(","):
        if given.step == "score":
            score(part, condition, show=given.show)
        elif condition == "clean" or noise:
            hear(part, condition, noise)
        else:
            raise SystemExit(f"Hearing at {condition} needs a folder of noise; name it with --noise.")


if __name__ == "__main__":
    main()
