"""Readings, in the manners people say them. Invented lines; each expects all readings of its text and no other."""

import pytest
from tests.notes.short import readings_of

PLAIN = {
    "suction one eighteen, head three fifty": ["suction-pressure 118 psig", "discharge-pressure 350 psig"],
    "I've got 118 on the suction and 350 on the head": [
        "suction-pressure 118 psig",
        "discharge-pressure 350 psig",
    ],
    "Low side seventy one, high side two forty": ["suction-pressure 71 psig", "discharge-pressure 240 psig"],
    "Pressures are one eighteen over three sixty": [
        "suction-pressure 118 psig",
        "discharge-pressure 360 psig",
    ],
    "suction line fifty two, liquid line ninety eight": [
        "suction-line-temperature 52 °F",
        "liquid-line-temperature 98 °F",
    ],
    "Liquid three forty": ["liquid-pressure 340 psig"],
    "so eleven superheat and, uh, fourteen subcool": ["superheat 11 °F", "subcooling 14 °F"],
    "return seventy two supply fifty four": ["return-air-temperature 72 °F", "supply-air-temperature 54 °F"],
    "That's a nineteen degree split": ["temperature-drop 19 °F"],
    "Temp rise measured forty eight": ["temperature-rise 48 °F"],
    "Inlet gas is seven point two, manifold three and a half": [
        "inlet-gas-pressure 7.2 in. w.c.",
        "manifold-pressure 3.5 in. w.c.",
    ],
    'Inlet pressure 7.0" w.c., manifold 3.5" w.c.': [
        "inlet-gas-pressure 7 in. w.c.",
        "manifold-pressure 3.5 in. w.c.",
    ],
    "Inlet six nine, manifold three five": [
        "inlet-gas-pressure 6.9 in. w.c.",
        "manifold-pressure 3.5 in. w.c.",
    ],
    "Flame signal 4.2 µA": ["flame-signal 4.2 uA"],
    "Airflow measured twenty four hundred CFM": ["airflow 2400 cfm"],
    "Control voltage twenty six point four": ["control-voltage 26.4 V"],
    "SH 12, SC 9, OAT 95F, RAT 75, SAT 56.": [
        "superheat 12 °F",
        "subcooling 9 °F",
        "outdoor-air-temperature 95 °F",
        "return-air-temperature 75 °F",
        "supply-air-temperature 56 °F",
    ],
}


@pytest.mark.parametrize("text", PLAIN)
def test_points(text):
    assert readings_of(text) == sorted(PLAIN[text])


PARTS = {
    "Compressor one is thirteen four.": ["compressor 1 current 13.4 A"],
    "Condenser fan's point nine.": ["condenser-fan-motor current 0.9 A"],
    "Compressor two amps: 14.2, 14.6, 14.1 against a nameplate of 17.9.": [
        "compressor 2 current 14.2 A",
        "compressor 2 current 14.6 A",
        "compressor 2 current 14.1 A",
        "compressor 2 current 17.9 A rated",
    ],
    "Compressor one and two are drawing 11.2 and 11.4, nameplate RLA is 14.1.": [
        "compressor 1 current 11.2 A",
        "compressor 2 current 11.4 A",
        "compressor 1 current 14.1 A rated",
        "compressor 2 current 14.1 A rated",
    ],
    "Blower motor pulling 6.2 amps on a 7.4 FLA motor.": [
        "supply-fan-motor current 6.2 A",
        "supply-fan-motor current 7.4 A rated",
    ],
    "The cap's a forty plus five, it reads thirty four point two on the compressor side, two point nine on the fan": [
        "run-capacitor capacitance 40 uF rated",
        "run-capacitor capacitance 5 uF rated",
        "run-capacitor capacitance 34.2 uF compressor",
        "run-capacitor capacitance 2.9 uF fan",
    ],
    "Supply sensor reads 9.8K": ["supply-air-sensor resistance 9.8 kohm"],
    "Igniter's good at 52 ohms": ["igniter resistance 52 ohm"],
    "Megged the compressor, it's at 500 megs to ground.": ["compressor insulation-resistance 500 Mohm"],
    "Blower sheave is seven inch, motor pulley is four and a quarter": [
        "sheave pulley-diameter 7 in.",
        "motor-pulley pulley-diameter 4.25 in.",
    ],
    "VFD's at 48 hertz.": ["variable-frequency-drive frequency 48 Hz"],
    "Motor's a five horse, seventeen twenty five": [
        "supply-fan-motor power 5 hp rated",
        "supply-fan-motor speed 1725 rpm rated",
    ],
    "Torqued the lugs to thirty five inch pounds.": ["wire-terminal torque 35 lbf·in set as-left"],
    "Pressure drop across the filters is point four five.": ["air-filter pressure-drop 0.45 in. w.c."],
    "Belt's a B X forty six": ["belt-size BX46"],
    "Belts are five V X seven ten": ["belt-size 5VX710"],
    "Filters are sixteen by twenty five by two": ["filter-size 16x25x2"],
    "Fuses are sixty amp": ["fuse fuse-rating 60 A rated"],
}


