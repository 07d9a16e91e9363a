"""The recorder's and the store's own code, run where it lives: in a real browser.

Every test("…") in unit/*.test.js is one test here.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

UNIT = Path(__file__).parent / "unit"
CASES = [
    pytest.param(path.name, name, id=f"{path.name.removesuffix('.test.js')}: {name}")
    for path in sorted(UNIT.glob("*.test.js"))
    for name in re.findall(r'^test\("([^"]+)"', path.read_text(encoding="utf-8"), re.M)
]
pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def context(chromium):
    """One profile for all: every test opens a database of its own."""
    context = chromium.new_context(permissions=["microphone"])
    yield context
    context.close()


@pytest.mark.parametrize(("file", "name"), CASES)
def test_in_the_browser(context, static_address, file, name):
    page = context.new_page()
    try:
        broken = []
        page.on("pageerror", lambda error: broken.append(str(error)))
        page.goto(f"{static_address}/unit/blank.html")
        page.evaluate(
            "async ([file, name]) => { const { run } = await import('/unit/harness.js'); await run(file, name); }",
            [f"/unit/{file}", name],
        )
        assert not broken
    finally:
        page.close()
