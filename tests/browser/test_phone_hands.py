"""Hands free, eyes elsewhere: headset buttons, reading aloud, sending with the page closed; the keypad's look ahead."""

from __future__ import annotations

import arrived
import pytest
import scene
from house import Person
from phone_page import new_phone, new_visit, record, wait_until

pytestmark = pytest.mark.browser

# Chromium here has no voice: speech is recorded by a spy that begins and ends each sentence at once. The media session
# is the browser's own; its handlers are caught at registration, since no headset can be pressed.
SPIES = """() => {
  window.spoken = [];
  const speech = {
    getVoices: () => [],
    cancel: () => {},
    speak: (u) => {
      spoken.push(u.text);
      for (const e of ["start", "end"]) setTimeout(() => u.dispatchEvent(new Event(e)));
    },
  };
  Object.defineProperty(window, "speechSynthesis", { value: speech });
  window.headset = {};
  const real = MediaSession.prototype.setActionHandler;
  MediaSession.prototype.setActionHandler = function (action, f) { real.call(this, action, f); headset[action] = f; };
}"""
NOTE = "RTU 3. R-410A. Suction pressure 118, suction line temperature 55. Return air 75, supply air 58."


@pytest.fixture(scope="module")
def house(quiet_house):
    return quiet_house


@pytest.fixture
def phone(chromium, house):
    context = chromium.new_context(
        viewport={"width": 390, "height": 844}, permissions=["microphone", "background-sync"]
    )
    context.add_init_script(f"({SPIES})()")
    page = new_phone(context, house.address)
    yield page
    assert not page.broken
    context.close()


def open_machine(page, house, visit, tag="RTU-3"):
    page.goto(f"{house.address}/#/visit/{visit}/machine/{tag}")
    page.get_by_role("heading", name=tag, level=1).wait_for()
    page.locator(".reading").first.wait_for()


def test_the_headset_records_marks_and_stops(phone, house):
    phone.goto(f"{house.address}/#/phone")
    phone.get_by_role("group", name="Headset and volume buttons").get_by_text("On", exact=True).click()
    wait_until(phone, "Boolean(headset.play)", "the handlers")
    new_visit(phone, "Both hands full")
    phone.evaluate("headset.play()")
    phone.get_by_role("button", name="Stop").wait_for()
    phone.wait_for_timeout(1500)
    phone.evaluate("headset.nexttrack()")
    phone.get_by_text("Next machine: say which.").first.wait_for()
    phone.wait_for_timeout(600)
    phone.evaluate("headset.pause()")
    phone.get_by_role("button", name="Record").wait_for()
    [recording] = phone.evaluate("hatchnote.db.getAll('recordings')")
    assert recording["state"] in ("closed", "sent")
    assert [m["kind"] for m in recording["marks"]] == ["next-machine"]


def test_a_machine_is_read_aloud_when_it_opens_checks_and_gaps_before_readings(phone, house):
    visit = scene.write_visit(Person(house.address, "Nell"))
    phone.goto(f"{house.address}/#/phone")
    phone.get_by_role("group", name="Read each machine aloud").get_by_text("On", exact=True).click()
    phone.goto(f"{house.address}/#/visit/{visit}")
    phone.locator(".card", has_text="RTU-3").click()
    wait_until(phone, "spoken.length > 0 && !hatchnote.speaker.speaking", "the reading")
    spoken = phone.evaluate("spoken")
    assert spoken[0] == "RTU-3."
    assert "Manifold pressure: 3.5 inches." in spoken
    assert spoken.index("Still missing:") < spoken.index("Readings.")
    # Never while he speaks himself.
    phone.get_by_role("button", name="Add by voice").click()
    phone.get_by_role("button", name="Stop").wait_for()
    phone.evaluate("spoken.length = 0")
    phone.wait_for_timeout(1200)
    assert phone.evaluate("spoken") == []
    phone.get_by_role("button", name="Stop").click()
    phone.get_by_role("button", name="Record").wait_for()


