"""Which words may carry a number: a cheap test, wide on purpose.

It decides where to listen twice and what may not stand in the priming text. Reading the number is the
work of `hatchnote.notes`; this room may not import that one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import takewhile

_ONES = "zero oh o nought one two three four five six seven eight nine"
_TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fourty fifty sixty seventy eighty ninety"
_SCALES = "hundred hundreds thousand thousands million dozen dozens"
_ORDINALS = (
    "zeroth first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth "
    "fifteenth sixteenth seventeenth eighteenth nineteenth twentieth thirtieth fortieth fiftieth sixtieth seventieth "
    "eightieth ninetieth hundredth thousandth millionth thirds fourths fifths sixths sevenths eighths ninths tenths "
    "sixteenths hundredths thousandths thirtyseconds"
)
_PARTS = "half halves quarter quarters point minus negative plus percent double triple single twice once"
_CARDINAL = frozenset(f"{_ONES} {_TEENS} {_TENS} {_SCALES}".split())
_ALL = frozenset(f"{_ONES} {_TEENS} {_TENS} {_SCALES} {_ORDINALS} {_PARTS}".split())
_FRACTIONS = frozenset(
    f"half quarter quarters {' '.join(w for w in _ORDINALS.split() if w.endswith('ths'))}".split()
)
_ENDS = ".,;:?!"
_LETTERS = re.compile(r"[a-z]+")


def _has_figure(word: str) -> bool:
    return any(c.isnumeric() for c in word)


def carries_number(word: str) -> bool:
    """True for digits in any form and for words that count, order or divide: "7.2", "RTU3", "forty-five", "half"."""
    if _has_figure(word):
        return True
    parts = _LETTERS.findall(word.lower().replace("'s", ""))
    return any(p in _ALL for p in parts)


def counts(word: str) -> bool:
    """True only for what is a figure by itself: digits, or a cardinal number word."""
    if _has_figure(word):
        return True
    return any(p in _CARDINAL for p in _LETTERS.findall(word.lower()))


def without_numbers(words: Iterable[str]) -> list[str]:
    """The words that carry no number; of one glued from letters and digits ("RTU-3") the letters stay."""
    out: list[str] = []
    for word in words:
        pieces: list[str] = []
        for piece in word.split():
            letters = "".join(takewhile(lambda c: not c.isnumeric(), piece)).strip(" -/.,")
            if letters and not carries_number(letters):
                pieces.append(letters)
        if pieces:
            out.append(" ".join(pieces))
    return out


def number_runs(words: Sequence[str], *, join: int = 0) -> list[tuple[int, int]]:
    """Half-open index ranges of neighbouring number words; gaps of up to `join` other words are bridged.

    A run needs at least one figure: "first" or "half" alone starts none. "Nine and a quarter" is one run.
    """
    runs: list[tuple[int, int]] = []
    for i, word in enumerate(words):
        if not carries_number(word):
            continue
        if runs and (i - runs[-1][1] <= join or _parts_of_one(words, runs[-1][1], i)):
            runs[-1] = (runs[-1][0], i + 1)
        else:
            runs.append((i, i + 1))
    return [(a, b) for a, b in runs if any(counts(w) for w in words[a:b]) or b - a > 1]


def _parts_of_one(words: Sequence[str], start: int, at: int) -> bool:
    """Whether the word at `at` is the fraction of the number before `start`: "and a half", "and three quarters"."""
    between = [w.lower() for w in words[start:at]]
    joined = between in (["and"], ["and", "a"], ["and", "an"])
    near = {w.lower().strip(_ENDS) for w in words[at : at + 2]}
    return joined and (bool(near & _FRACTIONS) or any(f in w for w in words[at : at + 2] for f in "/½¼¾⅛⅜⅝⅞"))
