"""Manners of telling a reading, each with sentences of its own: other parts and other words than the dictations have.

The forms are common practice of the trade, no source, unless a line says otherwise.
"""

import pytest
from tests.notes.short import reading

from hatchnote.notes import read_notes

VALUE_FIRST = {
    "RTU-2. Four eighty, four eighty three, four seventy nine, that's your line volts.": [
        "RTU-2 voltage 480 V",
        "RTU-2 voltage 483 V",
        "RTU-2 voltage 479 V",
    ],
    "RTU-2. Seventy six return, fifty eight supply, eighteen the split.": [
        "RTU-2 return-air-temperature 76 °F",
        "RTU-2 supply-air-temperature 58 °F",
        "RTU-2 temperature-drop 18 °F",
    ],
    "RTU-2. One point eight on low, three point four on high, manifold.": [
        "RTU-2 manifold-pressure 1.8 in. w.c. low",
        "RTU-2 manifold-pressure 3.4 in. w.c. high",
    ],
    "RTU-2. Two thirty one L one L two, two thirty four L two L three.": [
        "RTU-2 voltage 231 V L1-L2",
        "RTU-2 voltage 234 V L2-L3",
    ],
    "RTU-2. Six one, six three, six two, amps on the blower, and seven four is its plate.": [
        "RTU-2 supply-fan-motor current 6.1 A",
        "RTU-2 supply-fan-motor current 6.3 A",
        "RTU-2 supply-fan-motor current 6.2 A",
        "RTU-2 supply-fan-motor current 7.4 A rated",
    ],
}
IN_ORDER = {
    "RTU-4. Condenser fans one, two and three are two point one, two point two and two point four.": [
        "RTU-4 condenser-fan-motor 1 current 2.1 A",
        "RTU-4 condenser-fan-motor 2 current 2.2 A",
        "RTU-4 condenser-fan-motor 3 current 2.4 A",
    ],
    "RTU-4. Circuit one superheat ten, two is twelve.": [
        "RTU-4 superheat 10 °F circuit-1",
        "RTU-4 superheat 12 °F circuit-2",
    ],
    "RTU-4. Contactor one and contactor two coils. Compressor one and compressor two, nine one and nine four.": [
        "RTU-4 compressor 1 current 9.1 A",
        "RTU-4 compressor 2 current 9.4 A",
    ],
    "RTU-4. Compressor one amps and compressor two amps, nine one and nine four.": [
        "RTU-4 compressor 1 current 9.1 A",
        "RTU-4 compressor 2 current 9.4 A",
    ],
    "RTU-4. One twenty and one sixteen, suctions, circuit one and circuit two.": [
        "RTU-4 suction-pressure 120 psig circuit-1",
        "RTU-4 suction-pressure 116 psig circuit-2",
    ],
    "RTU one inlet six nine, RTU two inlet seven one. Manifold, same order, three four, three six.": [
        "RTU-1 inlet-gas-pressure 6.9 in. w.c.",
        "RTU-2 inlet-gas-pressure 7.1 in. w.c.",
        "RTU-1 manifold-pressure 3.4 in. w.c.",
        "RTU-2 manifold-pressure 3.6 in. w.c.",
    ],
    "RTU-4. Condenser fans, left two point one, right two point four.": [
        "RTU-4 condenser-fan-motor left current 2.1 A",
        "RTU-4 condenser-fan-motor right current 2.4 A",
    ],
    "RTU-4. Condenser fan one's at one point eight and two's at two point one.": [
        "RTU-4 condenser-fan-motor 1 current 1.8 A",
        "RTU-4 condenser-fan-motor 2 current 2.1 A",
    ],
}
MOMENTS = {
    "RTU-5. Head was four sixty and suction one forty. Washed the condenser coil. Now head's three fifty.": [
        "RTU-5 discharge-pressure 460 psig as-found",
        "RTU-5 suction-pressure 140 psig as-found",
        "RTU-5 discharge-pressure 350 psig as-left",
    ],
    # the inlet is no kin of the manifold
    "RTU-5. Inlet is seven one and manifold is two nine. Turned the gas valve up. Manifold's three five now.": [
        "RTU-5 inlet-gas-pressure 7.1 in. w.c.",
        "RTU-5 manifold-pressure 2.9 in. w.c. as-found",
        "RTU-5 manifold-pressure 3.5 in. w.c. as-left",
    ],
    "RTU-5. Return static found at minus point three, left at minus point five.": [
        "RTU-5 static-pressure -0.3 in. w.c. return as-found",
        "RTU-5 static-pressure -0.5 in. w.c. return as-left",
    ],
    "RTU-5. Put a new igniter in and that one ohms out at forty nine.": [
        "RTU-5 igniter resistance 49 ohm as-left"
    ],
    "RTU-5. Wheel was turning eight ten, now it's turning nine twenty.": [
        "RTU-5 supply-fan-wheel speed 810 rpm as-found",
        "RTU-5 supply-fan-wheel speed 920 rpm as-left",
    ],
    "RTU-5. Head's down to three forty from four ten.": [
        "RTU-5 discharge-pressure 340 psig as-left",
        "RTU-5 discharge-pressure 410 psig as-found",
    ],
}
METERS = {
    "RTU-6. Setpoint's at seventy, space is at seventy four.": [
        "RTU-6 space-temperature 70 °F set",
        "RTU-6 space-temperature 74 °F",
    ],
    "RTU-6. O A T ninety one, R A T seventy five.": [
        "RTU-6 outdoor-air-temperature 91 °F",
        "RTU-6 return-air-temperature 75 °F",
    ],
    "RTU-6. Stack's at three eighty, C O at twenty.": [
        "RTU-6 stack-temperature 380 °F",
        "RTU-6 co 20 ppm flue",
    ],
    "RTU-6. Pressures are good, one twenty one and three forty five.": [
        "RTU-6 suction-pressure 121 psig",
        "RTU-6 discharge-pressure 345 psig",
    ],
    "RTU-6. Two oh seven across L one and L two, two oh nine across two and three.": [
        "RTU-6 voltage 207 V L1-L2",
        "RTU-6 voltage 209 V L2-L3",
    ],
    "RTU-6. Coil sensor reads O L.": ["RTU-6 coil-sensor resistance open ohm"],
    "RTU-6. Compressor, C to R reads infinity, C to S two point one.": [
        "RTU-6 compressor resistance open ohm C-R",
        "RTU-6 compressor resistance 2.1 ohm C-S",
    ],
    "RTU-6. At the control board I got twenty six volts.": ["RTU-6 control-board control-voltage 26 V"],
    "RTU-6. Transformer has two thirty one on the primary.": ["RTU-6 transformer voltage 231 V"],
    "RTU-6. Two and a half mikes of flame on the rod.": ["RTU-6 flame-signal 2.5 uA"],
    "RTU-6. Dual cap forty five five, it measures forty four one and four point nine.": [
        "RTU-6 run-capacitor capacitance 45 uF rated",
        "RTU-6 run-capacitor capacitance 5 uF rated",
        "RTU-6 run-capacitor capacitance 44.1 uF",
        "RTU-6 run-capacitor capacitance 4.9 uF",
    ],
    "RTU-6. Line two thirty five.": ["RTU-6 voltage 235 V"],
    "RTU-6. Compressor megs out at fifty and the blower motor at eighty.": [
        "RTU-6 compressor insulation-resistance 50 Mohm",
        "RTU-6 supply-fan-motor insulation-resistance 80 Mohm",
    ],
    "RTU-6. Gave it two pounds six ounces of juice.": ["RTU-6 refrigerant-charge 2.375 lb added"],
    "RTU-6. Suction's one sixteen. Now she's one nineteen and three forty eight.": [
        "RTU-6 suction-pressure 116 psig as-found",
        "RTU-6 suction-pressure 119 psig as-left",
        "RTU-6 discharge-pressure 348 psig as-left",
    ],
    "RTU-6. Hundred and three in the shade.": ["RTU-6 outdoor-air-temperature 103 °F"],
    "RTU-6. Input is one eight five thousand, plate two hundred thousand.": [
        "RTU-6 gas-input 185000 Btu/h",
        "RTU-6 gas-input 200000 Btu/h rated",
    ],
    "RTU-6. Belt had an inch of give so I took it up and it's half an inch now.": [
        "RTU-6 belt-deflection 1 in. as-found",
        "RTU-6 belt-deflection 0.5 in. as-left",
    ],
    "RTU-6. Heat strips are pulling thirty eight amps.": ["RTU-6 current 38 A"],
    "RTU-6. Control voltage? Twenty five six. Suction? One twenty one.": [
        "RTU-6 control-voltage 25.6 V",
        "RTU-6 suction-pressure 121 psig",
    ],
}


