"""How recognisers write what a technician said: parts of an inch, joined names, a lost apostrophe."""

import pytest
from tests.notes.test_left_open import heard, readings

from hatchnote.notes import read_notes


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("Deflection on the belt is 3 8ths.", 3 / 8),
        ("Deflection on the belt is 78ths.", 7 / 8),
        ("Belt deflection 5-16ths of an inch.", 5 / 16),
        ("Belt deflection 9 16th of an inch.", 9 / 16),
        ("Belt deflection is 1 and 3 16ths.", 1.1875),
        ("Belt deflection is an inch and 3 16ths.", 1.1875),
        ("Belt deflection is an inch and 1/8.", 1.125),
        ("Belt deflection is 1 3-8ths inch.", 1.375),
    ],
)
def test_parts_of_an_inch_as_recognisers_write_them(said, inches):
    [got] = readings(f"RTU-2. {said}", "belt-deflection")
    assert got.value == inches and got.ucum == "[in_i]"


@pytest.mark.parametrize("said", ["916th", "1316th", "932nd"])
def test_figures_run_together_with_their_part_are_marked(said):
    [got] = readings(heard(f"RTU-2. Belt deflection is {said} now."), "belt-deflection")
    top, below = {"916th": (9, 16), "1316th": (13, 16), "932nd": (9, 32)}[said]
    assert got.value == top / below and got.check is not None


def test_a_street_or_a_day_is_no_part_of_an_inch():
    facts = read_notes("RTU-2 on 116th Street, back on the 16th. Filters every 8th week. Superheat 14.")
    assert [r.point for r in facts.readings] == ["superheat"]


@pytest.mark.parametrize(
    ("said", "point", "value"),
    [
        ("Inlets 12.2 with it firing", "inlet-gas-pressure", 12.2),
        ("Low fire manifolds 1.8 now", "manifold-pressure", 1.8),
        ("Outsides 91, supplies 57", "supply-air-temperature", 57),
        ("Subcoolings 11", "subcooling", 11),
        ("Statics .62", "static-pressure", 0.62),
    ],
)
def test_a_name_whose_apostrophe_was_lost(said, point, value):
    assert [r.value for r in readings(heard(f"RTU-4. {said}."), point)] == [value]


def test_names_of_two_words_written_as_one():
    facts = read_notes("RTU-4. Runcap reads 39.2. Replaced the flamesensor. The blowerwheel is dirty.")
    assert [(r.component, r.value) for r in facts.readings] == [("run-capacitor", 39.2)]
    assert [w.component for w in facts.work] == ["flame-sensor"]
    assert [(f.component, f.condition) for f in facts.findings] == [("supply-fan-wheel", "dirty")]


def test_i_written_as_an_article():
    facts = read_notes(heard("RTU-4. Igniter is cracked, so a replaced it. Found a used filter in there."))
    assert [(w.verb, w.component, w.state) for w in facts.work] == [("replace", "igniter", "done")]


@pytest.mark.parametrize("said", ["1 in 3 sixteenths", "one in three sixteenths", "1 in 3/16"])
def test_and_written_as_in_before_a_fraction_is_marked(said):
    [got] = readings(heard(f"RTU-4. Shaft is {said}."), "shaft-size")
    assert got.value == 1.1875 and got.check is not None


@pytest.mark.parametrize(("heard_as", "count"), [("to", 2), ("too", 2), ("for", 4)])
def test_a_count_written_as_a_small_word_before_a_size(heard_as, count):
    [got] = read_notes(heard(f"RTU-4. Filters were plugged, replaced {heard_as} 16 by 25 by 2.")).parts
    assert (got.quantity, got.size) == (count, "16x25x2") and got.check is not None


@pytest.mark.parametrize(
    ("said", "component", "condition"),
    [
        ("It was off on the high pressure switch trip.", "high-pressure-switch", "tripped"),
        ("Found the blower belt crack and it squeals.", "supply-fan-belt", "cracked"),
        ("Contactor pit, so I changed it.", "contactor", "pitted"),
    ],
)
def test_a_state_that_lost_its_ending_is_marked(said, component, condition):
    found = [(f.component, f.check is not None) for f in read_notes(heard(f"RTU-4. {said}")).findings]
    assert (component, True) in found, condition


def test_figures_said_one_by_one_before_a_spoken_point():
    [got] = readings(heard("RTU-4. Control voltage 2-6 decimal 1."), "control-voltage")
    assert got.value == 26.1 and got.check is not None


