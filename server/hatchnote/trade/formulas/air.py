"""Air side: fans, static pressure, outdoor air, heat carried by air, ducts, the condensate trap."""

from __future__ import annotations

import math

from hatchnote.trade.amounts import (
    BTUH,
    CFM,
    DEG_F,
    DELTA_F,
    FPM,
    HP,
    IN_WC,
    INCH,
    PERCENT,
    RPM,
    Unit,
    formula,
    need,
)
from hatchnote.trade.formulas.gas import AIR_HEAT, AIR_SOURCE

FAN_LAWS = "fan laws (ASHRAE HVAC Systems and Equipment, AMCA 201; from memory): same system, same density"
SQUARE_FOOT = Unit("[sft_i]")
BTU_PER_LB = Unit("[Btu_IT]/[lb_av]")
LEAST_OUTDOOR_CONTRAST = 10.0
"""°F between return and outdoor air, under which the fraction is mostly thermometer error (common practice)."""


def _ratio(new: float, old: float) -> float:
    need(old > 0 and new >= 0, "Fan speeds must be more than zero.")
    return new / old


@formula(CFM, FAN_LAWS, airflow=CFM, old=RPM, new=RPM)
def fan_airflow(airflow: float, old: float, new: float) -> float:
    """cfm at fan speed `new` from cfm at `old`."""
    return airflow * _ratio(new, old)


@formula(IN_WC, FAN_LAWS, static=IN_WC, old=RPM, new=RPM)
def fan_static(static: float, old: float, new: float) -> float:
    """in. w.c. at fan speed `new`."""
    return static * _ratio(new, old) ** 2


@formula(HP, FAN_LAWS, power=HP, old=RPM, new=RPM)
def fan_power(power: float, old: float, new: float) -> float:
    """Brake hp at fan speed `new`."""
    return power * _ratio(new, old) ** 3


@formula(
    IN_WC,
    "definition: supply less return at the cabinet's openings (common practice)",
    supply=IN_WC,
    return_air=IN_WC,
)
def external_static(supply: float, return_air: float) -> float:
    """in. w.c.: total external static. `return_air` carries its sign; negative on the suction side."""
    return supply - return_air


@formula(PERCENT, "mixing of two air streams", return_air=DEG_F, mixed=DEG_F, outdoor=DEG_F)
def outdoor_air_share(return_air: float, mixed: float, outdoor: float) -> float:
    """% outdoor air from three dry bulbs in °F. Refuses where return and outdoor are within 10 °F."""
    need(
        abs(return_air - outdoor) >= LEAST_OUTDOOR_CONTRAST,
        "Return and outdoor air are within 10 °F, too close to tell the outdoor share; measure on another day.",
    )
    return 100 * (return_air - mixed) / (return_air - outdoor)


@formula(DEG_F, "mixing of two air streams", outdoor=DEG_F, return_air=DEG_F, share=PERCENT)
def mixed_air(outdoor: float, return_air: float, share: float) -> float:
    """°F of the mixture with `share` % outdoor air."""
    return share / 100 * outdoor + (1 - share / 100) * return_air


@formula(BTUH, AIR_SOURCE, airflow=CFM, difference=DELTA_F)
def sensible_heat(airflow: float, difference: float, density_ratio: float = 1.0) -> float:
    """Btu/h carried by cfm over a dry-bulb difference in °F."""
    return AIR_HEAT * density_ratio * airflow * difference


@formula(
    BTUH,
    "4.5 = 60 x 0.075 (ASHRAE Fundamentals, from memory)",
    airflow=CFM,
    before=BTU_PER_LB,
    after=BTU_PER_LB,
)
def total_heat(airflow: float, before: float, after: float, density_ratio: float = 1.0) -> float:
    """Btu/h taken out of cfm of air between two enthalpies in Btu/lb of dry air."""
    return 4.5 * density_ratio * airflow * (before - after)


@formula(FPM, "V = 4005 root VP at 0.075 lb/ft3 (ASHRAE Fundamentals, from memory)", velocity_pressure=IN_WC)
def duct_velocity(velocity_pressure: float, density_ratio: float = 1.0) -> float:
    """fpm from velocity pressure in in. w.c.; 1096.7 root (VP over density)."""
    need(velocity_pressure >= 0, "Velocity pressure cannot be less than zero; turn the probe.")
    return 1096.7 * math.sqrt(velocity_pressure / (0.075 * density_ratio))


@formula(FPM, "arithmetic", airflow=CFM, area=SQUARE_FOOT)
def face_velocity(airflow: float, area: float) -> float:
    """fpm through `area` ft²."""
    need(area > 0, "The face area must be more than zero.")
    return airflow / area


@formula(INCH, "common practice (published unit literature): negative static plus one inch", static=IN_WC)
def trap_drop(static: float) -> float:
    """in. from pan outlet to trap outlet of a draw-through unit; half of it is the seal."""
    return abs(static) + 1
