"""What still has to be done. The queue is only a doorbell; this table is the memory.

    waiting --claim--> running --finish--> done
       ^                  |  lease runs out, or it fails and may be tried again
       +------------------+
                          +--tries used up, or it can never work--> set-aside (with its reason)

A claim is a guarded update under the write lock and hands out a fresh lease; whoever comes with an older
lease changes nothing. Fairness: the technician whose turn was longest ago comes first, and of his
recordings those of the newest visit.
"""

from __future__ import annotations

import json
import secrets
import uuid
from dataclasses import dataclass
from typing import Any

from hatchnote.store import Store
from hatchnote.store.database import Row
from hatchnote.store.packing import dumps


@dataclass(frozen=True, slots=True)
class Claim:
    """A job in hand. `lease` must be shown with every later word about it."""

    id: str
    kind: str
    ref: str
    key: str
    payload: dict[str, Any]
    lease: str
    tries: int


def put(
    store: Store,
    *,
    kind: str,
    ref: str,
    owner: str,
    visit_date: str,
    key: str,
    payload: dict[str, Any] | None = None,
    seconds: float = 0.0,
    not_before: float = 0.0,
) -> bool:
    """Ask for a piece of work. The same kind, ref and key again is the same work; another key starts anew.

    Returns True when there is something new to do.
    """
    with store.db.write():
        old = store.db.row("SELECT id, key, state FROM jobs WHERE kind = ? AND ref = ?", (kind, ref))
        if old and old["key"] == key:
            return False
        fresh = {
            "owner": owner,
            "visit_date": visit_date,
            "key": key,
            "payload": dumps(payload or {}),
            "seconds": seconds,
            "state": "waiting",
            "tries": 0,
            "not_before": not_before,
            "lease": None,
            "lease_until": None,
            "progress": 0.0,
            "error": None,
            "created_at": store.now(),
            "ended_at": None,
        }
        if old:
            marks = ", ".join(f"{c} = :{c}" for c in fresh)
            store.db.change(f"UPDATE jobs SET {marks} WHERE id = :id", {**fresh, "id": old["id"]})
        else:
            store.db.insert("jobs", {"id": str(uuid.uuid4()), "kind": kind, "ref": ref, **fresh})
        return True


_READY = "(jobs.state = 'waiting' AND jobs.not_before <= :now OR jobs.state = 'running' AND jobs.lease_until < :now)"


def claim(store: Store, *, worker: str, lease_s: float, tries: int, kinds: tuple[str, ...]) -> Claim | None:
    """Take the fairest piece of work, or None when nothing is ready.

    Work whose worker vanished for the last allowed time is set aside here, so that one recording that kills
    workers cannot do so for ever.
    """
    marks = ", ".join(f"'{k}'" for k in kinds if k.isalnum())
    with store.db.write():
        store.db.change(
            "UPDATE jobs SET state = 'set-aside', lease = NULL, ended_at = :now, error = 'The worker stopped '"
            " || tries || ' times while working on this; listen to it by hand, or try again.'"
            " WHERE state = 'running' AND lease_until < :now AND tries >= :tries AND kind <> 'live'",
            {"now": store.now(), "tries": tries},
        )
        row = store.db.row(
            f"SELECT jobs.* FROM jobs LEFT JOIN turns ON turns.owner = jobs.owner WHERE {_READY}"
            f" AND jobs.kind IN ({marks})"
            " ORDER BY coalesce(turns.at, 0), jobs.visit_date DESC, jobs.created_at, jobs.id LIMIT 1",
            {"now": store.now()},
        )
        if row is None:
            return None
        store.db.upsert("turns", {"owner": row["owner"], "at": store.now()}, key=["owner"])
        return _hand_out(store, row, worker=worker, lease_s=lease_s)


def claim_one(
    store: Store, *, kind: str, ref: str, owner: str, visit_date: str, worker: str, lease_s: float, key: str
) -> Claim | None:
    """Make and take a job of one's own, unless somebody living has it or did it for the same key."""
    with store.db.write():
        old = job_of(store, kind, ref)
        if old and old["state"] == "running" and old["lease_until"] > store.now():
            return None
        if old and (old["state"] == "set-aside" or (old["state"] == "done" and old["key"] == key)):
            return None
        if old is None or old["key"] != key:
            put(store, kind=kind, ref=ref, owner=owner, visit_date=visit_date, key=key)
        return take(store, kind, ref, worker=worker, lease_s=lease_s)


def take(store: Store, kind: str, ref: str, *, worker: str, lease_s: float) -> Claim | None:
    """Claim one particular job, even when it is held back; None when somebody living has it or it is done."""
    with store.db.write():
        row = job_of(store, kind, ref)
        if row is None or not (
            row["state"] == "waiting" or (row["state"] == "running" and row["lease_until"] < store.now())
        ):
            return None
        return _hand_out(store, row, worker=worker, lease_s=lease_s)


def _hand_out(store: Store, row: Row, *, worker: str, lease_s: float) -> Claim:
    lease = secrets.token_hex(16)
    store.db.change(
        "UPDATE jobs SET state = 'running', lease = ?, lease_until = ?, worker = ?, tries = tries + 1,"
        " started_at = ?, progress = 0 WHERE id = ?",
        (lease, store.now() + lease_s, worker, store.now(), row["id"]),
    )
    return Claim(
        row["id"], row["kind"], row["ref"], row["key"], json.loads(row["payload"]), lease, row["tries"] + 1
    )


