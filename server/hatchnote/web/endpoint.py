"""One declaration for each endpoint of the API: who may call it, what it takes, what it answers.

The same declaration checks the request, and makes the OpenAPI document (`hatchnote.web.openapi`). So a
route that is not described does not exist, and what is described is what is checked.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import wraps
from typing import Any

import jsonschema
from flask import Blueprint, Response, jsonify, request
from werkzeug.exceptions import BadRequest as WerkzeugBadRequest
from werkzeug.exceptions import RequestEntityTooLarge

from hatchnote.errors import BadInput
from hatchnote.store.people import ROLES, Role
from hatchnote.web.security import Refused, need

Json = dict[str, Any]
API = "/api/v1"
EVERYONE: tuple[Role, ...] = ROLES
OFFICE: tuple[Role, ...] = ("office", "administrator")
ADMINISTRATOR: tuple[Role, ...] = ("administrator",)
NOBODY_NEEDED: tuple[Role, ...] = ()
LARGEST_BODY = 2 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Endpoint:
    """`answers` maps a status to a JSON Schema, to a media type, or to None for an empty body."""

    name: str
    method: str
    rule: str
    roles: tuple[Role, ...]
    summary: str
    body: Json | None
    query: Mapping[str, Json]
    answers: Mapping[int, Json | str | None]
    tag: str
    worker: bool = False
    """For workers on other hosts: their shared token instead of a session."""


REGISTRY: list[Endpoint] = []
_FORMATS = jsonschema.FormatChecker()


def endpoint(
    blueprint: Blueprint,
    method: str,
    rule: str,
    *,
    roles: tuple[Role, ...],
    summary: str,
    answers: Mapping[int, Json | str | None],
    body: Json | None = None,
    query: Mapping[str, Json] | None = None,
    worker: bool = False,
    most_bytes: int = LARGEST_BODY,
) -> Callable[[Callable[..., Any]], Callable[..., Response]]:
    """Register a view under /api/v1.

    The view gets the path's values, and `body` and `query` where they are declared; it returns a JSON value,
    (value, status), or a Response.
    """
    checker = _checker(body) if body is not None else None
    parameters = dict(query or {})

    def decorate(view: Callable[..., Any]) -> Callable[..., Response]:
        @wraps(view)
        def checked(**values: Any) -> Response:
            if roles:
                need(*roles)
            given = {k: str(v) if type(v).__name__ == "UUID" else v for k, v in values.items()}
            if parameters or request.args:
                found = _read_query(parameters)
                if parameters:
                    given["query"] = found
            if checker is not None:
                given["body"] = _read_body(checker, most_bytes)
            return _answer(view(**given))

        blueprint.add_url_rule(API + rule, endpoint=view.__name__, view_func=checked, methods=[method])
        name = f"{blueprint.name}.{view.__name__}"
        REGISTRY.append(
            Endpoint(name, method, rule, roles, summary, body, parameters, answers, blueprint.name, worker)
        )
        return checked

    return decorate


def _answer(value: Any) -> Response:
    if isinstance(value, Response):
        return value
    status = 200
    if isinstance(value, tuple):
        value, status = value
    if value is None:
        return Response(status=204)
    response = jsonify(value)
    response.status_code = status
    return response


def _checker(schema: Json) -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema, format_checker=_FORMATS)


def _read_body(checker: jsonschema.Draft202012Validator, most_bytes: int) -> Any:
    if request.content_length is not None and request.content_length > most_bytes:
        most = most_bytes // (1024 * 1024)
        raise Refused(413, "too-large", f"This request is larger than {most} MiB; send less at once.")
    if not request.is_json:
        raise Refused(415, "media-type", "Send JSON with the header Content-Type: application/json.")
    try:
        value = json.loads(request.get_data(), parse_constant=_refuse, parse_float=_finite)
    except RequestEntityTooLarge:
        raise Refused(413, "too-large", "This request is larger than 2 MiB; send less at once.") from None
    except (WerkzeugBadRequest, ValueError, RecursionError):
        raise BadInput("The request is no valid JSON; send it again.") from None
    complain(checker, value)
    return value


def _refuse(word: str) -> None:
    """NaN and Infinity are no JSON (RFC 8259, section 6), though Python's reader takes them."""
    raise ValueError(word)


def _finite(digits: str) -> float:
    value = float(digits)
    if not math.isfinite(value):
        raise ValueError(digits)
    return value


def complain(checker: jsonschema.Draft202012Validator, value: Any) -> None:
    """Raises BadInput naming the first field that does not fit."""
    error = jsonschema.exceptions.best_match(checker.iter_errors(value))
    if error is not None:
        raise BadInput(_sentence(error))


def _sentence(error: jsonschema.ValidationError) -> str:
    schema: Any = error.schema
    wants: Any = error.validator_value
    instance: Any = error.instance
    where = ".".join(str(p) for p in error.absolute_path)
    inside = f" in {where}" if where else ""
    if error.validator == "additionalProperties" and isinstance(error.instance, dict):
        known = schema.get("properties", {})
        unknown = sorted(set(error.instance) - set(known))
        return f"Unknown field {', '.join(unknown)}{inside}; known are {', '.join(known) or 'none'}."[:500]
    if error.validator == "required":
        missing = [n for n in wants if n not in instance]
        return f"The field {', '.join(missing)} is missing{inside}."[:500]
    if error.validator == "anyOf" and error.context:
        # One of the branches is null: what is wanted is what the other one says.
        return _sentence(next((e for e in error.context if e.validator_value != "null"), error.context[0]))
    shown = repr(error.instance)
    shown = shown if len(shown) <= 60 else shown[:57] + "…"
    wanted = {
        "type": f"must be {_kinds(wants)}" if error.validator == "type" else "",
        "enum": f"must be one of {', '.join(str(v) for v in wants)}" if error.validator == "enum" else "",
        "pattern": "is not written as it should be",
        "format": f"is no {wants}",
        "maxLength": f"is longer than {wants} characters",
        "minLength": f"is shorter than {wants} characters",
        "maximum": f"is more than {wants}",
        "minimum": f"is less than {wants}",
        "maxItems": f"holds more than {wants} entries",
    }.get(str(error.validator), "does not fit")
    return f"{where or 'The request'} {wanted} (got {shown})."


def _kinds(value: Any) -> str:
    names = {"string": "text", "integer": "a whole number", "object": "an object", "array": "a list",
             "number": "a number", "boolean": "true or false", "null": "null"}  # fmt: skip
    listed = value if isinstance(value, list) else [value]
    return " or ".join(names.get(v, str(v)) for v in listed)


_WHOLE = re.compile(r"-?\d{1,18}")


def _read_query(parameters: Mapping[str, Json]) -> Json:
    unknown = sorted(set(request.args) - set(parameters))
    if unknown:
        known = ", ".join(parameters) or "none"
        raise BadInput(f"Unknown parameter {', '.join(unknown)[:100]}; known are {known}.")
    found: Json = {}
    for name, schema in parameters.items():
        text = request.args.get(name)
        if text is None or (text == "" and schema.get("type") != "string"):
            found[name] = schema.get("default")
            continue
        value: Any = text
        if schema.get("type") == "integer":
            if not _WHOLE.fullmatch(text):
                raise BadInput(f"{name} must be a whole number (got {text[:60]!r}).")
            value = int(text)
        complain(_checker({"type": "object", "properties": {name: schema}}), {name: value})
        found[name] = value
    return found
