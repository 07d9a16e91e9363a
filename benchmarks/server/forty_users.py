"""40 people at once while two recordings are being listened to: errors, lost edits, 95th percentile of pages.

    .venv/bin/python benchmarks/server/forty_users.py [--people 40] [--seconds 60]

A real server with its worker, on the loopback. Every person loads the worklist or a ticket, or edits a ticket of his
own, with pauses of 0.5 to 1.5 s between. Prints the machine's load beside the figures: they mean little without it.
Needs espeak-ng for the two recordings (about six minutes of speech each, so that both last longer than the people
stay), and two listeners in the worker, so that both are listened to at once.
"""

from __future__ import annotations

import argparse
import hashlib
import http.client
import json
import os
import random
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections import defaultdict
from pathlib import Path

from hatchnote.store import Store, open_store, people
from hatchnote.web.security import COOKIE

AT = "2026-03-04T15:00:00Z"
TALK = "Supply air temperature fifty five degrees. Replaced the contactor. Cleaned the condenser coil. " * 56


class Person:
    """One signed-in browser with a connection that stays open."""

    def __init__(self, port: int, token: str, csrf: str) -> None:
        self._head = {"Cookie": f"{COOKIE}={token}", "X-CSRF-Token": csrf, "Tus-Resumable": "1.0.0"}
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)

    def call(
        self, method: str, path: str, body: object = None, **more: str
    ) -> tuple[int, bytes, dict[str, str]]:
        head = {**self._head, **{k.replace("_", "-"): v for k, v in more.items()}}
        data = body if isinstance(body, bytes) else None if body is None else json.dumps(body).encode()
        if body is not None and not isinstance(body, bytes):
            head["Content-Type"] = "application/json"
        try:
            self._connection.request(method, path, data, head)
            answer = self._connection.getresponse()
            return answer.status, answer.read(), dict(answer.headers)
        except (OSError, http.client.HTTPException) as error:
            self._connection.close()
            raise ConnectionError(str(error)) from error


def speak(person: Person, visit: str, scratch: Path) -> None:
    """Send one recording of about a minute and a half."""
    from base64 import b64encode

    file = scratch / f"{visit}.wav"
    subprocess.run(["espeak-ng", "-v", "en-us", "-s", "150", "-w", str(file), TALK], check=True)
    data, recording, segment = file.read_bytes(), str(uuid.uuid4()), str(uuid.uuid4())
    about = {"ticket_id": visit, "started_at": AT}
    person.call("PUT", f"/api/v1/recordings/{recording}", about)
    named = {
        "kind": "segment",
        "id": segment,
        "recording": recording,
        "seq": "0",
        "sha256": hashlib.sha256(data).hexdigest(),
    }
    metadata = ",".join(f"{k} {b64encode(v.encode()).decode()}" for k, v in named.items())
    _, _, head = person.call("POST", "/uploads", b"", Upload_Length=str(len(data)), Upload_Metadata=metadata)
    person.call(
        "PATCH", head["Location"], data, Upload_Offset="0", Content_Type="application/offset+octet-stream"
    )
    person.call("PUT", f"/api/v1/recordings/{recording}", {**about, "finished": True})


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--people", type=int, default=40)
    parser.add_argument("--seconds", type=float, default=60)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        measure(Path(scratch), arguments.people, arguments.seconds)


