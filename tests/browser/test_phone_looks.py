"""Every page of the phone: axe-core, 48 px, 7:1, 320 px wide, text at 200 %, in each theme."""

from __future__ import annotations

import looks
import phone_pages
import pytest
from house import House

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    house = House(tmp_path_factory.mktemp("house"), worker=False).prepare().start()
    house.visit = phone_pages.prepare(house.address)
    yield house
    house.stop()


@pytest.mark.parametrize("theme", ["sun", "dark"])
def test_every_page_is_accessible_and_legible(phone, house, theme):
    phone.evaluate("(theme) => hatchnote.settings.set('theme', theme)", theme)
    found = {}
    for name in phone_pages.pages(phone, house.visit, record=True):
        phone.wait_for_timeout(150)
        found[name] = looks.violations(phone) + looks.small_targets(phone) + looks.weak_text(phone)
    assert len(found) == 11
    assert {name: problems for name, problems in found.items() if problems} == {}
    assert not phone.broken


@pytest.mark.parametrize(("width", "text"), [(320, "112.5%"), (390, "225%")])
def test_narrow_screens_and_large_text_need_no_sideways_scrolling(phone, house, width, text):
    phone.set_viewport_size({"width": width, "height": 740})
    phone.evaluate("(size) => { document.documentElement.style.fontSize = size; }", text)
    found = {}
    for name in phone_pages.pages(phone, house.visit, record=True):
        problems = looks.small_targets(phone)
        if looks.too_wide(phone):
            problems.append(f"{looks.too_wide(phone)} px too wide")
        if name == "recording":
            stop = phone.get_by_role("button", name="Stop").bounding_box()
            if stop["y"] + stop["height"] > 740:
                problems.append("Stop is not in view")
        found[name] = problems
    assert {name: problems for name, problems in found.items() if problems} == {}


def test_the_measurements_notice_what_is_small_weak_or_wide(chromium):
    page = chromium.new_page()
    page.set_content(
        "<button style='width:40px;height:60px'>x</button><p style='color:#767676;background:#fff'>pale</p>"
        "<p style='color:#595959;background:#fff'>firm</p><div style='width:3000px'>wide</div>"
    )
    assert looks.small_targets(page) == ["x: 40 × 60"]
    # WCAG's own figures: #767676 on white is 4.54:1, #595959 is 7.0:1 (https://webaim.org/resources/contrastchecker/).
    assert looks.weak_text(page) == ["pale: 4.54:1"]
    assert looks.too_wide(page) > 1000
    page.close()


def test_record_and_stop_are_at_least_128_px(phone, house):
    for name in phone_pages.pages(phone, house.visit, record=True):
        if name in ("visit", "recording"):
            box = phone.get_by_role("button", name="Record" if name == "visit" else "Stop").bounding_box()
            assert box["width"] >= 128 and box["height"] >= 128


def test_an_address_without_encryption_is_explained(playwright, house):
    from tests.browser.conftest import CHROMIUM_FLAGS

    browser = playwright.chromium.launch(
        executable_path="/usr/bin/chromium",
        args=[*CHROMIUM_FLAGS, "--host-resolver-rules=MAP lan.test 127.0.0.1"],
    )
    try:
        page = browser.new_page()
        page.goto(f"http://lan.test:{house.port}/")
        page.get_by_role("heading", name="This address cannot use the microphone").wait_for()
        assert page.get_by_text("hatchnote serve --lan").is_visible()
        assert looks.violations(page) == []
    finally:
        browser.close()


def test_a_refused_microphone_is_explained(chromium, house, phone):
    phone.goto(f"{house.address}/#/visit/{house.visit}")
    phone.evaluate(
        """() => {
          navigator.mediaDevices.getUserMedia = async () => { throw new DOMException("", "NotAllowedError"); };
        }"""
    )
    phone.get_by_role("button", name="Record").click()
    phone.get_by_role("heading", name="The microphone is switched off for this page").wait_for()
    assert looks.violations(phone) == []
