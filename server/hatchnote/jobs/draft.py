"""From what was heard, photographed and changed by people to the ticket as it stands now.

Joins rooms: store → notes → trade → tickets → store. Called by the worker after a listening and by the web
after a typed note, a photo, an edit or a change of state. Everything happens under the write lock, so two
callers take turns and neither works on what the other is replacing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from hatchnote.domain import Facts, MachineRecord, Nameplate, Ticket, TicketStatus, Transcript, Visit
from hatchnote.jobs import joined
from hatchnote.store import Store, photos, places, recordings, tickets
from hatchnote.store.database import Row
from hatchnote.store.recordings import Hearing
from hatchnote.tickets.document import to_json
from hatchnote.tickets.edits import Conflict, Draft, Edit, merge, replay, validate
from hatchnote.tickets.main_job import ticket_from_facts
from hatchnote.tickets.revisions import checks, digest
from hatchnote.tickets.takeback import living, take_back
from hatchnote.tickets.together import check_join, links

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Saved:
    """The ticket after a change: its revision and document, and the edits that could not be applied."""

    revision: int
    document: Json
    conflicts: tuple[Conflict, ...] = ()


def read_words(store: Store, site_id: str, heard: Transcript, *, about: object = None) -> Facts:
    """The facts of one transcript, read with the site's machines in mind.

    `about` is the machine whose page he spoke from ("Add by voice"): what names no other machine belongs to it.
    """
    from hatchnote.notes import read_notes

    facts = read_notes(heard, equipment=places.equipment(store, site_id))
    return _told_of(facts, about) if isinstance(about, str) and about.strip() else facts


def _told_of(facts: Facts, tag: str) -> Facts:
    return replace(
        facts,
        readings=tuple(replace(x, tag=x.tag or tag) for x in facts.readings),
        work=tuple(replace(x, tag=x.tag or tag) for x in facts.work),
        parts=tuple(replace(x, tag=x.tag or tag) for x in facts.parts),
        findings=tuple(replace(x, tag=x.tag or tag) for x in facts.findings),
        withdrawn=tuple(replace(x, tag=x.tag or tag) for x in facts.withdrawn),
        tags=facts.tags or (tag,),
    )


def redraft(store: Store, ticket_id: str, *, who: str | None, why: str) -> Saved:
    """Assemble the ticket from all that is stored, and keep it as a new revision if anything differs."""
    with store.db.write():
        row = tickets.ticket(store, ticket_id)
        made = _made(store, row, recordings.hearings(store, ticket_id), _record(store, ticket_id))
        return _save(store, row, made, _reopened(row), who=who, why=why)


def edit(store: Store, ticket_id: str, edits: Sequence[Edit], *, who: str) -> Saved:
    """Apply the edits that still fit, field by field; the others come back as conflicts.

    Edits already on record are taken as done. A change to an approved ticket makes a new revision that
    waits for approval again; the approved one stays readable under its number.
    """
    with store.db.write():
        row = tickets.ticket(store, ticket_id)
        known = tickets.known_changes(store, [e.id for e in edits])
        heard = recordings.hearings(store, ticket_id)
        record = _record(store, ticket_id)
        made = _made(store, row, heard, record)
        applied: list[Edit] = []
        conflicts: list[Conflict] = []
        for one in edits:
            if one.id in known:
                continue
            validate(one)
            answer = _answer(made, one, [*record, *applied])
            if isinstance(answer, Conflict):
                conflicts.append(answer)
                continue
            noted, draft = answer
            applied.append(noted)
            made = replace(made, draft=draft) if draft else _made(store, row, heard, [*record, *applied])
        if not applied:
            return Saved(row["revision"], document(store, row), tuple(conflicts))
        saved = _save(store, row, made, _reopened(row), who=who, why="edited", always=True)
        tickets.add_changes(store, ticket_id, saved.revision, who, [_change(e) for e in applied])
        return replace(saved, conflicts=tuple(conflicts))


def _answer(made: _Made, one: Edit, record: Sequence[Edit]) -> tuple[Edit, Draft | None] | Conflict:
    """The edit as it is recorded and the draft after it, None where that has to be made anew."""
    if one.op == "back":
        back = take_back(one, record, made.draft)
        return back if isinstance(back, Conflict) else (back, None)
    if one.kind == "dictation":
        check_join(one, made.transcripts, links(living(record)))
        return one, None
    outcome = merge(made.draft, [one])
    return outcome.conflicts[0] if outcome.conflicts else (outcome.applied[0], outcome.draft)


def set_status(
    store: Store, ticket_id: str, to: TicketStatus, *, who: str, note: str | None, at: str
) -> Saved:
    """Move to another state. Whether this person may is the caller's question."""
    with store.db.write():
        row = tickets.ticket(store, ticket_id)
        made = _made(store, row, recordings.hearings(store, ticket_id), _record(store, ticket_id))
        saved = _save(store, row, made, to, who=who, why=to, note=note, always=True)
        change = {
            "at": at,
            "op": "status",
            "kind": "ticket",
            "field": "status",
            "before": row["status"],
            "after": to,
        }
        rows = (
            [change]
            if not note
            else [change, {**change, "op": "note", "field": "note", "before": None, "after": note}]
        )
        tickets.add_changes(store, ticket_id, saved.revision, who, rows)
        return saved


