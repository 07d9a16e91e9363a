"""Backup to one file while the server runs, and back again: consistent, and verified by digest both ways.

The file is a tar (POSIX pax, IEEE 1003.1-2001) of `manifest.json` (name, bytes and SHA-256 of everything), the
database as one moment saw it, the company's own vocabulary where it lies in the data folder, and the blobs that the
database names. Blobs never change, so they are copied after it without holding anybody up. Unfinished uploads stay on
the phones and are not in it.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import shutil
import sqlite3
import tarfile
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

from hatchnote.errors import BadInput, Conflict, HatchnoteError
from hatchnote.places import make_folder
from hatchnote.settings import load
from hatchnote.store import Store, open_store
from hatchnote.store.blobs import CHUNK, digest_of, full_disk_is_told, sync_folder

FORMAT = "hatchnote.backup/1"
_DATABASE = "hatchnote.db"
_WORDS = "vocabulary.toml"
"""The company's own words; `HATCHNOTE_VOCABULARY` may name a file elsewhere, which is its owner's to keep."""


def write(data: Path | None, file: Path) -> str:
    """Back up the data folder to `file`; returns a sentence about it.

    Raises BadInput when there is nothing to back up or `file` exists, NoRoom when the disk is full.
    """
    folder = load(data=data).data
    if not (folder / _DATABASE).is_file():
        raise BadInput(f"There is no data in {folder}; name the data folder with --data.")
    if file.exists():
        raise BadInput(f"{file} exists already; choose another name, so that no older backup is lost.")
    if not file.parent.is_dir():
        # Perhaps a disk that is not there just now: a folder made in its place would fill this one.
        raise BadInput(f"There is no folder {file.parent}; make it first, or name another place.")
    part = file.with_name(file.name + ".part")
    store = open_store(folder)
    try:
        with (
            tempfile.TemporaryDirectory(prefix="hatchnote-", dir=file.parent) as scratch,
            full_disk_is_told(),
        ):
            copy = Path(scratch) / _DATABASE
            _snapshot(store, copy)
            if (folder / _WORDS).is_file():  # a copy, so that it is not written while it is read
                shutil.copyfile(folder / _WORDS, Path(scratch) / _WORDS)
            manifest, missing = _manifest(store, Path(scratch))
            # It holds everything, the passwords' digests too: for this user alone.
            with open(part, "wb", opener=lambda name, flags: os.open(name, flags, 0o600)) as out:
                _pack(out, store, Path(scratch), manifest)
                out.flush()
                os.fsync(out.fileno())
        _verify(part)
        os.replace(part, file)
        sync_folder(file.parent)
    finally:
        part.unlink(missing_ok=True)
        store.close()
    note = f" {missing} files named in the database were missing already." if missing else ""
    return (
        f"{len(manifest['files'])} files, {file.stat().st_size} bytes, verified by digest, in {file}.{note}"
    )


def read(data: Path | None, file: Path) -> str:
    """Put a backup into an empty data folder; returns a sentence about it.

    Everything is verified before the folder gets its name: a damaged backup leaves no half-filled folder.
    Raises BadInput for a damaged or foreign file, Conflict when the folder already holds data.
    """
    folder = load(data=data).data
    if not file.is_file():
        raise BadInput(f"There is no backup at {file}; check the name.")
    if folder.exists() and any(p.name != "lock" for p in folder.iterdir()):
        raise Conflict(f"The data folder {folder} is not empty; restore into a new one with --data.")
    manifest = _verify(file)
    make_folder(folder.parent)
    with tempfile.TemporaryDirectory(prefix="hatchnote-", dir=folder.parent) as scratch, full_disk_is_told():
        fresh = Path(scratch) / "data"
        fresh.mkdir(mode=0o700)
        _unpack(file, fresh)
        _check_database(fresh / _DATABASE)
        if folder.exists():
            (folder / "lock").unlink(missing_ok=True)
            folder.rmdir()
        os.replace(fresh, folder)
        sync_folder(folder.parent)
    return f"{len(manifest['files'])} files restored into {folder}, verified by digest."


def _snapshot(store: Store, copy: Path) -> None:
    target = sqlite3.connect(copy)
    try:
        store.db.connection.backup(target, pages=1000)
        # Bytes of unfinished uploads are not in the backup; whoever sends them begins again.
        target.execute("DELETE FROM uploads WHERE state = 'open'")
        target.execute("UPDATE jobs SET lease = NULL, lease_until = 0 WHERE state = 'running'")
        target.commit()
        target.execute("PRAGMA journal_mode = DELETE")
    finally:
        target.close()


_NAMED = (
    "SELECT blob_sha256 AS d FROM segments UNION SELECT sound_sha256 FROM recordings UNION SELECT sha256 FROM photos"
    " UNION SELECT thumb_sha256 FROM photos UNION SELECT shown_sha256 FROM photos"
)


def _manifest(store: Store, scratch: Path) -> tuple[dict[str, Any], int]:
    connection = sqlite3.connect(scratch / _DATABASE)
    try:
        named = sorted(d for (d,) in connection.execute(_NAMED) if d)
    finally:
        connection.close()
    files = {
        name: {"bytes": (scratch / name).stat().st_size, "sha256": digest_of(scratch / name)}
        for name in (_DATABASE, _WORDS)
        if (scratch / name).is_file()
    }
    missing = 0
    for digest in named:
        if store.blobs.has(digest):
            size = store.blobs.path(digest).stat().st_size
            files[f"blobs/{digest[:2]}/{digest}"] = {"bytes": size, "sha256": digest}
        else:
            missing += 1
    return {"format": FORMAT, "files": files}, missing


def _pack(out: IO[bytes], store: Store, scratch: Path, manifest: dict[str, Any]) -> None:
    with tarfile.open(fileobj=out, mode="w", format=tarfile.PAX_FORMAT) as tar:
        head = json.dumps(manifest).encode()
        info = tarfile.TarInfo("manifest.json")
        info.size = len(head)
        tar.addfile(info, io.BytesIO(head))
        for name in manifest["files"]:
            source = (scratch if name in (_DATABASE, _WORDS) else store.folder) / name
            info = tarfile.TarInfo(name)
            info.size = manifest["files"][name]["bytes"]
            try:
                with open(source, "rb") as data:
                    tar.addfile(info, data)
            except FileNotFoundError as error:
                raise HatchnoteError(
                    "Old sound was let go while the backup was written; start the backup again."
                ) from error


def _verify(file: Path) -> dict[str, Any]:
    """The manifest, after every byte in the file was compared with it."""
    for _ in _entries(file):
        pass
    with tarfile.open(file, "r:") as tar:
        return _read_manifest(tar)


def _unpack(file: Path, folder: Path) -> None:
    for name, data in _entries(file):
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with open(target, "wb") as out:
            for piece in data:
                out.write(piece)
            out.flush()
            os.fsync(out.fileno())


def _entries(file: Path) -> Iterator[tuple[str, Iterator[bytes]]]:
    """Name and pieces of every file, each checked against the manifest once its last piece was taken."""
    damaged = f"The backup {file} is damaged; use another one."
    try:
        with tarfile.open(file, "r:") as tar:
            wanted = dict(_read_manifest(tar)["files"])
            for info in tar:
                if info.name == "manifest.json":
                    continue
                facts = wanted.pop(info.name, None)
                stream = tar.extractfile(info)
                if facts is None or stream is None or info.size != facts["bytes"]:
                    raise BadInput(damaged)
                digest = hashlib.sha256()

                def pieces(stream: IO[bytes] = stream, digest: Any = digest) -> Iterator[bytes]:
                    while piece := stream.read(CHUNK):
                        digest.update(piece)
                        yield piece

                flow = pieces()
                yield info.name, flow
                for _ in flow:
                    pass
                if digest.hexdigest() != facts["sha256"]:
                    raise BadInput(damaged)
            if wanted:
                raise BadInput(damaged)
    except (tarfile.TarError, EOFError, KeyError, TypeError, AttributeError, json.JSONDecodeError) as error:
        raise BadInput(damaged) from error


def _read_manifest(tar: tarfile.TarFile) -> dict[str, Any]:
    info = tar.next()
    stream = tar.extractfile(info) if info is not None and info.name == "manifest.json" else None
    if stream is None:
        raise BadInput("This file is no backup of hatchnote; choose another one.")
    manifest: dict[str, Any] = json.loads(stream.read())
    if manifest.get("format") != FORMAT or not all(_tame(name) for name in manifest["files"]):
        raise BadInput("This file is no backup of this version of hatchnote; choose another one.")
    return manifest


def _tame(name: str) -> bool:
    """Only the kinds of names that a backup holds; no path that leads elsewhere."""
    parts = name.split("/")
    return name in (_DATABASE, _WORDS) or (
        len(parts) == 3 and parts[0] == "blobs" and all(p.isalnum() for p in parts[1:])
    )


def _check_database(path: Path) -> None:
    connection = sqlite3.connect(path)
    try:
        found = connection.execute("PRAGMA integrity_check").fetchone()
    except sqlite3.DatabaseError as error:
        raise BadInput("The database in this backup is damaged; use another one.") from error
    finally:
        connection.close()
    if found != ("ok",):
        raise HatchnoteError("The database in this backup is damaged; use another one.")
