"""Stage: lists."""

from __future__ import annotations

from hatchnote.notes.doc import Doc

REQUIRES: tuple[str, ...] = ()
ASSIGNS: tuple[str, ...] = ()


def lists(doc: Doc) -> None:
    """Nothing yet."""
