"""Tickets: the worklist, one ticket, edits merged by field, states, revisions, the record of changes."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, jsonify, request

from hatchnote.errors import BadInput, Conflict, NotFound
from hatchnote.jobs import draft
from hatchnote.jobs.telling import tell_webhook
from hatchnote.store import recordings, tickets, worklist
from hatchnote.store.database import Row
from hatchnote.tickets.edits import Edit, validate
from hatchnote.tickets.revisions import difference, may, next_states
from hatchnote.tickets.takeback import void
from hatchnote.web import shapes as s
from hatchnote.web.context import actor, context, me, own_or_all, sees_all, store
from hatchnote.web.endpoint import EVERYONE, endpoint
from hatchnote.web.known_words import refuse_unknown
from hatchnote.web.recordings import utc
from hatchnote.web.security import Refused

bp = Blueprint("tickets", __name__)
Json = dict[str, Any]


@endpoint(
    bp,
    "GET",
    "/tickets",
    roles=EVERYONE,
    summary="The worklist: filtered, searched and sorted, a page at a time",
    query={
        "status": s.STATUS,
        "site": s.ID,
        "technician": s.ID,
        "from": s.DAY,
        "to": s.DAY,
        "q": s.text(200),
        "sort": {"enum": list(worklist.SORTS)},
        "cursor": s.text(300),
        "limit": {**s.whole(1, 200), "default": 50},
    },
    answers={200: s.obj({"tickets": s.all_of(s.TICKET_ROW), "next": s.NULL_STRING})},
)
def list_tickets(query: Json) -> Json:
    if not sees_all():
        if query["technician"] not in (None, me().id):
            return {"tickets": [], "next": None}
        query["technician"] = me().id
    wanted = worklist.Wanted(
        status=query["status"],
        site_id=query["site"],
        technician_id=query["technician"],
        first_day=query["from"],
        last_day=query["to"],
        words=query["q"] or None,
        sort=query["sort"] or "newest",
        cursor=query["cursor"] or None,
        limit=query["limit"],
    )
    rows, next_cursor = worklist.page(store(), wanted)
    return {"tickets": rows, "next": next_cursor}


def row_of(id: str) -> Row:
    """The ticket's row, if this person may see it. Raises NotFound."""
    row = tickets.ticket(store(), id)
    own_or_all(row["technician_id"], "ticket")
    return row


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>",
    roles=EVERYONE,
    summary="One ticket (hatchnote.ticket/1); the ETag is its revision",
    answers={200: s.TICKET, 304: None},
)
def get_ticket(id: str) -> Response:
    body = draft.document(store(), row_of(id))
    response = jsonify(body)
    response.set_etag(str(body["revision"]))
    response.headers["Cache-Control"] = "private, no-cache"
    return response.make_conditional(request)  # type: ignore[return-value]


_ABOUT = s.obj(
    {
        "id": s.STRING,
        "status": s.STATUS,
        "revision": s.INTEGER,
        "note": s.NULL_STRING,
        "digest": s.NULL_STRING,
        "site": s.SITE,
        "technician": s.PERSON,
        "may": s.all_of(s.STATUS),
        "looks_right": s.all_of(s.obj({"tag": s.NULL_STRING, "who": s.NULL_STRING, "at": s.STRING})),
        "recordings": s.all_of(
            s.obj(
                {
                    "id": s.STRING,
                    "started_at": s.STRING,
                    "finished": s.BOOLEAN,
                    "duration_s": s.NULL_NUMBER,
                    "playable": s.BOOLEAN,
                }
            )
        ),
    }
)


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/about",
    roles=EVERYONE,
    summary="What stands beside the document: note, digest, recordings, who said it looks right, next states",
    answers={200: _ABOUT},
)
def get_about(id: str) -> Json:
    row = row_of(id)
    record = tickets.changes(store(), id)
    gone = void((c["id"], c["op"], c["after"]) for c in record)
    right = {
        c["item"] or None: {"tag": c["item"] or None, "who": c["who"], "at": c["at"]}
        for c in record
        if c["op"] == "accept" and c["kind"] == "machine" and c["id"] not in gone
    }
    return {
        "id": id,
        "status": row["status"],
        "revision": row["revision"],
        "note": row["note"],
        "digest": row["digest"],
        "site": {
            "id": row["site_id"],
            "name": row["site"],
            "altitude_ft": row["altitude_ft"],
            "address": None,
        },
        "technician": {"id": row["technician_id"], "name": row["technician"]},
        "may": next_states(row["status"], actor()),
        "looks_right": list(right.values()),
        "recordings": [
            {
                "id": r["id"],
                "started_at": r["started_at"],
                "finished": bool(r["finished"]),
                "duration_s": r["duration_s"],
                "playable": bool(r["sound_sha256"]),
            }
            for r in recordings.of_ticket(store(), id)
        ],
    }


