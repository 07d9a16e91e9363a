"""A real server on a data folder of its own, with one technician and one office account."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from http.cookiejar import CookieJar
from pathlib import Path

PASSWORD = "roof hatch ladder 12"
HATCHNOTE = str(Path(sys.executable).parent / "hatchnote")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class House:
    """`hatchnote serve` as a process that can be killed and started again on the same folder and port."""

    def __init__(self, folder: Path, *, worker: bool = True) -> None:
        self.folder = folder
        self.port = free_port()
        self.address = f"http://127.0.0.1:{self.port}"
        self.worker = worker
        self.process: subprocess.Popen[bytes] | None = None
        self.environment = {**os.environ, "HATCHNOTE_PASSWORD": PASSWORD, "HATCHNOTE_DATA": str(folder)}

    def prepare(self) -> House:
        for name, role in (("Nell", "technician"), ("Desk", "office")):
            subprocess.run(
                [HATCHNOTE, "users", "add", name, "--role", role],
                env=self.environment,
                check=True,
                capture_output=True,
            )
        return self

    def start(self) -> House:
        extra = [] if self.worker else ["--no-worker"]
        log = open(self.folder / "server.log", "ab")  # noqa: SIM115  (the child writes to it)
        self.process = subprocess.Popen(
            [HATCHNOTE, "serve", "--port", str(self.port), *extra],
            env=self.environment,
            stdout=log,
            stderr=log,
            start_new_session=True,
        )
        log.close()
        for _ in range(300):
            try:
                with urllib.request.urlopen(f"{self.address}/healthz", timeout=2):
                    return self
            except (urllib.error.URLError, OSError):
                assert self.process.poll() is None, (self.folder / "server.log").read_text()
                time.sleep(0.1)
        raise AssertionError("the server did not start: " + (self.folder / "server.log").read_text())

    def stop(self, how: signal.Signals = signal.SIGTERM) -> None:
        if self.process is None:
            return
        if how == signal.SIGKILL:
            os.killpg(self.process.pid, how)
        else:
            self.process.send_signal(how)
        self.process.wait(timeout=30)
        self.process = None


class Person:
    """Somebody signed in over the API, for looking at what arrived."""

    def __init__(self, address: str, name: str) -> None:
        self.address = address
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
        self.csrf = ""
        self.csrf = self.call("POST", "/session", {"name": name, "password": PASSWORD})["csrf"]

    def call(self, method: str, path: str, body: object | None = None) -> object:
        request = urllib.request.Request(f"{self.address}/api/v1{path}", method=method)
        if body is not None:
            request.data = json.dumps(body).encode()
            request.add_header("Content-Type", "application/json")
        if method != "GET":
            request.add_header("X-CSRF-Token", self.csrf)
            request.add_header("Origin", self.address)
        try:
            with self.opener.open(request, timeout=30) as answer:
                return json.load(answer)
        except urllib.error.HTTPError as error:
            if error.code == 409:
                return json.load(error)
            raise AssertionError(f"{method} {path}: {error.code} {error.read()!r}") from error
