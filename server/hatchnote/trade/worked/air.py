"""External static, outdoor-air share, moisture of the return air."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.domain import Computed
from hatchnote.trade.formulas.air import external_static, outdoor_air_share
from hatchnote.trade.formulas.psychrometrics import relative_humidity, wet_bulb
from hatchnote.trade.formulas.refrigeration import target_superheat
from hatchnote.trade.machine import Machine, Want
from hatchnote.trade.worked.sheet import Worked, amount, as_said, put_down, shown, title, unknown


def work(machine: Machine) -> Iterator[Computed]:
    yield from _static(machine)
    yield from _outdoor_share(machine)
    yield from _moisture(machine)


def _static(machine: Machine) -> Iterator[Computed]:
    chosen = machine.choose(
        {
            "supply": Want("static-pressure", positions=("supply",)),
            "return": Want("static-pressure", positions=("return",)),
        }
    )
    if not chosen.whole:
        if chosen.conflict:
            name = title("external-static", moment=chosen.moment)
            yield unknown(machine, "external-static", name, [], external_static.source, chosen.conflict)
        else:
            yield from as_said(machine, "external-static", Want("static-pressure", positions=("total",)))
        return
    supply, back = chosen.readings["supply"], chosen.readings["return"]
    yield put_down(
        machine,
        "external-static",
        title("external-static", moment=chosen.moment),
        [supply, back],
        external_static.source,
        lambda: (external_static(amount(supply), amount(back)), f"{shown(supply)} − ({shown(back)})"),
        plate=lambda: machine.plate.range_for("external-static"),
    )


def _outdoor_share(machine: Machine) -> Iterator[Computed]:
    """From three dry bulbs; only where mixed air was measured, for nothing else asks for it."""
    wants = {
        "mixed": Want("mixed-air-temperature"),
        "return": Want("return-air-temperature"),
        "outdoor": Want("outdoor-air-temperature", steady=True),
    }
    if not machine.measured(wants["mixed"]):
        return
    chosen = machine.choose(wants)
    name = title("outdoor-air-share", moment=chosen.moment)
    inputs = list(chosen.readings.values())
    if not chosen.whole:
        yield unknown(machine, "outdoor-air-share", name, inputs, outdoor_air_share.source, chosen.why)
        return
    mixed, back, out = (chosen.readings[k] for k in ("mixed", "return", "outdoor"))

    def compute() -> Worked:
        text = f"100 × ({shown(back)} − {shown(mixed)}) ÷ ({shown(back)} − {shown(out)})"
        return outdoor_air_share(amount(back), amount(mixed), amount(out)), text

    yield put_down(machine, "outdoor-air-share", name, inputs, outdoor_air_share.source, compute)


def _moisture(machine: Machine) -> Iterator[Computed]:
    """Wet bulb from humidity, or humidity from wet bulb, of the return air; and a fixed orifice's target."""
    dry = Want("return-air-temperature")
    wet = machine.choose(
        {"dry": dry, "wet": Want("return-air-temperature", positions=("wet-bulb",), but_not=())}
    )
    damp = machine.choose({"dry": dry, "rh": Want("humidity", positions=("return",))})
    if wet.whole:
        a, b = wet.readings["dry"], wet.readings["wet"]
        text = f"{shown(a)} dry bulb, {shown(b)} wet bulb, {machine.altitude_words}"
        yield put_down(
            machine,
            "return-humidity",
            title("return-humidity", moment=wet.moment),
            [a, b],
            relative_humidity.source,
            lambda: (relative_humidity(amount(a), amount(b), machine.atmosphere), text),
        )
        yield from _target(machine)
    elif damp.whole:
        a, h = damp.readings["dry"], damp.readings["rh"]
        text = f"{shown(a)} dry bulb, {shown(h)} humidity, {machine.altitude_words}"
        yield put_down(
            machine,
            "return-wet-bulb",
            title("return-wet-bulb", moment=damp.moment),
            [a, h],
            wet_bulb.source,
            lambda: (wet_bulb(amount(a), amount(h), machine.atmosphere), text),
        )


def _target(machine: Machine) -> Iterator[Computed]:
    """Named for a fixed orifice only, and only beside refrigerant pressures."""
    if not machine.circuits(["suction-pressure"]):
        return
    chosen = machine.choose(
        {
            "wet": Want("return-air-temperature", positions=("wet-bulb",), but_not=()),
            "out": Want("outdoor-air-temperature", steady=True),
        }
    )
    if not chosen.whole:
        return
    wet, out = chosen.readings["wet"], chosen.readings["out"]
    text = f"(3 × {shown(wet)} wet bulb − 80 − {shown(out)} outdoors) ÷ 2"
    yield put_down(
        machine,
        "target-superheat",
        title("target-superheat", "if the metering device is a fixed orifice", moment=chosen.moment),
        [wet, out],
        target_superheat.source,
        lambda: (target_superheat(amount(wet), amount(out)), text),
    )
