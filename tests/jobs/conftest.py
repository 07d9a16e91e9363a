"""A store whose clock the test moves, with people, a site, and recordings that wait to be listened to."""

import uuid

import pytest

from hatchnote.store import open_store, people, places, recordings


class Clock:
    def __init__(self):
        self.now = 1_000_000.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def store(tmp_path, clock):
    store = open_store(tmp_path / "data", clock=clock)
    yield store
    store.close()


@pytest.fixture
def technician(store):
    def make(name):
        return people.add_user(store, name=name, role="technician", full_name=name, password_hash="x").id

    return make


@pytest.fixture
def recorded(store):
    """Make a visit with one finished recording whose single segment is in the blob store; gives its id."""

    def make(technician_id, day="2026-03-04", sound=None):
        visit, recording, segment = (str(uuid.uuid4()) for _ in range(3))
        site = places.find_or_make_site(store, "Cedar Court")
        places.put_visit(store, visit, site_id=site, date=day, technician_id=technician_id)
        data = sound or b"\x1aE\xdf\xa3" + recording.encode() * 200
        digest = store.blobs.put(data)
        recordings.put_recording(
            store, recording, ticket_id=visit, technician_id=technician_id, started_at="2026-03-04T14:00:00.000Z",
            segments=[recordings.Segment(segment, 0, len(data), digest, "audio/wav")], marks=[], finished=True,
            settings={},
        )  # fmt: skip
        recordings.receive_segment(store, segment, sha256=digest, size=len(data))
        return recording

    return make
