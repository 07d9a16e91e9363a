"""Where a worker gets its work and brings its results: the data folder itself, or a server on another host."""

from __future__ import annotations

import dataclasses
import hashlib
import http.client
import json
import logging
import tempfile
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from hatchnote.domain import Transcript
from hatchnote.errors import HatchnoteError
from hatchnote.jobs import draft
from hatchnote.settings import Settings
from hatchnote.store import Store, jobs, places, recordings
from hatchnote.store.recordings import Hearing

log = logging.getLogger("hatchnote.jobs")
KINDS_HERE = ("listen", "webhook")
KINDS_REMOTE = ("listen",)


@dataclass(frozen=True, slots=True)
class Listening:
    """A recording to be listened to: the files of its segments in order, and the site's own words."""

    job_id: str
    lease: str
    recording_id: str
    files: tuple[Path, ...]
    vocabulary: tuple[str, ...]


class Desk(Protocol):
    """What a worker needs of the place it works for. Every word about a job shows its lease."""

    def claim(self) -> jobs.Claim | None: ...

    def listening(self, claim: jobs.Claim, scratch: Path) -> Listening: ...

    def beat(self, claim: jobs.Claim, progress: float | None) -> bool: ...

    def deliver(self, claim: jobs.Claim, heard: Transcript, listened_s: float) -> bool: ...

    def keep_sound(self, claim: jobs.Claim, data: bytes, mime: str, duration_s: float) -> None: ...

    def fail(self, claim: jobs.Claim, reason: str, *, final: bool) -> None: ...


class LocalDesk:
    """The data folder on this machine."""

    def __init__(self, store: Store, settings: Settings, worker: str) -> None:
        self.store = store
        self.settings = settings
        self.worker = worker

    def claim(self) -> jobs.Claim | None:
        s = self.settings
        return jobs.claim(self.store, worker=self.worker, lease_s=s.lease_s, tries=s.tries, kinds=KINDS_HERE)

    def listening(self, claim: jobs.Claim, scratch: Path) -> Listening:
        row = recordings.recording(self.store, claim.ref)
        pieces = recordings.segments(self.store, claim.ref)
        files = tuple(self.store.blobs.path(p["blob_sha256"]) for p in pieces)
        return Listening(claim.id, claim.lease, claim.ref, files, vocabulary(self.store, row["site_id"]))

    def beat(self, claim: jobs.Claim, progress: float | None) -> bool:
        return jobs.beat(self.store, claim.id, claim.lease, lease_s=self.settings.lease_s, progress=progress)

    def deliver(self, claim: jobs.Claim, heard: Transcript, listened_s: float) -> bool:
        return deliver(self.store, claim.id, claim.lease, heard, listened_s=listened_s)

    def keep_sound(self, claim: jobs.Claim, data: bytes, mime: str, duration_s: float) -> None:
        sha256 = self.store.blobs.put(data)
        recordings.set_sound(self.store, claim.ref, sha256=sha256, mime=mime, duration_s=duration_s)

    def fail(self, claim: jobs.Claim, reason: str, *, final: bool) -> None:
        jobs.fail(self.store, claim.id, claim.lease, reason=reason, final=final, tries=self.settings.tries)


def vocabulary(store: Store, site_id: str) -> tuple[str, ...]:
    return tuple(name for e in places.equipment(store, site_id) for name in (e.tag, *e.nicknames))


def deliver(store: Store, job_id: str, lease: str, heard: Transcript, *, listened_s: float) -> bool:
    """Read the words, renew the ticket and finish the job, all or nothing.

    False when the lease is not the current one any more: somebody else has the job, nothing was written.
    """
    job = jobs.job(store, job_id)
    if job is None:
        return False
    recording = recordings.recording(store, job["ref"])
    heard = dataclasses.replace(heard, id=recording["id"])
    about = recording["settings"].get("tag") if isinstance(recording["settings"], dict) else None
    facts = draft.read_words(store, recording["site_id"], heard, about=about)
    with store.db.write():
        if not jobs.holds(store, job_id, lease):
            return False
        hearing = Hearing(recording["id"], recording["started_at"], heard, facts)
        recordings.add_hearing(
            store, hearing, ticket_id=recording["ticket_id"], key=job["key"], listened_s=listened_s
        )
        recordings.set_words_so_far(store, recording["id"], heard.text)
        draft.redraft(store, recording["ticket_id"], who=None, why="dictation")
        if heard.duration_s:
            jobs.note_figure(store, "work_s_per_sound_s", listened_s / max(heard.duration_s, 1.0))
        return jobs.finish(store, job_id, lease)


