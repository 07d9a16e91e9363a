"""The review page in a real browser against a real server."""

import io
import json
import re

import pypdf
import pytest
from house import PASSWORD, Person
from office_desk import Line, office_house, open_page, readings, ready, saved, scene, ticket_of, until

__all__ = ["office_house", "open_page", "scene"]
pytestmark = pytest.mark.browser


def test_four_checks_are_settled_by_keyboard_alone_in_under_twenty_actions(open_page, scene, office_house):
    page = open_page("/office")
    presses = []

    def press(key):
        presses.append(key)
        page.keyboard.press(key)

    press("o")  # the newest ticket
    page.wait_for_url("**/office/tickets/*")
    ready(page)
    assert page.inner_text("#checks-title") == "To check (4)"
    press("p")  # listen to the first
    until(page, "!document.getElementById('sound').paused")
    press("a")  # it is right
    press("p")
    press("1")  # the other hearing was right
    press("e")  # this one is neither
    page.wait_for_selector("dialog#editor[open]")
    presses.append("value")
    page.keyboard.type("35")
    press("Enter")
    page.wait_for_selector("dialog#editor", state="hidden")
    press("1")  # take the alternative
    until(page, "document.getElementById('checks-title').textContent === 'Nothing left to check'")
    saved(page)
    press("c")
    until(page, "document.getElementById('status').textContent === 'checked'")
    assert len(presses) < 20, presses

    ticket = ticket_of(office_house, scene)
    found = readings(ticket)
    assert ticket["status"] == "checked"
    assert (
        found["r-head"]["value"] == 340
        and found["r-amps"]["value"] == 114
        and found["r-rated"]["value"] == 35
    )
    assert not [r for r in found.values() if r["check"]]
    (pan,) = ticket["equipment"][0]["findings"]
    assert pan["condition"] == "corroded" and pan["check"] is None
    assert found["r-amps"]["said"] == "compressor one eleven four amps"


def test_the_word_being_played_is_lit_and_it_is_one_of_the_readings_words(open_page, scene):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click("[data-item=r-cap] .play")
    page.wait_for_selector(".w.lit[data-item=r-cap]")
    until(page, "document.getElementById('sound').paused")
    second = page.evaluate("document.getElementById('sound').currentTime")
    words = page.eval_on_selector_all(
        ".w[data-item=r-cap]", "all => all.map(w => [+w.dataset.start, +w.dataset.end])"
    )
    assert words[-1][1] <= second <= words[-1][1] + 1.5
    assert page.locator(".w.lit").count() == 0


def test_computed_values_follow_an_edit_at_once(open_page, scene):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    before = page.inner_text(".computed") if page.locator(".computed").count() else ""
    page.click("[data-item=r-cap] >> text=Change")
    page.fill("#editor [name=value]", "31")
    page.click("#editor >> text=Save")
    saved(page)
    until(page, "document.querySelector('.computed')?.innerText.includes('31')")
    assert page.inner_text(".computed") != before


def test_a_closed_tab_loses_nothing(open_page, scene, office_house):
    line = Line()
    page = open_page(f"/office/tickets/{scene['ticket']}", line)
    ready(page)
    context = page.context
    line.cut = True
    page.keyboard.press("a")
    until(page, "document.getElementById('unsent').textContent.includes('kept here')")
    page.click("[data-item=r-oat] >> text=Change")
    page.fill("#editor [name=value]", "97")
    page.close()
    assert readings(ticket_of(office_house, scene))["r-head"]["check"]

    line.cut = False
    again = context.new_page()
    again.goto(f"{office_house.address}/office/tickets/{scene['ticket']}")
    again.wait_for_selector("dialog#editor[open]")
    assert again.input_value("#editor [name=value]") == "97"
    again.keyboard.press("Enter")
    saved(again)
    found = readings(ticket_of(office_house, scene))
    assert found["r-head"]["check"] is None and found["r-oat"]["value"] == 97


