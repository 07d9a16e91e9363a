"""Forty people at once: `python -m benchmarks.office.load FOLDER [--users 40] [--seconds 60] [--sound FILE]`.

Each opens pages, searches, and edits tickets, with a pause of about a second between. At the end every change that
the server acknowledged is looked for in the record of changes: a missing one is a lost edit. With `--sound` a worker
runs and two recordings of that file are sent first, so that the listening competes for the machine.
"""

from __future__ import annotations

import argparse
import base64
import datetime as dt
import hashlib
import json
import random
import threading
import time
import uuid
from collections import defaultdict
from pathlib import Path
from typing import Any

from benchmarks.office.server import served
from benchmarks.office.visitor import Visitor, table

KINDS = {".wav": "audio/wav", ".ogg": "audio/ogg", ".m4a": "audio/mp4", ".webm": "audio/webm"}

ORDERS = ("newest", "oldest", "checks", "missing")


class User(threading.Thread):
    def __init__(self, port: int, number: int, seconds: float) -> None:
        super().__init__(daemon=True)
        self.visitor = Visitor(port, f"office{number}")
        self.chance = random.Random(number)
        self.seconds = seconds
        self.acknowledged: list[tuple[str, str]] = []
        self.conflicts = 0

    def run(self) -> None:
        end = time.monotonic() + self.seconds
        v = self.visitor
        while time.monotonic() < end:
            drafts = json.loads(
                v.get("worklist, API", f"/api/v1/tickets?status=draft&sort={self.chance.choice(ORDERS)}")
            )["tickets"]
            v.get("worklist, page", "/office?status=draft")
            self._think()
            v.get(
                "search",
                f"/office?q={self.chance.choice(('contactor', 'belt', 'RTU-2', 'quarry', 'igniter'))}",
            )
            self._think()
            row = self.chance.choice(drafts)
            v.get("review, page", f"/office/tickets/{row['id']}")
            ticket = json.loads(v.get("ticket, API", f"/api/v1/tickets/{row['id']}"))
            self._think()
            self._edit(row["id"], ticket)
            self._think()
            v.get("machine, page", f"/office/equipment/{row['site_id']}/RTU-1")
            self._think()

    def _think(self) -> None:
        time.sleep(self.chance.uniform(0.5, 1.5))

    def _edit(self, id: str, ticket: dict[str, Any]) -> None:
        work = [w for m in ticket["equipment"] for w in m["work"]]
        if not work:
            return
        w = self.chance.choice(work)
        edit = {
            "id": str(uuid.uuid4()),
            "at": dt.datetime.now(dt.UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z"),
            "op": "set", "kind": "work", "item": w["id"], "field": "detail",
            "before": w["detail"], "after": f"noted {uuid.uuid4().hex[:8]}",
        }  # fmt: skip
        body = {"base_revision": ticket["revision"], "edits": [edit]}
        status, _ = self.visitor.ask("edit", "POST", f"/api/v1/tickets/{id}/edits", body)
        self.conflicts += status == 409
        if status == 200:
            self.acknowledged.append((id, str(edit["id"])))


def measure(folder: Path, users: int, seconds: float, sound: Path | None) -> None:
    with served(folder, worker=sound is not None) as (port, pid):
        crowd = [User(port, n, seconds) for n in range(users)]
        if sound:
            for _ in range(2):
                _send(crowd[0].visitor, sound)
            time.sleep(15)  # until the worker has its model and is listening
        for u in crowd:
            u.visitor.times.clear()
            u.start()
        for u in crowd:
            u.join()
        times: dict[str, list[float]] = defaultdict(list)
        for u in crowd:
            for kind, values in u.visitor.times.items():
                times[kind] += values
        print(table(times))
        errors = [e for u in crowd for e in u.visitor.errors]
        print(f"errors: {len(errors)}", *errors[:5], sep="\n")
        print(
            f"edits acknowledged: {sum(len(u.acknowledged) for u in crowd)}, told of a conflict: "
            f"{sum(u.conflicts for u in crowd)}, lost: {_lost(crowd)}"
        )
        print(f"web process, resident: {_resident(pid)} MB")
        if sound:
            queue = json.loads(crowd[0].visitor.get("queue", "/api/v1/queue"))
            print(
                "queue at the end:", [(j["kind"], j["state"], round(j["progress"], 2)) for j in queue["jobs"]]
            )


def _lost(crowd: list[User]) -> int:
    looker = crowd[0].visitor
    lost = 0
    for ticket in {t for u in crowd for t, _ in u.acknowledged}:
        changes = json.loads(looker.get("changes", f"/api/v1/tickets/{ticket}/changes"))["changes"]
        there = {c["id"] for c in changes}
        lost += sum(1 for u in crowd for t, e in u.acknowledged if t == ticket and e not in there)
    return lost


def _send(who: Visitor, sound: Path) -> None:
    """A visit, a recording and its only segment, by tus."""
    data = sound.read_bytes()
    visit, recording, segment = (str(uuid.uuid4()) for _ in range(3))
    sha256 = hashlib.sha256(data).hexdigest()
    today = dt.date.today().isoformat()
    who.ask(
        "send", "PUT", f"/api/v1/visits/{visit}", {"site_name": "Sample site of the load test", "date": today}
    )
    manifest = {
        "ticket_id": visit,
        "started_at": f"{today}T12:00:00Z",
        "segments": [
            {"id": segment, "seq": 0, "bytes": len(data), "sha256": sha256, "mime": KINDS[sound.suffix]}
        ],
        "finished": True,
    }
    who.ask("send", "PUT", f"/api/v1/recordings/{recording}", manifest)
    told = {"kind": "segment", "id": segment, "sha256": sha256, "recording": recording, "seq": "0",
            "filename": sound.name, "filetype": KINDS[sound.suffix]}  # fmt: skip
    metadata = ",".join(f"{k} {base64.b64encode(v.encode()).decode()}" for k, v in told.items())
    tus = {"Tus-Resumable": "1.0.0"}
    who.ask(
        "send",
        "POST",
        "/uploads",
        b"",
        **tus,
        **{"Upload-Length": str(len(data)), "Upload-Metadata": metadata},
    )
    path = who.location.split(f":{who.port}")[-1]
    patch = {"Upload-Offset": "0", "Content-Type": "application/offset+octet-stream"}
    who.ask("send", "PATCH", path, data, **tus, **patch)


def _resident(pid: int) -> int:
    """Megabytes of the web process: the child that gunicorn forked, the largest below `pid`."""
    sizes = []
    for status in Path("/proc").glob("[0-9]*/status"):
        try:
            lines = dict(line.split(":", 1) for line in status.read_text().splitlines() if ":" in line)
        except OSError:
            continue
        if "VmRSS" in lines and (int(lines["PPid"]) == pid or status.parent.name == str(pid)):
            command = (status.parent / "cmdline").read_bytes()
            if b"worker" not in command.split(b"\0")[-2:-1]:
                sizes.append(int(lines["VmRSS"].split()[0]) // 1024)
    return max(sizes, default=0)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--users", type=int, default=40)
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--sound", type=Path)
    given = parser.parse_args()
    measure(given.folder, given.users, given.seconds, given.sound)
