"""The belt against the plate, the blower's speed from the sheaves, deflection against the span."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.domain import Computed, Part, Reading
from hatchnote.trade.amounts import INCH, number
from hatchnote.trade.formulas.belts import (
    belt_centres,
    belt_datum_length,
    belt_deflection,
    belt_slip,
    belt_span,
    driven_speed,
)
from hatchnote.trade.machine import Machine, Want
from hatchnote.trade.worked.sheet import Worked, amount, identity, put_down, shown, source_of, title, unknown


def work(machine: Machine) -> Iterator[Computed]:
    yield from _size(machine)
    yield from _speed(machine)
    yield from _deflection(machine)


def _fitted(machine: Machine) -> tuple[str, Part | Reading] | None:
    """The belt on the machine now: the one fitted today, else the one read off it."""
    for part in machine.parts:
        if part.component == "supply-fan-belt" and part.use == "installed" and part.size:
            return part.size, part
    read = [r for r in machine.readings if r.point == "belt-size" and r.basis == "measured" and r.text]
    read.sort(key=lambda r: {"as-left": 0, None: 1, "as-found": 2}[r.moment])
    return (read[0].text or "", read[0]) if read else None


def _size(machine: Machine) -> Iterator[Computed]:
    """A designation, so value is None: within where it is the plate's, outside where it is another."""
    fitted = _fitted(machine)
    try:
        plate = machine.plate.belt()
    except ValueError:
        return
    if fitted is None or plate is None:
        return
    size, item = fitted
    called_for, reading, where = plate
    same = (
        size.replace("-", "").replace(" ", "").upper() == called_for.replace("-", "").replace(" ", "").upper()
    )
    ids = (item.id,) + ((reading.id,) if reading else ())
    doubtful = item.check is not None or (reading is not None and reading.check is not None)
    name = title("belt-size")
    yield Computed(
        identity(machine.tag, name),
        name,
        None,
        "",
        "1",
        ids,
        f"fitted {size}, plate {called_for} ({where})",
        "the machine's own plate",
        "unknown" if doubtful else ("within" if same else "outside"),
        called_for + ("; depends on a reading marked to check" if doubtful else ""),
        False,
        machine.tag,
        doubtful,
    )


def _sheaves(machine: Machine) -> tuple[Reading, Reading] | None:
    chosen = machine.choose(
        {
            "motor": Want("pulley-diameter", component=("motor-pulley",)),
            "driven": Want("pulley-diameter", component=("sheave", "supply-fan-wheel")),
        }
    )
    return (chosen.readings["motor"], chosen.readings["driven"]) if chosen.whole else None


def _speed(machine: Machine) -> Iterator[Computed]:
    sheaves = _sheaves(machine)
    rated = [r for r in machine.plate.rated if r.point == "speed" and r.value is not None]
    if sheaves is None or len({r.value for r in rated}) != 1:
        return
    motor, driven = sheaves
    speed = rated[0]
    text = f"{shown(speed)} × {shown(motor)} ÷ {shown(driven)}, diameters as measured, no slip"
    made = put_down(
        machine,
        "driven-speed",
        title("driven-speed"),
        [speed, motor, driven],
        driven_speed.source,
        lambda: (driven_speed(amount(speed), amount(motor), amount(driven)), text),
    )
    yield made
    read = machine.measured(Want("speed", component=("supply-fan-wheel", "sheave")))
    if made.value and len({r.value for r in read}) == 1:
        measured = read[-1]
        yield put_down(
            machine,
            "belt-slip",
            title("belt-slip"),
            [speed, motor, driven, measured],
            belt_slip.source,
            lambda: (
                belt_slip(made.value, amount(measured)),
                f"100 × ({made.value:g} rpm − {shown(measured)}) ÷ {made.value:g} rpm",
            ),
        )


def _deflection(machine: Machine) -> Iterator[Computed]:
    """What 1/64 in. an inch of span comes to. Never judged: the force it was pressed with is not known."""
    chosen = machine.choose({"read": Want("belt-deflection")})
    if not chosen.whole or not (_sheaves(machine) or _fitted(machine)):
        return
    read = chosen.readings["read"]
    name = title("belt-deflection", moment=chosen.moment)
    sheaves, fitted = _sheaves(machine), _fitted(machine)
    source = source_of(belt_deflection, belt_centres, belt_datum_length)
    lacking = [
        w for w, have in (("both sheave diameters", sheaves), ("the belt's number", fitted)) if have is None
    ]
    if sheaves is None or fitted is None:
        yield unknown(machine, "belt-deflection", name, [read], source, "missing: " + " and ".join(lacking))
        return
    motor, driven = sheaves

    def compute() -> Worked:
        length = belt_datum_length(fitted[0])
        small, large = sorted((number(amount(motor), INCH), number(amount(driven), INCH)))
        span = belt_span(belt_centres(length, large, small), large, small)
        text = (
            f"{span:.1f} in. of span ÷ 64, from {fitted[0]} over {shown(motor)} and {shown(driven)} sheaves; "
            f"{shown(read)} was read"
        )
        return belt_deflection(span), text

    yield put_down(machine, "belt-deflection", name, [read, motor, driven], source, compute)
