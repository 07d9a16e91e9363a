"""Stage: findings."""

from __future__ import annotations

from hatchnote.notes.doc import Doc

REQUIRES: tuple[str, ...] = ()
ASSIGNS: tuple[str, ...] = ()


def findings(doc: Doc) -> None:
    """Nothing yet."""
