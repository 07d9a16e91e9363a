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
