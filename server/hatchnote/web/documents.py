"""What is handed on: PDF and tables of a ticket, a day as ZIP, the refrigerant log."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from typing import Any

from flask import Blueprint, Response

from hatchnote import export
from hatchnote.errors import BadInput
from hatchnote.export.document import Approval
from hatchnote.export.refrigerant import Charge, LoggedTicket
from hatchnote.jobs import draft
from hatchnote.store import Store, history, places, tickets, worklist
from hatchnote.store.database import Row
from hatchnote.web import shapes as s
from hatchnote.web.context import store
from hatchnote.web.endpoint import EVERYONE, OFFICE, endpoint
from hatchnote.web.tickets import row_of
from hatchnote.web.visits import day

bp = Blueprint("documents", __name__)
Json = dict[str, Any]
MOST_TICKETS = 2000
"""A ZIP or log of more tickets is refused in one sentence; ask for fewer days."""


class _StoredPhotos(Mapping[str, bytes]):
    """Photos by digest, read one at a time: a day's photos never sit in memory together."""

    def __init__(self, of: Store) -> None:
        self._blobs = of.blobs

    def __getitem__(self, sha256: str) -> bytes:
        if len(sha256) != 64 or not self._blobs.has(sha256):
            raise KeyError(sha256)
        return self._blobs.read(sha256)

    def __iter__(self) -> Iterator[str]:
        return iter(())

    def __len__(self) -> int:
        return 0

    def __bool__(self) -> bool:
        return True


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/document.pdf",
    roles=EVERYONE,
    summary="The customer's document; an approved one names its revision and digest",
    answers={200: "application/pdf"},
)
def get_pdf(id: str) -> Response:
    row = row_of(id)
    body = export.pdf(draft.document(store(), row), _StoredPhotos(store()), approval=_approval(row))
    return _file(body, "application/pdf", f"ticket-{row['date']}-{id[-12:]}.pdf")


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/parts.csv",
    roles=EVERYONE,
    summary="Parts, one a row (RFC 4180)",
    answers={200: "text/csv"},
)
def get_parts(id: str) -> Response:
    row = row_of(id)
    return _csv(export.parts_csv(draft.document(store(), row)), f"parts-{row['date']}-{id[-12:]}.csv")


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/readings.csv",
    roles=EVERYONE,
    summary="Readings, one a row, with UCUM codes (RFC 4180)",
    answers={200: "text/csv"},
)
def get_readings(id: str) -> Response:
    row = row_of(id)
    return _csv(export.readings_csv(draft.document(store(), row)), f"readings-{row['date']}-{id[-12:]}.csv")


@endpoint(
    bp,
    "GET",
    "/days/<date>.zip",
    roles=OFFICE,
    summary="Every ticket of a day: PDF, JSON and tables each, and the day's lists",
    answers={200: "application/zip"},
)
def get_day(date: str) -> Response:
    day(date)
    rows = _between(date, date)
    approvals = {r["id"]: a for r in rows if (a := _approval(r))}
    body = export.day_zip(date, [_logged(r) for r in rows], _StoredPhotos(store()), approvals)
    return _file(body, "application/zip", f"day-{date}.zip")


@endpoint(
    bp,
    "GET",
    "/refrigerant-log.csv",
    roles=OFFICE,
    summary="Additions, recoveries, evacuations and leak tests, with what 40 CFR 82.157 asks a record to hold",
    query={"from": s.DAY, "to": s.DAY},
    answers={200: "text/csv"},
)
def get_refrigerant_log(query: Json) -> Response:
    to = day(query["to"]) if query["to"] else dt.date.today().isoformat()
    first = day(query["from"]) if query["from"] else f"{to[:4]}-01-01"
    rows = _between(first, to)
    # The leak rate counts the days since the last addition, 365 at most: what was added before these days matters.
    back = dt.date.fromordinal(max(1, dt.date.fromisoformat(first).toordinal() - 366)).isoformat()
    earlier = history.charged(store(), (r["site_id"] for r in rows), first=back, before=first)
    told = [_logged(tickets.ticket(store(), id)) for id in earlier] + [_logged(r) for r in rows]
    return _csv(export.refrigerant_log_csv(told, since=first), f"refrigerant-log-{first}-{to}.csv")


def _between(first: str, last: str) -> list[Row]:
    """Rows of all tickets of these days that hold anything, oldest first."""
    rows: list[Row] = []
    cursor = None
    while True:
        found, cursor = worklist.page(
            store(),
            worklist.Wanted(first_day=first, last_day=last, sort="oldest", limit=200, cursor=cursor),
        )
        rows += [tickets.ticket(store(), r["id"]) for r in found if r["revision"]]
        if len(rows) > MOST_TICKETS:
            raise BadInput(
                f"There are more than {MOST_TICKETS} tickets from {first} to {last}; ask for fewer days."
            )
        if cursor is None:
            return rows


def _logged(row: Row) -> LoggedTicket:
    plates: dict[str | None, Charge] = {
        e.tag: Charge(e.nameplate.refrigerant, e.nameplate.charge_lb)
        for e in places.equipment(store(), row["site_id"])
    }
    address = places.site(store(), row["site_id"])["address"]
    return LoggedTicket(draft.document(store(), row), address, plates)


def _approval(row: Row) -> Approval | None:
    if row["status"] != "approved" or not row["digest"]:
        return None
    who = next(
        (r["who"] for r in tickets.revisions(store(), row["id"]) if r["revision"] == row["revision"]), None
    )
    at = dt.datetime.fromtimestamp(row["approved_at"], dt.UTC).strftime("%Y-%m-%d %H:%M UTC")
    return Approval(row["revision"], row["digest"], who, at)


def _csv(body: bytes, name: str) -> Response:
    return _file(body, "text/csv; charset=utf-8; header=present", name)


def _file(body: bytes, mime: str, name: str) -> Response:
    response = Response(body, content_type=mime)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
