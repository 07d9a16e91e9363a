"""Listening while he speaks: sound is heard as it arrives, so that the draft is there when he stops.

One thread of a worker beside the data folder looks for recordings that are growing. It claims a recording
(kind "live"), feeds the listener what has arrived, and shows the words so far. When the last segment is
proven whole it takes the "listen" job, which was held back for it, and delivers the same result that a
listening from the start would give. If it dies, the held-back job is done by anybody from the start.
"""

from __future__ import annotations

import logging
import threading
import time
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from hatchnote.errors import BadInput, NotFound
from hatchnote.jobs.desk import LocalDesk, vocabulary
from hatchnote.jobs.listen import Heartbeat, keep_playable
from hatchnote.store import jobs, recordings, uploads
from hatchnote.store.database import Row

if TYPE_CHECKING:
    from hatchnote.speech.audio import Sound
    from hatchnote.speech.live import Listener

log = logging.getLogger("hatchnote.jobs")
TICK_S = 1.0
HOLD_BACK_S = 0.5
"""The newest half second waits: the end of a cut file decodes differently from the middle of a longer one."""
SILENT_S = 180.0
"""No new bytes for so long: the phone is out of reach, and the place goes to somebody else."""
LEAST_BYTES = 8000


@dataclass
class Session:
    """One recording being heard as it grows. `fed` counts samples given to the listener of each segment."""

    claim: jobs.Claim
    listener: Listener
    fed: dict[str, int] = field(default_factory=dict)
    seen_bytes: int = 0
    moved_at: float = field(default_factory=time.monotonic)
    next_at: float = 0.0
    work_s: float = 0.0
    warnings: dict[str, tuple[str, ...]] = field(default_factory=dict)


def run(desk: LocalDesk, stop: threading.Event) -> None:
    """Until told to stop. One recording at a time: the others are listened to when they are finished."""
    while not stop.wait(TICK_S):
        try:
            found = candidate(desk)
            if found:
                follow(desk, found, stop)
        except Exception:
            log.exception("listening along failed; the recording is listened to when it is finished")
            stop.wait(5)


def candidate(desk: LocalDesk) -> jobs.Claim | None:
    """Claim a growing recording that nobody follows yet."""
    for row in recordings.growing(desk.store, least_bytes=LEAST_BYTES):
        claim = jobs.claim_one(
            desk.store, kind="live", ref=row["id"], owner=row["technician_id"], visit_date=row["visit_date"],
            worker=desk.worker, lease_s=desk.settings.lease_s, key=str(row["arrived"]),
        )  # fmt: skip
        if claim:
            return claim
    return None


def follow(desk: LocalDesk, claim: jobs.Claim, stop: threading.Event) -> None:
    """Stay with one recording until it is delivered, lost, or silent for too long."""
    from hatchnote.speech.live import Listener

    row = recordings.recording(desk.store, claim.ref)
    session = Session(claim, Listener(vocabulary(desk.store, row["site_id"])))
    with Heartbeat(desk, claim, every_s=min(5.0, max(0.5, desk.settings.lease_s / 4))) as heart:
        while not stop.is_set() and not heart.lost:
            pieces = recordings.segments(desk.store, claim.ref)
            whole = bool(pieces) and all(p["blob_sha256"] for p in pieces)
            finished = bool(recordings.recording(desk.store, claim.ref)["finished"])
            if whole and finished:
                _deliver(desk, session, pieces)
                break
            if not _feed(desk, session, pieces):
                desk.fail(claim, "This format cannot be heard before its end.", final=True)
                return
            if time.monotonic() - session.moved_at > SILENT_S:
                break
            stop.wait(TICK_S)
    jobs.finish(desk.store, claim.id, claim.lease)


def _feed(desk: LocalDesk, session: Session, pieces: list[Row]) -> bool:
    """Listen to what is new. False when this sound cannot be followed (its format says nothing before its end)."""
    from hatchnote.speech.audio import RATE

    arrived = sum(p["received_bytes"] for p in pieces)
    if arrived == session.seen_bytes or time.monotonic() < session.next_at:
        return True
    session.seen_bytes, session.moved_at = arrived, time.monotonic()
    started = time.monotonic()
    for n, piece in enumerate(pieces):
        sound = _decoded(desk, piece)
        if sound is None:
            return n > 0 or arrived < LEAST_BYTES * 4
        samples = sound.samples
        if piece["blob_sha256"]:
            session.warnings[piece["id"]] = sound.warnings
        if piece["blob_sha256"] is None:
            samples = samples[: max(0, len(samples) - int(HOLD_BACK_S * RATE))]
        done = session.fed.get(piece["id"], 0)
        if len(samples) > done:
            session.listener.feed(samples[done:])
            session.fed[piece["id"]] = len(samples)
        if piece["blob_sha256"] is None:
            break  # the order is the recording's: a later segment waits for this one
    took = time.monotonic() - started
    session.work_s += took
    # The whole prefix is decoded every time; on long recordings less often.
    session.next_at = time.monotonic() + min(10.0, took / 2)
    recordings.set_words_so_far(
        desk.store, session.claim.ref, " ".join(w.text for w in session.listener.words)
    )
    return True


def _decoded(desk: LocalDesk, piece: Row) -> Sound | None:
    from hatchnote.speech.audio import decode

    if piece["blob_sha256"]:
        file = desk.store.blobs.path(piece["blob_sha256"])
    else:
        found = uploads.of_segment(desk.store, piece["id"])
        if not found:
            return None
        file = uploads.file_of(desk.store, found[0].id)
    try:
        return decode(file)
    except (BadInput, NotFound):
        return None


def _deliver(desk: LocalDesk, session: Session, pieces: list[Row]) -> None:
    started = time.monotonic()
    session.next_at, session.seen_bytes = 0.0, -1
    if not _feed(desk, session, pieces):
        return
    warnings = [w for told in session.warnings.values() for w in told]
    heard = session.listener.finish(id=session.claim.ref, warnings=warnings)
    mine = jobs.take(
        desk.store, "listen", session.claim.ref, worker=desk.worker, lease_s=desk.settings.lease_s
    )
    if mine is None:
        return
    if not desk.deliver(mine, heard, session.work_s + time.monotonic() - started):
        return
    log.info("recording %s was heard along", session.claim.ref)
    keep_playable(desk, mine, desk.listening(mine, desk.store.uploads))
