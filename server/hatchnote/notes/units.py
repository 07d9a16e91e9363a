"""Units of measure as they are said and written, from models/vocabulary/units.toml.

    units = load_units()                       # once; under 0.1 s
    found = units.match(tokens, at)            # the longest unit that begins at token `at`, or None
    found.stop, found.unit.ucum, found.unit.name, found.unit.kind

A word with several meanings ("inches", "microns", "pounds", "degrees") is settled by the nearest telling word of its
sentence. Conversion is `convert` (own factors, `hatchnote.measures`).
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from hatchnote.errors import BadInput
from hatchnote.measures import Incompatible, UnknownUnit, compatible, convert, is_known
from hatchnote.notes.tokens import tokenize
from hatchnote.notes.unit_forms import LEAF, Entry, Meaning, Unit, UnitMatch, Units
from hatchnote.notes.wordlists import words
from hatchnote.places import MODELS, data_folder

__all__ = ["Incompatible", "Unit", "UnitMatch", "Units", "UnknownUnit", "compatible", "convert", "load_units"]

_PREFIX_WORDS = {"k": "kilo", "M": "mega", "G": "giga", "T": "tera", "m": "milli", "u": "micro", "c": "centi",
                 "h": "hecto", "n": "nano", "p": "pico", "d": "deci"}  # fmt: skip

_DICTATED = ("dictated", "dictated_as", "dictated_times")
_TELLING = words(
    "superheat subcooling subcool drop rise split delta static pressure gas vacuum rh humidity bulb torque input"
    " gauge absolute"
)
"""Words inside a form that say what was measured: the notes read them as the point, not as part of the unit."""
_SMALL_WORDS = frozenset(["um", "part", "#"])
"""Forms that are something else in speech: a filler, a thing to order, "number"."""


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
            {"ucum", "name", "kind", "forms", "letters", "symbols", "glued", "prefixes", "said", *_DICTATED},
        )
        _check_ucum(path, text, entry)
        units.by_ucum.setdefault(entry["ucum"], _unit(entry))
    for entry in document.get("unit", []):
        _add_unit(units, path, text, entry)
        _dictated(units, entry)
    for entry in document.get("choice", []):
        _check_keys(path, text, entry, {"forms", "of", *_DICTATED})
        _dictated(units, entry)
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


def _dictated(units: Units, entry: dict[str, Any]) -> None:
    """The forms of `entry` that dictations are read by; none where it has no key "dictated"."""
    if "dictated" not in entry:
        return
    code = entry.get("dictated_as", entry.get("ucum", ""))
    spelled = [form for letters in entry.get("letters", ()) for form in (letters, " ".join(letters))]
    for form in (*entry["dictated"], *entry.get("forms", ()), *spelled):
        for variant in _variants(form.lower()):
            said = [token.lower for token in tokenize(variant)]
            told = bool(_TELLING & {*said}) or said[-2:] == ["r", "h"]
            if not told and variant not in _SMALL_WORDS:
                units.dictated.setdefault(" ".join(said), (code, entry.get("dictated_times", 1.0)))


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
    units: Units, path: Path, text: str, form: str, variant: str, entry: Entry, *, explicit: bool
) -> None:
    node = units.tree
    for token in tokenize(variant):
        node = node.setdefault(token.lower, {})
    old = node.get(LEAF)
    if old is not None and old != entry:
        same = isinstance(old, Unit) and isinstance(entry, Unit) and old.ucum == entry.ucum
        if same or not explicit:
            return
        raise _wrong(path, text, form, f'the form "{variant}" stands twice, for different units')
    node[LEAF] = entry


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
