"""The OpenAPI document, made from the endpoint declarations themselves, and the ticket's JSON Schema."""

from __future__ import annotations

import copy
import re
from functools import cache
from http import HTTPStatus
from typing import Any

from flask import Blueprint

from hatchnote import __version__
from hatchnote.tickets.document import schema
from hatchnote.web import shapes as s
from hatchnote.web import uploads_described
from hatchnote.web.endpoint import API, NOBODY_NEEDED, REGISTRY, Endpoint, endpoint
from hatchnote.web.security import COOKIE

bp = Blueprint("openapi", __name__)
Json = dict[str, Any]
_PART = re.compile(r"<(?:(\w+)(?:\([^)]*\))?:)?(\w+)>")
_PATH_SHAPES: dict[str, Json] = {"uuid": s.ID, "int": s.whole(0, 2**31), "string": s.DAY}
"""By URL converter; a bare part is a machine's tag."""
_ERRORS = {
    400: "The request does not fit; the sentence names the field",
    401: "Nobody is signed in, or the name, password or code is wrong",
    403: "Not for this role, or the CSRF token is missing",
    404: "There is no such thing, or not for this person",
    409: "Somebody else changed it first, or it contradicts what is stored",
    413: "Too large",
    415: "Not JSON",
    429: "Too many tries",
    500: "The server failed; nothing was stored by halves",
    507: "The disk is full; nothing was stored by halves",
}


@endpoint(
    bp,
    "GET",
    "/openapi.json",
    roles=NOBODY_NEEDED,
    summary="This document",
    answers={200: {"type": "object"}},
)
def get_openapi() -> Json:
    return document()


@endpoint(
    bp,
    "GET",
    "/schema/ticket.json",
    roles=NOBODY_NEEDED,
    summary="The JSON Schema of a ticket (hatchnote.ticket/1)",
    answers={200: {"type": "object"}},
)
def get_ticket_schema() -> Json:
    return schema()


@cache
def document() -> Json:
    """OpenAPI 3.1: one operation for every declared endpoint."""
    paths: Json = {}
    for e in REGISTRY:
        paths.setdefault(_PART.sub(r"{\2}", e.rule), {})[e.method.lower()] = _operation(e)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "hatchnote",
            "version": __version__,
            "description": "Recordings, photos and tickets. Sound and photos go to /uploads, which speaks tus 1.0.0"
            " (https://tus.io/protocols/resumable-upload) with creation, creation-defer-length, checksum, expiration"
            " and termination.",
        },
        "servers": [{"url": API}],
        "paths": {**paths, **uploads_described.paths()},
        "components": {
            "schemas": _ticket_schemas(),
            "securitySchemes": {
                "session": {"type": "apiKey", "in": "cookie", "name": COOKIE},
                "worker": {"type": "http", "scheme": "bearer"},
            },
        },
    }


def _operation(e: Endpoint) -> Json:
    parameters = [
        {
            "name": name,
            "in": "path",
            "required": True,
            "schema": _PATH_SHAPES.get(kind, s.TAG),
        }
        for kind, name in _PART.findall(e.rule)
    ]
    parameters += [{"name": n, "in": "query", "schema": shape} for n, shape in e.query.items()]
    writes = e.method != "GET"
    if writes and e.roles:
        parameters.append(
            {"name": "X-CSRF-Token", "in": "header", "required": True, "schema": {"type": "string"}}
        )
    out: Json = {
        "operationId": e.name.replace(".", "_"),
        "tags": [e.tag],
        "summary": e.summary,
        "parameters": parameters,
        "responses": {str(status): _response(status, shape) for status, shape in e.answers.items()},
    }
    if e.roles:
        out["security"] = [{"session": []}]
        out["x-roles"] = list(e.roles)
    if e.worker:
        out["security"] = [{"worker": []}]
    if e.body is not None:
        out["requestBody"] = {"required": True, "content": {"application/json": {"schema": e.body}}}
    for status, text in _ERRORS.items():
        if str(status) not in out["responses"] and _can_answer(e, status):
            out["responses"][str(status)] = {
                "description": text,
                "content": {"application/json": {"schema": s.ERROR}},
            }
    return out


def _can_answer(e: Endpoint, status: int) -> bool:
    if status in (413, 415):
        return e.body is not None
    if status == 429:
        return e.roles == NOBODY_NEEDED and e.method == "POST" and not e.worker
    if status == 403:
        return bool(e.roles) or e.worker or e.method != "GET"
    if status in (409, 507):
        return e.method != "GET"
    return True


def _response(status: int, shape: Json | str | None) -> Json:
    text = HTTPStatus(status).phrase
    if shape is None:
        return {"description": text}
    if isinstance(shape, str):
        return {"description": text, "content": {shape: {"schema": {"type": "string", "format": "binary"}}}}
    return {"description": text, "content": {"application/json": {"schema": shape}}}


def _ticket_schemas() -> Json:
    """The ticket's schema and its parts, with references moved to where OpenAPI keeps schemas."""
    whole = copy.deepcopy(schema())
    parts = whole.pop("$defs")
    whole.pop("$schema", None)
    whole.pop("$id", None)

    def moved(value: Any) -> Any:
        if isinstance(value, dict):
            return {
                k: v.replace("#/$defs/", "#/components/schemas/") if k == "$ref" else moved(v)
                for k, v in value.items()
            }
        return [moved(v) for v in value] if isinstance(value, list) else value

    return {"Ticket": moved(whole), **{name: moved(part) for name, part in parts.items()}}
