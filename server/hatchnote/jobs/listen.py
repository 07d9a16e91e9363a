"""Listening to one recording: the work itself, with a heartbeat beside it."""

from __future__ import annotations

import logging
import threading
import time
from pathlib import Path

from hatchnote.domain import Transcript
from hatchnote.errors import BadInput, NotFound
from hatchnote.jobs.desk import Desk, Listening, scratch_folder
from hatchnote.store.jobs import Claim

log = logging.getLogger("hatchnote.jobs")


class Heartbeat:
    """Keeps a lease alive from a thread of its own, and learns when it was lost."""

    def __init__(self, desk: Desk, claim: Claim, *, every_s: float) -> None:
        self._desk, self._claim, self._every_s = desk, claim, every_s
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True, name=f"beat-{claim.id[:8]}")
        self.progress: float | None = None
        self.lost = False

    def __enter__(self) -> Heartbeat:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._stop.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stop.wait(self._every_s):
            try:
                if not self._desk.beat(self._claim, self.progress):
                    self.lost = True
                    return
            except Exception as error:  # a beat missed is not yet a lease lost
                log.warning("no heartbeat for job %s (%s)", self._claim.id, type(error).__name__)


def listen(desk: Desk, claim: Claim, *, lease_s: float) -> None:
    """Do a claimed "listen" job to its end: result delivered, tried again later, or set aside."""
    with (
        Heartbeat(desk, claim, every_s=min(5.0, max(0.5, lease_s / 4))) as heart,
        scratch_folder() as scratch,
    ):
        work: Listening | None = None
        try:
            work = desk.listening(claim, Path(scratch))
            started = time.monotonic()
            heard = _transcribe(work, heart)
            taken = desk.deliver(claim, heard, time.monotonic() - started)
        except (BadInput, NotFound) as error:
            reason = str(error)
            files = work.files if work else ()
            for n, file in enumerate(files, 1):
                reason = reason.replace(file.name, "The recording" if len(files) == 1 else f"Segment {n}")
            log.warning("recording %s set aside: %s", claim.ref, reason)
            desk.fail(claim, reason, final=True)
            return
        except MemoryError:
            desk.fail(
                claim, "There was not enough memory to listen to this; listen to it by hand.", final=False
            )
            return
        except Exception as error:
            log.exception("listening to recording %s failed", claim.ref)
            desk.fail(claim, f"Listening failed ({type(error).__name__}: {str(error)[:200]}).", final=False)
            return
        if not taken:
            log.info("recording %s was given to another worker meanwhile", claim.ref)
            return
        log.info("recording %s listened to", claim.ref)
        try:
            keep_playable(desk, claim, work)
        except Exception:
            # The draft stands; only the copy for seeking is missing, and single segments play without it.
            log.exception("no playable copy of recording %s", claim.ref)


def _transcribe(work: Listening, heart: Heartbeat) -> Transcript:
    from hatchnote.speech import transcribe

    def tell(done: float) -> None:
        heart.progress = min(0.99, done)

    return transcribe(work.files, work.vocabulary, id=work.recording_id, progress=tell)


def keep_playable(desk: Desk, claim: Claim, work: Listening) -> None:
    """One file of all segments that every browser can seek in, on the same clock as the words."""
    from hatchnote.jobs.playable import MIME, joined

    data, seconds = joined(work.files)
    desk.keep_sound(claim, data, MIME, seconds)
