"""Sound that grows while it is heard: words appear before the end, and the result is that of one listening."""

import subprocess
import threading
import time
import uuid

import pytest

from hatchnote.jobs import live, worker
from hatchnote.jobs.asking import ask_to_listen
from hatchnote.jobs.desk import LocalDesk
from hatchnote.settings import Settings
from hatchnote.store import jobs, open_store, people, places, recordings, uploads

pytestmark = [pytest.mark.speech, pytest.mark.voices, pytest.mark.slow]

SAID = (
    "Liquid line temperature ninety five degrees. Supply air temperature fifty five degrees."
    " Return air temperature seventy five degrees. Replaced the contactor and the belt."
    " Suction pressure one hundred twenty pounds. Cleaned the condenser coil and the drain pan."
    " Outdoor air temperature ninety degrees. Tightened the wire terminals on the contactor."
)


class Silent:
    def ring(self):
        pass


@pytest.fixture
def real_time(tmp_path):
    store = open_store(tmp_path / "data")
    yield store
    store.close()


@pytest.fixture
def small_model(monkeypatch):
    monkeypatch.setenv("HATCHNOTE_SPEECH_MODEL", "tiny.en")
    monkeypatch.setenv("HATCHNOTE_SECOND_MODEL", "none")


def begin(store, who):
    visit, recording, segment = (str(uuid.uuid4()) for _ in range(3))
    site = places.find_or_make_site(store, "Cedar Court")
    places.put_visit(store, visit, site_id=site, date="2026-03-04", technician_id=who.id)
    put(store, recording, visit, who, finished=False)
    recordings.put_segment(store, recording, recordings.Segment(segment, 0, None, None, "audio/wav"))
    return visit, recording, segment


def put(store, recording, visit, who, *, finished):
    recordings.put_recording(
        store, recording, ticket_id=visit, technician_id=who.id, started_at="2026-03-04T14:00:00.000Z",
        segments=[], marks=[], finished=finished, settings={},
    )  # fmt: skip


def test_a_growing_recording_is_heard_along_and_equals_one_listening(real_time, tmp_path, small_model):
    store = real_time
    who = people.add_user(store, name="ana", role="technician", full_name="Ana", password_hash="x")
    wav, ogg = tmp_path / "said.wav", tmp_path / "said.ogg"
    subprocess.run(["espeak-ng", "-v", "en-us", "-s", "140", "-w", wav, SAID], check=True)
    to_opus(wav, ogg)
    data = ogg.read_bytes()
    visit, recording, segment = begin(store, who)
    upload = uploads.create(
        store, user_id=who.id, kind="segment", ref=segment, recording_id=recording, seq=0, sha256=None, length=None,
        raw_metadata="", metadata={}, lasts_s=1000,
    )  # fmt: skip
    desk = LocalDesk(store, Settings(data=store.folder), "along")
    stop = threading.Event()
    along = threading.Thread(target=live.run, args=(desk, stop), daemon=True)
    along.start()
    at, shown = 0, []
    for cut in range(6):
        piece = data[at : at + len(data) // 6 + 1]
        at = uploads.append(store, upload.id, offset=at, pieces=[piece], verified=lambda: True, keep_free=0)
        end = time.monotonic() + 60
        while cut == 4 and time.monotonic() < end and not shown:
            shown = recordings.recording(store, recording)["words_so_far"].split()
            time.sleep(0.1)
    assert shown, "no word appeared while the recording was still growing"
    assert jobs.followed(store, recording)
    digest = store.blobs.put(data)
    recordings.receive_segment(store, segment, sha256=digest, size=len(data))
    uploads.settle(store, upload.id, "whole")
    put(store, recording, visit, who, finished=True)
    ask_to_listen(store, Silent(), recording)
    assert desk.claim() is None, "the job is held back for the one who listens along"
    end = time.monotonic() + 120
    while jobs.job_of(store, "listen", recording)["state"] != "done" and time.monotonic() < end:
        time.sleep(0.2)
    stop.set()
    along.join(timeout=60)
    [heard] = recordings.hearings(store, visit)
    assert recordings.recording(store, recording)["sound_sha256"]

    again_visit, again, again_segment = begin(store, who)
    recordings.receive_segment(store, again_segment, sha256=digest, size=len(data))
    put(store, again, again_visit, who, finished=True)
    ask_to_listen(store, Silent(), again)
    assert worker.do_all(desk, Settings(data=store.folder), threading.Event()) == 1
    [at_once] = recordings.hearings(store, again_visit)
    assert heard.transcript.text == at_once.transcript.text
    assert [w.start for w in heard.transcript.words] == pytest.approx(
        [w.start for w in at_once.transcript.words], abs=0.05
    )


def to_opus(wav, ogg):
    import av

    with av.open(str(wav)) as source, av.open(str(ogg), "w") as target:
        stream = target.add_stream("libopus", rate=48_000)
        stream.bit_rate = 32_000
        stream.layout = "mono"
        resampler = av.AudioResampler(format="s16", layout="mono", rate=48_000)
        for frame in source.decode(audio=0):
            for out in resampler.resample(frame):
                target.mux(stream.encode(out))
        for out in resampler.resample(None):
            target.mux(stream.encode(out))
        target.mux(stream.encode(None))
