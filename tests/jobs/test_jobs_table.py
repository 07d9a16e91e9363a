"""The jobs table: leases, tries, fairness, held-back work, and results that come twice or too late."""

import sqlite3
import threading

import pytest

from hatchnote.domain import Transcript, Word
from hatchnote.jobs import draft
from hatchnote.jobs.asking import ask_to_listen, eta_s, status_of
from hatchnote.jobs.desk import LocalDesk, deliver
from hatchnote.settings import Settings
from hatchnote.store import jobs, recordings, tickets


class Rings:
    """Counts rings; the bell itself has its test with a real Redis."""

    def __init__(self):
        self.n = 0

    def ring(self):
        self.n += 1


@pytest.fixture
def bell():
    return Rings()


@pytest.fixture
def ask(store, bell):
    return lambda recording: ask_to_listen(store, bell, recording)


def claim(store, worker="w", lease_s=60, tries=3):
    return jobs.claim(store, worker=worker, lease_s=lease_s, tries=tries, kinds=("listen",))


def heard(*words):
    spoken = tuple(Word(w, i * 0.5, i * 0.5 + 0.4, 0.9) for i, w in enumerate(" ".join(words).split()))
    return Transcript(spoken, duration_s=len(spoken) * 0.5)


def test_asking_twice_is_asking_once(ask, bell, technician, recorded):
    recording = recorded(technician("Ana"))
    assert [ask(recording), ask(recording)] == [True, False]
    assert bell.n == 1


def test_a_recording_without_all_its_sound_is_not_asked_for(store, ask, technician, recorded):
    recording = recorded(technician("Ana"))
    recordings.put_segment(store, recording, recordings.Segment("later", 1, None, None, None))
    assert ask(recording) is False
    assert claim(store) is None


def test_more_sound_makes_new_work_of_a_done_recording(store, ask, technician, recorded):
    recording = recorded(technician("Ana"))
    ask(recording)
    first = claim(store)
    assert jobs.finish(store, first.id, first.lease)
    recordings.put_segment(store, recording, recordings.Segment("later", 1, None, None, None))
    recordings.receive_segment(store, "later", sha256=store.blobs.put(b"more"), size=4)
    assert ask(recording) is True
    assert claim(store).key != first.key


def test_technicians_take_turns_and_the_newest_visit_comes_first(store, clock, ask, technician, recorded):
    ana, ben = technician("Ana"), technician("Ben")
    old, new, newest = (recorded(ana, f"2026-03-0{n}") for n in (1, 2, 3))
    bens = recorded(ben, "2026-02-01")
    for r in (old, new, newest, bens):
        ask(r)
    order = []
    while found := claim(store):
        order.append(found.ref)
        jobs.finish(store, found.id, found.lease)
        clock.now += 1
    assert order == [newest, bens, new, old]


def test_what_is_listened_to_at_the_same_time_is_what_is_fairest(store, clock, ask, technician, recorded):
    """A worker with several desks hears their recordings in one batch: it must not be one technician's backlog."""
    ana, ben, cora = technician("Ana"), technician("Ben"), technician("Cora")
    anas = [recorded(ana, f"2026-03-0{n}") for n in range(1, 6)]
    bens, coras = recorded(ben, "2026-02-01"), recorded(cora, "2026-01-01")
    for r in (*anas, bens, coras):
        ask(r)
    desks = [LocalDesk(store, Settings(data=store.folder), f"w{n}") for n in range(4)]
    batch = []
    for desk in desks:
        batch.append(desk.claim().ref)
        clock.now += 0.01
    assert batch == [anas[4], bens, coras, anas[3]]


def test_a_dead_workers_job_is_taken_up_when_its_lease_runs_out(store, clock, ask, technician, recorded):
    ask(recorded(technician("Ana")))
    first = claim(store, "dead")
    assert claim(store) is None
    clock.now += 61
    second = claim(store, "living")
    assert (second.id, second.tries) == (first.id, 2)
    assert not jobs.beat(store, first.id, first.lease, lease_s=60)
    assert not jobs.finish(store, first.id, first.lease)
    assert not jobs.fail(store, first.id, first.lease, reason="x", final=True, tries=3)
    assert jobs.finish(store, second.id, second.lease)


