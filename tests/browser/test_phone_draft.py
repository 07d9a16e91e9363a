"""From the spoken word to the draft and back: real server with its worker and its model, real Chromium."""

from __future__ import annotations

import base64
import re
import shutil
from pathlib import Path

import pytest
import scene
from house import Person
from phone_page import new_phone, new_visit, open_app, wait_sent, wait_until
from sounds import as_aac, photo, speak, then_faint_noise
from tests.browser.conftest import CHROMIUM_FLAGS

pytestmark = [pytest.mark.browser, pytest.mark.voices]
SPOKEN = "R T U three. Manifold pressure, three point five inches. Suction pressure, one hundred eighteen."


@pytest.fixture(scope="module")
def spoken(tmp_path_factory):
    return speak(tmp_path_factory.mktemp("voice") / "spoken.wav", SPOKEN, speed=130)


def values(document):
    return {(r["point"], r["value"]) for m in document["equipment"] for r in m["readings"]}


def all_photos(document):
    return [p for m in document["equipment"] for p in m["photos"]]


@pytest.mark.speech
def test_what_is_spoken_stands_in_the_draft(playwright, house, spoken, tmp_path):
    once = then_faint_noise(Path(shutil.copy(spoken, tmp_path / "once.wav")), 120)
    browser = playwright.chromium.launch(
        executable_path="/usr/bin/chromium",
        args=[*CHROMIUM_FLAGS, f"--use-file-for-fake-audio-capture={once}"],
    )
    try:
        context = browser.new_context(viewport={"width": 390, "height": 844}, permissions=["microphone"])
        page = new_phone(context, house.address)
        visit = new_visit(page, "Low Mill")
        page.get_by_role("button", name="Record").click()
        page.get_by_role("button", name="Stop").wait_for()
        wait_until(page, "hatchnote.recorder.seconds > 5", "the middle of what is said")
        page.locator("input[data-source=camera]").set_input_files(
            {"name": "gauge.jpg", "mimeType": "image/jpeg", "buffer": photo(1, (640, 480))}
        )
        # What he says appears while the microphone is open.
        wait_until(page, "/manifold/i.test(document.querySelector('.words').textContent)", "live words", 300)
        assert page.evaluate("hatchnote.recorder.state") == "recording"
        page.get_by_role("button", name="Stop").click()
        page.get_by_role("button", name="Record").wait_for()
        wait_sent(page)
        wait_until(
            page,
            "hatchnote.db.getAll('recordings').then((all) => all[0].settled === 'done')",
            "the draft",
            timeout_s=300,
        )
        document = Person(house.address, "Nell").call("GET", f"/tickets/{visit}")
        assert ("manifold-pressure", 3.5) in values(document)
        page.locator(".card").first.click()
        page.locator(".reading", has_text="Manifold pressure").get_by_text("3.5").wait_for()
        # What was being said around the photo is offered as its caption.
        row = page.locator(".photo-row")
        row.get_by_text(re.compile("Said then: “.*pressure", re.I)).wait_for()
        row.get_by_role("button", name="Use as caption").click()
        wait_sent(page)
        [kept] = all_photos(Person(house.address, "Nell").call("GET", f"/tickets/{visit}"))
        assert "pressure" in kept["caption"].lower()
        assert not page.broken
    finally:
        browser.close()


@pytest.mark.speech
def test_aac_in_mp4_goes_the_whole_way(phone, house, spoken, tmp_path):
    """Chromium does not record AAC: the file is put where the recorder would have put it, slice by slice."""
    visit = new_visit(phone, "High Mill")
    data = as_aac(spoken, tmp_path / "spoken.m4a").read_bytes()
    phone.evaluate(
        """async ([visit, base64]) => {
          const store = await import("/src/sound-store.js");
          const { uuidv7 } = await import("/src/ids.js");
          const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
          const [id, segment] = [uuidv7(), uuidv7()];
          const { db } = hatchnote;
          await store.createRecording(db, { id, visit, started_at: new Date().toISOString(), settings: {} });
          await store.createSegment(db, { id: segment, recording: id, seq: 0, mime: "audio/mp4;codecs=mp4a.40.2" });
          const size = 8000;
          for (let n = 0; n * size < bytes.length; n++) {
            await store.addSlice(db, segment, n, bytes.slice(n * size, (n + 1) * size).buffer, n);
          }
          await store.closeRecording(db, id);
          hatchnote.outbox.kick();
        }""",
        [visit, base64.b64encode(data).decode()],
    )
    wait_sent(phone)
    wait_until(
        phone,
        f"hatchnote.db.getAllFromIndex('recordings', 'visit', '{visit}').then((all) => all[0].settled === 'done')",
        "the draft",
        timeout_s=120,
    )
    document = Person(house.address, "Nell").call("GET", f"/tickets/{visit}")
    assert ("manifold-pressure", 3.5) in values(document)