# ---------------------------------------------------------------- on another machine


class RemoteDesk:
    """A server reached over HTTP with the workers' shared token. Sound comes and results go through its API."""

    def __init__(self, address: str, token: str, worker: str) -> None:
        self._address = address.rstrip("/")
        self._token = token
        self.worker = worker

    def claim(self) -> jobs.Claim | None:
        found = self._call("POST", "/claim", {"worker": self.worker})
        if found is None:
            return None
        return jobs.Claim(
            found["id"], "listen", found["recording"], found["key"], found, found["lease"], found["tries"]
        )

    def listening(self, claim: jobs.Claim, scratch: Path) -> Listening:
        digests = claim.payload["segments"]
        # Addresses in a sound store, where the server uses one; older servers send none.
        lent = claim.payload.get("addresses") or [""] * len(digests)
        files = []
        for n, (sha256, address) in enumerate(zip(digests, lent, strict=True)):
            data = _fetched(address, sha256) if address else None
            if data is None:
                with self._open("GET", f"/jobs/{claim.id}/sound/{sha256}?lease={claim.lease}") as answer:
                    data = answer.read()
            file = scratch / f"{n:05d}"
            file.write_bytes(data)
            files.append(file)
        return Listening(claim.id, claim.lease, claim.ref, tuple(files), tuple(claim.payload["vocabulary"]))

    def beat(self, claim: jobs.Claim, progress: float | None) -> bool:
        told = self._call("POST", f"/jobs/{claim.id}/beat", {"lease": claim.lease, "progress": progress})
        return bool(told and told["yours"])

    def deliver(self, claim: jobs.Claim, heard: Transcript, listened_s: float) -> bool:
        plain = dataclasses.asdict(heard)
        plain.pop("continues", None)  # joining dictations is for people at the server
        body = {"lease": claim.lease, "listened_s": listened_s, "transcript": plain}
        told = self._call("POST", f"/jobs/{claim.id}/result", body)
        return bool(told and told["taken"])

    def keep_sound(self, claim: jobs.Claim, data: bytes, mime: str, duration_s: float) -> None:
        path = f"/jobs/{claim.id}/playable?mime={mime}&duration_s={duration_s:.3f}&key={claim.key}"
        with self._open("POST", path, data, "application/octet-stream"):
            return

    def fail(self, claim: jobs.Claim, reason: str, *, final: bool) -> None:
        self._call(
            "POST", f"/jobs/{claim.id}/failure", {"lease": claim.lease, "reason": reason, "final": final}
        )

    def _call(self, method: str, path: str, body: dict[str, Any]) -> Any:
        with self._open(method, path, json.dumps(body).encode(), "application/json") as answer:
            return json.loads(answer.read()) if answer.status == 200 else None

    @contextmanager
    def _open(
        self, method: str, path: str, body: bytes | None = None, kind: str | None = None
    ) -> Iterator[Any]:
        request = urllib.request.Request(self._address + "/api/v1/work" + path, data=body, method=method)
        request.add_header("Authorization", f"Bearer {self._token}")
        if kind:
            request.add_header("Content-Type", kind)
        try:
            with urllib.request.urlopen(request, timeout=60) as answer:
                yield answer
        except urllib.error.HTTPError as error:
            raise HatchnoteError(_refusal(error)) from error
        except (OSError, http.client.HTTPException) as error:
            raise HatchnoteError(f"The server {self._address} cannot be reached ({error}).") from error


def _refusal(error: urllib.error.HTTPError) -> str:
    """The server's own sentence where it gave one."""
    try:
        said = str(json.loads(error.read(4096))["error"])
    except (ValueError, KeyError, TypeError, OSError):
        said = "Check its token."
    return f"The server answered {error.code} to this worker. {said}"


def _fetched(address: str, sha256: str) -> bytes | None:
    """The sound that lies at an address of the sound store; None when it is not there or not what was promised."""
    if not address.startswith(("http://", "https://")):
        return None
    try:
        with urllib.request.urlopen(address, timeout=60) as answer:
            data: bytes = answer.read()
    except (OSError, http.client.HTTPException, ValueError) as error:
        log.warning("the sound store does not answer (%s); asking the server", type(error).__name__)
        return None
    if hashlib.sha256(data).hexdigest() != sha256:
        log.warning("the sound store gave other bytes than were put there; asking the server")
        return None
    return data


def scratch_folder() -> tempfile.TemporaryDirectory[str]:
    """For sound fetched from a server; gone with the job."""
    return tempfile.TemporaryDirectory(prefix="hatchnote-")
