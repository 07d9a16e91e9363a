"""What a person sets is in words that the ticket's readers know: the vocabulary's terms and units' UCUM codes."""

from __future__ import annotations

from collections.abc import Container
from functools import cache

from hatchnote.errors import BadInput
from hatchnote.tickets.edits import Edit


def refuse_unknown(edit: Edit) -> None:
    """Raises BadInput when an edit names a point, part, act, condition or unit that there is none of."""
    from hatchnote.notes.vocabulary import load

    given = edit.after if edit.op == "add" else {edit.field: edit.after} if edit.op == "set" else {}
    if not isinstance(given, dict):
        return
    words = load()
    terms: dict[str, tuple[str, Container[str]]] = {
        "point": ("point", words.points),
        "component": ("component", words.components),
        "verb": ("verb", words.verbs),
        "condition": ("condition", words.conditions),
        "ucum": ("UCUM code", _ucum_codes()),
    }
    for field, value in given.items():
        name, known = terms.get(str(field), ("", ()))
        if name and isinstance(value, str) and value not in known:
            raise BadInput(
                f"There is no {name} {value!r} in the vocabulary; choose one of its terms, or add it there."
            )


@cache
def _ucum_codes() -> frozenset[str]:
    from hatchnote.web.office.review import words

    return frozenset(unit["ucum"] for unit in words()["units"])
