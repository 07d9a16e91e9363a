"""Twelve dictations in; the values, cautions, gaps and hints that follow, and nothing else."""

import pytest
from scenarios import SCENARIOS

from hatchnote.notes import read_notes
from hatchnote.trade import judge

ALWAYS = {"C01", "C04", "C15"}


@pytest.fixture(scope="module")
def judged():
    return {s.name: judge(read_notes(s.said), s.plates, altitude_ft=s.altitude_ft) for s in SCENARIOS}


def test_there_are_twelve():
    assert len({s.name for s in SCENARIOS}) == 12


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda s: s.name)
def test_values_that_follow(scenario, judged):
    got = [(c.name, c.value, c.judgement) for c in judged[scenario.name].computed]
    assert [(n, j) for n, _, j in got] == [(n, j) for n, _, j in scenario.computed]
    for (name, value, _), (_, expected, _) in zip(got, scenario.computed, strict=True):
        assert value == (None if expected is None else pytest.approx(expected, abs=0.11)), name


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda s: s.name)
def test_cautions_that_follow(scenario, judged):
    cautions = [c for c in judged[scenario.name].cautions if c.kind == "caution"]
    assert {c.id.split("-")[0] for c in cautions} == scenario.cautions | ALWAYS


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda s: s.name)
def test_gaps_that_follow(scenario, judged):
    assert [m.what for m in judged[scenario.name].missing] == scenario.missing


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda s: s.name)
def test_hints_that_follow(scenario, judged):
    hints = [c for c in judged[scenario.name].cautions if c.kind == "hint"]
    assert [h.id for h in hints] == scenario.hints
    assert all(h.text.startswith("Consistent with ") and h.because for h in hints)


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda s: s.name)
def test_every_value_shows_its_numbers_and_source(scenario, judged):
    for c in judged[scenario.name].computed:
        assert c.formula
        assert c.source
        assert c.inputs or c.judgement == "unknown"
