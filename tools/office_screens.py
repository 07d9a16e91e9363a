"""Pictures of the office pages from a running server: `python tools/office_screens.py ADDRESS NAME PASSWORD FOLDER`.

Used by `tools/screens.py` too, through `take`.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

CHROMIUM = "/usr/bin/chromium"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
]


def take(browser: Any, address: str, name: str, password: str, folder: Path) -> list[Path]:
    """Sign in and photograph every office page; the review page by day and by night."""
    folder.mkdir(parents=True, exist_ok=True)
    made: list[Path] = []
    for scheme in ("light", "dark"):
        context = browser.new_context(
            viewport={"width": 1360, "height": 880},
            color_scheme=scheme,
            base_url=address,
            reduced_motion="reduce",
        )
        page = context.new_page()
        page.goto("/signin")
        page.fill("#name", name)
        page.fill("#password", password)
        page.click("button[type=submit]")
        page.wait_for_url("**/office")
        for title, path in _pages(page).items():
            if scheme == "dark" and title != "review":
                continue
            page.goto(path)
            page.wait_for_load_state("networkidle")
            file = folder / f"office-{title}{'-dark' if scheme == 'dark' else ''}.png"
            page.screenshot(path=file)
            made.append(file)
        context.close()
    return made


def _pages(page: Any) -> dict[str, str]:
    """Addresses by title; ids come from the lists: the ticket with most to check, the first site, its first machine."""
    page.goto("/office?sort=checks")
    ticket = page.locator("#rows a.open").first.get_attribute("href")
    page.goto("/office/sites")
    site = page.locator("#rows a.open").first.get_attribute("href")
    page.goto(site)
    machines = page.locator("#rows a.open")
    found = {"worklist": "/office", "review": ticket, "record": f"{ticket}/record", "site": site}
    if machines.count():
        found["machine"] = machines.first.get_attribute("href")
    return {
        **found,
        "corrections": "/office/corrections",
        "people": "/office/users",
        "queue": "/office/queue",
    }


if __name__ == "__main__":
    if len(sys.argv) != 5:
        sys.exit(__doc__)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as p:
        chromium = p.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        for picture in take(chromium, *sys.argv[1:4], Path(sys.argv[4])):
            print(picture)
        chromium.close()
