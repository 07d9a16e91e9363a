"""Numbers that do not look right: outside what is plausible, or at odds with what the other readings give."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hatchnote.domain import Nameplate, Reading
from hatchnote.measures import convert
from hatchnote.trade.amounts import Unit, number
from hatchnote.trade.limits import limits, plain
from hatchnote.trade.machine import amount, words
from hatchnote.trade.nameplates import Plate, Rated
from hatchnote.trade.triggers import Scene, name_reading

AGREE = {
    "superheat": ("superheat", 3.0),
    "subcooling": ("subcooling", 3.0),
    "temperature-rise": ("temperature-rise", 1.0),
    "temperature-drop": ("temperature-split", 1.0),
}
"""Point he states, value worked out, and how far apart they may lie in °F (common practice, no source)."""
Doubt = tuple[str, tuple[str, ...]]


def doubts(scene: Scene) -> Iterator[Doubt]:
    """What to look at again, in words, with the ids it comes from."""
    for reading in scene.machine.odd_units:
        yield f"{name_reading(reading)} has a unit that does not measure this", (reading.id,)
    yield from _plates_differ(scene)
    for reading in scene.machine.readings:
        if reading.basis == "measured" and reading.value is not None and reading.check is None:
            yield from _implausible(reading, scene.machine.refrigerant)
            yield from _at_odds(reading, scene)


def _implausible(reading: Reading, refrigerant: str | None) -> Iterator[Doubt]:
    for window in limits().plausible:
        if window.point != reading.point or (window.refrigerants and refrigerant not in window.refrigerants):
            continue
        value = number(amount(reading), Unit(window.ucum, amount(reading).difference))
        if not window.low <= value <= window.high:
            usual = f"{plain(window.low)} to {plain(window.high)} {reading.unit or ''}".strip()
            yield f"{name_reading(reading)} lies outside the usual {usual}", (reading.id,)


def _at_odds(reading: Reading, scene: Scene) -> Iterator[Doubt]:
    if reading.point not in AGREE:
        return
    kind, apart = AGREE[reading.point]
    for c in scene.computed:
        parts = c.name.split(", ")
        if (
            parts[0] != limits().by_kind[kind].name
            or c.value is None
            or reading.id in c.inputs
            or c.depends_on_check
        ):
            continue
        circuit = f"circuit {reading.circuit}" if reading.circuit else None
        if (circuit and circuit not in parts) or (
            not circuit and any(p.startswith("circuit") for p in parts)
        ):
            continue
        moment = next((p for p in parts if p in ("as found", "as left")), None)
        if reading.moment and moment and words(reading.moment) != moment:
            continue
        stated = convert(reading.value or 0.0, reading.ucum or c.ucum, c.ucum, difference=True)
        if abs(stated - c.value) > apart:
            detail = (
                f"{name_reading(reading)} was said, and the other readings give {plain(c.value)} {c.unit}"
            )
            yield detail, (reading.id, *c.inputs)


def _plates_differ(scene: Scene) -> Iterator[Doubt]:
    """The plate on file against the plate as read out on the roof."""
    plate = scene.machine.plate
    read_out = replace(plate, filed=Nameplate())
    for reading in plate.rated:
        try:
            filed, said = _plate_value(plate, reading), _plate_value(read_out, reading)
        except ValueError:
            continue
        if filed is not None and said is not None and abs(filed - said) > 1e-6 * abs(filed):
            detail = (
                f"{name_reading(reading)} was read from the plate, and the plate on file says {plain(filed)}"
            )
            yield detail, (reading.id,)


def _plate_value(plate: Plate, reading: Reading) -> float | None:
    found: Rated | None = None
    if reading.point == "voltage":
        volts = plate.volts()
        return volts[0] if volts else None
    if reading.point == "current":
        found = plate.amps(reading.component, reading.number)
    elif reading.point == "manifold-pressure":
        found = plate.manifold(reading.stage)
    elif reading.point == "gas-input":
        found = plate.gas_input()
    elif reading.point == "refrigerant-charge":
        found = plate.charge(reading.circuit)
    return found.value if found else None
