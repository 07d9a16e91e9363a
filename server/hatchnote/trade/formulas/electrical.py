"""Volts, amps, capacitors, windings and power."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hatchnote.trade.amounts import (
    AMP,
    HP,
    KW,
    MICROFARAD,
    OHM,
    PERCENT,
    VOLT,
    Unit,
    formula,
    need,
)

UNBALANCE = "NEMA MG 1 (definition of voltage unbalance)"
KVA = Unit("kV.A")
MEGOHM = Unit("MOhm")

STANDARD_FUSES = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300)
"""A: NEC 240.6(A), seen second-hand, to 300 A."""


def _unbalance(legs: Sequence[float]) -> float:
    need(len(legs) == 3, "Unbalance needs three legs; give all three.")
    mean = sum(legs) / 3
    need(mean > 0 and min(legs) >= 0, "Unbalance needs three legs that are not negative and not all zero.")
    return 100 * max(abs(x - mean) for x in legs) / mean


@formula(PERCENT, UNBALANCE, volts=VOLT)
def voltage_unbalance(volts: Sequence[float]) -> float:
    """%: largest departure from the mean of three line-to-line volts, over the mean."""
    return _unbalance(volts)


@formula(PERCENT, "NEMA MG 1's definition applied to amps; common practice", amps=AMP)
def current_unbalance(amps: Sequence[float]) -> float:
    """%: largest departure from the mean of three leg currents in A, over the mean."""
    return _unbalance(amps)


@formula(VOLT, "NEMA MG 1 12.44.1: rated load at 10 % under to 10 % over the plate's volts", rated=VOLT)
def voltage_low(rated: float) -> float:
    """V: the least a motor's plate allows, 90 % of rated."""
    return 0.9 * rated


@formula(VOLT, "NEMA MG 1 12.44.1: rated load at 10 % under to 10 % over the plate's volts", rated=VOLT)
def voltage_high(rated: float) -> float:
    """V: the most a motor's plate allows, 110 % of rated."""
    return 1.1 * rated


@formula(PERCENT, "arithmetic", measured=MICROFARAD, rated=MICROFARAD)
def capacitor_deviation(measured: float, rated: float) -> float:
    """%: measured less rated, over rated; both µF."""
    need(rated > 0, "The capacitor's rated microfarads must be more than zero; read them from its case.")
    return 100 * (measured - rated) / rated


@formula(MICROFARAD, "arithmetic of reactance, C = I / (2 pi f V)", amps=AMP, volts=VOLT, hertz=Unit("Hz"))
def capacitor_under_load(amps: float, volts: float, hertz: float = 60.0) -> float:
    """µF from A through and V across a capacitor while it runs."""
    need(volts > 0 and hertz > 0, "Volts across the capacitor and the frequency must be more than zero.")
    return 1e6 * amps / (2 * math.pi * hertz * volts)


@formula(PERCENT, "arithmetic", measured=AMP, plate=AMP)
def load_share(measured: float, plate: float) -> float:
    """%: running A over the plate's rated-load or full-load A."""
    need(plate > 0, "The plate's amps must be more than zero; read them from the plate.")
    return 100 * measured / plate


@formula(KW, "arithmetic of three-phase power", volts=VOLT, amps=AMP)
def three_phase_power(volts: float, amps: float, power_factor: float) -> float:
    """kW from line-to-line V, line A and power factor (0..1)."""
    need(0 < power_factor <= 1, "A power factor lies above 0 and up to 1; give one, or ask for kVA instead.")
    return math.sqrt(3) * volts * amps * power_factor / 1000


@formula(KVA, "arithmetic of three-phase power", volts=VOLT, amps=AMP)
def three_phase_apparent_power(volts: float, amps: float) -> float:
    """kVA from line-to-line V and line A."""
    return math.sqrt(3) * volts * amps / 1000


@formula(KW, "arithmetic of single-phase power", volts=VOLT, amps=AMP)
def single_phase_power(volts: float, amps: float, power_factor: float) -> float:
    """kW from V, A and power factor (0..1)."""
    need(0 < power_factor <= 1, "A power factor lies above 0 and up to 1; give one.")
    return volts * amps * power_factor / 1000


