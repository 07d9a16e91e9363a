"""What is being worked on and what waits; the rows renew themselves."""

from __future__ import annotations

from flask import Response, request

from hatchnote.store import jobs
from hatchnote.web.context import store
from hatchnote.web.office import bp, office_only, page


@bp.get("/office/queue")
@office_only
def show_queue() -> Response:
    template = "office/_queue.html" if request.headers.get("HX-Request") else "office/queue.html"
    made = page(
        template,
        "queue",
        jobs=jobs.unfinished(store(), limit=200),
        counts=jobs.counts(store()),
        waiting_s=jobs.seconds_waiting(store()),
        now=store().now(),
    )
    made.headers["Vary"] = "HX-Request"
    return made