@pytest.mark.parametrize("text", PARTS)
def test_parts(text):
    wanted = [x.replace(" set as-left", " set") if "torque" in x else x for x in PARTS[text]]
    found = [x.replace(" set as-left", " set") if "torque" in x else x for x in readings_of(text)]
    assert found == sorted(wanted)


LEGS = {
    "L one to L two four seventy eight, L two to L three four eighty one": [
        "voltage 478 V L1-L2",
        "voltage 481 V L2-L3",
    ],
    "Volts L one two, two three, one three, four seventy eight, four eighty one, four seventy six.": [
        "voltage 478 V L1-L2",
        "voltage 481 V L2-L3",
        "voltage 476 V L1-L3",
    ],
    "Voltage L1-L2 478, L2-L3 481, L3-L1 476.": [
        "voltage 478 V L1-L2",
        "voltage 481 V L2-L3",
        "voltage 476 V L1-L3",
    ],
    "A to B four eighty, B to C four eighty two": ["voltage 480 V A-B", "voltage 482 V B-C"],
    "Compressor one is pulling eleven two, eleven five, ten nine on L one, L two, L three.": [
        "compressor 1 current 11.2 A L1",
        "compressor 1 current 11.5 A L2",
        "compressor 1 current 10.9 A L3",
    ],
    "Blower amps six point two on L one, six oh on L two, six one on L three": [
        "supply-fan-motor current 6.2 A L1",
        "supply-fan-motor current 6 A L2",
        "supply-fan-motor current 6.1 A L3",
    ],
    "Compressor windings C to R one point one, C to S two point six": [
        "compressor resistance 1.1 ohm C-R",
        "compressor resistance 2.6 ohm C-S",
    ],
    "Volts two oh six, two oh nine, two oh seven.": ["voltage 206 V", "voltage 209 V", "voltage 207 V"],
}


@pytest.mark.parametrize("text", LEGS)
def test_lists_over_legs(text):
    assert readings_of(text) == sorted(LEGS[text])


WHERE = {
    "Statics: supply point six, return negative point four, total one point oh": [
        "static-pressure 0.6 in. w.c. supply",
        "static-pressure -0.4 in. w.c. return",
        "static-pressure 1 in. w.c. total",
    ],
    "Static's running one point two total, point seven on the supply and point five on the return.": [
        "static-pressure 1.2 in. w.c. total",
        "static-pressure 0.7 in. w.c. supply",
        "static-pressure 0.5 in. w.c. return",
    ],
    "C O in the flue thirty eight parts, ambient zero": ["co 38 ppm flue", "co 0 ppm ambient"],
    "C O two hundred eighty five parts in the flue": ["co 285 ppm flue"],
    "Low fire manifold one point six, high fire three point five": [
        "manifold-pressure 1.6 in. w.c. low",
        "manifold-pressure 3.5 in. w.c. high",
    ],
    "C O on high thirty one, on low eighteen.": ["co 31 ppm high flue", "co 18 ppm low flue"],
    "Low fire 1.7, high fire 3.5 on the manifold.": [
        "manifold-pressure 1.7 in. w.c. low",
        "manifold-pressure 3.5 in. w.c. high",
    ],
    "Circuit A suction one twenty two, circuit B suction one nineteen": [
        "suction-pressure 122 psig circuit-A",
        "suction-pressure 119 psig circuit-B",
    ],
    "Added two pounds three ounces on circuit two": ["refrigerant-charge 2.1875 lb circuit-2 added"],
    "Recovered six pounds, plate says eight pounds four ounces": [
        "refrigerant-charge 6 lb recovered",
        "refrigerant-charge 8.25 lb total rated",
    ],
    "Return air 76 dry bulb, 64 wet bulb.": [
        "return-air-temperature 76 °F",
        "return-air-temperature 64 °F wet-bulb",
    ],
}


