"""Every office page in a real browser: nothing for axe-core to complain of, and the forms do what they say."""

from uuid import uuid4

import pytest
from axe_playwright_python.sync_playwright import Axe
from house import PASSWORD, House
from office_scene import seed

from hatchnote import passwords
from hatchnote.export import wording
from hatchnote.store import open_store, people

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    house = House(tmp_path_factory.mktemp("pages"), worker=False).prepare().start()
    ids = [seed(house.folder, date=d) for d in ("2026-01-10", "2026-02-10", "2026-03-10")][-1]
    yield house, ids
    house.stop()


@pytest.fixture(scope="module")
def signed_in(chromium, place):
    house, _ = place
    context = chromium.new_context()
    page = context.new_page()
    page.goto(f"{house.address}/signin")
    page.fill("#name", "Desk")
    page.fill("#password", PASSWORD)
    page.click("button[type=submit]")
    page.wait_for_url("**/office")
    state = context.storage_state()
    context.close()
    return state


@pytest.fixture(params=["light", "dark"])
def page(request, chromium, place, signed_in):
    context = chromium.new_context(
        viewport={"width": 1300, "height": 900},
        storage_state=signed_in,
        color_scheme=request.param,
        base_url=place[0].address,
    )
    yield context.new_page()
    context.close()


PAGES = {
    "worklist": "/office",
    "review": "/office/tickets/{ticket}",
    "record": "/office/tickets/{ticket}/record?a=1&b=1",
    "sites": "/office/sites",
    "site": "/office/sites/{site}",
    "machine": "/office/equipment/{site}/RTU-2",
    "import": "/office/import",
    "corrections": "/office/corrections",
    "users": "/office/users",
    "queue": "/office/queue",
}


def test_axe_finds_nothing_on_any_page(page, place):
    told = {}
    for name, path in PAGES.items():
        page.goto(path.format(**place[1]))
        if name == "review":
            page.wait_for_selector(".machine")
        if name == "corrections":
            page.wait_for_selector("#corrections td:not(:text('Loading'))")
        result = Axe().run(page)
        if result.violations_count:
            told[name] = result.generate_report()
    assert not told, "\n".join(told.values())


def test_no_page_is_wider_than_a_phone(page, place):
    page.set_viewport_size({"width": 390, "height": 844})
    wide = {}
    for name, path in PAGES.items():
        page.goto(path.format(**place[1]))
        if name == "review":
            page.wait_for_selector(".machine")
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > 390:
            wide[name] = width
    assert not wide


def test_axe_finds_nothing_in_the_dialogs(page, place):
    page.goto(PAGES["review"].format(**place[1]))
    page.wait_for_selector(".machine")
    for opens, dialog in (
        ("[data-item=r-cap] >> text=Change", "#editor"),
        (".w:not(.read) >> nth=0", "#divide"),
        ("#show-keys", "#keys"),
    ):
        page.click(opens)
        page.wait_for_selector(f"dialog{dialog}[open]")
        result = Axe().run(page)
        assert not result.violations_count, result.generate_report()
        page.keyboard.press("Escape")
        page.wait_for_selector(f"dialog{dialog}", state="hidden")


def test_the_worklist_answers_while_one_types_and_moves_by_keyboard(page, place):
    page.goto("/office")
    page.keyboard.press("/")
    page.keyboard.type("contactor")
    page.wait_for_url("**q=contactor*")
    assert page.locator("#rows a.open").count() == 3
    page.fill("#q", "zebra")
    page.wait_for_selector("text=No ticket fits")
    page.goto("/office")
    page.keyboard.press("j")
    page.keyboard.press("j")
    assert page.evaluate("document.activeElement.closest('tr').rowIndex") == 2
    page.keyboard.press("Enter")
    page.wait_for_url("**/office/tickets/*")


def test_the_worklist_works_without_any_script(chromium, place, signed_in):
    context = chromium.new_context(
        storage_state=signed_in, java_script_enabled=False, base_url=place[0].address
    )
    page = context.new_page()
    page.goto("/office")
    page.fill("#q", "contactor")
    page.select_option("[name=status]", "draft")
    page.click("text=Show")
    assert page.locator("#rows a.open").count() == 3
    context.close()


