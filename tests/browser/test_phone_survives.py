"""Nothing is lost: a killed browser, a bad line, no line, a full phone. Real server, real Chromium, fake microphone."""

from __future__ import annotations

import contextlib
import os
import random
import signal
import time

import arrived
import pytest
from bad_line import BadLine
from house import House, Person
from phone_page import new_phone, new_visit, open_app, outbox, record, wait_sent, wait_until
from sounds import photo, seconds, speak
from tests.browser.conftest import CHROMIUM_FLAGS

pytestmark = [pytest.mark.browser, pytest.mark.voices]
SPOKEN = [
    ("R T U three. Manifold pressure, three point five inches. ", "manifold-pressure", 3.5),
    ("Suction pressure, one hundred eighteen. ", "suction-pressure", 118),
    ("Supply air, fifty eight degrees. ", "supply-air-temperature", 58),
    ("Return air, seventy five degrees. ", "return-air-temperature", 75),
    ("Line voltage, four hundred eighty volts. ", "voltage", 480),
    ("Outdoor air, ninety two degrees. ", "outdoor-air-temperature", 92),
]
SENTENCES = "".join(text for text, _, _ in SPOKEN)


@pytest.fixture(scope="module")
def voice(tmp_path_factory):
    return speak(tmp_path_factory.mktemp("voice") / "voice.wav", SENTENCES)


@pytest.fixture(scope="module")
def house(quiet_house):
    """No worker: these tests are about bytes, and the machine is small."""
    return quiet_house


@pytest.fixture(scope="module")
def speaking(playwright, voice):
    """A Chromium whose microphone hears the voice."""
    browser = playwright.chromium.launch(
        executable_path="/usr/bin/chromium",
        args=[*CHROMIUM_FLAGS, f"--use-file-for-fake-audio-capture={voice}"],
    )
    yield browser
    browser.close()


@pytest.fixture
def phone(speaking, house):
    context = speaking.new_context(viewport={"width": 390, "height": 844}, permissions=["microphone"])
    page = new_phone(context, house.address)
    yield page
    assert not page.broken
    context.close()


def profile_of(playwright, folder, voice):
    """The phone's own profile: it outlives the browser's process."""
    for left_over in folder.glob("Singleton*"):
        left_over.unlink()
    return playwright.chromium.launch_persistent_context(
        str(folder),
        executable_path="/usr/bin/chromium",
        args=[*CHROMIUM_FLAGS, f"--use-file-for-fake-audio-capture={voice}"],
        permissions=["microphone"],
        viewport={"width": 390, "height": 844},
    )


def kill_browser(folder):
    """SIGKILL to every process of the browser on this profile, and to no other."""
    mark = f"--user-data-dir={folder}".encode()
    mine = []
    for entry in os.listdir("/proc"):
        if entry.isdigit():
            with contextlib.suppress(OSError), open(f"/proc/{entry}/cmdline", "rb") as f:
                if mark in f.read().split(b"\0"):
                    mine.append(int(entry))
    for pid in mine:
        with contextlib.suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)
    assert mine, "the browser's processes were not found"


def killed_recordings(playwright, house, folder, voice, waits):
    """Kill the browser after each of `waits` seconds of recording; yield (seconds spoken, seconds kept, bytes)."""
    # Paired some time ago: browsers write a new cookie to disk only after half a minute, or when they end.
    context = profile_of(playwright, folder, voice)
    new_phone(context, house.address)
    context.close()
    context = profile_of(playwright, folder, voice)
    page = open_app(context, house.address)
    for wait in waits:
        new_visit(page, f"Killed after {wait:.2f} s")
        context.set_offline(True)  # what is kept must be kept here, not on the server
        page.get_by_role("button", name="Record").click()
        page.get_by_role("button", name="Stop").wait_for()
        page.wait_for_timeout(wait * 1000)
        spoken, id = page.evaluate("[hatchnote.recorder.seconds, hatchnote.recorder.recording.id]")
        kill_browser(folder)
        with contextlib.suppress(Exception):
            context.close()
        context = profile_of(playwright, folder, voice)
        page = open_app(context, house.address)
        row = page.evaluate("(id) => hatchnote.db.get('recordings', id)", id)
        assert row["state"] in ("closed", "sent") and row["recovered"]
        assert "was cut off" in page.locator("#alarm").inner_text()
        wait_sent(page)
        segments = page.evaluate("(id) => hatchnote.db.getAllFromIndex('segments', 'recording', id)", id)
        data = (house.folder / "blobs" / segments[0]["sha256"][:2] / segments[0]["sha256"]).read_bytes()
        yield spoken, seconds(data), data
    assert arrived.missing(page, house.folder) == []
    context.close()


