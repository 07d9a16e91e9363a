"""A sensor's ohms against the temperature measured beside it."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.domain import Computed, Reading
from hatchnote.errors import BadInput
from hatchnote.trade.amounts import DEG_F, OHM, number
from hatchnote.trade.formulas.sensors import (
    CURVES,
    STEINHART,
    sensor_deviation,
    sensor_resistance,
    sensor_temperature,
)
from hatchnote.trade.limits import limits
from hatchnote.trade.machine import Machine, Want, words
from hatchnote.trade.worked.sheet import amount, identity, shown, title, unknown

BESIDE = {
    "supply-air-sensor": "supply-air-temperature",
    "return-air-sensor": "return-air-temperature",
    "outdoor-air-sensor": "outdoor-air-temperature",
}
NEAR_F = 2.0
"""°F: within this a sensor agrees however many percent its ohms are off (common practice, no source)."""


AIR_RANGE_F = (-60.0, 250.0)
"""°F that a sensor in or about the machine can be at."""


def work(machine: Machine) -> Iterator[Computed]:
    for component, point in BESIDE.items():
        resistance = Want("resistance", component=(component,))
        if not machine.measured(resistance):
            continue
        chosen = machine.choose({"ohms": resistance, "air": Want(point, steady=point.startswith("outdoor"))})
        name = title("sensor", words(component).removesuffix(" sensor"), moment=chosen.moment)
        inputs = list(chosen.readings.values())
        if not chosen.whole:
            yield unknown(machine, "sensor", name, inputs, STEINHART, chosen.why)
            continue
        try:
            yield _compared(machine, name, chosen.readings["ohms"], chosen.readings["air"])
        except BadInput as reason:
            yield unknown(machine, "sensor", name, inputs, STEINHART, str(reason))


def _possible(ohms: float) -> list[str]:
    """Curves that can show these ohms at any air temperature; all of them where none can."""
    can = []
    for curve in CURVES:
        ends = sorted(sensor_resistance(t, curve) for t in AIR_RANGE_F)
        if ends[0] <= ohms <= ends[1]:
            can.append(curve)
    return can or list(CURVES)


def _compared(machine: Machine, name: str, ohms: Reading, air: Reading) -> Computed:
    """One curve where the plate names it; else every known curve, which must agree (the type is not guessed)."""
    known = machine.plate.filed.sensor_curve
    measured, temperature = number(amount(ohms), OHM), number(amount(air), DEG_F)
    limit = limits().by_kind["sensor"].ranges[0]
    outcomes, texts, values = set(), [], []
    for curve in (known,) if known else _possible(measured):
        table = sensor_resistance(temperature, curve)
        off = sensor_deviation(measured, table)
        agrees = limit.holds(off)
        implied = ""
        try:
            means = sensor_temperature(measured, curve)
            implied = f", these ohms mean {means:.1f} °F"
            agrees = agrees or abs(means - temperature) <= NEAR_F
        except BadInput:
            implied = ", these ohms are off the curve"
        outcomes.add("within" if agrees else "outside")
        values.append(off)
        texts.append(f"{curve}: {table:.0f} ohm at {shown(air)}, read {off:+.1f} %{implied}")
    expected = limit.describe("%")
    judgement = outcomes.pop() if len(outcomes) == 1 else "unknown"
    if judgement == "unknown":
        expected += "; depends on the sensor's curve, not given"
    doubtful = ohms.check is not None or air.check is not None
    if doubtful and judgement != "unknown":
        expected += f"; would be {judgement}, but depends on a reading marked to check"
        judgement = "unknown"
    return Computed(
        identity(machine.tag, name),
        name,
        round(values[0], 1) if known else None,
        "%",
        "%",
        (ohms.id, air.id),
        f"{shown(ohms)} read; " + "; ".join(texts),
        STEINHART + "; Pt1000 by IEC 60751 (seen second-hand)",
        judgement,  # type: ignore[arg-type]
        expected,
        False,
        machine.tag,
        doubtful,
    )
