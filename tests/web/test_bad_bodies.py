"""What does not fit is answered with 400 and a sentence that names the field; never a server error."""

import pytest
from browsing import new_id

AT = "2026-03-04T15:00:00Z"


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("volts", 208),
        ("rise_min", "40"),
        ("belt", 7),
        ("refrigerant", 5),
        ("volts", {"a": 1}),
        ("volts", True),
    ],
)
def test_a_nameplate_with_a_value_of_the_wrong_kind(olga, field, value):
    site = new_id()
    assert olga.put(f"/sites/{site}", {"name": "Cedar Court"}).status_code in (200, 201)
    answer = olga.put(f"/sites/{site}/equipment/RTU-3", {"nameplate": {field: value}})
    assert answer.status_code == 400 and field in answer.json["error"]


@pytest.mark.parametrize("field", ["altitude_ft", "address"])
def test_a_site_with_a_value_of_the_wrong_kind(olga, field):
    answer = olga.put(f"/sites/{new_id()}", {"name": "Cedar Court", field: ["5"]})
    assert answer.status_code == 400 and field in answer.json["error"]


def test_edits_and_statuses_with_values_of_the_wrong_kind(ana, visit):
    edit = {"id": new_id(), "at": AT, "op": "set", "kind": "reading", "item": 5, "field": 5}
    assert ana.post(f"/tickets/{visit}/edits", {"base_revision": 0, "edits": [edit]}).status_code == 400
    answer = ana.post(f"/tickets/{visit}/status", {"to": "checked", "base_revision": 0, "note": 5})
    assert answer.status_code == 400 and "note" in answer.json["error"]
    assert ana.post("/read", {"text": "3 psig", "site_id": 5}).status_code == 400


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_what_is_no_number_in_json_is_no_json(olga, number):
    answer = olga.client.put(
        f"/api/v1/sites/{new_id()}",
        data=f'{{"name": "Cedar Court", "altitude_ft": {number}}}',
        headers={"X-CSRF-Token": olga.csrf, "Content-Type": "application/json"},
    )
    assert answer.status_code == 400 and "JSON" in answer.json["error"]
