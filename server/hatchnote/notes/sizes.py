"""Sizes as text: belts, filters, threads, motors; how they are said and how the ticket writes them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hatchnote.notes.doc import Doc, Mention, Repair
from hatchnote.notes.numbers import Number
from hatchnote.notes.numbers.grammar import figures
from hatchnote.notes.numbers.words import CLASS, classes

_NARROW = frozenset({"3", "5", "8", "three", "five", "eight"})
_LIGHT = frozenset({"3", "4", "5", "three", "four", "five"})
_DIGIT = {"three": "3", "four": "4", "five": "5", "eight": "8", "3": "3", "4": "4", "5": "5", "8": "8"}


def belt_at(doc: Doc, at: int) -> tuple[int, str] | None:
    """A belt's designation at token `at`: "B X forty six" BX46, "five V X seven ten" 5VX710, "4L440", "A38".

    Classical and narrow sections as their published standards name them: RMA/MPTA IP-20 (A, B, C, AX, BX, CX),
    IP-22 (3V, 5V, 8V and their X) and IP-23 (3L, 4L, 5L).
    """
    word = doc.norm[at]
    n = len(doc.tokens)
    i = at
    head = ""
    if word in _NARROW or word in _LIGHT:
        nxt = i + 1
        if nxt >= n or doc.tokens[nxt].brk:
            return None
        letters, stop = _letters(doc, nxt, ("v", "vx", "l"))
        if letters == "L" and _legs_around(doc, at, stop):
            return None
        if not letters or (letters == "L" and word not in _LIGHT) or (letters != "L" and word not in _NARROW):
            return None
        head, i = _DIGIT[word] + letters, _over_dash(doc, stop)
        low, high = 2, 4
    else:
        letters, stop = _letters(doc, i, ("a", "b", "c", "ax", "bx", "cx"))
        if not letters:
            return None
        if len(letters) == 1 and not _single_letter_belt(doc, at, stop):
            return None
        head, i = letters, _over_dash(doc, stop)
        low, high = 2, 3
    tail = _tail_figures(doc, i)
    if tail is None:
        return None
    stop, digits = tail
    if not low <= len(digits) <= high or digits[0] == "0":
        return None
    return stop, head + digits


def _legs_around(doc: Doc, at: int, stop: int) -> bool:
    """ "L one six two L two six four L three six three": the L is a leg's, as it was before in the breath."""
    if stop >= len(doc.norm) or doc.norm[stop] not in ("one", "two", "three", "1", "2", "3"):
        return False
    return any(
        doc.norm[i] == "l" and doc.norm[i + 1] in ("one", "two", "three", "1", "2", "3")
        for i in range(max(0, at - 14), at - 1)
    )


def _over_dash(doc: Doc, at: int) -> int:
    """ "BX-46"."""
    return (
        at + 1 if at + 1 < len(doc.tokens) and doc.norm[at] == "-" and doc.tokens[at + 1].kind == "n" else at
    )


def _letters(doc: Doc, at: int, allowed: Sequence[str]) -> tuple[str, int]:
    word = doc.norm[at]
    if (
        at + 1 < len(doc.tokens)
        and doc.norm[at + 1] == "x"
        and word in ("a", "b", "c", "v")
        and not doc.tokens[at + 1].brk
    ) and word + "x" in allowed:
        return word.upper() + "X", at + 2
    if word in allowed:
        return word.upper(), at + 1
    return "", at


def _single_letter_belt(doc: Doc, at: int, stop: int) -> bool:
    """ "an A thirty eight": one letter is a belt only where it is written as one, or a belt is spoken of."""
    if stop >= len(doc.tokens):
        return False
    token = doc.tokens[at]
    glued = doc.tokens[stop].glued and doc.tokens[stop].kind == "n"
    before = doc.norm[at - 1] if at and not token.brk else ""
    if (
        token.text.isupper()
        and before in _SEVERAL
        and set(doc.norm[stop : stop + 2]) & {*_PLURAL_FIGURES, *_PLURAL_TENS}
    ):
        return True  # "two A forty twos"
    if before in ("phase", "leg", "ten", "four", "r"):
        return False
    near = any(
        m.comp == "supply-fan-belt" or m.has("component", "supply-fan-belt")
        for m in doc.within(max(0, at - (34 if before == "new" else 12)), min(len(doc.tokens), at + 8))
    )
    if doc.norm[stop] == "-" and token.text.isupper():
        return near
    if glued:
        return near or token.text.isupper()
    if (
        token.text == "a"
        and doc.tokens[stop].kind == "n"
        and before in ("isn't", "in", "is", "within", "an", "was", "with")
        and _alone(doc, stop)
        and any(m.comp == "supply-fan-belt" for m in doc.within(max(0, at - 5), at))
    ):
        doc.repairs.append(Repair(at, stop + 1, doc.said(at, stop + 1), f"A{doc.tokens[stop].text}"))
        return True
    if token.text == "a" and near and before in _PUT and _alone(doc, stop):
        doc.repairs.append(Repair(at, stop + 1, doc.said(at, stop + 1), f"A{doc.tokens[stop].text}"))
        return True
    if token.text.isupper() and (before in ("an", "a", "the", "new", "one", "two", "it's") or near):
        return near or before in ("an", "new") or token.text != "A"
    return near and token.text == "a" and before == "an"


