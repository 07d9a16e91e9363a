"""The same figures however they are written, checked against a public library that spells numbers out."""

import pytest
from num2words import num2words

from hatchnote.speech.figures import figures


@pytest.mark.parametrize(
    "value", [0, 7, 10, 19, 20, 45, 99, 100, 105, 110, 118, 400, 999, 1000, 1005, 1050, 2300, 20500]
)
def test_a_number_spelled_out_has_the_figures_of_the_written_one(value):
    assert figures(num2words(value)) == str(value)


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("two forty", "240"), ("one oh nine", "109"), ("twenty oh five", "2005"), ("two point eight", "2.8"),
        ("three and three quarters", "3 3/4"), ("six and a half", "6.5"), ("three eighths", "3/8"),
        ("one and three sixteenths", "1 3/16"), ("L one L two", "L1, L2"), ("ten fifty", "1050"),
    ],
)  # fmt: skip
def test_figures_said_in_the_trades_manner(said, written):
    assert figures(said) == figures(written) != ""


def test_figures_that_differ_stay_different():
    assert figures("forty seven") != figures("40, 7")
    assert figures("one fifteen") != figures("one fifty")
    assert figures("no number here") == ""
