"""Comparing what a phone kept with what the server holds, in the server's own database."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from pathlib import Path

KEPT = """async () => {
  const { db } = hatchnote;
  const pick = ({ id, sha256, bytes, seq, recording }) => ({ id, sha256, bytes, seq, recording });
  return {
    segments: (await db.getAll("segments")).filter((s) => s.bytes > 0).map(pick),
    photos: (await db.getAll("photos")).map(pick),
    recordings: (await db.getAll("recordings")).map(({ id, marks, started_at }) => ({ id, marks, started_at })),
    bytes_left: (await db.count("slices")) + (await db.count("blobs")),
  };
}"""


def kept(page):
    """What the phone says it made: ids, digests, sizes, marks."""
    return page.evaluate(KEPT)


def on_server(folder: Path):
    """{"segments": {id: (sha256, recording, seq)}, "photos": {id: sha256}} as the database has them, every row."""
    db = sqlite3.connect(f"file:{folder / 'hatchnote.db'}?mode=ro", uri=True)
    try:
        segments = db.execute("select id, blob_sha256, recording_id, seq from segments").fetchall()
        photos = db.execute("select id, sha256 from photos").fetchall()
    finally:
        db.close()
    return segments, photos


def missing(page, folder: Path) -> list[str]:
    """What the phone made and the server lacks or holds differently, as sentences; and bytes still on the phone."""
    phone = kept(page)
    segments, photos = on_server(folder)
    out = []
    if phone["bytes_left"]:
        out.append(f"{phone['bytes_left']} slices or photos are still on the phone")
    for name, theirs in (("segment", {s[0]: s[1] for s in segments}), ("photo", dict(photos))):
        for row in phone[f"{name}s"]:
            if theirs.get(row["id"]) != row["sha256"]:
                out.append(f"{name} {row['id']} is not on the server as it was made")
            elif digest_on_disk(folder, row["sha256"]) != row["sha256"]:
                out.append(f"{name} {row['id']} is not on the server's disk as announced")
    return out


def same(page, folder: Path) -> list[str]:
    """The same for a server with one phone, where nothing else may be: nothing arrived twice."""
    phone = kept(page)
    segments, photos = on_server(folder)
    out = missing(page, folder)
    for name, theirs in (("segment", segments), ("photo", photos)):
        if len(theirs) != len(phone[f"{name}s"]):
            out.append(f"{len(phone[f'{name}s'])} {name}s were made, the server has {len(theirs)}")
    return out


def marks_on_server(folder: Path) -> dict[str, list[dict]]:
    db = sqlite3.connect(f"file:{folder / 'hatchnote.db'}?mode=ro", uri=True)
    try:
        return {id: json.loads(marks) for id, marks in db.execute("select id, marks from recordings")}
    finally:
        db.close()


def digest_on_disk(folder: Path, sha256: str) -> str | None:
    path = folder / "blobs" / sha256[:2] / sha256
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.exists() else None
