"""A change taken back counts no more, whatever it was, and it stays on record."""

import pytest

from hatchnote.domain import Alternative, Check, Facts, Part, Reading, Span
from hatchnote.errors import BadInput
from hatchnote.tickets.edits import Conflict, Draft, Edit, merge, replay
from hatchnote.tickets.takeback import living, take_back, void

AT = "2026-03-04T15:00:00Z"
DOUBT = Check("no unit was said", (Alternative(34.0, "[psi]", "34 psig"),))
READ = Draft(
    Facts(
        readings=(
            Reading("r1", "suction-pressure", Span(0, 5), "one", value=118.0, tag="RTU-3"),
            Reading("r2", "discharge-pressure", Span(6, 9), "two", value=340.0, confidence=0.4, check=DOUBT),
            Reading("r3", "superheat", Span(10, 12), "three", value=12.0),
        ),
        parts=(Part("p1", "contactor", "installed", Span(13, 15), size="40 A", tag="RTU-3"),),
    )
)


def edit(id, op, item="r2", kind="reading", **more):
    return Edit(id, AT, op, kind, item, **more)


def back(id, of):
    return edit(id, "back", after=of)


CHANGES = [
    edit("e", "accept"),
    edit("e", "remove"),
    edit("e", "remove", "p1", "part"),
    edit("e", "set", field="value", before=340.0, after=34.0),
    edit("e", "move", "r1", field="tag", before="RTU-3", after="RTU-9"),
    edit("e", "add", "new", after={"point": "superheat", "value": 3}),
]


@pytest.mark.parametrize("change", CHANGES, ids=lambda e: f"{e.op}-{e.kind}")
def test_the_draft_is_as_if_it_had_not_been_made(change):
    (applied,) = merge(READ, [change]).applied
    assert replay(READ, [applied]) != READ
    noted = take_back(back("b", "e"), [applied], replay(READ, [applied]))
    assert (noted.kind, noted.item) == (change.kind, change.item)
    assert replay(READ, living([applied, noted])) == READ


def test_a_taking_back_can_be_taken_back():
    record = [("e", "set", 1), ("b", "back", "e"), ("c", "back", "b")]
    assert void(record) == {"b"}
    assert void(record[:2]) == {"e"}


def test_what_somebody_built_on_is_told_and_not_undone():
    mine = edit("e", "set", field="value", before=340.0, after=34.0)
    theirs = edit("f", "set", field="value", before=34.0, after=341.0)
    answer = take_back(back("b", "e"), [mine, theirs], replay(READ, [mine, theirs]))
    assert isinstance(answer, Conflict)
    assert (answer.theirs, answer.edit.before, answer.edit.after) == (341, 34, 340)


def test_another_field_of_the_same_item_is_no_matter():
    mine = edit("e", "set", field="value", before=340.0, after=34.0)
    theirs = edit("f", "set", field="circuit", before=None, after="1")
    assert isinstance(take_back(back("b", "e"), [mine, theirs], replay(READ, [mine, theirs])), Edit)


def test_the_first_value_comes_back_with_its_doubt():
    mine = edit("e", "set", field="value", before=340.0, after=34.0)
    assert replay(READ, [mine]).facts.readings[1].check is None
    assert replay(READ, living([mine, back("b", "e")])).facts.readings[1].check == DOUBT


def test_what_is_not_on_record_cannot_be_taken_back():
    with pytest.raises(BadInput):
        take_back(back("b", "nothing"), [], READ)


def test_twice_is_once():
    mine = edit("e", "remove")
    record = [mine, back("b", "e")]
    again = take_back(back("c", "e"), record, READ)
    assert isinstance(again, Edit)
    assert living([*record, again]) == []
