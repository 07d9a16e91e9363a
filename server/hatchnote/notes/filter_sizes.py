"""Filters counted and sized in one breath: "twelve twenty by twenty four by twos", "two sixteen by twenty by ones"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
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


_DEPTH_WORDS = {"ones": 1, "twos": 2, "threes": 3, "fours": 4, "fives": 5, "sixes": 6}


def without_by(doc: Doc) -> None:
    """ "Four twenty twenty five twos", "two twelve twenty four twos": sides and depth told without "by"."""
    for i, word in enumerate(doc.norm):
        depth = _DEPTH_WORDS.get(word)
        if depth is None or i < 2 or depth not in DEPTHS:
            continue
        high = _side_before(doc, i)
        wide = _side_before(doc, high[0]) if high is not None else None
        if high is None or wide is None or not _only_words(doc, wide[0], i + 1):
            continue
        stop, sides = i + 1, [high[1], depth]
        if depth > 3 and i - high[0] == 1 and high[1] + depth in NOMINAL:
            stop, sides = _two_sides(doc, i + 1, high[1] + depth)  # "sixteen twenty fives, two inch"
        for other in doc.within(wide[0], stop):
            doc.drop(other)
        doc.put(Mention("size", wide[0], stop, slug=_text(wide[1], sides), comp="air-filter"))


def _two_sides(doc: Doc, stop: int, side: float) -> tuple[int, list[float]]:
    """Where the size ends and its sides behind the first: with the depth where it is told right behind."""
    found = find_numbers(doc.tokens[stop : stop + 1])
    if (
        len(found) == 1
        and found[0].value in DEPTHS
        and doc.norm[stop + 1 : stop + 2] in (["inch"], ["inches"])
    ):
        return stop + 2, [side, found[0].value]
    return stop, [side]


def _side_before(doc: Doc, stop: int) -> tuple[int, float] | None:
    """The side of a filter that ends before token `stop`, two words long or one: (its first token, inches)."""
    for length in (2, 1):
        start = stop - length
        if start < 0 or any(doc.tokens[k].brk for k in range(start + 1, stop + 1)):
            continue
        found = find_numbers(doc.tokens[start:stop])
        if len(found) == 1 and (found[0].start, found[0].stop) == (0, length) and found[0].value in NOMINAL:
            return start, found[0].value
    return None


def _only_words(doc: Doc, start: int, stop: int) -> bool:
    return all(o is None or o.kind == "word" for o in doc.owner[start:stop])
