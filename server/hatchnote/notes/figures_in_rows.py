"""A row of values told figure by figure without a pause: "amps nine three nine four nine five" is 9.3, 9.4 and 9.5.

People read three legs in one breath, and recognisers leave the commas out. The figures are cut into groups of one
length whose values lie near each other, as those of one row do; any other run of figures stays one number.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.numbers import Number, find_numbers

WHY = "figures said without a break, taken for several values"
_TENTHS, _WHOLE = 2, 3
_NEAR = 1.2
_BACK = 8
_FIGURES = {
    w: k
    for k, w in enumerate(["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"])
} | {"oh": 0, "o": 0, "nought": 0}


def in_row(doc: Doc, number: Number) -> list[Number]:
    """The numbers of the row that `number` is run together from; empty for any other."""
    count = number.stop - number.start
    if number.kind != "quantity" or len(number.shape) != count or set(number.shape) - {"d", "z", "Z"}:
        return []
    for size in _sizes(doc, number.start):
        row = _cut(doc, number, size) if count in (2 * size, 3 * size) else []
        if row:
            return row
    return []


def _sizes(doc: Doc, at: int) -> list[int]:
    """Of how many figures one value is where the last name before token `at` says what is read: amps or volts."""
    for m in reversed(doc.within(max(0, at - _BACK), at)):
        if m.has("point", "current"):
            return [_TENTHS]
        if m.has("point", "voltage"):
            return [_WHOLE]
        if m.kind == "legs":
            return [_WHOLE] if "-" in m.slug else [_TENTHS]
        if m.comp:
            return [_TENTHS] if doc.vocabulary.components[m.comp].implied == "current" else []
        if m.has("family") and doc.norm[m.start : m.stop] in (
            ["motor"],
            ["fan"],
            ["blower"],
            ["fan", "motor"],
        ):
            return [_TENTHS]
        if m.has("point"):
            return []
    return []


def _cut(doc: Doc, number: Number, size: int) -> list[Number]:
    row: list[Number] = []
    values: list[int] = []
    for start in range(number.start, number.stop, size):
        found = find_numbers(doc.tokens[start : start + size])
        if len(found) != 1 or found[0].stop != size or doc.norm[start] not in _FIGURES:
            return []
        row.append(found[0]._replace(start=start, stop=start + size, link="list" if row else number.link))
        values.append(int("".join(str(_FIGURES.get(doc.norm[k], 0)) for k in range(start, start + size))))
    return row if min(values) > 0 and max(values) <= _NEAR * min(values) else []
