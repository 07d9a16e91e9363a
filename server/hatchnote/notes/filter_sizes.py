"""Filters counted and sized in one breath: "twelve twenty by twenty four by twos", "two sixteen by twenty by ones"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.numbers import Number, find_numbers

NOMINAL = frozenset({8, 9, 10, 12, 14, 15, 16, 18, 19, 20, 21, 22, 24, 25, 28, 30, 32, 36})
"""Sides of panel filters in inches, as they are sold. Common practice, no source."""
DEPTHS = frozenset({0.5, 1, 2, 3, 4, 5, 6, 12})


def counted_filter(doc: Doc, numbers: list[Number], k: int) -> tuple[int, int, str, int] | None:
    """(token after the count, token after the size, the size, numbers used) at number `k`; None where there is none.

    The first token is the count's and the size's alike where no count is said.
    """
    chain = [numbers[k]]
    while k + len(chain) < len(numbers) and numbers[k + len(chain)].link in ("by", "x"):
        chain.append(numbers[k + len(chain)])
    sides = [n.value for n in chain[1:3]]
    stop = chain[min(2, len(chain) - 1)].stop
    used = min(3, len(chain))
    if len(chain) == 2 and doc.norm[stop : stop + 2] == ["by", "ones"]:
        sides.append(1)
        stop += 2
    if len(sides) != 2 or sides[0] not in NOMINAL or sides[1] not in DEPTHS:
        return None
    first = chain[0]
    if first.value in NOMINAL:
        return first.start, stop, _text(first.value, sides), used
    for cut in range(first.start + 1, first.stop):
        head = find_numbers(doc.tokens[first.start : cut])
        side = find_numbers(doc.tokens[cut : first.stop])
        if len(head) == len(side) == 1 and side[0].value in NOMINAL and 1 <= head[0].value <= 96:
            return cut, stop, _text(side[0].value, sides), used
    return None


def _text(first: float, sides: list[float]) -> str:
    return "x".join(f"{v:.10g}" for v in (first, *sides))
