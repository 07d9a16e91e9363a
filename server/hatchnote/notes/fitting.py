"""How well a value fits a point: by its unit, by the window of the point, by the manner such values are said in."""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Value
from hatchnote.notes.unit_behind import INCHES, KILO
from hatchnote.notes.vocabulary import PointEntry

NO_FIT = 90.0
OUTSIDE = 8.0
"""Cost of a value that the point cannot have."""
UNLIKELY = 2.0
_LARGE, _A_LITTLE = 1.2, 1.5
"""Cost of a value that is larger than parts of this kind mostly have, by less than half."""
TWO_WAYS = "the words can be read in two ways"
"""The mark of a value whose figures can be another value too."""
WHOLE = frozenset({"[ppm]", "um[Hg]", "[cft_i]/min", "[ft_i]/min", "/min"})
"""Units whose values are whole numbers: nobody leaves a point unsaid in them."""

_FACTOR = {
    ("kOhm", "Ohm"): 1e3,
    ("MOhm", "Ohm"): 1e6,
    ("GOhm", "MOhm"): 1e3,
    ("kOhm", "MOhm"): 1e-3,
    ("Ohm", "MOhm"): 1e-6,
    ("mV", "V"): 1e-3,
    ("kV", "V"): 1e3,
    ("mA", "A"): 1e-3,
    ("nA", "uA"): 1e-3,
    ("[oz_av]", "[lb_av]"): 1 / 16,
    ("min", "s"): 60.0,
    ("h", "s"): 3600.0,
    ("kW", "[HP]"): 1.341,
    ("W", "[HP]"): 0.001341,
    ("kHz", "Hz"): 1e3,
    ("[psi]", "[in_i'H2O]"): 27.68,
    ("kg", "[lb_av]"): 2.2046,
    ("g", "[lb_av]"): 0.0022046,
    ("nF", "uF"): 1e-3,
    ("kPa", "[psi]"): 0.14504,
    ("Pa", "[in_i'H2O]"): 0.0040146,
    ("[ft_i].[lbf_av]", "[in_i].[lbf_av]"): 12.0,
    ("kW", "[Btu_IT]/h"): 3412.14,
    ("mm", "[in_i]"): 0.03937,
}
"""Rounded, for the windows only; no value on a ticket is converted with these. NIST SP 811, appendix B."""


class Fit(NamedTuple):
    """One way to take a value as a point."""

    cost: float
    value: float
    ucum: str
    others: tuple[Alternative, ...] = ()
    tie: bool = False
    """Another reading of the words is as likely."""
    outside: bool = False


def unit_for(point: PointEntry, value: Value) -> tuple[str, float] | None:
    """(UCUM code, factor) in which `value` is said of `point`; None where its unit cannot be."""
    said = value.ucum
    if said is None:
        return point.ucum, 1.0
    if value.parses and value.parses[0].style == "pounds and ounces" and point.slug != "refrigerant-charge":
        return None
    if said == INCHES:
        return (point.ucum, 1.0) if point.ucum in ("[in_i'H2O]", "[in_i]") else None
    if said == KILO:
        if point.ucum in ("Ohm", "MOhm"):
            return "kOhm", 1.0
        return (point.ucum, 1000.0) if point.slug in ("gas-input", "airflow") else None
    if said == "[lb_av]" and point.ucum == "[psi]":
        return "[psi]", 1.0
    if said == "[lb_av]" and point.slug == "torque":
        return point.ucum, 1.0
    if said == "uF" and point.slug == "flame-signal" and value.unit_text in ("mike", "mikes", "mics", "mic"):
        return point.ucum, 1.0  # "two and a half mikes of flame"
    if said in point.units:
        return said, 1.0
    return None


def fit(point: PointEntry, value: Value, component: str | None = None) -> Fit:
    """The likeliest reading of `value` as `point`, with the others that could be."""
    unit = unit_for(point, value)
    if unit is None or point.text:
        return Fit(NO_FIT, 0.0, "")
    ucum, factor = unit
    scale = factor if ucum == point.ucum else _FACTOR.get((ucum, point.ucum), 1.0)
    temperature = ucum == "Cel"
    low, high = point.windows.get(component, point.likely) if component else point.likely
    least, most = point.possible
    ranked: list[tuple[float, float]] = []
    seen: set[float] = set()
    for parse in value.parses[:8]:
        number = parse.value * factor
        if number in seen:
            continue
        seen.add(number)
        measured = number * 1.8 + 32 if temperature and not point.difference else parse.value * scale
        cost = parse.cost + _manner(point, value, parse.style, number)
        volts = value.ucum == "V" or point.slug == "control-voltage"
        dead = (
            number == 0 and volts and ucum == "V"
        )  # no voltage at all is what one looks for, and often finds
        if not low <= measured <= high and not dead:
            above = high < measured <= high * _A_LITTLE
            spoken = component in point.windows or (value.shape != "N" and point.spoken == "tenths")
            cost += _LARGE if above and spoken else UNLIKELY if least <= measured <= most else OUTSIDE
        ranked.append((cost, number))
    if not ranked:
        return Fit(NO_FIT, 0.0, "")
    ranked.sort()
    best, number = ranked[0]
    rest = [(c, n) for c, n in ranked[1:] if c < best + 2.2 and c < OUTSIDE]
    others = tuple(Alternative(n, ucum, f"{n:.10g}") for _, n in rest)
    tie = bool(rest) and rest[0][0] - best < 0.55
    return Fit(best, number, ucum, others, tie, best >= OUTSIDE)


def _whole_degrees(value: Value) -> bool:
    """Two figures: as many degrees as a superheat or a subcooling can well have."""
    return 10 <= value.first < 100


def _lost_digits(number: float) -> int:
    return len(f"{number:.10g}".partition(".")[2])


def _manner(point: PointEntry, value: Value, style: str, number: float) -> float:
    """What the point's own manner of saying values adds: amps leave the point unsaid, volts do not."""
    shape = value.shape.lstrip("m")
    unsaid = style in ("tenths", "point unspoken")
    two_figures = len(shape) == 2 and shape[0] in "dt" and shape[1] in "dzZ"
    if style == "point lost":
        # recognisers write "eleven two" as 112: where the whole number would be unusual, the lost point is likelier
        if point.difference and len(value.shape) == 1 and _whole_degrees(value):
            return 2.5  # "40 subcool": unusual, as a faulty machine is, but written as it stands
        return -1.0 if point.spoken == "tenths" and _lost_digits(number) <= 1 else 0.5
    if point.spoken == "tenths":
        if two_figures and point.difference and 1 <= (number if unsaid else number / 10) < 2:
            return 2.0 if unsaid else 0.0  # "superheat one two", figure by figure: hardly 1.2
        if two_figures:
            return 0.0 if unsaid else 1.2
        if unsaid and shape in ("xd", "x"):
            return 1.5
        return 0.0
    if style == "point unspoken" and point.ucum in WHOLE:
        return 2.2  # "four sixty" parts is 460, however high that is
    if unsaid and style == "tenths":
        return 1.2 if two_figures and shape[0] == "d" else 0.4
    if two_figures and not unsaid and number == int(number):
        return -0.6
    return 0.0