def heard_in(sound) -> set[tuple[str, float]]:
    """(point, value) of the readings that the real model and the reader find in a sound file."""
    from hatchnote.notes import read_notes
    from hatchnote.speech import transcribe

    return {(r.point, r.value) for r in read_notes(transcribe(sound)).readings}


def said_by(folder, kept) -> list[tuple[str, float]]:
    """The readings that were wholly spoken in the first `kept` seconds."""
    out, text = [], ""
    for more, point, value in SPOKEN:
        text += more
        if seconds(speak(folder / "so-far.wav", text)) > kept:
            break
        out.append((point, value))
    return out


@pytest.mark.speech
def test_a_killed_browser_loses_at_most_two_seconds_and_what_was_said_is_heard(
    playwright, house, tmp_path, voice
):
    chance = random.Random(5)
    waits = [chance.uniform(2.2, 5), chance.uniform(8, 10)]
    killed = list(killed_recordings(playwright, house, tmp_path / "profile", voice, waits))
    for spoken, kept, _ in killed:
        assert spoken - kept <= 2, f"{spoken:.2f} s were spoken, {kept:.2f} s were kept"
    # The longer one: what was out of his mouth is read from what the killed browser left.
    _, kept, data = killed[-1]
    (tmp_path / "killed.webm").write_bytes(data)
    heard, said = dict(heard_in(tmp_path / "killed.webm")), dict(said_by(tmp_path, kept))
    assert heard["manifold-pressure"] == 3.5
    assert said.keys() <= heard.keys()


def add_photos(page, count, first=0, source="library"):
    page.locator(f"input[data-source={source}]").set_input_files(
        [
            {"name": f"p{n}.jpg", "mimeType": "image/jpeg", "buffer": photo(n)}
            for n in range(first, first + count)
        ]
    )
    wait_until(page, f"hatchnote.db.count('photos').then((n) => n >= {first + count})", "keeping photos")


def kill_in_mid_upload(page, house):
    """SIGKILL to the server while something is on its way to it, and a new one on the same folder and port."""
    wait_until(
        page,
        "hatchnote.outbox.rows().then((all) => all.some((r) => r.state === 'sending' && r.kind !== 'visit'))",
        "an upload under way",
    )
    house.stop(signal.SIGKILL)
    time.sleep(1)
    house.start()


