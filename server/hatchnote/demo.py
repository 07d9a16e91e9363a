"""`hatchnote demo`: the sample scenario, sent the way a phone sends it, listened to for real, then served.

Everything goes through the API of the server itself (accounts excepted), so the demo proves the same road that a
phone takes: visits, recordings, resumable uploads, photos, typed notes.
"""

from __future__ import annotations

import base64
import datetime as dt
import hashlib
import mimetypes
import shutil
import sys
import threading
import tomllib
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hatchnote.errors import BadInput, HatchnoteError
from hatchnote.places import SAMPLES, data_folder, make_folder

PASSWORD = "rooftop-demo"
OFFICE, ADMINISTRATOR = "olga", "adam"
MARKER = "made-by-hatchnote-demo"
DEFAULT_FOLDER = Path("data") / "demo"
_NAMES = uuid.UUID("7c1d8f0e-0d1c-5a56-9a3b-3f3f5d0f7a11")

Say = Callable[[str], None]


def run(*, data: Path | None = None, host: str | None = None, port: int = 8000) -> None:
    """Load the samples into a fresh folder, listen to them, and serve until stopped.

    Raises BadInput when the folder holds something that this demo did not make, HatchnoteError when the port is taken.
    """
    from hatchnote import serve
    from hatchnote.settings import load

    folder = data or DEFAULT_FOLDER
    serve.try_port(host or load(data=folder).host, port)
    fresh(folder)
    load_samples(folder, say=lambda line: print(line, file=sys.stderr, flush=True))
    address = f"http://localhost:{port}"
    people = ", ".join([*(t["id"] for t in _scenario()["technicians"]), OFFICE, ADMINISTRATOR])
    print(
        f"\nThe demo is ready: {address}\n"
        f"  office:  {address}/office   sign in as {OFFICE}, password {PASSWORD}\n"
        f"  phone:   {address}/         sign in as {_scenario()['technicians'][0]['id']}, password {PASSWORD}\n"
        f"  (accounts: {people}; everything in it is invented; stop with Ctrl-C)\n",
        flush=True,
    )
    serve.run(data=folder, host=host, port=port)


def fresh(folder: Path) -> None:
    """Make an empty demo folder. Only a folder that an earlier demo made is emptied."""
    make_folder(folder)
    if any(folder.iterdir()):
        if not (folder / MARKER).exists():
            raise BadInput(f"{folder} holds something that the demo did not make; name another with --data.")
        lock = _lock(folder)
        shutil.rmtree(folder)
        lock.close()
        make_folder(folder)
    (folder / MARKER).touch()


def load_samples(folder: Path, *, say: Say) -> None:
    """Put the scenario into the data folder and listen to every dictation with the real speech model."""
    from hatchnote.settings import load
    from hatchnote.store import open_store
    from hatchnote.web import create_app

    settings = load(data=folder)
    app = create_app(settings)
    store = open_store(settings.data)
    try:
        scenario = _scenario()
        ids = _add_people(store, scenario)
        _send(app, scenario, ids, say)
        _listen(store, settings, say)
    finally:
        store.close()


def _scenario() -> dict[str, Any]:
    with (data_folder(SAMPLES) / "scenario.toml").open("rb") as file:
        return tomllib.load(file)


def _id(*parts: str) -> str:
    return str(uuid.uuid5(_NAMES, "/".join(parts)))


def _lock(folder: Path) -> Any:
    from hatchnote.serve import lock_folder

    return lock_folder(folder)


def _add_people(store: Any, scenario: dict[str, Any]) -> dict[str, str]:
    from hatchnote.accounts import add_to

    people: list[tuple[str, Any, str]] = [(t["id"], "technician", t["name"]) for t in scenario["technicians"]]
    people += [(OFFICE, "office", "Olga Brandt"), (ADMINISTRATOR, "administrator", "Adam Quill")]
    return {
        name: add_to(store, name=name, role=role, full_name=full, password=PASSWORD).id
        for name, role, full in people
    }


class _Caller:
    """One person at the API, over the application's own test client: no port is needed."""

    def __init__(self, app: Any, name: str) -> None:
        self._client = app.test_client()
        answer = self._client.post("/api/v1/session", json={"name": name, "password": PASSWORD})
        self._csrf = self._checked(answer).get_json()["csrf"]

    def put(self, path: str, body: dict[str, Any]) -> Any:
        headers = {"X-CSRF-Token": self._csrf}
        return self._checked(self._client.put(f"/api/v1{path}", json=body, headers=headers)).get_json()

    def upload(self, data: bytes, **metadata: str) -> None:
        """Send bytes by tus, with their digest."""
        metadata["sha256"] = hashlib.sha256(data).hexdigest()
        pairs = ",".join(f"{k} {base64.b64encode(v.encode()).decode()}" for k, v in metadata.items())
        common = {"Tus-Resumable": "1.0.0", "X-CSRF-Token": self._csrf}
        made = self._checked(
            self._client.post(
                "/uploads",
                headers={**common, "Upload-Length": str(len(data)), "Upload-Metadata": pairs},
            )
        )
        self._checked(
            self._client.patch(
                made.headers["Location"],
                data=data,
                headers={**common, "Upload-Offset": "0", "Content-Type": "application/offset+octet-stream"},
            )
        )

    def _checked(self, answer: Any) -> Any:
        if answer.status_code >= 400:
            problem = answer.get_json(silent=True) or {}
            raise HatchnoteError(f"The demo could not be loaded: {problem.get('error', answer.status)}")
        return answer


