"""The whole main job through the server: sound made by espeak-ng is uploaded, listened to, read, and shown."""

import io
import subprocess
import threading

import av
import pytest
from browsing import metadata, new_id, send_segment, sha256
from PIL import Image

from hatchnote.jobs import worker
from hatchnote.jobs.desk import LocalDesk
from hatchnote.tickets.document import validate

pytestmark = [pytest.mark.speech, pytest.mark.voices]

SAID = (
    "R T U three. Suction pressure one eighteen P S I G. Liquid line temperature ninety five degrees."
    " Replaced the contactor."
)


SAID_S = 9.7
"""Roughly how long the first segment is; what is heard in the second must start after it."""
LATER = "Supply air temperature fifty five degrees."


@pytest.fixture
def speak(tmp_path):
    def speak(words):
        file = tmp_path / "said.wav"
        subprocess.run(["espeak-ng", "-v", "en-us", "-s", "140", "-w", file, words], check=True)
        return file.read_bytes()

    return speak


@pytest.fixture
def work(store, settings):
    """Do everything that waits, as a worker process would."""
    desk = LocalDesk(store, settings, "test worker")
    return lambda: worker.do_all(desk, settings, threading.Event())


def finish(person, recording, visit):
    body = {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z", "finished": True}
    return person.put(f"/recordings/{recording}", body)


def photograph(person, visit, **more):
    picture = io.BytesIO()
    Image.new("RGB", (640, 480), "teal").save(picture, "JPEG")
    data, id = picture.getvalue(), new_id()
    named = metadata(kind="photo", id=id, sha256=sha256(data), ticket=visit, **more)
    path = person.tus("POST", "/uploads", Upload_Length=len(data), Upload_Metadata=named).headers["Location"]
    assert person.tus("PATCH", path, data=data, Upload_Offset=0).headers["Hatchnote-Received"] == "whole"
    return id


def test_what_was_said_is_in_the_ticket_and_a_broken_recording_blocks_nobody(
    ana, olga, visit, recording, speak, work
):
    broken = new_id()
    ana.put(f"/recordings/{broken}", {"ticket_id": visit, "started_at": "2026-03-04T13:00:00Z"})
    send_segment(ana, broken, b"RIFF\x00\x10\x00\x00WAVE" + b"nothing that any decoder knows" * 30)
    finish(ana, broken, visit)
    send_segment(ana, recording, speak(SAID), seq=0)
    send_segment(ana, recording, speak(LATER), seq=1)
    photo = photograph(ana, visit, recording=recording, at_s=2.5)
    assert finish(ana, recording, visit).json["status"] == "listening"

    assert work() == 2

    state = ana.get(f"/recordings/{recording}").json
    assert (state["status"], state["progress"]) == ("done", 1), state
    ticket = olga.get(f"/tickets/{visit}").json
    validate(ticket)
    found = {r["point"]: r for m in ticket["equipment"] for r in m["readings"]}
    first, second = found["liquid-line-temperature"], found["supply-air-temperature"]
    assert (first["value"], first["ucum"], second["value"]) == (95, "[degF]", 55)
    # Two segments are one recording on one clock.
    assert {first["heard"]["dictation"], second["heard"]["dictation"]} == {recording}
    assert (
        first["heard"]["end"]
        < SAID_S
        < second["heard"]["start"]
        < second["heard"]["end"]
        <= state["duration_s"]
    )
    assert [m["tag"] for m in ticket["equipment"] for p in m["photos"] if p["id"] == photo] == ["RTU-3"]

    part = ana.client.get(f"/api/v1/recordings/{recording}/sound", headers={"Range": "bytes=0-1"})
    assert (part.status_code, part.content_type) == (206, "audio/mp4")
    assert part.headers["Content-Range"].startswith("bytes 0-1/")
    whole = ana.client.get(f"/api/v1/recordings/{recording}/sound").data
    with av.open(io.BytesIO(whole)) as playable:
        assert playable.duration / 1e6 == pytest.approx(state["duration_s"], abs=0.2)

    refused = ana.get(f"/recordings/{broken}").json
    assert refused["status"] == "set-aside"
    assert refused["error"].endswith(".")
    queue = olga.get("/queue").json["jobs"]
    assert [(j["state"], j["ref"]) for j in queue] == [("set-aside", broken)]
    assert olga.call("POST", f"/queue/{queue[0]['id']}/retry").status_code == 204
    assert ana.get(f"/recordings/{broken}").json["status"] == "listening"
