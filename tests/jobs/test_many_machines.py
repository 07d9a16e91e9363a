"""A server, a real Redis, and three worker processes that are killed at random in the middle of their work.

The workers see nothing but the network: sound comes and results go through the server's API. Uploads are sent by
tuspy, a public tus client. The speech model is the real small one.
"""

import hashlib
import os
import random
import signal
import socket
import subprocess
import sys
import time
import uuid

import pytest
import requests
from tusclient.client import TusClient

from hatchnote import accounts
from hatchnote.store import jobs, open_store, recordings, tickets

pytestmark = [pytest.mark.redis, pytest.mark.voices, pytest.mark.speech, pytest.mark.slow]

PASSWORD = "roof hatch 12"
WORKERS, RECORDINGS, KILLS = 3, 5, 3


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def wait_for(what, seconds, every=0.1):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = what()
        if found:
            return found
        time.sleep(every)
    raise AssertionError(f"{what.__name__} did not come true within {seconds} s")


@pytest.fixture
def processes():
    """Started processes, killed at the end."""
    started = []
    yield started
    for p in started:
        if p.poll() is None:
            p.kill()
        p.wait()


@pytest.fixture
def redis(processes, tmp_path):
    port = free_port()
    options = ["--port", str(port), "--save", "", "--dir", str(tmp_path), "--bind", "127.0.0.1"]
    processes.append(subprocess.Popen(["redis-server", *options], stdout=subprocess.DEVNULL))
    import redis as client

    def answers():
        try:
            return client.Redis(port=port).ping()
        except client.ConnectionError:
            return False

    wait_for(answers, 20)
    return f"redis://127.0.0.1:{port}/0"


@pytest.fixture
def environment(redis):
    return {
        **os.environ, "HATCHNOTE_QUEUE": redis, "HATCHNOTE_WORKER_TOKEN": "t0ken", "HATCHNOTE_LEASE_S": "6",
        "HATCHNOTE_TRIES": "20", "HATCHNOTE_SWEEP_S": "2", "HATCHNOTE_SPEECH_MODEL": "tiny.en",
        "HATCHNOTE_SECOND_MODEL": "none", "HATCHNOTE_KEEP_FREE_MB": "0", "HATCHNOTE_THREADS": "1",
    }  # fmt: skip


@pytest.fixture
def server(processes, environment, tmp_path):
    """A server without a worker of its own; gives its address."""
    folder, port = tmp_path / "data", free_port()
    store = open_store(folder)
    accounts.add_to(store, name="ana", role="technician", full_name="Ana", password=PASSWORD)
    store.close()
    command = [sys.executable, "-c", "from hatchnote.cli import main; main()"]
    arguments = ["serve", "--no-worker", "--data", str(folder), "--port", str(port)]
    processes.append(subprocess.Popen([*command, *arguments], env=environment))
    address = f"http://127.0.0.1:{port}"

    def answers():
        try:
            return requests.get(address + "/healthz", timeout=20).status_code == 200
        except requests.RequestException:
            return False

    wait_for(answers, 60)
    return address


def say(words, file):
    subprocess.run(["espeak-ng", "-v", "en-us", "-s", "140", "-w", file, words], check=True)
    return file


def send(address, who, csrf, degrees, tmp_path):
    """One visit with one recording that says so many degrees; gives the recording's id."""
    visit, recording, segment = (str(uuid.uuid4()) for _ in range(3))
    file = say(f"Supply air temperature {degrees} degrees.", tmp_path / f"{degrees}.wav")
    api, head = address + "/api/v1", {"X-CSRF-Token": csrf}
    body = {"site_name": "Cedar Court", "date": "2026-03-04"}
    assert who.put(f"{api}/visits/{visit}", json=body, headers=head).status_code == 201
    about = {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z"}
    assert who.put(f"{api}/recordings/{recording}", json=about, headers=head).ok
    cookie = "; ".join(f"{k}={v}" for k, v in who.cookies.items())
    tus = TusClient(address + "/uploads", headers={**head, "Cookie": cookie})
    digest = hashlib.sha256(file.read_bytes()).hexdigest()
    metadata = {"kind": "segment", "id": segment, "recording": recording, "seq": "0", "sha256": digest}
    tus.uploader(str(file), chunk_size=40_000, metadata=metadata, upload_checksum=True).upload()
    assert who.get(f"{api}/receipts/{segment}").json()["sha256"] == digest
    assert who.put(f"{api}/recordings/{recording}", json={**about, "finished": True}, headers=head).ok
    return recording


def test_workers_killed_in_the_middle_of_their_work_lose_nothing_and_write_nothing_twice(
    server, environment, processes, tmp_path
):
    who = requests.Session()
    me = who.post(server + "/api/v1/session", json={"name": "ana", "password": PASSWORD}).json()
    said = ["fifty", "fifty five", "sixty", "sixty five", "seventy", "seventy five"][:RECORDINGS]
    sent = [send(server, who, me["csrf"], degrees, tmp_path) for degrees in said]
    store = open_store(tmp_path / "data")

    def start():
        code = "import sys; from hatchnote.serve import run_worker; run_worker(server=sys.argv[1])"
        p = subprocess.Popen([sys.executable, "-c", code, server], env=environment, cwd=tmp_path)
        processes.append(p)
        return p

    workers = [start() for _ in range(WORKERS)]
    chance = random.Random(20260304)
    killed = 0

    def somebody_works():
        rows = store.db.rows(
            "SELECT worker FROM jobs WHERE state = 'running' AND lease_until > ?", (time.time(),)
        )
        busy = {int(r["worker"].split(":")[1]) for r in rows}
        found = [w for w in workers if w.pid in busy and w.poll() is None]
        return found or jobs.counts(store).get("done", 0) == len(sent)

    while killed < KILLS:
        found = wait_for(somebody_works, 120, every=0.02)
        if found is True:
            break
        victim = chance.choice(found)
        os.kill(victim.pid, signal.SIGKILL)
        victim.wait()
        killed += 1
        workers[workers.index(victim)] = start()

    def all_done():
        return jobs.counts(store).get("done", 0) == len(sent)

    wait_for(all_done, 300, every=0.5)
    assert killed == KILLS
    assert store.db.value("SELECT sum(tries) FROM jobs") >= len(sent) + KILLS
    for recording in sent:
        ticket = recordings.recording(store, recording)["ticket_id"]
        assert store.db.value("SELECT count(*) FROM hearings WHERE source_id = ?", (recording,)) == 1
        assert tickets.ticket(store, ticket)["revision"] == 1
        assert who.get(f"{server}/api/v1/recordings/{recording}").json()["status"] == "done"
    values = {
        r["value"] for r in store.db.rows("SELECT value FROM readings WHERE point = 'supply-air-temperature'")
    }
    assert len(values) >= len(sent) - 1, values
    assert store.db.rows("PRAGMA integrity_check") == [{"integrity_check": "ok"}]
    store.close()


def test_without_the_token_the_work_is_nobodys(server):
    for headers in ({}, {"Authorization": "Bearer wrong"}):
        answer = requests.post(server + "/api/v1/work/claim", json={"worker": "x"}, headers=headers)
        assert answer.status_code == 401
