"""A server on a fresh data folder, and the people who use it.

Ana is a technician and owns the visit. Ben is another technician and must not see it. Olga works in the
office, Adam is the administrator.
"""

import shutil

import pytest
from browsing import PASSWORD, Person, new_id

from hatchnote import passwords
from hatchnote.settings import Settings
from hatchnote.store import open_store, people
from hatchnote.web import create_app
from hatchnote.web.security import COOKIE

CAST = {"ana": "technician", "ben": "technician", "olga": "office", "adam": "administrator"}
HASH = passwords.hash_password(PASSWORD)


@pytest.fixture
def settings(tmp_path):
    return Settings(data=tmp_path / "data", keep_free_mb=0)


@pytest.fixture(scope="session")
def fresh(tmp_path_factory):
    """A data folder with the cast in it, made once and copied for every test."""
    folder = tmp_path_factory.mktemp("fresh")
    store = open_store(folder)
    for name, role in CAST.items():
        people.add_user(store, name=name, role=role, full_name=name.title(), password_hash=HASH)
    store.db.rows("PRAGMA wal_checkpoint(TRUNCATE)")
    store.close()
    return folder


@pytest.fixture
def app(settings, fresh):
    shutil.copytree(fresh, settings.data, dirs_exist_ok=True)
    app = create_app(settings)
    yield app
    app.extensions["hatchnote"].store.close()


@pytest.fixture
def store(app):
    return app.extensions["hatchnote"].store


@pytest.fixture
def sign_in(app, store):
    """A signed-in person; how one signs in has its own tests."""

    def person(name):
        client = app.test_client()
        new = people.start_session(store, people.user_named(store, name)[0], lasts_s=3600)
        client.set_cookie(COOKIE, new.token)
        return Person(client, new.session.user.id, new.session.csrf)

    return person


@pytest.fixture
def ana(sign_in):
    return sign_in("ana")


@pytest.fixture
def ben(sign_in):
    return sign_in("ben")


@pytest.fixture
def olga(sign_in):
    return sign_in("olga")


@pytest.fixture
def adam(sign_in):
    return sign_in("adam")


@pytest.fixture
def nobody(app):
    return Person(app.test_client(), "", "")


@pytest.fixture
def visit(ana):
    """Id of a visit of Ana's, and of its ticket."""
    id = new_id()
    answer = ana.put(f"/visits/{id}", {"site_name": "Cedar Court", "date": "2026-03-04"})
    assert answer.status_code == 201, answer.text
    return id


@pytest.fixture
def recording(ana, visit):
    """Id of a recording that Ana has just begun."""
    id = new_id()
    answer = ana.put(f"/recordings/{id}", {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z"})
    assert answer.status_code == 200, answer.text
    return id
