"""Dictations joined, changes taken back, and what happens when keys, answers and other people cross."""

import pytest
from house import Person
from office_desk import office_house, open_page, readings, ready, saved, scene, ticket_of, until
from office_scene import seed_cut

__all__ = ["office_house", "open_page", "scene"]
pytestmark = pytest.mark.browser


NOTE_WHAT_IS_LIT = """() => {
  window.wasLit = [];
  new MutationObserver(() => {
    const now = document.querySelector(".w.lit")?.closest(".dictation").dataset.dictation;
    if (now && window.wasLit.at(-1) !== now) window.wasLit.push(now);
  }).observe(document.getElementById("transcript"), { subtree: true, attributes: true, attributeFilter: ["class"] });
}"""
"""Kept in the page: looking in from outside comes too late on a busy machine."""


def suction(ticket):
    return next(r["value"] for r in readings(ticket).values() if r["point"] == "suction-pressure")


def theirs(house, scene, last, before, after):
    """Somebody else changes the outdoor temperature."""
    edit = {"id": scene["photo"][:-4] + last, "at": "2026-03-05T10:00:00Z", "op": "set", "kind": "reading",
            "item": "r-oat", "field": "value", "before": before, "after": after}  # fmt: skip
    body = {"base_revision": ticket_of(house, scene)["revision"], "edits": [edit]}
    Person(house.address, "Desk").call("POST", f"/tickets/{scene['ticket']}/edits", body)


def come_back(page):
    """As if the person came back to the page: it looks at once, and not only every few seconds."""
    page.evaluate("dispatchEvent(new Event('focus'))")


def shown(page, item, text):
    until(page, f"document.querySelector('[data-item={item}] .value')?.textContent.startsWith('{text}')")


def test_two_dictations_are_joined_heard_through_and_parted_by_the_key(open_page, office_house):
    cut = seed_cut(office_house.folder)
    page = open_page(f"/office/tickets/{cut['ticket']}")
    ready(page)
    assert suction(ticket_of(office_house, cut)) == 1
    page.click(f"[data-key='join-{cut['second']}']")
    saved(page)
    assert suction(ticket_of(office_house, cut)) == 118
    page.wait_for_selector(".dictation.joined >> text=read as one")
    assert page.inner_text("#checks-title") == "To check (1)"

    # The one reading is played from the end of the first sound into the second.
    page.evaluate(NOTE_WHAT_IS_LIT)
    page.keyboard.press("p")
    until(page, f"window.wasLit?.at(-1) === '{cut['second']}'")
    until(page, "document.getElementById('sound').paused")
    assert page.evaluate("window.wasLit") == [cut["first"], cut["second"]]

    page.keyboard.press("u")
    saved(page)
    assert suction(ticket_of(office_house, cut)) == 1
    page.wait_for_selector(f"[data-key='join-{cut['second']}']")
    page.click("text=Record of changes")
    told = page.inner_text("[aria-label=Changes]")
    assert "joined to the dictation before" in told and "took back: joined" in told
    assert cut["first"] not in told and cut["second"] not in told
    page.select_option("[name=a]", "1")
    page.select_option("[name=b]", "2")
    page.click("text=Show the difference")
    told = page.inner_text("[aria-label=Difference]")
    assert "goes on from" in told and "dictation or note 1" in told and cut["first"] not in told


def test_joined_dictations_are_read_apart_again_by_a_button(open_page, office_house):
    cut = seed_cut(office_house.folder)
    page = open_page(f"/office/tickets/{cut['ticket']}")
    ready(page)
    page.click(f"[data-key='join-{cut['second']}']")
    page.click(f"[data-key='part-{cut['second']}']")
    page.wait_for_selector(f"[data-key='join-{cut['second']}']")
    saved(page)
    assert suction(ticket_of(office_house, cut)) == 1


def test_what_is_joined_is_divided_as_one(open_page, office_house):
    cut = seed_cut(office_house.folder)
    page = open_page(f"/office/tickets/{cut['ticket']}")
    ready(page)
    page.click(f"[data-key='join-{cut['second']}']")
    page.wait_for_selector(".dictation.joined")
    page.click(f"[data-dictation='{cut['first']}'] .w:not(.read) >> nth=1")
    page.wait_for_selector("dialog#divide[open]")
    assert page.inner_text("#divide-what").startswith("2 items")
    page.select_option("#divide-machine", "")
    page.click("#divide-go")
    saved(page)
    assert {m["tag"] for m in ticket_of(office_house, cut)["equipment"] if m["readings"]} == {None}


