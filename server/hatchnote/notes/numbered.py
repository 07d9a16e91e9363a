"""Machines told by their number alone, in a dictation that names no machine in full."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word

_OPENING = frozenset(["so", "then", "okay", "ok", "now", "and", "next", "first", "this", "is", "it's", "that's", "on"])
_GOES_ON = frozenset(["", "first", "at", "the", "next", "up", "over", "is", "has", "had", "was", "here"])


def unnamed(doc: Doc) -> None:
    """ "So this is number four at the rink": machines told by number alone, marked, since their kind was not said."""
    found: list[tuple[int, str]] = []
    for i, word in enumerate(doc.norm):
        value = number_word(doc, i + 1) if word == "number" else None
        if value is None or not 1 <= value <= 40 or doc.tokens[i + 1].brk:
            continue
        before = "" if not i or doc.tokens[i].brk == 2 else doc.norm[i - 1]
        after = doc.norm[i + 2] if i + 2 < len(doc.norm) and not doc.tokens[i + 2].brk else ""
        if (before and before not in _OPENING) or after not in _GOES_ON:
            continue
        if not found and any(m.comp or m.has("family") for m in doc.within(0, i)):
            return  # it may be the number of a part
        owners = (doc.owner[i], doc.owner[i + 1])
        if all(o is None or o.kind == "word" for o in owners):
            found.append((i, f"RTU-{value}"))
    for i, tag in found:
        for other in doc.within(i, i + 2):
            doc.drop(other)
        m = doc.put(Mention("machine", i, i + 2, slug=tag))
        m.number = "on" if i and doc.norm[i - 1] == "on" else None
        doc.doubtful_tags[tag] = f'heard "{doc.said(i, i + 2)}": the kind of machine was not said'
    doc.settle()
