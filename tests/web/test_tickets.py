"""Tickets over the API: typed notes, edits and conflicts, states, frozen approval, revisions, the worklist."""

import pytest
from browsing import new_id

from hatchnote.tickets.document import validate
from hatchnote.tickets.revisions import digest

AT = "2026-03-04T15:00:00Z"
NOTE = "RTU-3 suction pressure 118 psig. Liquid line temperature 95 degrees. Replaced the contactor."


@pytest.fixture
def noted(ana, visit):
    """A ticket with what one typed note says."""
    answer = ana.put(f"/notes/{new_id()}", {"ticket_id": visit, "text": NOTE, "at": AT})
    assert answer.status_code == 200, answer.text
    return visit


def items(document, kind="readings"):
    return {i["id"]: i for m in document["equipment"] for i in m[kind]}


def reading(document, point="suction-pressure"):
    return next(r for r in items(document).values() if r["point"] == point)


def edit(op="set", kind="reading", **more):
    return {"id": new_id(), "at": AT, "op": op, "kind": kind, **more}


def send(person, ticket, *edits, base=None):
    base = person.get(f"/tickets/{ticket}").json["revision"] if base is None else base
    return person.post(f"/tickets/{ticket}/edits", {"base_revision": base, "edits": list(edits)})


def test_a_typed_note_is_read_at_once_and_the_document_is_valid(ana, noted):
    document = ana.get(f"/tickets/{noted}").json
    validate(document)
    assert (reading(document)["value"], reading(document)["ucum"]) == (118, "[psi]")
    assert document["visit"] == {"site": "Cedar Court", "date": "2026-03-04", "technician": "Ana"}


def test_a_ticket_is_there_before_anything_was_said(ana, visit):
    document = ana.get(f"/tickets/{visit}").json
    validate(document)
    assert (document["equipment"], document["revision"]) == ([], 0)


def test_the_etag_is_the_revision(ana, noted):
    answer = ana.get(f"/tickets/{noted}")
    assert answer.headers["ETag"] == f'"{answer.json["revision"]}"'
    assert ana.get(f"/tickets/{noted}", headers={"If-None-Match": answer.headers["ETag"]}).status_code == 304


def test_the_same_note_twice_is_one_note_and_other_words_under_its_id_are_refused(ana, visit):
    id = new_id()
    body = {"ticket_id": visit, "text": NOTE, "at": AT}
    first, second = ana.put(f"/notes/{id}", body), ana.put(f"/notes/{id}", body)
    assert first.json == second.json
    assert ana.put(f"/notes/{id}", {**body, "text": "something else"}).status_code == 409


def test_computed_values_follow_an_edit_at_once(ana, noted):
    before = ana.get(f"/tickets/{noted}").json
    r = reading(before, "liquid-line-temperature")
    answer = send(ana, noted, edit(item=r["id"], field="value", before=95, after=85))
    assert answer.status_code == 200
    assert reading(answer.json["ticket"], "liquid-line-temperature")["value"] == 85
    assert reading(answer.json["ticket"], "liquid-line-temperature")["said"] == r["said"]
    assert answer.json["revision"] == before["revision"] + 1


def test_two_people_at_one_ticket_the_second_is_told_with_both_versions(ana, olga, noted):
    r = reading(ana.get(f"/tickets/{noted}").json)
    base = ana.get(f"/tickets/{noted}").json["revision"]
    assert (
        send(ana, noted, edit(item=r["id"], field="value", before=118, after=116), base=base).status_code
        == 200
    )
    other = edit(item=r["id"], field="circuit", before=None, after="1")
    late = edit(item=r["id"], field="value", before=118, after=120)
    answer = send(olga, noted, late, other, base=base)
    assert answer.status_code == 409
    [conflict] = answer.json["conflicts"]
    assert conflict == {
        "edit": late["id"], "item": r["id"], "field": "value", "before": 118, "yours": 120, "theirs": 116,
        "gone": False, "who": "Ana"}  # fmt: skip
    now = reading(answer.json["ticket"])
    assert (now["value"], now["circuit"]) == (116, "1")
    again = edit(item=r["id"], field="value", before=116, after=120)
    assert send(olga, noted, again).status_code == 200


