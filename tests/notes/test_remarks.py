"""Short remarks of one trade veteran's kind, invented, each with all that the ticket should say of it.

The kinds were found in remarks that are not kept here: what switches work at, lengths that are no pressures, values
told roughly, belts let off and pulleys brought in line, what others did, what only happens. One line of the file each:
what was said | readings | work | parts | findings, several divided by ";".
"""

from pathlib import Path

import pytest
from tests.notes.short import all_of

from hatchnote.notes import read_notes

LINES = [
    [*(column.strip() for column in line.split("|")), "", "", "", ""][:5]
    for line in (Path(__file__).parent / "remarks.txt").read_text(encoding="utf-8").splitlines()
    if line.strip() and not line.startswith("#")
]


@pytest.mark.parametrize("line", LINES, ids=[line[0] for line in LINES])
def test_a_remark_says_all_of_this_and_no_more(line):
    expected = [sorted(x.strip() for x in column.split(";") if x.strip()) for column in line[1:]]
    assert list(all_of(line[0])) == expected


@pytest.mark.parametrize(
    "said",
    [
        "Head was three hundred and something, I didn't write it down.",
        "Suction's forty some.",
        "Flue's at ninety odd parts C O.",
        "Compressor's pulling twelve and change.",
    ],
)
def test_a_value_told_only_roughly_is_marked(said):
    readings = read_notes(said).readings
    assert [bool(r.check and "only roughly told" in r.check.why) for r in readings] == [True]
    assert not read_notes(said).work


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("Return thermistor is eleven two.", "ohms or kilohms were not said"),
        ("Supply sensor's at nine point four.", "ohms or kilohms were not said"),
        ("The inducer pulls point eight five.", "may be the draft it pulls"),
        ("Draft inducer's clean and pulling one point one.", "may be the draft it pulls"),
    ],
)
def test_a_bare_number_of_a_part_that_may_be_two_things_is_marked(said, why):
    readings = read_notes(said).readings
    assert [bool(r.check and why in r.check.why) for r in readings] == [True]