def test_page_and_document_word_a_reading_alike(page, place):
    bare = dict.fromkeys(("component", "number", "legs", "stage", "circuit", "position", "moment", "text"))
    bare.update(value=1.5, unit="A", basis="measured", point="current")
    readings = [
        {**bare, **more}
        for more in (
            {"component": "compressor", "number": "2", "legs": "L1-L2", "circuit": "1"},
            {
                "component": "bearing",
                "number": "left",
                "point": "co",
                "position": "flue",
                "value": 12345.5,
                "unit": "ppm",
            },
            {"point": "superheat", "value": 12, "unit": "°F", "difference": True, "basis": "set"},
            {"point": "humidity", "value": 45, "unit": "%", "stage": "low", "basis": "rated"},
            {"point": "resistance", "value": None, "text": "open", "component": "igniter"},
            {"point": "flame-signal", "value": 0.07, "unit": "µA"},
            {"point": "gas-input", "value": -150000, "unit": "Btu/h"},
        )
    ]
    page.goto("/office")
    told = page.evaluate(
        """async (readings) => {
            const t = await import("/static/office/review/ticket.js");
            return readings.map((r) => [t.itemName("reading", r), t.valueText(r)]);
        }""",
        readings,
    )
    assert told == [[wording.reading_name(r), wording.value(r)] for r in readings]


def test_a_nameplate_is_kept_and_its_line_drawn(page, place):
    page.goto(PAGES["machine"].format(**place[1]))
    page.fill("[name='nameplate.compressor_rla']", "12.8, 12.8")
    page.click("form[data-api] >> text=Save")
    page.wait_for_selector("#said:text('Saved.')")
    page.goto(PAGES["machine"].format(**place[1]) + "?point=current")
    assert "RLA 12.8" in page.text_content(".plot svg")
    assert page.locator(".plot svg circle").count() == 3
    assert page.input_value("[name='nameplate.volts']") == "460"


def test_import_shows_every_problem_before_anything_is_written(page, place):
    page.goto("/office/import")
    page.fill("#csv", "site,tag,altitude_ft\nQuarry Road Offices,RTU-1,high\nQuarry Road Offices,,12\n")
    page.click("#try")
    page.wait_for_selector("[aria-label=Problems]")
    rows = page.inner_text("[aria-label=Problems] tbody")
    assert "altitude_ft" in rows and "is no number" in rows and "The tag is empty" in rows
    assert page.is_disabled("#go")
    scheme = page.evaluate("matchMedia('(prefers-color-scheme: dark)').matches")
    name = f"Quarry Road {'dark' if scheme else 'light'}"
    page.fill("#csv", f"site,tag,altitude_ft\n{name},RTU-1,1200\n")
    page.click("#try")
    page.wait_for_selector("#go:not([disabled])")
    page.click("#go")
    page.wait_for_selector("text=All of it is written.")
    page.goto("/office/sites")
    assert name in page.inner_text("#rows")


def test_a_phone_is_signed_in_by_a_qr_code(page, place):
    page.goto("/office/users")
    page.click("[aria-label='Sign in a phone for Nell']")
    page.wait_for_selector("dialog#pairing[open]")
    page.wait_for_timeout(200)
    assert page.evaluate("document.querySelector('#pairing-qr img').naturalWidth") > 50
    assert "#pair=" in page.inner_text("#pairing-url")


def test_an_administrator_closes_an_account_and_opens_it_again(chromium, place):
    house, _ = place
    store = open_store(house.folder)
    if not people.user_named(store, "Boss"):
        secret = passwords.hash_password(PASSWORD)
        people.add_user(store, name="Boss", role="administrator", full_name=None, password_hash=secret)
    name = f"Temp {uuid4().hex[:8]}"  # a new one each time, for a test may be run twice
    people.add_user(store, name=name, role="technician", full_name=None, password_hash="x")
    store.close()
    context = chromium.new_context(base_url=house.address)
    page = context.new_page()
    page.goto("/signin")
    page.fill("#name", "Boss")
    page.fill("#password", PASSWORD)
    page.click("button[type=submit]")
    page.wait_for_url("**/office")
    page.goto("/office/users")
    row = page.locator("tr", has_text=name)
    with page.expect_navigation():  # the page comes anew; a click before its script is there would be lost
        row.get_by_text("Close", exact=True).click()
    with page.expect_navigation():
        row.get_by_text("Open again").click()
    row.get_by_text("Close", exact=True).wait_for()
    assert page.locator("tr", has_text="Boss").get_by_text("Close", exact=True).count() == 0
    context.close()
