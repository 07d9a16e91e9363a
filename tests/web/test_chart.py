"""The plot: round ticks that enclose the values, every dot at its place, all text escaped."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchnote.web.chart import Dot, nice_ticks, plot


def test_ticks_are_round():
    assert nice_ticks(31, 44) == [30, 35, 40, 45]
    assert nice_ticks(0.11, 0.52) == pytest.approx([0, 0.2, 0.4, 0.6])


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_ticks_enclose_any_two_values(a, b):
    low, high = min(a, b), max(a, b)
    ticks = nice_ticks(low, high)
    assert ticks[0] <= low + 1e-6 and ticks[-1] >= high - 1e-6 and 2 <= len(ticks) <= 8


def test_a_falling_capacitor_falls_on_the_plot():
    dots = [Dot(f"202{n}-06-01", 40.0 - n, "as found", n == 3, "t") for n in range(4)]
    svg = ElementTree.fromstring(str(plot("capacitance <b>", "µF", dots, {"rated": 40.0})))
    circles = svg.findall("circle")
    heights = [float(c.get("cy")) for c in circles]
    places = [float(c.get("cx")) for c in circles]
    assert heights == sorted(heights) and places == sorted(places) and len(circles) == 4
    assert circles[3].get("class") == "dot marked" and "to be checked" in circles[3].find("title").text
    assert "capacitance <b>: 4 readings" in svg.get("aria-label")
    assert any(t.text == "rated 40" for t in svg.findall("text"))
    assert not re.search(r"style=", str(plot("x", "A", dots)))


def test_no_readings_no_plot_and_one_reading_one_dot():
    assert plot("x", "A", []) == ""
    assert str(plot("x", "A", [Dot("2026-01-01", 5.0, "", False, "t")])).count("<circle") == 1
