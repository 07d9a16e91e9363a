"""How many slices of sound a second a server takes while people dictate: `python -m benchmarks.server.slices`.

    python -m benchmarks.server.slices --phones 1,8,40 --seconds 15            # as fast as they can
    python -m benchmarks.server.slices --phones 40,100,200 --every 2           # each phone a slice every two seconds

A real server without a worker, on the loopback. Every phone has an upload of unknown length and sends slices of 8 kB
(two seconds at 32 kbit/s) with their checksum, one after another, over a connection that stays open. A slice counts
when the server has answered that it holds it, which it does after writing and flushing. Prints slices a second, the
time a slice takes, and the server's processor time a slice, which a machine busy with other work changes least.
`--start` slices are sent by each phone first, to see whether long recordings take longer.
"""

from __future__ import annotations

import argparse
import base64
import hashlib
import os
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from pathlib import Path

from benchmarks.server.forty_users import AT, Person, wait_for

from hatchnote.store import open_store, people

SLICE = os.urandom(8000)
CHECKSUM = "sha1 " + base64.b64encode(hashlib.sha1(SLICE).digest()).decode()


class Phone:
    """Somebody who dictates: an upload that grows."""

    def __init__(self, person: Person, visit: str, user: str) -> None:
        self._person, self.offset = person, 0
        recording, segment = str(uuid.uuid4()), str(uuid.uuid4())
        body = {"site_name": "Cedar Court", "date": "2026-03-04", "technician_id": user}
        assert person.call("PUT", f"/api/v1/visits/{visit}", body)[0] == 201
        assert (
            person.call("PUT", f"/api/v1/recordings/{recording}", {"ticket_id": visit, "started_at": AT})[0]
            < 300
        )
        named = {"kind": "segment", "id": segment, "recording": recording, "seq": "0"}
        metadata = ",".join(f"{k} {base64.b64encode(v.encode()).decode()}" for k, v in named.items())
        status, text, head = person.call(
            "POST", "/uploads", b"", Upload_Defer_Length="1", Upload_Metadata=metadata
        )
        assert status == 201, text
        self._at = head["Location"]

    def send(self) -> float:
        """One slice; the seconds it took."""
        began = time.perf_counter()
        status, text, _ = self._person.call(
            "PATCH", self._at, SLICE, Upload_Offset=str(self.offset), Upload_Checksum=CHECKSUM,
            Content_Type="application/offset+octet-stream",
        )  # fmt: skip
        assert status == 204, (status, text)
        self.offset += len(SLICE)
        return time.perf_counter() - began


def processor(pid: int) -> float:
    """Seconds of processor time that the process has used."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def busy(phones: list[Phone], seconds: float, every: float) -> list[float]:
    """All phones at once for so long; every slice's time."""
    took: list[float] = []
    end = time.monotonic() + seconds

    def talk(n: int) -> None:
        at = time.monotonic() + every * n / len(phones)
        while at < end:
            time.sleep(max(0.0, at - time.monotonic()))
            took.append(phones[n].send())
            at = at + every if every else time.monotonic()

    threads = [threading.Thread(target=talk, args=(n,)) for n in range(len(phones))]
    [t.start() for t in threads]
    [t.join() for t in threads]
    return took


def flush_s(folder: Path) -> float:
    """What the disk alone takes for one slice written and flushed."""
    with open(folder / "flush", "wb") as file:
        began = time.perf_counter()
        for _ in range(50):
            file.write(SLICE)
            file.flush()
            os.fsync(file.fileno())
        return (time.perf_counter() - began) / 50


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--phones", default="1,8,40")
    parser.add_argument("--seconds", type=float, default=15)
    parser.add_argument("--every", type=float, default=0.0, help="seconds between a phone's slices; 0: none")
    parser.add_argument("--start", type=int, default=0, help="slices each phone has sent before")
    given = parser.parse_args()
    counts = [int(n) for n in given.phones.split(",")]
    with tempfile.TemporaryDirectory() as scratch:
        folder, port = Path(scratch) / "data", 18_767
        store = open_store(folder)
        users = [
            people.add_user(store, name=f"p{n}", role="technician", full_name=None, password_hash=None)
            for n in range(max(counts))
        ]
        sessions = [people.start_session(store, u, lasts_s=86400) for u in users]
        command = [sys.executable, "-c", "from hatchnote.cli import main; main()", "serve", "--no-worker"]
        server = subprocess.Popen(
            [*command, "--data", str(folder), "--port", str(port)],
            env={**os.environ, "HATCHNOTE_KEEP_FREE_MB": "0"},
        )
        try:
            crowd = [Person(port, s.token, s.session.csrf) for s in sessions]
            wait_for(crowd[0])
            children = Path(f"/proc/{server.pid}/task/{server.pid}/children").read_text().split()
            web = max(map(int, children), default=server.pid)
            print(f"the disk takes {flush_s(Path(scratch)) * 1000:.2f} ms for a slice written and flushed")
            for count in counts:
                phones = [
                    Phone(p, str(uuid.uuid4()), u.id)
                    for p, u in zip(crowd[:count], users[:count], strict=True)
                ]
                for phone in phones:
                    for _ in range(given.start):
                        phone.send()
                before = processor(web)
                began = time.monotonic()
                took = sorted(busy(phones, given.seconds, given.every))
                length = time.monotonic() - began
                used = (processor(web) - before) / len(took)
                print(
                    f"{count:4} phones: {len(took) / length:6.1f} slices a second; a slice p50"
                    f" {took[len(took) // 2] * 1000:6.1f} ms, p95 {took[int(len(took) * 0.95)] * 1000:6.1f} ms;"
                    f" processor {used * 1000:.2f} ms a slice; load {os.getloadavg()[0]:.1f}",
                    flush=True,
                )
        finally:
            server.terminate()
            server.wait()


if __name__ == "__main__":
    main()
