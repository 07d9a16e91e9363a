"""Pairs of legs by number, after the first pair was named: "across one and two 480, two and three 478"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.numbers.words import CLASS

_LEGS = 3


def legs_between(doc: Doc) -> None:
    """Put the legs on every pair of numbers that stands between values where a pair of legs was named before."""
    for begin, end in doc.sentences:
        first = next((m for m in doc.within(begin, end) if m.kind == "legs" and "-" in m.slug), None)
        if first is None:
            continue
        for i in range(first.stop + 1, end - 3):
            a, b = number_word(doc, i), number_word(doc, i + 2)
            if doc.norm[i + 1] not in ("and", "to") or a is None or b is None or not a < b <= _LEGS or a < 1:
                continue
            parted = bool(doc.tokens[i].brk) or doc.norm[i - 1] in ("and", "then", "across", "between", "on")
            alone = not any(t.brk for t in doc.tokens[i + 1 : i + 3])
            if not parted or not alone or not doc.free(i, i + 3) or not _number_at(doc, i + 3):
                continue
            doc.put(Mention("legs", i, i + 3, slug=f"{first.slug[0]}{a}-{first.slug[0]}{b}"))


def _number_at(doc: Doc, i: int) -> bool:
    at = i + 1 if doc.norm[i] in ("was", "is", "at", "reads", "got", "had") and i + 1 < len(doc.norm) else i
    return doc.tokens[at].kind in "nf" or CLASS.get(doc.norm[at], ".") in "dtx"