def test_signed_out_meanwhile_loses_nothing(chromium, scene, office_house):
    context = chromium.new_context(base_url=office_house.address)
    other = context.new_page()

    def sign_in():
        other.goto("/signin")
        other.fill("#name", "Desk")
        other.fill("#password", PASSWORD)
        other.click("button[type=submit]")
        other.wait_for_url("**/office")

    sign_in()
    page = context.new_page()
    page.goto(f"/office/tickets/{scene['ticket']}")
    ready(page)
    other.click("text=Sign out")
    other.wait_for_url("**/signin")
    page.keyboard.press("a")
    until(page, "document.getElementById('unsent').textContent.includes('sign in again')")
    sign_in()
    saved(page)
    assert readings(ticket_of(office_house, scene))["r-head"]["check"] is None
    context.close()


def test_one_change_that_cannot_be_does_not_hold_up_the_others(open_page, scene, office_house):
    page = open_page("/office")
    edits = [
        {"id": scene[name][:-4] + "beef", "at": "2026-03-05T10:00:00Z", "op": "set", "kind": "reading", "item": "r-oat",
         "field": field, "before": before, "after": after}
        for name, field, before, after in (("photo", "colour", None, "blue"), ("sound", "value", 95, 99))
    ]  # fmt: skip
    page.evaluate(
        "([key, value]) => localStorage.setItem(key, value)",
        [f"hatchnote-office:edits:{scene['ticket']}", json.dumps(edits)],
    )
    page.goto(f"{office_house.address}/office/tickets/{scene['ticket']}")
    ready(page)
    saved(page)
    assert "colour" in page.inner_text("#said")
    assert readings(ticket_of(office_house, scene))["r-oat"]["value"] == 99


def test_two_people_editing_the_second_is_told_with_both_versions(open_page, scene, office_house):
    one = open_page(f"/office/tickets/{scene['ticket']}")
    two = open_page(f"/office/tickets/{scene['ticket']}")
    for page in (one, two):
        ready(page)
        page.click("[data-item=r-oat] >> text=Change")
    for page, value in ((one, "91"), (two, "93")):
        page.fill("#editor [name=value]", value)
        page.click("#editor >> text=Save")
        saved(page)
    two.wait_for_selector("#conflicts:not([hidden])")
    assert two.inner_text("#conflicts .theirs") == "91" and two.inner_text("#conflicts .mine") == "93"
    assert "Desk" in two.inner_text("#conflicts .versions")
    assert readings(ticket_of(office_house, scene))["r-oat"]["value"] == 91

    two.click("#conflicts >> text=Use mine")
    saved(two)
    assert two.locator("#conflicts").is_hidden()
    ticket = ticket_of(office_house, scene)
    assert readings(ticket)["r-oat"]["value"] == 93
    changes = Person(office_house.address, "Desk").call("GET", f"/tickets/{scene['ticket']}/changes")[
        "changes"
    ]
    assert [(c["before"], c["after"]) for c in changes if c["item"] == "r-oat"] == [(95, 91), (91, 93)]


