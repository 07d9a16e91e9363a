"""Every route as every role and as nobody: the list of routes is the application's own, so none is forgotten."""

import re

import pytest
from browsing import begin_segment, metadata, new_id, send_segment, sha256, sound
from test_photos_in import jpeg

from hatchnote.web.endpoint import API, REGISTRY

OPEN = {
    "session.sign_in", "session.sign_in_page", "session.sign_in_form", "session.claim_pairing", "static",
    "openapi.get_openapi", "openapi.get_ticket_schema", "health.healthz", "phone.index", "phone.file",
    "uploads.describe",
}  # fmt: skip
"""What nobody may reach: signing in, the phone app's own files, descriptions. Nothing of a customer is in them."""
LOCAL_OR_ADMINISTRATOR = {"health.metrics"}
TOKEN = "remote."


def routes(app):
    for rule in app.url_map.iter_rules():
        for method in sorted(rule.methods - {"HEAD", "OPTIONS"}):
            yield rule, method


PART = re.compile(r"<(?:\w+(?:\([^)]*\))?:)?(\w+)>")


def filled(rule, **values):
    """The rule with something of the right kind for each of its parts."""

    def one(match):
        name = match.group(1)
        return values.get(name) or (
            "2026-03-04" if name == "date" else new_id() if name.endswith("id") else "1"
        )

    return PART.sub(one, rule)


@pytest.fixture
def things(ana, visit, recording):
    """Ana's things, by the names that routes call them."""
    segment = send_segment(ana, recording, sound())
    ana.put(
        f"/notes/{new_id()}",
        {"ticket_id": visit, "text": "RTU-3 suction 118 psig", "at": "2026-03-04T15:00:00Z"},
    )
    site = ana.get(f"/visits/{visit}").json["site"]["id"]
    return {"visits": visit, "tickets": visit, "recordings": recording, "receipts": segment, "sites": site}


def test_nobody_reaches_anything_but_the_open_list(app, nobody):
    reached = set()
    for rule, method in routes(app):
        if rule.endpoint in OPEN | LOCAL_OR_ADMINISTRATOR:
            continue
        answer = nobody.client.open(filled(rule.rule), method=method)
        to_sign_in = answer.status_code == 302 and answer.headers["Location"].startswith("/signin")
        if not (answer.status_code == 401 or to_sign_in):
            reached.add((rule.endpoint, method, answer.status_code))
    assert reached == set()


def test_nothing_open_tells_of_a_customer(app, nobody, things):
    for rule, method in routes(app):
        if rule.endpoint in OPEN and method == "GET":
            text = nobody.client.get(filled(rule.rule, filename="signin.css", name="index.html")).text
            assert "Cedar Court" not in text


@pytest.mark.parametrize("name", ["ana", "olga", "adam"])
def test_each_role_reaches_exactly_what_is_declared_for_it(name, sign_in, app):
    person = sign_in(name)
    role = {"ana": "technician", "olga": "office", "adam": "administrator"}[name]
    for e in REGISTRY:
        if not e.roles or e.worker:
            continue
        path = filled(e.rule)
        if e.name == "session.sign_out":
            continue
        answer = person.call(e.method, path, **({"body": {}} if e.body else {}))
        assert (answer.status_code == 403) == (role not in e.roles), (e.name, answer.status_code, answer.text)


def test_the_offices_pages_are_for_the_office(app, ana, olga):
    for rule, method in routes(app):
        if rule.rule.startswith("/office") and method == "GET":
            path = filled(rule.rule)
            assert ana.client.get(path).status_code == 403, path
            assert olga.client.get(path).status_code in (200, 404), path


def test_workers_endpoints_know_only_the_token(app, adam):
    for rule, method in routes(app):
        if rule.endpoint.startswith(TOKEN):
            path = filled(rule.rule)
            assert (
                adam.client.open(path, method=method, headers={"X-CSRF-Token": adam.csrf}).status_code == 401
            )


