"""Whether somebody was informed, and of which machine."""

import pytest

from hatchnote.notes import read_notes


@pytest.mark.parametrize(
    "said",
    [
        "RTU-1 heat exchanger is cracked. Told the manager at ten twenty, he signed.",
        "RTU-1 heat exchanger is cracked, and I let the office know.",
        "RTU-1 heat exchanger is cracked. Spoke with the owner about it.",
    ],
)
def test_somebody_was_informed(said):
    assert [tag for tag, _ in read_notes(said).told] == ["RTU-1"]


@pytest.mark.parametrize(
    "said",
    [
        "RTU-1 heat exchanger is cracked. Manager told me it was fine last year.",
        "RTU-1 heat exchanger is cracked. Did not tell the owner yet, have not told the manager.",
        "RTU-1 heat exchanger is cracked.",
    ],
)
def test_nobody_was_informed(said):
    assert read_notes(said).told == ()
