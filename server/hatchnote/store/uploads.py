"""Uploads that can be resumed: the row says how many bytes are safely on the disk, the file holds them.

The order is always: write, flush, fsync, then commit the new offset. Bytes in the file beyond the row's
offset were never acknowledged and are cut off before the next write.
"""

from __future__ import annotations

import json
import os
import secrets
import shutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from hatchnote.errors import Conflict, NoRoom, NotFound
from hatchnote.store import Store
from hatchnote.store.blobs import full_disk_is_told, sync_folder
from hatchnote.store.database import Row
from hatchnote.store.packing import dumps


@dataclass(frozen=True, slots=True)
class Upload:
    """`state` is open, whole or refused; `length` and `sha256` may be unknown while sound is still recorded."""

    id: str
    user_id: str
    kind: str
    ref: str
    recording_id: str | None
    seq: int | None
    sha256: str | None
    length: int | None
    offset: int
    raw_metadata: str
    metadata: dict[str, str]
    state: str
    refused: str | None
    expires_at: float

    @property
    def complete(self) -> bool:
        """All bytes promised have arrived; whether they are the right ones is another question."""
        return self.length is not None and self.offset == self.length


def create(
    store: Store,
    *,
    user_id: str,
    kind: str,
    ref: str,
    recording_id: str | None,
    seq: int | None,
    sha256: str | None,
    length: int | None,
    raw_metadata: str,
    metadata: dict[str, str],
    lasts_s: float,
) -> Upload:
    """A fresh, empty upload whose file is on the disk."""
    id = secrets.token_hex(16)
    row: Row = {
        "id": id,
        "user_id": user_id,
        "kind": kind,
        "ref": ref,
        "recording_id": recording_id,
        "seq": seq,
        "sha256": sha256,
        "length": length,
        "raw_metadata": raw_metadata,
        "metadata": dumps(metadata),
        "created_at": store.now(),
        "expires_at": store.now() + lasts_s,
    }
    with full_disk_is_told():
        file_of(store, id).touch(mode=0o600)
        sync_folder(store.uploads)
    store.db.insert("uploads", row)
    return upload(store, id)


def upload(store: Store, id: str) -> Upload:
    """Raises NotFound."""
    row = store.db.row("SELECT * FROM uploads WHERE id = ?", (id,))
    if row is None:
        raise NotFound("There is no such upload; start it again.")
    names = Upload.__dataclass_fields__
    return Upload(**{k: json.loads(v) if k == "metadata" else v for k, v in row.items() if k in names})


def file_of(store: Store, id: str) -> Path:
    return store.uploads / f"{id}.part"


def append(
    store: Store,
    id: str,
    *,
    offset: int,
    pieces: Iterable[bytes],
    verified: Callable[[], bool],
    keep_free: int,
) -> int:
    """Write `pieces` at `offset` and return the new offset, which is on the disk and in the database by then.

    `verified` is asked after the last piece; when it says no, nothing moves and the old offset is returned.
    Raises Conflict when `offset` is not where the upload stands, and NoRoom when the disk is full: what was
    acknowledged before stays.
    """
    at = offset
    if shutil.disk_usage(store.uploads).free < keep_free:
        raise NoRoom("The server is short of disk space; what was sent before is kept, so try again later.")
    with full_disk_is_told(), open(file_of(store, id), "r+b") as file:
        file.truncate(offset)
        file.seek(offset)
        try:
            for piece in pieces:
                file.write(piece)
                at += len(piece)
            file.flush()
            os.fsync(file.fileno())
        except OSError:
            file.truncate(offset)
            raise
    if not verified():
        return offset
    moved = store.db.change(
        "UPDATE uploads SET offset = ? WHERE id = ? AND offset = ? AND state = 'open'", (at, id, offset)
    )
    if not moved:
        raise Conflict("This upload moved on meanwhile; ask where it stands and go on from there.")
    return at


def set_length(store: Store, id: str, length: int) -> None:
    """Settle a deferred length, once. Raises Conflict for another length than the settled one."""
    with store.db.write():
        found = upload(store, id)
        if found.length == length:
            return
        if found.length is not None or length < found.offset:
            raise Conflict("This upload's length was already settled differently.")
        store.db.change("UPDATE uploads SET length = ? WHERE id = ?", (length, id))


def set_digest(store: Store, id: str, sha256: str) -> None:
    """Learn the announced digest of sound that was still being recorded when its upload began."""
    with store.db.write():
        found = upload(store, id)
        if found.sha256 not in (None, sha256):
            raise Conflict("This upload's digest was already announced differently.")
        store.db.change("UPDATE uploads SET sha256 = ? WHERE id = ?", (sha256, id))


def settle(store: Store, id: str, state: str, *, refused: str | None = None) -> None:
    """Mark it whole or refused."""
    store.db.change("UPDATE uploads SET state = ?, refused = ? WHERE id = ?", (state, refused, id))


def remove(store: Store, id: str) -> None:
    store.db.change("DELETE FROM uploads WHERE id = ?", (id,))
    file_of(store, id).unlink(missing_ok=True)


def of_segment(store: Store, segment_id: str) -> list[Upload]:
    """Unfinished uploads of one segment, furthest first."""
    rows = store.db.rows(
        "SELECT id FROM uploads WHERE ref = ? AND kind = 'segment' AND state = 'open' ORDER BY offset DESC",
        (segment_id,),
    )
    return [upload(store, r["id"]) for r in rows]


def expired(store: Store) -> list[str]:
    """Unfinished (or refused) uploads whose time has run out; whole ones never expire, only their rows go."""
    rows = store.db.rows("SELECT id FROM uploads WHERE expires_at < ?", (store.now(),))
    return [r["id"] for r in rows]
