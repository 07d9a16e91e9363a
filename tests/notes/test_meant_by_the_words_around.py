"""What the words around a number make of it: the instrument, the terminals, what it ought to be, when it was read.

Sentences of its own; the manners of speaking are common practice of the trade, no source.
"""

import pytest
from tests.notes.short import all_of, readings_of

from hatchnote.notes import read_notes

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
    "Two twelve on all three legs standing, sags to two oh one when the fan starts.": [
        "voltage 201 V",
        "voltage 212 V",
    ],
    "Inlet seven point one inches static, falls to six point four with both firing.": [
        "inlet-gas-pressure 6.4 in. w.c.",
        "inlet-gas-pressure 7.1 in. w.c.",
    ],
    "Suction's one fifteen and climbs to one thirty with the fan off.": [
        "suction-pressure 115 psig",
        "suction-pressure 130 psig",
    ],
    "Dual capacitor is 40 over 5, I'm getting 38.6 on herm and 3.9 on the fan side.": [
        "run-capacitor capacitance 3.9 uF fan",
        "run-capacitor capacitance 38.6 uF compressor",
        "run-capacitor capacitance 40 uF rated",
        "run-capacitor capacitance 5 uF rated",
    ],
    "Megged compressor two at a thousand volts, ninety megohms.": [
        "compressor 2 insulation-resistance 90 Mohm"
    ],
    "Circuit A 121 over 340, circuit B 90 over 285.": [
        "discharge-pressure 340 psig circuit-A",
        "suction-pressure 121 psig circuit-A",
        "discharge-pressure 285 psig circuit-B",
        "suction-pressure 90 psig circuit-B",
    ],
    "Air in was seventy four, air out fifty five.": [
        "return-air-temperature 74 °F",
        "supply-air-temperature 55 °F",
    ],
    "Belt deflection was an inch, tightened to five eighths.": [
        "belt-deflection 0.625 in. as-left",
        "belt-deflection 1 in. as-found",
    ],
    "Wiped the rod down and it went from point five to two point nine microamps.": [
        "flame-signal 0.5 uA as-found",
        "flame-signal 2.9 uA as-left",
    ],
    "Dual cap was a thirty five plus five. Got thirty one point two on herm and four point four on the fan.": [
        "run-capacitor capacitance 31.2 uF compressor",
        "run-capacitor capacitance 35 uF rated",
        "run-capacitor capacitance 4.4 uF fan",
        "run-capacitor capacitance 5 uF rated",
    ],
    "Dual cap is a forty five over five.": [
        "run-capacitor capacitance 45 uF rated",
        "run-capacitor capacitance 5 uF rated",
    ],
    "Manifold was set at 4.3, plate calls for 3.5, backed it down to 3.5.": [
        "manifold-pressure 3.5 in. w.c. as-left",
        "manifold-pressure 3.5 in. w.c. rated",
        "manifold-pressure 4.3 in. w.c. as-found",
    ],
    "Pulling about nine degrees of subcool and the sticker wants ten to twelve.": [
        "subcooling 10-12 °F rated",
        "subcooling 9 °F",
    ],
    "Suction one twenty, line's fifty one, superheat ten.": [
        "suction-line-temperature 51 °F",
        "suction-pressure 120 psig",
        "superheat 10 °F",
    ],
    "Compressor two, eleven eight, twelve even, twelve one.": [
        "compressor 2 current 11.8 A",
        "compressor 2 current 12 A",
        "compressor 2 current 12.1 A",
    ],
    "Contactor's pitted, two pole thirty amp, I'd change it next time.": [],
    "A is one eighteen to ground and B's one nineteen to ground.": ["voltage 118 V", "voltage 119 V"],
    "Compressor one reads two hundred to ground.": ["compressor 1 insulation-resistance 200 Mohm"],
    "Return static minus 0.36 supply plus 0.42": [
        "static-pressure -0.36 in. w.c. return",
        "static-pressure 0.42 in. w.c. supply",
    ],
    "Transformer's tapped for two forty and I have two oh eight line to line.": ["voltage 208 V"],
    "Moved the transformer from the two forty tap to the two oh eight tap, control voltage is twenty six now.": [
        "control-voltage 26 V as-left",
    ],
    "Moved the tap from two forty over to two oh eight.": [],
    "Static point seven supply, point four return, one point one total.": [
        "static-pressure 0.4 in. w.c. return",
        "static-pressure 0.7 in. w.c. supply",
        "static-pressure 1.1 in. w.c. total",
    ],
    "Found superheat at thirty and subcooling at three, superheat's down to twelve and subcooling up to ten.": [
        "subcooling 10 °F as-left",
        "subcooling 3 °F as-found",
        "superheat 12 °F as-left",
        "superheat 30 °F as-found",
    ],
    "Motor plate five horse, fourteen point two amps, running eleven eight.": [
        "current 11.8 A",
        "current 14.2 A rated",
        "power 5 hp rated",
    ],
    "Inlet seven point two with everything off, six eight with it all on.": [
        "inlet-gas-pressure 6.8 in. w.c.",
        "inlet-gas-pressure 7.2 in. w.c.",
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


@pytest.mark.parametrize(
    "text",
    [
        "Two hundred megohms to ground, so the insulation's still fine.",
        "Went over every joint with the sniffer and bubbles and found nothing.",
        "Power's two thirty across the board, no complaints.",
    ],
)
def test_no_condition_of_a_part(text):
    assert all_of(text)[3] == []


def test_bubbles_in_the_sight_glass_are_little_refrigerant():
    assert all_of("Sight glass is full of bubbles.")[3] == ["refrigerant low-charge"]


TRIPS = {
    "RTU-2 was off on high head. Reset the switch.": ("high-pressure-switch", True),
    "RTU-2 locked out on the main limit, reset it and it ran.": ("limit-switch", True),
    "RTU-2 went down on low pressure again last night.": ("low-pressure-switch", False),
    "RTU-2 kicked out on the rollout. Reset that.": ("rollout-switch", True),
}


@pytest.mark.parametrize("text", TRIPS)
def test_off_on_a_safety(text):
    control, reset = TRIPS[text]
    _, work, _, findings = all_of(text)
    assert findings == [f"RTU-2 {control} tripped"]
    assert work == ([f"RTU-2 reset {control} done"] if reset else [])


@pytest.mark.parametrize(
    "text",
    [
        "It never went off on high head while I was here.",
        "Shut it off on the way out.",
    ],
)
def test_no_trip(text):
    assert not any("tripped" in f for f in all_of(text)[3])


def test_gas_pressure_alone_is_marked():
    low, high = read_notes(
        "Gas pressure was three point four. On the other unit the gas pressure is seven inches."
    ).readings
    assert (low.point, high.point) == ("manifold-pressure", "inlet-gas-pressure")
    assert low.check is not None and high.check is not None


def test_what_left_the_machine_is_recovered():
    text = "Pulled six pounds of four ten A out and weighed in nine pounds two ounces."
    assert readings_of(text) == ["refrigerant-charge 6 lb recovered", "refrigerant-charge 9.125 lb added"]


@pytest.mark.parametrize(
    "text",
    [
        "Split was nineteen after cleaning the condenser coil.",
        "Split is nineteen after I cleaned the condenser coil.",
        "After I cleaned the condenser coil the split came up to nineteen.",
    ],
)
def test_what_was_done_before_it_was_read_is_work_and_its_reading_as_left(text):
    readings, work, _, _ = all_of(text)
    assert readings == ["temperature-drop 19 °F as-left"]
    assert work == ["clean condenser-coil done"]


def test_what_comes_in_is_no_arrival():
    assert readings_of("Voltage coming in is two oh eight.") == ["voltage 208 V"]


def test_it_is_the_capacitor_of_which_sections_were_read():
    text = "Run capacitor's weak, thirty one on herm and three nine on the fan, swapped it for a new one."
    assert all_of(text)[1] == ["replace run-capacitor done"]


def test_what_was_measured_is_not_the_size_of_the_new_one():
    _, _, parts, _ = all_of("Fan capacitor measured 6.1 and it's a 7.5, changed it.")
    assert len(parts) == 1 and "6.1" not in parts[0]


def test_of_two_sizes_the_new_one_was_fitted():
    assert all_of("Swapped the AX50 for an AX48.")[2] == ["1 supply-fan-belt AX48 installed"]


def test_a_blown_fuse_was_not_cleaned():
    assert all_of("Blew the fuse again, so there is a short.")[1] == []


def test_tablets_are_no_part_and_a_label_read_is_no_labelling():
    assert all_of("Drain pan was slimy. Dropped four tabs in.")[2] == []
    assert all_of("The switch is labelled point six five.")[1] == []


def test_amps_of_nothing_are_kept_and_marked():
    (reading,) = read_notes("Fourteen point two amps.").readings
    assert (reading.point, reading.value) == ("current", 14.2) and reading.check is not None


def test_bearings_of_a_motor_are_greased_once():
    assert all_of("Greased the motor bearings.")[1] == ["lubricate bearing done"]
    assert all_of("Greased the motor and the bearings.")[1] == [
        "lubricate bearing done",
        "lubricate supply-fan-motor done",
    ]


@pytest.mark.parametrize(
    "said", ["the fan hums but won't turn", "the fan came right on", "then the blower ran"]
)
def test_what_a_part_does_behind_it_and_is_not_what_was_worked_on(said):
    assert all_of(f"Contactor was stuck. Replaced it and {said}.")[1] == ["replace contactor done"]


def test_it_and_another_part_are_both_worked_on():
    work = all_of("Igniter's cracked. Changed it and the flame sensor.")[1]
    assert work == ["replace flame-sensor done", "replace igniter done"]
