"""Whose work it is: another person on the same phone, nobody signed in, two windows of one phone."""

from __future__ import annotations

import arrived
import pytest
from house import PASSWORD, Person
from phone_page import new_visit, open_app, outbox, record, wait_sent, wait_until

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def house(quiet_house):
    return quiet_house


def sign_in(page, name):
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("heading", name="Today").wait_for()


def test_what_one_made_is_not_sent_in_anothers_name(phone, house):
    phone.context.set_offline(True)
    visit = new_visit(phone, "Nells yard")
    record(phone, 1)
    phone.context.clear_cookies()  # as when the office takes the phone off its list
    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    phone.get_by_role("heading", name="Sign in").wait_for()
    sign_in(phone, "Desk")
    assert not phone.get_by_text("Nells yard").is_visible(), "it is not among another's visits"
    phone.evaluate("hatchnote.outbox.tryNow()")
    phone.goto(f"{house.address}/#/sending")
    phone.get_by_role("heading", name="Goes out when Nell signs in here").wait_for()
    assert {r["state"] for r in outbox(phone)} == {"waiting"}
    there = Person(house.address, "Desk").call("GET", "/tickets")["tickets"]
    assert visit not in [t["id"] for t in there]
    # What is not his own does not keep him from signing out.
    phone.goto(f"{house.address}/#/phone")
    phone.get_by_role("button", name="Sign out").click()
    sign_in(phone, "Nell")
    wait_sent(phone)
    assert arrived.missing(phone, house.folder) == []
    about = Person(house.address, "Desk").call("GET", f"/tickets/{visit}/about")
    assert about["technician"]["name"] == "Nell"


def test_who_is_signed_out_records_on_and_signs_in_later(phone, house):
    phone.context.clear_cookies()
    phone.reload()
    phone.get_by_role("heading", name="Sign in").wait_for()
    phone.get_by_role("button", name="Later").click()
    phone.get_by_role("heading", name="Today").wait_for()
    new_visit(phone, "No password at hand")
    record(phone, 1)
    assert phone.get_by_role("heading", name="No password at hand").is_visible(), "nobody is sent away"
    assert {r["state"] for r in outbox(phone)} == {"waiting"}
    phone.get_by_role("link", name="Signed out").click()
    sign_in(phone, "Nell")
    wait_sent(phone)
    assert arrived.missing(phone, house.folder) == []


def test_two_windows_record_send_once_and_know_of_each_other(phone, house):
    new_visit(phone, "Two windows")
    wait_sent(phone)
    # The second window's page can only come from the service worker, which needs a network to install itself.
    wait_until(phone, "navigator.serviceWorker.controller !== null", "the service worker")
    phone.context.set_offline(True)
    phone.get_by_role("button", name="Record").click()
    phone.get_by_role("button", name="Stop").wait_for()
    phone.wait_for_timeout(1500)
    other = open_app(phone.context, house.address)
    assert other.locator("#alarm").inner_text() == "", "what the first window records is not taken as cut off"
    assert phone.evaluate("hatchnote.recorder.state") == "recording"
    phone.get_by_role("button", name="Stop").click()
    phone.get_by_role("button", name="Record").wait_for()
    phone.context.set_offline(False)
    for page in (phone, other):
        page.evaluate("dispatchEvent(new Event('online'))")
    wait_sent(phone)
    # The window that did not send learns of it without being touched.
    for page in (phone, other):
        page.get_by_role("link", name="All sent").wait_for()
    segments, _ = arrived.on_server(house.folder)
    assert len({s[0] for s in segments}) == len(segments)
    assert arrived.missing(phone, house.folder) == []
    other.close()


def test_a_clock_that_is_wrong_is_said(phone, house):
    phone.evaluate("document.documentElement.dataset.before = ''")
    phone.context.clock.install(time=946_684_800)  # the first second of the year 2000, UTC
    phone.reload()
    phone.wait_for_selector("html[data-ready]:not([data-before])")
    phone.get_by_text("days behind: set it").wait_for()


def test_a_browser_that_keeps_nothing_is_told_apart_from_a_broken_page(chromium, house):
    context = chromium.new_context()
    context.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('', 'SecurityError'); }"
    )
    page = context.new_page()
    page.goto(house.address)
    page.get_by_role("heading", name="This browser keeps nothing").wait_for()
    context.close()
