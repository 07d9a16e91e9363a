"""What a number is for: a measurement perhaps, or the name, the date, the telephone number of something."""

from __future__ import annotations

from collections.abc import Sequence

from hatchnote.notes.tokens import Token


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_CODE = _words(
    "phone extension ext serial model code codes zip invoice account password pin combination combo barcode"
    " cell fax sku vin po dispatch"
)
_CODE_NUMBER = _words(
    "part order serial model phone ticket account invoice po job work confirmation reference unit's"
)
_SKIPPED = _words("is was number no it's its ends end in with the a on # are order")
_INDEX = _words(
    "number no # unit units compressor compressors circuit circuits stage phase step floor level suite room building"
    " bay door gate page table zone terminal rtu ahu fan tank line tube chapter figure section route highway"
    " version grade class size type item apartment lane aisle shelf leg pump merv"
)
_SPLITTING = _words("compressor circuit stage unit number fan rtu ahu l t leg phase pump")
_MANY = _words("five six seven eight nine niner")
_LETTERS = _words("l t w y c r a b v x u g")
_MONTHS = _words(
    "january february march april june july august september october november december jan feb mar apr jun jul aug"
    " sep sept oct nov dec"
)
_CLOCK = _words("am pm o'clock oclock a.m p.m")
_MONEY_BEFORE = _words("$ € £ ¥ usd eur gbp us$")
_MONEY_AFTER = _words("dollar dollars buck bucks cent cents euro euros usd eur gbp yen rupees pesos grand")
_PRONOUN = _words("this that the which each every any old new other another last same good bad no first next")
_REFRIGERANTS = frozenset([12, 22, 32, 123, 134, 290, 404, 407, 408, 409, 410, 422, 427, 438, 448, 449, 452, 454, 455,
                           466, 502, 507, 513, 514, 600, 717, 744])  # fmt: skip


_REFRIGERANT_LETTERS: dict[float, str] = {
    134: "a", 404: "a", 407: "c", 410: "a", 417: "a", 422: "d", 427: "a", 438: "a", 448: "a", 449: "a", 452: "b",
    454: "b", 507: "a",
}  # fmt: skip
"""Refrigerant numbers (ANSI/ASHRAE Standard 34 designations, from memory) that are said with a letter behind them."""
_COUNTED = _words("phase pole poles wire conductor")


def counted_length(tokens: Sequence[Token], shape: str, at: int, stop: int) -> int:
    """Where "four sixty" ends in "four sixty three phase": the last figure counts the phases; 0 where it does not."""
    if stop - at < 2 or stop >= len(tokens) or shape[stop - 1] != "d" or tokens[stop].brk:
        return 0
    if tokens[stop].lower not in _COUNTED or tokens[stop - 1].lower not in ("three", "one", "two", "single"):
        return 0
    return stop - 1


def kind_of(tokens: Sequence[Token], start: int, stop: int, value: float, style: str) -> str:
    """The kind of the number on tokens `start`..`stop`; see `Number.kind`."""
    if style in ("time", "date", "phone", "ordinal"):
        return style
    after = tokens[stop] if stop < len(tokens) else None
    if value in _REFRIGERANT_LETTERS and after is not None and after.lower == _REFRIGERANT_LETTERS[value]:
        return "designation"
    if after is not None and after.brk < 2:
        word = after.lower
        if word in _CLOCK or (word in ("a", "p") and stop + 1 < len(tokens) and tokens[stop + 1].lower == "m"
                              and not _volts_follow(tokens, stop)):  # fmt: skip
            return "time"
        if word in _MONEY_AFTER:
            return "money"
        if word in _MONTHS and value <= 31 and after.text[:1].isupper():
            return "date"
    if start == 0:
        return "quantity"
    before = tokens[start - 1]
    if tokens[start].brk > 1:
        return "quantity"
    word = before.lower
    if word in _MONEY_BEFORE:
        return "money"
    if word in _MONTHS and before.text[:1].isupper() and (word not in ("march", "may") or value <= 31):
        return "date"
    if stop - start == 1 and value == 1 and style == "cardinal" and (word in _PRONOUN or _is_of(after)):
        return "pronoun"
    if tokens[start].brk:
        return "code" if code_cue(tokens, start) else "quantity"
    if word in _INDEX and style in ("cardinal", "written", "digits", "pair") and value == int(value):
        if word in ("line", "size", "class", "level") and stop - start > 1:
            return "quantity"
        return "code" if code_cue(tokens, start) else "index"
    if (len(word) <= 2 and (before.text.isupper() or word in ("l", "t", "r"))) or tokens[start].glued:
        named = _designation(tokens, start, value)
        if named:
            return named
    return "code" if code_cue(tokens, start) else "quantity"


