"""Assembly puts each thing on its machine, in order of mention, and the document satisfies the schema."""

import uuid

import pytest

from hatchnote.domain import (
    Alternative,
    Assessment,
    Check,
    Facts,
    Finding,
    Photo,
    Reading,
    Span,
    Transcript,
    Visit,
    WorkItem,
)
from hatchnote.tickets import assemble, to_json
from hatchnote.tickets.document import validate
from hatchnote.tickets.summary import summarise

SPAN = Span(0, 6, "d1", 2.0, 3.0)
LATER = Span(10, 16, "d1", 20.0, 21.0)


def reading(id, tag, span=SPAN, **more):
    values = {
        "point": "suction-pressure",
        "value": 118.0,
        "unit": "psig",
        "ucum": "[psi]",
        "said": "one eighteen",
    }
    return Reading(id=id, tag=tag, heard=span, **{**values, **more})


def made(facts, photos=()):
    return assemble(
        [Transcript.from_text("suction one eighteen on two", id="d1")],
        facts,
        Assessment(),
        id=str(uuid.uuid4()),
        visit=Visit("2026-03-04", site="Corner bakery"),
        photos=photos,
    )


def test_machines_come_in_order_of_mention_and_the_unattached_last():
    facts = Facts(
        readings=(reading("a", None), reading("b", "RTU-2"), reading("c", "RTU-1")), tags=("RTU-2", "RTU-1")
    )
    assert [m.tag for m in made(facts).equipment] == ["RTU-2", "RTU-1", None]


def test_a_visit_with_nothing_in_it_is_still_a_ticket():
    ticket = made(Facts())
    assert [m.tag for m in ticket.equipment] == [None]
    validate(to_json(ticket))


def test_a_machine_named_without_any_item_is_kept():
    assert [m.tag for m in made(Facts(tags=("RTU-7",))).equipment] == ["RTU-7"]


def test_a_photo_goes_to_the_machine_spoken_of_when_it_was_taken():
    facts = Facts(readings=(reading("a", "RTU-1"), reading("b", "RTU-2", LATER)), tags=("RTU-1", "RTU-2"))
    photo = Photo("p", "0" * 64, "p.jpg", 10, 10, dictation="d1", at_s=19.0)
    by_tag = {m.tag: m.photos for m in made(facts, [photo]).equipment}
    assert [p.id for p in by_tag["RTU-2"]] == ["p"] and not by_tag["RTU-1"]


def test_the_document_says_gauge_and_difference():
    facts = Facts(
        readings=(
            reading("a", "RTU-1"),
            reading("b", "RTU-1", point="superheat", value=12.0, unit="°F", ucum="[degF]", difference=True),
        ),
        tags=("RTU-1",),
    )
    document = to_json(made(facts))
    validate(document)
    pressure, superheat = document["equipment"][0]["readings"]
    assert pressure["reference"] == "gauge" and "difference" not in pressure
    assert superheat["difference"] is True and "reference" not in superheat
    assert pressure["heard"] == {"dictation": "d1", "start": 2.0, "end": 3.0, "from": 0, "to": 6}


def test_the_schema_refuses_an_unknown_state_and_an_unknown_key():
    import jsonschema

    document = to_json(made(Facts(readings=(reading("a", "RTU-1"),), tags=("RTU-1",))))
    for spoil in ({"status": "finished"}, {"colour": "blue"}):
        with pytest.raises(jsonschema.ValidationError):
            validate({**document, **spoil})


def test_the_summary_tells_found_done_and_left_and_never_sounds_surer_than_the_record():
    check = Check("heard twice differently", (Alternative(None, None, "x"),))
    facts = Facts(
        work=(
            WorkItem("w1", "clean", "done", SPAN, component="flame-sensor", tag="RTU-1"),
            WorkItem("w2", "replace", "done", SPAN, component="air-filter", quantity=4, tag="RTU-1"),
            WorkItem("w3", "replace", "declined", SPAN, component="bearing", tag="RTU-1"),
            WorkItem("w4", "leak-test", "not-done", SPAN, tag="RTU-1"),
        ),
        findings=(Finding("f1", "flame-sensor", "dirty", SPAN, tag="RTU-1", check=check),),
        tags=("RTU-1",),
    )
    assert made(facts).equipment[0].summary == (
        "The flame sensor was dirty. We cleaned the flame sensor and replaced 4 air filters. "
        "Offered and declined: replace the bearing. Not done on this visit: a leak test. "
        "Some of this is still to be confirmed."
    )
    assert summarise(made(Facts()).equipment[0]) == "Nothing was recorded for this machine."


def test_a_recommendation_without_another_verb_is_said_once():
    work = (WorkItem("w", "recommend", "recommended", SPAN, component="supply-fan-belt", tag="RTU-1"),)
    assert made(Facts(work=work, tags=("RTU-1",))).equipment[0].summary == "Recommended: the supply fan belt."
