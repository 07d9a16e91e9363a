"""Refrigerants named in figures or words: their numbers are no readings.

Designations as in ANSI/ASHRAE Standard 34, from memory.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.marked import take_over

_BLENDS = {
    "410": "R-410A",
    "22": "R-22",
    "32": "R-32",
    "454": "R-454B",
    "407": "R-407C",
    "134": "R-134a",
    "404": "R-404A",
    "448": "R-448A",
    "449": "R-449A",
    "438": "R-438A",
    "422": "R-422D",
    "12": "R-12",
    "507": "R-507A",
    "421": "R-421A",
}
_SPOKEN_BLENDS = {
    ("four", "ten"): "410",
    ("four", "ten", "a"): "410",
    ("twenty", "two"): "22",
    ("thirty", "two"): "32",
    ("four", "fifty", "four"): "454",
    ("four", "oh", "seven"): "407",
    ("one", "thirty", "four"): "134",
    ("four", "oh", "four"): "404",
    ("four", "four", "eight"): "448",
    ("four", "forty", "eight"): "448",
    ("four", "one", "oh"): "410",
    ("four", "hundred", "ten"): "410",
}
_CHARGED = frozenset(
    ["system", "systems", "unit", "units", "machine", "machines", "charge", "refrigerant", "equipment"]
)


def find_refrigerants(doc: Doc) -> None:
    n = len(doc.tokens)
    i = 0
    while i < n:
        marked = doc.norm[i] == "r" and i + 1 < n and not doc.tokens[i + 1].brk
        begin = i + 1 if marked else i
        if marked and doc.norm[begin] == "-" and begin + 1 < n:
            begin += 1
        found: tuple[int, str] | None = None
        if doc.tokens[begin].kind == "n" and doc.tokens[begin].text in _BLENDS:
            found = (begin + 1, doc.tokens[begin].text)
        else:
            for length in (3, 2):
                code = _SPOKEN_BLENDS.get(tuple(doc.norm[begin : begin + length]))
                if (
                    code
                    and begin + length <= n
                    and not any(doc.tokens[k].brk for k in range(begin + 1, min(n, begin + length)))
                ):
                    found = (begin + length, code)
                    break
        if found:
            stop, code = found
            suffix = ""
            if (
                stop < n
                and doc.norm[stop] in ("a", "b", "c", "d")
                and len(code) == 3
                and not doc.tokens[stop].brk
            ):
                suffix = doc.norm[stop].upper()
                stop += 1
            elif doc.norm[stop - 1] == "a" and stop - begin == 3:
                suffix = "A"
            elif (
                i
                and doc.norm[i - 1] == "of"
                and not doc.tokens[i].brk
                and (i + 1 < n and code in ("22", "410"))
            ):
                suffix = "?"
            elif stop < n and doc.norm[stop] in _CHARGED and not doc.tokens[stop].brk:
                suffix = "?"  # "a four ten system", "it's a 22 unit"
            after = doc.norm[stop] if stop < n else ""
            letter_is_article = (
                suffix == "A"
                and after not in ("", "and")
                and stop < n
                and not doc.tokens[stop].brk
                and (doc.tokens[stop - 1].text == "a")
                and not marked
            )
            if (
                (marked and (stop - begin < 3 or suffix))
                or marked
                or (suffix and not letter_is_article and len(code) == 3)
                or suffix == "?"
            ):
                name = _BLENDS[code]
                if suffix in "BCD" and suffix:
                    name = f"R-{code}{suffix}"
                take_over(doc, i, stop, "refrigerant", name)
                i = stop
                continue
        i += 1
