"""Charge, leak rate and evacuation. What needs saturation tables is in `hatchnote.trade.refrigerants`."""

from __future__ import annotations

from hatchnote.trade.amounts import DEG_F, DELTA_F, MICRON, PERCENT, POUND, Unit, formula, need

LEAK_RATE = "40 CFR 82.152 annualizing method (seen second-hand), arithmetic"


@formula(
    DELTA_F,
    "common practice: (3 x wet bulb - 80 - outdoor) / 2, fixed orifice only",
    wet_bulb=DEG_F,
    outdoor=DEG_F,
)
def target_superheat(wet_bulb: float, outdoor: float) -> float:
    """°F difference a fixed orifice should show, from return wet bulb and outdoor dry bulb °F.

    Refuses under 5 °F: California Title 24 RA3.2 (2008) has no valid charge test by superheat there.
    """
    target = (3 * wet_bulb - 80 - outdoor) / 2
    need(
        target >= 5,
        "The target superheat is under 5 °F; the charge cannot be set by superheat in this weather.",
    )
    return target


@formula(PERCENT, LEAK_RATE, added=POUND, full=POUND, days=Unit("d"))
def annual_leak_rate(added: float, full: float, days: float) -> float:
    """% a year from lb added, lb of full charge and days since the last addition (at most 365 count)."""
    need(
        full > 0 and days > 0, "The full charge and the days since the last addition must be more than zero."
    )
    return 100 * (added / full) * 365 / min(365.0, days)


@formula(PERCENT, "arithmetic", added=POUND, recovered=POUND, full=POUND)
def charge_share(added: float, recovered: float, full: float) -> float:
    """%: lb put in less lb taken out, over the full charge in lb."""
    need(full > 0, "The full charge must be more than zero; read it from the plate.")
    return 100 * (added - recovered) / full


@formula(MICRON, "arithmetic", first=MICRON, last=MICRON)
def vacuum_rise(first: float, last: float) -> float:
    """Microns gained with the pump valved off."""
    return last - first


@formula(POUND, "16 ounces to the pound", pounds=POUND)
def pounds_and_ounces(pounds: float, ounces: float) -> float:
    """lb from whole lb and a plain number of weight ounces."""
    return pounds + ounces / 16
