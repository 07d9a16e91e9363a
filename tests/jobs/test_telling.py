"""The webhook: signed, told again when it was not taken, told once when it was. And what the settings let go."""

import hashlib
import hmac
import http.server
import json
import threading

import pytest

from hatchnote.domain import Transcript, Word
from hatchnote.jobs import draft, telling, worker
from hatchnote.jobs.asking import ask_to_listen
from hatchnote.jobs.desk import LocalDesk, deliver
from hatchnote.settings import Settings
from hatchnote.store import jobs, recordings, tickets, upkeep, uploads
from hatchnote.store.upkeep import tidy


class Silent:
    def ring(self):
        pass


@pytest.fixture
def receiver():
    """Another system; answers what `status` says and keeps what it was told."""

    class Handler(http.server.BaseHTTPRequestHandler):
        def do_POST(self):
            body = self.rfile.read(int(self.headers["Content-Length"]))
            server.told.append((dict(self.headers), body))
            self.send_response(server.status)
            if server.status == 302:
                self.send_header("Location", "/elsewhere")
            self.end_headers()

        def do_GET(self):
            self.send_response(200)
            self.end_headers()

        def log_message(self, *_):
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.told, server.status = [], 200
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server
    server.shutdown()


@pytest.fixture
def settings(store, receiver):
    address = f"http://127.0.0.1:{receiver.server_port}/hook"
    return Settings(data=store.folder, webhook=address, webhook_secret="k3y")


@pytest.fixture
def approved(store, technician, recorded, settings):
    """An approved ticket, with its job to be told; gives (ticket's id, recording's id)."""
    recording = recorded(technician("Ana"))
    ask_to_listen(store, Silent(), recording)
    found = jobs.claim(store, worker="w", lease_s=60, tries=3, kinds=("listen",))
    words = tuple(Word(w) for w in ["RTU-3", "suction", "pressure", "118", "psig"])
    deliver(store, found.id, found.lease, Transcript(words, duration_s=3.0), listened_s=1.0)
    ticket = recordings.recording(store, recording)["ticket_id"]
    who = store.db.value("SELECT id FROM users")
    for to in ("checked", "approved"):
        draft.set_status(store, ticket, to, who=who, note=None, at="2026-03-04T15:00:00.000Z")
    telling.tell_webhook(settings, store, Silent(), tickets.ticket(store, ticket))
    return ticket, recording


def work(store, settings):
    return worker.do_all(LocalDesk(store, settings, "w"), settings, threading.Event())


def test_an_approved_ticket_is_told_signed_and_once(store, settings, receiver, approved):
    assert work(store, settings) == 1
    assert work(store, settings) == 0
    [(head, body)] = receiver.told
    # RFC 2104 by Python's own hmac, as a receiver would check it.
    wanted = "sha256=" + hmac.new(b"k3y", body, hashlib.sha256).hexdigest()
    assert head["Hatchnote-Signature"] == wanted
    told = json.loads(body)
    assert (told["event"], told["ticket"]["id"], told["ticket"]["status"]) == (
        "ticket.approved",
        approved[0],
        "approved",
    )
    assert head["Hatchnote-Event"] == told["id"]


def test_what_was_not_taken_is_told_again_under_the_same_event(store, settings, receiver, approved, clock):
    receiver.status = 503
    work(store, settings)
    assert jobs.job_of(store, "webhook", approved[0])["state"] == "waiting"
    assert work(store, settings) == 0
    clock.now += 11
    receiver.status = 204
    assert work(store, settings) == 1
    first, second = (head["Hatchnote-Event"] for head, _ in receiver.told)
    assert first == second


def test_an_answer_that_points_elsewhere_is_no_receipt(store, settings, receiver, approved):
    receiver.status = 302
    work(store, settings)
    job = jobs.job_of(store, "webhook", approved[0])
    assert (job["state"], "302" in job["error"]) == ("waiting", True)


def test_a_receiver_that_is_away_does_not_stop_the_listening(
    store, settings, receiver, approved, technician, recorded
):
    receiver.shutdown()
    receiver.server_close()
    recording = recorded(technician("Ben"), sound=b"RIFF\x00\x10\x00\x00WAVEnothing")
    ask_to_listen(store, Silent(), recording)
    assert work(store, settings) == 2
    assert jobs.job_of(store, "listen", recording)["state"] == "set-aside"
    assert "reached" in jobs.job_of(store, "webhook", approved[0])["error"]


def test_old_sound_goes_and_words_and_record_stay(store, settings, approved, clock):
    ticket, _ = approved
    keep = Settings(data=store.folder, keep_sound_days=30)
    digests = list(store.blobs.digests())
    assert tidy(store, keep)["sound"] == 0
    clock.now += 31 * 86400
    assert tidy(store, keep)["sound"] == len(digests) == 1
    assert list(store.blobs.digests()) == []
    assert recordings.hearings(store, ticket)[0].transcript.text.startswith("RTU-3")
    assert tickets.ticket(store, ticket)["status"] == "approved"
    assert tidy(store, keep)["sound"] == 0


def test_sound_let_go_of_before_does_not_stand_in_the_way_of_more(
    store, settings, approved, clock, monkeypatch
):
    keep = Settings(data=store.folder, keep_sound_days=30)
    monkeypatch.setattr(upkeep, "AT_ONCE", 1)
    clock.now += 31 * 86400
    assert tidy(store, keep)["sound"] == 1
    segment = store.db.row("SELECT * FROM segments")
    another = {
        **segment,
        "id": "another",
        "seq": 1,
        "let_go_at": None,
        "blob_sha256": store.blobs.put(b"more sound"),
    }
    store.db.insert("segments", another)
    assert tidy(store, keep)["sound"] == 1
    assert list(store.blobs.digests()) == []
    assert tidy(store, keep)["sound"] == 0


def test_sound_of_a_ticket_that_is_not_approved_stays(store, settings, technician, recorded, clock):
    recorded(technician("Ana"))
    clock.now += 1000 * 86400
    assert tidy(store, Settings(data=store.folder, keep_sound_days=1))["sound"] == 0
    assert len(list(store.blobs.digests())) == 1


def test_expired_uploads_are_removed_with_their_bytes(store, technician, clock):
    who = technician("Ana")
    made = uploads.create(
        store, user_id=who, kind="segment", ref="s", recording_id=None, seq=0, sha256=None, length=10,
        raw_metadata="", metadata={}, lasts_s=86400,
    )  # fmt: skip
    assert tidy(store, Settings(data=store.folder))["uploads"] == 0
    clock.now += 86401
    assert tidy(store, Settings(data=store.folder))["uploads"] == 1
    assert not uploads.file_of(store, made.id).exists()