def test_what_was_kept_and_what_was_removed_is_taken_back_by_key(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    before = ticket_of(office_house, scene)
    page.keyboard.press("a")
    page.click("[data-item=p-contactor] >> text=Remove")
    saved(page)
    assert readings(ticket_of(office_house, scene))["r-head"]["check"] is None
    for _ in range(2):
        page.keyboard.press("u")
    until(page, "document.getElementById('checks-title').textContent === 'To check (4)'")
    page.wait_for_selector("[data-item=p-contactor]")
    saved(page)
    after = ticket_of(office_house, scene)
    assert {**after, "revision": 0} == {**before, "revision": 0}


def test_a_changed_reading_taken_back_has_its_doubt_again(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.keyboard.press("1")
    page.keyboard.press("u")
    saved(page)
    found = readings(ticket_of(office_house, scene))["r-head"]
    assert found["value"] == 340 and found["check"]["why"] == "the unit was not said"


def test_taking_back_what_somebody_changed_again_shows_both_and_lets_choose(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click("[data-item=r-oat] >> text=Change")
    page.fill("#editor [name=value]", "91")
    page.click("#editor >> text=Save")
    saved(page)
    theirs(office_house, scene, "cccc", 91, 93)
    page.keyboard.press("u")
    page.wait_for_selector("#conflicts:not([hidden])")
    saved(page)
    assert page.inner_text("#conflicts .theirs") == "93" and page.inner_text("#conflicts .mine") == "95"
    assert readings(ticket_of(office_house, scene))["r-oat"]["value"] == 93
    page.click("#conflicts >> text=Use mine")
    saved(page)
    assert readings(ticket_of(office_house, scene))["r-oat"]["value"] == 95


def test_an_answer_overtaken_by_a_newer_one_is_dropped(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    held = []

    def hold(route):
        answer = route.fetch()
        if held or answer.status == 304:
            route.fulfill(response=answer)
        else:
            held.append((route, answer))

    page.route(f"**/api/v1/tickets/{scene['ticket']}", hold)
    theirs(office_house, scene, "aaaa", 95, 88)
    come_back(page)
    while not held:
        page.wait_for_timeout(50)
    page.click("[data-item=r-suction] >> text=Change")
    page.fill("#editor [name=value]", "121")
    page.click("#editor >> text=Save")
    saved(page)
    newest = page.inner_text("#revision")
    route, answer = held[0]
    route.fulfill(response=answer)
    page.wait_for_timeout(500)
    assert page.inner_text("#revision") == newest
    shown(page, "r-suction", "121")
    shown(page, "r-oat", "88")


def test_keys_before_the_ticket_is_there_do_nothing_and_say_so(open_page, scene, office_house):
    page = open_page("/office")
    held = []
    page.route("**/office/words.json", lambda route: held.append(route))
    page.goto(f"{office_house.address}/office/tickets/{scene['ticket']}")
    while not held:
        page.wait_for_timeout(50)
    for key in "anu1edx]cp":
        page.keyboard.press(key)
    until(page, "document.getElementById('said').textContent.includes('still being loaded')")
    held[0].continue_()
    ready(page)
    assert page.inner_text("#checks-title") == "To check (4)"
    page.keyboard.press("a")
    saved(page)
    assert len([r for r in readings(ticket_of(office_house, scene)).values() if r["check"]]) == 2


def test_marking_checked_right_behind_an_edit_waits_for_it(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    held = []
    page.route("**/edits", lambda route: held.append(route))
    page.keyboard.press("a")
    while not held:
        page.wait_for_timeout(50)
    page.keyboard.press("c")
    page.wait_for_timeout(200)
    assert page.inner_text("#status") == "draft"
    held[0].continue_()
    until(page, "document.getElementById('status').textContent === 'checked'")
    assert readings(ticket_of(office_house, scene))["r-head"]["check"] is None


def test_a_caption_half_typed_outlives_somebody_elses_change_and_the_click_behind_it(
    open_page, scene, office_house
):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)
    page.click(".photo input")
    page.keyboard.type("Plate of the ")
    theirs(office_house, scene, "bbbb", 95, 87)
    come_back(page)
    shown(page, "r-oat", "87")
    page.keyboard.type("middle unit")
    page.click(".photo >> text=Leave out")
    page.locator(".photo >> text=Put back").wait_for()  # "All saved" may still be said of the caption alone
    saved(page)
    (photo,) = [p for m in ticket_of(office_house, scene)["equipment"] for p in m["photos"]]
    assert (photo["caption"], photo["left_out"]) == ("Plate of the middle unit", True)


def test_photos_lines_and_divisions_are_reached_by_keyboard_alone(open_page, scene, office_house):
    page = open_page(f"/office/tickets/{scene['ticket']}")
    ready(page)

    def tab_to(end):
        for _ in range(12):
            page.keyboard.press("Tab")
            if (
                page.evaluate("document.activeElement.dataset.key || document.activeElement.id") or ""
            ).startswith(end):
                return
        raise AssertionError(f"never reached {end}")

    page.keyboard.press("f")
    tab_to("ph-c-")
    page.keyboard.type("Nameplate")
    tab_to("ph-m-")
    tab_to("ph-t-")
    page.keyboard.press("Enter")
    tab_to("ph-l-")
    page.keyboard.press("Space")
    saved(page)
    (photo,) = [p for m in ticket_of(office_house, scene)["equipment"] for p in m["photos"]]
    assert (photo["caption"], photo["rotation"], photo["left_out"]) == ("Nameplate", 90, True)

    page.keyboard.press("r")
    while page.locator(".row.chosen[data-item=w-contactor]").count() == 0:
        page.keyboard.press("]")
    page.keyboard.press("d")
    page.wait_for_selector("dialog#divide[open]")
    tab_to("divide-machine")
    page.keyboard.press("Home")
    tab_to("divide-go")
    page.keyboard.press("Enter")
    saved(page)
    machines = {m["tag"]: m for m in ticket_of(office_house, scene)["equipment"]}
    assert {w["id"] for w in machines[None]["work"]} == {"w-contactor", "w-belt"}
    assert "r-suction" in {r["id"] for r in machines["RTU-2"]["readings"]}
