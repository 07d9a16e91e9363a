"""Several machines told in one breath, in rows by number, and turn by turn; what a heading sets for what follows.

The forms are common practice of the trade, no source.
"""

import pytest
from tests.notes.short import finding, part, reading, work

from hatchnote.notes import read_notes

ROWS = {
    "R T Us two through four. Inducer amps. Two is one point one, three is one point three, four is one point two.": [
        "RTU-2 inducer-motor current 1.1 A",
        "RTU-3 inducer-motor current 1.3 A",
        "RTU-4 inducer-motor current 1.2 A",
    ],
    "Units five, six and seven. Suctions in order, one nineteen, one twenty two, one sixteen. Heads, three forty, "
    "three fifty, three thirty eight.": [
        "RTU-5 suction-pressure 119 psig",
        "RTU-6 suction-pressure 122 psig",
        "RTU-7 suction-pressure 116 psig",
        "RTU-5 discharge-pressure 340 psig",
        "RTU-6 discharge-pressure 350 psig",
        "RTU-7 discharge-pressure 338 psig",
    ],
    "R T U four, then R T U five. Blower amps, four, three point one, five, two point nine.": [
        "RTU-4 supply-fan-motor current 3.1 A",
        "RTU-5 supply-fan-motor current 2.9 A",
    ],
    "R T U two and R T U three. Two's manifold is three four, three's is three six.": [
        "RTU-2 manifold-pressure 3.4 in. w.c.",
        "RTU-3 manifold-pressure 3.6 in. w.c.",
    ],
    "R T U two and R T U three. Superheat is eleven on two and nine on three.": [
        "RTU-2 superheat 11 °F",
        "RTU-3 superheat 9 °F",
    ],
    "R T U two and R T U three. Inlet on two, seven one, inlet on three, six eight.": [
        "RTU-2 inlet-gas-pressure 7.1 in. w.c.",
        "RTU-3 inlet-gas-pressure 6.8 in. w.c.",
    ],
    "R T U six. Compressor one is nine two, two is nine four.": [
        "RTU-6 compressor 1 current 9.2 A",
        "RTU-6 compressor 2 current 9.4 A",
    ],
}
HEADINGS = {
    "RTU-3. Flame signal. Two point six.": ["RTU-3 flame-signal 2.6 uA"],
    "RTU-3. Inducer amps. Before, one point six. After, one point two.": [
        "RTU-3 inducer-motor current 1.6 A as-found",
        "RTU-3 inducer-motor current 1.2 A as-left",
    ],
    "RTU-3. Filters. Four replaced. Superheat is nine.": ["RTU-3 superheat 9 °F"],
}
DIFFERENCES = {
    "RTU-3. Return sixty six, supply one oh six, forty degree split.": "temperature-rise",
    "RTU-3. Return seventy six, supply fifty eight, the difference is eighteen.": "temperature-drop",
    "RTU-3. Delta T is forty one.": "temperature-rise",
}


@pytest.mark.parametrize("text", [*ROWS, *HEADINGS])
def test_rows_and_headings(text):
    want = (ROWS | HEADINGS)[text]
    assert sorted(reading(r) for r in read_notes(text).readings) == sorted(want)


@pytest.mark.parametrize("text", DIFFERENCES)
def test_a_difference_is_what_the_air_did(text):
    assert read_notes(text).readings[-1].point == DIFFERENCES[text]


def test_what_is_said_of_machines_by_number():
    facts = read_notes(
        "R T U one and R T U two. One's belt is cracked. Two is low on charge. One and two, coils dirty."
    )
    assert {"RTU-1 supply-fan-belt cracked", "RTU-2 refrigerant low-charge"} <= set(
        map(finding, facts.findings)
    )


def test_a_plural_of_machines_names_them_all():
    assert read_notes("Rooftops eight through eleven look fine.").tags == (
        "RTU-8",
        "RTU-9",
        "RTU-10",
        "RTU-11",
    )
    assert read_notes("R T U four, sixteen amps on the blower.").tags == ("RTU-4",)


FILTERS = {
    "R T Us five through seven. Filters all changed. Five got four sixteen by twenty by two, six and seven got three "
    "each of the twenty by twenty by one.": [
        "RTU-5 4 air-filter 16x20x2 installed",
        "RTU-6 3 air-filter 20x20x1 installed",
        "RTU-7 3 air-filter 20x20x1 installed",
    ],
    "Filters changed on R T U three and R T U four. R T U three, six eighteen twenty four fours. R T U four, two of "
    "the same.": [
        "RTU-3 6 air-filter 18x24x4 installed",
        "RTU-4 2 air-filter 18x24x4 installed",
    ],
}