def over_a_bad_line(speaking, house, *, recordings, photos, latency_s, kills=1, seed=11):
    """Send while 1 in 3 requests fails and the server is killed `kills` times; returns what happened."""
    line = BadLine(house.port, seed=seed)
    context = speaking.new_context(viewport={"width": 390, "height": 844}, permissions=["microphone"])
    try:
        page = new_phone(context, line.address)
        new_visit(page, "Under the mast")
        wait_sent(page)
        line.faults, line.latency_s = 1 / 3, latency_s
        line.requests = line.failed = 0
        kill_after = {recordings * (k + 1) // (kills + 1) for k in range(kills)}
        made = 0
        for n in range(recordings):
            record(page, 1.5)
            share = photos * (n + 1) // recordings - made
            if share:
                add_photos(page, share, made)
                made += share
            if n in kill_after:
                kill_in_mid_upload(page, house)
        began = time.monotonic()
        wait_sent(page, timeout_s=40 * 60)
        waited = time.monotonic() - began
        return arrived.same(page, house.folder), arrived.kept(page), line, waited
    finally:
        context.close()
        line.close()


@pytest.fixture
def own_house(tmp_path):
    house = House(tmp_path / "house", worker=False)
    house.folder.mkdir()
    house.prepare().start()
    yield house
    house.stop()


def test_everything_arrives_once_over_a_bad_line_and_a_killed_server(speaking, own_house):
    differences, phone, line, _ = over_a_bad_line(speaking, own_house, recordings=3, photos=6, latency_s=0.1)
    assert differences == []
    assert len(phone["photos"]) == 6 and len(phone["recordings"]) == 3
    assert line.failed > line.requests / 6, "the line was bad indeed"


def test_an_answer_that_is_cut_within_its_head_is_no_answer(speaking, house):
    """Chromium takes "HTTP/1.1 20" for status 20, "HTTP/1.1 " for 200, and half an address for the whole."""
    line = BadLine(house.port, seed=1)
    context = speaking.new_context(viewport={"width": 390, "height": 844})
    page = new_phone(context, line.address)
    new_visit(page, "Cut short")
    wait_sent(page)
    line.cut_next = [
        b"HTTP/1.1 ",
        b"HTTP/1.1 2",
        b"\nLocation: /uploads/",
        b"HTTP/1.1 20",
        b"\nLocation: /upl",
    ]
    add_photos(page, 1)
    wait_sent(page)
    assert line.cut_next == []
    assert arrived.missing(page, house.folder) == []
    assert page.evaluate("hatchnote.db.count('photos')") == 1
    context.close()
    line.close()


def offline_then_online(page, house, *, recordings, photos, after_each=lambda: None):
    """Make so much without a network, open the app again, then let it send; returns the visit's id."""
    page.context.set_offline(True)
    visit = new_visit(page, "Far from any mast")
    made = 0
    for n in range(recordings):
        page.get_by_role("button", name="Record").click()
        page.get_by_role("button", name="Stop").wait_for()
        page.wait_for_timeout(700)
        page.get_by_role("button", name="Next machine").click()
        page.wait_for_timeout(500)
        page.get_by_role("button", name="Stop").click()
        page.get_by_role("button", name="Record").wait_for()
        share = photos * (n + 1) // recordings - made
        add_photos(page, share, made)
        made += share
        after_each()
    assert {r["state"] for r in outbox(page) if r["kind"] != "visit"} == {"waiting"}
    # The app opens again without a network: from the service worker, with all that was kept.
    page.reload()
    page.wait_for_selector("html[data-ready]")
    assert page.get_by_role("heading", name="Far from any mast").is_visible()
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    wait_sent(page, timeout_s=40 * 60)
    return visit


def order_of(page, house, visit):
    """Ids of the recordings as they were made, and as the server has them."""
    made = sorted(arrived.kept(page)["recordings"], key=lambda r: r["started_at"])
    about = Person(house.address, "Nell").call("GET", f"/tickets/{visit}/about")
    return [r["id"] for r in made], [r["id"] for r in about["recordings"]]


def test_what_was_made_without_a_network_arrives_in_order_with_its_marks(own_house, speaking):
    context = speaking.new_context(viewport={"width": 390, "height": 844}, permissions=["microphone"])
    # As in a browser that knows no Background Sync: the page sends by itself.
    context.add_init_script("delete ServiceWorkerRegistration.prototype.sync")
    page = new_phone(context, own_house.address)
    wait_until(page, "navigator.serviceWorker.controller !== null", "the service worker")
    visit = offline_then_online(page, own_house, recordings=2, photos=3)
    assert arrived.same(page, own_house.folder) == []
    mine = arrived.kept(page)["recordings"]
    made, there = order_of(page, own_house, visit)
    assert made == there
    assert all(m["kind"] == "next-machine" and 0.3 < m["at_s"] < 2 for r in mine for m in r["marks"])
    assert arrived.marks_on_server(own_house.folder) == {r["id"]: r["marks"] for r in mine}
    context.close()


def test_a_full_phone_stops_the_recording_cleanly_and_keeps_what_was_said(phone, house):
    new_visit(phone, "Full phone")
    wait_sent(phone)
    phone.context.set_offline(True)
    cdp = phone.context.new_cdp_session(phone)
    phone.get_by_role("button", name="Record").click()
    phone.get_by_role("button", name="Stop").wait_for()
    phone.wait_for_timeout(2500)
    cdp.send("Storage.overrideQuotaForOrigin", {"origin": house.address, "quotaSize": 1000})
    phone.get_by_role("button", name="Record").wait_for(timeout=30_000)
    assert "The phone is full" in phone.locator("#alarm").inner_text()
    spoken = phone.evaluate("hatchnote.db.getAll('segments').then((all) => all.at(-1).seconds)")
    assert spoken > 1.5
    # And it does not begin a new one without room, in words.
    phone.get_by_role("button", name="Record").click()
    phone.get_by_text("too little to record").wait_for()
    cdp.send("Storage.overrideQuotaForOrigin", {"origin": house.address})
    phone.context.set_offline(False)
    phone.reload()
    phone.wait_for_selector("html[data-ready]")
    wait_sent(phone)
    assert arrived.missing(phone, house.folder) == []