def _alone(doc: Doc, i: int) -> bool:
    """ "Put in a 44 on it": as long as a belt, with nothing behind it that it could be of."""
    text = doc.tokens[i].text
    after = doc.norm[i + 1] if i + 1 < len(doc.norm) and not doc.tokens[i + 1].brk else ""
    return text.isdigit() and 18 <= int(text) <= 200 and after in _BEHIND


_PUT = frozenset(
    {"put", "in", "on", "got", "with", "need", "needs", "order", "installed", "takes", "it's", "another"}
)
_BEHIND = frozenset({"", "on", "and", "so", "now", "but", "back", "for", "it", "there"})
_SEVERAL = frozenset({"two", "three", "four", "both"})
_PLURAL_FIGURES = {
    "ones": "1",
    "twos": "2",
    "threes": "3",
    "fours": "4",
    "fives": "5",
    "sixes": "6",
    "sevens": "7",
    "eights": "8",
    "nines": "9",
}
"""The last word of "A fifty fours": two belts of that size."""


_PLURAL_TENS = {
    f"{word}ies": str(10 * n)
    for n, word in enumerate(("twent", "thirt", "fort", "fift", "sixt", "sevent", "eight", "ninet"), 2)
}


def _tail_figures(doc: Doc, at: int) -> tuple[int, str] | None:
    n = len(doc.tokens)
    stop = at
    if stop < n and doc.tokens[stop].kind == "n" and not doc.tokens[stop].brk:
        text = doc.tokens[stop].text
        if not text.isdigit():
            return None
        return stop + 1, text
    while (
        stop < n and not doc.tokens[stop].brk and CLASS.get(doc.norm[stop], ".") in "dtxzZh" and stop - at < 4
    ):
        stop += 1
    tens = _PLURAL_TENS.get(doc.norm[stop], "") if stop == at and stop < n else ""
    if tens:
        return stop + 1, tens  # "two B fifties"
    ending = _PLURAL_FIGURES.get(doc.norm[stop], "") if stop < n and not doc.tokens[stop].brk else ""
    if stop == at:
        return None
    if ending:
        shape, values = classes(doc.tokens[at:stop])
        digits = figures(shape, values, 0, len(shape))
        if shape[-1:] in ("z", "Z") and digits.endswith("0"):
            return stop + 1, digits + ending  # "one oh fives"
        return stop + 1, (
            digits[:-1] + ending if digits.endswith("0") and len(ending) == 1 else digits + ending
        )
    shape, values = classes(doc.tokens[at:stop])
    if "h" in shape:
        return _hundreds(shape, values, stop)
    return stop, figures(shape, values, 0, len(shape))


def _hundreds(shape: str, values: Sequence[float], stop: int) -> tuple[int, str] | None:
    """ "Eight hundred", "twelve hundred": the length of a V belt in tenths of an inch."""
    if shape in ("dh", "th") and 1 <= values[0] <= 19:
        return stop, str(int(values[0] * 100))
    return None


def filter_from(doc: Doc, chain: Sequence[Number]) -> str | None:
    """ "sixteen by twenty five by two" as "16x25x2"; None where the numbers are no filter's."""
    values = [n.value for n in chain[:3]]
    if any(v <= 0 or v > 96 for v in values):
        return None
    if len(values) == 3 and values[2] > 30:
        return None
    if len(values) == 2 and (
        min(values) < 8
        or not any(
            m.comp == "air-filter"
            for m in doc.within(max(0, chain[0].start - 14), min(len(doc.tokens), chain[-1].stop + 10))
        )
    ):
        return None
    return "x".join(plain(v) for v in values)


def plain(value: float) -> str:
    """20 as "20", 19.5 as "19.5"."""
    return f"{value:.10g}"


def fraction(value: float) -> str:
    """0.375 as "3/8", 1.5 as "1 1/2", 26 as "26"; a value that is no binary fraction stays decimal."""
    whole = int(value)
    part = Fraction(value - whole).limit_denominator(64)
    if part == 0:
        return str(whole)
    if abs(float(part) - (value - whole)) > 1e-9 or part.denominator not in (2, 3, 4, 6, 8, 12, 16, 32, 64):
        return plain(value)
    text = f"{part.numerator}/{part.denominator}"
    return f"{whole} {text}" if whole else text


def size_text(
    spec: Sequence[str], values: Sequence[tuple[str, float, str]], sizes: Sequence[Mention]
) -> str | None:
    """The size of a part from what was said of it.

    `spec` lists what belongs to this kind of part, in order; `values` are (what, number, style); `sizes` the
    belt and filter designations.
    """
    out: list[str] = []
    for what in spec:
        if what in ("belt", "filter"):
            want = "supply-fan-belt" if what == "belt" else "air-filter"
            found = [m.slug for m in sizes if m.comp == want]
            if found:
                out.append(found[0])
            continue
        numbers = [(v, style) for kind, v, style in values if kind == what]
        if not numbers:
            continue
        value, style = numbers[0]
        if what == "uF":
            out.append("+".join(plain(v) for v, _ in numbers[:2]) + " uF")
        elif what == "poles":
            out.append(f"{plain(value)}-pole")
        elif what in ("in", "thread"):
            out.append(f"{fraction(value)} in.")
        elif what == "hp":
            text = fraction(value) if style in ("fraction", "mixed", "cardinal", "written") else plain(value)
            out.append(f"{text} hp")
        elif what == "Ohm":
            out.append(f"{plain(value / 1000)} kOhm" if value >= 1000 else f"{plain(value)} Ohm")
        else:
            out.append(f"{plain(value)} {what}")
    return " ".join(out) or None
