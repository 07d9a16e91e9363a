"""The sample scenario: its files belong together, and what was said in it is what comes out.

The last test is the main job on real sound: every reading that a sample's text holds has to be heard by the real
recogniser and read, with the right value, unit and machine.
"""

import json
import tomllib
from pathlib import Path

import pytest
from PIL import Image

from hatchnote.domain import Equipment

SAMPLES = Path(__file__).resolve().parents[1] / "samples"
SCENARIO = tomllib.loads((SAMPLES / "scenario.toml").read_text(encoding="utf-8"))
DICTATIONS = [d for v in SCENARIO["visits"] for d in v["dictations"]]
MACHINES = [Equipment(e["tag"], tuple(e["nicknames"])) for e in SCENARIO["equipment"]]
TAGS = [m.tag for m in MACHINES]


def expected(file):
    return json.loads((SAMPLES / "expected" / f"{Path(file).stem}.json").read_text(encoding="utf-8"))


def key(reading):
    """Point, value or text, unit and machine of an expected reading."""
    value = reading.get("value")
    return (
        reading["point"],
        reading.get("text") if value is None else round(value, 4),
        reading.get("ucum"),
        reading.get("tag"),
    )


def keys_read(facts):
    return {
        (r.point, r.text if r.value is None else round(r.value, 4), r.ucum, r.tag) for r in facts.readings
    }


def missing(file, facts):
    return [key(r) for r in expected(file)["readings"] if key(r) not in keys_read(facts)]


def test_every_file_of_the_scenario_exists_and_no_other():
    visits = SCENARIO["visits"]
    for folder, kind in (("dictations", "dictations"), ("notes", "notes"), ("photos", "photos")):
        named = {item["file"] for v in visits for item in v.get(kind, ())}
        assert named == {p.name for p in (SAMPLES / folder).iterdir()}


def test_every_expected_machine_is_on_the_site():
    for path in (SAMPLES / "expected").iterdir():
        whole = json.loads(path.read_text(encoding="utf-8"))
        for kind in ("readings", "work", "parts", "findings"):
            assert {item.get("tag") for item in whole[kind]} <= set(TAGS)


def test_photos_carry_the_time_they_were_taken():
    for photo in (p for v in SCENARIO["visits"] for p in v.get("photos", ())):
        with Image.open(SAMPLES / "photos" / photo["file"]) as picture:
            details = picture.getexif().get_ifd(0x8769)
        taken = f"{details[0x9003].replace(':', '-', 2).replace(' ', 'T')}{details[0x9011]}"
        assert taken == photo["taken_at"]


def test_sound_is_small():
    assert sum(p.stat().st_size for p in (SAMPLES / "dictations").iterdir()) <= 3_000_000


@pytest.mark.parametrize("dictation", DICTATIONS, ids=lambda d: d["file"])
def test_every_reading_is_read_from_the_words(dictation):
    from hatchnote.notes import read_notes

    assert missing(dictation["file"], read_notes(dictation["said"], equipment=MACHINES)) == []


def test_the_typed_note_is_read():
    from hatchnote.notes import read_notes

    text = (SAMPLES / "notes" / "gym-gas-union.txt").read_text(encoding="utf-8")
    facts = read_notes(text, equipment=MACHINES)
    assert missing("gym-gas-union.txt", facts) == []
    assert {(w.verb, w.component, w.state) for w in facts.work} >= {("tighten", "gas-union", "done")}
    assert {(f.component, f.condition) for f in facts.findings} >= {("gas-union", "leaking")}


@pytest.mark.parametrize("dictation", DICTATIONS, ids=lambda d: d["file"])
def test_every_reading_is_heard_and_read(dictation):
    from hatchnote.notes import read_notes
    from hatchnote.speech import transcribe

    heard = transcribe(SAMPLES / "dictations" / dictation["file"], TAGS)
    assert missing(dictation["file"], read_notes(heard, equipment=MACHINES)) == []
