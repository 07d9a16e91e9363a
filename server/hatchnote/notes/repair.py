"""Stage: words that sound like a trade word, read as that word where a trade neighbour stands beside them.

A repair never makes a number. What was heard is kept in `doc.repairs`, and every item read over a repaired word
is marked `check`.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Repair
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.vocabulary import Node, SoundAlike

REQUIRES = ("tokens", "norm")
ASSIGNS = ("norm", "repairs")

REACH = 8
"""Words on either side in which a neighbour must stand."""


def repair(doc: Doc) -> None:
    """Put the meant word in `norm` where the heard one makes no sense and its neighbour does."""
    trie = doc.vocabulary.sound_trie
    i = 0
    n = len(doc.tokens)
    while i < n:
        if doc.norm[i] in trie:
            found = _longest(trie, doc, i)
            if found is not None:
                stop, sounds = found
                for sound in sounds:
                    if _makes_sense(doc, i, stop, sound):
                        _apply(doc, i, stop, sound)
                        break
                i = stop
                continue
        i += 1


def _longest(trie: Node, doc: Doc, at: int) -> tuple[int, list[SoundAlike]] | None:
    node = trie
    best: tuple[int, list[SoundAlike]] | None = None
    for i in range(at, min(len(doc.tokens), at + 5)):
        if i > at and doc.tokens[i].brk:
            break
        below = node.get(doc.norm[i])
        if below is None:
            break
        node = below
        if "" in node:
            best = (i + 1, node[""])
    return best


def _is_number(doc: Doc, i: int) -> bool:
    return 0 <= i < len(doc.tokens) and (
        doc.tokens[i].kind in "nf" or CLASS.get(doc.norm[i], ".") in "dtxhpzZ"
    )


def _makes_sense(doc: Doc, start: int, stop: int, sound: SoundAlike) -> bool:
    if " ".join(doc.norm[start:stop]) == sound.meant:
        return False
    if sound.next == "number" and not _is_number(doc, stop):
        return False
    if sound.previous == "number" and not _is_number(doc, start - 1):
        return False
    if sound.always:
        return True
    low, high = max(0, start - REACH), min(len(doc.tokens), stop + REACH)
    around = [*range(low, start), *range(stop, high)]
    for near in sound.near:
        if near == "number":
            if _is_number(doc, start - 1) or _is_number(doc, stop) or _is_number(doc, stop + 1):
                return True
            continue
        words = near.replace("-", " ").split()
        for i in around:
            if doc.norm[i] == words[0] and doc.norm[i : i + len(words)] == words:
                return True
    return False


def _apply(doc: Doc, start: int, stop: int, sound: SoundAlike) -> None:
    heard = doc.text[doc.tokens[start].start : doc.tokens[stop - 1].end]
    meant = sound.meant.split()
    if sound.first:
        doc.norm[start] = sound.meant
        doc.repairs.append(Repair(start, start + 1, doc.said(start, start + 1), sound.meant, sound.quiet))
        return
    room = stop - start
    meant = meant[-room:]  # too few words to hold all of it: the last says what it is
    for k in range(room):
        doc.norm[start + k] = meant[k] if k < len(meant) else "~"
    if len(meant) < room:  # keep the words together: the meant word stands last, next to what follows
        doc.norm[start:stop] = ["~"] * (room - len(meant)) + meant
    doc.repairs.append(Repair(start, stop, heard, sound.meant, sound.quiet))
