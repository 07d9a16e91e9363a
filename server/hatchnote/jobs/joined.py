"""What was heard in a ticket, dictations that people joined being read as one.

The joined reading is made once and kept under the listenings it was made from, so that a later change of the
vocabulary does not change a ticket behind anybody's back.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from hatchnote.domain import Facts, Finding, Part, Reading, Transcript, WorkItem
from hatchnote.errors import NotFound
from hatchnote.store import Store, places, recordings
from hatchnote.store.database import Row
from hatchnote.store.recordings import Hearing
from hatchnote.tickets.together import Together, groups, read_together

T = TypeVar("T", Reading, WorkItem, Part, Finding)


def all_facts(
    store: Store, row: Row, heard: Sequence[Hearing], linked: Mapping[str, str]
) -> tuple[Facts, dict[str, str]]:
    """The ticket's facts in order of speech, and by which item of a joined reading an older one is followed.

    Call inside a transaction: a reading that is made for the first time is kept.
    """
    by_id = {h.source_id: h for h in heard}
    facts = Facts()
    followed: dict[str, str] = {}
    for members in groups(list(by_id), linked):
        if len(members) == 1:
            facts = facts + by_id[members[0]].facts
            continue
        made = _together(store, row, [by_id[m] for m in members])
        facts = facts + made.facts
        followed.update(made.followed_by)
    return facts, followed


def transcripts(heard: Sequence[Hearing], linked: Mapping[str, str]) -> list[Transcript]:
    """The words of each dictation as heard; those that go on from another say so."""
    there = {h.source_id for h in heard}
    return [
        replace(h.transcript, continues=linked[h.source_id])
        if linked.get(h.source_id) in there
        else h.transcript
        for h in heard
    ]


def _together(store: Store, row: Row, parts: Sequence[Hearing]) -> Together:
    from hatchnote.notes import read_notes

    key = hashlib.sha256("+".join(f"{p.source_id}:{p.seq}" for p in parts).encode()).hexdigest()
    kept = recordings.read_together(store, key)
    if kept is not None:
        return Together(*kept)
    machines = places.equipment(store, row["site_id"])
    made = read_together(
        [p.transcript for p in parts],
        [p.facts for p in parts],
        lambda words: read_notes(words, equipment=machines),
    )
    made = replace(made, facts=_told_of(made.facts, _abouts(store, parts)))
    recordings.keep_read_together(
        store, key, ticket_id=row["id"], facts=made.facts, followed_by=made.followed_by
    )
    return made


def _abouts(store: Store, parts: Sequence[Hearing]) -> dict[str | None, str]:
    """Dictation → the machine whose page it was spoken from; what goes on from another is about the same."""
    out: dict[str | None, str] = {}
    last = None
    for part in parts:
        try:
            tag = recordings.recording(store, part.source_id)["settings"].get("tag")
        except NotFound:  # a typed note
            tag = None
        last = tag.strip() if isinstance(tag, str) and tag.strip() else last
        if last:
            out[part.transcript.id] = last
    return out


def _told_of(facts: Facts, abouts: Mapping[str | None, str]) -> Facts:
    def told(items: tuple[T, ...]) -> tuple[T, ...]:
        return tuple(replace(x, tag=x.tag or abouts.get(x.heard.dictation)) for x in items)

    return replace(
        facts,
        readings=told(facts.readings),
        work=told(facts.work),
        parts=told(facts.parts),
        findings=told(facts.findings),
        withdrawn=told(facts.withdrawn),
        tags=facts.tags or tuple(dict.fromkeys(abouts.values())),
    )
