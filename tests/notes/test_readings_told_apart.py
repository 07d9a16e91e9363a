"""Whose reading it is: legs told once, plates with two voltages, machines that take turns; sentences of its own.

The forms are common practice of the trade, no source, unless a line says otherwise.
"""

import pytest
from tests.notes.short import readings_of

from hatchnote.notes import read_notes

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
BY_LEG = {
    "RTU-6, two compressors. L one amps ten one, ten three. L two, ten two, ten four. L three, nine nine, ten oh.": [
        "RTU-6 compressor 1 current 10.1 A L1",
        "RTU-6 compressor 1 current 10.2 A L2",
        "RTU-6 compressor 1 current 9.9 A L3",
        "RTU-6 compressor 2 current 10 A L3",
        "RTU-6 compressor 2 current 10.3 A L1",
        "RTU-6 compressor 2 current 10.4 A L2",
    ],
    "RTU-6. Compressor one ten one, ten three, ten two. Two, nine eight, nine seven, nine nine.": [
        "RTU-6 compressor 1 current 10.1 A",
        "RTU-6 compressor 1 current 10.2 A",
        "RTU-6 compressor 1 current 10.3 A",
        "RTU-6 compressor 2 current 9.7 A",
        "RTU-6 compressor 2 current 9.8 A",
        "RTU-6 compressor 2 current 9.9 A",
    ],
}
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
# Machines named with hesitation, by their places, by their turn, and only afterwards.
MACHINES = {
    "R T U, uh, seven. Suction one fifteen.": ["RTU-7 suction-pressure 115 psig"],
    "RTU-7. Tightened the screws at the unit too. Suction one fifteen.": ["RTU-7 suction-pressure 115 psig"],
    "R T U, five ton, suction one fifteen.": ["suction-pressure 115 psig"],
    "RTU-7. Suction one fifteen. The girl in unit nine says it's loud. Head three thirty.": [
        "RTU-7 discharge-pressure 330 psig",
        "RTU-7 suction-pressure 115 psig",
    ],
    "The east unit is R T U seven and the west unit's R T U eight. East one, suction one fifteen. "
    "West unit one nineteen on the suction.": [
        "RTU-7 suction-pressure 115 psig",
        "RTU-8 suction-pressure 119 psig",
    ],
    "The one over the bakery is R T U seven, the one by the hatch is R T U eight. Bakery unit, supply fifty four. "
    "On the hatch one supply is fifty seven.": [
        "RTU-7 supply-air-temperature 54 °F",
        "RTU-8 supply-air-temperature 57 °F",
    ],
    "R T Us seven through nine. First unit suction one fifteen. Next unit, suction one nineteen. "
    "Last unit's suction is one twenty one.": [
        "RTU-7 suction-pressure 115 psig",
        "RTU-8 suction-pressure 119 psig",
        "RTU-9 suction-pressure 121 psig",
    ],
    "R T U seven, R T U eight. Seven first. R T U seven, supply fifty four. The other unit, supply fifty seven.": [
        "RTU-7 supply-air-temperature 54 °F",
        "RTU-8 supply-air-temperature 57 °F",
    ],
    "Suction one fifteen, head three thirty. That was all R T U seven. R T U eight, suction one nineteen.": [
        "RTU-7 discharge-pressure 330 psig",
        "RTU-7 suction-pressure 115 psig",
        "RTU-8 suction-pressure 119 psig",
    ],
    "R T U seven, suction one fifteen. On to the next one. Suction one nineteen. It's R T U twelve.": [
        "RTU-12 suction-pressure 119 psig",
        "RTU-7 suction-pressure 115 psig",
    ],
    "R T U seven, suction one fifteen. Now for the one beside it. Suction one nineteen.": [
        "RTU-7 suction-pressure 115 psig",
        "suction-pressure 119 psig",
    ],
    # the next one may be a part
    "R T U seven. Condenser fan one two point one. Next one's noisy. Condenser fan two is two point three.": [
        "RTU-7 condenser-fan-motor 1 current 2.1 A",
        "RTU-7 condenser-fan-motor 2 current 2.3 A",
    ],
}
NUMBERED = {
    "R T U seven, supply fifty four. R T U nine, supply fifty seven. Back to seven, return seventy two.": [
        "RTU-7 return-air-temperature 72 °F",
        "RTU-7 supply-air-temperature 54 °F",
        "RTU-9 supply-air-temperature 57 °F",
    ],
    "Units four and five. Four: inlet six eight, rise forty. Now five. Inlet six nine, rise forty two.": [
        "RTU-4 inlet-gas-pressure 6.8 in. w.c.",
        "RTU-4 temperature-rise 40 °F",
        "RTU-5 inlet-gas-pressure 6.9 in. w.c.",
        "RTU-5 temperature-rise 42 °F",
    ],
    "RTU-4 and RTU-5. Manifold on RTU-5 was four, dropped it to three and a half, then to three.": [
        "RTU-5 manifold-pressure 3 in. w.c. as-left",
        "RTU-5 manifold-pressure 3.5 in. w.c. as-left",
        "RTU-5 manifold-pressure 4 in. w.c. as-found",
    ],
    "RTU-4. Blower amps, A six one, B six three, C six two.": [
        "RTU-4 supply-fan-motor current 6.1 A A",
        "RTU-4 supply-fan-motor current 6.2 A C",
        "RTU-4 supply-fan-motor current 6.3 A B",
    ],
    "Units six and seven at the mill. Unit six manifold three four, rise forty. Number seven manifold three six.": [
        "RTU-6 manifold-pressure 3.4 in. w.c.",
        "RTU-6 temperature-rise 40 °F",
        "RTU-7 manifold-pressure 3.6 in. w.c.",
    ],
}
SAID_OF_ALL = {
    "R T U five and R T U six. Return is seventy two on R T U five and seventy four on R T U six. "
    "Supply fifty five on both.": [
        "RTU-5 return-air-temperature 72 °F",
        "RTU-5 supply-air-temperature 55 °F",
        "RTU-6 return-air-temperature 74 °F",
        "RTU-6 supply-air-temperature 55 °F",
    ],
    "R T Us five, six and seven. Control voltage twenty six on all three. Outdoor ninety.": [
        "RTU-5 control-voltage 26 V",
        "RTU-6 control-voltage 26 V",
        "RTU-7 control-voltage 26 V",
        "outdoor-air-temperature 90 °F",
    ],
    "R T U five. Amps on each leg nine two, nine three, nine one.": [
        "RTU-5 current 9.1 A",
        "RTU-5 current 9.2 A",
        "RTU-5 current 9.3 A",
    ],
}
# What a plate says is of the part just spoken of, or of what a plate can say at all.
PLATES = {
    "RTU-5. Suction one eighteen. The fuse is blown and the lug's burnt. Nameplate calls for twenty fives.": [
        "RTU-5 fuse fuse-rating 25 A rated",
        "RTU-5 suction-pressure 118 psig",
    ],
    "RTU-5. Head three forty. Cap's swelled. Label says forty plus five.": [
        "RTU-5 discharge-pressure 340 psig",
        "RTU-5 run-capacitor capacitance 40 uF rated",
        "RTU-5 run-capacitor capacitance 5 uF rated",
    ],
    "RTU-5. Blower motor's pulling nine four at fifty five hertz, plate ten six.": [
        "RTU-5 supply-fan-motor current 10.6 A rated",
        "RTU-5 supply-fan-motor current 9.4 A",
        "RTU-5 variable-frequency-drive frequency 55 Hz",
    ],
    "RTU-5. Manifold three five. Clocked the meter. Nameplate says one hundred fifty thousand.": [
        "RTU-5 gas-input 150000 Btu/h rated",
        "RTU-5 manifold-pressure 3.5 in. w.c.",
    ],
    "RTU-5. Space is seventy six at fifty percent humidity, setpoint seventy one.": [
        "RTU-5 humidity 50 % space",
        "RTU-5 space-temperature 71 °F set",
        "RTU-5 space-temperature 76 °F",
    ],
    "RTU-5. Economizer minimum is eighteen percent.": ["RTU-5 economizer opening 18 % set"],
    "RTU-5. Economizer minimum was five percent, set it to twelve.": [
        "RTU-5 economizer opening 12 % set as-left",
        "RTU-5 economizer opening 5 % set as-found",
    ],
}
MIXED = {
    "RTU-5. Inlet is eight two idle and six nine firing.": [
        "RTU-5 inlet-gas-pressure 6.9 in. w.c.",
        "RTU-5 inlet-gas-pressure 8.2 in. w.c.",
    ],
    "RTU-5. Superheat one four, subcooling one zero.": ["RTU-5 subcooling 10 °F", "RTU-5 superheat 14 °F"],
    "RTU-5. Return seventy eight, supply sixty, so an eighteen degree drop.": [
        "RTU-5 return-air-temperature 78 °F",
        "RTU-5 supply-air-temperature 60 °F",
        "RTU-5 temperature-drop 18 °F",
    ],
    "RTU-5. Rise is forty eight on high fire and thirty on low.": [
        "RTU-5 temperature-rise 30 °F low",
        "RTU-5 temperature-rise 48 °F high",
    ],
    "RTU-5. It's ninety one outside with the humidity running sixty percent.": [
        "RTU-5 humidity 60 % outdoor",
        "RTU-5 outdoor-air-temperature 91 °F",
    ],
    "RTU-5. Put a new belt on it, three eighths inch deflection.": ["RTU-5 belt-deflection 0.375 in."],
    "RTU-5. Draft was point three one. Cleaned the lint out of the wheel and now it's point six four.": [
        "RTU-5 draft 0.31 in. w.c. as-found",
        "RTU-5 draft 0.64 in. w.c. as-left",
    ],
    "RTU-5. Manifold on high fire three four. On low fire manifold was two two. Turned the gas valve down. "
    "Low fire manifold's one seven now.": [
        "RTU-5 manifold-pressure 1.7 in. w.c. low as-left",
        "RTU-5 manifold-pressure 2.2 in. w.c. low as-found",
        "RTU-5 manifold-pressure 3.4 in. w.c. high",
    ],
    "RTU-5. Suction one fifteen, liquid three twenty, sorry, that's the head.": [
        "RTU-5 discharge-pressure 320 psig",
        "RTU-5 suction-pressure 115 psig",
    ],
    "RTU-5. Four sixty two, four sixty four, four fifty nine volts, all measured at the contactor.": [
        "RTU-5 contactor voltage 459 V",
        "RTU-5 contactor voltage 462 V",
        "RTU-5 contactor voltage 464 V",
    ],
    "RTU-5. Megged the compressor before I started it, forty megs.": [
        "RTU-5 compressor insulation-resistance 40 Mohm"
    ],
    "RTU-5. Inlet is five two, it's above the minimum, plate says five.": [
        "RTU-5 inlet-gas-pressure 5 in. w.c. rated",
        "RTU-5 inlet-gas-pressure 5.2 in. w.c.",
    ],
    "RTU-5. Ran compressor two by itself. Nine two on L one, nine four on L two, nine three on L three.": [
        "RTU-5 compressor 2 current 9.2 A L1",
        "RTU-5 compressor 2 current 9.3 A L3",
        "RTU-5 compressor 2 current 9.4 A L2",
    ],
    "RTU-5. Condenser fan motor one seized. Swapped it. New motor's pulling two two. Fan motor two pulls two four.": [
        "RTU-5 condenser-fan-motor 1 current 2.2 A as-left",
        "RTU-5 condenser-fan-motor 2 current 2.4 A",
    ],
    "RTU-5. Return static minus point four, total one point three, and point five across the filters.": [
        "RTU-5 air-filter pressure-drop 0.5 in. w.c.",
        "RTU-5 static-pressure -0.4 in. w.c. return",
        "RTU-5 static-pressure 1.3 in. w.c. total",
    ],
    "RTU-5. Fifty eight coming out the supply, no, sorry, fifty six.": ["RTU-5 supply-air-temperature 56 °F"],
    "RTU-5. Head three thirty. Somebody's crate is marked seventeen eighty.": [
        "RTU-5 discharge-pressure 330 psig"
    ],
    "RTU-5. Three horse. Seventeen fifty.": [
        "RTU-5 power 3 hp rated",
        "RTU-5 speed 1750 rpm rated",
    ],
    "RTU-5. Manifold three four. They got nine inches last week.": ["RTU-5 manifold-pressure 3.4 in. w.c."],
    "RTU-5. Suction one, hang on, it's windy, suction one twenty. Line volts L one to L two four, four sixty.": [
        "RTU-5 suction-pressure 120 psig",
        "RTU-5 voltage 460 V L1-L2",
    ],
    "RTU-5. Belt's loose. Hand me the nine sixteenths. Superheat nine.": ["RTU-5 superheat 9 °F"],
    "RTU-5. Amps nine, nine two, nine three.": [
        "RTU-5 current 9 A",
        "RTU-5 current 9.2 A",
        "RTU-5 current 9.3 A",
    ],
    "RTU-5. Found the head at four twenty, rinsed the coil, down to three thirty five.": [
        "RTU-5 discharge-pressure 335 psig as-left",
        "RTU-5 discharge-pressure 420 psig as-found",
    ],
    "RTU-5. Superheat is nine on circuit one and twelve on two.": [
        "RTU-5 superheat 12 °F circuit-2",
        "RTU-5 superheat 9 °F circuit-1",
    ],
    "RTU-5. Return seventy two wet bulb sixty one, supply fifty six wet bulb fifty four.": [
        "RTU-5 return-air-temperature 61 °F wet-bulb",
        "RTU-5 return-air-temperature 72 °F",
        "RTU-5 supply-air-temperature 54 °F wet-bulb",
        "RTU-5 supply-air-temperature 56 °F",
    ],
    "RTU-5. C O ambient two, flue thirty one, oxygen seven point two.": [
        "RTU-5 co 2 ppm ambient",
        "RTU-5 co 31 ppm flue",
        "RTU-5 oxygen 7.2 % flue",
    ],
    "RTU-5. Compressor's in, three men, eight hours. Suction one fifteen.": [
        "RTU-5 suction-pressure 115 psig"
    ],
    "RTU-5. Motor's one and a half horse.": ["RTU-5 supply-fan-motor power 1.5 hp rated"],
}
# A visit told without a full stop, with few commas: what was left and found, and of which machine, ends where
# something else begins.
RUN_ON = {
    "okay so this is the bowling alley and unit one return seventy two supply fifty three filters dirty changed four "
    "twenty by twenty by twos belt good, unit two return seventy one supply fifty nine belt loose took it up half an "
    "inch now, suction one oh five head two ninety, unit three outdoor damper stuck return seventy three supply "
    "sixty four": [
        "RTU-1 return-air-temperature 72 °F",
        "RTU-1 supply-air-temperature 53 °F",
        "RTU-2 belt-deflection 0.5 in. as-left",
        "RTU-2 discharge-pressure 290 psig",
        "RTU-2 return-air-temperature 71 °F",
        "RTU-2 suction-pressure 105 psig",
        "RTU-2 supply-air-temperature 59 °F",
        "RTU-3 return-air-temperature 73 °F",
        "RTU-3 supply-air-temperature 64 °F",
    ],
    "R T U two, no heat, and then I found the igniter cracked, and then I put a new one in, it's fifty two ohms now, "
    "and then the flame signal's three point one, and then manifold three five, and then I checked the inlet, seven "
    "one, and then the blower, six one, six three, six two": [
        "RTU-2 flame-signal 3.1 uA",
        "RTU-2 igniter resistance 52 ohm as-left",
        "RTU-2 inlet-gas-pressure 7.1 in. w.c.",
        "RTU-2 manifold-pressure 3.5 in. w.c.",
        "RTU-2 supply-fan-motor current 6.1 A",
        "RTU-2 supply-fan-motor current 6.2 A",
        "RTU-2 supply-fan-motor current 6.3 A",
    ],
}
# Rows told without a pause, figure by figure.
UNBROKEN = {
    "RTU-8. Blower amps five two five three five one volts two one one two one three two oh nine.": [
        "RTU-8 supply-fan-motor current 5.1 A",
        "RTU-8 supply-fan-motor current 5.2 A",
        "RTU-8 supply-fan-motor current 5.3 A",
        "RTU-8 voltage 209 V",
        "RTU-8 voltage 211 V",
        "RTU-8 voltage 213 V",
    ],
    "RTU-8. Compressor one eight one eight three eight two compressor two seven nine seven eight seven nine.": [
        "RTU-8 compressor 1 current 8.1 A",
        "RTU-8 compressor 1 current 8.2 A",
        "RTU-8 compressor 1 current 8.3 A",
        "RTU-8 compressor 2 current 7.8 A",
        "RTU-8 compressor 2 current 7.9 A",
        "RTU-8 compressor 2 current 7.9 A",
    ],
    # a row that pauses have cut into sentences
    "RTU-8. Compressor two, nine four. Nine six. Nine three. Superheat twelve. Fourteen screws missing.": [
        "RTU-8 compressor 2 current 9.3 A",
        "RTU-8 compressor 2 current 9.4 A",
        "RTU-8 compressor 2 current 9.6 A",
        "RTU-8 superheat 12 °F",
    ],
    "RTU-8. Volts four seventy. Four seventy four. Four sixty nine.": [
        "RTU-8 voltage 469 V",
        "RTU-8 voltage 470 V",
        "RTU-8 voltage 474 V",
    ],
    "RTU-8. Brushed the coil. Head three twenty and suction one eighteen now.": [
        "RTU-8 discharge-pressure 320 psig as-left",
        "RTU-8 suction-pressure 118 psig as-left",
    ],
    "RTU-8. Motor speed one one four zero. Airflow three six three five.": [
        "RTU-8 airflow 3635 cfm",
        "RTU-8 supply-fan-motor speed 1140 rpm",
    ],
}
ALL = {
    **LEGS_TOLD_ONCE,
    **BY_LEG,
    **TWO_RATINGS,
    **MACHINES,
    **NUMBERED,
    **SAID_OF_ALL,
    **PLATES,
    **MIXED,
    **RUN_ON,
    **UNBROKEN,
}