@pytest.mark.parametrize("text", FILTERS)
def test_parts_told_machine_by_machine(text):
    assert sorted(part(p) for p in read_notes(text).parts if p.size) == FILTERS[text]


def test_a_heading_names_the_part_of_a_row_of_machines():
    facts = read_notes("R T Us two through four. Belts. Two and three, good. Four's is frayed, tightened it.")
    assert sorted(map(finding, facts.findings)) == [
        "RTU-2 supply-fan-belt normal",
        "RTU-3 supply-fan-belt normal",
        "RTU-4 supply-fan-belt worn",
    ]
    assert [work(w) for w in facts.work] == ["RTU-4 tighten supply-fan-belt done"]


PLAIN_TONGUE = {
    "RTU-8. The gaskets I replace, three pieces.": "RTU-8 replace gasket x3 done",
    "RTU-8. Belts got swapped, all two, B forty eight.": "RTU-8 replace supply-fan-belt x2 done",
    "RTU-8. I recommend change the inducer motor, customer say no, too much money.": (
        "RTU-8 replace inducer-motor declined"
    ),
}


@pytest.mark.parametrize("text", PLAIN_TONGUE)
def test_work_without_articles_and_tenses(text):
    assert [work(w) for w in read_notes(text).work] == [PLAIN_TONGUE[text]]


def test_small_words_that_are_not_what_they_seem():
    pair = read_notes("RTU-8. Subcooling four before, after nine.").readings
    assert [(r.value, r.moment) for r in pair] == [(4.0, "as-found"), (9.0, "as-left")]
    legs = read_notes("RTU-8. Blower draws L one five two L two five four L three five three.").readings
    assert [(r.legs, r.value) for r in legs] == [("L1", 5.2), ("L2", 5.4), ("L3", 5.3)]
    assert "RTU-8 condensate-line plugged" in map(finding, read_notes("RTU-8. Drain line was plug.").findings)


def test_a_tag_with_its_full_stops_is_the_tag_and_its_number_no_value():
    facts = read_notes("R.T.U.3, suction pressure, 118 psig.")
    assert [(r.tag, r.value) for r in facts.readings] == [("RTU-3", 118)]


def test_a_taking_back_of_something_else_voids_no_reading_of_long_ago():
    facts = read_notes(
        "Volts L one L two four sixty eight. Belts are A forty, three of them, all changed. Scratch that, only two."
    )
    assert [(r.value, r.legs) for r in facts.readings if r.point == "voltage"] == [(468, "L1-L2")]
    assert not facts.withdrawn
    belts = [p for p in facts.parts if p.component == "supply-fan-belt"]
    assert belts and all(p.check for p in belts)


def test_a_taking_back_of_the_reading_just_told_still_voids_it():
    facts = read_notes("Suction one eighteen. Scratch that, one sixteen.")
    assert [r.value for r in facts.readings] == [116] and [r.value for r in facts.withdrawn] == [118]


def test_a_coil_that_nobody_named_is_marked_and_the_fan_told_of_says_which():
    (wash,) = read_notes("Condenser fan is fine. Washed the coil.").work
    assert wash.component == "condenser-coil" and wash.check.alternatives[0].text == "evaporator-coil"
    (named,) = read_notes("Washed the evaporator coil.").work
    assert named.check is None


@pytest.mark.parametrize(
    "said",
    [
        "Store sign shows open.",
        "The sign says open from eight to five.",
        "Economizer damper. Actuator reads open.",
    ],
)
def test_an_open_that_no_meter_shows_is_no_reading(said):
    assert read_notes(said).readings == ()


@pytest.mark.parametrize(
    "said",
    [
        "Igniter reads open.",
        "Checked the limit with the meter, it shows open.",
        "Flame rod. Reads wide open.",
    ],
)
def test_an_open_that_a_meter_shows_is_one(said):
    assert [(r.point, r.text) for r in read_notes(said).readings] == [("resistance", "open")]


def test_a_split_is_judged_by_the_air_told_beside_it():
    facts = read_notes(
        "Return seventy, supply ninety, split twenty."
        " Cooling now, return seventy five, supply fifty five, split twenty."
    )
    assert [r.point for r in facts.readings if "temperature-" in r.point and r.value == 20] == [
        "temperature-rise",
        "temperature-drop",
    ]


def test_that_makes_three_is_no_measurement():
    assert read_notes("Compressor one megged fine. That makes three good.").readings == ()
