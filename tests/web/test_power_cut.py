"""kill -9 in a loop while edits and uploads are under way: nothing acknowledged is missing, the database is whole.

Eight cuts in an ordinary run; `HATCHNOTE_KILLS=200 pytest tests/web/test_power_cut.py` for the long one.
"""

import os
import random
import threading
import time

import pytest
from browsing import metadata, new_id, sha256, sound
from served import Server, signed_in

from hatchnote.store import health, open_store, uploads
from hatchnote.store.blobs import digest_of

KILLS = int(os.environ.get("HATCHNOTE_KILLS", "8"))
AT = "2026-03-04T15:00:00Z"
SLICE = 20_000


class Acknowledged:
    """What the server said it holds."""

    def __init__(self):
        self.edits, self.notes, self.whole, self.offsets = set(), set(), {}, {}

    @property
    def of_each_kind(self):
        return bool(self.edits and self.notes and self.whole)


def edit_on(person, ticket, told, stop):
    while not stop.is_set():
        e = {"id": new_id(), "at": AT, "op": "add", "kind": "finding", "item": "f-" + new_id(),
             "after": {"component": "contactor", "condition": "pitted", "tag": "RTU-3"}}  # fmt: skip
        try:
            status, _, _ = person.call(
                "POST", f"/api/v1/tickets/{ticket}/edits", {"base_revision": 0, "edits": [e]}
            )
        except OSError:
            continue
        if status == 200:
            told.edits.add(e["id"])


def note_on(person, ticket, told, stop):
    while not stop.is_set():
        id = new_id()
        body = {"ticket_id": ticket, "text": "RTU-3 suction pressure 118 psig.", "at": AT}
        try:
            status, _, _ = person.call("PUT", f"/api/v1/notes/{id}", body)
        except OSError:
            continue
        if status == 200:
            told.notes.add(id)
        stop.wait(0.02)


def upload_on(person, recording, told, stop, seqs):
    while not stop.is_set():
        data, id = sound(SLICE * 3) + os.urandom(16), new_id()
        named = metadata(kind="segment", id=id, sha256=sha256(data), recording=recording, seq=next(seqs))
        try:
            begin = {"Upload-Length": str(len(data)), "Upload-Metadata": named}
            status, head, _ = person.call("POST", "/uploads", b"", begin)
            path = head.get("Location")
            if status != 201:
                continue
            at = 0
            while at < len(data) and not stop.is_set():
                piece = data[at : at + SLICE]
                status, head, _ = person.call(
                    "PATCH",
                    path,
                    piece,
                    {"Upload-Offset": str(at), "Content-Type": "application/offset+octet-stream"},
                )
                if status != 204:
                    break
                at = int(head["Upload-Offset"])
                told.offsets[path] = (at, data)
                if head.get("Hatchnote-Received") == "whole":
                    told.whole[id] = sha256(data)
        except OSError:
            continue


def counter():
    lock, n = threading.Lock(), [0]

    class Numbers:
        def __next__(self):
            with lock:
                n[0] += 1
                return n[0]

    return Numbers()


@pytest.mark.slow
def test_nothing_acknowledged_is_lost_however_often_the_power_goes(tmp_path):
    server = Server(tmp_path / "data")
    person = signed_in(server.folder, server.port)
    told, chance, seqs = Acknowledged(), random.Random(20260304), counter()
    ticket, recording = new_id(), new_id()
    os.environ["HATCHNOTE_KEEP_FREE_MB"] = "0"
    try:
        for n in range(KILLS):
            server.start().wait()
            if n == 0:
                person.call(
                    "PUT", f"/api/v1/visits/{ticket}", {"site_name": "Cedar Court", "date": "2026-03-04"}
                )
                about = {"ticket_id": ticket, "started_at": AT}
                assert person.call("PUT", f"/api/v1/recordings/{recording}", about)[0] == 200
            stop = threading.Event()
            work = [(edit_on, ticket), (note_on, ticket), (upload_on, recording), (upload_on, recording)]
            threads = [
                threading.Thread(
                    target=f, args=(person, of, told, stop, *((seqs,) if f is upload_on else ()))
                )
                for f, of in work
            ]
            [t.start() for t in threads]
            time.sleep(chance.uniform(0.1, 0.9))
            give_up = time.monotonic() + 90
            # However slow the machine: before the last cut something of each kind has been acknowledged.
            while n == KILLS - 1 and not told.of_each_kind and time.monotonic() < give_up:
                time.sleep(0.05)
            server.kill()
            stop.set()
            [t.join() for t in threads]
            check(server.folder, told, ticket)
        assert told.of_each_kind, "nothing was acknowledged: this test would prove nothing"
        print(
            f"{KILLS} cuts: {len(told.edits)} edits, {len(told.notes)} notes, {len(told.whole)} files acknowledged"
        )
    finally:
        server.stop()
        del os.environ["HATCHNOTE_KEEP_FREE_MB"]


def check(folder, told, ticket):
    store = open_store(folder)
    try:
        assert health.integrity(store) == []
        kept = {r["id"] for r in store.db.rows("SELECT id FROM changes WHERE ticket_id = ?", (ticket,))}
        assert told.edits <= kept
        assert told.notes <= {r["id"] for r in store.db.rows("SELECT id FROM notes")}
        for id, digest in told.whole.items():
            row = store.db.row("SELECT blob_sha256 FROM segments WHERE id = ?", (id,))
            assert row["blob_sha256"] == digest
            assert digest_of(store.blobs.path(digest)) == digest
        for path, (at, data) in told.offsets.items():
            found = uploads.upload(store, path.rsplit("/", 1)[1])
            assert found.offset >= at
            if found.state == "open" and uploads.file_of(store, found.id).exists():
                assert uploads.file_of(store, found.id).read_bytes()[:at] == data[:at]
        for name in store.blobs.digests():
            assert digest_of(store.blobs.path(name)) == name
        revision = store.db.value("SELECT revision FROM tickets WHERE id = ?", (ticket,))
        assert revision == store.db.value("SELECT count(*) FROM revisions WHERE ticket_id = ?", (ticket,))
    finally:
        store.close()
