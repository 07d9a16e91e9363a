"""Dictations joined: read as one, put back where they were heard, with the ids that people's edits name."""

from dataclasses import replace

import pytest

from hatchnote.domain import Facts, Transcript, Word
from hatchnote.errors import BadInput
from hatchnote.notes import read_notes
from hatchnote.tickets.edits import Draft, Edit, replay
from hatchnote.tickets.together import ACROSS, check_join, groups, links, read_together

AT = "2026-03-04T15:00:00Z"


def spoken(id, text, *, pause=0.5):
    """Half a second a word."""
    words = tuple(Word(w, pause + n * 0.5, pause + n * 0.5 + 0.4, 0.9) for n, w in enumerate(text.split()))
    return Transcript(words, id=id, duration_s=pause + len(words) * 0.5)


def read(*texts):
    """The joined reading, with the dictations and what was read from each alone."""
    parts = [spoken("ABC"[n], t) for n, t in enumerate(texts)]
    before = [read_notes(p) for p in parts]
    return read_together(parts, before, read_notes), parts, before


def point(facts, name):
    return next(r for r in facts.readings if r.point == name)


def edit(op, item, kind="reading", **more):
    return Edit(f"{op}-{item}", AT, op, kind, item, **more)


def test_a_value_cut_in_two_is_one_value_and_says_so():
    made, parts, before = read("RTU-3 suction pressure is one.", "Eighteen psig. Head three forty.")
    assert point(before[0], "suction-pressure").value == 1
    suction = point(made.facts, "suction-pressure")
    assert (suction.value, suction.check.why) == (118, ACROSS)
    assert (suction.heard.dictation, suction.heard.continued.dictation) == ("A", "B")
    assert parts[0].text[suction.heard.start_char : suction.heard.end_char] == "one"
    rest = suction.heard.continued
    assert parts[1].text[rest.start_char : rest.end_char].startswith("Eighteen")
    last = parts[0].words[-1]
    assert (suction.heard.start, suction.heard.end, rest.start) == (last.start, last.end, 0.5)


def test_the_machine_named_before_the_cut_is_the_machine_after_it():
    made, _parts, before = read("RTU-3 suction pressure is one.", "Eighteen psig. Head three forty.")
    head, alone = point(made.facts, "discharge-pressure"), point(before[1], "discharge-pressure")
    assert (alone.tag, head.tag) == (None, "RTU-3")
    assert head.id == alone.id
    assert head.heard == alone.heard


def test_two_whole_sentences_stay_two():
    made, _, before = read("RTU-2. Replaced the contactor.", "The belt was worn.")
    assert [(w.verb, w.component) for w in made.facts.work] == [("replace", "contactor")]
    assert [w.id for w in made.facts.work] == [w.id for w in before[0].work]
    assert [f.tag for f in made.facts.findings] == ["RTU-2"]
    assert not any(i.check and i.check.why == ACROSS for i in (*made.facts.work, *made.facts.findings))


def test_a_sentence_that_breaks_off_goes_on():
    made, _, _ = read("RTU-2 replaced the.", "Contactor and the belt.")
    assert {w.component for w in made.facts.work} == {"contactor", "supply-fan-belt"}


def test_a_point_before_the_cut_gets_the_value_behind_it():
    made, _, before = read("RTU-3 suction pressure.", "118 psig.")
    assert not before[0].readings and not before[1].readings
    assert point(made.facts, "suction-pressure").value == 118


def test_three_in_a_row():
    made, _, _before = read("RTU-3 suction pressure is", "one eighteen psig head", "three forty psig, rated")
    values = {r.point: r.value for r in made.facts.readings}
    assert values["suction-pressure"] == 118 and values["discharge-pressure"] == 340
    head = point(made.facts, "discharge-pressure").heard
    assert head.dictation in ("B", "C")


def test_what_is_read_from_the_same_words_keeps_its_id_so_that_corrections_hold():
    made, _, before = read(
        "RTU-3 suction pressure 118 psig and the head is three", "forty psig. Superheat 12 degrees."
    )
    suction, heat = point(before[0], "suction-pressure"), point(before[1], "superheat")
    edits = [
        edit("set", suction.id, field="value", before=118.0, after=116.0),
        edit("move", heat.id, field="tag", before=None, after="RTU-9"),
    ]
    facts = replay(Draft(made.facts), edits, made.followed_by).facts
    assert point(facts, "suction-pressure").value == 116
    assert point(facts, "superheat").tag == "RTU-9"
    assert point(facts, "discharge-pressure").value == 340
    assert len(facts.readings) == len(made.facts.readings)