def followed(store: Store, ref: str) -> bool:
    """Whether a living worker hears this recording along."""
    row = job_of(store, "live", ref)
    return row is not None and row["state"] == "running" and row["lease_until"] > store.now()


def beat(store: Store, job_id: str, lease: str, *, lease_s: float, progress: float | None = None) -> bool:
    """Still at it. False: the job was given to somebody else, so stop."""
    return (
        store.db.change(
            "UPDATE jobs SET lease_until = :until, progress = coalesce(:progress, progress)"
            " WHERE id = :id AND lease = :lease AND state = 'running'",
            {"until": store.now() + lease_s, "progress": progress, "id": job_id, "lease": lease},
        )
        > 0
    )


def holds(store: Store, job_id: str, lease: str) -> bool:
    """Whether this lease is the current one. Ask inside the transaction that writes the result."""
    return bool(
        store.db.row("SELECT 1 FROM jobs WHERE id = ? AND lease = ? AND state = 'running'", (job_id, lease))
    )


def finish(store: Store, job_id: str, lease: str) -> bool:
    """Done; False when the lease is not the current one, and then nothing has changed."""
    return (
        store.db.change(
            "UPDATE jobs SET state = 'done', lease = NULL, progress = 1, error = NULL, ended_at = ?"
            " WHERE id = ? AND lease = ? AND state = 'running'",
            (store.now(), job_id, lease),
        )
        > 0
    )


def fail(store: Store, job_id: str, lease: str, *, reason: str, final: bool, tries: int) -> bool:
    """Try again later (10 s, 20 s, 40 s …), or set it aside when it is `final` or the tries are used up."""
    with store.db.write():
        row = store.db.row("SELECT tries FROM jobs WHERE id = ? AND lease = ?", (job_id, lease))
        if row is None:
            return False
        over = final or row["tries"] >= tries
        wait = 0.0 if over else min(3600.0, 10.0 * 2.0 ** (row["tries"] - 1))
        store.db.change(
            "UPDATE jobs SET state = ?, lease = NULL, error = ?, not_before = ?, ended_at = ? WHERE id = ?",
            (
                "set-aside" if over else "waiting",
                reason,
                store.now() + wait,
                store.now() if over else None,
                job_id,
            ),
        )
        return True


def release(store: Store, worker: str) -> int:
    """Let go of everything a dead worker held: its leases run out at once."""
    return store.db.change(
        "UPDATE jobs SET lease_until = 0 WHERE worker = ? AND state = 'running'", (worker,)
    )


def retry(store: Store, job_id: str) -> bool:
    """Take a job that was set aside up again."""
    return (
        store.db.change(
            "UPDATE jobs SET state = 'waiting', tries = 0, not_before = 0, error = NULL, ended_at = NULL"
            " WHERE id = ? AND state = 'set-aside'",
            (job_id,),
        )
        > 0
    )


def job(store: Store, id: str) -> Row | None:
    return store.db.row("SELECT * FROM jobs WHERE id = ?", (id,))


def job_of(store: Store, kind: str, ref: str) -> Row | None:
    return store.db.row("SELECT * FROM jobs WHERE kind = ? AND ref = ?", (kind, ref))


def ready(store: Store) -> int:
    """How many jobs could be claimed now."""
    return int(
        store.db.value(f"SELECT count(*) FROM jobs WHERE kind <> 'live' AND {_READY}", {"now": store.now()})
    )


def unfinished(store: Store, *, limit: int = 500) -> list[Row]:
    """Running, waiting and set-aside jobs in about the order they will be done."""
    return store.db.rows(
        "SELECT jobs.*, coalesce(full_name, name) AS technician FROM jobs LEFT JOIN users ON users.id = owner"
        " WHERE jobs.state <> 'done' AND jobs.kind <> 'live'"
        " ORDER BY CASE jobs.state WHEN 'running' THEN 0 WHEN 'waiting' THEN 1 ELSE 2 END,"
        " visit_date DESC, jobs.created_at LIMIT ?",
        (limit,),
    )


def seconds_waiting(store: Store) -> float:
    """Seconds of sound not yet listened to."""
    return float(
        store.db.value(
            "SELECT coalesce(sum(seconds * (1 - progress)), 0) FROM jobs WHERE state IN ('waiting', 'running')"
        )
    )


def counts(store: Store) -> dict[str, int]:
    return {
        r["state"]: r["n"]
        for r in store.db.rows("SELECT state, count(*) AS n FROM jobs WHERE kind <> 'live' GROUP BY state")
    }


# ---------------------------------------------------------------- how fast we listen


def note_figure(store: Store, name: str, value: float, *, weight: float = 0.3) -> None:
    """Keep a moving average, e.g. seconds of work a second of sound."""
    with store.db.write():
        old = store.db.value("SELECT value FROM figures WHERE name = ?", (name,))
        new = value if old is None else old * (1 - weight) + value * weight
        store.db.upsert("figures", {"name": name, "value": new}, key=["name"])


def figure(store: Store, name: str) -> float | None:
    found = store.db.value("SELECT value FROM figures WHERE name = ?", (name,))
    return None if found is None else float(found)
