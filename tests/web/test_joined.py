"""Joining dictations and taking changes back, over the API."""

import json

import pytest
from browsing import new_id

from hatchnote.domain import Transcript, Word
from hatchnote.jobs import draft
from hatchnote.store import recordings
from hatchnote.tickets.document import validate

AT = "2026-03-04T15:00:00Z"


@pytest.fixture
def said(store, visit, ana):
    """A function that puts a dictation into Ana's ticket as a worker would, and gives its id."""

    def say(text, *, minute, about=None):
        id = new_id()
        at = f"2026-03-04T15:{minute:02d}:00.000Z"
        settings = {"tag": about} if about else {}
        recordings.put_recording(store, id, ticket_id=visit, technician_id=ana.id, started_at=at, segments=[],
                                 marks=[], finished=True, settings=settings)  # fmt: skip
        words = tuple(Word(w, n * 0.5, n * 0.5 + 0.4, 0.9) for n, w in enumerate(text.split()))
        heard = Transcript(words, id=id, duration_s=len(words) * 0.5)
        site = store.db.value("SELECT site_id FROM tickets WHERE id = ?", (visit,))
        facts = draft.read_words(store, site, heard, about=about)
        recordings.add_hearing(store, recordings.Hearing(id, at, heard, facts), ticket_id=visit, key="said")
        draft.redraft(store, visit, who=None, why="dictation")
        return id

    return say


@pytest.fixture
def cut(said):
    return said("RTU-3 suction pressure is one.", minute=1), said(
        "Eighteen psig. Head three forty.", minute=5
    )


def edit(op, kind="reading", **more):
    return {"id": new_id(), "at": AT, "op": op, "kind": kind, **more}


def join(cut):
    return edit("join", "dictation", item=cut[1], after=cut[0])


def send(person, ticket, *edits):
    base = person.get(f"/tickets/{ticket}").json["revision"]
    return person.post(f"/tickets/{ticket}/edits", {"base_revision": base, "edits": list(edits)})


def sent(person, ticket, *edits):
    answer = send(person, ticket, *edits)
    assert answer.status_code == 200, answer.text
    validate(answer.json["ticket"])
    return answer.json["ticket"]


def points(document):
    return {r["point"]: (m["tag"], r) for m in document["equipment"] for r in m["readings"]}


def values(document):
    return {name: (tag, r["value"]) for name, (tag, r) in points(document).items()}


def test_two_dictations_are_joined_into_one_reading_and_parted_again(ana, visit, cut):
    before = ana.get(f"/tickets/{visit}").json
    assert values(before) == {"suction-pressure": ("RTU-3", 1), "discharge-pressure": (None, 340)}
    joined = sent(ana, visit, join(cut))
    assert values(joined) == {"suction-pressure": ("RTU-3", 118), "discharge-pressure": ("RTU-3", 340)}
    assert [(d["id"], d.get("continues")) for d in joined["dictations"]] == [(cut[0], None), (cut[1], cut[0])]
    assert [d["words"] for d in joined["dictations"]] == [d["words"] for d in before["dictations"]]
    heard = points(joined)["suction-pressure"][1]["heard"]
    assert (heard["dictation"], heard["continued"]["dictation"]) == cut
    parted = sent(ana, visit, edit("part", "dictation", item=cut[1], before=cut[0]))
    assert {**parted, "revision": 0} == {**before, "revision": 0}


def test_it_is_on_record_and_can_be_taken_back(ana, olga, visit, cut):
    before = ana.get(f"/tickets/{visit}").json
    e = join(cut)
    number = sent(olga, visit, e)["revision"]
    record = ana.get(f"/tickets/{visit}/changes").json["changes"]
    assert [(c["who"], c["op"], c["item"], c["after"]) for c in record] == [("Olga", "join", cut[1], cut[0])]
    rows = ana.get(f"/tickets/{visit}/revisions/{before['revision']}/difference/{number}").json["changes"]
    assert ("dictation", "continues", cut[0]) in [(r["kind"], r["field"], r["after"]) for r in rows]
    assert ("suction-pressure", 118) in [
        (r["after"]["point"], r["after"]["value"])
        for r in rows
        if r["kind"] == "reading" and r["op"] == "added"
    ]
    back = sent(ana, visit, edit("back", "dictation", item=cut[1], after=e["id"]))
    assert values(back) == values(before)
    assert [c["op"] for c in ana.get(f"/tickets/{visit}/changes").json["changes"]] == ["join", "back"]


def test_corrections_outlive_joining_and_parting(ana, visit, cut, said):
    head = points(ana.get(f"/tickets/{visit}").json)["discharge-pressure"][1]["id"]
    sent(ana, visit, edit("set", item=head, field="value", before=340, after=345))
    joined = sent(ana, visit, join(cut))
    assert values(joined)["discharge-pressure"] == ("RTU-3", 345)
    suction = points(joined)["suction-pressure"][1]["id"]
    joined = sent(ana, visit, edit("accept", item=suction, before={"value": 118}))
    assert points(joined)["suction-pressure"][1]["check"] is None
    said("RTU-3 superheat 12 degrees.", minute=9)
    document = ana.get(f"/tickets/{visit}").json
    assert values(document)["suction-pressure"] == ("RTU-3", 118)
    assert points(document)["suction-pressure"][1]["check"] is None
    parted = sent(ana, visit, edit("part", "dictation", item=cut[1], before=cut[0]))
    assert values(parted)["discharge-pressure"] == (None, 345)


