"""Belts and sheaves. Diameters are pitch diameters, lengths inches."""

from __future__ import annotations

import math
import re

from hatchnote.errors import BadInput
from hatchnote.trade.amounts import INCH, PERCENT, RPM, formula, need

GEOMETRY = "geometry of an open belt (common handbook approximation)"
DATUM = "ANSI/RMA IP-20 datum lengths (seen second-hand); outside length is trade practice"

_CLASSICAL = {
    "A": (1.3, 2.0),
    "AX": (1.3, 2.0),
    "B": (1.8, 3.0),
    "BX": (1.8, 3.0),
    "C": (2.9, 4.0),
    "CX": (2.9, 4.0),
}
_TENTHS = {"3L", "4L", "5L", "3V", "3VX", "5V", "5VX", "8V"}
_BELT = re.compile(r"(?P<section>[ABC]X?|[345]L|[358]VX?)[ -]?(?P<number>\d{2,4})", re.IGNORECASE)


def _belt(designation: str) -> tuple[str, int]:
    match = _BELT.fullmatch(designation.strip())
    if not match:
        raise BadInput(f'"{designation}" is not a belt number known here; write one such as BX42 or 5VX710.')
    return match["section"].upper(), int(match["number"])


@formula(INCH, DATUM)
def belt_datum_length(designation: str) -> float:
    """in.: datum length of an A, B or C belt (plain or cogged), which is numbered by its inside length."""
    section, size = _belt(designation)
    if section not in _CLASSICAL:
        raise BadInput(
            f"{designation} is numbered by its outside length; the datum length is not used for it."
        )
    return size + _CLASSICAL[section][0]


@formula(INCH, DATUM)
def belt_outside_length(designation: str) -> float:
    """in.: outside length; L and V sections are numbered in tenths of it."""
    section, size = _belt(designation)
    return size / 10 if section in _TENTHS else size + _CLASSICAL[section][1]


@formula(INCH, GEOMETRY, centres=INCH, large=INCH, small=INCH)
def belt_length(centres: float, large: float, small: float) -> float:
    """in. of belt around two sheaves `centres` apart; 1.57 is half of pi as printed in the handbooks."""
    need(centres > 0, "The distance between centres must be more than zero.")
    return 2 * centres + 1.57 * (large + small) + (large - small) ** 2 / (4 * centres)


@formula(INCH, GEOMETRY, length=INCH, large=INCH, small=INCH)
def belt_centres(length: float, large: float, small: float) -> float:
    """in. between centres for a belt of `length`; the inverse of `belt_length`."""
    half = (length - 1.57 * (large + small)) / 2
    root = half**2 - (large - small) ** 2 / 2
    need(half > 0 and root >= 0, "This belt is too short for these sheaves; check the sizes.")
    return (half + math.sqrt(root)) / 2


@formula(INCH, GEOMETRY, centres=INCH, large=INCH, small=INCH)
def belt_span(centres: float, large: float, small: float) -> float:
    """in. of free belt between the sheaves."""
    root = centres**2 - ((large - small) / 2) ** 2
    need(root > 0, "The centres are closer than the sheaves allow; check the sizes.")
    return math.sqrt(root)


@formula(
    INCH, "common practice: 1/64 in. for every inch of span, at the force in the belt's own table", span=INCH
)
def belt_deflection(span: float) -> float:
    """in. of deflection at mid-span."""
    need(span > 0, "The belt span must be more than zero.")
    return span / 64


@formula(
    RPM,
    "belt drive: speed times pitch diameter is equal on both sheaves",
    motor_speed=RPM,
    motor_sheave=INCH,
    driven_sheave=INCH,
)
def driven_speed(motor_speed: float, motor_sheave: float, driven_sheave: float) -> float:
    """rpm of the driven shaft without slip."""
    need(driven_sheave > 0, "The driven sheave's diameter must be more than zero.")
    return motor_speed * motor_sheave / driven_sheave


@formula(PERCENT, "common practice, no source", expected=RPM, measured=RPM)
def belt_slip(expected: float, measured: float) -> float:
    """%: how far the measured rpm lies below what the sheaves give."""
    need(expected > 0, "The expected speed must be more than zero.")
    return 100 * (expected - measured) / expected
