"""Score what was heard: words, digits, readings, and wrong values that nobody is warned of.

    python -m benchmarks.listening.report --texts dev.jsonl [--only 10] [--keep]

Readings are read from the transcripts by `hatchnote.notes.read_notes`, with the machines of the site given, and
compared by point, value and unit with what the text says. "Wrong unmarked" is a reading that is not in the text
and carries no `check`. With --keep the table and a plot go to benchmarks/listening/results, by date and commit.
"""

from __future__ import annotations

import argparse
import datetime as dt
import json
import subprocess
from collections import Counter
from dataclasses import asdict, dataclass
from pathlib import Path

from benchmarks.listening.material import CONDITIONS
from benchmarks.listening.plot import curves
from benchmarks.listening.run import OUT, STEPS
from benchmarks.listening.score import digit_errors, word_errors
from benchmarks.listening.voices import ROOT
from hatchnote.domain import Reading, SecondHearing, Transcript, Word
from hatchnote.notes import read_notes

RESULTS = ROOT / "benchmarks" / "listening" / "results"


@dataclass
class Score:
    """One step in one condition, summed over its dictations."""

    step: str
    condition: str
    dictations: int = 0
    sound_s: float = 0.0
    cpu_s: float = 0.0
    words: int = 0
    word_errors: int = 0
    digits: int = 0
    digit_errors: int = 0
    said: int = 0
    """Readings in the texts."""
    read: int = 0
    """Readings found."""
    right: int = 0
    marked: int = 0
    wrong_unmarked: int = 0
    right_marked: int = 0

    @property
    def f1(self) -> float:
        return 2 * self.right / max(1, self.said + self.read)

    def add(self, row: dict, script: str, gold: dict) -> None:
        heard = transcript(row)
        errors, words = word_errors(script, heard.text)
        wrong_digits, digits = digit_errors(script, heard.text)
        tags = sorted({i["tag"] for kind in gold.values() for i in kind if i.get("tag")})
        self.dictations += 1
        self.sound_s += row["sound_s"]
        self.cpu_s += row["cpu_s"]
        self.words += words
        self.word_errors += errors
        self.digits += digits
        self.digit_errors += wrong_digits
        left = Counter(_said(r) for r in gold["readings"])
        self.said += left.total()
        for reading in read_notes(heard, equipment=tags).readings:
            key = _found(reading)
            right = left[key] > 0
            left[key] -= right
            self.read += 1
            self.right += right
            self.marked += reading.check is not None
            self.right_marked += right and reading.check is not None
            self.wrong_unmarked += not right and reading.check is None

    def line(self) -> str:
        return (
            f"| {self.condition} | {self.step} | {self.dictations} | {self.word_errors / max(1, self.words):.1%} "
            f"| {self.digit_errors / max(1, self.digits):.1%} | {self.f1:.3f} | {self.wrong_unmarked} of {self.read} "
            f"| {self.marked} ({self.right_marked} right) | {self.cpu_s / max(1.0, self.sound_s):.2f} |"
        )


HEAD = (
    "| condition | step | dictations | word errors | digit errors | readings F1 "
    "| wrong unmarked | marked | cpu/sound |\n"
    "|---|---|---|---|---|---|---|---|---|"
)


def transcript(row: dict) -> Transcript:
    return Transcript(
        words=tuple(Word(*w) for w in row["words"]),
        id=row["id"],
        duration_s=row["sound_s"],
        second=tuple(SecondHearing(*s) for s in row["second"]),
    )


def _said(r: dict) -> tuple:
    return r["point"], _rounded(r.get("value")), r.get("ucum"), r.get("text")


def _found(r: Reading) -> tuple:
    ucum = None if r.value is None and r.text and r.point in ("belt-size", "filter-size") else r.ucum
    return r.point, _rounded(r.value), ucum, r.text


def _rounded(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.5g}")


def scores(texts: Path, only: int | None) -> list[Score]:
    entries = [json.loads(x) for x in texts.read_text(encoding="utf-8").splitlines()][:only]
    out = []
    for condition in CONDITIONS:
        for step in STEPS:
            path = OUT / f"{step}@{condition}.jsonl"
            if not path.exists():
                continue
            rows = {r["id"]: r for r in map(json.loads, path.read_text().splitlines())}
            if not all(e["id"] in rows for e in entries):
                continue
            score = Score(step, condition)
            for e in entries:
                score.add(rows[e["id"]], e["script"], e["gold"])
            out.append(score)
    return out


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--texts", type=Path, default=ROOT / "benchmarks" / "notes" / "dev.jsonl")
    parser.add_argument("--only", type=int)
    parser.add_argument("--keep", action="store_true")
    given = parser.parse_args()
    found = scores(given.texts, given.only)
    table = "\n".join([HEAD, *(s.line() for s in found)])
    print(table)
    if given.keep:
        RESULTS.mkdir(exist_ok=True)
        commit = subprocess.run(
            ["git", "rev-parse", "--short", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=True
        ).stdout.strip()
        name = f"{dt.date.today().isoformat()}-{commit}-{found[0].dictations}"
        (RESULTS / f"{name}.md").write_text(table + "\n", encoding="utf-8")
        (RESULTS / f"{name}.json").write_text(json.dumps([asdict(s) for s in found], indent=1) + "\n")
        (RESULTS / f"{name}.svg").write_text(curves(found), encoding="utf-8")
        print(RESULTS / f"{name}.md")


if __name__ == "__main__":
    main()
