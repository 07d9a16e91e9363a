"""What the tests of the review page share: a server, a scene, pages that complain, and waiting from outside."""

import time

import pytest
from house import PASSWORD, House, Person
from office_scene import seed


@pytest.fixture(scope="module")
def office_house(tmp_path_factory):
    house = House(tmp_path_factory.mktemp("office"), worker=False).prepare().start()
    yield house
    house.stop()


@pytest.fixture
def scene(office_house):
    return seed(office_house.folder)


@pytest.fixture
def open_page(chromium, office_house):
    """A function that opens a page signed in at the office; every complaint of the browser fails the test."""
    contexts, complaints = [], []

    def opened(path="/office", line=None):
        context = chromium.new_context(viewport={"width": 1400, "height": 900}, accept_downloads=True)
        contexts.append(context)
        if line:
            line.watch(context)
        page = context.new_page()
        page.on("pageerror", lambda e: complaints.append(str(e)))
        page.on(
            "console", lambda m: complaints.append(m.text) if "Content Security Policy" in m.text else None
        )
        page.goto(f"{office_house.address}/signin")
        page.fill("#name", "Desk")
        page.fill("#password", PASSWORD)
        page.click("button[type=submit]")
        page.wait_for_url("**/office")
        if path != "/office":
            page.goto(office_house.address + path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert complaints == []


class Line:
    """The way edits take to the server, which a test can cut and mend. It has to be there before the page is: a page
    already loaded may send its next request past a watch that was set just now."""

    def __init__(self):
        self.cut = False

    def watch(self, context):
        context.route("**/edits", lambda route: route.abort() if self.cut else route.continue_())


def ticket_of(house, scene):
    return Person(house.address, "Desk").call("GET", f"/tickets/{scene['ticket']}")


def readings(ticket):
    return {r["id"]: r for m in ticket["equipment"] for r in m["readings"]}


def until(page, expression, seconds=20):
    """Wait from outside: waiting inside the page would need eval, which the page's policy forbids."""
    end = time.monotonic() + seconds
    while not page.evaluate(expression):
        assert time.monotonic() < end, f"never came true: {expression}"
        page.wait_for_timeout(60)


def ready(page):
    page.wait_for_selector(".card, .machine")


def saved(page):
    until(page, "document.getElementById('unsent').textContent === 'All saved'")
