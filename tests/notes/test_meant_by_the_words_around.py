"""What the words around a number make of it: the instrument, the terminals, what it ought to be, when it was read.

Sentences of its own; the manners of speaking are common practice of the trade, no source.
"""

import pytest
from tests.notes.short import all_of, readings_of

READINGS = {
    "Ohmed out compressor two, T one to T two one point one, T two to T three one point one.": [
        "compressor 2 resistance 1.1 ohm T1-T2",
        "compressor 2 resistance 1.1 ohm T2-T3",
    ],
    "Amped out the blower motor, six two, six four, six three.": [
        "supply-fan-motor current 6.2 A",
        "supply-fan-motor current 6.3 A",
        "supply-fan-motor current 6.4 A",
    ],
    "Meggered compressor one, forty megohms.": ["compressor 1 insulation-resistance 40 Mohm"],
    "R to C is twenty seven point one.": ["control-voltage 27.1 V"],
    "Ohming the compressor, R to C is two point two.": ["compressor resistance 2.2 ohm C-R"],
    "Y to C reads flat zero.": ["control-voltage 0 V"],
    "Zero volts at W one.": ["control-voltage 0 V"],
    "One rev of the two foot dial took fifty two seconds.": ["time 52 s"],
    "Suction one eighteen, head three thirty, it's a four ten system.": [
        "discharge-pressure 330 psig",
        "suction-pressure 118 psig",
    ],
    "Found the run capacitor at 31 microfarads, put in a new one and that reads 40.2.": [
        "run-capacitor capacitance 31 uF as-found",
        "run-capacitor capacitance 40.2 uF as-left",
    ],
    "Flame current two point one on low fire and two point nine on high.": [
        "flame-signal 2.1 uA low",
        "flame-signal 2.9 uA high",
    ],
    "Supply static .5 return static negative .41 so .91 total": [
        "static-pressure -0.41 in. w.c. return",
        "static-pressure 0.5 in. w.c. supply",
        "static-pressure 0.91 in. w.c. total",
    ],
    "Indoor wet bulb was sixty three.": ["return-air-temperature 63 °F wet-bulb"],
    "Target superheat for these conditions was fifteen and I'm at fourteen.": [
        "superheat 14 °F",
        "superheat 15 °F rated",
    ],
    "Total static is one point two and this unit is only good for point nine.": [
        "static-pressure 0.9 in. w.c. total rated",
        "static-pressure 1.2 in. w.c. total",
    ],
    "Head pressure was three ninety and now I'm at three twenty.": [
        "discharge-pressure 320 psig as-left",
        "discharge-pressure 390 psig as-found",
    ],
    "Manifold was set way down at two point two, I brought it up to three and a half per the plate.": [
        "manifold-pressure 2.2 in. w.c. as-found",
        "manifold-pressure 3.5 in. w.c. as-left",
    ],
    "C O was two ninety when I walked up, down to fifty after I cleaned the burners.": [
        "co 290 ppm as-found",
        "co 50 ppm as-left",
    ],
    "I've got 26.1 volts control now instead of 21.": [
        "control-voltage 21 V as-found",
        "control-voltage 26.1 V as-left",
    ],
}


@pytest.mark.parametrize("text", READINGS)
def test_readings(text):
    assert readings_of(text) == sorted(READINGS[text])


def test_how_much_is_no_condition():
    assert all_of("Y to C is a flat zero, the other two are good for now.")[3] == []