@endpoint(
    bp,
    "POST",
    "/tickets/<uuid:id>/edits",
    roles=EVERYONE,
    summary="Change fields; edits whose `before` still holds are applied even when others conflict",
    body=s.EDITS_BODY,
    answers={
        200: s.obj({"revision": s.INTEGER, "ticket": s.TICKET}),
        409: s.obj(
            {
                "error": s.STRING,
                "code": s.STRING,
                "conflicts": s.all_of(s.CONFLICT),
                "revision": s.INTEGER,
                "ticket": s.TICKET,
            },
            optional=("conflicts", "revision", "ticket"),
        ),
    },
)
def post_edits(id: str, body: Json) -> tuple[Json, int]:
    row = row_of(id)
    if not sees_all() and row["status"] == "approved":
        raise Refused(403, "approved", "This ticket is approved; ask the office to change it.")
    if body["base_revision"] > row["revision"]:
        raise BadInput(f"There is no revision {body['base_revision']} yet; load the ticket again.")
    edits = [_edit(e) for e in body["edits"]]
    saved = draft.edit(store(), id, edits, who=me().id)
    if not saved.conflicts:
        return {"revision": saved.revision, "ticket": saved.document}, 200
    conflicts = [
        {
            "edit": c.edit.id,
            "item": c.edit.item,
            "field": "tag" if c.edit.op == "move" else c.edit.field,
            "before": c.edit.before,
            "yours": c.edit.after,
            "theirs": c.theirs,
            "gone": c.gone,
            "who": tickets.last_author(store(), id, c.edit.item or "", c.edit.field),
        }
        for c in saved.conflicts
    ]
    n = len(conflicts)
    answer = {
        "error": f"{n} of your changes met what somebody else changed; choose for each.",
        "code": "conflict",
        "conflicts": conflicts,
        "revision": saved.revision,
        "ticket": saved.document,
    }
    return answer, 409


def _edit(e: Json) -> Edit:
    edit = Edit(
        id=e["id"],
        at=utc(e["at"]),
        op=e["op"],
        kind=e["kind"],
        item=e.get("item"),
        field=e.get("field"),
        before=e.get("before"),
        after=e.get("after"),
        who=me().id,
    )
    validate(edit)
    refuse_unknown(edit)
    return edit


@endpoint(
    bp,
    "POST",
    "/tickets/<uuid:id>/status",
    roles=EVERYONE,
    summary="Move the ticket on: checked by the technician, approved or returned by the office",
    body=s.STATUS_BODY,
    answers={200: s.obj({"revision": s.INTEGER, "status": s.STATUS, "digest": s.NULL_STRING})},
)
def post_status(id: str, body: Json) -> Json:
    to, note = body["to"], (body.get("note") or "").strip() or None
    with store().db.write():
        row = row_of(id)
        if row["status"] != to:
            _allow(row, to, note, body.get("base_revision"))
            draft.set_status(store(), id, to, who=me().id, note=note, at=_now())
            row = row_of(id)
            if to == "approved":
                tell_webhook(context().settings, store(), context().bell, row)
    return {"revision": row["revision"], "status": row["status"], "digest": row["digest"]}