def test_a_heartbeat_keeps_the_job(store, clock, ask, technician, recorded):
    ask(recorded(technician("Ana")))
    found = claim(store)
    for _ in range(5):
        clock.now += 50
        assert jobs.beat(store, found.id, found.lease, lease_s=60, progress=0.5)
        assert claim(store) is None


def test_what_kills_every_worker_is_set_aside_and_blocks_nobody(store, clock, ask, technician, recorded):
    poison, good = recorded(technician("Ana")), recorded(technician("Ben"))
    ask(poison)
    for _ in range(3):
        assert claim(store, tries=3).ref == poison
        clock.now += 61
    ask(good)
    assert claim(store, tries=3).ref == good
    row = jobs.job_of(store, "listen", poison)
    assert row["state"] == "set-aside"
    assert "3 times" in row["error"]
    assert jobs.retry(store, row["id"])
    assert claim(store).ref == poison


def test_a_failure_is_tried_again_later_and_later(store, clock, ask, technician, recorded):
    ask(recorded(technician("Ana")))
    waits = []
    for _ in range(3):
        found = claim(store)
        jobs.fail(store, found.id, found.lease, reason="The model stumbled.", final=False, tries=3)
        start = clock.now
        while jobs.ready(store) == 0 and clock.now < start + 100:
            clock.now += 1
        waits.append(clock.now - start)
    assert waits == [10, 20, 100]
    assert jobs.job_of(store, "listen", found.ref)["state"] == "set-aside"


def test_a_released_worker_frees_its_jobs_at_once(store, ask, technician, recorded, clock):
    ask(recorded(technician("Ana")))
    claim(store, "beside-1")
    assert jobs.release(store, "beside-1") == 1
    clock.now += 0.001
    assert claim(store, "beside-2") is not None


def test_forty_threads_never_get_the_same_job(store, ask, technician, recorded):
    ana = technician("Ana")
    refs = {recorded(ana) for _ in range(10)}
    for r in refs:
        ask(r)
    got, lock = [], threading.Lock()

    def work():
        for _ in range(3):
            found = claim(store)
            with lock:
                got.append(found and found.ref)

    threads = [threading.Thread(target=work) for _ in range(40)]
    [t.start() for t in threads]
    [t.join() for t in threads]
    assert sorted(filter(None, got)) == sorted(refs)


# ---------------------------------------------------------------- results


def test_a_result_is_read_judged_and_stored_with_its_job(store, ask, technician, recorded):
    recording = recorded(technician("Ana"))
    ask(recording)
    found = claim(store)
    assert deliver(store, found.id, found.lease, heard("RTU-3 suction pressure 118 psig"), listened_s=1.0)
    row = tickets.ticket(store, recordings.recording(store, recording)["ticket_id"])
    document = draft.document(store, row)
    values = [(r["point"], r["value"]) for m in document["equipment"] for r in m["readings"]]
    assert values == [("suction-pressure", 118)]
    assert jobs.job_of(store, "listen", recording)["state"] == "done"
    assert jobs.figure(store, "work_s_per_sound_s") is not None


def test_a_late_result_changes_nothing(store, clock, ask, technician, recorded):
    recording = recorded(technician("Ana"))
    ask(recording)
    late = claim(store, "slow")
    clock.now += 61
    other = claim(store, "quick")
    assert deliver(store, other.id, other.lease, heard("RTU-3 suction pressure 118 psig"), listened_s=1.0)
    assert not deliver(store, late.id, late.lease, heard("something else"), listened_s=1.0)
    ticket = recordings.recording(store, recording)["ticket_id"]
    assert [h.transcript.text for h in recordings.hearings(store, ticket)] == [
        "RTU-3 suction pressure 118 psig"
    ]
    assert tickets.ticket(store, ticket)["revision"] == 1


