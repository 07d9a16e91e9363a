"""Units of measure as they are said and written, from models/vocabulary/units.toml.

    units = load_units()                       # once; about 20 ms
    found = units.match(tokens, at)            # the longest unit that begins at token `at`, or None
    found.stop, found.unit.ucum, found.unit.name, found.unit.kind

A word with several meanings ("inches", "microns", "pounds", "degrees") is settled by the nearest telling word of its
sentence. Conversion is `convert` (own factors, `hatchnote.measures`).
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from hatchnote.errors import BadInput
from hatchnote.measures import Incompatible, UnknownUnit, compatible, convert, is_known
from hatchnote.notes.tokens import Token, tokenize
from hatchnote.places import MODELS, data_folder

__all__ = ["Incompatible", "Unit", "UnitMatch", "Units", "UnknownUnit", "compatible", "convert", "load_units"]


class Unit(NamedTuple):
    """One unit: UCUM code, the text beside a number, what it measures, and how two bare figures of it are meant."""

    ucum: str
    name: str
    kind: str
    said: str = "whole"


class Meaning(NamedTuple):
    """One meaning of an ambiguous word; `unit.ucum` is "" where the word is no unit."""

    unit: Unit
    near: frozenset[str]


class UnitMatch(NamedTuple):
    stop: int
    unit: Unit
    others: tuple[Unit, ...] = ()
    """The other meanings of an ambiguous word."""


_Entry = Unit | tuple[Meaning, ...]
_LEAF = ""
_PREFIX_WORDS = {"k": "kilo", "M": "mega", "G": "giga", "T": "tera", "m": "milli", "u": "micro", "c": "centi",
                 "h": "hecto", "n": "nano", "p": "pico", "d": "deci"}  # fmt: skip
_REACH_BACK, _REACH_ON = 14, 6
_TIMES = frozenset(["s", "min", "h", "d", "wk", "mo", "a"])
_RAISED = {2: "²", 3: "³", -1: "⁻¹"}
_POWERS = {"²": 2, "³": 3, "squared": 2, "cubed": 3}


class Units:
    """All unit forms in one tree of tokens."""

    def __init__(self) -> None:
        self.tree: dict[str, Any] = {}
        self.symbols: dict[str, Unit] = {}
        self.glued: dict[str, Unit] = {}
        self.by_ucum: dict[str, Unit] = {}

    def match(self, tokens: Sequence[Token], at: int, *, written: bool = True) -> UnitMatch | None:
        """The longest unit that begins at token `at`.

        `written` says the number before it is in figures; one-letter symbols count only then.
        """
        if at >= len(tokens):
            return None
        found = self._simple(tokens, at, written)
        if found is None or found.stop >= len(tokens):
            return found
        return self._compound(tokens, at, found) or found

    def _simple(self, tokens: Sequence[Token], at: int, written: bool) -> UnitMatch | None:
        node = self.tree.get(tokens[at].lower)
        best: _Entry | None = None
        stop = at
        i = at + 1
        n = len(tokens)
        while node is not None:
            entry = node.get(_LEAF)
            if entry is not None:
                best, stop = entry, i
            if i >= n or tokens[i].brk:
                break
            node = node.get(tokens[i].lower)
            i += 1
        if stop <= at + 1:
            symbol = self.symbols.get(tokens[at].text)
            if symbol is None and written and tokens[at].glued:
                symbol = self.glued.get(tokens[at].text)
            if symbol is not None and (written or tokens[at].text in ("F", "C", "V", "A")):
                mark = not tokens[at].text[0].isalpha()
                alone = mark or at + 1 >= n or not _runs_on(tokens[at + 1], symbol)
                if alone and not _spelled(tokens, at):
                    return UnitMatch(at + 1, symbol)
        if best is None:
            return None
        if isinstance(best, Unit):
            return UnitMatch(stop, best)
        return _settle(tokens, at, stop, best)

    def _compound(self, tokens: Sequence[Token], at: int, first: UnitMatch) -> UnitMatch | None:
        """ "gallons per day", "m/s²", "kg / m³": a unit divided by another, or raised to a power."""
        stop, unit = first.stop, first.unit
        mark = tokens[stop]
        if mark.brk:
            return None
        power, end = _power(tokens, stop)
        if power and unit.ucum[-1:].isalpha():
            raised = _made(unit, f"{unit.ucum}{power}", f"{unit.name}{_RAISED.get(power, power)}")
            if raised is not unit:
                unit, stop = raised, end
                if stop >= len(tokens):
                    return UnitMatch(stop, unit)
                mark = tokens[stop]
        word = mark.lower
        if word in ("per", "/", "a", "an", "every") and stop + 1 < len(tokens) and "/" not in unit.ucum:
            second = self._simple(tokens, stop + 1, True)
            if second is not None and second.unit.ucum and "/" not in second.unit.ucum:
                below = second.unit
                timed = below.ucum in _TIMES and unit.kind not in ("time", "voltage", "temperature")
                if word in ("per", "/") or timed:
                    end = second.stop
                    code, name = below.ucum, below.name
                    power, raised_end = _power(tokens, end) if end < len(tokens) else (0, end)
                    if power > 0:
                        code, name, end = f"{code}{power}", f"{name}{_RAISED.get(power, power)}", raised_end
                    made = _made(unit, f"{unit.ucum}/{code}", f"{unit.name}/{name}")
                    if made is not unit:
                        return UnitMatch(end, made)
        return UnitMatch(stop, unit) if stop > first.stop else None


def _power(tokens: Sequence[Token], at: int) -> tuple[int, int]:
    """The power written at token `at` ("²", "^3", "-1", "squared", "2" glued on) and where it ends; 0 for none."""
    mark = tokens[at]
    named = _POWERS.get(mark.lower, 0)
    if named:
        return (named, at + 1) if mark.glued or mark.kind == "w" else (0, at)
    if not mark.glued:
        return 0, at
    if mark.text in ("2", "3"):
        return int(mark.text), at + 1
    if at + 1 < len(tokens) and tokens[at + 1].glued and tokens[at + 1].text in ("1", "2", "3"):
        if mark.text == "^":
            return int(tokens[at + 1].text), at + 2
        if mark.text in "-−":
            return -int(tokens[at + 1].text), at + 2
    return 0, at


@lru_cache(maxsize=4096)
def _made(unit: Unit, ucum: str, name: str) -> Unit:
    """The compound unit, or `unit` itself where UCUM has no such code."""
    return Unit(ucum, name, "compound", unit.said) if is_known(ucum) else unit


def _runs_on(after: Token, symbol: Unit) -> bool:
    """Letters or figures glued to a symbol make it part of something else; the 2 of "m2" is a power."""
    power = after.text in ("2", "3") and symbol.kind in ("length", "time")
    return after.glued and after.kind in "wn" and not power


def _spelled(tokens: Sequence[Token], at: int) -> bool:
    """A letter followed by more single letters is an abbreviation being spelled ("two C O"), no symbol."""
    return (
        at + 1 < len(tokens)
        and len(tokens[at].text) == 1
        and not tokens[at + 1].brk
        and len(tokens[at + 1].text) == 1
        and tokens[at + 1].kind == "w"
        and tokens[at + 1].lower != "a"
        and tokens[at + 1].text.isupper()
    )


def _settle(tokens: Sequence[Token], at: int, stop: int, meanings: tuple[Meaning, ...]) -> UnitMatch:
    """The meaning whose telling word stands nearest in the sentence; the first where there is none."""
    best, nearest = meanings[0].unit, 1e9
    i, reach = at - 1, 0
    while i >= 0 and reach < _REACH_BACK:
        if tokens[i + 1].brk > 1:
            break
        reach += 1
        if reach >= nearest:
            break
        word = tokens[i].lower.removesuffix("'s")
        for meaning in meanings:
            if word in meaning.near:
                best, nearest = meaning.unit, float(reach)
                break
        i -= 1
    i, reach, clauses = stop, 0, 0
    while i < len(tokens) and reach < _REACH_ON and tokens[i].brk < 2:
        reach += 1
        clauses += tokens[i].brk
        distance = reach + (0.5 if reach == 1 else 1.5) + 6 * clauses
        if distance >= nearest:
            break
        word = tokens[i].lower.removesuffix("'s")
        for meaning in meanings:
            if word in meaning.near:
                best, nearest = meaning.unit, distance
                break
        i += 1
    return UnitMatch(stop, best, tuple(m.unit for m in meanings if m.unit.ucum and m.unit.ucum != best.ucum))


# ---------------------------------------------------------------- loading


@lru_cache(maxsize=8)
def load_units(*extra: Path) -> Units:
    """The units of models/vocabulary/units.toml and of a company's own files `extra`, which may only add.

    Raises BadInput with file and line for an unknown UCUM code or a form that stands twice.
    """
    units = Units()
    for path in (data_folder(MODELS) / "vocabulary" / "units.toml", *extra):
        _read(units, path)
    return units


def _read(units: Units, path: Path) -> None:
    try:
        text = path.read_text(encoding="utf-8")
        document = tomllib.loads(text)
    except OSError as error:
        raise BadInput(
            f"{path} cannot be read ({error.strerror}); check the path of the vocabulary file."
        ) from error
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"{path} is not valid TOML: {error}; correct that line.") from error
    for entry in document.get("unit", []):
        _check_keys(
            path,
            text,
            entry,
            {"ucum", "name", "kind", "forms", "letters", "symbols", "glued", "prefixes", "said"},
        )
        _check_ucum(path, text, entry)
        units.by_ucum.setdefault(entry["ucum"], _unit(entry))
    for entry in document.get("unit", []):
        _add_unit(units, path, text, entry)
    for entry in document.get("choice", []):
        _check_keys(path, text, entry, {"forms", "of"})
        meanings = []
        for of in entry.get("of", []):
            _check_keys(path, text, of, {"ucum", "name", "kind", "said", "near"})
            if of["ucum"]:
                _check_ucum(path, text, of)
            unit = _unit(of)
            units.by_ucum.setdefault(unit.ucum, unit)
            meanings.append(Meaning(unit, frozenset(of.get("near", ()))))
        for form in entry["forms"]:
            for variant in _variants(form):
                _plant(units, path, text, form, variant, tuple(meanings), explicit=True)


def _unit(entry: dict[str, Any]) -> Unit:
    return Unit(entry["ucum"], entry["name"], entry["kind"], entry.get("said", "whole"))


def _add_unit(units: Units, path: Path, text: str, entry: dict[str, Any]) -> None:
    unit = units.by_ucum[entry["ucum"]]
    forms, symbols = entry.get("forms", []), entry.get("symbols", [])
    for form in forms:
        for variant in _variants(form):
            _plant(units, path, text, form, variant, unit, explicit=True)
    for letters in entry.get("letters", []):
        for variant in (letters, " ".join(letters)):
            _plant(units, path, text, letters, variant, unit, explicit=True)
    for symbol in symbols:
        _symbol(units, path, text, symbol, unit)
    for symbol in entry.get("glued", []):
        if symbol in units.glued:
            raise _wrong(path, text, symbol, f'the symbol "{symbol}" stands twice')
        units.glued[symbol] = unit
    for prefix in entry.get("prefixes", []):
        scaled = Unit(prefix + unit.ucum, prefix.replace("u", "µ") + unit.name, unit.kind, unit.said)
        if not is_known(scaled.ucum):
            raise _wrong(
                path, text, unit.ucum, f'prefix "{prefix}" makes the unknown UCUM code "{scaled.ucum}"'
            )
        scaled = units.by_ucum.setdefault(scaled.ucum, scaled)
        for form in forms:
            if " " not in form and not form.startswith(tuple(_PREFIX_WORDS.values())):
                for variant in _variants(_PREFIX_WORDS[prefix] + form):
                    _plant(units, path, text, form, variant, scaled, explicit=False)
        for symbol in symbols:
            for letter in ("u", "µ", "μ") if prefix == "u" else (prefix,):
                _symbol(units, path, text, letter + symbol, scaled)


def _variants(form: str) -> Iterator[str]:
    """ "inch(es) of mercury" is "inch of mercury" and "inches of mercury"."""
    if "(" not in form:
        yield form
        return
    head, _, rest = form.partition("(")
    ending, _, tail = rest.partition(")")
    for tail_variant in _variants(tail):
        yield head + tail_variant
        yield head + ending + tail_variant


def _plant(
    units: Units, path: Path, text: str, form: str, variant: str, entry: _Entry, *, explicit: bool
) -> None:
    node = units.tree
    for token in tokenize(variant):
        node = node.setdefault(token.lower, {})
    old = node.get(_LEAF)
    if old is not None and old != entry:
        same = isinstance(old, Unit) and isinstance(entry, Unit) and old.ucum == entry.ucum
        if same or not explicit:
            return
        raise _wrong(path, text, form, f'the form "{variant}" stands twice, for different units')
    node[_LEAF] = entry


def _symbol(units: Units, path: Path, text: str, symbol: str, unit: Unit) -> None:
    old = units.symbols.get(symbol)
    if old is not None and old.ucum != unit.ucum:
        raise _wrong(
            path, text, symbol, f'the symbol "{symbol}" stands twice, for {old.ucum} and {unit.ucum}'
        )
    units.symbols[symbol] = unit


def _check_ucum(path: Path, text: str, entry: dict[str, Any]) -> None:
    if not is_known(entry["ucum"]):
        raise _wrong(path, text, entry["ucum"], f'"{entry["ucum"]}" is not a UCUM code known here')


def _check_keys(path: Path, text: str, entry: dict[str, Any], allowed: set[str]) -> None:
    for key in entry:
        if key not in allowed:
            raise _wrong(path, text, key, f'the key "{key}" means nothing here')
    required: Iterable[str] = ("of", "forms") if "of" in allowed else ("ucum", "name", "kind")
    for key in required:
        if key not in entry:
            first = str(next(iter(entry.values()), ""))
            raise _wrong(path, text, first, f'the key "{key}" is missing')


def _wrong(path: Path, text: str, what: str, why: str) -> BadInput:
    """The error for the last line of `text` that holds `what`: the later of two equal forms is the one to change."""
    line = 0
    for number, content in enumerate(text.splitlines(), 1):
        if what in content and not content.lstrip().startswith("#"):
            line = number
    return BadInput(f"{path.name}, line {line}: {why}; correct this entry.")
