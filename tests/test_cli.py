"""The command line: exit status, one sentence on standard error, JSON that satisfies the schema."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from hatchnote.tickets.document import validate

HATCHNOTE = Path(sys.executable).with_name("hatchnote")
NOTE = "R T U three. Return seventy two, supply fifty four. Manifold pressure three point five. Cleaned the burners."


def run(*args, text=None):
    return subprocess.run(
        [HATCHNOTE, *map(str, args)], input=text, capture_output=True, text=True, check=False
    )


def test_extract_prints_a_document_that_satisfies_the_schema():
    out = run("extract", "-", "--json", text=NOTE)
    assert out.returncode == 0, out.stderr
    document = json.loads(out.stdout)
    validate(document)
    machine = next(m for m in document["equipment"] if m["tag"] == "RTU-3")
    values = {r["point"]: (r["value"], r["ucum"]) for r in machine["readings"]}
    assert values["return-air-temperature"] == (72, "[degF]")
    assert values["supply-air-temperature"] == (54, "[degF]")
    assert values["manifold-pressure"] == (3.5, "[in_i'H2O]")
    assert ("clean", "burner", "done") in {(w["verb"], w["component"], w["state"]) for w in machine["work"]}


def test_ticket_from_typed_notes_needs_no_sound(tmp_path):
    note = tmp_path / "note.txt"
    note.write_text(NOTE)
    out = run("ticket", "--notes", note, "--site", "Corner bakery", "--date", "2026-03-04", "--json")
    assert out.returncode == 0, out.stderr
    document = json.loads(out.stdout)
    validate(document)
    assert document["visit"] == {"site": "Corner bakery", "date": "2026-03-04", "technician": None}


def test_extract_explains_itself_and_reads_files(tmp_path):
    note = tmp_path / "note.txt"
    note.write_text(NOTE)
    out = run("extract", note, "--explain")
    assert out.returncode == 0, out.stderr
    assert "return-air-temperature" in out.stdout


@pytest.mark.parametrize(
    ("args", "status", "word"),
    [
        (["extract", "nowhere.txt"], 1, "no text file"),
        (["ticket", "nowhere.wav"], 1, "no sound file"),
        (["transcribe", "nowhere.wav"], 1, "no sound file"),
        (["ticket", "--photo", "nowhere.jpg"], 1, "no photo"),
        (["ticket"], 2, "at least one"),
        (["ticket", "--notes", "x", "--date", "March"], 2, "no date"),
        (["serve", "--port", "banana"], 2, "banana"),
    ],
)
def test_a_mistake_gets_one_sentence_and_the_right_status(args, status, word):
    out = run(*args)
    assert out.returncode == status
    assert word in out.stderr
    assert "Traceback" not in out.stderr
    if status == 1:
        assert len(out.stderr.strip().splitlines()) == 1


def test_text_that_is_not_utf8_is_refused(tmp_path):
    bad = tmp_path / "bad.txt"
    bad.write_bytes(b"\xff\xfe\x00return")
    out = run("extract", bad)
    assert out.returncode == 1 and "UTF-8" in out.stderr


def test_every_command_has_help():
    commands = "ticket extract transcribe models serve worker demo users backup restore"
    for command in commands.split():
        out = run(command, "--help")
        assert out.returncode == 0 and "Usage" in out.stdout
