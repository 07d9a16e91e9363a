"""Putting the mention of a name in place of what was read before."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention


def take_over(doc: Doc, start: int, stop: int, kind: str, slug: str) -> Mention:
    """Put a mention of `kind` on tokens `start`..`stop` in place of what was there."""
    for other in doc.within(start, stop):
        doc.drop(other)
    return doc.put(Mention(kind, start, stop, slug=slug))