def test_a_result_whose_sound_grew_meanwhile_is_dropped(store, ask, technician, recorded):
    recording = recorded(technician("Ana"))
    ask(recording)
    found = claim(store)
    recordings.put_segment(store, recording, recordings.Segment("later", 1, None, None, None))
    recordings.receive_segment(store, "later", sha256=store.blobs.put(b"more"), size=4)
    ask(recording)
    assert not deliver(store, found.id, found.lease, heard("old words"), listened_s=1.0)


def test_a_result_that_cannot_be_written_leaves_nothing_behind(store, ask, technician, recorded, monkeypatch):
    recording = recorded(technician("Ana"))
    ask(recording)
    found = claim(store)

    def broken(*_, **__):
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr(tickets, "save_revision", broken)
    with pytest.raises(sqlite3.OperationalError):
        deliver(store, found.id, found.lease, heard("RTU-3 suction pressure 118 psig"), listened_s=1.0)
    ticket = recordings.recording(store, recording)["ticket_id"]
    assert recordings.hearings(store, ticket) == []
    assert jobs.job_of(store, "listen", recording)["state"] == "running"


def test_held_back_work_waits_for_whoever_listens_along(store, clock, ask, technician, recorded):
    ana = technician("Ana")
    recording = recorded(ana)
    along = jobs.claim_one(store, kind="live", ref=recording, owner=ana, visit_date="2026-03-04", worker="w",
                           lease_s=60, key="1")  # fmt: skip
    assert along is not None
    ask(recording)
    assert claim(store) is None
    mine = jobs.take(store, "listen", recording, worker="w", lease_s=60)
    assert deliver(store, mine.id, mine.lease, heard("RTU-3 suction pressure 118 psig"), listened_s=1.0)
    assert jobs.take(store, "listen", recording, worker="w", lease_s=60) is None


def test_if_it_dies_anybody_starts_from_the_beginning(store, clock, ask, technician, recorded):
    ana = technician("Ana")
    recording = recorded(ana)
    jobs.claim_one(store, kind="live", ref=recording, owner=ana, visit_date="2026-03-04", worker="w",
                   lease_s=60, key="1")  # fmt: skip
    ask(recording)
    clock.now += 31
    assert claim(store).ref == recording


def test_progress_and_time_left_are_told(store, ask, technician, recorded):
    recording = recorded(technician("Ana"))
    ask(recording)
    assert eta_s(store, jobs.job_of(store, "listen", recording)) is None
    jobs.note_figure(store, "work_s_per_sound_s", 0.5)
    waiting = eta_s(store, jobs.job_of(store, "listen", recording))
    found = claim(store)
    jobs.beat(store, found.id, found.lease, lease_s=60, progress=0.5)
    job = jobs.job_of(store, "listen", recording)
    assert eta_s(store, job) == pytest.approx(waiting / 2, abs=0.06)
    pieces = recordings.segments(store, recording)
    assert status_of(recordings.recording(store, recording), pieces, job) == "listening"


def test_the_desk_finds_the_files_and_the_sites_words(store, ask, technician, recorded, tmp_path):
    recording = recorded(technician("Ana"))
    ask(recording)
    desk = LocalDesk(store, Settings(data=store.folder), "w")
    work = desk.listening(desk.claim(), tmp_path)
    assert [f.read_bytes()[:4] for f in work.files] == [b"\x1aE\xdf\xa3"]


def test_what_is_added_from_a_machines_page_belongs_to_that_machine(store, technician, recorded):
    site = recordings.recording(store, recorded(technician("Ana")))["site_id"]
    added = draft.read_words(store, site, heard("manifold pressure low fire 1.7 inches"), about="RTU-3")
    assert [(r.point, r.tag) for r in added.readings] == [("manifold-pressure", "RTU-3")]
    named = draft.read_words(store, site, heard("RTU-5 suction pressure 118 psig"), about="RTU-3")
    assert [r.tag for r in named.readings] == ["RTU-5"]
    assert added.tags == ("RTU-3",) and named.tags == ("RTU-5",)
