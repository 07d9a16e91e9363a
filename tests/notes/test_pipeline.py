"""The pipeline: every stage's needs are filled by the stages before it."""

from hatchnote.notes.pipeline import STAGES, unfilled


def test_every_need_is_filled():
    assert unfilled() == []


def test_a_missing_stage_is_noticed():
    without = [s for s in STAGES if s.name != "figures"]
    assert any(need.endswith("values") for need in unfilled(without))


def test_a_stage_in_the_wrong_place_is_noticed():
    assert unfilled(list(reversed(STAGES)))


def test_stages_have_names_of_their_own_and_say_what_they_do():
    names = [s.name for s in STAGES]
    assert len(set(names)) == len(names)
    assert all(s.run.__doc__ for s in STAGES)