def measure(scratch: Path, count: int, seconds: float) -> None:
    folder, port = scratch / "data", 18_765
    store = open_store(folder)
    users = [
        people.add_user(
            store, name=f"p{n}", role="office" if n % 2 else "technician", full_name=None, password_hash=None
        )
        for n in range(count)
    ]
    sessions = [people.start_session(store, u, lasts_s=86400) for u in users]
    environment = {**os.environ, "HATCHNOTE_KEEP_FREE_MB": "0", "HATCHNOTE_WORKERS": "2"}
    command = [sys.executable, "-c", "from hatchnote.cli import main; main()", "serve"]
    server = subprocess.Popen([*command, "--data", str(folder), "--port", str(port)], env=environment)
    took: dict[str, list[float]] = defaultdict(list)
    errors: list[str] = []
    acknowledged: set[str] = set()
    try:
        crowd = [Person(port, s.token, s.session.csrf) for s in sessions]
        wait_for(crowd[0])
        visits = [str(uuid.uuid4()) for _ in crowd]
        for person, visit, user in zip(crowd, visits, users, strict=True):
            body = {"site_name": "Cedar Court", "date": "2026-03-04", "technician_id": user.id}
            assert person.call("PUT", f"/api/v1/visits/{visit}", body)[0] == 201
            note = {"ticket_id": visit, "text": "RTU-3 suction pressure 118 psig.", "at": AT}
            assert person.call("PUT", f"/api/v1/notes/{uuid.uuid4()}", note)[0] == 200
        for n in (0, 2):
            speak(crowd[n], visits[n], scratch)
        end = 0.0

        def live(n: int) -> None:
            chance = random.Random(n)
            while time.monotonic() < end:
                act = chance.choice(["page", "page", "ticket", "edit"])
                started = time.perf_counter()
                try:
                    if act == "page":
                        status, _, _ = crowd[n].call("GET", "/office" if n % 2 else "/")
                    elif act == "ticket":
                        status, _, _ = crowd[n].call("GET", f"/api/v1/tickets/{visits[n]}")
                    else:
                        after = {"component": "contactor", "condition": "pitted"}
                        e = {
                            "id": str(uuid.uuid4()),
                            "at": AT,
                            "op": "add",
                            "kind": "finding",
                            "after": after,
                        }
                        e["item"] = e["id"]
                        body = {"base_revision": 0, "edits": [e]}
                        status, _, _ = crowd[n].call("POST", f"/api/v1/tickets/{visits[n]}/edits", body)
                        if status == 200:
                            acknowledged.add(str(e["id"]))
                    if status != 200:
                        errors.append(f"{act} {status}")
                except OSError as error:
                    errors.append(f"{act} {error}")
                took[act].append((time.perf_counter() - started) * 1000)
                time.sleep(chance.uniform(0.5, 1.5))

        wait_until_heard(store, 2)
        end = time.monotonic() + seconds
        threads = [threading.Thread(target=live, args=(n,)) for n in range(count)]
        [t.start() for t in threads]
        listening, loads = [], []
        while time.monotonic() < end:
            listening.append(heard_now(store))
            loads.append(os.getloadavg()[0])
            time.sleep(1)
        [t.join() for t in threads]
    finally:
        server.terminate()
        server.wait()
    kept = {r["id"] for r in store.db.rows("SELECT id FROM changes")}
    both = sum(n >= 2 for n in listening) / max(1, len(listening))
    print(
        f"{count} people, {seconds:.0f} s, two recordings being listened to {both:.0%} of the time,"
        f" load average {min(loads):.1f} to {max(loads):.1f} on {os.cpu_count()} processors"
    )
    for act, times in sorted(took.items()):
        times.sort()
        p95 = times[int(len(times) * 0.95) - 1]
        print(
            f"  {act:<8} {len(times):5d} times   p50 {statistics.median(times):6.1f} ms   p95 {p95:6.1f} ms"
        )
    print(
        f"  errors {len(errors)} {errors[:3]}; edits acknowledged {len(acknowledged)}, lost {len(acknowledged - kept)}"
    )


def heard_now(store: Store) -> int:
    return int(store.db.value("SELECT count(*) FROM jobs WHERE state = 'running' AND kind = 'listen'"))


def wait_until_heard(store: Store, count: int) -> None:
    give_up = time.monotonic() + 120
    while heard_now(store) < count:
        if time.monotonic() > give_up:
            raise SystemExit("the worker did not begin to listen")
        time.sleep(0.2)


def wait_for(person: Person) -> None:
    end = time.monotonic() + 60
    while time.monotonic() < end:
        try:
            if person.call("GET", "/healthz")[0] == 200:
                return
        except OSError:
            time.sleep(0.1)
    raise SystemExit("the server did not start")


if __name__ == "__main__":
    main()
