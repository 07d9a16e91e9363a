"""What is being listened to, what waits, what was set aside and why."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from hatchnote.errors import NotFound
from hatchnote.jobs.asking import eta_s
from hatchnote.store import jobs
from hatchnote.web import shapes as s
from hatchnote.web.context import context, store
from hatchnote.web.endpoint import OFFICE, endpoint

bp = Blueprint("queue", __name__)
Json = dict[str, Any]

_JOB = s.obj(
    {
        "id": s.STRING,
        "kind": s.STRING,
        "ref": s.STRING,
        "technician": s.NULL_STRING,
        "visit_date": s.STRING,
        "state": {"enum": ["waiting", "running", "done", "set-aside"]},
        "tries": s.INTEGER,
        "progress": s.number(0, 1),
        "seconds": s.NUMBER,
        "eta_s": s.NULL_NUMBER,
        "reason": s.NULL_STRING,
        "created_at": s.NUMBER,
    }
)


@endpoint(
    bp,
    "GET",
    "/queue",
    roles=OFFICE,
    summary="Work in hand, waiting and set aside, about in the order it will be done",
    answers={200: s.obj({"jobs": s.all_of(_JOB), "seconds_waiting": s.NUMBER, "counts": {"type": "object"}})},
)
def get_queue() -> Json:
    rows = jobs.unfinished(store())
    names = (
        "id",
        "kind",
        "ref",
        "technician",
        "visit_date",
        "state",
        "tries",
        "progress",
        "seconds",
        "created_at",
    )
    return {
        "jobs": [
            {**{n: r[n] for n in names}, "eta_s": eta_s(store(), r), "reason": r["error"]} for r in rows
        ],
        "seconds_waiting": jobs.seconds_waiting(store()),
        "counts": jobs.counts(store()),
    }


@endpoint(
    bp,
    "POST",
    "/queue/<uuid:id>/retry",
    roles=OFFICE,
    summary="Take up again what was set aside",
    answers={204: None},
)
def retry_job(id: str) -> None:
    if not jobs.retry(store(), id):
        raise NotFound("There is no such job, or it is not set aside.")
    context().bell.ring()
