"""The unit said behind a number, in the words of the trade. "k" and "inches" stay open until the point is known.

The forms are those of models/vocabulary/units.toml whose entries say that dictations are read by them.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from hatchnote.notes.doc import Doc
from hatchnote.notes.units import load_units

INCHES = "inch?"
"""Length or water column: the point decides."""
KILO = "k?"
"""Kilohms or thousands: the point decides."""
_COUNTS = {"pole": "poles", "poles": "poles"}
_LONGEST = 5
_PART_OF = frozenset(["half", "quarter", "quarters", "third", "eighth", "eighths", "sixteenth", "sixteenths"])
_SINGLE = frozenset(["v", "a", "f", "w", "k", "in", "hp"])
"""Short forms that are words or letters of their own unless they stand right behind the number."""


class Unit(NamedTuple):
    stop: int
    ucum: str
    text: str
    factor: float = 1


class _Table(NamedTuple):
    forms: dict[str, tuple[str, float]]
    first: frozenset[str]


@lru_cache(maxsize=1)
def _table() -> _Table:
    forms = {**load_units().dictated, **{form: (what, 1.0) for form, what in _COUNTS.items()}}
    return _Table(forms, frozenset(form.partition(" ")[0] for form in forms))


def known_words() -> frozenset[str]:
    """Every word that is part of a spoken unit."""
    return frozenset(word for form in _table().forms for word in form.split())


def unit_after(doc: Doc, at: int) -> Unit | None:
    """The unit that begins at token `at`, the longest form; None where none does."""
    forms, first = _table()
    n = len(doc.tokens)
    if (
        at + 1 < n
        and doc.norm[at] in ("even", "flat")
        and not doc.tokens[at].brk
        and doc.norm[at + 1] in first
    ):
        at += 1  # "eleven even K"
    if at + 1 < n and doc.norm[at] == "-":
        at += 1
    if at + 2 < n and doc.norm[at] == "of" and doc.norm[at + 1] in ("a", "an") and not doc.tokens[at].brk:
        at += 2
    if (
        at + 1 < n
        and at
        and doc.norm[at] in ("a", "an")
        and doc.norm[at - 1] in _PART_OF
        and not doc.tokens[at].brk
    ):
        at += 1  # "half an inch"
    if at >= n or doc.tokens[at].brk or doc.norm[at] not in first:
        return None
    parts: list[str] = []
    best: Unit | None = None
    for i in range(at, min(n, at + _LONGEST)):
        if i > at and doc.tokens[i].brk:
            break
        parts.append(doc.norm[i])
        entry = forms.get(" ".join(parts))
        if entry and _stands(doc, at, i):
            best = Unit(i + 1, entry[0], " ".join(parts), entry[1])
    return best


def _stands(doc: Doc, at: int, last: int) -> bool:
    """A single letter is a unit only as figures have it behind them: "24V", "5 A"; "in" never before a place."""
    word = doc.norm[at]
    if last > at or word not in _SINGLE:
        return True
    token = doc.tokens[at]
    after = doc.norm[last + 1] if last + 1 < len(doc.tokens) and not doc.tokens[last + 1].brk else ""
    if word == "in":
        return token.glued or (doc.tokens[at - 1].kind in "nf" and after in ("", "w", "wc"))
    if word == "a":
        return token.glued or (token.text == "A" and doc.tokens[at - 1].kind == "n")
    if word == "k":
        return True
    if word == "f":
        return token.text == "F" or token.glued
    return token.glued or (token.text.isupper() and doc.tokens[at - 1].kind == "n") or word == "hp"
