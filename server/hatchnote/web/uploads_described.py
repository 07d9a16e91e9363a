"""The upload endpoints in the OpenAPI document: tus 1.0.0, whose requests are made of headers."""

from __future__ import annotations

from typing import Any

from hatchnote.web import shapes as s

Json = dict[str, Any]
_WHOLE: Json = {"type": "integer", "minimum": 0, "maximum": 10**15 - 1}
_TEXT: Json = {"type": "string"}
_TOKEN = ("X-CSRF-Token", True, _TEXT, "From GET /me.")
_VERSION = ("Tus-Resumable", True, {"const": "1.0.0", "type": "string"}, "The protocol's version.")
_METADATA = (
    "`key base64,key base64,…`. Both kinds: kind (segment or photo), id (UUID), sha256 (of the whole file, hexadecimal;"
    " a segment whose length is not known yet may leave it out), filename, filetype. A segment: recording (UUID), seq."
    " A photo: ticket (UUID), taken_at, recording, at_s, caption."
)
_RECEIVED: Json = {
    "Hatchnote-Received": {
        "description": "whole, once the bytes are held and proven; refused, when they are no sound or photo",
        "schema": {"enum": ["whole", "refused"]},
    },
    "Hatchnote-Sha256": {"description": "With whole: the digest of what is held", "schema": s.SHA256},
    "Upload-Offset": {"description": "How many bytes are held", "schema": _WHOLE},
}
_ERRORS = {
    400: "A header does not fit; the sentence names it",
    401: "Nobody is signed in",
    403: "The CSRF token is missing",
    404: "There is no such upload, recording or ticket, or not for this person",
    409: "The upload stands elsewhere (Upload-Offset says where), or it contradicts what is held",
    410: "The upload waited too long and was removed",
    412: "Another version of tus",
    413: "Larger than the server takes, or than what was announced",
    415: "Not application/offset+octet-stream",
    422: "The bytes are no sound or no photo",
    423: "Another request is writing this upload",
    460: "The bytes do not have the digest announced; send them again",
    500: "The server failed; nothing was stored by halves",
    507: "The disk is full",
}


def paths() -> Json:
    """The path items, under a server of their own: they do not lie below /api/v1."""
    at_root = {"servers": [{"url": "/"}]}
    one = {"name": "id", "in": "path", "required": True, "schema": s.ID}
    return {
        "/uploads": {
            **at_root,
            "options": _describe("describe_uploads"),
            "post": _operation(
                "create_upload",
                "Begin an upload; Location says where its bytes go",
                [
                    ("Upload-Length", False, _WHOLE, "Bytes in all; or else Upload-Defer-Length."),
                    (
                        "Upload-Defer-Length",
                        False,
                        {"const": "1", "type": "string"},
                        "Sound still being recorded.",
                    ),
                    ("Upload-Metadata", True, {"type": "string", "maxLength": 8192}, _METADATA),
                ],
                {201: ("Made", {"Location": {"schema": _TEXT}, "Upload-Expires": {"schema": _TEXT}})},
                (400, 401, 403, 404, 409, 412, 413, 500, 507),
            ),
        },
        "/uploads/{id}": {
            **at_root,
            "parameters": [one],
            "options": _describe("describe_upload"),
            "head": _operation(
                "get_upload_offset",
                "How much of it is held",
                [],
                {200: ("Where to go on", {**_RECEIVED, "Upload-Length": {"schema": _WHOLE}})},
                (401, 404, 410, 412, 423, 460, 500, 507),
                writes=False,
            ),
            "patch": _operation(
                "append_to_upload",
                "Add bytes at the offset; what arrives before the line breaks is kept",
                [
                    ("Upload-Offset", True, _WHOLE, "Where these bytes begin: as many as are held."),
                    (
                        "Upload-Checksum",
                        False,
                        _TEXT,
                        "sha1 or sha256, a space, and the digest of this body in base64.",
                    ),
                    ("Upload-Length", False, _WHOLE, "Bytes in all, once known."),
                    ("Hatchnote-Sha256", False, s.SHA256, "The digest of the whole, once known."),
                ],
                {204: ("Held", {**_RECEIVED, "Upload-Expires": {"schema": _TEXT}})},
                tuple(_ERRORS),
                body=True,
            ),
            "delete": _operation(
                "drop_upload",
                "Give an upload up; its bytes are removed",
                [],
                {204: ("Gone", {})},
                (401, 403, 404, 410, 412, 423, 500),
            ),
        },
    }


def _describe(name: str) -> Json:
    headers = ("Tus-Version", "Tus-Extension", "Tus-Max-Size", "Tus-Checksum-Algorithm")
    told = {name: {"schema": _TEXT} for name in headers}
    return {
        "operationId": name,
        "tags": ["uploads"],
        "summary": "What this server can do",
        "responses": {"204": {"description": "In the headers", "headers": told}},
    }


def _operation(
    name: str,
    summary: str,
    headers: list[tuple[str, bool, Json, str]],
    answers: dict[int, tuple[str, Json]],
    errors: tuple[int, ...],
    *,
    writes: bool = True,
    body: bool = False,
) -> Json:
    asked = [_VERSION, *([_TOKEN] if writes else []), *headers]
    out: Json = {
        "operationId": name,
        "tags": ["uploads"],
        "summary": summary,
        "security": [{"session": []}],
        "parameters": [
            {"name": n, "in": "header", "required": required, "schema": schema, "description": text}
            for n, required, schema, text in asked
        ],
        "responses": {
            **{str(n): {"description": text, "headers": told} for n, (text, told) in answers.items()},
            **{str(n): _error(n, empty=not writes) for n in errors},
        },
    }
    if body:
        binary = {"application/offset+octet-stream": {"schema": {"type": "string", "format": "binary"}}}
        out["requestBody"] = {"required": True, "content": binary}
    return out


def _error(status: int, *, empty: bool) -> Json:
    """The answer to HEAD has no body."""
    content = {} if empty else {"content": {"application/json": {"schema": s.ERROR}}}
    return {"description": _ERRORS[status], **content}
