"""Put transcripts, facts, judgement and photos together into one ticket, machine by machine."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from hatchnote.domain import (
    Assessment,
    Caution,
    Computed,
    Facts,
    Finding,
    MachineRecord,
    Missing,
    Part,
    Photo,
    Reading,
    Ticket,
    TicketStatus,
    Transcript,
    Visit,
    WorkItem,
)
from hatchnote.tickets.summary import summarise


def assemble(
    transcripts: Iterable[Transcript],
    facts: Facts,
    assessment: Assessment,
    *,
    id: str,
    visit: Visit,
    photos: Sequence[Photo] = (),
    status: TicketStatus = "draft",
) -> Ticket:
    """One ticket from everything known about a visit.

    Machines appear in the order in which they were first named; what belongs to no particular
    machine comes last, under tag None. A photo taken during a dictation goes to the machine that
    was being spoken of at that second, unless it already names one.
    """
    heard = tuple(transcripts)
    placed = [_place(photo, facts) for photo in photos]
    order = _tags(facts, assessment, placed)
    machines = []
    for tag in order:
        record = MachineRecord(
            tag=tag,
            summary="",
            readings=tuple(r for r in facts.readings if r.tag == tag),
            work=tuple(w for w in facts.work if w.tag == tag),
            parts=tuple(p for p in facts.parts if p.tag == tag),
            findings=tuple(f for f in facts.findings if f.tag == tag),
            computed=tuple(c for c in assessment.computed if c.tag == tag),
            cautions=tuple(c for c in assessment.cautions if c.tag == tag),
            missing=tuple(m for m in assessment.missing if m.tag == tag),
            photos=tuple(p for p in placed if p.tag == tag),
        )
        machines.append(replace(record, summary=summarise(record)))
    return Ticket(id, status, visit, tuple(machines), heard, facts.withdrawn)


def _tags(facts: Facts, assessment: Assessment, photos: Sequence[Photo]) -> list[str | None]:
    items: list[Reading | WorkItem | Part | Finding | Computed | Caution | Missing | Photo]
    items = [*facts.readings, *facts.work, *facts.parts, *facts.findings]
    tags: list[str | None] = list(dict.fromkeys(facts.tags))
    items += [*assessment.computed, *assessment.cautions, *assessment.missing, *photos]
    for item in items:
        if item.tag is not None and item.tag not in tags:
            tags.append(item.tag)
    if any(i.tag is None for i in items) or not tags:
        tags.append(None)
    return tags


def _place(photo: Photo, facts: Facts) -> Photo:
    """Give a photo the machine of the item spoken nearest to the moment it was taken."""
    if photo.tag is not None or photo.dictation is None or photo.at_s is None:
        return photo
    nearest: tuple[float, str] | None = None
    spoken: list[Reading | WorkItem | Part | Finding]
    spoken = [*facts.readings, *facts.work, *facts.findings, *facts.parts]
    for item in spoken:
        span = item.heard
        if span.dictation != photo.dictation or span.start is None or span.end is None or item.tag is None:
            continue
        distance = max(span.start - photo.at_s, photo.at_s - span.end, 0.0)
        if nearest is None or distance < nearest[0]:
            nearest = (distance, item.tag)
    return replace(photo, tag=nearest[1]) if nearest else photo
