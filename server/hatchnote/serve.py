"""`hatchnote serve`: gunicorn with threads in this process, and one worker process beside it.

The worker is a process of its own so that the speech model never sits in the web process. It ends with its
parent, is started again when it dies, and what it held is taken up again at once.
"""

from __future__ import annotations

import errno
import fcntl
import logging
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import IO, Any

from hatchnote.errors import BadInput, HatchnoteError, NoRoom
from hatchnote.places import make_folder
from hatchnote.settings import Settings, load

log = logging.getLogger("hatchnote.serve")


def run(
    *,
    data: Path | None = None,
    host: str | None = None,
    port: int | None = None,
    lan: bool = False,
    worker: bool = True,
) -> None:
    """Serve until SIGTERM or SIGINT.

    Raises HatchnoteError when another server has the data folder or the port.
    """
    from hatchnote import logs
    from hatchnote.jobs.sound_store import sound_store

    settings = load(data=data, host=host or ("0.0.0.0" if lan else None), port=port)
    logs.set_up(settings.log_level)
    sound_store(settings)  # a setting that cannot work is told now
    make_folder(settings.data)
    lock = lock_folder(settings.data)
    try:
        try_port(settings.host, settings.port)
        if lan:
            _explain_lan(settings)
        _serve(settings, worker=worker)
    finally:
        lock.close()


def lock_folder(folder: Path) -> IO[str]:
    """Hold the folder for this server. The kernel lets go of it when the process ends, however it ends."""
    try:
        file = open(folder / "lock", "a+")  # noqa: SIM115  (held as long as the server runs)
    except OSError as error:
        raise NoRoom(
            f"The data folder {folder} cannot be written to ({error.strerror}); name another with --data."
        ) from None
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        file.seek(0)
        other = file.read().strip() or "another process"
        file.close()
        raise HatchnoteError(
            f"The data folder {folder} is already served by {other}; stop that server or choose another folder."
        ) from None
    file.seek(0)
    file.truncate()
    file.write(f"process {os.getpid()}")
    file.flush()
    os.set_inheritable(file.fileno(), False)
    return file


def try_port(host: str, port: int) -> None:
    """Raises HatchnoteError when this machine cannot listen there."""
    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            other = (
                "port with --port"
                if error.errno in (errno.EADDRINUSE, errno.EACCES)
                else "address with --host"
            )
            raise HatchnoteError(
                f"Port {port} on {host} cannot be used ({error.strerror}); choose another {other}."
            ) from None


def _explain_lan(settings: Settings) -> None:
    address = lan_address()
    print(
        f"On this network the server is at http://{address}:{settings.port} . A phone's browser gives the microphone\n"
        "and offline use only to https pages with a certificate it trusts (or to localhost). Put a proxy with such a\n"
        "certificate in front, for example for a name of your own domain that points to this address, and set\n"
        "HATCHNOTE_PUBLIC_ADDRESS to https://that-name and HATCHNOTE_PROXIES to 1.",
        file=sys.stderr,
    )