def test_another_technician_finds_none_of_anas_things(app, ben, olga, things, visit, recording):
    """Existence is not told either: what is not his is not there."""
    for e in REGISTRY:
        kind = e.rule.split("/")[1]
        if kind not in things or "<" not in e.rule or kind == "sites":
            continue
        path = re.sub(r"<uuid:\w+>", things[kind], e.rule, count=1)
        path = filled(path)
        if e.method == "GET":
            assert ben.call("GET", path).status_code == 404, e.name
            assert olga.call("GET", path).status_code in (200, 404), e.name
    body = {"site_name": "Cedar Court", "date": "2026-03-04"}
    assert ben.put(f"/visits/{visit}", body).status_code == 404
    about = {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z"}
    assert ben.put(f"/recordings/{recording}", about).status_code == 404
    assert ben.put(f"/recordings/{new_id()}", about).status_code == 404
    note = {"ticket_id": visit, "text": "x", "at": "2026-03-04T14:00:00Z"}
    assert ben.put(f"/notes/{new_id()}", note).status_code == 404
    assert ben.post(f"/tickets/{visit}/edits", {"base_revision": 0, "edits": []}).status_code == 404
    assert ben.post(f"/tickets/{visit}/status", {"to": "checked"}).status_code == 404
    photo = metadata(kind="photo", id=new_id(), sha256="0" * 64, ticket=visit)
    assert ben.tus("POST", "/uploads", Upload_Length=10, Upload_Metadata=photo).status_code == 404


def test_a_visit_given_to_another_goes_with_its_sound_and_photos(ana, ben, olga, things, visit, recording):
    """What the first still has on his phone arrives; from then on the ticket is the other's."""
    held = sound(700)
    photo, data = new_id(), jpeg()
    about = metadata(kind="photo", id=photo, sha256=sha256(data), ticket=visit)
    where = ana.tus("POST", "/uploads", Upload_Length=len(data), Upload_Metadata=about).headers["Location"]
    assert ana.tus("PATCH", where, data=data, Upload_Offset=0).headers["Hatchnote-Received"] == "whole"
    path, segment = begin_segment(ana, recording, held, seq=1)
    assert ben.get(f"/tickets/{visit}").status_code == 404
    given = {"site_name": "Cedar Court", "date": "2026-03-04", "technician_id": ben.id}
    assert olga.put(f"/visits/{visit}", given).status_code == 200
    assert ana.tus("PATCH", path, data=held, Upload_Offset=0).headers["Hatchnote-Received"] == "whole"
    assert ana.get(f"/receipts/{segment}").json["sha256"] == sha256(held)
    late, at = new_id(), "2026-03-04T15:30:00Z"
    assert ana.put(f"/recordings/{late}", {"ticket_id": visit, "started_at": at}).status_code == 200
    send_segment(ana, late, sound(500))
    note = {"ticket_id": visit, "text": "RTU-3 fan 12 amps.", "at": at}
    assert ana.put(f"/notes/{new_id()}", note).status_code == 200
    assert ana.get(f"/tickets/{visit}").status_code == 404
    for path in (f"/tickets/{visit}", f"/recordings/{recording}", f"/recordings/{late}", f"/receipts/{segment}",
                 f"/photos/{photo}/image", f"/photos/{photo}/thumbnail"):  # fmt: skip
        assert ben.get(path).status_code == 200, path


def test_another_technician_sends_nothing_to_it(ben, visit):
    about = {"ticket_id": visit, "started_at": "2026-03-04T15:30:00Z"}
    assert ben.put(f"/recordings/{new_id()}", about).status_code == 404
    note = {"ticket_id": visit, "text": "hello", "at": about["started_at"]}
    assert ben.put(f"/notes/{new_id()}", note).status_code == 404


def test_a_recording_cannot_be_pulled_into_another_ticket(ana, ben, visit, recording):
    mine = new_id()
    ben.put(f"/visits/{mine}", {"site_name": "Birch Mall", "date": "2026-03-04"})
    about = {"ticket_id": mine, "started_at": "2026-03-04T14:00:00Z"}
    assert ben.put(f"/recordings/{recording}", about).status_code in (404, 409)
    assert ana.get(f"/recordings/{recording}").json["ticket_id"] == visit


def test_figures_are_for_this_machine_and_administrators(app, nobody, adam, olga):
    far = {"REMOTE_ADDR": "192.0.2.7"}
    assert nobody.client.get("/metrics", environ_base=far).status_code == 401
    assert olga.client.get("/metrics", environ_base=far).status_code == 403
    text = adam.client.get("/metrics", environ_base=far).text
    for name in (
        "jobs",
        "sound_waiting_seconds",
        "recognition_time_ratio",
        "checks_per_open_ticket",
        "tickets",
    ):
        assert f"hatchnote_{name}" in text
    assert nobody.client.get("/metrics").status_code == 200


def test_every_endpoint_is_under_the_api(app):
    rules = {(r.rule, m) for r, m in routes(app)}
    assert {(API + e.rule, e.method) for e in REGISTRY} <= rules
