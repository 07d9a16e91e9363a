"""Whose reading it is: legs told once, plates with two voltages, machines that take turns; sentences of its own.

The forms are common practice of the trade, no source, unless a line says otherwise.
"""

import pytest
from tests.notes.short import readings_of

LEGS_TOLD_ONCE = {
    "RTU-6. Compressor two pulls nine one, nine four, nine two on L one, L two, L three, and its plate says twelve.": [
        "RTU-6 compressor 2 current 12 A rated",
        "RTU-6 compressor 2 current 9.1 A L1",
        "RTU-6 compressor 2 current 9.2 A L3",
        "RTU-6 compressor 2 current 9.4 A L2",
    ],
    "RTU-6. Amps on L one, L two, L three. Compressor one, ten two, ten four, ten five. "
    "Compressor two, eleven one, eleven oh, eleven three. Blower four point four.": [
        "RTU-6 compressor 1 current 10.2 A L1",
        "RTU-6 compressor 1 current 10.4 A L2",
        "RTU-6 compressor 1 current 10.5 A L3",
        "RTU-6 compressor 2 current 11 A L2",
        "RTU-6 compressor 2 current 11.1 A L1",
        "RTU-6 compressor 2 current 11.3 A L3",
        "RTU-6 supply-fan-motor current 4.4 A",
    ],
    "RTU-6. Blower amps six one on L one, six three on L two, six two on L three. "
    "Compressor, same legs, fourteen one, fourteen four, fourteen two.": [
        "RTU-6 compressor current 14.1 A L1",
        "RTU-6 compressor current 14.2 A L3",
        "RTU-6 compressor current 14.4 A L2",
        "RTU-6 supply-fan-motor current 6.1 A L1",
        "RTU-6 supply-fan-motor current 6.2 A L3",
        "RTU-6 supply-fan-motor current 6.3 A L2",
    ],
    # what was not told to be of the same legs is of none
    "RTU-6. Blower amps six one on L one, six three on L two, six two on L three. "
    "Compressor fourteen one, fourteen four, fourteen two.": [
        "RTU-6 compressor current 14.1 A",
        "RTU-6 compressor current 14.2 A",
        "RTU-6 compressor current 14.4 A",
        "RTU-6 supply-fan-motor current 6.1 A L1",
        "RTU-6 supply-fan-motor current 6.2 A L3",
        "RTU-6 supply-fan-motor current 6.3 A L2",
    ],
}
# Voltages that stand together on one plate: ANSI C84.1, nominal and utilization voltages.
TWO_RATINGS = {
    "RTU-6. Plate says two oh eight two thirty, three phase.": ["RTU-6 voltage 208-230 V rated"],
    "RTU-6. It's a one fifteen two thirty volt unit, line reads one nineteen.": [
        "RTU-6 voltage 115-230 V rated",
        "RTU-6 voltage 119 V",
    ],
    "RTU-6. Volts two oh eight, two thirty, two twelve.": [
        "RTU-6 voltage 208 V",
        "RTU-6 voltage 212 V",
        "RTU-6 voltage 230 V",
    ],
}
ALL = {**LEGS_TOLD_ONCE, **TWO_RATINGS}


@pytest.mark.parametrize("text", ALL, ids=range(len(ALL)))
def test_told(text):
    assert readings_of(text) == sorted(ALL[text])
