"""Proving that what arrived is what was sent, and only then calling it received."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from hatchnote import photos as pictures
from hatchnote.errors import BadInput
from hatchnote.jobs import draft
from hatchnote.jobs.asking import ask_to_listen
from hatchnote.store import photos, recordings, tickets, uploads
from hatchnote.store.blobs import digest_of
from hatchnote.store.database import Row
from hatchnote.store.uploads import Upload
from hatchnote.web.context import Context
from hatchnote.web.security import Refused

_LOCKS: dict[str, threading.Lock] = {}
_LOCKS_LOCK = threading.Lock()
ONE_PICTURE = threading.Semaphore(1)
"""A decoded photo is tens of megabytes; one at a time keeps the web process small."""
WAIT_S = 10.0


class Refusal(BadInput):
    """The bytes arrived whole and are of no use; the sentence says why."""


@contextmanager
def locked(upload_id: str) -> Iterator[None]:
    """One request at a time for one upload: a second tab, or a retry that races a slow first try."""
    with _LOCKS_LOCK:
        lock = _LOCKS.setdefault(upload_id, threading.Lock())
    if not lock.acquire(timeout=WAIT_S):
        raise Refused(
            423, "locked", "This upload is being written by another request; ask again where it stands."
        )
    try:
        yield
    finally:
        lock.release()
        with _LOCKS_LOCK:
            if not lock.locked():
                _LOCKS.pop(upload_id, None)


def finish(context: Context, upload: Upload) -> Upload:
    """Prove a complete upload and hand it on; does nothing while its digest is not announced yet.

    Raises Refusal when the bytes are no sound or no photo, Refused (460) when they are not the bytes announced
    (the upload is dropped then, and has to be sent again), and NoRoom.
    """
    store = context.store
    if upload.state == "refused":
        raise Refusal(upload.refused or "This was refused.")
    if upload.state == "whole" or not upload.complete or upload.sha256 is None:
        return upload
    file = uploads.file_of(store, upload.id)
    photo: Row | None = None
    if not file.exists() and upload.kind == "photo":  # stopped between moving the file and noting it
        file.write_bytes(store.blobs.read(upload.sha256))
    if file.exists():
        if digest_of(file) != upload.sha256:
            uploads.remove(store, upload.id)
            raise Refused(
                460, "digest", "The bytes that arrived are not the bytes announced; send this file again."
            )
        try:
            photo = _look_into(context, upload)
        except BadInput as refusal:
            uploads.settle(store, upload.id, "refused", refused=str(refusal))
            file.unlink(missing_ok=True)
            raise Refusal(str(refusal)) from refusal
    store.blobs.adopt(file, upload.sha256)
    with store.db.write():
        if upload.kind == "segment":
            recordings.receive_segment(store, upload.ref, sha256=upload.sha256, size=upload.offset)
        elif photo is not None and photos.add(store, photo):
            draft.redraft(store, photo["ticket_id"], who=upload.user_id, why="photo")
        uploads.settle(store, upload.id, "whole")
    if upload.kind == "segment":
        ask_to_listen(store, context.bell, str(upload.recording_id))
    return uploads.upload(store, upload.id)


def finish_segment(context: Context, segment_id: str, sha256: str) -> None:
    """The manifest announced the digest of sound whose bytes may all be here already."""
    for found in uploads.of_segment(context.store, segment_id):
        if found.complete:
            with locked(found.id):
                if found.sha256 is None:
                    uploads.set_digest(context.store, found.id, sha256)
                finish(context, uploads.upload(context.store, found.id))
            return


_SOUND_STARTS = (b"\x1aE\xdf\xa3", b"OggS", b"fLaC", b"ID3", b"\xff\xfb", b"\xff\xf3", b"\xff\xf2", b"\xff\xfa",
                 b"\xff\xf1", b"\xff\xf9", b"FORM", b"caff", b"#!AMR")  # fmt: skip
_PICTURE_BRANDS = (b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"avif", b"avis")


def looks_like_sound(start: bytes) -> bool:
    """Judged by the first bytes of WebM, Ogg, FLAC, MP3, AAC, WAV, AIFF, CAF, AMR and MP4 files."""
    if start[4:8] == b"ftyp":
        return start[8:12] not in _PICTURE_BRANDS
    if start[:4] == b"RIFF":
        return start[8:12] == b"WAVE"
    return start.startswith(_SOUND_STARTS)


def _look_into(context: Context, upload: Upload) -> Row | None:
    """Judge the bytes by content. Raises BadInput; for a photo gives the row to keep."""
    file = uploads.file_of(context.store, upload.id)
    name = upload.metadata.get("filename") or f"The {upload.kind}"
    if upload.kind == "segment":
        with open(file, "rb") as f:
            start = f.read(16)
        if not looks_like_sound(start):
            raise BadInput(f"{name} is no sound; send a recording such as WebM, M4A, OGG, WAV, FLAC or MP3.")
        return None
    with ONE_PICTURE:
        data = file.read_bytes()
        facts, thumbnail = pictures.take_in(data, name=name)
    thumb = context.store.blobs.put(thumbnail)
    ticket = upload.metadata["ticket"]
    row = tickets.ticket(context.store, ticket)
    at_s = upload.metadata.get("at_s")
    return {
        "id": upload.ref,
        "ticket_id": row["id"],
        "user_id": upload.user_id,
        "sha256": upload.sha256,
        "name": name[:200],
        "mime": "image/" + {"HEIF": "heic", "MPO": "jpeg"}.get(facts.format, facts.format.lower()),
        "bytes": upload.offset,
        "width": facts.width,
        "height": facts.height,
        "taken_at": upload.metadata.get("taken_at") or facts.taken_at,
        "recording_id": upload.metadata.get("recording"),
        "at_s": None if at_s is None else float(at_s),
        "caption": upload.metadata.get("caption") or None,
        "thumb_sha256": thumb,
    }
