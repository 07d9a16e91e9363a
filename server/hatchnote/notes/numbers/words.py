"""The words numbers are made of, each with a class: one letter that the grammar is written in.

d  one..nine         t  ten..nineteen     x  twenty..ninety    h  hundred      k  thousand, million...
Z  zero, nought      z  oh                p  point             m  minus        a  and
n  a, an             H  half, quarter     Q  thirds, eighths   o  third, eighth (also "in third place")
O  first, second     b  buck              N  digits "478"      D  digits with a point "26.4"
F  one character "½" S  a minus sign      /  a stroke          .  anything else
"""

from __future__ import annotations

from collections.abc import Sequence

from hatchnote.notes.tokens import FRACTION, NUMBER, VULGAR, Token

CLASS: dict[str, str] = {}
VALUE: dict[str, float] = {}


_LONGEST_FIGURE = 18
"""More figures in a row measure nothing; they are a code, an account, or noise."""


def _add(kind: str, words: str, values: Sequence[float]) -> None:
    for word, value in zip(words.split(), values, strict=True):
        CLASS[word], VALUE[word] = kind, value


_add("d", "one two three four five six seven eight nine niner", [1, 2, 3, 4, 5, 6, 7, 8, 9, 9])
_add(
    "t",
    "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen",
    list(range(10, 20)),
)
_add(
    "x", "twenty thirty forty fourty fifty sixty seventy eighty ninety", [20, 30, 40, 40, 50, 60, 70, 80, 90]
)
_add("h", "hundred", [100])
_add("k", "thousand million billion trillion", [1e3, 1e6, 1e9, 1e12])
_add("Z", "zero nought naught", [0, 0, 0])
_add("z", "oh", [0])
_add("p", "point decimal", [0, 0])
_add("m", "minus negative", [0, 0])
_add("a", "and", [0])
_add("n", "a an", [1, 1])
_add("H", "half quarter", [2, 4])
_add("Q", "halves quarters thirds fourths fifths sixths sevenths eighths ninths", [2, 4, 3, 4, 5, 6, 7, 8, 9])
_add("Q", "tenths twelfths sixteenths hundredths thousandths", [10, 12, 16, 100, 1000])
_add("Q", "thirtyseconds sixtyfourths", [32, 64])
_add("Q", "8ths 16ths 32nds 64ths 8th's 16th's 32nd's 64th's", [8, 16, 32, 64] * 2)
_add("o", "third fourth fifth sixth seventh eighth ninth", [3, 4, 5, 6, 7, 8, 9])
_add("o", "tenth eleventh twelfth thirteenth fourteenth fifteenth", [10, 11, 12, 13, 14, 15])
_add("o", "sixteenth seventeenth eighteenth nineteenth", [16, 17, 18, 19])
_add("o", "twentieth thirtieth hundredth thousandth", [20, 30, 100, 1000])
_add("O", "fortieth fiftieth sixtieth seventieth eightieth ninetieth", [40, 50, 60, 70, 80, 90])
_add("O", "first second", [1, 2])
_add("b", "buck", [100])

_SIGNS = {"-": "S", "−": "S", "–": "S", "/": "/", "⁄": "/"}
_BEFORE_THE_NOUN_POINT = {
    "this",
    "that",
    "which",
    "what",
    "the",
    "some",
    "no",
    "any",
    "set",
    "balance",
    "boiling",
}


def classes(tokens: Sequence[Token]) -> tuple[str, list[float]]:
    """One class letter a token, and the value each stands for (0 where it has none)."""
    get, value_of = CLASS.get, VALUE
    letters: list[str] = []
    values: list[float] = []
    last = "."
    for token in tokens:
        kind = token.kind
        if kind == "w":
            lower = token.lower
            letter = get(lower)
            if letter is None:
                value = 0.0
                letter = "."
                if lower == "o" and last in "dxtzZ":
                    letter = "z"
            else:
                value = value_of[lower]
                if letter == "p" and letters and tokens[len(letters) - 1].lower in _BEFORE_THE_NOUN_POINT:
                    letter = "."
        elif kind == NUMBER:
            text = token.text
            if "," in text:
                text = text.replace(",", "")
            if len(text) > _LONGEST_FIGURE:
                letter, value = ".", 0.0
            else:
                letter, value = "D" if "." in text else "N", float(text)
        elif kind == FRACTION:
            letter, value = "F", VULGAR[token.text]
        else:
            letter, value = _SIGNS.get(token.text, "."), 0.0
        letters.append(letter)
        values.append(value)
        last = letter
    return "".join(letters), values
