"""One act in the making: a verb of one sentence, its state, and the parts it is done to."""

from __future__ import annotations

from dataclasses import dataclass, field

from hatchnote.notes.doc import Mention
from hatchnote.notes.object_of_verb import Object


@dataclass(slots=True)
class Act:
    """One verb of one sentence with what it is done to."""

    verb: str
    state: str
    at: int
    start: int
    stop: int
    sentence: tuple[int, int]
    objects: list[Object] = field(default_factory=list)
    rule: str = ""
    mention: Mention | None = None
    doubt: str = ""
    tags: tuple[str | None, ...] = ()
    listed: tuple[Mention, float | None, tuple[int, int]] | None = None
    """The part in a list of parts used, its count and its sentence: its size belongs to this act."""
