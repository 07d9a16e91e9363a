"""Manners of writing by which a recogniser leaves open what was said.

It writes "5-8" for a range, for five point eight and for five eighths, "9.6 ounces" for nine pounds six, and figures
said one by one ("4, 2, 4, 4") however it likes. Both listeners do, so that they agree proves nothing. Typed words
are what was meant.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from hatchnote.domain import Alternative, Word

HYPHEN = "heard with a hyphen, which may be a range, a decimal or a fraction"
ONE_BY_ONE = "figures heard one by one may belong together otherwise"
OUNCES = "heard as ounces with a point, which may be pounds and ounces"
FRACTION = "a fraction stands behind it that may belong to it"
MANY = 4
"""So many single figures in a row are no list of values any more: three are the legs of a motor."""
_HYPHENED = re.compile(r"([1-9])-([1-9])")
_OUNCES = re.compile(r"(\d{1,2})\.(\d)")
_FRACTION = re.compile(r"\d+/\d+|\d*(?:half|halves|quarters?|eighths?|eights|sixteenths?|\d?ths)")
_ENDS = ".,;:?!"


def left_open(
    words: Sequence[Word], at: range, ucum: str | None, many: int = MANY
) -> tuple[str, tuple[Alternative, ...]] | None:
    """Why the words at these places leave their value open, and what else they could be; None where they do not.

    `many` single figures in a row are too many to be values of their own.
    """
    if not at or words[at[0]].p is None:
        return None
    for i in at:
        found = _HYPHENED.fullmatch(words[i].text.strip(_ENDS).removesuffix("'s"))
        if found:
            a, b = found.groups()
            others = [Alternative(float(f"{a}.{b}"), ucum, f"{a}.{b}")]
            if int(a) < int(b) and int(b) in (2, 3, 4, 8):
                others.append(Alternative(int(a) / int(b), ucum, f"{a}/{b}"))
            return HYPHEN, tuple(others)
        weight = _OUNCES.fullmatch(words[i].text.strip(_ENDS)) if ucum == "[oz_av]" else None
        if weight:
            pounds = int(weight[1]) + int(weight[2]) / 16
            return OUNCES, (Alternative(pounds, "[lb_av]", f"{weight[1]} lb {weight[2]} oz"),)
    if _fraction_behind([w.text.strip(_ENDS).lower() for w in words[at[-1] + 1 : at[-1] + 4]]):
        return FRACTION, ()
    low, high = at[0], at[-1] + 1
    if not all(_single(words[i]) for i in at):
        return None
    while low > 0 and _single(words[low - 1]):
        low -= 1
    while high < len(words) and _single(words[high]):
        high += 1
    return (ONE_BY_ONE, ()) if high - low >= many else None


def _fraction_behind(behind: Sequence[str]) -> bool:
    """ "1 and 3 sixteenths", "1 and 316ths": one and three sixteenths, mostly."""
    if behind[:1] != ["and"]:
        return False
    return any(_FRACTION.fullmatch(w) is not None for w in behind[1:3]) and behind[1:2] != ["a"]


def _single(word: Word) -> bool:
    """A figure by itself."""
    text = word.text.strip(_ENDS)
    return len(text) == 1 and text.isdecimal()
