"""Every page of the phone, brought into view one after another: for the checks of looks and for the screenshots."""

from __future__ import annotations

from collections.abc import Iterator

import scene
from house import Person
from phone_page import wait_until


def prepare(address) -> str:
    """A visit with a draft; returns its id."""
    return scene.write_visit(Person(address, "Nell"))


def mark_doubtful(page, visit):
    """Show a check and a conflict without waiting for a mishearing: marks in the phone's own copy of the draft."""
    page.evaluate(
        """async (visit) => {
          const { db, router } = hatchnote;
          const row = await db.get("tickets", visit);
          const machine = row.document.equipment.find((m) => m.tag === "RTU-3");
          const [first, second] = machine.readings;
          first.check = { why: "two hearings differ", alternatives: [{ value: 180, ucum: "[psi]", text: "180 psig" }] };
          await db.put("tickets", row);
          await db.put("edits", {
            id: "x", at: new Date().toISOString(), ticket: visit, state: "conflict", op: "set", kind: "reading",
            item: second.id, field: "value", before: second.value, after: 335, theirs: 345, who: "Desk",
          });
          hatchnote.tickets.dispatchEvent(new Event("change"));
        }""",
        visit,
    )
    page.locator(".conflict").wait_for()


def pages(page, visit, *, record: bool) -> Iterator[str]:
    """Yield the name of each page while it is shown. Recording needs a fake microphone."""
    base = page.url.split("#")[0]

    def go(path, selector):
        page.goto(f"{base}#/{path}")
        page.locator(selector).first.wait_for()

    go("", ".card")
    yield "today"
    page.get_by_role("button", name="New visit").click()
    page.get_by_label("Which site?").wait_for()
    yield "new-visit"
    page.get_by_role("button", name="Back", exact=True).click()
    go(f"visit/{visit}", ".card .flag")
    yield "visit"
    page.get_by_role("button", name="More").click()
    page.get_by_role("button", name="Type a note").wait_for()
    yield "visit-more"
    page.get_by_role("dialog").get_by_role("button", name="Close", exact=True).click()
    go(f"visit/{visit}/machine/RTU-3", ".reading")
    page.evaluate("hatchnote.tickets.refreshTicket = async () => false")
    mark_doubtful(page, visit)
    yield "machine"
    page.locator(".check .reading").first.click()
    page.get_by_role("dialog").wait_for()
    yield "keypad"
    page.get_by_role("dialog").get_by_role("button", name="Back", exact=True).click()
    page.evaluate("hatchnote.db.delete('edits', 'x')")
    go("sending", "#dock .button")
    yield "sending"
    go("phone", ".choice")
    yield "phone"
    go("signin", "#name")
    yield "sign-in"
    go("pair", "#code")
    yield "connect"
    if record:
        go(f"visit/{visit}", ".record")
        page.get_by_role("button", name="Record").click()
        page.get_by_role("button", name="Stop").wait_for()
        page.wait_for_timeout(1200)
        yield "recording"
        page.get_by_role("button", name="Stop").click()
        page.get_by_role("button", name="Record").wait_for()
        wait_until(page, "hatchnote.recorder.state === 'idle'", "the recorder")
