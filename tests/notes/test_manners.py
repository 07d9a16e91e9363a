"""Counts, times of day, the weather, pairs without their points, names turned about. Invented lines."""

import pytest
from tests.notes.short import readings_of

from hatchnote.notes import read_notes

NO_READING = [
    "Supply fan motor is running fine on the three legs.",
    "Compressor one is locked out, my key, forty four.",
    "It's the kindergarten one up here.",
    "Outdoor sensor checked. The counter closes at five.",
    "Suction looked fine. Thirty two chairs stacked under the hatch.",
    "The compressor has two circuits.",
    "Two of the fuses are in my bag, two of them on the seat.",
    "Igniter is the new one.",
    "Return is fine, I am parked in row nine.",
]


@pytest.mark.parametrize("text", NO_READING)
def test_a_count_or_a_time_is_no_reading(text):
    assert readings_of(text) == []


KEPT = {
    "twelve of superheat and nine of subcooling": ["superheat 12 °F", "subcooling 9 °F"],
    "Compressor one is pulling nine.": ["compressor 1 current 9 A"],
    "Superheat sitting at ten.": ["superheat 10 °F"],
    "The inducer motor draws about one amp.": ["inducer-motor current 1 A"],
}


@pytest.mark.parametrize("text", KEPT)
def test_a_small_number_said_of_its_point_is_a_reading(text):
    assert readings_of(text) == sorted(KEPT[text])


OUTDOORS = {
    "It's ninety four in the shade.": 94,
    "It's five below and windy.": -5,
    "It's eleven degrees out.": 11,
    "Minus ten out.": -10,
    "Hot out, ninety seven.": 97,
    "It's thirty nine out.": 39,
}


@pytest.mark.parametrize("text", OUTDOORS)
def test_the_weather(text):
    assert readings_of(text) == [f"outdoor-air-temperature {OUTDOORS[text]} °F"]


@pytest.mark.parametrize(
    "text",
    [
        "Seventy in, one oh five out.",
        "I got seventy going in and one oh five coming out.",
        "Return air seventy, supply air one oh five.",
    ],
)
def test_in_and_out(text):
    assert readings_of(text) == ["return-air-temperature 70 °F", "supply-air-temperature 105 °F"]


def test_low_side_then_high_side():
    text = "Circuit one, one eighteen, three forty. Circuit two, one twenty two, three fifty five."
    assert readings_of(text) == sorted(
        [
            "suction-pressure 118 psig circuit-1",
            "discharge-pressure 340 psig circuit-1",
            "suction-pressure 122 psig circuit-2",
            "discharge-pressure 355 psig circuit-2",
        ]
    )
    assert readings_of("Gauges, one thirty one, three ninety.") == [
        "discharge-pressure 390 psig",
        "suction-pressure 131 psig",
    ]


def test_both_sides_alike_is_said_of_one_circuit():
    text = "Circuit one is running. Gauges on circuit two, one seventy five both sides."
    assert readings_of(text) == [
        "discharge-pressure 175 psig circuit-2",
        "suction-pressure 175 psig circuit-2",
    ]


TURNED = {
    "Sensor of the supply air is eleven K.": ["supply-air-sensor resistance 11 kohm"],
    "Pressure of suction is one eighteen.": ["suction-pressure 118 psig"],
    "Current of flame is two point two micro amperes.": ["flame-signal 2.2 uA"],
    "Motor of inducer takes one point two ampere.": ["inducer-motor current 1.2 A"],
}


@pytest.mark.parametrize("text", TURNED)
def test_a_name_turned_about_with_of(text):
    assert readings_of(text) == TURNED[text]


@pytest.mark.parametrize(
    "text",
    ["Suction one fifteen, no, one sixteen.", "Suction's one fifteen, uh, sorry, one sixteen."],
)
def test_a_plain_no_takes_back(text):
    facts = read_notes(text)
    assert [r.value for r in facts.readings] == [116]
    assert [r.value for r in facts.withdrawn] == [115]


def test_h_p_is_a_machine_before_its_number_and_a_size_behind_one():
    assert [r.tag for r in read_notes("H P two, suction seventy eight.").readings] == ["HP-2"]
    assert [
        r.tag for r in read_notes("The fan has a five H P two thirty volt motor.").readings if r.tag
    ] == []


def test_a_tag_said_figure_by_figure():
    assert readings_of("R T U one two, suction one eighteen.") == ["RTU-12 suction-pressure 118 psig"]


def test_decimal_for_point():
    assert readings_of("Inlet gas, seven decimal four inches.") == ["inlet-gas-pressure 7.4 in. w.c."]


def test_number_alone_is_a_machine_with_a_mark():
    facts = read_notes("So this is number four at the rink. Return fifty nine, mixed fifty seven.")
    assert [r.tag for r in facts.readings] == ["RTU-4", "RTU-4"]
    assert all(r.check and "number four" in r.check.why for r in facts.readings)
    assert not read_notes("The compressors hum. Number two is hot. Suction one eighteen.").readings[0].tag


MORE = {
    "Space is seventy eight at sixty three percent.": ["humidity 63 % space", "space-temperature 78 °F"],
    "Flue is reading four sixty on C O.": ["co 460 ppm flue"],
    "Crankcase heater, I meg it and I get point oh two megs.": [
        "crankcase-heater insulation-resistance 0.02 Mohm"
    ],
    "Return sensor is eleven even K.": ["return-air-sensor resistance 11 kohm"],
    "Outdoor sensor twenty seven point two K at thirty eight.": ["outdoor-air-sensor resistance 27.2 kohm"],
    "Transformer twenty six three.": ["transformer control-voltage 26.3 V"],
}


@pytest.mark.parametrize("text", MORE)
def test_what_the_words_around_decide(text):
    assert readings_of(text) == sorted(MORE[text])
