"""Text cut into tokens, with enough of its white space and punctuation kept to read numbers by.

    tokenize("24VAC at L2478")  ->  24|VAC|at|L|2478, where VAC and 2478 are `glued` to what stands before them

Letters and digits are always cut apart. Commas, full stops, dashes between words and the like make no tokens of
their own: they are the `gap` in front of the next token, and `brk` says how strongly it parts the two. Signs that
belong to numbers and units (° % " ' / + ± × $ # & and a minus before a number) are tokens.
"""

from __future__ import annotations

import re
from typing import NamedTuple

WORD, NUMBER, FRACTION, SIGN = "w", "n", "f", "s"
"""The kinds of token: letters; digits with their own commas and point; one character such as ½; a sign."""

VULGAR = {
    "½": 1 / 2, "⅓": 1 / 3, "⅔": 2 / 3, "¼": 1 / 4, "¾": 3 / 4, "⅕": 1 / 5, "⅖": 2 / 5, "⅗": 3 / 5, "⅘": 4 / 5,
    "⅙": 1 / 6, "⅚": 5 / 6, "⅐": 1 / 7, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8, "⅑": 1 / 9, "⅒": 1 / 10,
}  # fmt: skip
"""Value of every fraction that is a single character (Unicode, "Number Forms" and Latin-1)."""


class Token(NamedTuple):
    """One token. `start` and `end` count characters of the text it was cut from."""

    text: str
    lower: str
    start: int
    end: int
    kind: str
    gap: str
    """What stands between the token before and this one: "" (glued), " ", "-", ", ", ". "."""
    brk: int
    """0 none; 1 clause (comma, semicolon, colon, bracket, spaced dash); 2 sentence (. ! ? new line)."""

    @property
    def glued(self) -> bool:
        """Nothing at all stands between this token and the one before."""
        return self.gap == ""


_VULGAR_CHARS = "".join(VULGAR)
_LETTER = rf"[^\W\d_{_VULGAR_CHARS}²³]"
_PARTS = r"(?:(?:8|16|64)(?:th['’]?s)|32nd['’]?s)(?![a-z])"
"""Parts of an inch as recognisers write them: "3 16ths", "3-8ths", "716ths"."""
_TOKEN = re.compile(
    rf"(?P<w>{_PARTS}|{_LETTER}+(?:['’](?:s|t|re|ve|ll|d|m|S|T|RE|VE|LL|D|M)\b)?)"
    rf"|(?P<n>[1-9][0-9]?(?={_PARTS})"
    r"|[0-9]{1,3}(?:,[0-9]{3})+(?![0-9])(?:\.[0-9]+)?|[0-9]+(?:\.[0-9]+)?|(?<![\w.)])\.[0-9]+)"
    rf"|(?P<f>[{_VULGAR_CHARS}])"
    r"|(?P<s>[°º%‰\"″”“'′’/⁄+±×*^$€£¥#&@=~≈<>²³·]|(?<=\+/)[-−–]|[-−–](?=\s?\.?[0-9]))"
)
_DASHES = frozenset("-−–")
_CLAUSE = re.compile(r"[,;:()\[\]…—]|\s[-–−]+\s|--")

_SHORTENED = """
    in ft yd mi lb lbs oz gal qt pt hr hrs min mins sec secs wt sq cu vol approx temp no nos vs mr mrs ms dr st dept
    est ave max avg fig ext inc etc press diam dia w c h v a m p g s l e i r f d cfm psi psig hp dc ac wc hg rpm
    fl tbsp tsp deg kg km cm mm mph kw ea
"""
_ABBREVIATIONS = frozenset(_SHORTENED.split())
"""Words whose full stop ends no sentence when a small letter or a figure follows."""
_OPENERS = frozenset(["In", "No", "Max", "Min", "Temp", "Press", "Approx"])
"""Of these the ones that, with their capital, begin a sentence: "when I walked in. In the flue ..."."""


def _break_of(gap: str, before: str, after: str) -> int:
    """How strongly `gap` parts two tokens; `before` is the lower-case token before it, `after` what follows."""
    if "!" in gap or "?" in gap or "\n" in gap:
        return 2
    if "." in gap:
        opens = after.lower() not in _ABBREVIATIONS or after in _OPENERS
        capital = after[:1].isupper() and len(after) > 1 and opens
        if before in _ABBREVIATIONS and not capital:
            return 1 if "," in gap or ";" in gap else 0
        if gap == "." and (after.isalpha() or (len(before) == 1 and after.isdigit())):
            return 0  # "w.c", "p.s.i", "R.T.U.3"
        return 2
    return 1 if _CLAUSE.search(gap) else 0


_Piece = tuple[str, str, int, int, str, str]
_LONGEST_KEPT = 40
_MOST_KEPT = 20_000
_pieces_of: dict[str, tuple[tuple[_Piece, ...], str]] = {}
"""What every stretch between two spaces was cut into: people use few words, and cutting is the slow part."""


def _cut(stretch: str) -> tuple[tuple[_Piece, ...], str]:
    """The tokens of a stretch without spaces (text, lower, start, end, kind, gap) and what is left behind them."""
    pieces: list[_Piece] = []
    last = 0
    for match in _TOKEN.finditer(stretch):
        start, end = match.span()
        raw = match.group()
        pieces.append((raw, raw.lower(), start, end, match.lastgroup or SIGN, stretch[last:start]))
        last = end
    cut = tuple(pieces), stretch[last:]
    if len(stretch) <= _LONGEST_KEPT:
        if len(_pieces_of) >= _MOST_KEPT:
            _pieces_of.clear()
        _pieces_of[stretch] = cut
    return cut


def tokenize(text: str) -> list[Token]:
    """The tokens of `text`, in order. Never raises; time grows with the length of the text."""
    out: list[Token] = []
    append = out.append
    new = tuple.__new__
    known = _pieces_of.get
    at = 0
    behind = before = ""
    for stretch in text.split(" "):
        pieces: tuple[_Piece, ...]
        if stretch in _DASHES and text[at + 1 : at + 2].isspace() and text[at + 2 : at + 3].isdigit():
            pieces, rest = ((stretch, stretch, 0, 1, SIGN, ""),), ""
        else:
            pieces, rest = known(stretch) or _cut(stretch)
        gap_before = behind
        for raw, lower, start, end, kind, inner in pieces:
            gap = gap_before + inner
            gap_before = ""
            brk = 0 if gap == " " or not gap else _break_of(gap, before, raw)
            append(new(Token, (raw, lower, at + start, at + end, kind, gap, brk)))
            before = lower
            behind = ""
        behind = f"{behind if not pieces else ''}{rest} "
        at += len(stretch) + 1
    return out