SECOND = [
    ("Suction 118 and blower amps 5.1, 5.3.", 4, "5-1, 5-3.", "current", 5.1),
    ("Manifold is 9 and a quarter now.", 2, "nine and a", "manifold-pressure", 9.25),
    ("Weighed in 7 pounds 10 ounces total.", 2, "Seven pounds ten ounces", "refrigerant-charge", 7.625),
    ("Inlet 7 decimal 4 inches now.", 1, "7 decimals, 4 inches.", "inlet-gas-pressure", 7.4),
]


@pytest.mark.parametrize(("text", "word", "second", "point", "value"), SECOND)
def test_the_same_figures_in_another_grouping_agree(text, word, second, point, value):
    got = [r for r in readings(heard(text, [(word, second)]), point) if r.value == value]
    assert got and "second hearing" not in (got[0].check.why if got[0].check else "")


@pytest.mark.parametrize(
    ("text", "word", "second", "point"),
    [
        ("Motor power is 1.5 horse now.", 3, "fifteen horse", "power"),
        ("Manifold is 9 and a quarter now.", 2, "five and a", "manifold-pressure"),
        ("Suction pressure 118 psig.", 2, "eighty psig", "suction-pressure"),
    ],
)
def test_other_figures_do_not_agree(text, word, second, point):
    [got] = readings(heard(text, [(word, second)]), point)
    assert got.check is not None and "second hearing" in got.check.why


def test_a_second_hearing_parted_at_the_point_settles_where_it_stands():
    whole = heard("RTU-4. Compressor 1 amps 226.", [(4, "amps 226.")])
    parted = heard("RTU-4. Compressor 1 amps 226.", [(4, "amps 22-6.")])
    [a], [b] = readings(whole, "current"), readings(parted, "current")
    assert (a.value, b.value) == (22.6, 22.6) and a.check is not None and b.check is None


def test_volts_that_a_point_was_put_into():
    [part] = read_notes(heard("RTU-4. Replaced the run capacitor with a new 7.5, 3.70 volt.")).parts
    assert part.size == "7.5 uF 370 V"
    [got] = readings(heard("RTU-4. Line voltage is 2.30 volts."), "voltage")
    assert got.value == 230 and got.check is not None
    [typed] = read_notes("RTU-4. Control voltage 2.40 volts.").readings
    assert typed.value == 2.4


def test_a_comma_inside_a_fraction():
    [part] = read_notes(heard("RTU-4. Panel screws were missing, put in 6, 3, 16ths.")).parts
    assert (part.quantity, part.size) == (6, "3/16 in.")


@pytest.mark.parametrize(
    ("said", "value"), [("Supply static is point at.", 0.8), ("Filter drop point to 6, all new.", 0.26)]
)
def test_a_figure_behind_a_spoken_point_written_as_a_small_word(said, value):
    got = read_notes(heard(f"RTU-4. {said}")).readings
    assert [(r.value, r.check is not None) for r in got] == [(value, True)]


def test_a_setting_is_no_figure_behind_a_point():
    [got] = read_notes(heard("RTU-4. Moved the space set point to 71.")).readings
    assert got.value == 71


@pytest.mark.parametrize(
    ("said", "size"),
    [
        ("Belt was worn thin, put in a 52 on it.", "A52"),
        ("The belt is shot. Order a 71, I had none.", "A71"),
        ("Belt slipping, installed a 38 and set it.", "A38"),
    ],
)
def test_a_belt_whose_letter_was_written_as_an_article(said, size):
    [part] = read_notes(heard(f"RTU-4. {said}")).parts
    assert (part.quantity, part.size) == (1, size) and part.check is not None


def test_an_article_before_a_fuse_is_no_belt():
    parts = read_notes(heard("RTU-4. Belt is good. Put in a 40 amp fuse.")).parts
    assert [p.component for p in parts] == ["fuse"]


def test_a_head_written_as_had_between_two_pressures():
    [got] = readings(heard("RTU-4. Suction 119, had 344, superheat 9."), "discharge-pressure")
    assert got.value == 344 and got.check is not None
    text = "RTU-4. Compressor 1 had 94 on the suction and 280 on the head when I came."
    assert {r.point: r.value for r in read_notes(heard(text)).readings} == {
        "suction-pressure": 94,
        "discharge-pressure": 280,
    }


