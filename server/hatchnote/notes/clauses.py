"""Small questions about the words around a place: clause borders, cues before and behind, the part in focus."""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes.capacitor_sizes import SECTION
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.focus import is_point

_CONJUNCTIONS = frozenset(
    ["but", "so", "then", "because", "cause", "while", "until", "unless", "although", "which"]
)
PRONOUNS = frozenset(
    [
        "it",
        "that",
        "them",
        "those",
        "these",
        "this",
        "they",
        "em",
        "one",
        "ones",
        "it's",
        "that's",
        "both",
        "all",
        "which",
        "each",
        "he'd",
        "theirs",
    ]
)
FOCUS_BACK = 60
_THINGS = frozenset({"fuse", "air-filter", "supply-fan-belt", "evaporator-coil", "condenser-coil"})
"""Parts whose name is also their reading's: they stay in focus when a value follows."""


def clause(doc: Doc, at: int, begin: int, end: int) -> tuple[int, int]:
    """The clause around token `at`, between marks of punctuation and conjunctions."""
    a = at
    while a > begin and not doc.tokens[a].brk and doc.norm[a] not in _CONJUNCTIONS:
        a -= 1
    b = at + 1
    while b < end and not doc.tokens[b].brk and doc.norm[b] not in _CONJUNCTIONS:
        b += 1
    return a, b


def components(doc: Doc, start: int, stop: int, *, heads: bool = True) -> list[Mention]:
    """Parts named in tokens `start`..`stop` that are not said as a point; only heads unless told otherwise."""
    return (
        [
            m
            for m in doc.within(start, stop)
            if m.comp and m.kind == "word" and m.part and not is_point(doc, m) and not (heads and m.modifier)
        ]
        if stop > start
        else []
    )


def focus_before(
    doc: Doc,
    at: int,
    allowed: tuple[str, ...] = (),
    back: int = FOCUS_BACK,
    *,
    parts_only: bool = False,
    sizes: bool = False,
) -> Mention | None:
    """The part last named before token `at`, of the same machine; None where none is near."""
    i = at - 1
    low = max(0, at - back)
    tag = doc.tag_at[at] if at < len(doc.tag_at) else None
    where: Mention | None = None
    heading = _heading(doc, at)
    while i >= low:
        if doc.tokens[i + 1].brk == 2 and i + 1 < at and where is not None:
            return where  # "a hole in the flex duct, taped it up": nothing else was named in the sentence
        m = doc.owner[i]
        if m is None:
            i -= 1
            continue
        if m.claimed == SECTION:
            i = m.start - 1
            continue
        if m.has("cue", "thing") and not m.comp and where is None and not allowed:
            return None  # a hose or a test lead is meant
        if doc.tag_at[m.start] == tag and (not allowed or m.comp in allowed):
            if m.comp and m.kind == "word" and m.part and (m.comp in _THINGS or not is_point(doc, m)):
                if not (parts_only and doc.vocabulary.components[m.comp].no_part):
                    if not m.modifier:
                        return m
                    where = where or m
            elif sizes and m.kind == "size":
                return m
        i = m.start - 1
        if heading is not None and i < heading.start and (not allowed or heading.comp in allowed):
            return heading
    return where


def _heading(doc: Doc, at: int) -> Mention | None:
    """The part of the heading over a row of machines, where `at` is in such a row."""
    if not doc.heading_at:
        return None
    return doc.heading_at.get(doc.sentences[bisect_right(doc.sentences, (at, len(doc.norm))) - 1][0])
