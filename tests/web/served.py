"""A real server process that tests start and kill: gunicorn and all, on a free port."""

import http.client
import json
import os
import signal
import socket
import sys
import time

import gunicorn.app.base
import gunicorn.workers.gthread  # noqa: F401  (loaded once here, so that a forked server starts at once)

import hatchnote.web.office
from hatchnote.notes import read_notes
from hatchnote.store import open_store, people
from hatchnote.trade import judge

judge(read_notes("RTU-1 suction pressure 118 psig"), {})
assert hatchnote.web.office.bp


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Server:
    """Started by fork from this process, so that two hundred starts do not take all day; a group of its own."""

    def __init__(self, folder, *, worker=False, port=None):
        self.folder, self.port, self.worker = folder, port or free_port(), worker
        self.pid = None

    def start(self):
        self.pid = os.fork()
        if self.pid == 0:
            os.setsid()
            log = os.open(str(self.folder.parent / "server.log"), os.O_WRONLY | os.O_CREAT | os.O_APPEND)
            os.dup2(log, 1)
            os.dup2(log, 2)
            sys.argv = ["hatchnote"]
            try:
                from hatchnote.serve import run

                run(data=self.folder, port=self.port, worker=self.worker)
            finally:
                os._exit(1)
        return self

    def wait(self, seconds=60):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            try:
                if Browser(self.port).call("GET", "/healthz")[0] == 200:
                    return self
            except OSError:
                time.sleep(0.02)
        raise AssertionError((self.folder.parent / "server.log").read_text()[-2000:])

    def kill(self):
        """As a power cut would: every process of it at once, in the middle of whatever they do."""
        os.killpg(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        self.pid = None

    def stop(self):
        if self.pid is not None:
            self.kill()


class Browser:
    """One connection of a signed-in person; every call may raise OSError when the server is gone."""

    def __init__(self, port, token="", csrf=""):
        self.port, self.token, self.csrf = port, token, csrf

    def call(self, method, path, body=None, headers=None):
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        head = {
            "Cookie": f"hatchnote_session={self.token}",
            "X-CSRF-Token": self.csrf,
            "Tus-Resumable": "1.0.0",
        }
        if isinstance(body, dict):
            body = json.dumps(body).encode()
            head["Content-Type"] = "application/json"
        try:
            connection.request(method, path, body, {**head, **(headers or {})})
            answer = connection.getresponse()
            return answer.status, dict(answer.headers), answer.read()
        except http.client.HTTPException as error:
            raise ConnectionError(str(error)) from error
        finally:
            connection.close()


def signed_in(folder, port, name="ana", role="technician"):
    """A person with an account and a session, made straight in the store."""
    store = open_store(folder)
    try:
        found = people.user_named(store, name)
        who = found[0] if found else people.add_user(
            store, name=name, role=role, full_name=name.title(), password_hash="x"
        )  # fmt: skip
        new = people.start_session(store, who, lasts_s=86400)
        return Browser(port, new.token, new.session.csrf)
    finally:
        store.close()
