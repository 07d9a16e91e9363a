"""Work for workers on other hosts: they claim over HTTP, fetch the sound here, and bring results back.

Their shared token (HATCHNOTE_WORKER_TOKEN) opens these endpoints and nothing else. Every word about a job
shows its lease; a result that comes too late, or twice, changes nothing.
"""

from __future__ import annotations

import hmac
from typing import Any

import jsonschema
from flask import Blueprint, Response, request, send_file

from hatchnote.domain import Transcript
from hatchnote.errors import BadInput, NotFound
from hatchnote.jobs.desk import KINDS_REMOTE, LocalDesk, deliver, vocabulary
from hatchnote.jobs.sound_store import sound_store
from hatchnote.settings import MIB
from hatchnote.store import jobs, recordings
from hatchnote.store.packing import from_plain
from hatchnote.web import shapes as s
from hatchnote.web.context import settings, store
from hatchnote.web.endpoint import NOBODY_NEEDED, endpoint
from hatchnote.web.security import Refused

bp = Blueprint("remote", __name__)
Json = dict[str, Any]
LONGEST_RESULT = 64 * MIB
LARGEST_SOUND = 512 * MIB


@bp.before_request
def _need_token() -> None:
    wanted = settings().worker_token
    given = request.headers.get("Authorization", "")
    if not wanted or not hmac.compare_digest(given.encode(), f"Bearer {wanted}".encode()):
        raise Refused(401, "token", "This needs the workers' token; set HATCHNOTE_WORKER_TOKEN at both ends.")


@endpoint(
    bp,
    "POST",
    "/work/claim",
    roles=NOBODY_NEEDED,
    worker=True,
    summary="Take the fairest recording that waits; 204 when none does",
    body=s.obj({"worker": s.text(200, 1)}),
    answers={
        200: s.obj(
            {
                "id": s.STRING,
                "recording": s.STRING,
                "key": s.STRING,
                "lease": s.STRING,
                "lease_s": s.INTEGER,
                "tries": s.INTEGER,
                "segments": s.all_of(s.SHA256),
                "addresses": s.all_of(s.STRING),
                "vocabulary": s.all_of(s.STRING),
            }
        ),
        204: None,
    },
)
def claim(body: Json) -> Json | None:
    found = jobs.claim(
        store(),
        worker=body["worker"],
        lease_s=settings().lease_s,
        tries=settings().tries,
        kinds=KINDS_REMOTE,
    )
    if found is None:
        return None
    row = recordings.recording(store(), found.ref)
    digests = [p["blob_sha256"] for p in recordings.segments(store(), found.ref)]
    lender = sound_store(settings())
    return {
        "id": found.id,
        "recording": found.ref,
        "key": found.key,
        "lease": found.lease,
        "lease_s": settings().lease_s,
        "tries": found.tries,
        "segments": digests,
        "addresses": lender.lend(store().blobs, digests) if lender else [],
        "vocabulary": list(vocabulary(store(), row["site_id"])),
    }


@endpoint(
    bp,
    "GET",
    "/work/jobs/<uuid:id>/sound/<sha256>",
    roles=NOBODY_NEEDED,
    worker=True,
    summary="The bytes of one segment of a claimed recording",
    query={"lease": s.text(100, 1)},
    answers={200: "application/octet-stream", 206: "application/octet-stream", 416: None},
)
def fetch_sound(id: str, sha256: str, query: Json) -> Response:
    if not jobs.holds(store(), id, query["lease"] or ""):
        raise NotFound("This job is somebody else's now.")
    job = jobs.job(store(), id)
    assert job is not None
    if sha256 not in {p["blob_sha256"] for p in recordings.segments(store(), job["ref"])}:
        raise NotFound("This recording has no such segment.")
    return send_file(store().blobs.path(sha256).resolve(), mimetype="application/octet-stream")


@endpoint(
    bp,
    "POST",
    "/work/jobs/<uuid:id>/beat",
    roles=NOBODY_NEEDED,
    worker=True,
    summary="Still at it; `yours` is false when the job was given to somebody else",
    body=s.obj({"lease": s.text(100, 1), "progress": s.or_null(s.number(0, 1))}),
    answers={200: s.obj({"yours": s.BOOLEAN})},
)
def beat(id: str, body: Json) -> Json:
    yours = jobs.beat(store(), id, body["lease"], lease_s=settings().lease_s, progress=body["progress"])
    return {"yours": yours}