@pytest.mark.parametrize("text", ALL, ids=range(len(ALL)))
def test_told(text):
    assert readings_of(text) == sorted(ALL[text])


def test_a_next_machine_without_a_name_is_none_and_marked():
    text = "R T U seven, suction one fifteen. Next unit. Suction one nineteen."
    before, after = read_notes(text).readings
    assert (before.tag, before.check) == ("RTU-7", None)
    assert after.tag is None and after.check is not None and "machine" in after.check.why


@pytest.mark.parametrize(
    "said",
    [
        "Manifold found two point nine, left three point five.",
        "Manifold found 2.9, left 3.5.",
        "Found the manifold at two point nine and left it running at three point five.",
        "Took the manifold from two point nine up to three point five.",
        "Manifold's back up to three point five, it was two point nine.",
        "Manifold was low at two point nine, brought it back up to three point five.",
        "Manifold pressure was two point nine when I walked in. Left it set at three point five.",
    ],
)
def test_found_and_left_in_one_breath(said):
    got = {(r.moment, r.value) for r in read_notes(said).readings}
    assert got == {("as-found", 2.9), ("as-left", 3.5)}


def test_what_is_told_without_any_stop_is_marked_where_its_name_may_be_another():
    told = (
        "r t u three no cool condenser coil packed washed it head three forty suction one eighteen compressor nine two "
        "plate eleven blower four four belt good filters fine drain pan clean disconnect fine contactor fine "
        "thermostat fine coil clean economizer fine hatch shut"
    )
    marks = {r.point: r.check for r in read_notes(told).readings}
    assert marks["suction-pressure"] is None
    assert all(r.check for r in read_notes(told).readings if r.point == "current")


def test_long_speech_without_any_stop_is_read_in_linear_time():
    """Four times the words take about four times as long, never nine times; chatter, names and small words alike."""
    import time

    for unit in ("now suction ", "unit one then ", "circuit one now ", "and then "):
        took = []
        for many in (1500, 6000):
            start = time.process_time()
            read_notes(unit * many)
            took.append(time.process_time() - start)
        assert took[1] < 9 * took[0], unit


def test_horses_and_speed_of_a_motor_that_is_wanted_are_marked():
    wanted = read_notes("RTU-3. Order a blower motor for it. It's a two horse, eleven forty.").readings
    assert all(r.check for r in wanted if r.point in ("power", "speed"))
    had = read_notes("RTU-3. Blower motor's a two horse, eleven forty, pulling five one.").readings
    assert {r.point: r.check for r in had} == {"power": None, "speed": None, "current": None}
