"""Figures that a recogniser grouped so that the value is unlikely for its point, and one other grouping is likely.

Said figure by figure, "six eight" is written 6.8 or 6-8 as soon as 68. Of a return air temperature it is 68.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from hatchnote.domain import Word

WHY = "the figures were heard in another grouping"
_POINT = re.compile(r"(\d{1,3})\.(\d{1,2})")
_HYPHEN = re.compile(r"([1-9])-(\d)")
_ENDS = ".,;:?!%°"


def regrouped(words: Sequence[Word], at: range, low: float, high: float) -> tuple[float, str] | None:
    """(the one likely value, as it was written) for a heard number; None where it stands as it is.

    `low` … `high` is what is likely for the point, in the unit the number is in.
    """
    if len(at) != 1 or words[at[0]].p is None:
        return None
    written = words[at[0]].text.strip(_ENDS).removesuffix("'s")
    decimal, hyphened = _POINT.fullmatch(written), _HYPHEN.fullmatch(written)
    if decimal:
        if low <= float(written) <= high:
            return None
        values = [float(decimal[1] + decimal[2])]
    elif hyphened:
        a, b = hyphened.groups()
        values = [float(f"{a}.{b}"), float(a + b)]
        if b in "248" and a < b:
            values.append(int(a) / int(b))
    else:
        return None
    likely = [v for v in values if low <= v <= high]
    # A hyphen for an unsaid point is the trade's commonest manner (common practice, no source).
    return (likely[0], written) if len(likely) == 1 or (hyphened and likely[:1] == values[:1]) else None