def test_an_edit_sent_twice_is_one_edit(ana, noted):
    r = reading(ana.get(f"/tickets/{noted}").json)
    e = edit(item=r["id"], field="value", before=118, after=116)
    first, second = send(ana, noted, e), send(ana, noted, e)
    assert (first.status_code, second.status_code) == (200, 200)
    assert first.json["revision"] == second.json["revision"]
    assert len([c for c in ana.get(f"/tickets/{noted}/changes").json["changes"] if c["op"] == "set"]) == 1


def test_edits_outlive_more_words(ana, noted):
    r = reading(ana.get(f"/tickets/{noted}").json)
    send(ana, noted, edit(item=r["id"], field="value", before=118, after=116))
    ana.put(f"/notes/{new_id()}", {"ticket_id": noted, "text": "RTU-4 supply air 55 degrees.", "at": AT})
    document = ana.get(f"/tickets/{noted}").json
    assert items(document)[r["id"]]["value"] == 116
    assert reading(document, "supply-air-temperature")["value"] == 55


def test_a_visit_moved_to_another_site_takes_its_ticket_along(ana, olga, noted):
    ana.put(f"/visits/{noted}", {"site_name": "Birch Mall", "date": "2026-03-05"})
    document = ana.get(f"/tickets/{noted}").json
    assert document["visit"] == {"site": "Birch Mall", "date": "2026-03-05", "technician": "Ana"}
    assert [t["id"] for t in olga.get("/tickets?q=birch").json["tickets"]] == [noted]
    assert olga.get("/tickets?q=cedar").json["tickets"] == []


def test_items_are_added_moved_and_taken_away(ana, noted):
    part = edit(
        "add",
        "part",
        item="p-by-hand",
        after={"component": "fuse", "use": "installed", "quantity": 2, "tag": "RTU-3"},
    )
    assert send(ana, noted, part).status_code == 200
    moved = send(ana, noted, edit("move", "part", item="p-by-hand", before="RTU-3", after="RTU-9"))
    tags = [m["tag"] for m in moved.json["ticket"]["equipment"] for p in m["parts"] if p["id"] == "p-by-hand"]
    assert tags == ["RTU-9"]
    validate(moved.json["ticket"])
    gone = send(ana, noted, edit("remove", "part", item="p-by-hand"))
    assert "p-by-hand" not in items(gone.json["ticket"], "parts")


@pytest.mark.parametrize(
    ("body", "word"),
    [
        ({"base_revision": 0, "edits": [], "colour": 1}, "colour"),
        ({"edits": []}, "base_revision"),
        ({"base_revision": 0, "edits": [{"id": "x"}]}, "edits.0"),
        ({"base_revision": 99, "edits": []}, "99"),
        ([], "object"),
    ],
)
def test_a_request_that_does_not_fit_is_told_which_field(ana, noted, body, word):
    answer = ana.post(f"/tickets/{noted}/edits", body)
    assert answer.status_code == 400
    assert word in answer.json["error"]


# ---------------------------------------------------------------- states


def test_checked_by_the_technician_approved_by_the_office_and_frozen(ana, olga, noted):
    assert ana.post(f"/tickets/{noted}/status", {"to": "checked"}).json["status"] == "checked"
    assert ana.post(f"/tickets/{noted}/status", {"to": "approved"}).status_code == 403
    approved = olga.post(f"/tickets/{noted}/status", {"to": "approved"}).json
    document = olga.get(f"/tickets/{noted}").json
    assert approved["digest"] == digest(document)
    r = reading(document)
    e = edit(item=r["id"], field="value", before=118, after=116)
    assert send(ana, noted, e).status_code == 403
    later = send(olga, noted, e)
    assert (later.status_code, later.json["ticket"]["status"]) == (200, "checked")
    frozen = olga.get(f"/tickets/{noted}/revisions/{approved['revision']}").json
    assert (digest(frozen), reading(frozen)["value"]) == (approved["digest"], 118)


