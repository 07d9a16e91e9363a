"""Sizes of pipe, tube, filters and belts as they are said: read as lengths, or left alone as designations.

Nominal pipe sizes: ASME B36.10M (the table's sizes from memory). Copper tube by outside diameter: ASTM B280 (from
memory). Filters by nominal size and belts by section and length (ANSI/RMA IP-20, IP-22): no quantities.
"""

import pytest

from hatchnote.notes import quantities
from hatchnote.notes.numbers import find_numbers
from hatchnote.notes.tokens import tokenize


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("half inch pipe", 0.5), ("three quarter inch pipe", 0.75), ("one inch pipe", 1),
        ("inch and a quarter pipe", 1.25), ("an inch and a half pipe", 1.5), ("one and a half inch pipe", 1.5),
        ("two and a half inch pipe", 2.5), ('1-1/4" pipe', 1.25), ('2½" pipe', 2.5), ("3/4 in. pipe", 0.75),
    ],
)  # fmt: skip
def test_nominal_pipe_sizes(said, inches):
    assert [(q.value, q.ucum) for q in quantities("run it in " + said)] == [(pytest.approx(inches), "[in_i]")]


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("quarter inch", 0.25), ("five sixteenths inch", 0.3125), ("three eighths inch", 0.375), ("half inch", 0.5),
        ("five eighths inch", 0.625), ("three quarter inch", 0.75), ("seven eighths inch", 0.875),
        ("one and an eighth inch", 1.125), ("inch and an eighth", 1.125), ("one and three eighths inch", 1.375),
        ("inch and five eighths", 1.625), ("two and an eighth inch", 2.125), ('7/8"', 0.875), ('1 1/8"', 1.125),
    ],
)  # fmt: skip
def test_copper_tube_by_outside_diameter(said, inches):
    assert [(q.value, q.ucum) for q in quantities(f"{said} copper line")] == [
        (pytest.approx(inches), "[in_i]")
    ]


@pytest.mark.parametrize(
    "size", [(16, 20, 2), (16, 25, 2), (18, 24, 2), (20, 20, 2), (20, 25, 4), (24, 24, 1), (12, 24, 2)]
)
def test_filters_are_sizes_and_no_quantities(size):
    for line in ("{}x{}x{}", "{} x {} x {}", "{} by {} by {}", "{}X{}X{}"):
        text = "four of the " + line.format(*size) + " pleated"
        numbers = find_numbers(tokenize(text))[1:]
        assert [n.value for n in numbers] == list(size)
        assert [n.link for n in numbers[1:]] == ["by", "by"]
        assert quantities(text) == []


@pytest.mark.parametrize(
    "belt", ["BX42", "A38", "B X forty two", "A thirty eight", "five V X seven ten", "5VX710", "3V450"]
)
def test_belts_are_designations_and_no_quantities(belt):
    assert quantities(f"put on a new {belt} and checked it") == []
    assert any(
        n.kind in ("designation", "index")
        for n in find_numbers(tokenize(f"put on a new {belt} and checked it"))
    )
