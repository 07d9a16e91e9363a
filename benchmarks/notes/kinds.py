"""Which kinds of error the notes engine makes, without a word of what was said.

    python benchmarks/notes/kinds.py FILE.jsonl ...

For a set that is closed to whoever edits rules: misses and surpluses of one dictation are laid side by side, the
most alike first, and only the fields in which they differ are counted. What finds no partner is missed or too much.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from benchmarks.notes.score import FINDING, PART, READING, WORK, found, key
from hatchnote.notes import read_notes

KINDS = {"readings": READING, "work": WORK, "parts": PART, "findings": FINDING}
LEADING = {"readings": "point", "work": "verb", "parts": "component", "findings": "condition"}
ALIKE = {"readings": 0.6, "work": 0.5, "parts": 0.5, "findings": 0.6}
"""Share of equal fields from which two items are one item read wrongly."""


def differing(want: tuple, got: tuple) -> list[str]:
    a, b = dict(want), dict(got)
    return sorted(
        f"{f}: {'missing' if f not in b else 'too much' if f not in a else 'other'}"
        for f in a.keys() | b.keys()
        if a.get(f) != b.get(f)
    )


def likeness(want: tuple, got: tuple) -> float:
    return 2 * len(set(want) & set(got)) / (len(want) + len(got))


def errors(missing: list, surplus: list, least: float) -> Iterator[tuple[tuple | None, tuple | None]]:
    pairs = sorted(
        ((likeness(m, s), i, j) for i, m in enumerate(missing) for j, s in enumerate(surplus)), reverse=True
    )
    left, right = set(range(len(missing))), set(range(len(surplus)))
    for like, i, j in pairs:
        if like >= least and i in left and j in right:
            left.remove(i)
            right.remove(j)
            yield missing[i], surplus[j]
    yield from ((missing[i], None) for i in sorted(left))
    yield from ((None, surplus[j]) for j in sorted(right))


def main(files: list[str]) -> None:
    for kind, fields in KINDS.items():
        tally: Counter[str] = Counter()
        for row in (
            json.loads(line) for file in files for line in Path(file).read_text("utf-8").splitlines()
        ):
            want = Counter(key(x, fields) for x in row["gold"][kind])
            got = Counter(found(x, fields) for x in getattr(read_notes(row["script"]), kind))
            for m, s in errors(list((want - got).elements()), list((got - want).elements()), ALIKE[kind]):
                if m is None or s is None:
                    slug = dict(m or s or ()).get(LEADING[kind])
                    tally[f"{'missed' if s is None else 'too much'}: {slug}"] += 1
                else:
                    tally[" + ".join(differing(m, s))] += 1
        print(f"{kind}: {tally.total()} errors")
        for what, count in tally.most_common():
            print(f"  {count:4}  {what}")


if __name__ == "__main__":
    main(sys.argv[1:])