def test_the_number_of_a_circuit_written_as_a_small_word():
    [got] = readings(heard("RTU-4. Circuit to suction 119."), "suction-pressure")
    assert got.circuit == "2" and got.check is not None
    assert not read_notes(heard("RTU-4. Megged compressor to ground, all good.")).readings


def test_poles_by_their_sound():
    [part] = read_notes(heard("RTU-4. Changed the contactor, 3 pull 40 amp.")).parts
    assert part.size == "3-pole 40 A" and part.check is not None


def test_a_flue_and_a_head_by_their_usual_spelling_need_no_mark():
    got = read_notes(heard("RTU-4. In the flu, oxygen 7.2. Suction 119, heads 344.")).readings
    assert [(r.value, r.check) for r in got] == [(7.2, None), (119, None), (344, None)]


@pytest.mark.parametrize(
    ("said", "point", "value"),
    [
        ("Manifold, 3, 4, inlet, 6, 9, all good.", "manifold-pressure", 3.4),
        ("Oxygen 7, 8, stack 390.", "oxygen", 7.8),
        ("Return 7, 4, supply 5, 6.", "return-air-temperature", 74),
        ("Superheat 1, 2, subcooling 9.", "superheat", 12),
        ("Flame signal for boy, one.", "flame-signal", 4.1),
        ("Flame signal 3 boy 2 now.", "flame-signal", 3.2),
    ],
)
def test_figures_of_one_value_parted_by_commas_are_read_together_and_marked(said, point, value):
    [got] = readings(heard(f"RTU-4. {said}"), point)
    assert got.value == value and got.check is not None


def test_three_figures_in_a_row_of_what_has_one_value_are_marked():
    assert all(r.check for r in readings(heard("RTU-4. Flame signal, 3, 4, 8, all new."), "flame-signal"))


def test_ounces_written_with_a_small_word():
    [got] = readings(heard("RTU-4. Plate says 9 pounds for ounces."), "refrigerant-charge")
    assert got.value == 9.25 and got.check is not None


@pytest.mark.parametrize(
    ("said", "point", "value"),
    [
        ("Airflow comes out to 3200, and 40 CFM.", "airflow", 3240),
        ("The wheel turns 1000 and 75 RPM.", "speed", 1075),
        ("Blower motor is 7, and a half horse.", "power", 7.5),
        ("Total static 1.4.6, filters dirty.", "static-pressure", 1.46),
    ],
)
def test_a_number_cut_in_two_is_read_as_one_and_marked(said, point, value):
    [got] = readings(heard(f"RTU-4. {said}"), point)
    assert got.value == value and got.check is not None


def test_two_numbers_beside_each_other_stay_two():
    got = read_notes(heard("RTU-4. Blower turns 1100 RPM, and 40 minutes later it tripped.")).readings
    assert [r.value for r in got] == [1100]


def test_a_capacitor_sized_in_microns():
    [part] = read_notes(heard("RTU-4. Replaced it with a new 7 and a half micron run cap, 370 volt.")).parts
    assert part.size == "7.5 uF 370 V" and part.check is not None
    [vacuum] = readings(heard("RTU-4. Pulled it down to 450 microns, then put the cap back on."), "vacuum")
    assert vacuum.value == 450 and vacuum.ucum == "um[Hg]"


def test_an_ending_lost_behind_something_done_is_done_and_marked():
    for said in (
        "Cleaned the flame sensor and replace the igniter.",
        "Tighten the belt and grease the bearings.",
    ):
        work = read_notes(heard(f"RTU-4. {said}")).work
        assert [w.state for w in work] == ["done", "done"] and work[1].check is not None
    later = read_notes(
        heard("RTU-4. Cleaned the flame sensor and need to replace the igniter tomorrow.")
    ).work
    assert [w.state for w in later] == ["done", "needed"]


@pytest.mark.parametrize("said", ["1 and 7 and 16", "1 and 7, 16th", "1 and 716th"])
def test_a_mixed_number_whose_ending_was_lost(said):
    [got] = readings(heard(f"RTU-4. Shaft is {said}."), "shaft-size")
    assert got.value == 1.4375 and got.check is not None


def test_a_motor_larger_than_most_keeps_its_amps():
    measured, rated = readings(heard("RTU-4. Blower motor at 57 amps, plate says 51."), "current")
    assert (measured.value, rated.value) == (57, 51) and measured.check is not None
