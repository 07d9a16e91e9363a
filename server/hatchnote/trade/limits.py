"""What a value is compared with: models/vocabulary/limits.toml, under the machine's own plate.

A comparison says within, outside, or unknown with the reason; it never says more than that.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from hatchnote.domain import Judgement
from hatchnote.places import MODELS, data_folder

Context = Mapping[str, str | None]
"""What a range may depend on: gas, stage, class of refrigerant… None where it is not known."""


@dataclass(frozen=True, slots=True)
class Range:
    """One range and what it holds under. A missing end is open."""

    low: float | None
    high: float | None
    source: str
    condition: str = ""
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def holds(self, value: float) -> bool:
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)

    def could_apply(self, context: Context) -> bool:
        return all(context.get(key) is None or context[key] in allowed for key, allowed in self.when.items())

    def describe(self, unit: str) -> str:
        """The range in words, with its condition and source."""
        words = self.words(unit)
        if self.condition:
            words += f", {self.condition}"
        return f"{words} ({self.source})"

    def words(self, unit: str) -> str:
        if self.low is None and self.high is None:
            return "no range"
        if self.low is None:
            return f"at most {plain(self.high)} {unit}".rstrip()
        if self.high is None:
            return f"at least {plain(self.low)} {unit}".rstrip()
        return f"{plain(self.low)} to {plain(self.high)} {unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Limit:
    """All ranges for one kind of value. `point` marks a reading that is compared as it was read."""

    kind: str
    unit: str
    ucum: str
    difference: bool
    ranges: tuple[Range, ...]
    needs: str = ""
    """What to ask for when nothing here applies: "the rise range from the rating plate"."""
    point: str | None = None
    where: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    decimals: int = 1
    name: str = ""
    """What a person calls it; the slug in words where the file gives no other."""


@dataclass(frozen=True, slots=True)
class Plausible:
    """A window outside which a number was probably misheard or mistyped. Common practice, no source."""

    point: str
    low: float
    high: float
    ucum: str
    position: tuple[str, ...] = ()
    refrigerants: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Verdict:
    """The outcome of a comparison."""

    judgement: Judgement
    expected: str | None


@dataclass(frozen=True, slots=True)
class Limits:
    """The whole file."""

    by_kind: Mapping[str, Limit]
    plausible: tuple[Plausible, ...]


def plain(value: float | None) -> str:
    """A number without needless zeros: 3.5, 400, 0.35."""
    if value is None:
        return "?"
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _words(raw: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    return {k: (v,) if isinstance(v, str) else tuple(v) for k, v in raw.items()}


def read(path: Path) -> Limits:
    """Read a limits file. Raises KeyError or TOMLDecodeError for a malformed one."""
    raw = tomllib.loads(path.read_text(encoding="utf-8"))
    kinds = {}
    for kind, entry in raw["limit"].items():
        ranges = tuple(
            Range(r.get("low"), r.get("high"), r["source"], r.get("condition", ""), _words(r.get("when", {})))
            for r in entry.get("range", [])
        )
        kinds[kind] = Limit(
            kind,
            entry["unit"],
            entry["ucum"],
            entry.get("difference", False),
            ranges,
            entry.get("needs", ""),
            entry.get("point"),
            _words(entry.get("where", {})),
            entry.get("decimals", 1),
            entry.get("name", kind.replace("-", " ")),
        )
    windows = tuple(
        Plausible(
            w["point"],
            w["low"],
            w["high"],
            w["ucum"],
            tuple(w.get("position", ())),
            tuple(w.get("refrigerants", ())),
        )
        for w in raw.get("plausible", [])
    )
    return Limits(kinds, windows)


@lru_cache(maxsize=1)
def limits() -> Limits:
    """The limits shipped with the program."""
    return read(data_folder(MODELS) / "vocabulary" / "limits.toml")


def compare(
    kind: str, value: float, *, plate: Range | None = None, context: Context | None = None
) -> Verdict:
    """Compare a value with the plate's range where there is one, else with the ranges that could apply.

    Where what a range depends on is unknown, every range that could apply is tried: they either agree, or the
    answer is unknown and names what decides.
    """
    limit = limits().by_kind[kind]
    context = context or {}
    if plate is not None:
        return Verdict("within" if plate.holds(value) else "outside", plate.describe(limit.unit))
    candidates = [r for r in limit.ranges if r.could_apply(context)]
    if not candidates:
        return Verdict("unknown", f"cannot be compared without {limit.needs}" if limit.needs else None)
    expected = "; or ".join(r.describe(limit.unit) for r in candidates)
    outcomes = {r.holds(value) for r in candidates}
    if len(outcomes) > 1:
        open_keys = sorted({k for r in candidates for k in r.when if context.get(k) is None})
        return Verdict(
            "unknown", f"{expected}; which one depends on the {' and '.join(open_keys)}, not given"
        )
    return Verdict("within" if outcomes.pop() else "outside", expected)
