"""Score the notes engine against annotated dictations.

    python benchmarks/notes/score.py FILE.jsonl [--quiet] [--only ID] [--text KEY]

FILE holds one JSON object a line: {"id", "script", "gold": {"readings", "work", "parts", "findings"}}. Prints
precision, recall and F1 for readings (full match; value with unit and point), work with state, parts and findings,
lists every miss (-) and surplus (+), counts wrong values without a mark, and a reliability table of confidence
against being right. `--text` names another key than "script" to read ("words" for words with probabilities).
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from pathlib import Path

from hatchnote.domain import Transcript, Word
from hatchnote.notes import read_notes

STEPS = (0.5, 0.7, 0.85, 0.95)
"""Edges of the reliability table: confidence from ... on."""
STATES = ("open", "short")
"""What a meter shows instead of a number: it has no unit, whatever one set of annotations or another says."""
READING = (
    "tag",
    "component",
    "number",
    "point",
    "legs",
    "stage",
    "circuit",
    "position",
    "basis",
    "moment",
    "value",
    "ucum",
    "text",
)
WORK = ("tag", "verb", "component", "number", "state", "quantity")
PART = ("tag", "component", "size", "quantity", "use")
FINDING = ("tag", "component", "number", "condition")


def rounded(value: object) -> object:
    return float(f"{value:.6g}") if isinstance(value, int | float) else value


def key(item: dict, fields: tuple[str, ...]) -> tuple:
    return tuple(
        (f, rounded(item[f]))
        for f in fields
        if item.get(f) is not None
        and not (f == "basis" and item[f] == "measured")
        and not (f == "ucum" and item.get("text") in STATES)
    )


def found(item: object, fields: tuple[str, ...]) -> tuple:
    row = {f: getattr(item, f) for f in fields}
    if row.get("text") is not None and row.get("point") in ("belt-size", "filter-size"):
        row["ucum"] = None
    return key(row, fields)


def source(row: dict, name: str) -> Transcript | str:
    if "words" in row and name == "words":
        return Transcript(
            tuple(Word(w["text"], w.get("start"), w.get("end"), w.get("p")) for w in row["words"])
        )
    return row[name]


class Tally:
    def __init__(self) -> None:
        self.hit = self.got = self.want = 0

    def add(self, want: Counter, got: Counter) -> tuple[list, list]:
        both = want & got
        self.hit += both.total()
        self.got += got.total()
        self.want += want.total()
        return list((want - got).elements()), list((got - want).elements())

    def line(self) -> str:
        p, r = self.hit / max(1, self.got), self.hit / max(1, self.want)
        f1 = 2 * p * r / max(1e-9, p + r)
        return f"P {p:.3f}  R {r:.3f}  F1 {f1:.3f}  ({self.hit} of {self.want}, {self.got} found)"


def main(argv: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("files", nargs="+", type=Path)
    parser.add_argument("--quiet", action="store_true")
    parser.add_argument("--only")
    parser.add_argument("--text", default="script")
    args = parser.parse_args(argv)
    names = ("readings", "value+unit+point", "work", "parts", "findings")
    tallies = {n: Tally() for n in names}
    table = [[0, 0] for _ in range(5)]
    unmarked_wrong = unmarked = marked = marked_right = right = 0
    for file in args.files:
        for line in file.read_text(encoding="utf-8").splitlines():
            row = json.loads(line)
            if args.only and args.only not in row["id"]:
                continue
            gold, facts = row["gold"], read_notes(source(row, args.text))
            vup = ("point", "value", "ucum", "text")
            lists = {
                "readings": (
                    Counter(key(x, READING) for x in gold["readings"]),
                    Counter(found(x, READING) for x in facts.readings),
                ),
                "value+unit+point": (
                    Counter(key(x, vup) for x in gold["readings"]),
                    Counter(found(x, vup) for x in facts.readings),
                ),
                "work": (
                    Counter(key(x, WORK) for x in gold["work"]),
                    Counter(found(x, WORK) for x in facts.work),
                ),
                "parts": (
                    Counter(key(x, PART) for x in gold["parts"]),
                    Counter(found(x, PART) for x in facts.parts),
                ),
                "findings": (
                    Counter(key(x, FINDING) for x in gold["findings"]),
                    Counter(found(x, FINDING) for x in facts.findings),
                ),
            }
            left = Counter(lists["value+unit+point"][0])
            for r in facts.readings:
                k = found(r, vup)
                good = left[k] > 0
                left[k] -= good
                right += good
                step = min(4, sum(r.confidence >= edge for edge in STEPS))
                table[step][0] += 1
                table[step][1] += good
                if r.check is None:
                    unmarked += 1
                    unmarked_wrong += not good
                else:
                    marked += 1
                    marked_right += good
            shown = False
            for name in names:
                missing, surplus = tallies[name].add(*lists[name])
                if args.quiet or name == "value+unit+point":
                    continue
                for sign, items in (("-", missing), ("+", surplus)):
                    for item in items:
                        if not shown:
                            print(f"== {row['id']} {row.get('title', '')}")
                            shown = True
                        print(f"  {sign} {name[:7]:8}", " ".join(f"{a}={b}" for a, b in item))
    for name in names:
        print(f"{name:17} {tallies[name].line()}")
    print(f"readings without a mark {unmarked}, wrong among them {unmarked_wrong}")
    print(f"readings with a mark {marked}, right among them {marked_right}; right in all {right}")
    print("confidence    readings  right (value, unit, point)")
    for low, high, (count, good) in zip((0.0, *STEPS), (*STEPS, 1.0), table, strict=True):
        if count:
            print(f"{low:.2f}-{high:.2f}     {count:8}  {good / count:.3f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
