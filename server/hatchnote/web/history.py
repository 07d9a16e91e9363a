"""What was measured on one machine over the years."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from hatchnote.store import history, places
from hatchnote.web import shapes as s
from hatchnote.web.context import store
from hatchnote.web.endpoint import OFFICE, endpoint

bp = Blueprint("history", __name__)
Json = dict[str, Any]

_KEY = dict.fromkeys(history.SERIES_KEY, s.NULL_STRING)


@endpoint(
    bp,
    "GET",
    "/equipment/<uuid:site_id>/<tag>/history",
    roles=OFFICE,
    summary="What was ever measured on a machine, and every reading of one point",
    query={"point": s.text(60)},
    answers={
        200: s.obj(
            {
                "series": s.all_of(s.obj({**_KEY, "n": s.INTEGER, "last": s.STRING})),
                "readings": s.all_of(
                    s.obj(
                        {
                            **_KEY,
                            "ticket_id": s.STRING,
                            "item": s.STRING,
                            "date": s.STRING,
                            "moment": s.NULL_STRING,
                            "value": s.NULL_NUMBER,
                            "unit": s.NULL_STRING,
                            "ucum": s.NULL_STRING,
                            "text": s.NULL_STRING,
                            "marked": s.BOOLEAN,
                        }
                    )
                ),
            }
        )
    },
)
def get_history(site_id: str, tag: str, query: Json) -> Json:
    places.site(store(), site_id)
    rows = history.readings(store(), site_id, tag, query["point"]) if query["point"] else []
    return {
        "series": history.series(store(), site_id, tag),
        "readings": [{**r, "marked": bool(r["marked"])} for r in rows],
    }
