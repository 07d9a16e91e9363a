"""The app's files: vendored ones as released, a small shell, no inline script, and how a new version comes in."""

from __future__ import annotations

import functools
import http.server
import json
import re
import shutil
import sys
import threading
from pathlib import Path

import pytest
from phone_page import wait_until

PWA = Path(__file__).parents[2] / "pwa"
sys.path.insert(0, str(PWA))

import check_vendor  # noqa: E402
import make_shell  # noqa: E402


def test_vendored_files_are_the_released_ones():
    assert check_vendor.problems() == []


def test_a_changed_missing_or_unlisted_vendored_file_is_noticed(tmp_path):
    vendor = tmp_path / "vendor"
    shutil.copytree(PWA / "vendor", vendor)
    (vendor / "idb" / "idb.js").write_text("// changed")
    (vendor / "tus-js-client" / "LICENSE").unlink()
    (vendor / "stranger.js").write_text("")
    found = " ".join(check_vendor.problems(vendor))
    assert "idb/idb.js is not the released file" in found
    assert "tus-js-client/LICENSE is missing" in found
    assert "stranger.js is not in vendor/manifest.json" in found


def test_the_shell_is_small_and_its_list_is_current():
    assert make_shell.is_current()
    assert check_vendor.shell_bytes() <= check_vendor.SHELL_LIMIT


def test_there_is_no_inline_script_or_style_and_no_other_origin():
    page = (PWA / "index.html").read_text()
    assert not re.search(r"<style|\bstyle=|\bon\w+=|<script(?![^>]*\bsrc=)", page)
    for path in [PWA / "index.html", *PWA.glob("s*/**/*.js"), *PWA.glob("style/*.css")]:
        others = set(re.findall(r"https?://[\w.-]+", path.read_text())) - {
            "http://www.w3.org",
            "http://localhost",
        }
        assert others == set(), path


def test_the_manifest_has_what_installing_needs():
    manifest = json.loads((PWA / "app.webmanifest").read_text())
    assert manifest["display"] == "standalone" and manifest["start_url"] and manifest["name"]
    assert {"192x192", "512x512"} <= {i["sizes"] for i in manifest["icons"]}
    assert all((PWA / i["src"]).exists() for i in manifest["icons"])


@pytest.mark.browser
def test_a_new_version_waits_until_nothing_is_unsent_and_comes_on_a_tap(chromium, tmp_path):
    """On a copy of the files without a server behind them: the update flow is the browser's own."""
    from tests.browser.conftest import _Static

    copy = tmp_path / "pwa"
    shutil.copytree(PWA, copy)
    handler = functools.partial(_Static, directory=str(copy))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        context = chromium.new_context()
        page = context.new_page()
        page.goto(f"http://127.0.0.1:{server.server_port}/")
        page.wait_for_selector("html[data-ready]")
        wait_until(page, "navigator.serviceWorker.controller !== null", "the service worker")
        page.evaluate(
            "hatchnote.db.put('outbox', { id: 'n', kind: 'note', state: 'failed', visit: 'v', created: '' })"
        )
        (copy / "index.html").write_text(
            (copy / "index.html").read_text().replace("<html", "<html data-newer")
        )
        (copy / "shell.js").write_text(make_shell.shell_source(copy))
        page.evaluate("navigator.serviceWorker.getRegistration().then((r) => r.update())")
        wait_until(page, "hatchnote.update.look().then(() => hatchnote.update.available)", "the new version")
        assert page.evaluate("hatchnote.update.held") == "unsent"
        assert page.evaluate("hatchnote.update.take()") is False
        page.evaluate("hatchnote.db.delete('outbox', 'n')")
        page.goto(page.url.split("#")[0] + "#/phone")
        page.evaluate("hatchnote.update.look()")
        page.get_by_role("button", name="Take the new version").click()
        page.wait_for_selector("html[data-newer][data-ready]")
        context.close()
        server.shutdown()


@pytest.mark.browser
def test_an_installation_that_the_line_breaks_is_tried_until_it_succeeds(chromium):
    """The first time the worker itself does not come, the second time one of its files, the third time all do."""
    from tests.browser.conftest import _Static

    refused = {"/sw.js": 1, "/app.webmanifest": 1}

    class Weak(_Static):
        def do_GET(self):
            path = self.path.split("?")[0]
            from_worker = path == "/sw.js" or self.headers.get("Referer", "").endswith("/sw.js")
            if from_worker and refused.get(path, 0):
                refused[path] -= 1
                self.send_error(503)
            else:
                super().do_GET()

    handler = functools.partial(Weak, directory=str(PWA))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        context = chromium.new_context()
        page = context.new_page()
        page.clock.install()
        page.goto(f"http://127.0.0.1:{server.server_port}/")
        page.wait_for_selector("html[data-ready]")
        for _ in range(100):
            if page.evaluate("navigator.serviceWorker.controller !== null"):
                break
            page.clock.run_for(2_000)
            page.wait_for_timeout(50)
        assert page.evaluate("navigator.serviceWorker.controller !== null")
        assert refused == {"/sw.js": 0, "/app.webmanifest": 0}
        context.close()
        server.shutdown()