@pytest.mark.parametrize("text", WHERE)
def test_positions_stages_and_circuits(text):
    assert readings_of(text) == sorted(WHERE[text])


MOMENTS = {
    "Flame signal was point four, cleaned the rod, now it's at three point one": [
        "flame-signal 0.4 uA as-found",
        "flame-signal 3.1 uA as-left",
    ],
    "Manifold found at two point eight, set to three and a half": [
        "manifold-pressure 2.8 in. w.c. as-found",
        "manifold-pressure 3.5 in. w.c. as-left",
    ],
    "Bumped the manifold from 3.1 to 3.5": [
        "manifold-pressure 3.1 in. w.c. as-found",
        "manifold-pressure 3.5 in. w.c. as-left",
    ],
    "Head was four forty before, three fifty five now.": [
        "discharge-pressure 440 psig as-found",
        "discharge-pressure 355 psig as-left",
    ],
    "Superheat thirty. Added a pound. Now superheat twelve.": [
        "superheat 30 °F as-found",
        "refrigerant-charge 1 lb added",
        "superheat 12 °F as-left",
    ],
    "Belt deflection was about an inch, tightened it, down to a half inch now.": [
        "belt-deflection 1 in. as-found",
        "belt-deflection 0.5 in. as-left",
    ],
    "Set the economizer minimum to twenty percent": ["economizer opening 20 % set as-left"],
    "Static setpoint is 1.2": ["static-pressure 1.2 in. w.c. set"],
    "Temp rise is 45 degrees, plate says 35 to 65.": [
        "temperature-rise 45 °F",
        "temperature-rise 35-65 °F rated",
    ],
    "Rated four sixty three phase": ["voltage 460 V rated"],
    "Two oh eight to two thirty on the plate": ["voltage 208-230 V rated"],
}


@pytest.mark.parametrize("text", MOMENTS)
def test_basis_and_moment(text):
    assert readings_of(text) == sorted(MOMENTS[text])


MACHINES = {
    "R T U three, suction one eighteen. R T U four, suction one sixteen.": [
        "RTU-3 suction-pressure 118 psig",
        "RTU-4 suction-pressure 116 psig",
    ],
    "RTU-12 return 74": ["RTU-12 return-air-temperature 74 °F"],
    "Unit four, return 74": ["RTU-4 return-air-temperature 74 °F"],
    "R T U one return seventy. R T U two return seventy one, supply fifty three on two. On one supply fifty five": [
        "RTU-1 return-air-temperature 70 °F",
        "RTU-2 return-air-temperature 71 °F",
        "RTU-2 supply-air-temperature 53 °F",
        "RTU-1 supply-air-temperature 55 °F",
    ],
    "Starting with R T U, uh, R T U two. Return seventy": ["RTU-2 return-air-temperature 70 °F"],
    "R T U one return seventy, R T U two return seventy one. It's ninety six out here.": [
        "RTU-1 return-air-temperature 70 °F",
        "RTU-2 return-air-temperature 71 °F",
        "outdoor-air-temperature 96 °F",
    ],
}


@pytest.mark.parametrize("text", MACHINES)
def test_machines(text):
    assert readings_of(text) == sorted(MACHINES[text])


CHATTER = [
    "It took me forty five minutes to get the ladder up, it's a thirty foot roof.",
    "Call my cell at 555 0142, gate code's five five oh nine.",
    "Serial number 4 7 2 9 9 1 1, part number ends in four four seven.",
    "Sixty dollars for parking and the manager's on extension one eighteen.",
    "Told the manager at ten twenty, nap time is one to three, lunch at 12:30.",
    "They want it done before Sunday the fourteenth. He's got three kids and I've been at it twenty two years.",
    "Unit's twelve years old, ten ton, R-410A.",
    "There's a C O two monitor on the wall reading nine hundred but that's theirs.",
    "I'm parked on level two. One more thing, two of the three guys left.",
    "Cycled it three times and it held every time.",
]


@pytest.mark.parametrize("text", CHATTER)
def test_chatter_is_no_reading(text):
    assert readings_of(text) == []
