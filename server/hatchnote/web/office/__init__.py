"""The office's pages under /office: worklist, review, sites and machines, corrections, accounts, queue.

One file a page or a pair of pages. Reading happens here, changing through the API only, so that every rule stands
once.
"""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, make_response, render_template

from hatchnote.web.context import me, session
from hatchnote.web.security import login_required

bp = Blueprint("office", __name__)
office_only = login_required("office", "administrator")

PAGES = (
    ("worklist", "/office", "Worklist"),
    ("sites", "/office/sites", "Sites and machines"),
    ("corrections", "/office/corrections", "Corrections"),
    ("users", "/office/users", "People and phones"),
    ("queue", "/office/queue", "Queue"),
)


def page(template: str, name: str, **values: Any) -> Response:
    """An office page with what its frame needs; never kept by a cache, because it shows customers' data."""
    found = session()
    made = make_response(
        render_template(
            template, page=name, pages=PAGES, person=me(), csrf=found.csrf if found else "", **values
        )
    )
    made.headers["Cache-Control"] = "no-store"
    return made


@bp.app_template_filter("age")
def age(seconds: float) -> str:
    """ "40 min", "5 h", "12 d"."""
    if seconds < 3600:
        return f"{int(seconds // 60)} min"
    return f"{int(seconds // 3600)} h" if seconds < 2 * 86400 else f"{int(seconds // 86400)} d"


@bp.app_template_filter("moment")
def moment(seconds: float | None) -> str:
    """Unix seconds as a day and time in UTC."""
    import datetime as dt

    return (
        "" if seconds is None else dt.datetime.fromtimestamp(seconds, dt.UTC).strftime("%Y-%m-%d %H:%M UTC")
    )


from hatchnote.web.office import corrections, people, places, queue, record, review, worklist  # noqa: E402

__all__ = ["bp", "corrections", "people", "places", "queue", "record", "review", "worklist"]
