"""What is unlikely to have been said is marked: two numbers for one thing, a leg that stands apart, an odd grouping."""

import pytest
from tests.notes.test_left_open import heard, readings

from hatchnote.notes import read_notes


def check_of(r):
    return r.check.why if r.check else ""


def test_a_pressure_named_twice_in_one_breath_is_its_line():
    text = "RTU-6. Circuit 1, suction 121, head 345, suction 54, superheat 12."
    [pressure] = readings(heard(text), "suction-pressure")
    [line] = readings(heard(text), "suction-line-temperature")
    assert (pressure.value, pressure.check, line.value, line.ucum) == (121, None, 54, "[degF]")
    assert "second time" in check_of(line) and line.check.alternatives[0].ucum == "[psi]"


def test_a_liquid_named_twice_too_but_not_where_the_line_has_its_own():
    [got] = readings(heard("RTU-6. Liquid 330, subcooling 11, liquid 98."), "liquid-line-temperature")
    assert got.value == 98 and got.check is not None
    text = "RTU-6. Suction 121, superheat 12, suction line 55, suction 71, subcooling 9."
    assert all("same breath" in check_of(r) for r in readings(heard(text), "suction-pressure"))


@pytest.mark.parametrize(
    "text",
    [
        "RTU-6. Superheat was 4, subcooling 11. Superheat is 12 now.",
        "RTU-6. Circuit 1 superheat 12, subcooling 10, circuit 2 superheat 14, subcooling 9.",
        "RTU-6. Return 74, supply 55. RTU-7. Return 73, supply 56.",
    ],
)
def test_read_again_or_of_another_circuit_or_machine_is_no_mark(text):
    assert not [r for r in read_notes(heard(text)).readings if "same breath" in check_of(r)]


def test_a_leg_that_stands_apart_is_marked():
    volts = readings(heard("RTU-6. Voltage L1 to L2 461, L2 to L3 463, L1 to L3 438."), "voltage")
    assert [bool(r.check) for r in volts] == [False, False, True]
    amps = readings(heard("RTU-6. Blower amps 8.2, 3.3, 8.1."), "current")
    assert [bool(r.check) for r in amps] == [False, True, False]


def test_legs_that_differ_a_little_or_all_are_not_marked():
    for text in (
        "RTU-6. Voltage L1 to L2 461, L2 to L3 463, L1 to L3 458.",
        "RTU-6. Blower amps 8.2, 8.8, 8.4.",
    ):
        assert not any(r.check for r in read_notes(heard(text)).readings)


def test_typed_values_are_what_was_meant():
    typed = read_notes(
        "RTU-6. Blower amps 8.2, 3.3, 8.1. Suction 121, head 345, suction 71, superheat 12."
    ).readings
    assert not any("apart" in check_of(r) or "breath" in check_of(r) for r in typed)


def test_a_minimum_of_something_else_is_no_opening_without_a_mark():
    text = "RTU-6. Inlet is 5.4, over the minimum. Plate says 5."
    assert all(r.check for r in readings(text, "opening"))
    [damper] = readings("RTU-6. Economizer was stuck. Minimum is 20.", "opening")
    assert damper.value == 20 and damper.check is None


def test_figures_parted_where_nobody_parts_a_number_do_not_agree():
    [got] = readings(heard("RTU-6. Control voltage fine. Voltage L1 to L2 251.", [(8, "25-1.")]), "voltage")
    assert "second hearing" in check_of(got) and 25.1 in [a.value for a in got.check.alternatives]
    [usual] = readings(heard("RTU-6. Control voltage fine. Voltage L1 to L2 251.", [(8, "2-51.")]), "voltage")
    assert usual.check is None


def test_degrees_and_humidity_grouped_oddly_are_read_the_likely_way():
    [got] = readings(heard("RTU-6. Return humidity 5.4%."), "humidity")
    assert got.value == 54 and got.check is not None


def test_a_point_taken_for_its_sign():
    [got] = [
        r for r in readings(heard("RTU-6. Space is 74.5, set.72."), "space-temperature") if r.basis == "set"
    ]
    assert got.value == 72 and got.check is not None


def test_what_a_state_is_told_of_is_repaired_by_sound():
    text = "RTU-6. The shieve is worn. The kompresser is noisy. The manager is happy."
    found = read_notes(heard(text, p=0.6)).findings
    assert [(f.component, bool(f.check)) for f in found] == [("sheave", True), ("compressor", True)]


def test_a_unit_that_a_flame_cannot_have():
    [got] = readings(heard("RTU-6. Flame sensor shows 3.2 microns."), "flame-signal")
    assert (got.value, got.ucum) == (3.2, "uA") and got.check is not None


def test_pounds_that_the_second_listener_heard():
    text = "RTU-6. Weighed in 8.5 ounces of R-410A."
    [got] = readings(heard(text, [(3, "eight pounds five ounces")]), "refrigerant-charge")
    assert (got.value, got.ucum) == (8.3125, "[lb_av]") and got.check is not None
    assert (8.5, "[oz_av]") in [(a.value, a.ucum) for a in got.check.alternatives]


def test_amps_in_quarters_are_marked_and_inches_are_not():
    [amps] = readings("RTU-6. Blower motor three and three quarters.", "current")
    assert "parts of an inch" in check_of(amps)
    [shaft] = readings("RTU-6. Shaft size is one and a quarter.", "shaft-size")
    assert shaft.check is None


def test_a_plate_gives_no_diameter():
    [_, rated] = readings("RTU-6. Blower pulley is 7 inches, plate 8.1.", "pulley-diameter")
    assert "plate" in check_of(rated)


def test_a_name_between_two_numbers_may_be_of_the_second():
    [got] = readings(heard("RTU-6. High fire 3.4 flame signal 27, igniter 48 ohms."), "flame-signal")
    assert got.check is not None


def test_control_volts_without_their_point():
    [got] = readings(heard("RTU-6. Control voltage 263."), "control-voltage")
    assert got.value == 26.3 and got.check is not None
    [line] = read_notes(heard("RTU-6. Control voltage 240 on the primary.")).readings
    assert (line.point, line.value) == ("voltage", 240)


def test_what_was_done_is_repaired_by_sound_before_its_object():
    work = read_notes(
        heard("RTU-6. Lineed up the sheaves. Graesed both bearings. Marvin the helper left.", p=0.6)
    ).work
    assert [(w.verb, w.component, bool(w.check)) for w in work] == [
        ("align", "sheave", True),
        ("lubricate", "bearing", True),
    ]
