"""Whatever the notes read, however odd: the judgement answers, and never firmly from a doubtful reading."""

import tomllib
from dataclasses import replace
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hatchnote.domain import Check, Facts, Finding, Nameplate, Part, Reading, Span, WorkItem
from hatchnote.trade import judge

VOCABULARY = Path(__file__).parents[2] / "models" / "vocabulary"


def slugs(name):
    return sorted(tomllib.loads((VOCABULARY / f"{name}.toml").read_text(encoding="utf-8")))


POINTS, COMPONENTS = slugs("points"), slugs("components")
RIGHT = {
    k: v.get("ucum")
    for k, v in tomllib.loads((VOCABULARY / "points.toml").read_text(encoding="utf-8")).items()
}
UNITS = [
    "[psi]",
    "[degF]",
    "Cel",
    "K",
    "V",
    "A",
    "Ohm",
    "kOhm",
    "MOhm",
    "uF",
    "[in_i'H2O]",
    "%",
    "[ppm]",
    "no-unit",
    None,
]
tags = st.sampled_from(["RTU-1", "RTU-1", "RTU-1", None])
moments = st.sampled_from([None, "as-found", "as-left"])
components = st.sampled_from([None, *COMPONENTS])
KIN = [
    [
        "suction-pressure",
        "discharge-pressure",
        "suction-line-temperature",
        "superheat",
        "outdoor-air-temperature",
    ],
    ["liquid-pressure", "liquid-line-temperature", "subcooling", "refrigerant-charge", "vacuum"],
    ["voltage", "current", "capacitance", "resistance", "insulation-resistance"],
    [
        "supply-air-temperature",
        "return-air-temperature",
        "mixed-air-temperature",
        "humidity",
        "temperature-rise",
    ],
    ["co", "oxygen", "gas-input", "draft", "manifold-pressure"],
    ["pulley-diameter", "belt-deflection", "belt-size", "speed", "static-pressure"],
    POINTS,
]
"""Points that are worked out together: drawn together, so that odd values meet."""


def mostly_right(readings):
    """Every third keeps the unit that was drawn; the others get the one of their point."""
    return [r if n % 3 == 2 else replace(r, ucum=RIGHT[r.point] or r.ucum) for n, r in enumerate(readings)]


def readings_of(points):
    return st.lists(reading_of(st.sampled_from(points)), max_size=14)


def reading_of(point):
    return st.builds(
        Reading,
        id=st.uuids().map(str),
        point=point,
        heard=st.just(Span(0, 1)),
        said=st.just(""),
        value=st.one_of(
            st.none(), st.sampled_from([0.0, -1.0, 1.0, 118.0, 1e9, -1e9]), st.floats(-500, 5000)
        ),
        ucum=st.sampled_from(UNITS),
        text=st.sampled_from([None, "open", "BX42", "208-230", "nonsense"]),
        component=components,
        number=st.sampled_from([None, "1", "left"]),
        legs=st.sampled_from([None, "L1-L2", "L2-L3", "L1-L3", "L1", "L2", "L3", "C-R", "C-S", "R-S"]),
        stage=st.sampled_from([None, "low", "high"]),
        circuit=st.sampled_from([None, "1", "2"]),
        position=st.sampled_from(
            [None, "flue", "ambient", "supply", "return", "total", "wet-bulb", "added", "fan"]
        ),
        basis=st.sampled_from(["measured", "measured", "rated", "set"]),
        moment=moments,
        difference=st.booleans(),
        tag=tags,
        check=st.sampled_from([None, None, Check("unclear")]),
    )


works = st.builds(
    WorkItem,
    id=st.uuids().map(str),
    verb=st.sampled_from(slugs("verbs")),
    state=st.sampled_from(["done", "needed", "recommended", "declined", "not-done"]),
    heard=st.just(Span(0, 1)),
    component=components,
    tag=tags,
)
findings = st.builds(
    Finding,
    id=st.uuids().map(str),
    component=st.sampled_from(COMPONENTS),
    condition=st.sampled_from(slugs("conditions")),
    heard=st.just(Span(0, 1)),
    tag=tags,
)
parts = st.builds(
    Part,
    id=st.uuids().map(str),
    component=st.sampled_from(COMPONENTS),
    use=st.sampled_from(["installed", "to-order", "removed"]),
    heard=st.just(Span(0, 1)),
    size=st.sampled_from([None, "BX42", "16x25x2"]),
    tag=tags,
)
any_facts = st.builds(
    lambda r, w, f, p, g: Facts(tuple(r), tuple(w), tuple(p), tuple(f), refrigerants=tuple(g)),
    st.sampled_from(KIN).flatmap(readings_of).map(mostly_right),
    st.lists(works, max_size=5),
    st.lists(findings, max_size=5),
    st.lists(parts, max_size=3),
    st.lists(st.tuples(tags, st.sampled_from(["R-410A", "R-22", "R-999"])), max_size=2),
)
PLATE = Nameplate(
    volts="208/230", compressor_rla=(14.1, 14.1), fan_fla=5.0, rise_min=25, rise_max=55, gas="natural",
    output_btuh=160000, capacitor_uf=(45, 5), refrigerant="R-410A", charge_lb=(8, 9), belt="BX42",
)  # fmt: skip


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(any_facts, st.booleans())
def test_it_always_answers_and_never_firmly_from_doubt(facts, with_plate):
    a = judge(facts, {"RTU-1": PLATE} if with_plate else None)
    doubtful = {r.id for r in facts.readings if r.check} | {p.id for p in facts.parts if p.check}
    for c in a.computed:
        assert c.judgement in ("within", "outside", "unknown")
        if doubtful & set(c.inputs):
            assert c.judgement == "unknown"
            assert c.depends_on_check
    for items in (a.computed, a.cautions, a.missing):
        ids = [(i.tag, i.id) for i in items]
        assert len(ids) == len(set(ids))
