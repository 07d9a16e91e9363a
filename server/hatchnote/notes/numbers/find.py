"""All numbers in a row of tokens: spoken ones by the grammar, written ones here, and what each is for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from hatchnote.notes.numbers.grammar import Parse, match, readings
from hatchnote.notes.numbers.kinds import counted_length, index_length, kind_of
from hatchnote.notes.numbers.words import classes
from hatchnote.notes.numbers.written import written
from hatchnote.notes.tokens import Token


class Number(NamedTuple):
    """One number: tokens `start`..`stop` (half open), its value, how it was said and what it is for."""

    start: int
    stop: int
    start_char: int
    end_char: int
    value: float
    style: str
    """How it was said or written: "cardinal", "decimal", "fraction", "mixed", "ordinal", "digits", "pair",
    "tenths" (a point that was not spoken: "eleven two"), "buck", "written", "time", "date", "phone", "power"."""
    kind: str
    """What it is for: "quantity", or one that is no measurement: "ordinal", "time", "date", "phone", "code",
    "designation" (R-410A, BX42), "index" (compressor one), "money", "pronoun" (this one)."""
    link: str
    """How it hangs on the number before: "" not at all, "range", "by", "over", "slash", "plus", "or", "and", "list",
    "tolerance" ("20 ± 2")."""
    tolerance: bool
    """"plus or minus" stands before it."""
    shape: str
    values: tuple[float, ...]

    @property
    def alternatives(self) -> list[Parse]:
        """The other ways to read the same tokens as one number, likeliest first."""
        parses = readings(self.shape, list(self.values), 0, len(self.shape))
        return [p for p in parses if p.value != self.value]


_LINKS = {
    "to": "range", "through": "range", "thru": "range", "till": "range", "-": "range", "–": "range",
    "−": "range", "by": "by", "x": "by", "×": "by", "over": "over", "slash": "slash", "/": "slash",
    "⁄": "slash", "plus": "plus", "+": "plus", "or": "or", "and": "and", "&": "and", "±": "tolerance",
}  # fmt: skip
_SEVERAL = frozenset(
    ["couple", "few", "several", "many", "some", "of", "by", "per", "the", "every", "first", "one"]
)
_BEFORE_ZERO = {"zero", "freezing"}


def find_numbers(tokens: Sequence[Token]) -> list[Number]:
    """Every number in `tokens`, in order and without overlap. Never raises; linear in the number of tokens."""
    shape, values = classes(tokens)
    out: list[Number] = []
    n = len(tokens)
    clause_end = -1
    previous: Number | None = None
    at = 0
    while at < n:
        c = shape[at]
        if c == "h" and _bare_hundred(tokens, shape, at):
            pass
        elif c in "./abQkhS" and not (c == "S" and at + 1 < n and shape[at + 1] in "NDF"):
            at += 1
            continue
        if at >= clause_end:
            clause_end = at + 1
            while clause_end < n and tokens[clause_end].brk == 0:
                clause_end += 1
        signed = c == "m" and at + 1 < clause_end and shape[at + 1] in "NDF"
        found = None
        if signed:
            inner = written(tokens, shape, values, at + 1, clause_end)
            found = inner and inner._replace(value=-inner.value)
        elif c in "NDFS":
            found = written(tokens, shape, values, at, clause_end)
        if found is None:
            cut = index_length(tokens, shape, at, clause_end)
            found = match(shape, values, at, cut or clause_end)
            if found is None:
                at += 1
                continue
            shorter = counted_length(tokens, shape, at, found.stop)
            if shorter:
                found = match(shape, values, at, shorter) or found
        stop, value, style = found
        number = _number(tokens, shape, values, at, stop, value, style, previous)
        out.append(number)
        previous = number
        at = stop
    return out


def _bare_hundred(tokens: Sequence[Token], shape: str, at: int) -> bool:
    """ "Hundred and one in the shade", "hundred percent": the one before it was not said."""
    if at and not tokens[at].brk and shape[at - 1] not in ".":
        return False
    before = tokens[at - 1].lower if at and not tokens[at].brk else ""
    return before not in _SEVERAL and tokens[at].lower == "hundred"


def _number(
    tokens: Sequence[Token], shape: str, values: list[float], at: int, stop: int, value: float, style: str,
    previous: Number | None,
) -> Number:  # fmt: skip
    link = ""
    if previous is not None and at - previous.stop <= 1:
        link = _link(tokens, previous, at)
    elif previous is not None and at - previous.stop <= 3 and _tolerance(tokens, at) and not tokens[at].brk:
        link = "tolerance"
    tolerance = at > 0 and _tolerance(tokens, at)
    if tolerance and shape[at] in "mS":
        at += 1
    below = value > 0 and stop < len(tokens) and tokens[stop].lower == "below" and _below_zero(tokens, stop)
    if below or (tolerance and value < 0):
        value = -value
    kind = "quantity" if link == "by" else kind_of(tokens, at, stop, value, style)
    if (
        kind == "quantity"
        and previous is not None
        and link
        and link not in ("and", "list")
        and previous.kind == "code"
    ):
        kind = "code"
    return Number(
        at, stop, tokens[at].start, tokens[stop - 1].end, value, style, kind, link, tolerance,
        shape[at:stop], tuple(values[at:stop]),
    )  # fmt: skip


def _link(tokens: Sequence[Token], previous: Number, at: int) -> str:
    if at == previous.stop:
        return "list" if tokens[at].brk == 1 else "range" if tokens[at].gap in ("-", " - ") else ""
    between = tokens[previous.stop]
    if tokens[at].brk > 1 or between.brk > 1:
        return ""
    link = _LINKS.get(between.lower, "")
    if link == "and" and previous.start > 0 and tokens[previous.start - 1].lower == "between":
        return "range"
    return link


def _tolerance(tokens: Sequence[Token], at: int) -> bool:
    before = tokens[at - 1].text
    if before == "±":
        return True
    if tokens[at].lower in ("minus", "-") or before in ("minus", "-"):
        back = at - 1 if tokens[at].lower in ("minus", "-") else at - 2
        return back >= 1 and tokens[back].lower in ("or", "/") and tokens[back - 1].lower in ("plus", "+")
    return False


def _below_zero(tokens: Sequence[Token], below: int) -> bool:
    """ "five below" at the end of its clause or before "zero": a temperature under zero."""
    after = below + 1
    return after >= len(tokens) or tokens[after].brk > 0 or tokens[after].lower in _BEFORE_ZERO
