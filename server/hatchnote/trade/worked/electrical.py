"""Unbalance, supply volts and amps against the plate, capacitors, windings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchnote.domain import Computed, Moment, Reading
from hatchnote.trade.amounts import AMP, VOLT, Formula, number
from hatchnote.trade.formulas.electrical import (
    capacitor_deviation,
    current_unbalance,
    load_share,
    voltage_high,
    voltage_low,
    voltage_unbalance,
    winding_mismatch,
)
from hatchnote.trade.limits import Range, plain
from hatchnote.trade.machine import Machine, words
from hatchnote.trade.nameplates import Plate, Rated
from hatchnote.trade.worked.sheet import Worked, amount, put_down, shown, title, unknown

PAIRS = ("L1-L2", "L2-L3", "L1-L3")
LEGS = ("L1", "L2", "L3")
MOTORS = ("compressor", "supply-fan-motor", "condenser-fan-motor", "inducer-motor")
Key = tuple[str | None, ...]


def work(machine: Machine) -> Iterator[Computed]:
    for (component, number_), group in _groups(machine, "voltage").items():
        yield from _volts(machine, component, number_, group)
    for (component, number_), group in _groups(machine, "current").items():
        yield from _amps(machine, component, number_, group)
    yield from _capacitors(machine)
    yield from _windings(machine)


def _groups(machine: Machine, point: str) -> dict[tuple[str | None, str | None], list[Reading]]:
    out: dict[tuple[str | None, str | None], list[Reading]] = {}
    for r in machine.readings:
        if r.point == point and r.basis == "measured" and r.value is not None:
            number_ = r.number or (r.circuit if r.component == "compressor" else None)
            out.setdefault((r.component, number_), []).append(r)
    return out


def _latest(group: Sequence[Reading]) -> tuple[list[Reading], Moment | None]:
    """As left where there is any, else unmarked, else as found."""
    for moment in ("as-left", None, "as-found"):
        found = [r for r in group if r.moment == moment]
        if found:
            return found, moment
    return [], None


def _of_three(group: Sequence[Reading], names: Sequence[str]) -> list[Reading] | None:
    """Three legs of one moment: named ones, or exactly three unnamed ones in the order they were said."""
    named = {("L1-L3" if r.legs == "L3-L1" else r.legs): r for r in group if r.legs}
    if all(n in named for n in names):
        return [named[n] for n in names]
    bare = [r for r in group if r.legs is None]
    return bare if len(bare) == 3 and not named else None


def _place(component: str | None, number_: str | None) -> str | None:
    if component is None:
        return None
    return f"{words(component)} {number_}" if number_ else words(component)


def _unbalance(
    machine: Machine,
    kind: str,
    formula: Formula,
    legs: Sequence[Reading],
    place: str | None,
    moment: Moment | None,
) -> Computed:
    def compute() -> Worked:
        value = formula([amount(r) for r in legs])
        numbers = [r.value or 0.0 for r in legs]
        mean = sum(numbers) / 3
        worst = max(abs(x - mean) for x in numbers)
        listed = ", ".join(plain(x) for x in numbers)
        unit = legs[0].unit or legs[0].ucum
        return value, f"100 × {worst:.2f} ÷ {mean:.2f} (legs {listed} {unit}; mean {mean:.2f})"

    return put_down(machine, kind, title(kind, place, moment=moment), legs, formula.source, compute)


def _volts(
    machine: Machine, component: str | None, number_: str | None, group: list[Reading]
) -> Iterator[Computed]:
    """Supply volts only: volts across a coil or a switch are not a supply."""
    if component not in (
        None,
        "disconnect",
        "contactor",
        "compressor",
        "supply-fan-motor",
        "fuse",
        "variable-frequency-drive",
    ):
        return
    line = [r for r in group if r.legs in (*PAIRS, "L3-L1", None) and r.position != "ground"]
    read, moment = _latest(line)
    if not read:
        return
    place = _place(component, number_)
    three = _of_three(read, PAIRS)
    if three:
        yield _unbalance(machine, "voltage-unbalance", voltage_unbalance, three, place, moment)
        read = three
    yield from _against_plate_volts(machine, read, place, moment, one_value=bool(three) or len(read) == 1)


def _against_plate_volts(
    machine: Machine, read: list[Reading], place: str | None, moment: Moment | None, *, one_value: bool
) -> Iterator[Computed]:
    kind = "supply-voltage"
    name = title(kind, place, moment=moment)
    source = voltage_low.source
    values = sorted({r.value for r in read if r.value is not None})
    if not one_value and len(values) > 1:
        listed = " and ".join(plain(v) for v in values)
        yield unknown(machine, kind, name, read, source, f"several readings of voltage differ: {listed}")
        return
    inputs: list[Reading | None] = list(read)
    try:
        plate = machine.plate.volts()
    except ValueError as reason:
        yield unknown(machine, kind, name, inputs, source, str(reason))
        return
    if plate is None:
        yield unknown(machine, kind, name, inputs, source, "missing: the volts on the plate")
        return
    low, high, rated = plate
    inputs.append(rated.reading)

    def compute() -> Worked:
        volts = [number(amount(r), VOLT) for r in read]
        mean = sum(volts) / len(volts)
        listed = ", ".join(plain(v) for v in volts)
        return mean, f"mean of {listed} V" if len(volts) > 1 else f"{listed} V as read"

    least, most = voltage_low(low), voltage_high(high)
    printed = f"{low:g} V" if low == high else f"{low:g}/{high:g} V"
    window = Range(least, most, source, f"10 % about {printed} ({rated.source})")
    yield put_down(machine, kind, name, inputs, source, compute, plate=lambda: window)


def _amps(
    machine: Machine, component: str | None, number_: str | None, group: list[Reading]
) -> Iterator[Computed]:
    read, moment = _latest(group)
    place = _place(component, number_)
    three = _of_three(read, LEGS)
    if three:
        yield _unbalance(machine, "current-unbalance", current_unbalance, three, place, moment)
        read = three
    if component not in MOTORS:
        return
    kind = "load-share"
    name = title(kind, place, moment=moment)
    values = sorted({r.value for r in read if r.value is not None})
    if not three and len(values) > 1 and any(r.legs is None for r in read):
        listed = " and ".join(plain(v) for v in values)
        yield unknown(
            machine, kind, name, read, load_share.source, f"several readings of current differ: {listed}"
        )
        return
    inputs: list[Reading | None] = list(read)
    try:
        rated = machine.plate.amps(component, number_)
    except ValueError as reason:
        yield unknown(machine, kind, name, inputs, load_share.source, str(reason))
        return
    if rated is None:
        yield unknown(
            machine,
            kind,
            name,
            inputs,
            load_share.source,
            f"missing: the amps on the {words(component)}'s plate",
        )
        return
    inputs.append(rated.reading)

    def compute() -> Worked:
        worst = max(read, key=lambda r: number(amount(r), AMP))
        leg = f" on {worst.legs}" if worst.legs else (" on the highest leg" if len(read) > 1 else "")
        value = load_share(amount(worst), rated.value)
        return value, f"100 × {shown(worst)}{leg} ÷ {rated.value:g} A ({rated.source})"

    yield put_down(machine, kind, name, inputs, load_share.source, compute)


def _capacitors(machine: Machine) -> Iterator[Computed]:
    measured = [
        r
        for r in machine.readings
        if r.point == "capacitance" and r.basis == "measured" and r.value is not None
    ]
    groups: dict[Key, list[Reading]] = {}
    for r in measured:
        groups.setdefault((r.component, r.number, r.position), []).append(r)
    for (component, number_, position), group in groups.items():
        read, moment = _latest(group)
        kind = "capacitor-deviation"
        section = f"{position} section" if position else None
        name = title(kind, _place(component, number_) if number_ else None, section, moment=moment)
        rated, why = _rated_section(machine.plate, position, len(groups))
        values = sorted({r.value for r in read if r.value is not None})
        if len(values) > 1:
            listed = " and ".join(plain(v) for v in values)
            why = f"several readings of capacitance differ: {listed}"
        if rated is None or len(values) > 1:
            yield unknown(machine, kind, name, read, capacitor_deviation.source, why)
            continue
        yield _capacitor(machine, name, read[0], rated)


def _capacitor(machine: Machine, name: str, reading: Reading, rated: Rated) -> Computed:
    def compute() -> Worked:
        text = f"100 × ({shown(reading)} − {rated.value:g} uF) ÷ {rated.value:g} uF ({rated.source})"
        return capacitor_deviation(amount(reading), rated.value), text

    return put_down(
        machine,
        "capacitor-deviation",
        name,
        [reading, rated.reading],
        capacitor_deviation.source,
        compute,
        plate=lambda: machine.plate.range_for("capacitor-deviation"),
    )


def _rated_section(plate: Plate, position: str | None, sections: int) -> tuple[Rated | None, str]:
    """The rated value a measured section belongs to: the large one is the compressor's, the small one the fan's."""
    rated = plate.capacitors()
    marked = [r for r in rated if r.reading and r.reading.position and r.reading.position == position]
    if len(marked) == 1:
        return marked[0], ""
    if not rated:
        return None, "missing: the rated microfarads from the case"
    if len(rated) == 1 and sections == 1:
        return rated[0], ""
    if len(rated) == 2 and position in ("compressor", "herm", "hermetic"):
        return rated[0], ""
    if len(rated) == 2 and position == "fan":
        return rated[1], ""
    return None, "missing: which section of the capacitor this is"


def _windings(machine: Machine) -> Iterator[Computed]:
    """Single-phase compressor: C to R and C to S in series are R to S."""
    groups: dict[Key, dict[str, Reading]] = {}
    for r in machine.readings:
        if r.point == "resistance" and r.component == "compressor" and r.value is not None and r.legs:
            pair = "-".join(sorted(r.legs.upper().split("-")))
            groups.setdefault((r.number, r.moment), {})[pair] = r
    for (number_, _), legs in groups.items():
        if not {"C-R", "C-S", "R-S"} <= set(legs):
            continue
        cr, cs, rs = legs["C-R"], legs["C-S"], legs["R-S"]

        def compute(cr: Reading = cr, cs: Reading = cs, rs: Reading = rs) -> Worked:
            value = winding_mismatch(amount(cr), amount(cs), amount(rs))
            whole = f"({plain(cr.value)} + {plain(cs.value)})"
            return value, f"100 × ({shown(rs)} − {whole}) ÷ {whole}"

        name = title("winding-mismatch", _place("compressor", number_))
        yield put_down(machine, "winding-mismatch", name, [cr, cs, rs], winding_mismatch.source, compute)
