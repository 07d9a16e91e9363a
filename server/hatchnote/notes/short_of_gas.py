"""A charge told short by its weight: "about three pounds low", "a pound and a half light"."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.wordlists import words

_SHORT = words("low short light shy under undercharged down")
_WEIGHTS = ("[lb_av]", "[oz_av]", "kg")


def short_of_gas(doc: Doc, begin: int, end: int) -> Iterator[Mention]:
    """The weights of one sentence by which a charge is said to be low."""
    for m in doc.within(begin, end - 1):
        if m.kind != "value" or m.value is None or m.value.ucum not in _WEIGHTS:
            continue
        if m.stop >= end or doc.tokens[m.stop].brk or doc.norm[m.stop] not in _SHORT:
            continue
        if not any(x.has("cue", "not") for x in doc.within(max(begin, m.start - 3), m.start)):
            yield m
