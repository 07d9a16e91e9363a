"""Pictures of the office pages, for `tools/screens.py office`: a server of its own with the office's scene."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

DAYS = ("2026-01-10", "2026-02-11", "2026-03-04", "2026-04-08")


def take(browser: Any, shoot: Callable[[Any, str], None], sizes: Mapping[str, tuple[int, int]]) -> None:
    """Sign in and shoot every office page in every size; the review page in the dark as well."""
    from house import PASSWORD, House
    from office_scene import seed, seed_cut

    with tempfile.TemporaryDirectory() as folder:
        house = House(Path(folder), worker=False).prepare().start()
        try:
            ids = [seed(house.folder, date=day) for day in DAYS][-1]
            cut = seed_cut(house.folder)
            _join(house, cut)
            for size, (width, height) in sizes.items():
                for scheme in ("light", "dark"):
                    context = browser.new_context(
                        viewport={"width": width, "height": height},
                        color_scheme=scheme,
                        base_url=house.address,
                    )
                    page = context.new_page()
                    page.goto("/signin")
                    page.fill("#name", "Desk")
                    page.fill("#password", PASSWORD)
                    page.click("button[type=submit]")
                    page.wait_for_url("**/office")
                    for name, path in _pages(ids, cut).items():
                        if scheme == "light" or name == "review":
                            page.goto(path)
                            page.wait_for_load_state("networkidle")
                            shoot(page, f"office-{name}-{size}{'-dark' if scheme == 'dark' else ''}")
                    context.close()
        finally:
            house.stop()


def _join(house: Any, cut: Mapping[str, str]) -> None:
    """The dictation that was cut in two, read as one."""
    from house import Person

    edit = {"id": cut["second"], "at": "2026-03-06T16:00:00Z", "op": "join", "kind": "dictation",
            "item": cut["second"], "after": cut["first"]}  # fmt: skip
    body = {"base_revision": 1, "edits": [edit]}
    Person(house.address, "Desk").call("POST", f"/tickets/{cut['ticket']}/edits", body)


def _pages(ids: Mapping[str, str], cut: Mapping[str, str]) -> dict[str, str]:
    return {
        "worklist": "/office",
        "review": f"/office/tickets/{ids['ticket']}",
        "joined": f"/office/tickets/{cut['ticket']}",
        "record": f"/office/tickets/{cut['ticket']}/record",
        "site": f"/office/sites/{ids['site']}",
        "machine": f"/office/equipment/{ids['site']}/RTU-2",
        "import": "/office/import",
        "corrections": "/office/corrections",
        "people": "/office/users",
        "queue": "/office/queue",
    }
