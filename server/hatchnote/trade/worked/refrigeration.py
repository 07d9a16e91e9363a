"""Superheat, subcooling, ratio and condensing temperature per circuit; charge and evacuation."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.domain import Computed
from hatchnote.errors import BadInput
from hatchnote.trade import refrigerants as sat
from hatchnote.trade.amounts import MICRON, POUND, number
from hatchnote.trade.formulas.refrigeration import charge_share, vacuum_rise
from hatchnote.trade.machine import Chosen, Machine, Want
from hatchnote.trade.worked.sheet import Worked, amount, as_said, put_down, shown, source_of, title, unknown

PRESSURES = ("suction-pressure", "discharge-pressure", "liquid-pressure")
LINES = ("suction-line-temperature", "liquid-line-temperature", "superheat", "subcooling")


def work(machine: Machine) -> Iterator[Computed]:
    for circuit in machine.circuits([*PRESSURES, *LINES]):
        yield from _superheat(machine, circuit)
        yield from _subcooling(machine, circuit)
        yield from _ratio(machine, circuit)
        yield from _over_ambient(machine, circuit)
    for circuit in machine.circuits(["refrigerant-charge"]):
        yield from _charge(machine, circuit)
    for circuit in machine.circuits(["vacuum"]):
        yield from _vacuum(machine, circuit)


def _where(circuit: str | None) -> str | None:
    return f"circuit {circuit}" if circuit else None


def _want(point: str, circuit: str | None) -> Want:
    return Want(point, circuit=circuit, same_circuit=True)


def _superheat(machine: Machine, circuit: str | None) -> Iterator[Computed]:
    wants = {"p": _want("suction-pressure", circuit), "t": _want("suction-line-temperature", circuit)}
    yield from _against_saturation(machine, circuit, "superheat", wants)


def _subcooling(machine: Machine, circuit: str | None) -> Iterator[Computed]:
    pressure = (
        "liquid-pressure" if machine.measured(_want("liquid-pressure", circuit)) else "discharge-pressure"
    )
    wants = {"p": _want(pressure, circuit), "t": _want("liquid-line-temperature", circuit)}
    yield from _against_saturation(machine, circuit, "subcooling", wants)


def _against_saturation(
    machine: Machine, circuit: str | None, kind: str, wants: dict[str, Want]
) -> Iterator[Computed]:
    """Superheat or subcooling from the readings; what he said himself counts where they do not give it."""
    chosen = machine.choose(wants)
    said = machine.choose({"said": _want(kind, circuit)})
    if chosen.whole and machine.refrigerant:
        yield _saturated(machine, circuit, kind, chosen, machine.refrigerant)
        if said.whole and said.moment not in (None, chosen.moment):
            yield from as_said(machine, kind, _want(kind, circuit), _where(circuit))
    elif said.readings or said.conflict:
        yield from as_said(machine, kind, _want(kind, circuit), _where(circuit))
    elif chosen.conflict or _asks_for(machine, circuit, kind):
        source = (sat.superheat if kind == "superheat" else sat.subcooling).source
        whys = [] if chosen.whole else [chosen.why]
        if machine.refrigerant is None:
            whys.append(machine.refrigerant_problem or "missing: refrigerant")
        why = "; ".join(whys).replace("; missing:", " and")
        name = title(kind, _where(circuit), moment=chosen.moment)
        yield unknown(machine, kind, name, list(chosen.readings.values()), source, why)


def _asks_for(machine: Machine, circuit: str | None, kind: str) -> bool:
    """Whether the readings taken call for it: a head pressure alone does not ask for subcooling."""
    points = {r.point for r in machine.readings if r.circuit == circuit and r.basis == "measured"}
    if kind == "superheat":
        return bool(points & {"suction-pressure", "suction-line-temperature"})
    return bool(points & {"liquid-pressure", "liquid-line-temperature"}) or points >= {
        "suction-pressure",
        "discharge-pressure",
    }


def _saturated(
    machine: Machine, circuit: str | None, kind: str, chosen: Chosen, refrigerant: str
) -> Computed:
    formula = sat.superheat if kind == "superheat" else sat.subcooling
    name = title(kind, _where(circuit), moment=chosen.moment)
    pressure, line = chosen.readings["p"], chosen.readings["t"]

    def compute() -> Worked:
        phase: sat.Phase = "dew" if kind == "superheat" else "bubble"
        psia = sat.absolute_pressure(amount(pressure), machine.atmosphere)
        saturated = sat.saturation_temperature(refrigerant, psia, phase)
        side = pressure.point.removesuffix("-pressure")
        at = f"{phase} point of {refrigerant} at {shown(pressure)} {side}, {machine.altitude_words}"
        point = f"{saturated:.1f} °F ({at})"
        read = shown(line)
        text = f"{read} − {point}" if kind == "superheat" else f"{point} − {read}"
        return formula(refrigerant, amount(pressure), amount(line), machine.atmosphere), text

    return put_down(
        machine,
        kind,
        name,
        [pressure, line],
        formula.source,
        compute,
        plate=lambda: machine.plate.range_for(kind),
    )


def _ratio(machine: Machine, circuit: str | None) -> Iterator[Computed]:
    chosen = machine.choose(
        {"high": _want("discharge-pressure", circuit), "low": _want("suction-pressure", circuit)}
    )
    if not chosen.whole:
        return
    high, low = chosen.readings["high"], chosen.readings["low"]

    def compute() -> Worked:
        a = machine.atmosphere
        text = f"({shown(high)} + {a:.1f}) ÷ ({shown(low)} + {a:.1f}), absolute, {machine.altitude_words}"
        return sat.compression_ratio(amount(high), amount(low), a), text

    name = title("compression-ratio", _where(circuit), moment=chosen.moment)
    yield put_down(machine, "compression-ratio", name, [high, low], sat.compression_ratio.source, compute)


def _over_ambient(machine: Machine, circuit: str | None) -> Iterator[Computed]:
    chosen = machine.choose(
        {"high": _want("discharge-pressure", circuit), "out": Want("outdoor-air-temperature", steady=True)}
    )
    refrigerant = machine.refrigerant
    if not chosen.whole or refrigerant is None:
        return
    high, outdoor = chosen.readings["high"], chosen.readings["out"]

    def compute() -> Worked:
        value = sat.condensing_over_ambient(refrigerant, amount(high), amount(outdoor), machine.atmosphere)
        psia = sat.absolute_pressure(amount(high), machine.atmosphere)
        bubble = sat.saturation_temperature(refrigerant, psia, "bubble")
        at = f"(bubble point of {refrigerant} at {shown(high)}, {machine.altitude_words})"
        return value, f"{bubble:.1f} °F {at} − {shown(outdoor)} outdoors"

    name = title("condensing-over-ambient", _where(circuit), moment=chosen.moment)
    source = sat.condensing_over_ambient.source
    yield put_down(machine, "condensing-over-ambient", name, [high, outdoor], source, compute)


def _charge(machine: Machine, circuit: str | None) -> Iterator[Computed]:
    """Net refrigerant added over the full charge: what a leak rate is made from."""
    added = machine.measured(
        Want("refrigerant-charge", circuit=circuit, same_circuit=True, positions=("added",))
    )
    taken = machine.measured(
        Want("refrigerant-charge", circuit=circuit, same_circuit=True, positions=("recovered",))
    )
    if not added:
        return
    name = title("charge-share", _where(circuit))
    inputs = [*added, *taken]

    def compute() -> Worked:
        full = machine.plate.charge(circuit)
        if full is None:
            raise BadInput("missing: the full charge from the plate")
        inputs.extend([full.reading] if full.reading else [])
        put_in = sum(number(amount(r), POUND) for r in added)
        out = sum(number(amount(r), POUND) for r in taken)
        text = f"100 × ({put_in:.2f} lb added − {out:.2f} lb recovered) ÷ {full.value:.2f} lb ({full.source})"
        return charge_share(put_in, out, full.value), text

    yield put_down(machine, "charge-share", name, inputs, charge_share.source, compute)


def _vacuum(machine: Machine, circuit: str | None) -> Iterator[Computed]:
    """The last vacuum read, and the rise where two were read in order with the pump valved off."""
    read = machine.measured(Want("vacuum", circuit=circuit, same_circuit=True))
    if not read:
        return
    last = read[-1]
    yield put_down(
        machine,
        "vacuum",
        title("vacuum", _where(circuit)),
        [last],
        "as read",
        lambda: (number(amount(last), MICRON), f"{shown(last)}, the last one read"),
    )
    if len(read) == 2:
        first = read[0]

        def rise() -> Worked:
            value = vacuum_rise(amount(first), amount(last))
            return value, f"{shown(last)} − {shown(first)}, in the order they were said"

        name = title("vacuum-rise", _where(circuit))
        yield put_down(machine, "vacuum-rise", name, [first, last], source_of(vacuum_rise), rise)
