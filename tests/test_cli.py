"""The command line: exit status, one sentence on standard error, JSON that satisfies the schema."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from hatchnote.tickets.document import validate

HATCHNOTE = Path(sys.executable).with_name("hatchnote")
NOTE = "R T U three. Return seventy two, supply fifty four. Manifold pressure three point five. Cleaned the burners."


def clean():
    """The environment without what earlier tests of this process may have set for reading."""
    return {k: v for k, v in os.environ.items() if k != "HATCHNOTE_VOCABULARY"}


def run(*args, text=None, **environment):
    return subprocess.run(
        [HATCHNOTE, *map(str, args)],
        input=text,
        capture_output=True,
        text=True,
        check=False,
        env={**clean(), **environment},
    )


def one_sentence(out, *words):
    assert out.returncode == 1, out.stderr
    assert len(out.stderr.strip().splitlines()) == 1 and "Traceback" not in out.stderr
    for word in words:
        assert word in out.stderr


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
        (["ticket", "--notes", "x", "--altitude-ft", "nan"], 2, "nan"),
        (["ticket", "--notes", "x", "--pdf", "/nowhere/x.pdf"], 1, "/nowhere"),
        (["users", "list", "--data", "/nowhere"], 1, "no data"),
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


@pytest.mark.parametrize(
    "command",
    [
        ["users", "add", "nell", "--password", "roof hatch 12"],
        ["serve", "--port", "18765"],
        ["worker"],
        ["demo", "--port", "18765"],
        ["restore", "BACKUP"],
    ],
)
def test_a_data_folder_that_cannot_be_one_is_told(tmp_path, command):
    """A file stands where the folder should be: nothing below it can be made, by whomever."""
    blocked = tmp_path / "file"
    blocked.write_text("")
    backup = tmp_path / "whole.zip"
    if "BACKUP" in command:
        assert (
            run("users", "add", "nell", "--password", "roof hatch 12", "--data", tmp_path / "data").returncode
            == 0
        )
        assert run("backup", backup, "--data", tmp_path / "data").returncode == 0
    out = run(*(backup if a == "BACKUP" else a for a in command), "--data", blocked / "data")
    one_sentence(out, str(blocked), "cannot be used", "--data")


def test_a_backup_does_not_fill_the_disk_below_a_missing_one(tmp_path):
    assert (
        run("users", "add", "nell", "--password", "roof hatch 12", "--data", tmp_path / "data").returncode
        == 0
    )
    one_sentence(run("backup", tmp_path / "disk" / "b.zip", "--data", tmp_path / "data"), "no folder")
    assert not (tmp_path / "disk").exists()
    assert run("backup", tmp_path / "b.zip", "--data", tmp_path / "data").returncode == 0
    assert (tmp_path / "b.zip").stat().st_mode & 0o077 == 0


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs /dev/full")
def test_a_full_disk_behind_the_output_is_told(tmp_path):
    note = tmp_path / "note.txt"
    note.write_text(NOTE)
    with open("/dev/full", "w") as full:
        out = subprocess.run(
            [HATCHNOTE, "extract", note], stdout=full, stderr=subprocess.PIPE, text=True, env=clean()
        )
    one_sentence(out, "No space left")


def test_files_called_alike_are_told_apart_and_a_photo_given_twice_is_one(tmp_path):
    from PIL import Image

    notes = [tmp_path / day / "roof.txt" for day in ("monday", "tuesday")]
    for n, note in enumerate(notes):
        note.parent.mkdir()
        note.write_text(f"RTU {n + 1}. Return seventy two.")
    Image.new("RGB", (40, 30), "red").save(tmp_path / "a.jpg")
    photos = ["--photo", tmp_path / "a.jpg", "--photo", tmp_path / "a.jpg"]
    out = run("ticket", "--notes", notes[0], "--notes", notes[1], *photos, "--json")
    document = json.loads(out.stdout)
    ids = [d["id"] for d in document["dictations"]]
    heard = {r["heard"]["dictation"] for m in document["equipment"] for r in m["readings"]}
    assert len(set(ids)) == 2 and heard == set(ids)
    everywhere = [*document.get("photos", []), *(p for m in document["equipment"] for p in m["photos"])]
    assert len(everywhere) == 1


def test_the_settings_file_holds_for_commands_on_files(tmp_path):
    settings = tmp_path / "hatchnote.toml"
    settings.write_text(f'speech_model = "{tmp_path}/no-model"\n')
    one_sentence(run("models", "verify", HATCHNOTE_CONFIG=str(settings)), "no-model")
    settings.write_text('vocabulary = "/nowhere/words.toml"\n')
    one_sentence(run("extract", "-", text=NOTE, HATCHNOTE_CONFIG=str(settings)), "/nowhere/words.toml")
    one_sentence(run("extract", "-", text=NOTE, HATCHNOTE_CONFIG=str(tmp_path / "none.toml")), "none.toml")


def test_a_mistyped_vocabulary_is_not_replaced_by_an_empty_one(tmp_path):
    words = tmp_path / "wrods.toml"
    named = {"HATCHNOTE_VOCABULARY": str(words), "HATCHNOTE_DATA": str(tmp_path / "data")}
    one_sentence(run("worker", **named), "wrods.toml")
    assert not words.exists()


def test_every_command_has_help():
    commands = "ticket extract transcribe models serve worker demo users backup restore"
    for command in commands.split():
        out = run(command, "--help")
        assert out.returncode == 0 and "Usage" in out.stdout


def test_every_mark_is_on_the_terminal_too(tmp_path):
    note = tmp_path / "note.txt"
    note.write_text(
        "R T U two. Washed the coil. Belts are A forty, three of them, all changed. Scratch that, only two."
    )
    printed = run("ticket", "--notes", note).stdout
    document = json.loads(run("ticket", "--notes", note, "--json").stdout)
    kinds = ("readings", "work", "parts", "findings")
    marked = [i for m in document["equipment"] for kind in kinds for i in m[kind] if i["check"]]
    assert len(marked) >= 3 and printed.count("CHECK: ") == len(marked)
