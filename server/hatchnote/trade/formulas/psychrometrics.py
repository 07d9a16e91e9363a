"""Moist air, by PsychroLib (ASHRAE Fundamentals 2017 equations), and the standard atmosphere.

PsychroLib keeps its unit system in a module variable; it is set to IP here once and nothing else uses it.
"""

from __future__ import annotations

from functools import lru_cache
from types import ModuleType
from typing import cast

from hatchnote.trade.amounts import DEG_F, FOOT, PERCENT, PSI, RATIO, Unit, formula, need

SOURCE = "ASHRAE Fundamentals 2017 equations, by PsychroLib"
ATMOSPHERE = "standard atmosphere, ASHRAE Fundamentals ch. 1 eq. 3"
SEA_LEVEL = 14.696
"""psia."""
_HIGHEST_FT = 30000.0


@lru_cache(maxsize=1)
def _library() -> ModuleType:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.IP)
    return cast(ModuleType, psychrolib)


@formula(PSI, ATMOSPHERE, altitude=FOOT)
def atmospheric_pressure(altitude: float) -> float:
    """psia at `altitude` ft above the sea."""
    need(-2000 <= altitude <= _HIGHEST_FT, "An altitude lies between -2000 and 30000 ft; check the site's.")
    return float(SEA_LEVEL * (1 - 6.8754e-6 * altitude) ** 5.2559)


@formula(RATIO, ATMOSPHERE, altitude=FOOT)
def density_ratio(altitude: float) -> float:
    """Pressure at `altitude` ft over that at sea level: what 1.08 and 4.5 are multiplied by at equal temperature."""
    return atmospheric_pressure(altitude) / SEA_LEVEL


@formula(PERCENT, SOURCE, dry_bulb=DEG_F, wet_bulb=DEG_F, pressure=PSI)
def relative_humidity(dry_bulb: float, wet_bulb: float, pressure: float = SEA_LEVEL) -> float:
    """% from dry and wet bulb in °F at `pressure` psia."""
    need(wet_bulb <= dry_bulb, "A wet bulb cannot be above the dry bulb; check the two readings.")
    return 100 * float(_library().GetRelHumFromTWetBulb(dry_bulb, wet_bulb, pressure))


@formula(DEG_F, SOURCE, dry_bulb=DEG_F, humidity=PERCENT, pressure=PSI)
def wet_bulb(dry_bulb: float, humidity: float, pressure: float = SEA_LEVEL) -> float:
    """°F wet bulb from dry bulb and % relative humidity."""
    _humid(humidity)
    return float(_library().GetTWetBulbFromRelHum(dry_bulb, humidity / 100, pressure))


@formula(DEG_F, SOURCE, dry_bulb=DEG_F, humidity=PERCENT)
def dew_point(dry_bulb: float, humidity: float) -> float:
    """°F dew point from dry bulb and % relative humidity."""
    _humid(humidity)
    return float(_library().GetTDewPointFromRelHum(dry_bulb, humidity / 100))


@formula(Unit("[lb_av]/[lb_av]"), SOURCE, dry_bulb=DEG_F, wet_bulb=DEG_F, pressure=PSI)
def humidity_ratio(dry_bulb: float, wet_bulb: float, pressure: float = SEA_LEVEL) -> float:
    """lb of water a lb of dry air; times 7000 for grains."""
    need(wet_bulb <= dry_bulb, "A wet bulb cannot be above the dry bulb; check the two readings.")
    return float(_library().GetHumRatioFromTWetBulb(dry_bulb, wet_bulb, pressure))


@formula(Unit("[Btu_IT]/[lb_av]"), SOURCE, dry_bulb=DEG_F, wet_bulb=DEG_F, pressure=PSI)
def enthalpy(dry_bulb: float, wet_bulb: float, pressure: float = SEA_LEVEL) -> float:
    """Btu a lb of dry air, from dry and wet bulb in °F."""
    ratio = humidity_ratio(dry_bulb, wet_bulb, pressure)
    return float(_library().GetMoistAirEnthalpy(dry_bulb, ratio))


def _humid(humidity: float) -> None:
    need(0 <= humidity <= 100, "Relative humidity lies between 0 and 100 %.")
