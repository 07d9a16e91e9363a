"""Stage: work."""

from __future__ import annotations

from hatchnote.notes.doc import Doc

REQUIRES: tuple[str, ...] = ()
ASSIGNS: tuple[str, ...] = ()


def work(doc: Doc) -> None:
    """Nothing yet."""
