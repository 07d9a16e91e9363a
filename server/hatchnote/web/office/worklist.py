"""The worklist: what waits, filtered and searched; a form that works alone, rows that change in place with htmx."""

from __future__ import annotations

import datetime as dt
from urllib.parse import urlencode

from flask import Response, request

from hatchnote.errors import BadInput, NotFound
from hatchnote.store import choices, people, places, worklist
from hatchnote.store.database import Row
from hatchnote.web.context import store
from hatchnote.web.office import bp, office_only, page

STATES = (
    ("", "All states"),
    ("draft", "Draft"),
    ("checked", "Checked"),
    ("returned", "Returned"),
    ("approved", "Approved"),
)
SORTS = (
    ("newest", "Newest first"),
    ("oldest", "Oldest first"),
    ("checks", "Most to check"),
    ("missing", "Most missing"),
)
MOST_SITES = 300
"""With more sites than these a list to choose from is of no use: search finds a site by its name."""
_NAMES = ("q", "status", "site", "technician", "from", "to", "sort", "cursor")


@bp.get("/office")
@office_only
def show_worklist() -> Response:
    query = {name: request.args[name].strip()[:300] for name in _NAMES if request.args.get(name, "").strip()}
    problem = None
    rows: list[Row] = []
    cursor: str | None = None
    try:
        rows, cursor = worklist.page(store(), _wanted(query))
    except BadInput as error:
        problem = str(error)
    values = {
        "tickets": rows,
        "query": query,
        "problem": problem,
        "next_url": "/office?" + urlencode({**query, "cursor": cursor}) if cursor else None,
        "day": query.get("from") if query.get("from") == query.get("to") and not problem else None,
        "log_range": _range(query) if not problem else "",
    }
    if request.headers.get("HX-Request"):
        made = page("office/_rows.html", "worklist", **values)
    else:
        made = page(
            "office/worklist.html",
            "worklist",
            states=STATES,
            sorts=SORTS,
            sites=choices.sites(store(), most=MOST_SITES),
            site=_site(query.get("site")),
            technicians=[u for u in people.users(store()) if u.role == "technician"],
            **values,
        )
    made.headers["Vary"] = "HX-Request"
    return made


def _site(id: str | None) -> Row | None:
    try:
        return places.site(store(), id) if id else None
    except NotFound:
        return None


def _wanted(query: dict[str, str]) -> worklist.Wanted:
    for name in ("from", "to"):
        _day(query.get(name))
    if query.get("sort", "newest") not in worklist.SORTS or query.get("status", "") not in dict(STATES):
        raise BadInput("The list has no such order or state; choose from the lists above.")
    return worklist.Wanted(
        status=query.get("status"),
        site_id=query.get("site"),
        technician_id=query.get("technician"),
        first_day=query.get("from"),
        last_day=query.get("to"),
        words=query.get("q"),
        sort=query.get("sort", "newest"),
        cursor=query.get("cursor"),
    )


def _day(text: str | None) -> None:
    try:
        if text:
            dt.date.fromisoformat(text)
    except ValueError:
        raise BadInput(f"{text} is no day; write it as 2026-03-04.") from None


def _range(query: dict[str, str]) -> str:
    given = {k: v for k, v in query.items() if k in ("from", "to")}
    return "?" + urlencode(given) if given else ""
