"""Saturation temperatures from tables, bubble and dew apart, interpolated in the logarithm of absolute pressure.

The tables (models/refrigerants/*.csv) come from CoolProp 7.2.0 by tools/make_refrigerant_tables.py and are read when a
refrigerant is first asked for. Dew is for superheat (vapour), bubble for subcooling (liquid).
"""

from __future__ import annotations

import csv
import math
import re
from bisect import bisect_left
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from hatchnote.errors import BadInput
from hatchnote.places import MODELS, data_folder
from hatchnote.trade.amounts import DEG_F, DELTA_F, PSI, RATIO, Unit, formula, need
from hatchnote.trade.formulas.psychrometrics import SEA_LEVEL

Phase = Literal["bubble", "dew"]
REFRIGERANTS = ("R-22", "R-32", "R-134a", "R-404A", "R-407C", "R-410A", "R-454B")
SOURCE = "table from CoolProp 7.2.0"
PSI_PER_INHG = 0.491154
"""NIST SP 811, conventional inch of mercury (seen second-hand)."""


@dataclass(frozen=True, slots=True)
class Table:
    """Temperatures in °F against the natural logarithm of psia, ascending."""

    temperature_f: tuple[float, ...]
    ln_bubble: tuple[float, ...]
    ln_dew: tuple[float, ...]


def known_name(name: str) -> str | None:
    """Our way of writing a refrigerant ("r410a", "410A" -> "R-410A"), or None for one without a table."""
    bare = re.sub(r"[\s-]", "", name).upper().removeprefix("R")
    return next((r for r in REFRIGERANTS if r[2:].upper() == bare), None)


@lru_cache(maxsize=len(REFRIGERANTS))
def table(refrigerant: str) -> Table:
    """The table of one refrigerant. Raises BadInput for one without."""
    if refrigerant not in REFRIGERANTS:
        raise BadInput(f"There is no table for {refrigerant}; those known are {', '.join(REFRIGERANTS)}.")
    path = data_folder(MODELS) / "refrigerants" / f"{refrigerant}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return Table(
        tuple(float(r["temperature_f"]) for r in rows),
        tuple(math.log(float(r["bubble_psia"])) for r in rows),
        tuple(math.log(float(r["dew_psia"])) for r in rows),
    )


def _between(x: float, xs: tuple[float, ...], ys: tuple[float, ...]) -> float:
    at = min(max(bisect_left(xs, x), 1), len(xs) - 1)
    share = (x - xs[at - 1]) / (xs[at] - xs[at - 1])
    return ys[at - 1] + share * (ys[at] - ys[at - 1])


@formula(DEG_F, SOURCE, psia=PSI)
def saturation_temperature(refrigerant: str, psia: float, phase: Phase) -> float:
    """°F at absolute pressure `psia` ("bubble" for liquid, "dew" for vapour). Refuses outside the table."""
    t = table(refrigerant)
    ln = t.ln_bubble if phase == "bubble" else t.ln_dew
    need(psia > 0, "An absolute pressure must be more than zero; a gauge below zero reads vacuum.")
    x = math.log(psia)
    need(
        ln[0] <= x <= ln[-1],
        f"{psia:.1f} psia is outside the {refrigerant} table; check the reading and the refrigerant.",
    )
    return _between(x, ln, t.temperature_f)


@formula(PSI, SOURCE, temperature=DEG_F)
def saturation_pressure(refrigerant: str, temperature: float, phase: Phase) -> float:
    """psia at °F. Refuses outside the table."""
    t = table(refrigerant)
    need(
        t.temperature_f[0] <= temperature <= t.temperature_f[-1],
        f"{temperature:.0f} °F is outside the {refrigerant} table.",
    )
    return math.exp(_between(temperature, t.temperature_f, t.ln_bubble if phase == "bubble" else t.ln_dew))


@formula(PSI, "definition of gauge pressure", psig=PSI, atmosphere=PSI)
def absolute_pressure(psig: float, atmosphere: float = SEA_LEVEL) -> float:
    """psia from psig and the local atmosphere in psia."""
    return psig + atmosphere


@formula(PSI, "definition of vacuum; NIST SP 811 inch of mercury", vacuum=Unit("[in_i'Hg]"), atmosphere=PSI)
def absolute_from_vacuum(vacuum: float, atmosphere: float = SEA_LEVEL) -> float:
    """psia from inches of mercury of vacuum."""
    return atmosphere - vacuum * PSI_PER_INHG


@formula(
    DELTA_F, "definition: line temperature less dew point; " + SOURCE, suction=PSI, line=DEG_F, atmosphere=PSI
)
def superheat(refrigerant: str, suction: float, line: float, atmosphere: float = SEA_LEVEL) -> float:
    """°F difference from suction psig and suction-line °F."""
    return line - saturation_temperature(refrigerant, suction + atmosphere, "dew")


@formula(
    DELTA_F,
    "definition: bubble point less line temperature; " + SOURCE,
    liquid=PSI,
    line=DEG_F,
    atmosphere=PSI,
)
def subcooling(refrigerant: str, liquid: float, line: float, atmosphere: float = SEA_LEVEL) -> float:
    """°F difference from liquid (or discharge) psig and liquid-line °F."""
    return saturation_temperature(refrigerant, liquid + atmosphere, "bubble") - line


@formula(
    DELTA_F,
    "definition: bubble point less outdoor air; " + SOURCE,
    discharge=PSI,
    outdoor=DEG_F,
    atmosphere=PSI,
)
def condensing_over_ambient(
    refrigerant: str, discharge: float, outdoor: float, atmosphere: float = SEA_LEVEL
) -> float:
    """°F difference from discharge psig and outdoor dry bulb °F."""
    return saturation_temperature(refrigerant, discharge + atmosphere, "bubble") - outdoor


@formula(RATIO, "definition, absolute over absolute", discharge=PSI, suction=PSI, atmosphere=PSI)
def compression_ratio(discharge: float, suction: float, atmosphere: float = SEA_LEVEL) -> float:
    """Discharge over suction, from psig."""
    need(suction + atmosphere > 0, "Suction pressure must be above a full vacuum.")
    return (discharge + atmosphere) / (suction + atmosphere)
