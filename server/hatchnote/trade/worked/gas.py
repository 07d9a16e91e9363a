"""Temperature rise and airflow from it, firing rate, carbon monoxide, draft."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from hatchnote.domain import Computed, Reading
from hatchnote.trade.amounts import DEG_F, number
from hatchnote.trade.formulas.gas import (
    AIR_HEAT,
    co_air_free,
    draft_margin,
    input_share,
    rise_airflow,
    temperature_rise,
    temperature_split,
)
from hatchnote.trade.formulas.psychrometrics import density_ratio
from hatchnote.trade.machine import Chosen, Machine, Want
from hatchnote.trade.worked.sheet import Worked, amount, as_said, put_down, shown, source_of, title, unknown

FLUE = (None, "flue")
IDLE_F = 8.0
"""°F between supply and return, under which the machine may just be idling (common practice, no source)."""


def work(machine: Machine) -> Iterator[Computed]:
    yield from _rise_or_split(machine)
    yield from _input(machine)
    yield from _monoxide(machine)
    yield from _draft(machine)


def _air_pair(machine: Machine, stage: str | None) -> Chosen:
    return machine.choose(
        {
            "supply": Want("supply-air-temperature", stage=stage, same_stage=True),
            "return": Want("return-air-temperature"),
        }
    )


def _rise_or_split(machine: Machine) -> Iterator[Computed]:
    """Supply above return is heating, below it cooling. What he said himself counts where the pair is not whole."""
    made_any = False
    supplies = machine.measured(Want("supply-air-temperature"))
    for stage in dict.fromkeys(r.stage for r in supplies):
        chosen = _air_pair(machine, stage)
        fire = f"{stage} fire" if stage else None
        if not chosen.whole:
            if chosen.conflict or stage:
                name = title("temperature-rise" if stage else "temperature-split", fire, moment=chosen.moment)
                kind = "temperature-rise" if stage else "temperature-split"
                yield unknown(machine, kind, name, list(chosen.readings.values()), "definition", chosen.why)
            continue
        supply, back = chosen.readings["supply"], chosen.readings["return"]
        heating = number(amount(supply), DEG_F) > number(amount(back), DEG_F)
        apart = abs(number(amount(supply), DEG_F) - number(amount(back), DEG_F))
        if apart < IDLE_F and not machine.circuits(["suction-pressure", "manifold-pressure"]):
            name = title("temperature-split", fire, moment=chosen.moment)
            why = f"supply and return within {IDLE_F:g} °F, and nothing says that heating or cooling ran"
            yield unknown(machine, "temperature-split", name, [supply, back], "definition", why)
            made_any = True
            continue
        kind, formula = (
            ("temperature-rise", temperature_rise) if heating else ("temperature-split", temperature_split)
        )

        def compute(supply: Reading = supply, back: Reading = back, heating: bool = heating) -> Worked:
            pair = (shown(supply), shown(back)) if heating else (shown(back), shown(supply))
            formula = temperature_rise if heating else temperature_split
            return formula(amount(supply), amount(back)), f"{pair[0]} − {pair[1]}"

        made = put_down(
            machine,
            kind,
            title(kind, fire, moment=chosen.moment),
            [supply, back],
            formula.source,
            compute,
            plate=partial(machine.plate.range_for, kind),
        )
        yield made
        made_any = True
        if heating and stage != "low" and made.value:
            yield from _airflow(machine, made, [supply, back], fire, chosen)
    if not made_any:
        yield from _stated(machine)


def _stated(machine: Machine) -> Iterator[Computed]:
    for point, kind in (("temperature-rise", "temperature-rise"), ("temperature-drop", "temperature-split")):
        yield from as_said(machine, kind, Want(point))


def _airflow(
    machine: Machine, rise: Computed, inputs: list[Reading], fire: str | None, chosen: Chosen
) -> Iterator[Computed]:
    """cfm from the plate's output. Input alone is not enough: the efficiency is not known."""
    output = machine.plate.output()
    name = title("rise-airflow", fire, moment=chosen.moment)
    if output is None:
        if machine.plate.filed.input_btuh is not None:
            yield unknown(
                machine, "rise-airflow", name, inputs, rise_airflow.source, "missing: the output on the plate"
            )
        return
    altitude = machine.altitude_ft

    def compute() -> Worked:
        ratio = 1.0 if altitude is None else density_ratio(altitude)
        value = rise_airflow(output.value, rise.value or 0.0, ratio)
        factor = AIR_HEAT * ratio
        put_in = f"{output.value:.0f} Btu/h ({output.source}) ÷ ({factor:.3f} × {rise.value:g} °F)"
        return value, f"{put_in}, {machine.altitude_words}"

    yield put_down(machine, "rise-airflow", name, list(inputs), source_of(rise_airflow), compute)


