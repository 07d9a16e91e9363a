"""Backup and restore: everything comes back byte for byte, and nothing damaged comes back at all."""

import shutil

import pytest

from hatchnote.errors import BadInput, Conflict
from hatchnote.store import backup, health, open_store, people


@pytest.fixture
def full(tmp_path):
    """A folder with an account and two blobs, one of which the database names."""
    store = open_store(tmp_path / "data")
    people.add_user(store, name="ana", role="technician", full_name=None, password_hash="x")
    who = people.users(store)[0].id
    named = store.blobs.put(b"sound of a rooftop" * 5000)
    store.blobs.put(b"named by nobody")
    with store.db.write():
        store.db.insert("sites", {"id": "s", "name": "Cedar Court", "updated_at": 0})
        row = {"site_id": "s", "date": "2026-03-04", "technician_id": who}
        store.db.insert("visits", {"id": "v", **row, "created_at": 0})
        store.db.insert("tickets", {"id": "v", **row, "created_at": 0, "updated_at": 0})
        store.db.insert(
            "recordings",
            {"id": "r", "ticket_id": "v", "technician_id": who, "started_at": "2026", "created_at": 0},
        )
        store.db.insert("segments", {"id": "g", "recording_id": "r", "seq": 0, "blob_sha256": named})
    yield store, named
    store.close()


def test_everything_named_comes_back_while_the_store_is_open(full, tmp_path):
    store, named = full
    assert "verified" in backup.write(store.folder, tmp_path / "b.tar")
    backup.read(tmp_path / "new", tmp_path / "b.tar")
    again = open_store(tmp_path / "new")
    assert again.blobs.read(named) == b"sound of a rooftop" * 5000
    assert [u.name for u in people.users(again)] == ["ana"]
    assert health.integrity(again) == []
    assert list(again.blobs.digests()) == [named]
    again.close()


def test_the_companys_own_words_come_back_too(full, tmp_path):
    store, _ = full
    (store.folder / "vocabulary.toml").write_text('[components.sheave]\nsaid = ["whirly thing"]\n')
    backup.write(store.folder, tmp_path / "b.tar")
    backup.read(tmp_path / "new", tmp_path / "b.tar")
    assert "whirly thing" in (tmp_path / "new" / "vocabulary.toml").read_text()


def test_one_changed_byte_is_found_and_nothing_is_restored(full, tmp_path):
    store, _ = full
    backup.write(store.folder, tmp_path / "b.tar")
    data = bytearray((tmp_path / "b.tar").read_bytes())
    at = data.index(b"sound of a rooftop")
    data[at] ^= 1
    (tmp_path / "b.tar").write_bytes(data)
    with pytest.raises(BadInput, match="damaged"):
        backup.read(tmp_path / "new", tmp_path / "b.tar")
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_a_cut_backup_is_found(full, tmp_path, share):
    store, _ = full
    backup.write(store.folder, tmp_path / "b.tar")
    data = (tmp_path / "b.tar").read_bytes()
    (tmp_path / "b.tar").write_bytes(data[: int(len(data) * share)])
    with pytest.raises(BadInput):
        backup.read(tmp_path / "new", tmp_path / "b.tar")
    assert not (tmp_path / "new").exists()


def test_data_is_never_overwritten(full, tmp_path):
    store, _ = full
    backup.write(store.folder, tmp_path / "b.tar")
    with pytest.raises(Conflict, match="not empty"):
        backup.read(store.folder, tmp_path / "b.tar")
    with pytest.raises(BadInput, match="exists already"):
        backup.write(store.folder, tmp_path / "b.tar")


def test_any_other_file_is_no_backup(tmp_path):
    (tmp_path / "x").write_bytes(b"just a text")
    with pytest.raises(BadInput):
        backup.read(tmp_path / "new", tmp_path / "x")
    shutil.make_archive(str(tmp_path / "y"), "tar", tmp_path, "x")
    with pytest.raises(BadInput, match="no backup"):
        backup.read(tmp_path / "new", tmp_path / "y.tar")
