"""Gas heat: rise, airflow from rise, clocking the meter, manifold pressure, carbon monoxide."""

from __future__ import annotations

import math

from hatchnote.trade.amounts import (
    BTUH,
    CFM,
    DEG_F,
    DELTA_F,
    IN_WC,
    KW,
    PERCENT,
    PPM,
    RATIO,
    SECOND,
    Unit,
    formula,
    need,
)

CUBIC_FOOT = Unit("[cft_i]")
BTU_PER_CUBIC_FOOT = Unit("[Btu_IT]/[cft_i]")
BTUH_PER_KW = 3412.14
AIR_HEAT = 1.08
"""Btu/h per cfm and °F at 0.075 lb/ft³: 60 min/h × 0.075 lb/ft³ × 0.24 Btu/lb·°F (ASHRAE Fundamentals, from memory)."""
AIR_SOURCE = "1.08 = 60 x 0.075 x 0.24 (ASHRAE Fundamentals, from memory)"
OXYGEN_IN_AIR = 20.9


@formula(DELTA_F, "definition", supply=DEG_F, return_air=DEG_F)
def temperature_rise(supply: float, return_air: float) -> float:
    """°F difference: supply less return, dry bulb °F, heating."""
    return supply - return_air


@formula(DELTA_F, "definition", supply=DEG_F, return_air=DEG_F)
def temperature_split(supply: float, return_air: float) -> float:
    """°F difference: return less supply, dry bulb °F, cooling."""
    return return_air - supply


@formula(CFM, AIR_SOURCE, output=BTUH, rise=DELTA_F)
def rise_airflow(output: float, rise: float, density_ratio: float = 1.0) -> float:
    """cfm from the heater's output (not input) in Btu/h and the rise in °F; `density_ratio` as of altitude."""
    need(rise > 0, "The temperature rise must be more than zero to work out airflow.")
    need(0 < density_ratio <= 1.3, "The air density ratio must be more than zero (1 at sea level).")
    return output / (AIR_HEAT * density_ratio * rise)


@formula(CFM, AIR_SOURCE + "; 1 kW = 3412.14 Btu/h", power=KW, rise=DELTA_F)
def electric_rise_airflow(power: float, rise: float, density_ratio: float = 1.0) -> float:
    """cfm from electric heat in kW and the rise in °F."""
    return rise_airflow(power * BTUH_PER_KW, rise, density_ratio)


@formula(
    BTUH,
    "common practice: 3600 s/h over the time the dial takes (utility texts)",
    dial=CUBIC_FOOT,
    seconds=SECOND,
    heating_value=BTU_PER_CUBIC_FOOT,
)
def clocked_input(dial: float, seconds: float, heating_value: float, turns: float = 1.0) -> float:
    """Btu/h from the dial's ft³ a turn, the turns counted, the s they took, and the gas's Btu/ft³."""
    need(seconds > 0, "The time on the meter must be more than zero.")
    return 3600 * dial * turns * heating_value / seconds


@formula(Unit("[cft_i]/h"), "arithmetic", dial=CUBIC_FOOT, seconds=SECOND)
def clocked_flow(dial: float, seconds: float, turns: float = 1.0) -> float:
    """ft³/h through the meter."""
    need(seconds > 0, "The time on the meter must be more than zero.")
    return 3600 * dial * turns / seconds


@formula(PERCENT, "arithmetic", measured=BTUH, plate=BTUH)
def input_share(measured: float, plate: float) -> float:
    """%: firing rate over the plate's input."""
    need(plate > 0, "The plate's input must be more than zero.")
    return 100 * measured / plate


@formula(
    RATIO,
    "orifice equation (NFPA 54 annex, from memory): flow goes with the root of the pressure",
    new=IN_WC,
    old=IN_WC,
)
def manifold_input_ratio(new: float, old: float) -> float:
    """Input at manifold pressure `new` over input at `old`, both in. w.c."""
    need(new >= 0 and old > 0, "Manifold pressures must be more than zero.")
    return math.sqrt(new / old)


@formula(PPM, "arithmetic of dilution: 20.9 / (20.9 - O2)", co=PPM, oxygen=PERCENT)
def co_air_free(co: float, oxygen: float) -> float:
    """ppm air-free from ppm as measured and % oxygen in the same flue gas. Refuses at 20.9 % and above."""
    need(
        oxygen < OXYGEN_IN_AIR,
        "At 20.9 % oxygen or more the sample is plain air; put the probe into the flue.",
    )
    need(oxygen >= 0 and co >= 0, "CO and oxygen cannot be less than zero.")
    return co * OXYGEN_IN_AIR / (OXYGEN_IN_AIR - oxygen)


@formula(IN_WC, "arithmetic", measured=IN_WC, setting=IN_WC)
def draft_margin(measured: float, setting: float) -> float:
    """in. w.c.: how much more draft there is than the pressure switch needs to close; signs do not matter."""
    return abs(measured) - abs(setting)