def _allow(row: Row, to: str, note: str | None, base_revision: int | None) -> None:
    if not may(row["status"], to, actor()):  # type: ignore[arg-type]
        if any(may(row["status"], to, a) for a in ("technician", "office")):  # type: ignore[arg-type]
            raise Refused(403, "role", f"Only the office can make a {row['status']} ticket {to}.")
        raise Conflict(f"A ticket that is {row['status']} cannot become {to}; load it again.")
    if to == "returned" and note is None:
        raise BadInput("A returned ticket needs a note that says what to change.")
    if row["revision"] == 0 and to in ("checked", "approved"):
        raise Conflict("There is nothing in this ticket yet; wait for the draft.")
    if base_revision is not None and base_revision != row["revision"]:
        raise Conflict(
            f"The ticket changed meanwhile (revision {row['revision']}, you saw {base_revision}); look at it again."
        )


def _now() -> str:
    import datetime as dt

    return dt.datetime.now(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/revisions",
    roles=EVERYONE,
    summary="All revisions, latest first",
    answers={
        200: s.obj(
            {
                "revisions": s.all_of(
                    s.obj(
                        {
                            "revision": s.INTEGER,
                            "status": s.STATUS,
                            "at": s.NUMBER,
                            "who": s.NULL_STRING,
                            "why": s.STRING,
                            "sha256": s.SHA256,
                        }
                    )
                )
            }
        )
    },
)
def list_revisions(id: str) -> Json:
    row_of(id)
    return {"revisions": tickets.revisions(store(), id)}


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/revisions/<int:number>",
    roles=EVERYONE,
    summary="The ticket as it stood in one revision",
    answers={200: s.TICKET},
)
def get_revision(id: str, number: int) -> Json:
    row_of(id)
    return tickets.revision(store(), id, _sane(number)).document


def _sane(number: int) -> int:
    if number > 2**31:
        raise NotFound("There is no such revision.")
    return number


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/revisions/<int:a>/difference/<int:b>",
    roles=EVERYONE,
    summary="What changed from revision a to revision b, item by item",
    answers={
        200: s.obj(
            {
                "from": s.INTEGER,
                "to": s.INTEGER,
                "changes": s.all_of(
                    s.obj(
                        {
                            "op": {"enum": ["added", "removed", "changed"]},
                            "kind": s.STRING,
                            "item": s.NULL_STRING,
                            "tag": s.NULL_STRING,
                            "field": s.NULL_STRING,
                            "before": s.ANY,
                            "after": s.ANY,
                        }
                    )
                ),
            }
        )
    },
)
def get_difference(id: str, a: int, b: int) -> Json:
    row_of(id)
    old = tickets.revision(store(), id, _sane(a)).document
    new = tickets.revision(store(), id, _sane(b)).document
    return {"from": a, "to": b, "changes": difference(old, new)}


@endpoint(
    bp,
    "GET",
    "/tickets/<uuid:id>/changes",
    roles=EVERYONE,
    summary="The record of changes: who, when, before, after",
    answers={
        200: s.obj(
            {
                "changes": s.all_of(
                    s.obj(
                        {
                            "id": s.STRING,
                            "revision": s.INTEGER,
                            "at": s.STRING,
                            "received_at": s.NUMBER,
                            "who": s.NULL_STRING,
                            "op": s.STRING,
                            "kind": s.STRING,
                            "item": s.NULL_STRING,
                            "field": s.NULL_STRING,
                            "before": s.ANY,
                            "after": s.ANY,
                        }
                    )
                )
            }
        )
    },
)
def list_changes(id: str) -> Json:
    row_of(id)
    return {"changes": tickets.changes(store(), id)}
