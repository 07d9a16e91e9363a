"""Resumable uploads: tus 1.0.0 with creation, creation-defer-length, checksum, expiration, termination.

Protocol: https://tus.io/protocols/resumable-upload (1.0.0, 2016). Ours on top of it: the last answer (and
HEAD afterwards) says `Hatchnote-Received: whole` and `Hatchnote-Sha256` only once the bytes are proven; a
PATCH may announce the digest of sound that has just ended in `Hatchnote-Sha256`.

An end of stream proves nothing: the phone may have vanished. What did arrive is kept, flushed to the disk,
and then acknowledged.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import hmac
import re
from collections.abc import Iterator
from email.utils import formatdate
from typing import Any

from flask import Blueprint, Response, request
from werkzeug.exceptions import ClientDisconnected

from hatchnote.errors import BadInput, NotFound
from hatchnote.settings import MIB
from hatchnote.store import recordings, tickets, uploads
from hatchnote.store.recordings import Segment
from hatchnote.store.uploads import Upload
from hatchnote.web import receiving
from hatchnote.web.context import context, may_send_to, me, own_or_all, settings, store
from hatchnote.web.recordings import is_moment
from hatchnote.web.security import Refused, need

bp = Blueprint("uploads", __name__, url_prefix="/uploads")
VERSION = "1.0.0"
EXTENSIONS = "creation,creation-defer-length,checksum,expiration,termination"
ALGORITHMS = {"sha1": hashlib.sha1, "sha256": hashlib.sha256}
PIECE = 64 * 1024
_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_SHA256 = re.compile(r"[0-9a-f]{64}")
_WHOLE = re.compile(r"\d{1,15}")
_LONGEST_METADATA = 8192


@bp.before_request
def _speak_tus() -> None:
    if request.method == "OPTIONS":
        return
    need()
    if request.headers.get("Tus-Resumable") != VERSION:
        raise Refused(
            412,
            "tus-version",
            "This server speaks tus 1.0.0; send Tus-Resumable: 1.0.0.",
            {"Tus-Version": VERSION},
        )


@bp.after_request
def _say_version(response: Response) -> Response:
    response.headers["Tus-Resumable"] = VERSION
    response.headers["Cache-Control"] = "no-store"
    return response


@bp.route("", methods=["OPTIONS"])
@bp.route("/<id>", methods=["OPTIONS"])
def describe(id: str = "") -> Response:
    return Response(
        status=204,
        headers={
            "Tus-Version": VERSION,
            "Tus-Extension": EXTENSIONS,
            "Tus-Max-Size": str(settings().max_upload_mb * MIB),
            "Tus-Checksum-Algorithm": ",".join(ALGORITHMS),
        },
    )


@bp.post("")
def create() -> Response:
    deferred = request.headers.get("Upload-Defer-Length")
    if deferred is not None and (deferred != "1" or "Upload-Length" in request.headers):
        raise BadInput("Send either Upload-Length or Upload-Defer-Length: 1.")
    length = None if deferred else _whole(request.headers.get("Upload-Length"), "Upload-Length")
    raw = request.headers.get("Upload-Metadata", "")
    about = read_metadata(raw)
    kind, ref = about.get("kind", ""), about.get("id", "").lower()
    if kind not in ("segment", "photo") or not _UUID.fullmatch(ref):
        raise BadInput("Upload-Metadata needs kind (segment or photo) and id (a UUID).")
    sha256 = about.get("sha256", "").lower() or None
    if sha256 is None and length is not None:
        raise BadInput("Upload-Metadata needs sha256, the digest of the whole file in hexadecimal.")
    if sha256 is not None and not _SHA256.fullmatch(sha256):
        raise BadInput("The sha256 in Upload-Metadata is no SHA-256; write 64 hexadecimal digits.")
    most = (settings().max_photo_mb if kind == "photo" else settings().max_upload_mb) * MIB
    if length is not None and length > most:
        raise Refused(413, "too-large", f"A {kind} may have at most {most // MIB} MiB; this one is larger.")
    if length == 0:
        raise BadInput(f"The {kind} is empty; there is nothing to send.")
    recording, seq = _segment(about, ref, length, sha256) if kind == "segment" else _photo(about, length)
    made = uploads.create(
        store(),
        user_id=me().id,
        kind=kind,
        ref=ref,
        recording_id=recording,
        seq=seq,
        sha256=sha256,
        length=length,
        raw_metadata=raw,
        metadata=about,
        lasts_s=settings().upload_days * 86400,
    )
    headers = {"Location": f"{request.root_path}/uploads/{made.id}", "Upload-Expires": _date(made.expires_at)}
    return Response(status=201, headers=headers)


def _segment(
    about: dict[str, str], ref: str, length: int | None, sha256: str | None
) -> tuple[str | None, int | None]:
    recording_id = about.get("recording", "").lower()
    if not _UUID.fullmatch(recording_id):
        raise BadInput("Upload-Metadata of a segment needs recording (a UUID) and seq.")
    seq = _whole(about.get("seq"), "seq")
    row = recordings.recording(store(), recording_id)
    own_or_all(row["technician_id"], "recording", also=row["ticket_technician_id"])
    recordings.put_segment(store(), recording_id, Segment(ref, seq, length, sha256, about.get("filetype")))
    return recording_id, seq


def _photo(about: dict[str, str], length: int | None) -> tuple[str | None, int | None]:
    ticket_id = about.get("ticket", "").lower()
    if not _UUID.fullmatch(ticket_id):
        raise BadInput("Upload-Metadata of a photo needs ticket (a UUID).")
    about["ticket"] = ticket_id
    if length is None:
        raise BadInput("A photo's length is known; send Upload-Length.")
    row = tickets.ticket(store(), ticket_id)
    may_send_to(row)
    recording_id = about.get("recording")
    if recording_id is not None:
        if not _UUID.fullmatch(recording_id.lower()):
            raise BadInput("The recording in Upload-Metadata is no UUID.")
        about["recording"] = recording_id.lower()
    at_s = about.get("at_s")
    if at_s is not None and not re.fullmatch(r"\d{1,6}(\.\d{1,6})?", at_s):
        raise BadInput("The at_s in Upload-Metadata is no number of seconds.")
    if "taken_at" in about and not is_moment(about["taken_at"]):
        raise BadInput("The taken_at in Upload-Metadata is no moment; write it as 2026-03-04T14:05:00Z.")
    return None, None


@bp.route("/<id>", methods=["HEAD"])
def where(id: str) -> Response:
    with receiving.locked(id):
        found = _mine(id)
        if found.complete and found.state == "open":
            try:
                found = receiving.finish(context(), found)
            except receiving.Refusal:
                found = uploads.upload(store(), id)
    response = Response(status=200, headers={"Upload-Offset": str(found.offset)})
    if found.length is None:
        response.headers["Upload-Defer-Length"] = "1"
    else:
        response.headers["Upload-Length"] = str(found.length)
    if found.raw_metadata:
        response.headers["Upload-Metadata"] = found.raw_metadata
    return _received(response, found)


@bp.route("/<id>", methods=["PATCH"])
def add(id: str) -> Response:
    if request.mimetype != "application/offset+octet-stream":
        raise Refused(415, "media-type", "Send the bytes as application/offset+octet-stream.")
    offset = _whole(request.headers.get("Upload-Offset"), "Upload-Offset")
    checksum = _checksum(request.headers.get("Upload-Checksum"))
    with receiving.locked(id):
        found = _mine(id)
        if found.offset != offset:
            raise Refused(
                409,
                "offset",
                f"This upload stands at {found.offset}; go on from there.",
                {"Upload-Offset": str(found.offset)},
            )
        if found.state != "open":
            return _received(Response(status=204, headers={"Upload-Offset": str(offset)}), found)
        found = _settle(found)
        _append(found, checksum)
        found = receiving.finish(context(), uploads.upload(store(), id))
    response = Response(status=204, headers={"Upload-Offset": str(found.offset)})
    if found.state == "open":
        response.headers["Upload-Expires"] = _date(found.expires_at)
    return _received(response, found)


@bp.route("/<id>", methods=["DELETE"])
def drop(id: str) -> Response:
    with receiving.locked(id):
        uploads.remove(store(), _mine(id).id)
    return Response(status=204)


def _settle(found: Upload) -> Upload:
    """A length or digest that was not known when the upload began."""
    if "Upload-Length" in request.headers:
        length = _whole(request.headers["Upload-Length"], "Upload-Length")
        if length > settings().max_upload_mb * MIB:
            raise Refused(
                413, "too-large", f"At most {settings().max_upload_mb} MiB may be sent as one file."
            )
        uploads.set_length(store(), found.id, length)
    sha256 = request.headers.get("Hatchnote-Sha256", "").lower()
    if not sha256 and found.sha256 is None and found.kind == "segment":
        announced = recordings.segment(store(), found.ref)
        sha256 = (announced or {}).get("sha256") or ""
    if sha256:
        if not _SHA256.fullmatch(sha256):
            raise BadInput("Hatchnote-Sha256 is no SHA-256; write 64 hexadecimal digits.")
        uploads.set_digest(store(), found.id, sha256)
    return uploads.upload(store(), found.id)


class _Checksum:
    """Counts along; agrees when nothing was announced."""

    def __init__(self, algorithm: str, wanted: bytes) -> None:
        self._hash = ALGORITHMS[algorithm]()
        self._wanted = wanted

    def update(self, piece: bytes) -> None:
        self._hash.update(piece)

    def holds(self) -> bool:
        return hmac.compare_digest(self._hash.digest(), self._wanted)


def _append(found: Upload, checksum: _Checksum | None) -> None:
    most = found.length if found.length is not None else settings().max_upload_mb * MIB
    room = most - found.offset
    if (request.content_length or 0) > room:
        raise Refused(
            413, "too-large", f"Only {room} more bytes belong to this upload; this request has more."
        )

    def pieces() -> Iterator[bytes]:
        for piece in _body(room):
            if checksum:
                checksum.update(piece)
            yield piece

    verdict: list[bool] = []

    def verified() -> bool:
        verdict.append(checksum is None or checksum.holds())
        return verdict[0]

    uploads.append(
        store(),
        found.id,
        offset=found.offset,
        pieces=pieces(),
        verified=verified,
        keep_free=settings().keep_free_mb * MIB,
    )
    if verdict and not verdict[0]:
        raise Refused(460, "checksum", "These bytes were damaged on the way; send them again.")


def _body(room: int) -> Iterator[bytes]:
    """What really arrives, counted against what was promised; a vanished phone ends it early."""
    stream: Any = request.environ["wsgi.input"]
    left = request.content_length if request.content_length is not None else room
    chunked = (
        request.content_length is None and "chunked" in request.headers.get("Transfer-Encoding", "").lower()
    )
    if request.content_length is None and not chunked:
        return
    while left > 0:
        try:
            piece = stream.read(min(PIECE, left))
        except (OSError, ClientDisconnected, EOFError):
            return
        if not piece:
            return
        left -= len(piece)
        yield piece


def _mine(id: str) -> Upload:
    found = uploads.upload(store(), id)
    if found.user_id != me().id:
        raise NotFound("There is no such upload; start it again.")
    if found.state != "whole" and found.expires_at < store().now():
        uploads.remove(store(), id)
        raise Refused(410, "expired", "This upload waited too long and was removed; start it again.")
    return found


def _received(response: Response, found: Upload) -> Response:
    if found.state == "whole":
        response.headers["Hatchnote-Received"] = "whole"
        response.headers["Hatchnote-Sha256"] = str(found.sha256)
    elif found.state == "refused":
        response.headers["Hatchnote-Received"] = "refused"
    return response


def _checksum(header: str | None) -> _Checksum | None:
    if header is None:
        return None
    algorithm, _, encoded = header.partition(" ")
    if algorithm not in ALGORITHMS:
        raise BadInput(f"Upload-Checksum knows {' and '.join(ALGORITHMS)}; use one of them.")
    try:
        return _Checksum(algorithm, base64.b64decode(encoded, validate=True))
    except binascii.Error:
        raise BadInput(
            "Upload-Checksum is no base64; send the algorithm, a space, and the digest in base64."
        ) from None


def read_metadata(header: str) -> dict[str, str]:
    """`key base64,key base64,…` → a dictionary. Raises BadInput."""
    if len(header) > _LONGEST_METADATA:
        raise BadInput("Upload-Metadata is longer than 8 KiB; send less.")
    found: dict[str, str] = {}
    for pair in filter(None, (p.strip() for p in header.split(","))):
        key, _, encoded = pair.partition(" ")
        try:
            value = base64.b64decode(encoded.strip(), validate=True).decode("utf-8")
        except (binascii.Error, UnicodeDecodeError):
            raise BadInput(f"Upload-Metadata {key[:40]} is no base64 of UTF-8 text.") from None
        if key in found:
            raise BadInput(f"Upload-Metadata names {key[:40]} twice.")
        found[key] = value.replace("\x00", "")
    return found


def _whole(text: str | None, name: str) -> int:
    if text is None or not _WHOLE.fullmatch(text):
        raise BadInput(f"{name} must be a whole number.")
    return int(text)


def _date(moment: float) -> str:
    return formatdate(moment, usegmt=True)
