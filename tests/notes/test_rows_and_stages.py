"""Names in a row with their values behind, and firing stages as headings, in pairs and by "low" and "high" alone.

Sentences of its own; the manners of speaking are common practice of the trade, no source.
"""

import pytest
from tests.notes.short import readings_of

ROWS = {
    "Return, supply, outside: seventy three, fifty five, ninety.": [
        "outdoor-air-temperature 90 °F",
        "return-air-temperature 73 °F",
        "supply-air-temperature 55 °F",
    ],
    "On circuit two suction, head and superheat were one twelve, three ten and thirteen.": [
        "discharge-pressure 310 psig circuit-2",
        "suction-pressure 112 psig circuit-2",
        "superheat 13 °F circuit-2",
    ],
    "Oxygen, C O and stack, six eight, thirty one, three seventy.": [
        "co 31 ppm flue",
        "oxygen 6.8 % flue",
        "stack-temperature 370 °F",
    ],
    "Low fire. Manifold one point seven. Rise thirty. High fire. Manifold three and a half. Rise fifty one.": [
        "manifold-pressure 1.7 in. w.c. low",
        "manifold-pressure 3.5 in. w.c. high",
        "temperature-rise 30 °F low",
        "temperature-rise 51 °F high",
    ],
    "Second stage numbers. Manifold three point four. Then first stage. Manifold one point six.": [
        "manifold-pressure 1.6 in. w.c. low",
        "manifold-pressure 3.4 in. w.c. high",
    ],
    "Manifold low and high, found one nine and three one, left one seven and three five.": [
        "manifold-pressure 1.7 in. w.c. low as-left",
        "manifold-pressure 1.9 in. w.c. low as-found",
        "manifold-pressure 3.1 in. w.c. high as-found",
        "manifold-pressure 3.5 in. w.c. high as-left",
    ],
    "On low the flame signal is two point two, on high it's three point one.": [
        "flame-signal 2.2 uA low",
        "flame-signal 3.1 uA high",
    ],
    "R T U one. High fire. Manifold three five. R T U two. Manifold three four.": [
        "RTU-1 manifold-pressure 3.5 in. w.c. high",
        "RTU-2 manifold-pressure 3.4 in. w.c.",
    ],
    "Low fire first, high fire second. Manifold one six and three four. Stack three ten, three ninety.": [
        "manifold-pressure 1.6 in. w.c. low",
        "manifold-pressure 3.4 in. w.c. high",
        "stack-temperature 310 °F low",
        "stack-temperature 390 °F high",
    ],
    "Low fire found two oh, left one seven. High fire found three nine, left three five.": [
        "manifold-pressure 1.7 in. w.c. low as-left",
        "manifold-pressure 2 in. w.c. low as-found",
        "manifold-pressure 3.5 in. w.c. high as-left",
        "manifold-pressure 3.9 in. w.c. high as-found",
    ],
    "Low: one seven manifold, thirty rise. High: three five manifold, fifty rise.": [
        "manifold-pressure 1.7 in. w.c. low",
        "manifold-pressure 3.5 in. w.c. high",
        "temperature-rise 30 °F low",
        "temperature-rise 50 °F high",
    ],
    "Rise came out fifty degrees on second stage, thirty two on first.": [
        "temperature-rise 32 °F low",
        "temperature-rise 50 °F high",
    ],
    "Low side seventy, high side two fifty.": ["discharge-pressure 250 psig", "suction-pressure 70 psig"],
}


@pytest.mark.parametrize("text", ROWS)
def test_readings(text):
    assert readings_of(text) == sorted(ROWS[text])
