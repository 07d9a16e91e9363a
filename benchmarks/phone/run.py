"""The phone's promises at length: `python benchmarks/phone/run.py kills|line|offline [RECORDINGS PHOTOS]`.

kills    the browser is killed ten times at random moments of a recording: seconds missing each time, and whether
         each reading that was spoken before is read from what was kept
line     50 recordings and 100 photos while 1 in 3 requests fails, 2 s of latency, the server killed in between
offline  40 recordings and 80 photos without a network, then with one

Each prints its figures as JSON. The same code runs in short form in tests/browser/test_phone_survives.py.
"""

from __future__ import annotations

import json
import random
import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "browser"))

import arrived
import test_phone_survives as short
from house import House
from phone_page import new_phone, wait_until
from sounds import speak
from tests.browser.conftest import CHROMIUM_FLAGS

KILLS_OF_SERVER = 3
OFFLINE_S = 2 * 3600


def kills(p, folder: Path, house: House, voice: Path) -> dict:
    waits = [random.Random(time.time_ns()).uniform(2.2, 20) for _ in range(10)]
    missing, said, other = [], 0, []
    killed = short.killed_recordings(p, house, folder / "profile", voice, waits)
    for n, (spoken, kept, data) in enumerate(killed):
        missing.append(round(spoken - kept, 2))
        (folder / f"{n}.webm").write_bytes(data)
        heard, before = short.heard_in(folder / f"{n}.webm"), short.said_by(folder, kept)
        said += len(before)
        other += [[*reading, dict(heard).get(reading[0])] for reading in before if reading not in heard]
    # What the model makes of the same voice when nothing is killed.
    whole = short.heard_in(voice)
    return {
        "kills": len(missing),
        "seconds_missing": missing,
        "most": max(missing),
        "median": statistics.median(missing),
        "readings_said_before_the_kills": said,
        "of_these_heard_otherwise_or_not": other,
        "the_same_in_the_voice_itself": [[p, v] for _, p, v in short.SPOKEN if (p, v) not in whole],
    }


def browser_of(p, voice: Path):
    return p.chromium.launch(
        executable_path="/usr/bin/chromium",
        args=[*CHROMIUM_FLAGS, f"--use-file-for-fake-audio-capture={voice}"],
    )


def line(p, folder: Path, house: House, voice: Path, recordings: int = 50, photos: int = 100) -> dict:
    differences, phone, bad, waited = short.over_a_bad_line(
        browser_of(p, voice), house, recordings=recordings, photos=photos, latency_s=2, kills=KILLS_OF_SERVER
    )
    return {
        "server_killed_in_mid_upload": KILLS_OF_SERVER,
        "recordings": len(phone["recordings"]),
        "photos": len(phone["photos"]),
        "differences": differences,
        "requests": bad.requests,
        "failed_on_purpose": bad.failed,
        "seconds_after_the_last_recording": round(waited),
    }


def offline(p, folder: Path, house: House, voice: Path, recordings: int = 40, photos: int = 80) -> dict:
    """The page's own clock runs from two hours ago; between two recordings it is put forward, so that two hours
    pass for the app and its timers. The server's clock, the sound and the service worker's are the real ones."""
    context = browser_of(p, voice).new_context(
        viewport={"width": 390, "height": 844}, permissions=["microphone"]
    )
    context.clock.install(time=time.time() - OFFLINE_S)
    page = new_phone(context, house.address)
    wait_until(page, "navigator.serviceWorker.controller !== null", "the service worker")
    began, first = time.monotonic(), page.evaluate("Date.now()")
    visit = short.offline_then_online(
        page,
        house,
        recordings=recordings,
        photos=photos,
        after_each=lambda: page.clock.fast_forward(int(OFFLINE_S / recordings * 1000)),
    )
    phone = arrived.kept(page)
    marks = {r["id"]: r["marks"] for r in phone["recordings"]}
    made, there = short.order_of(page, house, visit)
    return {
        "recordings": len(phone["recordings"]),
        "photos": len(phone["photos"]),
        "differences": arrived.same(page, house.folder),
        "order_equal": made == there,
        "marks": sum(len(m) for m in marks.values()),
        "marks_equal": arrived.marks_on_server(house.folder) == marks,
        "hours_on_the_page's_clock": round((page.evaluate("Date.now()") - first) / 3_600_000, 2),
        "seconds_in_all": round(time.monotonic() - began),
    }


def main() -> None:
    from playwright.sync_api import sync_playwright

    job = {"kills": kills, "line": line, "offline": offline}[sys.argv[1]]
    sizes = [int(a) for a in sys.argv[2:]]
    with tempfile.TemporaryDirectory() as name, sync_playwright() as p:
        folder = Path(name)
        (folder / "house").mkdir()
        house = House(folder / "house", worker=False).prepare().start()
        try:
            voice = speak(folder / "voice.wav", short.SENTENCES)
            print(json.dumps(job(p, folder, house, voice, *sizes), indent=1))
        finally:
            house.stop()


if __name__ == "__main__":
    main()
