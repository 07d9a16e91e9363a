"""The served OpenAPI document describes what the server does: generated requests meet no surprise.

The requests come from schemathesis, a public property-based tester of OpenAPI documents.
"""

import re

import pytest
import schemathesis
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


def test_every_declared_endpoint_is_described_and_nothing_else(app):
    paths = document()["paths"]
    described = {(path, method.upper()) for path, item in paths.items() for method in item}
    declared = {(re.sub(r"<(?:[^>]*:)?(\w+)>", r"{\1}", e.rule), e.method) for e in REGISTRY}
    assert described == declared


def test_generated_requests_meet_no_server_error_and_no_undocumented_answer(
    schema, sign_in, visit, recording
):
    """Every operation as an administrator, with valid and invalid data, on things that are there and that are not."""
    there = {"recordings": recording, "media": recording, "visits_put_visit": visit, "visits_get_visit": visit,
             "tickets": visit, "documents": visit}  # fmt: skip
    adam = sign_in("adam")
    cookie = adam.client.get_cookie("hatchnote_session").value
    failures, answers = [], set()
    for result in schema.get_all_operations():
        operation = result.ok()
        raw = operation.definition.raw
        if raw["operationId"] in ENDS_OUR_OWN_SESSION:
            continue
        headers = {"X-CSRF-Token": adam.csrf}
        if "worker" in str(raw.get("security")):
            headers["Authorization"] = "Bearer t0ken"
        try:
            known = there.get(raw["operationId"]) or there.get(raw["tags"][0])
            attempts(operation, headers, {"hatchnote_session": cookie}, answers, known)()
        except BaseException as failure:
            failures.append(f"{raw['operationId']}: {failure}"[:1500])
    assert not failures, "\n\n".join(failures)
    assert {200, 400, 404, 409} <= answers, answers


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
        answers.add(case.call_and_validate(headers=headers, cookies=cookies, checks=CHECKS).status_code)

    return attempt