@pytest.mark.parametrize("text", [*VALUE_FIRST, *IN_ORDER, *MOMENTS, *METERS])
def test_told_in_this_manner(text):
    wanted = {**VALUE_FIRST, **IN_ORDER, **MOMENTS, **METERS}[text]
    assert sorted(reading(r) for r in read_notes(text).readings) == sorted(wanted)


NO_READING = [
    "RTU-7. I need a five horse motor, seventeen fifty, two oh eight three phase.",
    "RTU-7. Order me a four inch motor pulley.",
    "RTU-7. Swapped the contactor, had one on the truck.",
    "RTU-7. It should be around eleven K.",
    "RTU-7. Key went back to window three.",
    "RTU-7. They gave me one thousand milligrams of vitamin.",
    "One, fuse was blown, replaced it. Two, contactor was pitted. Three, belt's worn.",
    "RTU-7. I changed twelve, uh, ten.",
    "RTU-7. Actuator takes two to ten volts.",
    "RTU-7. Twenty after eleven, leaving.",
]


@pytest.mark.parametrize("text", NO_READING)
def test_figures_that_measure_nothing(text):
    assert [reading(r) for r in read_notes(text).readings] == []


MARKED = {
    "RTU-8. I've got two twelve, two fifteen, two eleven.": "the point was not said",
    "RTU-8. Suction thirty five.": "may be a pressure",
    "RTU-8. Worn out, B X forty one.": "may be the size of a part",
    "RTU-8. Head 3 38.": "heard",
    "RTU-8. High fire three five.": "the point was not said",
}


