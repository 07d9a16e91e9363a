"""Edits: merged by field, conflicts told with both versions, replayed on new readings of the same words."""

import uuid

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchnote.domain import Check, Facts, Photo, Reading, Span, WorkItem
from hatchnote.errors import BadInput
from hatchnote.tickets.edits import Draft, Edit, merge, replay

READING = Reading(
    id="r1", point="suction-pressure", heard=Span(0, 9, "d", 1.0, 2.0), said="one eighteen", value=118.0,
    unit="psig", ucum="[psi]", tag="RTU-3", confidence=0.4, check=Check("Heard two ways."),
)  # fmt: skip
WORK = WorkItem(id="w1", verb="replace", state="done", heard=Span(10, 20), component="contactor", tag="RTU-3")
PHOTO = Photo(id="p1", sha256="0" * 64, name="a.jpg", width=4, height=3)
DRAFT = Draft(Facts(readings=(READING,), work=(WORK,), tags=("RTU-3",)), (PHOTO,))


def edit(op, kind="reading", item="r1", **more):
    return Edit(id=str(uuid.uuid4()), at="2026-03-04T12:00:00Z", op=op, kind=kind, item=item, **more)


def reading(draft, id="r1"):
    return next((r for r in draft.facts.readings if r.id == id), None)


def test_a_field_that_still_is_what_its_author_saw_is_set_and_the_check_is_settled():
    outcome = merge(DRAFT, [edit("set", field="value", before=118, after=180)])
    assert reading(outcome.draft).value == 180
    assert reading(outcome.draft).check is None
    assert reading(outcome.draft).said == "one eighteen"
    assert outcome.applied[0].was["value"] == 118
    assert outcome.conflicts == ()


def test_a_field_that_asks_nothing_leaves_the_check_standing():
    outcome = merge(DRAFT, [edit("set", field="moment", before=None, after="as-left")])
    assert reading(outcome.draft).check is not None


def test_two_people_on_one_field_the_second_is_told_and_nothing_is_overwritten():
    first = merge(DRAFT, [edit("set", field="value", before=118, after=180)]).draft
    second = merge(
        first,
        [
            edit("set", field="value", before=118, after=181),
            edit("set", field="legs", before=None, after="L1-L2"),
        ],
    )
    assert reading(second.draft).value == 180
    assert reading(second.draft).legs == "L1-L2"
    [conflict] = second.conflicts
    assert (conflict.edit.before, conflict.edit.after, conflict.theirs) == (118, 181, 180)


def test_two_people_who_want_the_same_are_of_one_mind():
    first = merge(DRAFT, [edit("set", field="value", before=118, after=180)]).draft
    assert merge(first, [edit("set", field="value", before=118, after=180)]).conflicts == ()


def test_an_item_taken_away_by_somebody_else_is_told():
    gone = merge(DRAFT, [edit("remove")]).draft
    assert reading(gone) is None
    [conflict] = merge(gone, [edit("set", field="value", before=118, after=1)]).conflicts
    assert conflict.gone
    assert merge(gone, [edit("remove")]).conflicts == ()


def test_accepting_what_has_changed_meanwhile_is_a_conflict():
    changed = merge(DRAFT, [edit("set", field="value", before=118, after=180)]).draft
    assert merge(changed, [edit("accept", before={"value": 118})]).conflicts[0].theirs == 180
    assert merge(DRAFT, [edit("accept", before={"value": 118})]).conflicts == ()
    assert reading(merge(DRAFT, [edit("accept")]).draft).check is None


def test_an_item_moves_to_another_machine():
    outcome = merge(
        DRAFT, [edit("move", before="RTU-3", after="RTU-4"), edit("move", "photo", "p1", after="RTU-4")]
    )
    assert reading(outcome.draft).tag == "RTU-4"
    assert outcome.draft.photos[0].tag == "RTU-4"
    assert outcome.draft.facts.tags == ("RTU-3", "RTU-4")


def test_an_item_is_added_by_hand_once():
    new = edit(
        "add",
        "part",
        "n1",
        after={"component": "contactor", "use": "installed", "quantity": 1, "tag": "RTU-3"},
    )
    outcome = merge(DRAFT, [new, new])
    assert [(p.id, p.component, p.rule) for p in outcome.draft.facts.parts] == [
        ("n1", "contactor", "added by hand")
    ]


def test_a_machine_that_looks_right_is_noted_and_its_checks_stand():
    outcome = merge(DRAFT, [edit("accept", "machine", "RTU-3")])
    assert outcome.draft.looks_right == ("RTU-3",)
    assert reading(outcome.draft).check is not None


@pytest.mark.parametrize(
    "bad",
    [
        edit("set", field="id", after="x"),
        edit("set", field="heard", after={}),
        edit("set", field="value", after="much"),
        edit("set", field="value", after=float("nan")),
        edit("set", field="point", after="No Slug"),
        edit("set", field="tag", after="RTU-9"),
        edit("set", "work", "w1", field="state", after="perhaps"),
        edit("set", "photo", "p1", field="rotation", after=45),
        edit("add", "reading", "n", after={"point": "current"}),
        edit("add", "reading", "n", after={"point": "current", "value": 3, "colour": "red"}),
        edit("add", "photo", "n", after={}),
        edit("remove", "photo", "p1"),
        edit("set", "machine", "RTU-3", field="tag", after="x"),
        edit("set", item=None, field="value", after=3),
    ],
)
def test_an_edit_that_makes_no_sense_is_refused_in_a_sentence(bad):
    with pytest.raises(BadInput) as told:
        merge(DRAFT, [bad])
    assert str(told.value).endswith(".")


def test_replaying_on_a_new_reading_of_the_words_keeps_what_people_said():
    made = merge(
        DRAFT, [edit("set", field="value", before=118, after=180), edit("accept", "work", "w1")]
    ).applied
    reread = Draft(Facts(work=(WORK,)))
    again = replay(reread, made)
    assert reading(again).value == 180
    assert reading(again).heard == READING.heard


_FIELDS = st.sampled_from(["value", "text", "legs", "circuit", "number", "component"])
_VALUES = {"value": st.floats(-1e6, 1e6), "component": st.sampled_from(["compressor", "sheave", None])}


@given(st.data())
def test_replaying_the_accepted_edits_gives_the_same_draft(data):
    """Whatever several people send, the record of what was accepted is enough to make the ticket again."""
    draft, accepted = DRAFT, []
    for _ in range(data.draw(st.integers(0, 8))):
        name = data.draw(_FIELDS)
        after = data.draw(_VALUES.get(name, st.one_of(st.none(), st.text("abc123-", min_size=1, max_size=5))))
        before = data.draw(st.sampled_from([getattr(reading(draft), name), "stale"]))
        outcome = merge(draft, [edit("set", field=name, before=before, after=after)])
        now = getattr(reading(draft), name)
        assert bool(outcome.conflicts) == (before not in (now,) and after != now)
        draft, accepted = outcome.draft, [*accepted, *outcome.applied]
    assert replay(DRAFT, accepted) == draft
