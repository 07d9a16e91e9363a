"""Saturation tables against CoolProp 7.2.0 between their rows, and against printed charts."""

import math
from pathlib import Path

import pytest

from hatchnote.trade.refrigerants import (
    REFRIGERANTS,
    saturation_pressure,
    saturation_temperature,
    table,
)

PA_PER_PSI = 6894.757293168361
FLUID = {
    "R-22": "R22",
    "R-32": "R32",
    "R-134a": "R134a",
    "R-404A": "R404A",
    "R-407C": "R407C",
    "R-410A": "R410A",
    "R-454B": "R454B.mix",
}
TOLERANCE_F = 0.05


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
@pytest.mark.parametrize(("phase", "quality"), [("bubble", 0), ("dew", 1)])
def test_table_is_within_a_twentieth_of_a_degree_of_coolprop(refrigerant, phase, quality):
    import CoolProp
    from CoolProp.CoolProp import PropsSI

    assert CoolProp.__version__ == "7.2.0", "R-454B changes with the version; the tables are made from 7.2.0"
    worst, compared = 0.0, 0
    t = -59.63
    while t < table(refrigerant).temperature_f[-1]:
        try:
            pascal = PropsSI("P", "T", (t + 459.67) / 1.8, "Q", quality, FLUID[refrigerant])
        except ValueError:
            t += 3.37
            continue  # the solver gives up on R-454B near the top; those rows are fitted and marked so
        if math.isfinite(pascal):
            ours = saturation_temperature(refrigerant, pascal / PA_PER_PSI, phase)
            worst, compared = max(worst, abs(ours - t)), compared + 1
        t += 3.37
    assert compared >= 50
    assert worst <= TOLERANCE_F


# A public pressure-temperature chart that states NIST REFPROP as its source, psig at sea level, bubble points.
CHART = {
    "R-410A": {0: 48.4, 20: 78.7, 40: 118.8, 60: 170.7, 80: 236.5, 100: 318.5, 120: 419.5, 140: 542.6},
    "R-22": {0: 24.0, 20: 43.1, 40: 68.6, 60: 101.6, 80: 143.6, 100: 195.9, 120: 260.0, 140: 337.4},
    "R-134a": {0: 6.5, 20: 18.4, 40: 35.0, 60: 57.4, 80: 86.7, 100: 124.2, 120: 171.2, 140: 229.2},
    "R-404A": {0: 33.7, 20: 56.6, 40: 86.9, 60: 126.0},
    # Another public chart, of bubble points, rounded to the whole psi from 130 °F and up to 0.5 psi away from 120 °F.
    # The rows above 130 °F are fitted here (the solver fails).
    "R-454B": {
        0: 45.3,
        20: 74.0,
        40: 111.9,
        60: 161.0,
        80: 223.3,
        100: 300.8,
        120: 395.9,
        135: 481.0,
        140: 512.0,
    },
}


@pytest.mark.parametrize("refrigerant", CHART)
def test_bubble_pressures_agree_with_a_printed_chart(refrigerant):
    for t, psig in CHART[refrigerant].items():
        ours = saturation_pressure(refrigerant, t, "bubble") - 14.696
        assert ours == pytest.approx(psig, abs=0.15 if t < 120 or refrigerant != "R-454B" else 1.5), (
            f"{refrigerant} at {t} °F"
        )


def test_r407c_bubble_and_dew_at_20_celsius():
    """10.38 and 8.80 bar: expected values of a REFPROP wrapper's own test, in open code."""
    bar = 100000 / PA_PER_PSI
    assert saturation_pressure("R-407C", 68.0, "bubble") / bar == pytest.approx(10.38, abs=0.01)
    assert saturation_pressure("R-407C", 68.0, "dew") / bar == pytest.approx(8.80, abs=0.01)


# Normal boiling points, °C, at 101.325 kPa: ASHRAE 34 and NIST WebBook, from memory.
@pytest.mark.parametrize(("refrigerant", "celsius"), [("R-22", -40.8), ("R-32", -51.7), ("R-134a", -26.1)])
def test_boiling_point_at_one_atmosphere(refrigerant, celsius):
    ours = (saturation_temperature(refrigerant, 14.69595, "dew") - 32) / 1.8
    assert ours == pytest.approx(celsius, abs=0.1)


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
def test_bubble_pressure_is_never_under_dew_pressure_and_both_rise(refrigerant):
    rows = table(refrigerant)
    assert list(rows.ln_bubble) == sorted(rows.ln_bubble)
    assert list(rows.ln_dew) == sorted(rows.ln_dew)
    assert all(b >= d - 2e-4 for b, d in zip(rows.ln_bubble, rows.ln_dew, strict=True))


def test_tables_say_how_they_were_made():
    folder = Path(__file__).parents[2] / "models" / "refrigerants"
    for refrigerant in REFRIGERANTS:
        head = (folder / f"{refrigerant}.csv").read_text(encoding="utf-8").splitlines()[0]
        assert "CoolProp 7.2.0" in head
        assert "tools/make_refrigerant_tables.py" in head