@formula(VOLT, "geometry of a wye: line-to-line is root three times line-to-neutral", volts=VOLT)
def wye_line_volts(volts: float) -> float:
    """V line to line from V line to neutral."""
    return math.sqrt(3) * volts


@formula(VOLT, "arithmetic of the turns ratio", supply=VOLT, tap=VOLT, secondary=VOLT)
def transformer_secondary(supply: float, tap: float, secondary: float = 24.0) -> float:
    """V at the secondary when `supply` V sit on the `tap` V primary."""
    need(tap > 0, "The primary tap's volts must be more than zero.")
    return secondary * supply / tap


@formula(AMP, "NEC 440.33 (seen second-hand): 125 % of the largest plus the rest", largest=AMP, others=AMP)
def minimum_circuit_ampacity(largest: float, others: Sequence[float] = ()) -> float:
    """A: cross-check of the plate's MCA. The printed plate value counts."""
    return 1.25 * largest + sum(others)


@formula(
    AMP,
    "NEC 440.22, 240.6(A) (seen second-hand): 225 % of the largest plus the rest",
    largest=AMP,
    others=AMP,
)
def overcurrent_ceiling(largest: float, others: Sequence[float] = ()) -> float:
    """A: the sum from which the standard size is taken."""
    return 2.25 * largest + sum(others)


@formula(
    AMP,
    "NEC 440.22, 240.6(A) (seen second-hand): next size down, but not under the ampacity",
    largest=AMP,
    others=AMP,
)
def overcurrent_size(largest: float, others: Sequence[float] = ()) -> float:
    """A: standard fuse size; cross-check of the plate's MOCP, which counts."""
    top = overcurrent_ceiling(largest, others)
    least = minimum_circuit_ampacity(largest, others)
    below = [s for s in STANDARD_FUSES if s <= top]
    above = [s for s in STANDARD_FUSES if s >= least]
    need(bool(above), "The circuit is beyond the standard sizes tabulated here (300 A); use the plate.")
    return float(below[-1] if below and below[-1] >= least else above[0])


@formula(
    HP,
    "common practice, no source: load shared out by amps and volts; rough, above half load",
    hp=HP,
    amps=AMP,
    plate_amps=AMP,
    volts=VOLT,
    plate_volts=VOLT,
)
def brake_power(hp: float, amps: float, plate_amps: float, volts: float, plate_volts: float) -> float:
    """hp at the shaft, roughly, from plate hp and measured over plate amps and volts."""
    need(plate_amps > 0 and plate_volts > 0, "The plate's amps and volts must be more than zero.")
    return hp * (amps / plate_amps) * (volts / plate_volts)


@formula(
    PERCENT,
    "series circuit: run and start winding end to end",
    common_run=OHM,
    common_start=OHM,
    run_start=OHM,
)
def winding_mismatch(common_run: float, common_start: float, run_start: float) -> float:
    """%: how far R to S departs from C to R plus C to S; all ohms."""
    need(common_run + common_start > 0, "Winding resistances must be more than zero.")
    return 100 * (run_start - common_run - common_start) / (common_run + common_start)


@formula(MEGOHM, "IEEE 43 (seen second-hand): kV + 1 megohm, windings of before about 1970", volts=VOLT)
def insulation_floor(volts: float) -> float:
    """MΩ at one minute and 40 °C, from the winding's rated V."""
    return volts / 1000 + 1


@formula(
    KW,
    "arithmetic: power of a fixed resistance goes with the square of the volts",
    rated_kw=KW,
    rated_volts=VOLT,
    volts=VOLT,
)
def heater_power(rated_kw: float, rated_volts: float, volts: float) -> float:
    """kW of an electric heater at `volts`."""
    need(rated_volts > 0, "The heater's rated volts must be more than zero.")
    return rated_kw * (volts / rated_volts) ** 2