@endpoint(
    bp,
    "POST",
    "/work/jobs/<uuid:id>/result",
    roles=NOBODY_NEEDED,
    worker=True,
    most_bytes=LONGEST_RESULT,
    summary="The words heard; `taken` is false when the lease is not the current one",
    body=s.obj({"lease": s.text(100, 1), "listened_s": s.number(0, 1e9), "transcript": {"type": "object"}}),
    answers={200: s.obj({"taken": s.BOOLEAN})},
)
def result(id: str, body: Json) -> Json:
    _check_transcript(body["transcript"])
    heard = from_plain(Transcript, body["transcript"])
    taken = deliver(store(), id, body["lease"], heard, listened_s=body["listened_s"])
    if taken:
        _take_back(id)
    return {"taken": taken}


def _take_back(id: str) -> None:
    """The sound of a job that no worker elsewhere has any more leaves the sound store."""
    lender, job = sound_store(settings()), jobs.job(store(), id)
    if lender and job is not None:
        lender.take_back(p["blob_sha256"] for p in recordings.segments(store(), job["ref"]))


@endpoint(
    bp,
    "POST",
    "/work/jobs/<uuid:id>/failure",
    roles=NOBODY_NEEDED,
    worker=True,
    summary="It did not work: tried again later, or set aside when final",
    body=s.obj({"lease": s.text(100, 1), "reason": s.text(500, 1), "final": s.BOOLEAN}),
    answers={200: s.obj({"yours": s.BOOLEAN})},
)
def failure(id: str, body: Json) -> Json:
    yours = jobs.fail(
        store(), id, body["lease"], reason=body["reason"], final=body["final"], tries=settings().tries
    )
    if yours:
        _take_back(id)
    return {"yours": yours}


@endpoint(
    bp,
    "POST",
    "/work/jobs/<uuid:id>/playable",
    roles=NOBODY_NEEDED,
    worker=True,
    summary="The recording joined into one file for playing; the body is the file",
    query={"mime": {"enum": ["audio/mp4"]}, "duration_s": s.text(20, 1), "key": s.text(100, 1)},
    answers={204: None},
)
def playable(id: str, query: Json) -> None:
    job = jobs.job(store(), id)
    if job is None or job["kind"] != "listen" or job["key"] != query["key"]:
        raise NotFound("There is no such job, or its recording has changed.")
    length = request.content_length
    if length is None or length > LARGEST_SOUND:
        raise Refused(413, "too-large", "Send the file with its length, at most 512 MiB.")
    try:
        duration_s = float(query["duration_s"] or "")
    except ValueError:
        raise BadInput("duration_s is no number of seconds.") from None
    data = request.get_data(cache=False)
    if len(data) != length or data[4:8] != b"ftyp":
        raise BadInput("The file is cut short or no MP4; send it again.")
    desk = LocalDesk(store(), settings(), "remote")
    desk.keep_sound(
        jobs.Claim(id, "listen", job["ref"], job["key"], {}, "", 0), data, "audio/mp4", duration_s
    )


_SECONDS = s.or_null(s.number(0, 1e6))
_CHANCE = s.or_null(s.number(0, 1))
_WORD = s.obj({"text": s.text(500), "start": _SECONDS, "end": _SECONDS, "p": _CHANCE})
_SECOND = s.obj({"start": s.number(0, 1e6), "end": s.number(0, 1e6), "text": s.text(5000),
                 "listener": s.text(200), "p": _CHANCE})  # fmt: skip
_TRANSCRIPT = jsonschema.Draft202012Validator(
    s.obj(
        {
            "words": s.all_of(_WORD, 200_000),
            "id": s.NULL_STRING,
            "duration_s": _SECONDS,
            "language": s.text(20),
            "second": s.all_of(_SECOND, 100_000),
            "warnings": s.all_of(s.text(500), 1000),
        }
    )
)


def _check_transcript(value: Json) -> None:
    from hatchnote.web.endpoint import complain

    complain(_TRANSCRIPT, value)
