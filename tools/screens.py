"""Pictures of every page at 390×844 and 1366×768, for docs/screens/: `python tools/screens.py [phone|office]`.

A real server on a folder that is thrown away, with the invented scene of the browser tests. Phone pages are also
taken in the dark theme at phone size.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests" / "browser"))

OUT = ROOT / "docs" / "screens"
SIZES = {"390x844": (390, 844), "1366x768": (1366, 768)}


def shoot(page: Any, name: str) -> None:
    """Save what is shown now; a small palette keeps the repository small."""
    from io import BytesIO

    from PIL import Image

    page.wait_for_timeout(250)
    picture = Image.open(BytesIO(page.screenshot())).convert("RGB").quantize(64)
    OUT.mkdir(parents=True, exist_ok=True)
    picture.save(OUT / f"{name}.png", optimize=True)


def phone(browser: Any, address: str) -> None:
    """The pages of the phone app, in the order of phone_pages.pages."""
    import phone_pages
    from phone_page import new_phone

    for size, (width, height) in SIZES.items():
        for theme in ("sun", "dark") if size == "390x844" else ("sun",):
            visit = phone_pages.prepare(address)
            context = browser.new_context(
                viewport={"width": width, "height": height}, permissions=["microphone"]
            )
            page = new_phone(context, address)
            page.evaluate("(theme) => hatchnote.settings.set('theme', theme)", theme)
            for name in phone_pages.pages(page, visit, record=True):
                shoot(page, f"phone-{name}-{size}{'-dark' if theme == 'dark' else ''}")
            context.close()
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto(address.replace("127.0.0.1", "lan.test"))
    page.get_by_role("heading", name="This address cannot use the microphone").wait_for()
    shoot(page, "phone-insecure-address-390x844")
    page.close()


def office(browser: Any, address: str) -> None:
    """The office's pages, on a server with a scene of their own."""
    import office_screens

    office_screens.take(browser, shoot, SIZES)


PARTS: dict[str, Callable[[Any, str], None]] = {"phone": phone, "office": office}
"""Name of a part → what shoots its pages, given a browser and the server's address."""


def main(wanted: list[str]) -> None:
    from house import House
    from playwright.sync_api import sync_playwright

    from conftest import CHROMIUM_FLAGS

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as p:
        house = House(Path(folder), worker=False).prepare().start()
        browser = p.chromium.launch(
            executable_path="/usr/bin/chromium",
            args=[*CHROMIUM_FLAGS, "--host-resolver-rules=MAP lan.test 127.0.0.1"],
        )
        try:
            for name in wanted or list(PARTS):
                PARTS[name](browser, house.address)
        finally:
            browser.close()
            house.stop()


if __name__ == "__main__":
    main(sys.argv[1:])
