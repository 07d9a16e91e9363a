"""Conversion factors against sources outside the project.

- NIST Special Publication 811 (2008), Appendix B.8, "Factors for Units Listed Alphabetically": values from memory of
  that table, each also agreeing with Pint.
- UCUM essence 2.2 (https://ucum.org; licence: UCUM Copyright Notice and License, Regenstrief Institute): the
  definitions excerpted below, from memory of the file, only those needed here.
- Pint 0.24 and later (BSD, https://pint.readthedocs.io), a general library.
"""

import pint
import pytest

from hatchnote.measures import Incompatible, UnknownUnit, compatible, convert, is_known

# NIST SP 811 B.8: to convert from -> to, multiply by.
NIST = [
    ("[psi]", "Pa", 6.894757e3),
    ("[in_i'H2O]", "Pa", 2.490889e2),
    ("[in_i'Hg]", "Pa", 3.386389e3),
    ("atm", "Pa", 1.01325e5),
    ("bar", "Pa", 1.0e5),
    ("mm[Hg]", "Pa", 1.333224e2),
    ("[Btu_IT]", "J", 1.055056e3),
    ("[Btu_th]", "J", 1.054350e3),
    ("[Btu_IT]/h", "W", 2.930711e-1),
    ("12000.[Btu_IT]/h", "W", 3.516853e3),
    ("100000.[Btu_IT]", "J", 1.055056e8),
    ("[HP]", "W", 7.456999e2),
    ("[cft_i]/min", "m3/s", 4.719474e-4),
    ("[cft_i]", "m3", 2.831685e-2),
    ("[gal_us]", "m3", 3.785412e-3),
    ("[gal_us]/min", "m3/s", 6.309020e-5),
    ("[gal_br]", "m3", 4.54609e-3),
    ("[foz_us]", "m3", 2.957353e-5),
    ("[in_i]", "m", 2.54e-2),
    ("[ft_i]", "m", 3.048e-1),
    ("[mi_i]", "m", 1.609344e3),
    ("[mil_i]", "m", 2.54e-5),
    ("[ft_i]/min", "m/s", 5.08e-3),
    ("[mi_i]/h", "m/s", 4.4704e-1),
    ("[kn_i]", "m/s", 5.144444e-1),
    ("[lb_av]", "kg", 4.535924e-1),
    ("[oz_av]", "kg", 2.834952e-2),
    ("[gr]", "kg", 6.479891e-5),
    ("[ston_av]", "kg", 9.071847e2),
    ("[lbf_av]", "N", 4.448222),
    ("[ft_i].[lbf_av]", "N.m", 1.355818),
    ("[in_i].[lbf_av]", "N.m", 1.129848e-1),
    ("[acr_us]", "m2", 4.046873e3),
    ("[sft_i]", "m2", 9.290304e-2),
    ("kW.h", "J", 3.6e6),
    ("deg", "rad", 1.745329e-2),
    ("[degR]", "K", 5 / 9),
]


@pytest.mark.parametrize(("source", "target", "factor"), NIST, ids=[row[0] for row in NIST])
def test_nist_sp_811(source, target, factor):
    """UCUM's column of mercury lies 3 ppm under the conventional one, so the bound is 5 ppm."""
    assert convert(1, source, target) == pytest.approx(factor, rel=5e-6)


# UCUM essence 2.2: code, definition as value and unit.
UCUM = [
    ("[in_i]", 2.54, "cm"),
    ("[ft_i]", 12, "[in_i]"),
    ("[yd_i]", 3, "[ft_i]"),
    ("[mi_i]", 5280, "[ft_i]"),
    ("[mil_i]", 1e-3, "[in_i]"),
    ("[cft_i]", 1, "[ft_i]3"),
    ("[cin_i]", 1, "[in_i]3"),
    ("[gal_us]", 231, "[in_i]3"),
    ("[qt_us]", 1, "[gal_us]/4"),
    ("[bbl_us]", 42, "[gal_us]"),
    ("[foz_us]", 0.25, "[pt_us]/4"),
    ("[gr]", 64.79891, "mg"),
    ("[lb_av]", 7000, "[gr]"),
    ("[oz_av]", 1 / 16, "[lb_av]"),
    ("[ston_av]", 2000, "[lb_av]"),
    ("[lbf_av]", 1, "[lb_av].[g]"),
    ("[psi]", 1, "[lbf_av]/[in_i]2"),
    ("m[H2O]", 9.80665, "kPa"),
    ("[in_i'H2O]", 0.0254, "m[H2O]"),
    ("m[Hg]", 133.3220, "kPa"),
    ("[in_i'Hg]", 0.0254, "m[Hg]"),
    ("[Btu_IT]", 1.05505585262, "kJ"),
    ("[Btu_th]", 1.05435, "kJ"),
    ("[Btu]", 1, "[Btu_th]"),
    ("[HP]", 550, "[ft_i].[lbf_av]/s"),
    ("[degR]", 5, "K/9"),
    ("[ppm]", 1, "10*-6"),
    ("%", 1, "10*-2"),
    ("[g]", 9.80665, "m/s2"),
    ("atm", 101325, "Pa"),
]


