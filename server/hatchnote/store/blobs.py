"""Bytes that never change, each in a file named by its SHA-256: blobs/ab/abcdef….

A blob appears under its name only when it is complete and on the disk; a half-written one has another name.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hatchnote.errors import NoRoom, NotFound

_DIGEST = re.compile(r"[0-9a-f]{64}")
CHUNK = 1 << 20


class Blobs:
    """The blobs under one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, sha256: str) -> Path:
        """Where the blob is or would be. Raises NotFound for anything but 64 hexadecimal digits."""
        if not _DIGEST.fullmatch(sha256):
            raise NotFound("There is no such file.")
        return self.folder / sha256[:2] / sha256

    def has(self, sha256: str) -> bool:
        return self.path(sha256).is_file()

    def read(self, sha256: str) -> bytes:
        """The bytes. Raises NotFound when they are not here."""
        try:
            return self.path(sha256).read_bytes()
        except FileNotFoundError:
            raise NotFound(
                f"The file {sha256[:12]}… is missing from the store; restore it from a backup."
            ) from None

    def put(self, data: bytes) -> str:
        """Store the bytes and return their SHA-256. Storing the same bytes twice is storing them once."""
        sha256 = hashlib.sha256(data).hexdigest()
        target = self.path(sha256)
        if target.is_file():
            return sha256
        temporary = self.folder / f".new-{secrets.token_hex(8)}"
        self.folder.mkdir(parents=True, exist_ok=True)
        try:
            with full_disk_is_told(), open(temporary, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            self._move(temporary, target)
        finally:
            temporary.unlink(missing_ok=True)
        return sha256

    def adopt(self, file: Path, sha256: str) -> None:
        """Move a complete, flushed file into the store under the digest it was found to have.

        Repeatable: when the file has already been moved, nothing happens.
        """
        target = self.path(sha256)
        if not file.exists() and target.is_file():
            return
        self._move(file, target)

    def remove(self, sha256: str) -> None:
        self.path(sha256).unlink(missing_ok=True)

    def digests(self) -> Iterator[str]:
        """Every blob's name."""
        for file in sorted(self.folder.glob("??/*")):
            if _DIGEST.fullmatch(file.name):
                yield file.name

    def _move(self, source: Path, target: Path) -> None:
        with full_disk_is_told():
            fresh = not target.parent.is_dir()
            target.parent.mkdir(parents=True, exist_ok=True)
            os.replace(source, target)
            sync_folder(target.parent)
            if fresh:
                sync_folder(self.folder)


def digest_of(path: Path) -> str:
    """SHA-256 of a file's bytes, in hexadecimal."""
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def sync_folder(folder: Path) -> None:
    """Flush a folder's entries, without which a new or renamed file may be gone after a power cut."""
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


@contextmanager
def full_disk_is_told() -> Iterator[None]:
    """Turn "no space left" into NoRoom."""
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            raise NoRoom(
                "The server's disk is full; what was sent before is kept, so free some space and send the rest."
            ) from error
        raise