def test_a_correction_of_half_a_value_stands_and_the_whole_one_is_offered():
    made, _, before = read("RTU-3 suction pressure is one.", "Eighteen psig.")
    half = point(before[0], "suction-pressure")
    wrong = edit("set", half.id, field="value", before=1.0, after=100.0)
    (r,) = replay(Draft(made.facts), [wrong], made.followed_by).facts.readings
    assert r.value == 100
    assert [a.value for a in r.check.alternatives] == [118]
    right = replace(wrong, after=118.0)
    (r,) = replay(Draft(made.facts), [right], made.followed_by).facts.readings
    assert r.value == 118


@pytest.mark.parametrize("op", ["remove", "accept"])
def test_what_was_said_of_half_a_value_says_nothing_of_the_whole(op):
    made, _, before = read("RTU-3 suction pressure is one.", "Eighteen psig.")
    half = point(before[0], "suction-pressure")
    (r,) = replay(Draft(made.facts), [edit(op, half.id)], made.followed_by).facts.readings
    assert (r.value, r.check.why) == (118, ACROSS)


def test_a_removed_item_read_from_the_same_words_stays_removed():
    made, _, before = read("RTU-3 suction pressure 118 psig.", "Head three forty psig.")
    gone = point(before[1], "discharge-pressure")
    facts = replay(Draft(made.facts), [edit("remove", gone.id)], made.followed_by).facts
    assert [r.point for r in facts.readings] == ["suction-pressure"]


def test_reading_together_is_the_same_every_time():
    texts = ("RTU-3 suction pressure is one.", "Eighteen psig. Replaced the", "contactor.")
    assert read(*texts)[0] == read(*texts)[0]


def test_typed_notes_have_no_seconds_and_are_joined_all_the_same():
    parts = [
        Transcript.from_text(t, id=i)
        for i, t in (("A", "RTU-3 suction pressure is one."), ("B", "Eighteen psig."))
    ]
    made = read_together(parts, [Facts(), Facts()], read_notes)
    (r,) = made.facts.readings
    assert (r.value, r.heard.start, r.heard.continued.start) == (118, None, None)


# ---------------------------------------------------------------- which are joined


def join(item, before, op="join"):
    return Edit(f"{op}{item}{before}", AT, op, "dictation", item, after=before)


def test_links_and_groups_follow_the_record():
    edits = [join("B", "A"), join("C", "B")]
    assert groups("ABCD", links(edits)) == [("A", "B", "C"), ("D",)]
    assert groups("ABCD", links([*edits, join("B", "A", "part")])) == [("A",), ("B", "C"), ("D",)]
    assert groups("BD", {"B": "A"}) == [("B",), ("D",)]


@pytest.mark.parametrize(("item", "before"), [("C", "A"), ("A", "B"), ("A", None), ("X", "A"), ("B", "N")])
def test_only_the_one_right_before_can_be_joined(item, before):
    heard = [
        spoken("A", "one"),
        Transcript.from_text("typed", id="N"),
        spoken("B", "two"),
        spoken("C", "three"),
    ]
    check_join(join("B", "A"), heard, {})
    with pytest.raises(BadInput):
        check_join(join(item, before), heard, {})


def test_what_is_not_joined_cannot_be_parted():
    heard = [spoken("A", "one"), spoken("B", "two")]
    check_join(join("B", "A", "part"), heard, {"B": "A"})
    with pytest.raises(BadInput):
        check_join(join("B", "A", "part"), heard, {})


@pytest.mark.parametrize("stop", [".", "...", "…"])
def test_what_stands_at_the_cut_takes_no_part_of_what_follows(stop):
    """However long the stop at the cut is, what the second says is heard in the second."""
    made, _, _ = read(f"RTU-3 suction is{stop}", "118 psig. Head 340.")
    suction = point(made.facts, "suction-pressure")
    assert suction.value == 118
    assert (suction.heard.continued or suction.heard).dictation == "B"
    assert suction.heard.dictation == "B" or suction.heard.start_char < len("RTU-3 suction is")
