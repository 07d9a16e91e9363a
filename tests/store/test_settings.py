"""Settings: one table, typed, refused in a sentence when they are wrong."""

import dataclasses

import pytest

from hatchnote.errors import BadInput
from hatchnote.settings import ROOMS, Settings, load, table


def test_defaults_stand_without_any_environment():
    assert load({}) == Settings()


def test_the_environment_wins_over_the_file_and_the_call_over_both(tmp_path):
    (tmp_path / "c.toml").write_text('port = 1000\nhost = "192.0.2.1"\nlease_s = 5\n')
    found = load(
        {"HATCHNOTE_CONFIG": str(tmp_path / "c.toml"), "HATCHNOTE_PORT": "2000"}, port=None, host="::1"
    )
    assert (found.port, found.host, found.lease_s) == (2000, "::1", 5)


@pytest.mark.parametrize(
    ("variable", "value"),
    [
        ("HATCHNOTE_PORT", "eighty"),
        ("HATCHNOTE_PORT", "70000"),
        ("HATCHNOTE_QUEUE", "rabbits"),
        ("HATCHNOTE_PHOTO_LOCATION", "maybe"),
        ("HATCHNOTE_PUBLIC_ADDRESS", "tickets.example"),
        ("HATCHNOTE_CONFIG", "/nowhere/at/all.toml"),
        ("HATCHNOTE_WORKER_TOKEN_FILE", "/nowhere/at/all"),
    ],
)
def test_a_bad_value_is_refused_in_one_sentence(variable, value):
    with pytest.raises(BadInput) as told:
        load({variable: value})
    sentence = str(told.value)
    assert value in sentence
    assert sentence.endswith(".")
    assert "\n" not in sentence


def test_an_unknown_name_in_the_file_is_refused(tmp_path):
    (tmp_path / "c.toml").write_text("prot = 1\n")
    with pytest.raises(BadInput, match="prot"):
        load({"HATCHNOTE_CONFIG": str(tmp_path / "c.toml")})


def test_a_secret_may_come_from_a_file(tmp_path):
    (tmp_path / "token").write_text("s3cret\n")
    assert load({"HATCHNOTE_WORKER_TOKEN_FILE": str(tmp_path / "token")}).worker_token == "s3cret"


def test_the_table_names_every_setting_with_help():
    rows = {row.name: row for row in table()}
    assert set(rows) == {f.name for f in dataclasses.fields(Settings)} | set(ROOMS)
    assert all(row.help.endswith(".") and row.values for row in rows.values())
    assert rows["worker_token"].secret