def open_machine(page, visit, tag="RTU-3"):
    page.goto(page.url.split("#")[0] + f"#/visit/{visit}")
    page.locator(".card", has_text=tag).click()
    page.get_by_role("heading", name=tag, level=1).wait_for()


def type_value(page, reading, digits):
    page.locator(".reading", has_text=reading).click()
    for digit in digits:
        page.get_by_role("dialog").get_by_role(
            "button", name="point" if digit == "." else digit, exact=True
        ).click()
    page.get_by_role("button", name=f"Use {digits}").click()


def test_a_correction_keeps_what_was_heard(phone, house):
    nell = Person(house.address, "Nell")
    visit = scene.write_visit(nell)
    phone.reload()
    open_machine(phone, visit)
    type_value(phone, "Manifold pressure", "3.4")
    phone.locator(".reading", has_text="Manifold pressure").get_by_text("3.4").wait_for()
    wait_sent(phone)
    now = scene.reading(nell.call("GET", f"/tickets/{visit}"), "manifold-pressure")
    assert now["value"] == 3.4 and "three point five" in now["said"]


def test_corrections_made_offline_meet_the_office_and_nothing_is_overwritten(phone, house):
    nell, desk = Person(house.address, "Nell"), Person(house.address, "Desk")
    visit = scene.write_visit(nell, site="Conflict yard")
    phone.reload()
    open_machine(phone, visit)
    phone.context.set_offline(True)
    type_value(phone, "Manifold pressure", "3.4")
    type_value(phone, "Suction pressure", "121")
    phone.locator(".reading", has_text="Suction pressure").get_by_text("121").wait_for()
    before = desk.call("GET", f"/tickets/{visit}")
    gas = scene.reading(before, "manifold-pressure")
    supply = scene.reading(before, "supply-air-temperature")
    desk.call(
        "POST",
        f"/tickets/{visit}/edits",
        {
            "base_revision": before["revision"],
            "edits": [scene.edit(gas["id"], 3.6, 3.5), scene.edit(supply["id"], 57, 58)],
        },
    )
    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    wait_sent(phone)
    phone.get_by_text("while you were away. Which holds?").wait_for()
    after = desk.call("GET", f"/tickets/{visit}")
    assert scene.reading(after, "manifold-pressure")["value"] == 3.6, "theirs stands until he chooses"
    assert scene.reading(after, "suction-pressure")["value"] == 121, "what did not clash arrived"
    assert scene.reading(after, "supply-air-temperature")["value"] == 57
    assert not phone.get_by_role("button", name="Looks right").is_visible()
    phone.get_by_role("button", name="Yours: 3.4").click()
    wait_sent(phone)
    wait_until(phone, "hatchnote.db.count('edits').then((n) => n === 0)", "the edits to be settled")
    assert scene.reading(desk.call("GET", f"/tickets/{visit}"), "manifold-pressure")["value"] == 3.4


def test_looks_right_is_one_tap_for_a_machine(phone, house):
    nell = Person(house.address, "Nell")
    visit = scene.write_visit(nell, site="One tap")
    phone.reload()
    open_machine(phone, visit, "RTU-4")
    phone.get_by_role("button", name="Looks right").click()
    phone.get_by_role("button", name="Looked at").wait_for()
    wait_sent(phone)
    about = nell.call("GET", f"/tickets/{visit}/about")
    assert [m["tag"] for m in about["looks_right"]] == ["RTU-4"]


def test_drafts_and_visits_are_there_without_a_network(phone, house):
    visit = scene.write_visit(Person(house.address, "Nell"), site="No mast")
    phone.reload()
    open_machine(phone, visit)
    wait_until(phone, "navigator.serviceWorker.controller !== null", "the service worker")
    phone.context.set_offline(True)
    phone.goto(house.address)
    phone.wait_for_selector("html[data-ready]")
    open_machine(phone, visit)
    assert phone.locator(".reading", has_text="Suction pressure").get_by_text("118").is_visible()
    phone.context.set_offline(False)


def test_a_pairing_code_works_once(chromium, house):
    desk = Person(house.address, "Desk")
    nell = next(u for u in desk.call("GET", "/users")["users"] if u["name"] == "Nell")
    url = desk.call("POST", "/pairings", {"user_id": nell["id"]})["url"]
    for answer in ("Today", "was used already"):
        context = chromium.new_context()
        page = open_app(context, url)
        page.get_by_text(answer).first.wait_for()
        context.close()


def test_signing_in_by_name_says_what_is_wrong(chromium, house):
    context = chromium.new_context()
    page = open_app(context, house.address)
    page.get_by_label("Name").fill("Nell")
    page.get_by_label("Password").fill("wrong")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_text("The name or the password is wrong").wait_for()
    page.get_by_label("Password").fill("roof hatch ladder 12")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("heading", name="Today").wait_for()
    context.close()