def test_joining_and_editing_in_one_request_keep_their_order(ana, visit, cut):
    head = points(ana.get(f"/tickets/{visit}").json)["discharge-pressure"][1]["id"]
    moved = edit("move", item=head, field="tag", before="RTU-3", after="RTU-7")
    assert values(sent(ana, visit, join(cut), moved))["discharge-pressure"] == ("RTU-7", 340)


def test_the_same_joining_twice_is_one(ana, visit, cut):
    e = join(cut)
    first, second = sent(ana, visit, e), sent(ana, visit, e)
    assert first["revision"] == second["revision"]
    assert len(ana.get(f"/tickets/{visit}/changes").json["changes"]) == 1


def test_a_machines_own_dictation_goes_on_being_about_it(ana, visit, said):
    cut = (
        said("suction pressure is one.", minute=1, about="RTU-3"),
        said("eighteen psig. Superheat 12.", minute=2),
    )
    assert values(ana.get(f"/tickets/{visit}").json)["superheat"] == (None, 12)
    joined = values(sent(ana, visit, join(cut)))
    assert joined["suction-pressure"] == ("RTU-3", 118) and joined["superheat"] == ("RTU-3", 12)


def test_what_cannot_be_joined_is_refused_in_a_sentence(ana, visit, cut, said):
    third = said("Superheat 12 degrees.", minute=9)
    revision = ana.get(f"/tickets/{visit}").json["revision"]
    wrong = (
        join((cut[0], third)),
        join(cut[::-1]),
        edit("part", "dictation", item=cut[1]),
        edit("set", "dictation", item=cut[1]),
        edit("join", item="x", after="y"),
        edit("back", after=new_id()),
        edit("back", after=None),
    )
    for e in wrong:
        answer = send(ana, visit, e)
        assert answer.status_code == 400 and answer.json["error"].endswith("."), answer.text
    assert ana.get(f"/tickets/{visit}").json["revision"] == revision


def test_another_technician_joins_nothing(ben, visit, cut):
    base = {"base_revision": 0, "edits": [join(cut)]}
    assert ben.post(f"/tickets/{visit}/edits", base).status_code == 404


def test_the_joined_reading_stays_when_the_vocabulary_changes(ana, olga, visit, said, settings):
    cut = said("RTU-3 replaced the", minute=1), said("whirly thing. Suction 118 psig.", minute=2)
    first = sent(ana, visit, join(cut))
    assert olga.post(
        "/vocabulary/entries", {"kind": "components", "slug": "sheave", "said": "whirly thing"}
    ).json["added"]
    said("RTU-3 superheat 12 degrees.", minute=9)
    again = ana.get(f"/tickets/{visit}").json
    assert [m["work"] for m in again["equipment"]] == [m["work"] for m in first["equipment"]]


# ---------------------------------------------------------------- taking back


def test_a_kept_check_and_a_removed_item_come_back_with_all_they_had(ana, olga, visit, cut):
    before = ana.get(f"/tickets/{visit}").json
    (id,) = [r["id"] for _, r in points(before).values() if r["check"]]
    for op in ("accept", "remove"):
        e = edit(op, item=id, before={"value": 1})
        assert points(sent(ana, visit, e)) != points(before)
        assert points(sent(olga, visit, edit("back", item=id, after=e["id"]))) == points(before)
    ops = [(c["who"], c["op"], c["item"]) for c in ana.get(f"/tickets/{visit}/changes").json["changes"]]
    assert ops == [("Ana", "accept", id), ("Olga", "back", id), ("Ana", "remove", id), ("Olga", "back", id)]


def test_a_change_somebody_changed_again_is_not_undone_behind_his_back(ana, olga, visit, cut):
    (id,) = [r["id"] for _, r in points(ana.get(f"/tickets/{visit}").json).values() if r["check"]]
    mine = edit("set", item=id, field="value", before=1, after=116)
    sent(ana, visit, mine)
    sent(olga, visit, edit("set", item=id, field="value", before=116, after=117))
    answer = send(ana, visit, edit("back", item=id, after=mine["id"]))
    assert answer.status_code == 409
    (c,) = answer.json["conflicts"]
    assert (c["field"], c["before"], c["yours"], c["theirs"], c["who"]) == ("value", 116, 1, 117, "Olga")


def test_what_was_taken_back_is_no_correction_and_nobody_said_it_looks_right(ana, olga, visit, cut):
    (id,) = [r["id"] for _, r in points(ana.get(f"/tickets/{visit}").json).values() if r["check"]]
    changed, right = (
        edit("set", item=id, field="value", before=1, after=116),
        edit("accept", "machine", item="RTU-3"),
    )
    sent(ana, visit, changed, right)
    assert len(olga.get("/corrections").json["corrections"]) == 1
    assert [x["tag"] for x in olga.get(f"/tickets/{visit}/about").json["looks_right"]] == ["RTU-3"]
    sent(ana, visit, edit("back", after=changed["id"]), edit("back", "machine", after=right["id"]))
    assert olga.get("/corrections").json["corrections"] == []
    assert olga.get(f"/tickets/{visit}/about").json["looks_right"] == []


def test_the_openapi_document_tells_of_them(ana):
    document = ana.get("/openapi.json").json
    body = document["paths"]["/tickets/{id}/edits"]["post"]["requestBody"]["content"]["application/json"][
        "schema"
    ]
    ops = body["properties"]["edits"]["items"]["properties"]["op"]
    assert {"join", "part", "back"} <= set(ops["enum"]) and "read as one" in ops["description"]
    assert "continues" in json.dumps(document["components"]["schemas"]["Dictation"])