def test_the_difference_between_two_revisions_can_be_read(ana, olga, noted):
    first = ana.get(f"/tickets/{noted}").json
    r = reading(first)
    second = send(ana, noted, edit(item=r["id"], field="value", before=118, after=116)).json["revision"]
    rows = olga.get(f"/tickets/{noted}/revisions/{first['revision']}/difference/{second}").json["changes"]
    changed = [x for x in rows if x["item"] == r["id"] and x["field"] == "value"]
    assert changed == [{"op": "changed", "kind": "reading", "item": r["id"], "tag": "RTU-3", "field": "value",
                        "before": 118, "after": 116}]  # fmt: skip
    assert olga.get(f"/tickets/{noted}/revisions").json["revisions"][0]["revision"] == second


def test_a_returned_ticket_needs_a_note_and_shows_it(ana, olga, noted):
    ana.post(f"/tickets/{noted}/status", {"to": "checked"})
    assert olga.post(f"/tickets/{noted}/status", {"to": "returned"}).status_code == 400
    olga.post(f"/tickets/{noted}/status", {"to": "returned", "note": "Which contactor?"})
    about = ana.get(f"/tickets/{noted}/about").json
    assert (about["status"], about["note"], about["may"]) == ("returned", "Which contactor?", ["checked"])
    assert ana.post(f"/tickets/{noted}/status", {"to": "checked"}).status_code == 200
    record = ana.get(f"/tickets/{noted}/changes").json["changes"]
    assert [(c["who"], c["before"], c["after"]) for c in record if c["op"] == "status"] == [
        ("Ana", "draft", "checked"), ("Olga", "checked", "returned"), ("Ana", "returned", "checked")]  # fmt: skip


def test_a_state_that_cannot_follow_is_refused(olga, noted):
    assert olga.post(f"/tickets/{noted}/status", {"to": "approved"}).status_code == 409
    assert olga.post(f"/tickets/{noted}/status", {"to": "draft"}).json["status"] == "draft"


def test_approving_what_changed_meanwhile_is_refused(ana, olga, noted):
    seen = ana.post(f"/tickets/{noted}/status", {"to": "checked"}).json["revision"]
    r = reading(olga.get(f"/tickets/{noted}").json)
    send(ana, noted, edit(item=r["id"], field="value", before=118, after=116))
    answer = olga.post(f"/tickets/{noted}/status", {"to": "approved", "base_revision": seen})
    assert answer.status_code == 409


def test_an_empty_ticket_cannot_be_checked(ana, visit):
    assert ana.post(f"/tickets/{visit}/status", {"to": "checked"}).status_code == 409


# ---------------------------------------------------------------- the worklist


@pytest.fixture
def three(ana, ben):
    """Three tickets: two of Ana's, one of Ben's."""
    made = []
    for who, site, day, text in [(ana, "Cedar Court", "2026-03-01", "RTU-1 replaced the igniter."),
                                 (ana, "Birch Mall", "2026-03-02", "RTU-2 suction pressure 118 psig."),
                                 (ben, "Birch Mall", "2026-03-03", "RTU-3 replaced the contactor.")]:  # fmt: skip
        id = new_id()
        who.put(f"/visits/{id}", {"site_name": site, "date": day})
        who.put(f"/notes/{new_id()}", {"ticket_id": id, "text": text, "at": AT})
        made.append(id)
    return made


def ids(answer):
    assert answer.status_code == 200, answer.text
    return [t["id"] for t in answer.json["tickets"]]


def test_the_office_sees_all_and_a_technician_his_own(ana, ben, olga, three):
    assert ids(olga.get("/tickets")) == three[::-1]
    assert ids(ana.get("/tickets")) == [three[1], three[0]]
    assert ids(ben.get("/tickets?sort=oldest")) == [three[2]]
    assert ids(ben.get(f"/tickets?technician={ana.id}")) == []


