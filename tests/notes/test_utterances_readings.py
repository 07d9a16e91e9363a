"""Short utterances with readings: sentences written before the rules, what should come out after a first look."""

import pytest

from hatchnote.notes import read_notes

SAID = [
    ("Superheat and subcooling are twelve and nine.", {("superheat", 12.0), ("subcooling", 9.0)}),
    (
        "Suction and discharge are one twenty one and three forty.",
        {("suction-pressure", 121.0), ("discharge-pressure", 340.0)},
    ),
    (
        "Supply and return are fifty six and seventy four.",
        {("supply-air-temperature", 56.0), ("return-air-temperature", 74.0)},
    ),
    (
        "Inlet and manifold were six point eight and three and a half.",
        {("inlet-gas-pressure", 6.8), ("manifold-pressure", 3.5)},
    ),
    (
        "Supply and return were fifty six and seventy four.",
        {("supply-air-temperature", 56.0), ("return-air-temperature", 74.0)},
    ),
    (
        "Run cap is forty five five three seventy, measured forty one and four point eight.",
        {("capacitance", 45.0), ("capacitance", 5.0), ("capacitance", 41.0), ("capacitance", 4.8)},
    ),
    ("Moved the suction line sensor half an inch.", set()),
    ("Discharge air sensor sat half an inch off the coil.", set()),
    ("Belt deflection is half an inch.", {("belt-deflection", 0.5)}),
    ("Return static is half an inch.", {("static-pressure", 0.5)}),
]


@pytest.mark.parametrize(("said", "expected"), SAID)
def test_readings(said, expected):
    assert {(r.point, r.value) for r in read_notes(said).readings} == expected


def test_a_transformer_told_of_in_ohms_has_no_volts():
    readings = read_notes("Transformer ohms out at one point two.").readings
    assert [(r.point, r.value) for r in readings] == [("resistance", 1.2)]


def test_two_sections_run_together_are_two_ratings():
    readings = read_notes("Dual cap rated forty five five, reads forty four and four point nine.").readings
    assert [(r.value, r.basis) for r in readings] == [
        (45, "rated"),
        (5, "rated"),
        (44, "measured"),
        (4.9, "measured"),
    ]


def test_two_parts_of_one_point_take_their_values_in_order():
    readings = read_notes("Compressor amps and fan amps are eleven and two point one.").readings
    assert {(r.component, r.value) for r in readings} == {("compressor", 11.0), ("supply-fan-motor", 2.1)}
