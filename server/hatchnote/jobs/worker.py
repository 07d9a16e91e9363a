"""A worker process: waits for the bell, sweeps every minute, and does what it can claim."""

from __future__ import annotations

import logging
import os
import secrets
import signal
import socket
import threading
import time
from collections.abc import Callable

from hatchnote.errors import BadInput, HatchnoteError
from hatchnote.jobs import bell, live
from hatchnote.jobs.desk import Desk, LocalDesk
from hatchnote.jobs.listen import listen
from hatchnote.jobs.telling import Untold, deliver
from hatchnote.settings import Settings
from hatchnote.store import Store
from hatchnote.store.jobs import Claim

log = logging.getLogger("hatchnote.jobs")


def worker_name() -> str:
    """Says where the worker runs; unique even when process numbers come round again."""
    return f"{socket.gethostname()}:{os.getpid()}:{secrets.token_hex(3)}"


def do_all(desk: Desk, settings: Settings, stop: threading.Event) -> int:
    """Claim and do jobs, the fairest first, until none is ready. Returns how many."""
    done = 0
    while not stop.is_set():
        claim = desk.claim()
        if claim is None:
            return done
        if claim.kind == "webhook" and isinstance(desk, LocalDesk):
            _tell(desk, settings, claim)
        else:
            listen(desk, claim, lease_s=settings.lease_s)
        done += 1
    return done


def _tell(desk: LocalDesk, settings: Settings, claim: Claim) -> None:
    from hatchnote.store import jobs

    try:
        deliver(settings, desk.store, claim.ref, claim.payload)
        jobs.finish(desk.store, claim.id, claim.lease)
    except Untold as error:
        jobs.fail(desk.store, claim.id, claim.lease, reason=str(error), final=False, tries=settings.tries * 4)
    except BadInput as error:
        desk.fail(claim, str(error), final=True)


def run(settings: Settings, store: Store | None, desks: list[Desk]) -> None:
    """Work until told to stop (SIGTERM, SIGINT) or until the parent process is gone. One desk a thread."""
    stop = threading.Event()
    rung = threading.Condition()
    _listen_for_end(stop, rung)
    _follow_parent()

    def ring_here() -> None:
        with rung:
            rung.notify_all()

    threads = [threading.Thread(target=_loop, args=(d, settings, stop, rung), daemon=True) for d in desks]
    for thread in threads:
        thread.start()
    if isinstance(desks[0], LocalDesk):
        threading.Thread(target=live.run, args=(desks[0], stop), daemon=True, name="live").start()
    if store is not None or settings.queue != "sqlite":  # a bell on SQLite hangs at the server's own machine
        threading.Thread(target=_hear_bell, args=(settings, ring_here, stop), daemon=True).start()
    while not stop.wait(settings.sweep_s):
        if store is not None:
            _tidy(settings, store)
        ring_here()
    ring_here()
    log.info("worker stops; unfinished work is taken up by the next one")


def _loop(desk: Desk, settings: Settings, stop: threading.Event, rung: threading.Condition) -> None:
    while not stop.is_set():
        try:
            do_all(desk, settings, stop)
        except HatchnoteError as error:
            log.warning("the worker goes on in a moment: %s", error)
            stop.wait(2)
        except Exception:
            log.exception("the worker stumbled; it goes on in a moment")
            stop.wait(2)
        with rung:
            if not stop.is_set():
                # Also looks by itself now and then: a job put off for ten seconds rings no bell.
                rung.wait(timeout=5)


def _hear_bell(settings: Settings, ring_here: Callable[[], object], stop: threading.Event) -> None:
    """Take rings off the queue. Whoever takes one wakes this process; the others find work at their sweep."""
    huey = bell.make_huey(settings)
    bell.look_task(huey, ring_here)
    pause = 0.1
    while not stop.is_set():
        try:
            task = huey.dequeue()
            if task is not None:
                pause = 0.1
                huey.execute(task)
                continue
        except Exception as error:
            log.warning("the queue is away (%s); looking into the table meanwhile", type(error).__name__)
            stop.wait(5)
        if settings.queue == "sqlite":
            pause = min(0.5, pause * 1.3)
            stop.wait(pause)


def _tidy(settings: Settings, store: Store) -> None:
    from hatchnote.store.upkeep import tidy

    try:
        tidy(store, settings)
    except Exception:
        log.exception("tidying up failed; it is tried again in a minute")


def _listen_for_end(stop: threading.Event, rung: threading.Condition) -> None:
    def end(*_: object) -> None:
        stop.set()

    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, end)
        signal.signal(signal.SIGINT, end)


def _follow_parent() -> None:
    """Started by `hatchnote serve`, a worker ends with it, even when it was killed."""
    parent = os.environ.get("HATCHNOTE_PARENT")
    if not parent:
        return

    def watch() -> None:
        while os.getppid() == int(parent):
            time.sleep(1)
        os._exit(0)

    threading.Thread(target=watch, daemon=True).start()