def _send(app: Any, scenario: dict[str, Any], ids: dict[str, str], say: Say) -> None:
    site = scenario["site"]
    site_id = _id("site", site["id"])
    office = _Caller(app, OFFICE)
    office.put(
        f"/sites/{site_id}",
        {"name": site["name"], "altitude_ft": site["altitude_ft"], "address": site["address"]},
    )
    for machine in scenario["equipment"]:
        office.put(
            f"/sites/{site_id}/equipment/{machine['tag']}",
            {"nicknames": machine["nicknames"], "nameplate": machine["nameplate"]},
        )
    for visit in scenario["visits"]:
        _send_visit(_Caller(app, visit["technician"]), visit, site_id, ids, say)
    today = dt.date.today().isoformat()
    first = scenario["technicians"][0]["id"]
    visit_today = {"site_id": site_id, "date": today, "technician_id": ids[first]}
    office.put(f"/visits/{_id('visit', today)}", visit_today)


def _send_visit(phone: _Caller, visit: dict[str, Any], site_id: str, ids: dict[str, str], say: Say) -> None:
    samples = data_folder(SAMPLES)
    visit_id = _id("visit", visit["id"])
    who = ids[visit["technician"]]
    phone.put(f"/visits/{visit_id}", {"site_id": site_id, "date": visit["date"], "technician_id": who})
    for dictation in visit.get("dictations", []):
        sound = (samples / "dictations" / dictation["file"]).read_bytes()
        recording, segment = _id("recording", dictation["file"]), _id("segment", dictation["file"])
        mime = "audio/ogg"
        body = {
            "ticket_id": visit_id,
            "started_at": dictation["started_at"],
            "segments": [
                {
                    "id": segment,
                    "seq": 0,
                    "bytes": len(sound),
                    "sha256": hashlib.sha256(sound).hexdigest(),
                    "mime": mime,
                }
            ],
            "marks": [],
            "finished": True,
            "settings": {},
        }
        phone.put(f"/recordings/{recording}", body)
        name = dictation["file"]
        phone.upload(
            sound, kind="segment", id=segment, recording=recording, seq="0", filename=name, filetype=mime
        )
        say(f"sent {name}")
    for photo in visit.get("photos", []):
        picture = (samples / "photos" / photo["file"]).read_bytes()
        phone.upload(
            picture,
            kind="photo",
            id=_id("photo", photo["file"]),
            ticket=visit_id,
            taken_at=photo["taken_at"],
            caption=photo.get("caption", ""),
            filename=photo["file"],
            filetype=mimetypes.guess_type(photo["file"])[0] or "image/jpeg",
            **_moment(visit, photo),
        )
    for note in visit.get("notes", []):
        text = (samples / "notes" / note["file"]).read_text(encoding="utf-8")
        phone.put(
            f"/notes/{_id('note', note['file'])}", {"ticket_id": visit_id, "text": text, "at": note["at"]}
        )


def _moment(visit: dict[str, Any], photo: dict[str, Any]) -> dict[str, str]:
    """Which dictation a photo was taken in, and how many seconds into it: the last one begun before it."""
    taken = dt.datetime.fromisoformat(photo["taken_at"])
    before = [
        (taken - dt.datetime.fromisoformat(d["started_at"]), d["file"]) for d in visit.get("dictations", [])
    ]
    begun = sorted((gap, file) for gap, file in before if dt.timedelta(0) <= gap <= dt.timedelta(minutes=5))
    if not begun:
        return {}
    gap, file = begun[0]
    return {"recording": _id("recording", file), "at_s": f"{gap.total_seconds():.1f}"}


def _listen(store: Any, settings: Any, say: Say) -> None:
    from hatchnote.jobs.desk import LocalDesk
    from hatchnote.jobs.worker import do_all
    from hatchnote.store import jobs

    say("listening to the dictations with the speech model; this takes a minute or two …")
    done = do_all(LocalDesk(store, settings, "demo"), settings, threading.Event())
    left = [j for j in jobs.unfinished(store) if j.get("state") != "done"]
    if left:
        raise HatchnoteError(f"{len(left)} dictations could not be heard: {left[0].get('reason')}")
    say(f"heard {done} dictations")
