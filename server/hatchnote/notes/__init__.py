"""Reading what was said: from words to numbers, units, points, parts, work and findings.

read_notes(transcript_or_text, equipment=("RTU-3",))  ->  Facts
quantities(text)                                      ->  any number with a unit, in any English text
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hatchnote.notes.read import read_notes
    from hatchnote.notes.text_quantities import Quantity, quantities

__all__ = ["Quantity", "quantities", "read_notes"]


def __getattr__(name: str) -> Any:
    if name == "read_notes":
        from hatchnote.notes.read import read_notes

        return read_notes
    if name in ("quantities", "Quantity"):
        from importlib import import_module

        return getattr(import_module("hatchnote.notes.text_quantities"), name)
    raise AttributeError(name)