def lan_address() -> str:
    """This machine's address on the network; asks the routing table, sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # TEST-NET-1 (RFC 5737)
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _serve(settings: Settings, *, worker: bool) -> None:
    from gunicorn.app.base import BaseApplication

    from hatchnote import own_words
    from hatchnote.store import open_store

    own_words.use(settings)
    # The worker starts before the web process proper: gunicorn forks, and threads do not survive a fork.
    open_store(settings.data).close()
    keeper = WorkerKeeper(settings) if worker else None

    class Server(BaseApplication):  # type: ignore[misc]
        def load_config(self) -> None:
            options: dict[str, Any] = {
                "bind": f"[{settings.host}]:{settings.port}"
                if ":" in settings.host
                else f"{settings.host}:{settings.port}",
                "workers": 1,
                "worker_class": "gthread",
                "threads": settings.web_threads,
                "keepalive": 30,
                "timeout": 120,
                "graceful_timeout": 10,
                "limit_request_line": 8190,
                "accesslog": None,
                "logconfig_dict": _GUNICORN_LOGS,
                "proc_name": "hatchnote",
                "control_socket_disable": True,
                "when_ready": lambda _: keeper.start() if keeper else None,
                "on_exit": lambda _: keeper.stop() if keeper else None,
            }
            for name, value in options.items():
                if name in self.cfg.settings:
                    self.cfg.set(name, value)

        def load(self) -> Any:
            from hatchnote.web import create_app

            app = create_app(settings)
            threading.Thread(target=_warm_up, daemon=True).start()
            return app

    shown = "localhost" if settings.host in ("127.0.0.1", "0.0.0.0", "::", "::1") else settings.host
    print(f"hatchnote is at {settings.public_address or f'http://{shown}:{settings.port}'}", file=sys.stderr)
    Server().run()


def _warm_up() -> None:
    """Load vocabulary and rules before the first person waits for them."""
    from hatchnote.notes import read_notes
    from hatchnote.trade import judge

    judge(read_notes("RTU-1 suction pressure 118 psig"), {})


_GUNICORN_LOGS: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "loggers": {"gunicorn.error": {"level": "WARNING", "propagate": True}},
}


class WorkerKeeper:
    """Starts the worker process and starts it again, more slowly each time, when it dies."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self._stop = threading.Event()
        self._process: subprocess.Popen[bytes] | None = None
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        self._thread = threading.Thread(target=self._keep, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        self._stop.set()
        if self._process and self._process.poll() is None:
            self._process.send_signal(signal.SIGTERM)
            try:
                self._process.wait(timeout=5)
            except subprocess.TimeoutExpired:
                self._process.kill()

    def _keep(self) -> None:
        pause = 1.0
        while not self._stop.is_set():
            name = f"beside-{os.getpid()}-{time.monotonic_ns()}"
            started = time.monotonic()
            environment = {
                **os.environ,
                "HATCHNOTE_DATA": str(self._settings.data),
                "HATCHNOTE_PARENT": str(os.getpid()),
                "HATCHNOTE_WORKER_NAME": name,
            }
            self._process = subprocess.Popen(
                [sys.executable, "-m", "hatchnote.serve", "worker"], env=environment
            )
            code = self._process.wait()
            if self._stop.is_set():
                return
            log.error("the worker ended with status %s; it is started again", code)
            self._release(name)
            pause = 1.0 if time.monotonic() - started > 60 else min(30.0, pause * 2)
            self._stop.wait(pause)

    def _release(self, name: str) -> None:
        """What the dead worker held is free at once; its tries count, so a killer is set aside in the end."""
        from hatchnote.store import jobs, open_store

        store = open_store(self._settings.data)
        try:
            jobs.release(store, name)
        finally:
            store.close()


def run_worker(*, data: Path | None = None, server: str | None = None) -> None:
    """A worker process: for the data folder on this machine, or for a server elsewhere.

    Raises BadInput when a server is named and HATCHNOTE_WORKER_TOKEN is not set.
    """
    from hatchnote import logs
    from hatchnote.jobs import worker
    from hatchnote.jobs.desk import Desk, LocalDesk, RemoteDesk

    settings = load(data=data)
    logs.set_up(settings.log_level)
    if os.environ.get("HATCHNOTE_PARENT"):
        os.nice(10)  # beside a web process listening waits, so that pages never do
    name = os.environ.get("HATCHNOTE_WORKER_NAME") or worker.worker_name()
    if server:
        if not settings.worker_token:
            raise BadInput("Set HATCHNOTE_WORKER_TOKEN to the same secret here and at the server.")
        desks: list[Desk] = [RemoteDesk(server, settings.worker_token, name) for _ in range(settings.workers)]
        worker.run(settings, None, desks)
        return
    from hatchnote import own_words
    from hatchnote.store import open_store

    store = open_store(settings.data)
    own_words.use(settings)
    worker.run(settings, store, [LocalDesk(store, settings, name) for _ in range(settings.workers)])


if __name__ == "__main__":
    try:
        run_worker() if sys.argv[1:] == ["worker"] else run()
    except HatchnoteError as problem:
        sys.exit(f"hatchnote: {problem}")
