"""Readings that are compared as they were read: every limit with a `point` in limits.toml."""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.domain import Computed, Reading
from hatchnote.trade.amounts import Unit, number
from hatchnote.trade.formulas.electrical import insulation_floor
from hatchnote.trade.limits import Limit, limits, plain
from hatchnote.trade.machine import Machine, words
from hatchnote.trade.worked.sheet import Worked, amount, put_down, shown, title, unknown


def work(machine: Machine) -> Iterator[Computed]:
    for limit in limits().by_kind.values():
        if limit.point and limit.point != "vacuum":
            yield from _as_read(machine, limit)


def _as_read(machine: Machine, limit: Limit) -> Iterator[Computed]:
    groups: dict[tuple[str | None, ...], list[Reading]] = {}
    for r in machine.readings:
        if r.point != limit.point or r.basis != "measured" or r.value is None:
            continue
        if any((getattr(r, key) or "") not in allowed for key, allowed in limit.where.items()):
            continue
        groups.setdefault((r.component, r.number, r.stage, r.circuit, r.position), []).append(r)
    for (component, number_, stage, circuit, position), group in groups.items():
        marked = [r for r in group if r.moment == "as-left"]
        bare = [r for r in group if r.moment is None]
        read = marked or bare or group
        place = (
            f"{words(component)} {number_}"
            if component and number_
            else (words(component) if component and len(groups) > 1 else None)
        )
        name = title(
            limit.kind,
            place,
            f"{stage} fire" if stage else None,
            f"circuit {circuit}" if circuit else None,
            position if position and limit.point == "co" and len(groups) > 1 else None,
            moment=read[0].moment,
        )
        values = sorted({r.value for r in read if r.value is not None})
        if len(values) > 1:
            listed = " and ".join(plain(v) for v in values)
            why = f"several readings of {words(limit.point or '')} differ: {listed}"
            yield unknown(machine, limit.kind, name, read, "as read", why)
            continue
        yield _one(machine, limit, name, read[0], stage)


def _one(machine: Machine, limit: Limit, name: str, reading: Reading, stage: str | None) -> Computed:
    def compute() -> Worked:
        text = f"{shown(reading)} as read"
        if limit.kind == "insulation-resistance" and reading.component != "compressor":
            plate = machine.plate.volts()
            if plate:
                floor = insulation_floor(plate[1])
                text += f"; floor for older windings {floor:.2f} Mohm at {plate[1]:g} V (kV + 1, IEEE 43)"
        return number(amount(reading), Unit(limit.ucum, limit.difference)), text

    winding = "hermetic" if reading.component == "compressor" else "motor"
    context = {"gas": machine.plate.filed.gas, "stage": stage or "single", "winding": winding}
    return put_down(
        machine,
        limit.kind,
        name,
        [reading],
        "as read",
        compute,
        plate=lambda: machine.plate.range_for(limit.kind, stage=stage),
        context=context,
    )