def _input(machine: Machine) -> Iterator[Computed]:
    """The firing rate he gave against the plate."""
    chosen = machine.choose({"input": Want("gas-input")})
    if not chosen.readings and not chosen.conflict:
        return
    name = title("input-share", moment=chosen.moment)
    inputs: list[Reading | None] = list(chosen.readings.values())
    if not chosen.whole:
        yield unknown(machine, "input-share", name, inputs, input_share.source, chosen.why)
        return
    read = chosen.readings["input"]
    try:
        rated = machine.plate.gas_input()
    except ValueError as reason:
        yield unknown(machine, "input-share", name, inputs, input_share.source, str(reason))
        return
    if rated is None:
        yield unknown(
            machine, "input-share", name, inputs, input_share.source, "missing: the input on the plate"
        )
        return
    text = f"100 × {shown(read)} ÷ {rated.value:.0f} Btu/h ({rated.source})"
    yield put_down(
        machine,
        "input-share",
        name,
        [*inputs, rated.reading],
        input_share.source,
        lambda: (input_share(amount(read), rated.value), text),
    )


def _monoxide(machine: Machine) -> Iterator[Computed]:
    """CO in the flue, free of dilution; without oxygen it cannot be compared with anything."""
    flue = machine.measured(Want("co", positions=FLUE))
    for stage in dict.fromkeys(r.stage for r in flue):
        wants = {
            "co": Want("co", positions=FLUE, stage=stage, same_stage=True),
            "o2": Want("oxygen", positions=FLUE, stage=stage, same_stage=True),
        }
        chosen = machine.choose(wants)
        name = title("co-air-free", f"{stage} fire" if stage else None, moment=chosen.moment)
        inputs = list(chosen.readings.values())
        if not chosen.whole:
            yield unknown(machine, "co-air-free", name, inputs, co_air_free.source, chosen.why)
            continue
        co, oxygen = chosen.readings["co"], chosen.readings["o2"]

        def compute(co: Reading = co, oxygen: Reading = oxygen) -> Worked:
            value = co_air_free(amount(co), amount(oxygen))
            thin = "; above 15 % oxygen this means little" if (oxygen.value or 0) > 15 else ""
            return value, f"{shown(co)} × 20.9 ÷ (20.9 − {shown(oxygen)}){thin}"

        yield put_down(machine, "co-air-free", name, inputs, co_air_free.source, compute)


def _draft(machine: Machine) -> Iterator[Computed]:
    """Draft at the pressure switch over the setting marked on it."""
    chosen = machine.choose({"draft": Want("draft")})
    try:
        setting = machine.plate.switch_setting(None)
    except ValueError:
        return
    if not chosen.whole or setting is None:
        return
    read = chosen.readings["draft"]

    def compute() -> Worked:
        text = f"{shown(read)} − {setting.value:g} in. w.c. to close ({setting.source}), signs dropped"
        return draft_margin(amount(read), setting.value), text

    name = title("draft-margin", moment=chosen.moment)
    yield put_down(machine, "draft-margin", name, [read, setting.reading], draft_margin.source, compute)
