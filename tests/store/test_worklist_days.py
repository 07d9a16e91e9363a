"""The days of a search are words of the index: the right ones, and few."""

import datetime as dt
import random

import pytest

from hatchnote.store import migrations, open_store
from hatchnote.store.tickets import facets, facets_between


def test_a_year_a_month_and_the_days_around_them():
    assert facets_between("2019-12-30", "2021-02-02") == [
        "day_20191230", "day_20191231", "year_2020", "month_202101", "day_20210201", "day_20210202"]  # fmt: skip
    assert facets_between("2024-02-01", "2024-02-29") == ["month_202402"]
    assert facets_between("9999-12-31", "9999-12-31") == ["day_99991231"]
    assert facets_between("2024-02-02", "2024-02-01") == []


@pytest.mark.parametrize("seed", range(20))
def test_they_cover_each_day_once_and_no_other(seed):
    chance = random.Random(seed)
    start = dt.date(2015, 1, 1)
    days = [start + dt.timedelta(days=n) for n in range(4000)]
    first, last = sorted(chance.choices(days, k=2))
    words = facets_between(first.isoformat(), last.isoformat())
    for day in days:
        held = set(facets(date=day.isoformat()).split()) & set(words)
        assert len(held) == (first <= day <= last), day


def test_tickets_indexed_before_there_were_such_words_get_them(tmp_path, monkeypatch):
    every = dict(migrations.STEPS)
    names = list(every)
    monkeypatch.setattr(migrations, "STEPS", {n: every[n] for n in names[: names.index("m008_days")]})
    store = open_store(tmp_path)
    with store.db.write():
        store.db.insert("users", {"id": "u", "name": "Ana", "role": "technician", "created_at": 0})
        store.db.insert("sites", {"id": "s", "name": "Cedar Court", "updated_at": 0})
        place = {"site_id": "s", "date": "2026-03-04", "technician_id": "u"}
        store.db.insert("visits", {"id": "t", **place, "created_at": 0})
        store.db.insert("tickets", {"seq": 7, "id": "t", **place, "created_at": 0, "updated_at": 0})
        store.db.insert("ticket_search", {"rowid": 7, "words": "suction", "facets": "status_draft"})
    store.close()
    monkeypatch.setattr(migrations, "STEPS", every)
    store = open_store(tmp_path)
    kept = store.db.row("SELECT rowid, words, facets FROM ticket_search")
    assert kept == {
        "rowid": 7,
        "words": "suction",
        "facets": "status_draft year_2026 month_202603 day_20260304",
    }
    found = "SELECT rowid FROM ticket_search WHERE ticket_search MATCH 'facets : day_20260304'"
    assert store.db.value(found) == 7
    store.close()