@pytest.mark.parametrize("text", MARKED)
def test_what_is_doubtful_is_marked(text):
    readings = read_notes(text).readings
    assert readings and all(r.check is not None and MARKED[text] in r.check.why for r in readings)


def test_parted_figures_are_put_together_only_where_that_makes_sense():
    assert [r.value for r in read_notes("RTU-1 volts 4-68, 4 65, 466").readings] == [468, 465, 466]
    assert [r.value for r in read_notes("RTU-1 superheat 1, 18 suction").readings][:1] == [1]


def test_machines_stand_where_they_were_said_to_stand():
    facts = read_notes(
        "RTU five is the one over the bakery and RTU six is the one over the pharmacy. Bakery one, return seventy"
        " four. Pharmacy one, return seventy one. Blower amps, bakery four one, pharmacy four six."
    )
    assert [(r.tag, r.value) for r in facts.readings] == [
        ("RTU-5", 74),
        ("RTU-6", 71),
        ("RTU-5", 4.1),
        ("RTU-6", 4.6),
    ]


def test_machines_with_letters_and_rows_of_machines():
    facts = read_notes("RTU one A and RTU one B. Temperature drop, nineteen on one A, twenty on one B.")
    assert [(r.tag, r.value) for r in facts.readings] == [("RTU-1A", 19), ("RTU-1B", 20)]
    facts = read_notes(
        "RTU one through RTU three. Blower amps, one through three in order, four, five, six amps."
    )
    assert [(r.tag, r.value) for r in facts.readings] == [("RTU-1", 4), ("RTU-2", 5), ("RTU-3", 6)]


LEGS_LISTED = {
    "RTU-5. Compressor amps sixteen one on A, sixteen three on B and fifteen nine on C.": [
        "RTU-5 compressor current 16.1 A A",
        "RTU-5 compressor current 16.3 A B",
        "RTU-5 compressor current 15.9 A C",
    ],
    "RTU-5. Two thirty one between A and B, two twenty nine between B and C.": [
        "RTU-5 voltage 231 V A-B",
        "RTU-5 voltage 229 V B-C",
    ],
    "RTU-5. Legs one, two and three read four seventy, four seventy two and four sixty eight.": [
        "RTU-5 voltage 470 V L1",
        "RTU-5 voltage 472 V L2",
        "RTU-5 voltage 468 V L3",
    ],
    "RTU-5. On L one I got twelve two, twelve four on L two, twelve three on L three.": [
        "RTU-5 current 12.2 A L1",
        "RTU-5 current 12.4 A L2",
        "RTU-5 current 12.3 A L3",
    ],
    "RTU-5. First leg two oh seven, second leg two oh nine.": [
        "RTU-5 voltage 207 V L1",
        "RTU-5 voltage 209 V L2",
    ],
}
FRAMED = {
    "RTU-5. On arrival the suction was sixty four. When I left the suction was one nineteen.": [
        "RTU-5 suction-pressure 64 psig as-found",
        "RTU-5 suction-pressure 119 psig as-left",
    ],
    "RTU-5. Arrival readings. Superheat twenty eight. Departure. Superheat ten.": [
        "RTU-5 superheat 28 °F as-found",
        "RTU-5 superheat 10 °F as-left",
    ],
}


@pytest.mark.parametrize("text", [*LEGS_LISTED, *FRAMED])
def test_legs_in_lists_and_framed_moments(text):
    assert sorted(reading(r) for r in read_notes(text).readings) == sorted((LEGS_LISTED | FRAMED)[text])