def test_the_browser_sends_with_the_page_closed(phone, house):
    """Background Sync: registered while something waits, and its event sends from the service worker."""
    wait_until(phone, "navigator.serviceWorker.controller !== null", "the service worker")
    phone.context.set_offline(True)
    visit = new_visit(phone, "Closed before the network came")
    record(phone, 1)
    wait_until(
        phone,
        "navigator.serviceWorker.ready.then((r) => r.sync.getTags()).then((tags) => tags.includes('outbox'))",
        "the registration",
    )
    [recording] = phone.evaluate("hatchnote.db.getAll('recordings').then((all) => all.map((r) => r.id))")
    bystander = phone.context.new_page()  # of the same browser, with no code of the app
    phone.close()
    phone.context.set_offline(False)
    bystander.goto(f"{house.address}/healthz")
    cdp = phone.context.new_cdp_session(bystander)
    found = []
    cdp.on("ServiceWorker.workerRegistrationUpdated", lambda e: found.extend(e["registrations"]))
    cdp.send("ServiceWorker.enable")
    for _ in range(100):
        if found:
            break
        bystander.wait_for_timeout(100)
    event = {"origin": house.address, "registrationId": found[0]["registrationId"], "tag": "outbox"}
    cdp.send("ServiceWorker.dispatchSyncEvent", {**event, "lastChance": False})
    desk = Person(house.address, "Desk")
    for _ in range(300):
        segments = [s for s in arrived.on_server(house.folder)[0] if s[2] == recording]
        if segments and segments[0][1]:
            break
        bystander.wait_for_timeout(200)
    assert [r["finished"] for r in desk.call("GET", f"/tickets/{visit}/about")["recordings"]] == [True]
    assert segments[0][1], "the sound is there whole"


def test_the_keypad_shows_what_the_new_value_gives(phone, house):
    nell = Person(house.address, "Nell")
    visit = scene.write_visit(nell, site="Look ahead", text=NOTE)
    nell.call(
        "POST", "/read", {"text": NOTE, "equipment": []}
    )  # so that the server has loaded what it reads with
    open_machine(phone, house, visit)
    phone.locator(".reading", has_text="Suction pressure").click()
    keypad = phone.get_by_role("dialog")
    keypad.get_by_text("Gives superheat 15.2 °F").wait_for()
    for digit in "125":
        keypad.get_by_role("button", name=digit, exact=True).click()
    # 55 °F less the dew point of R-410A at 125 psig, 42.9 °F (CoolProp 7.2.0, as the server's own tests check it).
    keypad.get_by_text("Superheat 15.2 → 12.1 °F, as expected").wait_for()
    phone.context.set_offline(True)
    keypad.get_by_role("button", name="Take back the last digit").click()
    keypad.get_by_text("Superheat: worked out when the server answers").wait_for()
    phone.context.set_offline(False)


@pytest.mark.parametrize(("width", "height"), [(390, 844), (320, 640)])
def test_the_keys_lie_apart_and_what_settles_it_is_in_view(phone, house, width, height):
    visit = scene.write_visit(Person(house.address, "Nell"), site="Cold fingers", text=NOTE)
    phone.set_viewport_size({"width": width, "height": height})
    open_machine(phone, house, visit)
    phone.locator(".reading", has_text="Suction pressure").click()
    phone.get_by_role("dialog").wait_for()
    keys = [k.bounding_box() for k in phone.locator(".keys .key").all()]
    assert len(keys) == 12
    for i, a in enumerate(keys):
        assert a["width"] >= 48 and a["height"] >= 48
        for b in keys[i + 1 :]:
            across = max(a["x"], b["x"]) - min(a["x"] + a["width"], b["x"] + b["width"])
            down = max(a["y"], b["y"]) - min(a["y"] + a["height"], b["y"] + b["height"])
            assert max(across, down) >= 12, f"{across} and {down} px between two keys"
    foot = phone.locator(".foot").bounding_box()
    assert foot["y"] + foot["height"] <= height + 1
    assert max(k["y"] + k["height"] for k in keys) <= foot["y"], "no key lies under it"
