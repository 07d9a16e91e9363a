"""Legs told by letter, by order and in lists: "fourteen one on A, fourteen three on B", "legs one, two and three"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.machines import number_word
from hatchnote.notes.marked import take_over
from hatchnote.notes.numbers.words import CLASS

_LETTERS = frozenset("abc")
_ON = frozenset({"on", "for", "at"})
_PAIRED = frozenset({"between", "across", "from"})
_JOINED = frozenset({"and", "to"})
_ORDINALS = {"first": "L1", "second": "L2", "third": "L3"}
_ELECTRIC = frozenset(
    [
        "volts",
        "voltage",
        "amps",
        "amperage",
        "amp",
        "legs",
        "leg",
        "phase",
        "phases",
        "pulling",
        "drawing",
        "draws",
    ]
)


def legs_listed(doc: Doc) -> None:
    """Put legs wherever a sentence tells them so."""
    for begin, end in doc.sentences:
        words = set(doc.norm[begin:end])
        if "legs" in words or "phases" in words:
            _numbers(doc, begin, end)
        if "leg" in words and words & set(_ORDINALS):
            _ordinals(doc, begin, end)
        if len(words & _LETTERS) > 1 and words & (_ON | _PAIRED):
            _letters(doc, begin, end, words)
        if words >= _LETTERS and words & _ELECTRIC and "circuit" not in words:
            _letters_leading(doc, begin, end)


def _numbers(doc: Doc, begin: int, end: int) -> None:
    """ "Legs one, two and three read two oh eight, ...": each of them."""
    for i in range(begin, end - 3):
        if doc.norm[i] not in ("legs", "phases"):
            continue
        at = i + 1
        found: list[int] = []
        while at < end:
            if doc.norm[at] == "and":
                at += 1
                continue
            if number_word(doc, at) != len(found) + 1 or len(found) == 3 or not _whole(doc, at, end):
                break
            found.append(at)
            at += 1
        if len(found) > 1:
            for k, at in enumerate(found):
                take_over(doc, i if not k else at, at + 1, "legs", f"L{k + 1}")


def _whole(doc: Doc, at: int, end: int) -> bool:
    after = at + 1
    if after >= end or doc.tokens[after].brk or doc.norm[after] == "and":
        return True
    return CLASS.get(doc.norm[after], ".") not in "dtxhpzZ" and doc.tokens[after].kind not in "nf"


def _ordinals(doc: Doc, begin: int, end: int) -> None:
    """ "First leg two oh seven, second leg two oh nine"."""
    found = [
        i
        for i in range(begin, end - 1)
        if doc.norm[i] in _ORDINALS and doc.norm[i + 1] == "leg" and _free(doc, i, i + 2)
    ]
    if len({doc.norm[i] for i in found}) > 1:
        for i in found:
            take_over(doc, i, i + 2, "legs", _ORDINALS[doc.norm[i]])


def _letters(doc: Doc, begin: int, end: int, words: set[str]) -> None:
    """ "Fourteen one on A, fourteen three on B, thirteen nine on C", "two oh eight between A and B"."""
    found: list[tuple[int, int, str]] = []
    i = begin + 1
    while i < end:
        word, before = doc.norm[i], doc.norm[i - 1]
        if word not in _LETTERS or not doc.tokens[i].text.isupper() or doc.tokens[i].brk:
            i += 1
            continue
        second = i + 2 < end and doc.norm[i + 1] in _JOINED and doc.norm[i + 2] in _LETTERS - {word}
        if before in _PAIRED and second and doc.tokens[i + 2].text.isupper():
            found.append((i, i + 3, "-".join(sorted((word.upper(), doc.norm[i + 2].upper())))))
            i += 3
            continue
        lone = i + 1 >= end or doc.tokens[i + 1].brk or doc.norm[i + 1] in ("and", "is", "was", "i", "it's")
        if before in _ON and lone:
            found.append((i, i + 1, word.upper()))
        i += 1
    letters = {x for *_, slug in found for x in slug.split("-")}
    pairs = any("-" in slug for *_, slug in found)
    if not pairs and (
        "C" not in letters or "circuit" in words or not (words & _ELECTRIC or len(letters) == 3)
    ):
        return  # "on A" and "on B" alone may be circuits
    for start, stop, slug in found:
        if _free(doc, start, stop):
            take_over(doc, start, stop, "legs", slug)


def _letters_leading(doc: Doc, begin: int, end: int) -> None:
    """ "Amps, A eleven two, B eleven four, C eleven three": each letter right before its value."""
    found: list[int] = []
    for i in range(begin, end - 1):
        if doc.norm[i] not in _LETTERS or not doc.tokens[i].text.isupper() or doc.tokens[i + 1].brk:
            continue
        opens = bool(doc.tokens[i].brk) or i == begin or doc.norm[i - 1] == "and" or bool(found)
        number = doc.tokens[i + 1].kind == "n" or CLASS.get(doc.norm[i + 1], ".") in "dtx"
        if opens and number and _free(doc, i, i + 1):
            found.append(i)
    if [doc.norm[i] for i in found] == ["a", "b", "c"]:
        for i in found:
            take_over(doc, i, i + 1, "legs", doc.norm[i].upper())


def _free(doc: Doc, start: int, stop: int) -> bool:
    return all(o is None or o.kind == "word" for o in doc.owner[start:stop])