def test_it_is_filtered_and_searched(ana, olga, three):
    assert ids(olga.get("/tickets?from=2026-03-02&to=2026-03-02")) == [three[1]]
    assert ids(olga.get(f"/tickets?technician={ana.id}")) == [three[1], three[0]]
    assert ids(olga.get("/tickets?q=birch")) == [three[2], three[1]]
    assert ids(olga.get("/tickets?q=birch contact")) == [three[2]]
    assert ids(olga.get("/tickets?q=RTU-1")) == [three[0]]
    assert ids(olga.get(f"/tickets?q=birch&technician={ana.id}")) == [three[1]]
    assert ids(olga.get("/tickets?q=birch&status=approved")) == []
    assert ids(olga.get("/tickets?q=birch&from=2026-03-02&to=2026-03-02")) == [three[1]]
    assert ids(olga.get("/tickets?q=birch&from=2026-03-03")) == [three[2]]
    assert ids(olga.get("/tickets?q=birch&to=2026-03-02")) == [three[1]]
    assert ids(olga.get("/tickets?q=birch&from=2025-01-01&to=2027-01-01")) == [three[2], three[1]]
    assert ids(olga.get("/tickets?q=birch&from=2027-01-01")) == []
    assert ids(olga.get("/tickets?status=draft&q=igniter")) == [three[0]]


@pytest.mark.parametrize("q", ['"', "*", "AND", "a OR b NOT", "NEAR(x", "facets : status", "(", "-", "'; --"])
def test_nothing_typed_is_an_operator(olga, three, q):
    assert olga.get("/tickets", query_string={"q": q}).status_code == 200


def test_pages_hold_every_ticket_once(olga, three):
    for sort in ("newest", "oldest", "checks", "missing"):
        seen, cursor = [], ""
        while cursor is not None:
            page = olga.get(f"/tickets?limit=1&sort={sort}&cursor={cursor}").json
            seen += [t["id"] for t in page["tickets"]]
            cursor = page["next"]
        assert sorted(seen) == sorted(three)


def test_a_made_up_cursor_and_an_unknown_parameter_are_refused(olga):
    assert olga.get("/tickets?cursor=abc").status_code == 400
    assert "colour" in olga.get("/tickets?colour=red").json["error"]


def test_text_is_read_without_being_stored(ana, olga, visit):
    answer = ana.post("/read", {"text": NOTE, "equipment": ["RTU-3"]})
    assert answer.status_code == 200
    assert [r["value"] for m in answer.json["facts"] for r in m["readings"]] == [118, 95]
    assert olga.get(f"/tickets/{visit}").json["revision"] == 0


@pytest.mark.parametrize(
    ("kind", "after"),
    [
        ("reading", {"point": "banana-bread", "value": 3}),
        ("reading", {"point": "current", "value": 3, "ucum": "furlong!!"}),
        ("work", {"verb": "frobnicate", "state": "done"}),
        ("part", {"component": "igniter", "quantity": -3, "use": "installed"}),
        ("finding", {"component": "igniter", "condition": "purple"}),
    ],
)
def test_what_is_in_no_vocabulary_is_refused(ana, noted, kind, after):
    answer = send(ana, noted, edit("add", kind, item=new_id(), after=after))
    assert answer.status_code == 400, answer.text


def test_a_set_to_an_unknown_word_is_refused_and_one_to_a_known_is_taken(ana, noted):
    item = reading(ana.get(f"/tickets/{noted}").json)["id"]
    wrong = edit(item=item, field="point", before="suction-pressure", after="banana-bread")
    right = edit(item=item, field="point", before="suction-pressure", after="liquid-pressure")
    assert "banana-bread" in send(ana, noted, wrong).json["error"]
    assert send(ana, noted, right).status_code == 200
