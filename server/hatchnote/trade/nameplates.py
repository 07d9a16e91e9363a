"""What a machine's plate says: the plate on file first, then what the technician read from it (basis "rated")."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from hatchnote.domain import Nameplate, Reading
from hatchnote.trade.amounts import AMP, BTUH, IN_WC, MICROFARAD, POUND, Q, Unit, number
from hatchnote.trade.limits import Range

ON_FILE = "nameplate on file"
READ_OUT = "plate as read by the technician"


@dataclass(frozen=True, slots=True)
class Rated:
    """A rated value, with where it came from and the reading it was read out in, if any."""

    value: float
    source: str
    reading: Reading | None = None


class Disagreement(ValueError):
    """The plate was given two values for the same thing; the message names both."""


def _one(found: Sequence[Rated], what: str, unit: str) -> Rated | None:
    values = sorted({round(r.value, 6) for r in found})
    if len(values) > 1:
        raise Disagreement(f"two values are given for {what}: {values[0]:g} and {values[1]:g} {unit}")
    return found[0] if found else None


@dataclass(frozen=True, slots=True)
class Plate:
    """A machine's plate. Methods give None where nothing is known and raise Disagreement where two values are."""

    filed: Nameplate
    rated: tuple[Reading, ...] = ()

    def _read(
        self, point: str, unit: Unit, components: Sequence[str | None] = (), number_: str | None = None
    ) -> list[Rated]:
        out = []
        for r in self.rated:
            if r.point != point or r.value is None:
                continue
            if components and r.component not in components:
                continue
            if r.number is not None and number_ is not None and r.number != number_:
                continue
            out.append(Rated(number(Q(r.value, r.ucum or unit.ucum), unit), READ_OUT, r))
        return out

    def volts(self) -> tuple[float, float, Rated] | None:
        """The lowest and the highest rated volts (208/230 has two) and where they came from."""
        if self.filed.volts:
            source, text, reading = ON_FILE, self.filed.volts, None
        else:
            said = [r for r in self.rated if r.point == "voltage" and (r.text or r.value is not None)]
            texts = {r.text or f"{r.value:g}" for r in said}
            if len(texts) > 1:
                raise Disagreement(
                    f"two values are given for the plate's volts: {' and '.join(sorted(texts))}"
                )
            if not said:
                return None
            source, text, reading = READ_OUT, texts.pop(), said[0]
        parts = [float(x) for x in re.findall(r"\d+(?:\.\d+)?", text)]
        parts = [x for x in parts if x >= 24]
        if not parts:
            return None
        return min(parts), max(parts), Rated(min(parts), source, reading)

    def amps(self, component: str | None, number_: str | None) -> Rated | None:
        """Rated-load or full-load A of a compressor or motor."""
        filed = self.filed
        if component == "compressor" and filed.compressor_rla:
            rla = filed.compressor_rla
            if number_ and number_.isdigit() and 0 < int(number_) <= len(rla):
                return Rated(rla[int(number_) - 1], ON_FILE)
            return _one([Rated(a, ON_FILE) for a in rla], "the compressor's rated-load amps", "A")
        if component == "supply-fan-motor" and filed.fan_fla is not None:
            return Rated(filed.fan_fla, ON_FILE)
        if component == "condenser-fan-motor" and filed.condenser_fan_fla is not None:
            return Rated(filed.condenser_fan_fla, ON_FILE)
        return _one(self._read("current", AMP, (component,), number_), "the plate's amps", "A")

    def capacitors(self) -> list[Rated]:
        """Rated µF, the largest first; the sections of a dual capacitor one by one."""
        if self.filed.capacitor_uf:
            return [Rated(c, ON_FILE) for c in sorted(self.filed.capacitor_uf, reverse=True)]
        found = self._read("capacitance", MICROFARAD)
        return sorted(found, key=lambda r: -r.value)

    def manifold(self, stage: str | None) -> Rated | None:
        """in. w.c. at full fire; None for low fire, which plates of this form do not give."""
        if stage == "low":
            return None
        if self.filed.manifold_inwc is not None:
            return Rated(self.filed.manifold_inwc, ON_FILE)
        found = [
            r
            for r in self._read("manifold-pressure", IN_WC)
            if r.reading and r.reading.stage in (stage, None)
        ]
        return _one(found, "the plate's manifold pressure", "in. w.c.")

    def gas_input(self) -> Rated | None:
        """Btu/h."""
        if self.filed.input_btuh is not None:
            return Rated(self.filed.input_btuh, ON_FILE)
        return _one(self._read("gas-input", BTUH), "the plate's input", "Btu/h")

    def output(self) -> Rated | None:
        """Btu/h."""
        return Rated(self.filed.output_btuh, ON_FILE) if self.filed.output_btuh is not None else None

    def switch_setting(self, number_: str | None) -> Rated | None:
        """in. w.c. at which the pressure switch closes, from its marking; the sign is dropped."""
        found = self._read("draft", IN_WC, (), number_)
        return _one(found, "the switch's setting", "in. w.c.")

    def charge(self, circuit: str | None) -> Rated | None:
        """Full charge of a circuit, lb."""
        filed = self.filed.charge_lb
        if filed:
            if circuit and circuit.isdigit() and 0 < int(circuit) <= len(filed):
                return Rated(filed[int(circuit) - 1], ON_FILE)
            return _one([Rated(c, ON_FILE) for c in filed], "the full charge", "lb")
        found = [
            r
            for r in self._read("refrigerant-charge", POUND)
            if r.reading and (r.reading.circuit is None or r.reading.circuit == circuit)
        ]
        return _one(found, "the full charge", "lb")

    def belt(self) -> tuple[str, Reading | None, str] | None:
        """The belt's number, the reading it was read out in, and where it came from."""
        if self.filed.belt:
            return self.filed.belt, None, ON_FILE
        said = [r for r in self.rated if r.point == "belt-size" and r.text]
        if len({r.text for r in said}) > 1:
            raise Disagreement("two values are given for the plate's belt")
        return (said[0].text or "", said[0], READ_OUT) if said else None

    def range_for(self, kind: str, *, stage: str | None = None) -> Range | None:
        """The plate's own range for a kind of value, which outranks every other."""
        filed = self.filed
        if kind == "temperature-rise" and (filed.rise_min is not None or filed.rise_max is not None):
            return Range(filed.rise_min, filed.rise_max, ON_FILE)
        if kind == "superheat" and filed.superheat_target is not None:
            return _around(filed.superheat_target, 5, f"{ON_FILE}, ±5 °F by California Title 24 RA3.2")
        if kind == "subcooling" and filed.subcooling_target is not None:
            return _around(filed.subcooling_target, 3, f"{ON_FILE}, ±3 °F by California Title 24 RA3.2")
        if kind == "manifold-pressure":
            rated = self.manifold(stage)
            return _around(rated.value, 0.3, f"{rated.source}, ±0.3 by common practice") if rated else None
        if kind == "inlet-gas-pressure" and (
            filed.inlet_min_inwc is not None or filed.inlet_max_inwc is not None
        ):
            return Range(filed.inlet_min_inwc, filed.inlet_max_inwc, ON_FILE)
        if kind == "external-static" and filed.max_static_inwc is not None:
            return Range(None, filed.max_static_inwc, ON_FILE)
        if kind == "capacitor-deviation" and filed.capacitor_tolerance_pct is not None:
            return Range(-filed.capacitor_tolerance_pct, filed.capacitor_tolerance_pct, ON_FILE)
        return None


def _around(target: float, band: float, source: str) -> Range:
    return Range(target - band, target + band, source)
