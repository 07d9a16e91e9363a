"""Facts built by hand, for tests of the judgement alone."""

from hatchnote.domain import Check, Facts, Finding, Part, Reading, Span, WorkItem

SPAN = Span(0, 1)
SHOWN = {
    "[degF]": "°F",
    "[psi]": "psig",
    "[in_i'H2O]": "in. w.c.",
    "[ppm]": "ppm",
    "/min": "rpm",
    "[in_i]": "in.",
    "[lb_av]": "lb",
    "um[Hg]": "microns",
    "[Btu_IT]/h": "Btu/h",
}
UCUM = {
    "suction-pressure": "[psi]",
    "discharge-pressure": "[psi]",
    "liquid-pressure": "[psi]",
    "suction-line-temperature": "[degF]",
    "liquid-line-temperature": "[degF]",
    "return-air-temperature": "[degF]",
    "supply-air-temperature": "[degF]",
    "mixed-air-temperature": "[degF]",
    "outdoor-air-temperature": "[degF]",
    "superheat": "[degF]",
    "subcooling": "[degF]",
    "temperature-rise": "[degF]",
    "voltage": "V",
    "control-voltage": "V",
    "current": "A",
    "resistance": "Ohm",
    "insulation-resistance": "MOhm",
    "capacitance": "uF",
    "flame-signal": "uA",
    "manifold-pressure": "[in_i'H2O]",
    "inlet-gas-pressure": "[in_i'H2O]",
    "static-pressure": "[in_i'H2O]",
    "draft": "[in_i'H2O]",
    "co": "[ppm]",
    "oxygen": "%",
    "humidity": "%",
    "gas-input": "[Btu_IT]/h",
    "refrigerant-charge": "[lb_av]",
    "vacuum": "um[Hg]",
    "belt-deflection": "[in_i]",
    "pulley-diameter": "[in_i]",
    "speed": "/min",
}


def reading(point, value=None, *, id=None, check=None, ucum=None, tag="RTU-1", **more):
    code = ucum or UCUM.get(point)
    return Reading(
        id=id or f"{point}-{value}-{'-'.join(str(v) for v in more.values())}",
        point=point,
        heard=SPAN,
        said="",
        value=value,
        ucum=code,
        unit=SHOWN.get(code, code),
        tag=tag,
        difference=point in ("superheat", "subcooling", "temperature-rise", "temperature-drop"),
        check=Check(check) if check else None,
        **more,
    )


def work(verb, component=None, state="done", *, tag="RTU-1", **more):
    return WorkItem(f"w-{verb}-{component}", verb, state, SPAN, component, tag=tag, **more)


def finding(component, condition, *, tag="RTU-1", **more):
    return Finding(f"f-{component}-{condition}", component, condition, SPAN, tag=tag, **more)


def part(component, use="installed", *, tag="RTU-1", **more):
    return Part(f"p-{component}", component, use, SPAN, tag=tag, **more)


def facts(*items, refrigerant=None, tag="RTU-1"):
    return Facts(
        readings=tuple(i for i in items if isinstance(i, Reading)),
        work=tuple(i for i in items if isinstance(i, WorkItem)),
        parts=tuple(i for i in items if isinstance(i, Part)),
        findings=tuple(i for i in items if isinstance(i, Finding)),
        refrigerants=((tag, refrigerant),) if refrigerant else (),
    )


def named(assessment, name):
    """The computed value of that name, or None."""
    found = [c for c in assessment.computed if c.name == name]
    assert len(found) <= 1, f"{name} was worked out more than once"
    return found[0] if found else None


def caution_kinds(assessment):
    """Ids of cautions without the machine: {"C01", "C05"}."""
    return {c.id.split("-")[0] for c in assessment.cautions if c.kind == "caution"}


def hint_texts(assessment):
    return [c.text for c in assessment.cautions if c.kind == "hint"]


def missing_things(assessment):
    return [m.what for m in assessment.missing]
