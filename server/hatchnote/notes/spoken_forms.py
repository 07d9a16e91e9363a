"""Spoken forms written short: "left [it|them] (at|with)" stands for six of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

_PIECE = re.compile(r"\[([^\[\]()]*)\]|\(([^\[\]()]*)\)|([^\[\]()]+)")
MOST = 10_000
"""A form that stands for more than this is a mistake, not a manner of speaking."""


def expand(said: str) -> Iterator[str]:
    """Every form that `said` stands for: "(a|b)" is one of them, "[a|b]" one of them or nothing.

    Raises ValueError where a bracket is not closed or stands in another, or there would be more than `MOST` forms.
    """
    if not set(said) & set("[]()|"):
        yield said
        return
    choices: list[list[str]] = []
    end = count = 0
    for piece in _PIECE.finditer(said):
        optional, one_of, plain = piece.groups()
        if piece.start() != end or (plain and "|" in plain):
            break
        choices.append(
            ["", *optional.split("|")] if optional is not None else one_of.split("|") if one_of else [plain]
        )
        end = piece.end()
        count = max(1, count) * len(choices[-1])
    if end != len(said) or count > MOST:
        raise ValueError(
            f"{said!r} is not a list of forms; write (a|b) for one of them, [a|b] for one or none."
        )
    for chosen in product(*choices):
        yield " ".join(" ".join(chosen).split())
