"""Chromium with a fake microphone, and servers for it to talk to."""

from __future__ import annotations

import functools
import http.server
import threading
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--autoplay-policy=no-user-gesture-required",
    "--use-fake-device-for-media-stream",
    "--use-fake-ui-for-media-stream",
]
POLICY = "default-src 'self'; img-src 'self' blob: data:; media-src 'self' blob:; object-src 'none'; base-uri 'none'"


class _Static(http.server.SimpleHTTPRequestHandler):
    """The app's files at the root and the unit tests under /unit/, under the policy of the real server."""

    protocol_version = "HTTP/1.1"
    extensions_map = {  # noqa: RUF012 (the base class has it so)
        **http.server.SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript",
        ".webmanifest": "application/manifest+json",
    }

    def translate_path(self, path):
        if path.startswith("/unit/"):
            return str(ROOT / "tests" / "browser" / path.split("?")[0].lstrip("/"))
        return super().translate_path(path)

    def end_headers(self):
        self.send_header("Content-Security-Policy", POLICY)
        super().end_headers()

    def log_message(self, *args):
        pass


@pytest.fixture(scope="session")
def static_address():
    handler = functools.partial(_Static, directory=str(ROOT / "pwa"))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.fixture(scope="session")
def playwright():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as p:
        yield p


@pytest.fixture(scope="session")
def chromium(playwright):
    """One Chromium whose microphone hears the browser's own test tone."""
    browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=CHROMIUM_FLAGS)
    yield browser
    browser.close()


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    """A real server with its worker, one a test file."""
    from house import House

    house = House(tmp_path_factory.mktemp("house")).prepare().start()
    yield house
    house.stop()


@pytest.fixture(scope="session")
def quiet_house(tmp_path_factory):
    """A real server without a worker, for tests in which nothing is listened to; shared, so look only for your own."""
    from house import House

    house = House(tmp_path_factory.mktemp("quiet"), worker=False).prepare().start()
    yield house
    house.stop()


@pytest.fixture
def phone(chromium, house):
    """A phone's page, signed in as the technician."""
    from phone_page import new_phone

    context = chromium.new_context(viewport={"width": 390, "height": 844}, permissions=["microphone"])
    page = new_phone(context, house.address)
    yield page
    context.close()
