"""When a recording is ready to be listened to, and asking for it."""

from __future__ import annotations

import hashlib
from typing import Literal

from hatchnote.jobs.bell import Bell
from hatchnote.store import Store, jobs, recordings
from hatchnote.store.database import Row

Status = Literal["waiting", "receiving", "listening", "done", "set-aside"]
HELD_BACK_S = 30.0
"""Who heard the recording along delivers first; after so long anybody may start from the beginning."""
BYTES_A_SECOND = 4000.0
"""A phone's Opus or AAC at 32 kbit/s: only for guessing how long a recording is before it is decoded."""


def ask_to_listen(store: Store, bell: Bell, recording_id: str) -> bool:
    """Put the recording on the list once it is finished and every segment is whole. Repeatable."""
    with store.db.write():
        recording = recordings.recording(store, recording_id)
        pieces = recordings.segments(store, recording_id)
        if not recording["finished"] or not pieces or not all(p["blob_sha256"] for p in pieces):
            return False
        new = jobs.put(
            store,
            kind="listen",
            ref=recording_id,
            owner=recording["technician_id"],
            visit_date=recording["visit_date"],
            key=sound_key(pieces),
            not_before=store.now() + HELD_BACK_S if jobs.followed(store, recording_id) else 0.0,
            seconds=recording["duration_s"] or sum(p["bytes"] for p in pieces) / BYTES_A_SECOND,
        )
    if new:
        bell.ring()
    return new


def sound_key(pieces: list[Row]) -> str:
    """Names the bytes of a recording: the same segments give the same key."""
    text = " ".join(f"{p['seq']}:{p['blob_sha256']}" for p in pieces)
    return hashlib.sha256(text.encode()).hexdigest()


def status_of(recording: Row, pieces: list[Row], job: Row | None) -> Status:
    if job is not None:
        state: str = job["state"]
        return "set-aside" if state == "set-aside" else "done" if state == "done" else "listening"
    if recording["finished"] and not pieces:
        return "set-aside"  # nothing will ever come
    return "receiving" if any(p["received_bytes"] for p in pieces) else "waiting"


def eta_s(store: Store, job: Row | None) -> float | None:
    """Seconds until the draft is there, from how fast listening has gone so far; None when nobody knows."""
    if job is None or job["state"] not in ("waiting", "running"):
        return None
    ratio = jobs.figure(store, "work_s_per_sound_s")
    if ratio is None:
        return None
    left: float = job["seconds"] * (1 - job["progress"])
    if job["state"] == "waiting":
        left = max(left, jobs.seconds_waiting(store))
    return round(left * ratio, 1)
