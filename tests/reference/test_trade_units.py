"""Wrong units are converted or refused; a difference of temperature is no temperature."""

import inspect
import math

import pytest
from trade_checks import CHECKS

import hatchnote.trade.worked  # noqa: F401  (registers every formula)
from hatchnote.errors import BadInput
from hatchnote.measures import Incompatible, convert, measure
from hatchnote.trade.amounts import DEG_F, DELTA_F, FORMULAS, PSI, Q, number

# For every unit that formulas take: a compatible one to convert from, and one of another kind.
OTHER = {
    "[degF]": ("Cel", "[psi]"),
    "[psi]": ("kPa", "V"),
    "[in_i'H2O]": ("kPa", "[in_i]"),
    "[in_i'Hg]": ("kPa", "[in_i]"),
    "[cft_i]/min": ("L/s", "[ft_i]/min"),
    "[ft_i]/min": ("m/s", "[cft_i]/min"),
    "[Btu_IT]/h": ("kW", "[Btu_IT]"),
    "[in_i]": ("mm", "[in_i'H2O]"),
    "[ft_i]": ("m", "[psi]"),
    "V": ("mV", "A"),
    "A": ("mA", "V"),
    "mA": ("A", "V"),
    "Ohm": ("kOhm", "uF"),
    "%": ("[ppm]", "[psi]"),
    "[ppm]": ("%", "[psi]"),
    "[lb_av]": ("kg", "[psi]"),
    "um[Hg]": ("Pa", "um"),
    "uF": ("nF", "Ohm"),
    "/min": ("Hz", "s"),
    "[HP]": ("kW", "J"),
    "s": ("min", "Hz"),
    "kW": ("[Btu_IT]/h", "kW.h"),
    "Hz": ("/min", "s"),
    "d": ("h", "Hz"),
    "[cft_i]": ("L", "[ft_i]"),
    "[sft_i]": ("m2", "[ft_i]"),
    "[Btu_IT]/[cft_i]": ("MJ/m3", "[Btu_IT]"),
    "[Btu_IT]/[lb_av]": ("kJ/kg", "[Btu_IT]"),
}
FIRST = {name: arguments for name, arguments, *_ in reversed(CHECKS)}


def cases():
    for name, formula in FORMULAS.items():
        for parameter, unit in formula.takes.items():
            if parameter in arguments_of(name):
                yield pytest.param(name, parameter, unit, id=f"{name}-{parameter}")


def arguments_of(name):
    parameters = inspect.signature(FORMULAS[name].function).parameters
    given = dict(zip(parameters, FIRST[name], strict=False))
    defaults = {k: p.default for k, p in parameters.items() if p.default is not inspect.Parameter.empty}
    return {**defaults, **given}


def as_amounts(value, unit, ucum):
    def one(x):
        return Q(convert(x, unit.ucum, ucum, difference=unit.difference), ucum, unit.difference)

    return [one(x) for x in value] if isinstance(value, list) else one(value)


@pytest.mark.parametrize(("name", "parameter", "unit"), list(cases()))
def test_a_compatible_unit_is_converted(name, parameter, unit):
    arguments = arguments_of(name)
    right = FORMULAS[name](**arguments)
    arguments[parameter] = as_amounts(arguments[parameter], unit, OTHER[unit.ucum][0])
    assert math.isclose(FORMULAS[name](**arguments), right, rel_tol=1e-9, abs_tol=1e-9)


@pytest.mark.parametrize(("name", "parameter", "unit"), list(cases()))
def test_another_kind_of_unit_is_refused(name, parameter, unit):
    arguments = arguments_of(name)
    wrong = Q(50.0, OTHER[unit.ucum][1])
    arguments[parameter] = [wrong] * 3 if isinstance(arguments[parameter], list) else wrong
    with pytest.raises(Incompatible):
        FORMULAS[name](**arguments)


@pytest.mark.parametrize(
    ("name", "parameter", "unit"),
    [c for c in cases() if measure(c.values[2].ucum).dimension == measure("K").dimension],
)
def test_temperatures_and_their_differences_never_stand_for_each_other(name, parameter, unit):
    arguments = arguments_of(name)
    arguments[parameter] = Q(50.0, "[degF]", not unit.difference)
    with pytest.raises(Incompatible, match="difference"):
        FORMULAS[name](**arguments)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_no_number_is_refused(bad):
    with pytest.raises(BadInput):
        number(bad, PSI)


def test_ten_kelvin_of_superheat_are_eighteen_fahrenheit():
    assert number(Q(10, "K", True), DELTA_F) == pytest.approx(18)
    assert number(Q(25, "Cel"), DEG_F) == pytest.approx(77)


def test_every_unit_a_formula_takes_has_a_case_here():
    assert {u.ucum for f in FORMULAS.values() for u in f.takes.values()} <= set(OTHER) | {"1"}
