"""Recordings and typed notes."""

from __future__ import annotations

import datetime as dt
from typing import Any

from flask import Blueprint

from hatchnote.domain import Transcript
from hatchnote.errors import BadInput
from hatchnote.jobs import draft
from hatchnote.jobs.asking import ask_to_listen, eta_s, status_of
from hatchnote.store import jobs, recordings, tickets
from hatchnote.store.recordings import Hearing, Segment
from hatchnote.web import receiving
from hatchnote.web import shapes as s
from hatchnote.web.context import context, may_send_to, me, own_or_all, sees_all, store
from hatchnote.web.endpoint import EVERYONE, endpoint

bp = Blueprint("recordings", __name__)
Json = dict[str, Any]


NOTHING_RECORDED = "The recording ended without any sound; record it again."


@endpoint(
    bp,
    "PUT",
    "/recordings/<uuid:id>",
    roles=EVERYONE,
    summary="Announce a recording, or tell more of it: its segments in order, and when it is finished",
    body=s.RECORDING_BODY,
    answers={200: s.RECORDING},
)
def put_recording(id: str, body: Json) -> Json:
    ticket = tickets.ticket(store(), body["ticket_id"])
    may_send_to(ticket)
    announced = [
        Segment(x["id"], x["seq"], x.get("bytes"), x.get("sha256"), x.get("mime"))
        for x in body.get("segments", [])
    ]
    recordings.put_recording(
        store(),
        id,
        ticket_id=body["ticket_id"],
        technician_id=ticket["technician_id"] if sees_all() else me().id,
        started_at=utc(body["started_at"]),
        segments=announced,
        marks=body.get("marks", []),
        finished=body.get("finished", False),
        settings=body.get("settings", {}),
    )
    for segment in announced:
        if segment.sha256:
            receiving.finish_segment(context(), segment.id, segment.sha256)
    ask_to_listen(store(), context().bell, id)
    return _recording(id)


@endpoint(
    bp,
    "GET",
    "/recordings/<uuid:id>",
    roles=EVERYONE,
    summary="How far a recording has come",
    answers={200: s.RECORDING},
)
def get_recording(id: str) -> Json:
    return _recording(id)


def _recording(id: str) -> Json:
    row = recordings.recording(store(), id)
    own_or_all(row["technician_id"], "recording", also=row["ticket_technician_id"])
    pieces = recordings.segments(store(), id)
    job = jobs.job_of(store(), "listen", id)
    status = status_of(row, pieces, job)
    return {
        "id": id,
        "ticket_id": row["ticket_id"],
        "status": status,
        "segments": [
            {
                "id": p["id"],
                "seq": p["seq"],
                "received_bytes": p["received_bytes"],
                "sha256": p["blob_sha256"],
            }
            for p in pieces
        ],
        "progress": 1.0 if status == "done" else (job["progress"] if job else 0.0),
        "eta_s": eta_s(store(), job),
        "error": (job["error"] if job else NOTHING_RECORDED) if status == "set-aside" else None,
        "words_so_far": row["words_so_far"],
        "finished": bool(row["finished"]),
        "duration_s": row["duration_s"],
    }


@endpoint(
    bp,
    "PUT",
    "/notes/<uuid:id>",
    roles=EVERYONE,
    summary="A typed note; it is read at once",
    body=s.NOTE_BODY,
    answers={200: s.obj({"id": s.STRING, "ticket_id": s.STRING, "revision": s.INTEGER})},
)
def put_note(id: str, body: Json) -> Json:
    ticket = tickets.ticket(store(), body["ticket_id"])
    may_send_to(ticket)
    at = utc(body["at"])
    words = Transcript.from_text(body["text"], id=id)
    if not words.words:
        raise BadInput("The note holds no words.")
    facts = draft.read_words(store(), ticket["site_id"], words)
    with store().db.write():
        recordings.put_note(store(), id, ticket_id=ticket["id"], user_id=me().id, text=body["text"], at=at)
        recordings.add_hearing(store(), Hearing(id, at, words, facts), ticket_id=ticket["id"], key="typed")
        saved = draft.redraft(store(), ticket["id"], who=me().id, why="typed note")
    return {"id": id, "ticket_id": ticket["id"], "revision": saved.revision}


def is_moment(text: str) -> bool:
    """Whether a photo's date can be one: ISO 8601 with a time, with or without a zone (cameras know none)."""
    try:
        return len(text) >= len("2026-03-04T14:05") and bool(dt.datetime.fromisoformat(text))
    except ValueError:
        return False


def utc(moment: str) -> str:
    """The same moment in UTC, so that moments sort as text. Raises BadInput when there is no such moment."""
    try:
        there = dt.datetime.fromisoformat(moment)
        return there.astimezone(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    except (ValueError, OverflowError):
        raise BadInput(f"{moment} is no moment; write it as 2026-03-04T14:05:00Z.") from None
