"""Converting between UCUM units with our own exact factors: what the hot paths use instead of a converter.

    convert(3.5, "[in_i'H2O]", "Pa")                     871.811...
    convert(10, "[degF]", "Cel", difference=True)        5.555...

Codes are those of UCUM (essence 2.2). Definitions are UCUM's own, save one: `m[Hg]` keeps UCUM's 133.3220 kPa,
3 parts in a million under the conventional 133.3224 kPa of NIST SP 811. A bracketed unit takes no prefix, `[Btu]`
is the thermochemical Btu and `[Btu_IT]` the one the trade means, `[cft_i]` is a cubic foot and never a centifoot,
`[in_i'H2O]` is the conventional column (9806.65 Pa/m). Temperatures convert through their zero points,
differences by their size alone: say `difference=True`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from hatchnote.errors import BadInput

Dimension = tuple[int, ...]
"""Exponents of length, time, mass, temperature, current, angle, light, amount, data."""


class UnknownUnit(BadInput):
    """The text is no UCUM code that this program knows."""


class Incompatible(BadInput):
    """Two units measure different things, so no conversion exists."""


class Measure(NamedTuple):
    """What a UCUM code stands for: `value_si = (value + offset) * factor`."""

    dimension: Dimension
    factor: float
    offset: float = 0.0


_NAMES = ["length", "time", "mass", "temperature", "current", "angle", "light", "amount", "data"]


def _dim(**powers: int) -> Dimension:
    return tuple(powers.get(name, 0) for name in _NAMES)


_ONE = _dim()
_LENGTH, _AREA, _VOLUME = _dim(length=1), _dim(length=2), _dim(length=3)
_TIME, _MASS, _KELVIN = _dim(time=1), _dim(mass=1), _dim(temperature=1)
_FORCE = _dim(mass=1, length=1, time=-2)
_PRESSURE = _dim(mass=1, length=-1, time=-2)
_ENERGY = _dim(mass=1, length=2, time=-2)
_POWER = _dim(mass=1, length=2, time=-3)
_VOLT = _dim(mass=1, length=2, time=-3, current=-1)

_INCH = 0.0254
_FOOT = 0.3048
_LB = 0.45359237
_G = 9.80665
_LBF = _LB * _G
_GALLON = 231 * _INCH**3

# Units that take the prefixes of the SI.
_METRIC: dict[str, tuple[Dimension, float]] = {
    "m": (_LENGTH, 1),
    "s": (_TIME, 1),
    "g": (_MASS, 1e-3),
    "K": (_KELVIN, 1),
    "A": (_dim(current=1), 1),
    "C": (_dim(current=1, time=1), 1),
    "rad": (_dim(angle=1), 1),
    "cd": (_dim(light=1), 1),
    "lm": (_dim(light=1), 1),
    "lx": (_dim(light=1, length=-2), 1),
    "mol": (_dim(amount=1), 1),
    "Hz": (_dim(time=-1), 1),
    "Bq": (_dim(time=-1), 1),
    "N": (_FORCE, 1),
    "dyn": (_FORCE, 1e-5),
    "Pa": (_PRESSURE, 1),
    "bar": (_PRESSURE, 1e5),
    "m[H2O]": (_PRESSURE, 9806.65),
    "m[Hg]": (_PRESSURE, 133322.0),
    "J": (_ENERGY, 1),
    "eV": (_ENERGY, 1.602176634e-19),
    "cal": (_ENERGY, 4.184),
    "erg": (_ENERGY, 1e-7),
    "W": (_POWER, 1),
    "V": (_VOLT, 1),
    "Ohm": (_dim(mass=1, length=2, time=-3, current=-2), 1),
    "S": (_dim(mass=-1, length=-2, time=3, current=2), 1),
    "F": (_dim(mass=-1, length=-2, time=4, current=2), 1),
    "H": (_dim(mass=1, length=2, time=-2, current=-2), 1),
    "Wb": (_dim(mass=1, length=2, time=-2, current=-1), 1),
    "T": (_dim(mass=1, time=-2, current=-1), 1),
    "Gy": (_dim(length=2, time=-2), 1),
    "Sv": (_dim(length=2, time=-2), 1),
    "l": (_VOLUME, 1e-3),
    "L": (_VOLUME, 1e-3),
    "ar": (_AREA, 100),
    "t": (_MASS, 1000),
    "pc": (_LENGTH, 3.085678e16),
    "By": (_dim(data=1), 8),
    "bit": (_dim(data=1), 1),
}

# Units without prefixes.
_PLAIN: dict[str, tuple[Dimension, float]] = {
    "min": (_TIME, 60),
    "h": (_TIME, 3600),
    "d": (_TIME, 86400),
    "wk": (_TIME, 604800),
    "mo": (_TIME, 2629800),
    "a": (_TIME, 31557600),
    "%": (_ONE, 1e-2),
    "[ppth]": (_ONE, 1e-3),
    "[ppm]": (_ONE, 1e-6),
    "[ppb]": (_ONE, 1e-9),
    "deg": (_dim(angle=1), 0.017453292519943295),
    "'": (_dim(angle=1), 0.017453292519943295 / 60),
    "''": (_dim(angle=1), 0.017453292519943295 / 3600),
    "circ": (_dim(angle=1), 6.283185307179586),
    "atm": (_PRESSURE, 101325),
    "[psi]": (_PRESSURE, _LBF / _INCH**2),
    "[in_i'H2O]": (_PRESSURE, 9806.65 * _INCH),
    "[in_i'Hg]": (_PRESSURE, 133322.0 * _INCH),
    "[in_i]": (_LENGTH, _INCH),
    "[ft_i]": (_LENGTH, _FOOT),
    "[yd_i]": (_LENGTH, 0.9144),
    "[mi_i]": (_LENGTH, 1609.344),
    "[nmi_i]": (_LENGTH, 1852),
    "[mil_i]": (_LENGTH, _INCH / 1000),
    "AU": (_LENGTH, 149597.870691e6),
    "[ly]": (_LENGTH, 299792458 * 31557600.0),
    "[kn_i]": (_dim(length=1, time=-1), 1852 / 3600),
    "[sin_i]": (_AREA, _INCH**2),
    "[sft_i]": (_AREA, _FOOT**2),
    "[syd_i]": (_AREA, 0.9144**2),
    "[acr_us]": (_AREA, 160 * (16.5 * 1200 / 3937) ** 2),
    "[cin_i]": (_VOLUME, _INCH**3),
    "[cft_i]": (_VOLUME, _FOOT**3),
    "[cyd_i]": (_VOLUME, 0.9144**3),
    "[gal_us]": (_VOLUME, _GALLON),
    "[qt_us]": (_VOLUME, _GALLON / 4),
    "[pt_us]": (_VOLUME, _GALLON / 8),
    "[cup_us]": (_VOLUME, _GALLON / 16),
    "[foz_us]": (_VOLUME, _GALLON / 128),
    "[tbs_us]": (_VOLUME, _GALLON / 256),
    "[tsp_us]": (_VOLUME, _GALLON / 768),
    "[bbl_us]": (_VOLUME, _GALLON * 42),
    "[gal_br]": (_VOLUME, 4.54609e-3),
    "[lb_av]": (_MASS, _LB),
    "[oz_av]": (_MASS, _LB / 16),
    "[gr]": (_MASS, _LB / 7000),
    "[oz_tr]": (_MASS, _LB / 7000 * 480),
    "[stone_av]": (_MASS, _LB * 14),
    "[ston_av]": (_MASS, _LB * 2000),
    "[lton_av]": (_MASS, _LB * 2240),
    "[car_m]": (_MASS, 2e-4),
    "[g]": (_dim(length=1, time=-2), _G),
    "[lbf_av]": (_FORCE, _LBF),
    "[Btu_IT]": (_ENERGY, 1055.05585262),
    "[Btu_th]": (_ENERGY, 1054.35),
    "[Btu]": (_ENERGY, 1054.35),
    "[Cal]": (_ENERGY, 4184),
    "cal_IT": (_ENERGY, 4.1868),
    "[HP]": (_POWER, 550 * _FOOT * _LBF),
    "[degR]": (_KELVIN, 5 / 9),
}

# Units with a zero point of their own; inside a product only their size counts.
_SPECIAL: dict[str, Measure] = {
    "Cel": Measure(_KELVIN, 1.0, 273.15),
    "[degF]": Measure(_KELVIN, 5 / 9, 459.67),
}

# Logarithmic levels convert to nothing but themselves: each is a dimension of its own.
_LEVELS = {"dB": 1.0, "B": 10.0, "dB[SPL]": 1.0, "B[SPL]": 10.0, "[pH]": 1.0}

_PREFIX = {
    "Y": 1e24, "Z": 1e21, "E": 1e18, "P": 1e15, "T": 1e12, "G": 1e9, "M": 1e6, "k": 1e3, "h": 1e2, "da": 1e1,
    "d": 1e-1, "c": 1e-2, "m": 1e-3, "u": 1e-6, "n": 1e-9, "p": 1e-12, "f": 1e-15, "a": 1e-18,
}  # fmt: skip

_COMPONENT = re.compile(r"(?P<symbol>(?:\[[^\[\]]*\]|'{1,2}|%|[A-Za-z_])+)(?P<power>[+-]?\d+)?")
_ANNOTATION = re.compile(r"\{[^{}]*\}")
_TEN = re.compile(r"10[*^](?P<power>[+-]?\d+)")


def _atom(symbol: str) -> Measure | None:
    if symbol in _SPECIAL:
        return Measure(_SPECIAL[symbol].dimension, _SPECIAL[symbol].factor)
    plain = _PLAIN.get(symbol) or _METRIC.get(symbol)
    if plain:
        return Measure(*plain)
    for width in (2, 1):
        prefix, rest = symbol[:width], symbol[width:]
        if prefix in _PREFIX and rest in _METRIC and (width == 2) == (prefix == "da"):
            dimension, factor = _METRIC[rest]
            return Measure(dimension, factor * _PREFIX[prefix])
    return None


def _component(text: str, code: str) -> Measure:
    bare = _ANNOTATION.sub("", text)
    if not bare and text:
        return Measure(_ONE, 1.0)
    if bare.isascii() and bare.isdigit():
        return Measure(_ONE, float(bare))
    ten = _TEN.fullmatch(bare)
    if ten and abs(int(ten["power"])) < 100:
        return Measure(_ONE, 10.0 ** int(ten["power"]))
    match = _COMPONENT.fullmatch(bare)
    atom = _atom(match["symbol"]) if match else None
    power = int(match["power"] or 1) if match else 1
    if atom is None or abs(power) > 12:
        raise UnknownUnit(f'"{code}" is not a UCUM code known here; write one such as "[psi]" or "kW.h".')
    return Measure(tuple(p * power for p in atom.dimension), atom.factor**power)


@lru_cache(maxsize=2048)
def measure(code: str) -> Measure:
    """What the UCUM code `code` stands for. Raises UnknownUnit."""
    if code in _SPECIAL:
        return _SPECIAL[code]
    if code in _LEVELS:
        own = tuple(-99 if c == code.lstrip("d") else 0 for c in ("B", "B[SPL]", "[pH]"))
        return Measure(own, _LEVELS[code])
    dimension, factor = _ONE, 1.0
    pieces = re.split(r"([./])", code)
    sign = 1
    for at, piece in enumerate(pieces):
        if at % 2:
            sign = -1 if piece == "/" else 1
            continue
        if not piece and at == 0 and len(pieces) > 1 and pieces[1] == "/":
            continue  # "/min" begins with its stroke
        part = _component(piece, code)
        dimension = tuple(d + sign * p for d, p in zip(dimension, part.dimension, strict=True))
        factor = factor * part.factor if sign > 0 else factor / part.factor
    return Measure(dimension, factor)


def is_known(code: str) -> bool:
    """Whether `code` is a UCUM code that `convert` can use."""
    try:
        measure(code)
    except UnknownUnit:
        return False
    return True


def compatible(one: str, other: str) -> bool:
    """Whether both codes measure the same kind of thing. Raises UnknownUnit."""
    return measure(one).dimension == measure(other).dimension


def convert(value: float, from_ucum: str, to_ucum: str, *, difference: bool = False) -> float:
    """`value` of `from_ucum` expressed in `to_ucum`.

    `difference` is for temperature differences (superheat, rise): only the size of the degree counts then.
    Raises UnknownUnit for a code that is none, Incompatible where the two measure different things.
    """
    a, b = measure(from_ucum), measure(to_ucum)
    if a.dimension != b.dimension:
        raise Incompatible(
            f'"{from_ucum}" and "{to_ucum}" measure different things; choose a unit of the same kind.'
        )
    if from_ucum == to_ucum:
        return value
    if difference or not (a.offset or b.offset):
        return value * a.factor / b.factor
    return (value + a.offset) * a.factor / b.factor - b.offset