def _is_of(after: Token | None) -> bool:
    return after is not None and after.lower == "of"


def _volts_follow(tokens: Sequence[Token], stop: int) -> bool:
    return stop + 2 < len(tokens) and tokens[stop + 2].lower in ("p", "ps")


def _designation(tokens: Sequence[Token], start: int, value: float) -> str:
    """R-410A, RTU-3, L1, BX42, CO2: letters that a number belongs to."""
    before = tokens[start - 1]
    word = before.lower
    if word == "r" and value in _REFRIGERANTS:
        return "designation"
    if word in ("bx", "ax", "vx") or (
        word in ("x",) and start >= 2 and tokens[start - 2].lower in ("b", "a", "v")
    ):
        return "designation"
    if word == "o" and value == 2 and start >= 2 and tokens[start - 2].lower == "c":
        return "designation"
    if word in ("co", "o") and value == 2 and tokens[start].glued:
        return "designation"
    if word in ("a", "b") and before.text.isupper() and 20 <= value <= 200 and start >= 2 and before.brk < 2:
        return "designation"
    if word in ("l", "t", "y", "w") and before.text.isupper() and 1 <= value <= 9:
        return "index"
    if (
        len(word) == 1
        and start >= 2
        and len(tokens[start - 2].lower) == 1
        and word in _LETTERS
        and word != "o"
    ):
        return "index"
    if tokens[start].glued and before.kind == "w":
        return "index" if value < 100 else "designation"
    return ""


def code_cue(tokens: Sequence[Token], start: int) -> bool:
    """Whether the words before token `start` announce a code: "extension", "part number ends in", "gate code"."""
    i = start - 1
    steps = 0
    while i >= 0 and steps < 6:
        if tokens[i + 1].brk > 1:
            return False
        word = tokens[i].lower
        if word in _CODE:
            return True
        if word in _CODE_NUMBER and i + 1 < start and tokens[i + 1].lower in ("number", "no", "#", "order"):
            return True
        if word not in _SKIPPED and not (word.endswith("'s") and word[:-2] in _CODE):
            return False
        if word.endswith("'s") and word[:-2] in _CODE:
            return True
        i -= 1
        steps += 1
    return False


def index_length(tokens: Sequence[Token], shape: str, at: int, stop: int) -> int:
    """Where a number that names something ends ("compressor two" before "eleven four"); 0 where none does."""
    if shape[at] != "d" or at == 0 or at + 1 >= stop or shape[at + 1] not in "dtxpzm":
        return 0
    before = tokens[at - 1]
    word = before.lower
    if tokens[at].brk > 1:
        return 0
    alone = at + 2 >= stop or tokens[at + 2].brk > 0 or shape[at + 2] not in "dtxzZphk"
    if word not in ("l", "t") and shape[at + 1] == "d" and alone and tokens[at].lower in _MANY:
        return 0  # "compressor nine six": no rooftop machine has nine of them
    if word in _SPLITTING and (word not in ("l", "t") or before.text.isupper()):
        return at + 1 if shape[at + 1] != "p" and shape[at + 1 : at + 2] not in ("z",) else 0
    if word == "u" and at >= 2 and tokens[at - 2].lower in ("t", "h"):
        return at + 1
    return 0
