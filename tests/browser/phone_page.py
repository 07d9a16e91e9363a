"""What a test does with the phone's page, in words."""

from __future__ import annotations

import time

from house import Person


def open_app(context, address):
    """The app's page once it is ready. `page.broken` collects errors of scripts and of the content policy."""
    page = context.new_page()
    page.set_default_timeout(90_000)  # beside a speech model on two cores half a minute is soon gone
    page.broken = []
    page.on("pageerror", lambda error: page.broken.append(str(error)))
    page.on(
        "console",
        lambda m: (
            page.broken.append(m.text) if m.type == "error" and "Content Security Policy" in m.text else None
        ),
    )
    page.goto(address)
    page.wait_for_selector("html[data-ready]")
    return page


def new_phone(context, address):
    """Open the app by the address in the QR code that the office shows."""
    desk = Person(address, "Desk")
    nell = next(u for u in desk.call("GET", "/users")["users"] if u["name"] == "Nell")
    page = open_app(context, desk.call("POST", "/pairings", {"user_id": nell["id"]})["url"])
    page.get_by_role("heading", name="Today").wait_for()
    return page


def new_visit(page, site):
    """Begin a visit; resolves with its id once its page is shown."""
    page.goto(page.url.split("#")[0] + "#/")
    page.get_by_role("button", name="New visit").click()
    page.get_by_label("Which site?").fill(site)
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("heading", name=site, level=1).wait_for()
    return page.url.rsplit("/", 1)[-1]


def outbox(page):
    return page.evaluate("hatchnote.outbox.rows()")


def wait_until(page, question, what, timeout_s=180):
    """Ask the page until the answer is true."""
    end = time.monotonic() + timeout_s
    while not page.evaluate(question):
        assert time.monotonic() < end, f"waited in vain for {what}; the outbox: {outbox(page)}"
        page.wait_for_timeout(150)


def wait_sent(page, timeout_s=180):
    """Until everything in the outbox has arrived, with proof."""
    wait_until(
        page,
        "hatchnote.outbox.rows().then((all) => all.every((r) => r.state === 'sent'))",
        "sending",
        timeout_s,
    )


def record(page, seconds):
    page.get_by_role("button", name="Record").click()
    page.get_by_role("button", name="Stop").wait_for()
    page.wait_for_timeout(seconds * 1000)
    page.get_by_role("button", name="Stop").click()
    page.get_by_role("button", name="Record").wait_for()
