"""The server as a process: one for a folder, a worker that ends with it, cut request bodies, memory, full disk."""

import os
import resource
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
from browsing import metadata, new_id, sha256, sound
from served import Server, signed_in

MAIN = [sys.executable, "-c", "from hatchnote.cli import main; main()"]


@pytest.fixture
def server(tmp_path, monkeypatch):
    monkeypatch.setenv("HATCHNOTE_KEEP_FREE_MB", "0")
    server = Server(tmp_path / "data")
    yield server
    server.stop()


@pytest.fixture
def ana(server):
    person = signed_in(server.folder, server.port)
    server.start().wait()
    return person


@pytest.fixture
def recording(ana):
    visit, id = new_id(), new_id()
    assert (
        ana.call("PUT", f"/api/v1/visits/{visit}", {"site_name": "Cedar Court", "date": "2026-03-04"})[0]
        == 201
    )
    about = {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z"}
    assert ana.call("PUT", f"/api/v1/recordings/{id}", about)[0] == 200
    return id


def begin(ana, recording, data):
    named = metadata(kind="segment", id=new_id(), sha256=sha256(data), recording=recording, seq=0)
    status, head, _ = ana.call(
        "POST", "/uploads", b"", {"Upload-Length": str(len(data)), "Upload-Metadata": named}
    )
    assert status == 201
    return head["Location"]


def test_a_second_server_on_the_folder_is_refused_in_one_sentence(server, ana):
    second = subprocess.run(
        [*MAIN, "serve", "--data", str(server.folder), "--port", "1"],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert second.returncode == 1
    [line] = second.stderr.strip().splitlines()
    assert "already served" in line and line.endswith(".")


def test_a_phone_that_vanishes_in_mid_request_loses_only_what_had_not_arrived(server, ana, recording):
    data = sound(1_000_000)
    path = begin(ana, recording, data)
    head = (
        f"PATCH {path} HTTP/1.1\r\nHost: localhost\r\nCookie: hatchnote_session={ana.token}\r\n"
        f"X-CSRF-Token: {ana.csrf}\r\nTus-Resumable: 1.0.0\r\nUpload-Offset: 0\r\n"
        f"Content-Type: application/offset+octet-stream\r\nContent-Length: {len(data)}\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", server.port)) as phone:
        phone.sendall(head.encode() + data[:300_000])
    end = time.monotonic() + 20
    while (at := int(ana.call("HEAD", path)[1]["Upload-Offset"])) == 0 and time.monotonic() < end:
        time.sleep(0.1)
    assert 0 < at <= 300_000
    status, head, _ = ana.call(
        "PATCH",
        path,
        data[at:],
        {"Upload-Offset": str(at), "Content-Type": "application/offset+octet-stream"},
    )
    assert (status, head["Hatchnote-Sha256"]) == (204, sha256(data))


def test_the_web_process_stays_small(server, ana, recording):
    """150 MB is the budget: no speech model and no numpy in it, whatever it was asked for."""
    import io

    from PIL import Image

    visit = new_id()
    ana.call("PUT", f"/api/v1/visits/{visit}", {"site_name": "Cedar Court", "date": "2026-03-04"})
    for _ in range(3):
        note = {"ticket_id": visit, "text": "RTU-3 suction pressure 118 psig.", "at": "2026-03-04T15:00:00Z"}
        assert ana.call("PUT", f"/api/v1/notes/{new_id()}", note)[0] == 200
        assert ana.call("POST", "/api/v1/read", {"text": "suction 118 psig"})[0] == 200
        picture = io.BytesIO()
        Image.linear_gradient("L").resize((4000, 3000)).convert("RGB").save(picture, "JPEG")
        data, photo = picture.getvalue(), new_id()
        named = metadata(kind="photo", id=photo, sha256=sha256(data), ticket=visit)
        _, head, _ = ana.call(
            "POST", "/uploads", b"", {"Upload-Length": str(len(data)), "Upload-Metadata": named}
        )
        sent = {"Upload-Offset": "0", "Content-Type": "application/offset+octet-stream"}
        assert ana.call("PATCH", head["Location"], data, sent)[1]["Hatchnote-Received"] == "whole"
        assert ana.call("GET", f"/api/v1/photos/{photo}/image")[0] == 200
    # The forked server shares this test's own pages, and threads of the typesetter that an earlier test started here
    # do not survive a fork; so a fresh server makes the document and is measured.
    server.kill()
    command = [*MAIN, "serve", "--no-worker", "--data", str(server.folder), "--port", str(server.port)]
    process = subprocess.Popen(command)
    try:
        server.wait()
        for path in (f"/api/v1/tickets/{visit}", f"/api/v1/tickets/{visit}/document.pdf", "/office", "/"):
            assert ana.call("GET", path)[0] in (200, 403)
        assert ana.call("POST", "/api/v1/read", {"text": "suction 118 psig"})[0] == 200
        child = children(process.pid)[0]
        mapped = Path(f"/proc/{child}/maps").read_text()
        assert "numpy" not in mapped and "ctranslate2" not in mapped
        assert resident_mb(child) <= 150
    finally:
        process.terminate()
        assert process.wait(timeout=60) == 0


def test_the_worker_ends_with_its_server_even_when_that_is_killed(server):
    command = [*MAIN, "serve", "--data", str(server.folder), "--port", str(server.port)]
    process = subprocess.Popen(command, start_new_session=True)
    try:
        server.wait()
        worker = wait_until(
            lambda: next((c for c in children(process.pid) if "worker" in command_of(c)), None)
        )
        process.kill()
        process.wait()
        wait_until(lambda: not Path(f"/proc/{worker}").exists() or "Z" in state_of(worker))
    finally:
        if process.poll() is None:
            process.kill()
            process.wait()


def test_a_full_disk_is_told_and_nothing_acknowledged_is_lost(server, ana, recording):
    """The kernel refuses to let files grow past a limit (RLIMIT_FSIZE), as a full disk would."""
    data = sound(400_000)
    server.kill()
    command = [*MAIN, "serve", "--no-worker", "--data", str(server.folder), "--port", str(server.port)]
    process = subprocess.Popen(command)
    try:
        server.wait()
        path = begin(ana, recording, data)
        sent = {"Content-Type": "application/offset+octet-stream"}
        assert ana.call("PATCH", path, data[:200_000], {**sent, "Upload-Offset": "0"})[0] == 204
        web = children(process.pid)[0]
        limit = resource.prlimit(web, resource.RLIMIT_FSIZE)
        resource.prlimit(web, resource.RLIMIT_FSIZE, (250_000, limit[1]))
        status, _, told = ana.call("PATCH", path, data[200_000:], {**sent, "Upload-Offset": "200000"})
        assert status == 507
        assert b"disk is full" in told
        resource.prlimit(web, resource.RLIMIT_FSIZE, limit)
        assert ana.call("HEAD", path)[1]["Upload-Offset"] == "200000"
        status, head, _ = ana.call("PATCH", path, data[200_000:], {**sent, "Upload-Offset": "200000"})
        assert (status, head["Hatchnote-Sha256"]) == (204, sha256(data))
    finally:
        process.terminate()
        process.wait(timeout=30)


def children(pid):
    try:
        listed = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    except FileNotFoundError:
        return []
    return [int(c) for c in listed]


def command_of(pid):
    try:
        return Path(f"/proc/{pid}/cmdline").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return ""


def state_of(pid):
    try:
        return Path(f"/proc/{pid}/stat").read_text().split()[2]
    except (FileNotFoundError, ProcessLookupError):
        return "Z"


def resident_mb(pid):
    return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6


def wait_until(what, seconds=30):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if found := what():
            return found
        time.sleep(0.1)
    raise AssertionError("it did not come true")
