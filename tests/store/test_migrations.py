"""The schema's steps: in order, once, kept when one fails, and found up to date without loading anything heavy."""

import subprocess
import sys

import pytest

from hatchnote.store import migrations, open_store


def test_a_fresh_file_has_every_step_in_order(tmp_path):
    store = open_store(tmp_path)
    assert migrations.applied(store.db.connection) == list(migrations.STEPS)
    store.close()


def test_an_older_file_gets_the_steps_it_lacks_and_keeps_its_rows(tmp_path, monkeypatch):
    every = dict(migrations.STEPS)
    monkeypatch.setattr(migrations, "STEPS", dict(list(every.items())[:-1]))
    store = open_store(tmp_path)
    store.db.insert("sites", {"id": "s", "name": "Cedar Court", "updated_at": 0})
    store.close()
    monkeypatch.setattr(migrations, "STEPS", every)
    store = open_store(tmp_path)
    assert migrations.applied(store.db.connection) == list(every)
    assert store.db.value("SELECT name FROM sites") == "Cedar Court"
    store.close()


def test_a_step_that_fails_leaves_nothing_of_itself(tmp_path, monkeypatch):
    store = open_store(tmp_path)
    store.close()
    broken = {**migrations.STEPS, "m999_broken": "CREATE TABLE half (x);\nCREATE TABLE half (x);\n"}
    monkeypatch.setattr(migrations, "STEPS", broken)
    with pytest.raises(Exception, match="already exists"):
        open_store(tmp_path)
    monkeypatch.undo()
    store = open_store(tmp_path)
    assert not store.db.row("SELECT 1 FROM sqlite_master WHERE name = 'half'")
    store.close()


def test_an_up_to_date_file_opens_without_numpy(tmp_path):
    open_store(tmp_path).close()
    code = (
        "import sys, pathlib; from hatchnote.store import open_store; open_store(pathlib.Path(sys.argv[1]));"
        " print(sorted({'numpy', 'sqlite_utils'} & set(sys.modules)))"
    )
    out = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True
    )
    assert out.stdout.strip() == "[]"
