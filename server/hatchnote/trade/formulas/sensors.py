"""Sensors: thermistors and Pt1000 both ways, current loops, ratiometric transducers."""

from __future__ import annotations

import math
from collections.abc import Callable

from hatchnote.errors import BadInput
from hatchnote.trade.amounts import DEG_F, OHM, PERCENT, VOLT, Unit, formula, need

STEINHART = "Steinhart-Hart equation; coefficients from published 0/25/50 °C points (common practice, no single source)"
IEC = "IEC 60751 coefficients (seen second-hand)"
BETA = "beta equation: one beta fits only near the pair of temperatures it was made from"

THERMISTORS = {
    "10K-2": (1.127355e-3, 2.343978e-4, 8.674848e-8),
    "10K-3": (1.029195e-3, 2.391275e-4, 1.566277e-7),
}
CURVES = ("10K-2", "10K-3", "Pt1000")
_A, _B, _C = 3.9083e-3, -5.775e-7, -4.183e-12
_PT_RANGE_C = (-200.0, 850.0)


def _celsius(f: float) -> float:
    return (f - 32) / 1.8


def _fahrenheit(c: float) -> float:
    return c * 1.8 + 32


def _coefficients(curve: str) -> tuple[float, float, float]:
    try:
        return THERMISTORS[curve]
    except KeyError:
        raise BadInput(f'"{curve}" is no thermistor curve known here; choose 10K-2 or 10K-3.') from None


@formula(DEG_F, STEINHART, resistance=OHM)
def thermistor_temperature(resistance: float, curve: str) -> float:
    """°F of a thermistor from its ohms; `curve` is "10K-2" or "10K-3"."""
    a, b, c = _coefficients(curve)
    need(
        resistance > 0,
        "A thermistor's resistance must be more than zero; a short is a fault, not a temperature.",
    )
    ln = math.log(resistance)
    return _fahrenheit(1 / (a + b * ln + c * ln**3) - 273.15)


@formula(OHM, STEINHART, temperature=DEG_F)
def thermistor_resistance(temperature: float, curve: str) -> float:
    """Ohms of a thermistor at °F: the cubic in ln R solved exactly."""
    a, b, c = _coefficients(curve)
    kelvin = _celsius(temperature) + 273.15
    need(kelvin > 100, "That temperature is far outside what a thermistor can measure.")
    x = (a - 1 / kelvin) / (2 * c)
    y = math.sqrt((b / (3 * c)) ** 3 + x**2)
    return math.exp(math.cbrt(y - x) - math.cbrt(y + x))


@formula(OHM, BETA, temperature=DEG_F)
def beta_resistance(temperature: float, beta: float, r25: float = 10000.0) -> float:
    """Ohms at °F from one beta (K) and the ohms at 25 °C."""
    return r25 * math.exp(beta * (1 / (_celsius(temperature) + 273.15) - 1 / 298.15))


@formula(DEG_F, BETA, resistance=OHM)
def beta_temperature(resistance: float, beta: float, r25: float = 10000.0) -> float:
    """°F from ohms by one beta (K)."""
    need(resistance > 0 and beta > 0, "Resistance and beta must be more than zero.")
    return _fahrenheit(1 / (math.log(resistance / r25) / beta + 1 / 298.15) - 273.15)


@formula(OHM, IEC, temperature=DEG_F)
def pt1000_resistance(temperature: float) -> float:
    """Ohms of a Pt1000 at °F, -200 to 850 °C."""
    t = _celsius(temperature)
    need(_PT_RANGE_C[0] <= t <= _PT_RANGE_C[1], "IEC 60751 covers -200 to 850 °C only.")
    below = _C * (t - 100) * t**3 if t < 0 else 0.0
    return 1000 * (1 + _A * t + _B * t**2 + below)


@formula(DEG_F, IEC, resistance=OHM)
def pt1000_temperature(resistance: float) -> float:
    """°F of a Pt1000 from its ohms: the quadratic above 0 °C, Newton's steps below."""
    need(185 <= resistance <= 3905, "These ohms are outside the Pt1000 table (-200 to 850 °C).")
    t = (-_A + math.sqrt(_A**2 - 4 * _B * (1 - resistance / 1000))) / (2 * _B)
    if t < 0:
        for _ in range(20):
            error = 1 + _A * t + _B * t**2 + _C * (t - 100) * t**3 - resistance / 1000
            t -= error / (_A + 2 * _B * t + _C * (4 * t**3 - 300 * t**2))
    return _fahrenheit(t)


def sensor_resistance(temperature: float, curve: str) -> float:
    """Ohms at °F on any known curve. Raises BadInput for an unknown curve."""
    return pt1000_resistance(temperature) if curve == "Pt1000" else thermistor_resistance(temperature, curve)


def sensor_temperature(resistance: float, curve: str) -> float:
    """°F from ohms on any known curve. Raises BadInput for an unknown curve or ohms off the table."""
    turn: Callable[..., float] = pt1000_temperature if curve == "Pt1000" else thermistor_temperature
    return turn(resistance) if curve == "Pt1000" else turn(resistance, curve)


@formula(PERCENT, "arithmetic", measured=OHM, table=OHM)
def sensor_deviation(measured: float, table: float) -> float:
    """%: measured ohms less the curve's, over the curve's."""
    need(table > 0, "The curve's resistance must be more than zero.")
    return 100 * (measured - table) / table


@formula(Unit("1"), "arithmetic of a 4 to 20 mA loop", milliamps=Unit("mA"))
def loop_value(milliamps: float, low: float, high: float) -> float:
    """The measured value, in the unit of `low` and `high`."""
    need(3.5 <= milliamps <= 21, "A loop outside 3.5 to 21 mA reports a fault, not a value.")
    return low + (milliamps - 4) / 16 * (high - low)


@formula(Unit("1"), "arithmetic of a 0.5 to 4.5 V ratiometric transducer", volts=VOLT)
def ratiometric_value(volts: float, low: float, high: float) -> float:
    """The measured value, in the unit of `low` and `high`."""
    need(0.2 <= volts <= 4.8, "A transducer outside 0.2 to 4.8 V reports a fault, not a value.")
    return low + (volts - 0.5) / 4 * (high - low)