@pytest.mark.parametrize(("code", "value", "unit"), UCUM, ids=[row[0] for row in UCUM])
def test_ucum_definitions(code, value, unit):
    assert convert(1, code, unit) == pytest.approx(value, rel=1e-9)


PINT = {
    "[psi]": "psi",
    "Pa": "pascal",
    "kPa": "kilopascal",
    "bar": "bar",
    "atm": "atm",
    "[in_i]": "inch",
    "[ft_i]": "foot",
    "[yd_i]": "yard",
    "[mi_i]": "mile",
    "[nmi_i]": "nautical_mile",
    "mm": "millimeter",
    "km": "kilometer",
    "[lb_av]": "pound",
    "[oz_av]": "ounce",
    "kg": "kilogram",
    "g": "gram",
    "t": "metric_ton",
    "[ston_av]": "US_ton",
    "[lton_av]": "long_ton",
    "[gr]": "grain",
    "[oz_tr]": "troy_ounce",
    "[stone_av]": "stone",
    "[gal_us]": "gallon",
    "[qt_us]": "quart",
    "[pt_us]": "pint",
    "[cup_us]": "cup",
    "[foz_us]": "fluid_ounce",
    "[bbl_us]": "oil_barrel",
    "[gal_br]": "imperial_gallon",
    "L": "liter",
    "mL": "milliliter",
    "[cft_i]": "foot**3",
    "[cin_i]": "inch**3",
    "[cyd_i]": "yard**3",
    "m3": "meter**3",
    "[sft_i]": "foot**2",
    "[sin_i]": "inch**2",
    "har": "hectare",
    "W": "watt",
    "kW": "kilowatt",
    "[Btu_IT]/h": "Btu_it/hour",
    "[Btu_IT]": "Btu_it",
    "J": "joule",
    "kW.h": "kilowatt_hour",
    "eV": "electron_volt",
    "[HP]": "horsepower",
    "[lbf_av]": "force_pound",
    "N": "newton",
    "N.m": "newton*meter",
    "[ft_i].[lbf_av]": "foot*force_pound",
    "[in_i].[lbf_av]": "inch*force_pound",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "d": "day",
    "wk": "week",
    "a": "year",
    "Hz": "1/second",
    "/min": "1/minute",
    "km/h": "kilometer/hour",
    "[mi_i]/h": "mile/hour",
    "[kn_i]": "knot",
    "m/s": "meter/second",
    "[ft_i]/min": "foot/minute",
    "[cft_i]/min": "foot**3/minute",
    "[gal_us]/min": "gallon/minute",
    "V": "volt",
    "mV": "millivolt",
    "A": "ampere",
    "uA": "microampere",
    "Ohm": "ohm",
    "kOhm": "kiloohm",
    "MOhm": "megaohm",
    "uF": "microfarad",
    "V.A": "volt*ampere",
    "K": "kelvin",
    "[degR]": "degree_Rankine",
    "deg": "degree",
    "rad": "radian",
}


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry()


def test_every_pair_of_the_same_kind_agrees_with_pint(registry):
    pairs = 0
    for source, pint_source in PINT.items():
        for target, pint_target in PINT.items():
            if source != target and compatible(source, target):
                expected = registry.Quantity(1.0, pint_source).to(pint_target).magnitude
                assert convert(1.0, source, target) == pytest.approx(expected, rel=1e-6), (source, target)
                pairs += 1
    assert pairs > 300


@pytest.mark.parametrize("value", [-40.0, 0.0, 32.0, 77.0, 95.0, 212.0])
def test_temperatures_agree_with_pint(registry, value):
    for source, target, a, b in [
        ("[degF]", "Cel", "degF", "degC"),
        ("Cel", "K", "degC", "kelvin"),
        ("[degF]", "K", "degF", "kelvin"),
    ]:
        there = registry.Quantity(value, a).to(b).magnitude
        assert convert(value, source, target) == pytest.approx(there, abs=1e-9)
        assert convert(there, target, source) == pytest.approx(value, abs=1e-9)


def test_a_temperature_difference_never_moves_its_zero(registry):
    expected = registry.Quantity(10.0, "delta_degF").to("delta_degC").magnitude
    assert convert(10, "[degF]", "Cel", difference=True) == pytest.approx(expected)
    assert convert(10, "[degF]", "K", difference=True) == pytest.approx(50 / 9)
    assert convert(10, "[degF]", "Cel") == pytest.approx(-110 / 9)


def test_a_cubic_foot_is_no_centifoot_and_vacuum_no_length():
    assert convert(1, "[cft_i]", "L") == pytest.approx(28.316846592)
    with pytest.raises(Incompatible):
        convert(1, "[cft_i]", "[ft_i]")
    with pytest.raises(Incompatible):
        convert(500, "um[Hg]", "um")
    assert convert(500, "um[Hg]", "Pa") == pytest.approx(66.661)


@pytest.mark.parametrize(
    "code", ["VA", "psig", "[psig]", "k[Btu_IT]", "rpm", "", "cfm", "inH2O", "min[Hg]", "10*"]
)
def test_what_ucum_does_not_know_is_refused(code):
    assert not is_known(code)
    with pytest.raises(UnknownUnit):
        convert(1, code, "V")
