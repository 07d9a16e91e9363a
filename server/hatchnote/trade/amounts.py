"""Amounts with their unit, and formulas that state theirs: how a wrong unit is converted or refused.

    superheat(Q(896.3, "kPa"), ...)      converted to psi
    superheat(Q(130, "V"), ...)          refused: Incompatible
    rise_airflow(Q(45, "[degF]"), ...)   refused: a temperature is no temperature difference

A plain number is taken in the unit that the formula states.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

from hatchnote.errors import BadInput
from hatchnote.measures import Incompatible, compatible, convert


@dataclass(frozen=True, slots=True)
class Q:
    """A value with its UCUM code. `difference` marks a temperature difference (superheat, rise, split)."""

    value: float
    ucum: str
    difference: bool = False


class Unit(NamedTuple):
    """The unit a formula takes or gives."""

    ucum: str
    difference: bool = False


DELTA_F = Unit("[degF]", True)
"""Degrees Fahrenheit of difference."""
DEG_F = Unit("[degF]")
PSI = Unit("[psi]")
IN_WC = Unit("[in_i'H2O]")
CFM = Unit("[cft_i]/min")
FPM = Unit("[ft_i]/min")
BTUH = Unit("[Btu_IT]/h")
INCH = Unit("[in_i]")
FOOT = Unit("[ft_i]")
VOLT = Unit("V")
AMP = Unit("A")
OHM = Unit("Ohm")
PERCENT = Unit("%")
PPM = Unit("[ppm]")
POUND = Unit("[lb_av]")
MICRON = Unit("um[Hg]")
MICROFARAD = Unit("uF")
RPM = Unit("/min")
HP = Unit("[HP]")
SECOND = Unit("s")
KW = Unit("kW")
RATIO = Unit("1")


def number(amount: float | Q, unit: Unit) -> float:
    """The plain number of `amount` in `unit`.

    Raises Incompatible for another kind of quantity, or a temperature where a difference is meant (and the other
    way round); BadInput for something that is no finite number.
    """
    if isinstance(amount, Q):
        if amount.difference != unit.difference and compatible(amount.ucum, "K"):
            have, want = _kind(amount.difference), _kind(unit.difference)
            raise Incompatible(f"This is {have} and {want} is needed; give the other one.")
        value = convert(amount.value, amount.ucum, unit.ucum, difference=unit.difference)
    else:
        value = float(amount)
    if not math.isfinite(value):
        raise BadInput(f"{value} is not a number that can be worked with; give a finite one.")
    return value


def _kind(difference: bool) -> str:
    return "a temperature difference" if difference else "a temperature"


class Formula:
    """A pure function with the units it takes and gives, and where it comes from. Call it like the function."""

    def __init__(
        self, function: Callable[..., float], gives: Unit, source: str, takes: dict[str, Unit]
    ) -> None:
        self.function = function
        self.name = function.__name__
        self.gives = gives
        self.source = source
        self.takes = takes
        self.__doc__ = function.__doc__
        self._order = list(inspect.signature(function).parameters)
        unknown = set(takes) - set(self._order)
        if unknown:
            raise TypeError(f"{self.name} has no parameter {sorted(unknown)}")

    def __call__(self, *args: Any, **kwargs: Any) -> float:
        named = {**dict(zip(self._order, args, strict=False)), **kwargs}
        for key, unit in self.takes.items():
            if named.get(key) is not None:
                given = named[key]
                named[key] = (
                    [number(x, unit) for x in given]
                    if isinstance(given, list | tuple)
                    else number(given, unit)
                )
        return self.function(**named)


FORMULAS: dict[str, Formula] = {}
"""Every formula by name, so that a test can walk them all."""


def formula(gives: Unit, source: str, **takes: Unit) -> Callable[[Callable[..., float]], Formula]:
    """Declare a formula: the unit it gives, its source, and the unit of each parameter."""

    def declare(function: Callable[..., float]) -> Formula:
        made = Formula(function, gives, source, takes)
        FORMULAS[made.name] = made
        return made

    return declare


def need(condition: bool, sentence: str) -> None:
    """Refuse with one sentence where a formula has no meaning."""
    if not condition:
        raise BadInput(sentence)
