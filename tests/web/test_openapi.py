"""The served OpenAPI document describes what the server does: generated requests meet no surprise.

The requests come from schemathesis, a public property-based tester of OpenAPI documents.
"""

import base64
import re

import pytest
import schemathesis
from browsing import new_id
from hypothesis import HealthCheck, Phase, given
from hypothesis import settings as effort
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from hatchnote.settings import Settings
from hatchnote.web.endpoint import REGISTRY
from hatchnote.web.openapi import document

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
ENDS_OUR_OWN_SESSION = {"session_sign_out", "session_sign_out_device", "session_change_user"}


@pytest.fixture
def settings(tmp_path):
    return Settings(data=tmp_path / "data", keep_free_mb=0, worker_token="t0ken")


@pytest.fixture
def schema(app):
    return schemathesis.openapi.from_wsgi("/api/v1/openapi.json", app)


@pytest.fixture
def upload(sign_in, visit):
    """An upload the administrator has begun."""
    adam = sign_in("adam")
    about = {"kind": "photo", "id": new_id(), "ticket": visit, "sha256": "0" * 64}
    metadata = ",".join(f"{k} {base64.b64encode(v.encode()).decode()}" for k, v in about.items())
    headers = {"Tus-Resumable": "1.0.0", "Upload-Length": "100", "Upload-Metadata": metadata}
    answer = adam.client.post("/uploads", headers={**headers, "X-CSRF-Token": adam.csrf})
    assert answer.status_code == 201, answer.text
    return answer.headers["Location"].rsplit("/", 1)[1]


@schemathesis.serializer("application/offset+octet-stream")
def as_it_is(ctx, value):
    return value if isinstance(value, bytes) else str(value).encode()


def test_every_declared_endpoint_is_described_and_nothing_else(app):
    paths = document()["paths"]
    described = {
        (p, m.upper()) for p, item in paths.items() for m in item if m not in ("servers", "parameters")
    }

    def path(rule):
        return re.sub(r"<(?:[^>]*:)?(\w+)>", r"{\1}", rule)

    declared = {(path(e.rule), e.method) for e in REGISTRY}
    uploads = {
        (path(r.rule), m)
        for r in app.url_map.iter_rules()
        if r.endpoint.startswith("uploads.")
        for m in r.methods
    }
    assert described == declared | uploads


def test_generated_requests_meet_no_server_error_and_no_undocumented_answer(
    schema, sign_in, visit, recording, upload
):
    """Every operation as an administrator, with valid and invalid data, on things that are there and that are not."""
    there = {
        "uploads": upload,
        "recordings": recording,
        "media": recording,
        "tickets": visit,
        "documents": visit,
    }
    there |= {"visits_put_visit": visit, "visits_get_visit": visit}
    adam = sign_in("adam")
    cookie = adam.client.get_cookie("hatchnote_session").value
    failures, answers, of_uploads = [], set(), set()
    for result in schema.get_all_operations():
        operation = result.ok()
        raw = operation.definition.raw
        if raw["operationId"] in ENDS_OUR_OWN_SESSION:
            continue
        headers = {"X-CSRF-Token": adam.csrf}
        if raw["tags"] == ["uploads"]:
            headers["Tus-Resumable"] = "1.0.0"
        if "worker" in str(raw.get("security")):
            headers["Authorization"] = "Bearer t0ken"
        try:
            known = there.get(raw["operationId"]) or there.get(raw["tags"][0])
            seen = of_uploads if raw["tags"] == ["uploads"] else answers
            attempts(operation, headers, {"hatchnote_session": cookie}, seen, known)()
        except BaseException as failure:
            failures.append(f"{raw['operationId']}: {failure}"[:1500])
    assert not failures, "\n\n".join(failures)
    assert {200, 400, 404, 409} <= answers, answers
    assert {200, 204, 400, 404, 409} <= of_uploads, of_uploads


def attempts(operation, headers, cookies, answers, known):
    @effort(
        max_examples=12,
        deadline=None,
        database=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy(), real=st.booleans())
    def attempt(case, real):
        if real and known and "id" in (case.path_parameters or {}):
            case.path_parameters["id"] = known
        # Called without a network the tool knows only the document's own server, not a path's.
        own_server = "servers" in case.operation.schema.raw_schema["paths"][operation.path]
        base = {"base_url": "http://localhost"} if own_server else {}
        answered = case.call_and_validate(headers=headers, cookies=cookies, checks=CHECKS, **base)
        answers.add(answered.status_code)

    return attempt
