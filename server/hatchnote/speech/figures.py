"""The figures in a text, however they are written: "two forty", "240", "2-40" and "2.40" are the same speech.

Where the point stands, and which figures belong together, is for `hatchnote.notes` to say; this only tells whether
two hearings of one sound are of the same figures.
"""

from __future__ import annotations

import re

_FROM_ZERO = "zero one two three four five six seven eight nine"
_FROM_TEN = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_BY_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_ONES = {w: str(i) for i, w in enumerate(_FROM_ZERO.split())} | {"oh": "0", "o": "0", "nought": "0"}
_TEENS = {w: str(10 + i) for i, w in enumerate(_FROM_TEN.split())}
_TENS = {w: str(2 + i) for i, w in enumerate(_BY_TENS.split())} | {"fourty": "4"}
_NAUGHTS = {"hundred": 2, "hundreds": 2, "thousand": 3, "thousands": 3}
_PARTS = {"half": "5", "halves": "5", "quarter": "25"}
_DENOMINATORS = {"third": "3", "eighth": "8", "sixteenth": "16", "tenth": ""}
_WRITTEN = {"1/2": "5", "1/4": "25", "3/4": "75", "½": "5", "¼": "25", "¾": "75"}
_TOKEN = re.compile(r"[½¼¾]|\d/\d|\d+|[a-z]+")


def figures(text: str) -> str:
    """All digits said in the text, in order; quarters and halves as decimals."""
    tokens = _TOKEN.findall(text.lower().replace("'s", ""))
    out: list[str] = []
    i = 0
    while i < len(tokens):
        word = tokens[i]
        after = tokens[i + 1] if i + 1 < len(tokens) else ""
        if word in _WRITTEN:
            out.append(_WRITTEN[word])
        elif word[0].isdigit():
            out.append(word.replace("/", ""))
        elif word in _TENS:
            joins = after in _ONES and _ONES[after] != "0"
            out.append(_TENS[word] + (_ONES[after] if joins else "0"))
            i += joins
        elif word in _NAUGHTS:
            out.append(_naughts(_NAUGHTS[word], tokens[i + 1 :]))
        elif word == "quarters" and out and out[-1] == "3":
            out[-1] = "75"
        elif word.rstrip("s") in _DENOMINATORS and word.endswith("s"):
            out.append(_DENOMINATORS[word.rstrip("s")])
        else:
            out.append(_ONES.get(word) or _TEENS.get(word) or _PARTS.get(word) or "")
        i += 1
    return "".join(out)


def _naughts(places: int, rest: list[str]) -> str:
    """What "hundred" or "thousand" adds before the words that follow it: "one hundred five" is 105."""
    word = rest[1] if len(rest) > 1 and rest[0] == "and" else rest[0] if rest else ""
    if word in _TENS or word in _TEENS:
        taken = 2
    elif word in _ONES:
        hundreds = places == 3 and len(rest) > 1 and rest[1] in _NAUGHTS
        taken = 3 if hundreds else 1
    elif word.isdigit():
        taken = len(word)
    else:
        taken = 0
    return "0" * max(0, places - taken)
