"""Every formula against a value from outside this project, its source beside it.

The values are in trade_checks.py; `test_every_formula_is_checked` fails for a formula that has none.
"""

import math

import pytest
from trade_checks import CHECKS

import hatchnote.trade.worked  # noqa: F401  (registers every formula)
from hatchnote.errors import BadInput
from hatchnote.trade.amounts import DELTA_F, FORMULAS, IN_WC, KW, MICRON, PSI, Q, Unit, number

F = FORMULAS


@pytest.mark.parametrize(
    ("name", "arguments", "expected", "tolerance", "source"), CHECKS, ids=lambda v: str(v)[:40]
)
def test_formula_gives_the_value_of_its_source(name, arguments, expected, tolerance, source):
    assert source
    assert F[name](*arguments) == pytest.approx(expected, abs=tolerance)


def test_every_formula_is_checked():
    assert set(F) - {name for name, *_ in CHECKS} == set()


def test_every_formula_names_its_source():
    assert all(f.source.strip() and f.__doc__ for f in F.values())


# NIST SP 811 appendix B factors, seen second-hand (reprinted in open unit libraries)
UNITS = [
    (Q(1, "[psi]"), IN_WC, 27.680, 0.0005),
    (Q(3.5, "[in_i'H2O]"), Unit("Pa"), 871.81, 0.005),
    (Q(500, "um[Hg]"), Unit("Pa"), 66.66, 0.005),
    (Q(10, "[degF]", True), Unit("K", True), 5.556, 0.0005),
    (Q(12000, "[Btu_IT]/h"), KW, 3.516853, 1e-6),
    (Q(14, "[in_i'H2O]"), PSI, 0.5058, 0.00005),
    (Q(1, "[in_i'Hg]"), MICRON, 25400, 0.5),
    (Q(1, "[HP]"), Unit("W"), 745.69987, 1e-4),
    (Q(1, "[cft_i]/min"), Unit("L/s"), 0.471947, 1e-6),
]


@pytest.mark.parametrize(("given", "unit", "expected", "tolerance"), UNITS)
def test_units_convert_by_nist_factors(given, unit, expected, tolerance):
    assert number(given, unit) == pytest.approx(expected, abs=tolerance)


def test_a_difference_of_twenty_fahrenheit_never_loses_thirty_two():
    assert number(Q(20 / 1.8, "Cel", True), DELTA_F) == pytest.approx(20)


def test_co_air_free_refuses_plain_air():
    with pytest.raises(BadInput, match=r"20\.9 %"):
        F["co_air_free"](10, 20.9)


def test_target_superheat_refuses_weather_without_a_target():
    """California Title 24 RA3.2 (2008): no valid charge test under 5 °F."""
    with pytest.raises(BadInput):
        F["target_superheat"](60, 110)


def test_outdoor_share_refuses_air_that_is_too_alike():
    with pytest.raises(BadInput, match="too close"):
        F["outdoor_air_share"](75, 72, 70)


def test_moist_air_follows_the_ashrae_example():
    """ASHRAE Fundamentals ch. 1 example 1 (from memory), read off the chart there: 100 °F dry bulb, 65 °F wet bulb,
    14.696 psia -> W 0.00523 lb/lb, h 29.80 Btu/lb, dew point 40 °F, 13 % humidity."""
    assert F["humidity_ratio"](100, 65) == pytest.approx(0.00523, abs=0.0001)
    assert F["enthalpy"](100, 65) == pytest.approx(29.80, abs=0.1)
    humidity = F["relative_humidity"](100, 65)
    assert humidity == pytest.approx(13, abs=0.5)
    assert F["dew_point"](100, humidity) == pytest.approx(40, abs=0.5)


def test_saturated_air_follows_the_ashrae_table():
    """ASHRAE Fundamentals ch. 1 table 2 (from memory): 0.01108 lb/lb at 60 °F. Its enhancement factor,
    0.4 %, is not in the equations that the field formulas use."""
    assert F["humidity_ratio"](60, 60) == pytest.approx(0.01108, rel=0.005)


def test_steinhart_hart_inverts_itself():
    for curve in ("10K-2", "10K-3"):
        for t in range(-40, 220, 5):
            ohms = F["thermistor_resistance"](t, curve)
            assert math.isclose(F["thermistor_temperature"](ohms, curve), t, abs_tol=1e-6)