def test_the_other_persons_page_follows_by_itself(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    edit = {"id": scene["photo"][:-4] + "abcd", "at": "2026-03-05T10:00:00Z", "op": "set", "kind": "reading",
            "item": "r-oat", "field": "value", "before": 95, "after": 88}  # fmt: skip
    revision = ticket_of(office_house, scene)["revision"]
    Person(office_house.address, "Desk").call(
        "POST", f"/tickets/{scene['ticket']}/edits", {"base_revision": revision, "edits": [edit]}
    )
    until(page, "document.querySelector('[data-item=r-oat] .value').textContent.startsWith('88')")


def test_items_are_added_moved_removed_and_a_change_taken_back(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click("[aria-label='Add to Readings of RTU-2']")
    page.select_option("#editor [name=point]", "superheat")
    page.fill("#editor [name=value]", "12")
    page.click("#editor >> text=Save")
    page.click("[data-item=r-oat] >> text=Change")
    page.select_option("#editor [name=tag]", "")
    page.click("#editor >> text=Save")
    page.click("[data-item=p-contactor] >> text=Remove")
    saved(page)
    ticket = ticket_of(office_house, scene)
    (superheat,) = [r for r in readings(ticket).values() if r["point"] == "superheat"]
    assert (superheat["value"], superheat["ucum"], superheat["difference"]) == (12, "[degF]", True)
    assert [m["tag"] for m in ticket["equipment"] if any(r["id"] == "r-oat" for r in m["readings"])] == [None]
    assert not [p for m in ticket["equipment"] for p in m["parts"]]

    page.click("[data-item=r-suction] >> text=Change")
    page.fill("#editor [name=value]", "121")
    page.click("#editor >> text=Save")
    saved(page)
    page.keyboard.press("u")
    saved(page)
    assert readings(ticket_of(office_house, scene))["r-suction"]["value"] == 118


def test_what_follows_a_word_goes_to_another_machine(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click(".w >> text=degrees")
    page.click(".w:not(.read) >> nth=0")
    page.wait_for_selector("dialog#divide[open]")
    page.select_option("#divide-machine", "")
    page.click("#divide-go")
    saved(page)
    ticket = ticket_of(office_house, scene)
    assert all(m["tag"] is None for m in ticket["equipment"] if m["readings"] or m["work"])


def test_photos_are_turned_captioned_and_left_out(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click(".photo >> text=Turn")
    page.fill(".photo input", "Nameplate of the middle unit")
    page.press(".photo input", "Tab")
    page.select_option(".photo select", "RTU-2")
    page.click(".photo >> text=Leave out")
    saved(page)
    ticket = ticket_of(office_house, scene)
    (photo,) = [p for m in ticket["equipment"] if m["tag"] == "RTU-2" for p in m["photos"]]
    assert (photo["rotation"], photo["caption"], photo["left_out"]) == (
        90,
        "Nameplate of the middle unit",
        True,
    )


def test_the_pdf_downloads_and_says_what_the_json_says(open_page, scene, office_house, tmp_path):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    with page.expect_download() as waiting:
        page.click("#pdf")
    waiting.value.save_as(tmp_path / "t.pdf")
    data = (tmp_path / "t.pdf").read_bytes()
    text = re.sub(r"\s+", " ", " ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(data)).pages))
    ticket = ticket_of(office_house, scene)
    for r in readings(ticket).values():
        assert f"{r['value']:g} {r['unit']}" in text, r
    for m in ticket["equipment"]:
        for p in m["parts"]:
            assert p["component"].replace("-", " ") in text
    assert "not yet approved" in text


def test_approve_freezes_with_a_digest_and_a_return_needs_a_note(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click("#do-checked")
    page.click("#do-approved")
    until(page, "document.getElementById('status').textContent === 'approved'")
    assert page.locator(".tools").count() == 0
    with page.expect_download() as waiting:
        page.click("#pdf")
    text = " ".join(p.extract_text() for p in pypdf.PdfReader(waiting.value.path()).pages)
    about = Person(office_house.address, "Desk").call("GET", f"/tickets/{scene['ticket']}/about")
    assert about["digest"] in re.sub(r"\s", "", text)

    page.click("#do-returned")
    page.fill("#return-note", "Which capacitor was it?")
    page.click("#return-form button.primary")
    until(page, "document.getElementById('status').textContent === 'returned'")
    page.click("text=Record of changes")
    assert "Which capacitor was it?" in page.inner_text("[aria-label=Changes]")
    page.click("text=Show the difference")
    assert "status" in page.inner_text("[aria-label=Difference]")


def test_single_keys_can_be_switched_off(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.keyboard.press("?")
    page.click("dialog#keys input[type=checkbox]")
    page.click("dialog#keys >> text=Close")
    page.keyboard.press("a")
    page.wait_for_timeout(300)
    assert readings(ticket_of(office_house, scene))["r-head"]["check"]
    assert json.loads(page.evaluate("JSON.stringify(localStorage)"))["hatchnote-office:keys-off"] == "1"