def _reopened(row: Row) -> TicketStatus:
    """A change to an approved ticket has to be approved again."""
    status: TicketStatus = row["status"]
    return "checked" if status == "approved" else status


def document(store: Store, row: Row) -> Json:
    """The current document; an empty draft while nothing was heard yet."""
    if row["revision"]:
        return tickets.revision(store, row["id"], row["revision"]).document
    empty = Ticket(row["id"], "draft", _visit(row), (MachineRecord(None, ""),), ())
    return {**to_json(empty), "equipment": [], "revision": 0}


@dataclass(frozen=True, slots=True)
class _Made:
    """What a ticket is put together from, after all that people changed."""

    draft: Draft
    transcripts: list[Transcript]


def _made(store: Store, row: Row, heard: Sequence[Hearing], record: Sequence[Edit]) -> _Made:
    counting = living(record)
    linked = links(counting)
    facts, followed_by = joined.all_facts(store, row, heard, linked)
    base = Draft(facts=facts, photos=tuple(photos.of_ticket(store, row["id"])))
    return _Made(replay(base, counting, followed_by), joined.transcripts(heard, linked))


def _record(store: Store, ticket_id: str) -> list[Edit]:
    return [_edit(r) for r in tickets.edits(store, ticket_id)]


def _save(
    store: Store,
    row: Row,
    what: _Made,
    status: TicketStatus,
    *,
    who: str | None,
    why: str,
    note: str | None = None,
    always: bool = False,
) -> Saved:
    plates: dict[str | None, Nameplate] = {
        e.tag: e.nameplate for e in places.equipment(store, row["site_id"])
    }
    made = ticket_from_facts(
        what.transcripts,
        what.draft.facts,
        id=row["id"],
        visit=_visit(row),
        nameplates=plates,
        photos=what.draft.photos,
    )
    body = to_json(made.with_status(status))
    sha256 = digest(body)
    if not always and row["revision"]:
        last = tickets.revision(store, row["id"], row["revision"])
        if last.sha256 == sha256 and last.status == status:
            return Saved(row["revision"], last.document)
    number = tickets.save_revision(
        store,
        row["id"],
        body,
        sha256=sha256,
        who=who,
        why=why,
        checks=checks(body),
        note=note if status == "returned" else (row["note"] if status == row["status"] else None),
        digest=sha256 if status == "approved" else None,
    )
    return Saved(number, {**body, "revision": number})


def _visit(row: Row) -> Visit:
    return Visit(
        date=row["date"], site=row["site"], technician=row["technician"], altitude_ft=row["altitude_ft"]
    )


def _edit(row: Row) -> Edit:
    names = ("id", "at", "op", "kind", "item", "field", "before", "after", "who", "was")
    return Edit(**{n: row[n] for n in names})


def _change(e: Edit) -> Json:
    return {
        "id": e.id,
        "at": e.at,
        "op": e.op,
        "kind": e.kind,
        "item": e.item,
        "field": e.field,
        "before": e.before,
        "after": e.after,
        "was": e.was,
    }
