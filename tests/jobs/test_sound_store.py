"""Sound reaches a worker elsewhere through a real S3 server's HTTP interface (moto's, started here), or without it.

moto keeps the objects in memory and speaks the protocol; it does not check signatures, so that a store refuses a
wrong key is not shown here.
"""

import threading
from pathlib import Path

import minio
import moto.server as moto_server
import pytest
from werkzeug.serving import make_server

from hatchnote.domain import Transcript, Word
from hatchnote.errors import BadInput
from hatchnote.jobs import sound_store as room
from hatchnote.jobs.asking import ask_to_listen
from hatchnote.jobs.desk import RemoteDesk
from hatchnote.settings import Settings
from hatchnote.web import create_app

HEARD = Transcript((Word("fifty"),), duration_s=1.0)
KEYS = {"sound_store_key": "roof", "sound_store_secret": "hatch-secret"}


class Silent:
    def ring(self):
        pass


@pytest.fixture(scope="module")
def s3():
    """The address of an S3 server with one bucket, and a client to look into it."""
    server = moto_server.ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
    server.start()
    host, port = server.get_host_and_port()
    client = minio.Minio(f"{host}:{port}", "roof", "hatch-secret", secure=False, region="us-east-1")
    client.make_bucket("sound")
    yield f"http://{host}:{port}/sound/of-today", client
    server.stop()


@pytest.fixture
def serve(store):
    """Serve the data folder with these settings; gives the address and the paths asked for."""
    stops = []

    def start(**settings):
        app = create_app(Settings(data=store.folder, worker_token="t0ken", keep_free_mb=0, **settings))
        asked = []
        app.before_request(lambda: asked.append(__import__("flask").request.path))
        web = make_server("127.0.0.1", 0, app, threaded=True)
        thread = threading.Thread(target=web.serve_forever, daemon=True)
        thread.start()
        stops.append((web, thread, app))
        return f"http://127.0.0.1:{web.server_port}", asked

    yield start
    for web, thread, app in stops:
        web.shutdown()
        thread.join()
        web.server_close()
        app.extensions["hatchnote"].store.close()


def names(client):
    return [o.object_name for o in client.list_objects("sound", recursive=True)]


def claim_and_fetch(address, tmp_path):
    desk = RemoteDesk(address, "t0ken", "elsewhere")
    claim = desk.claim()
    return desk, claim, desk.listening(claim, tmp_path)


@pytest.fixture
def waiting(store, recorded, technician):
    recording = recorded(technician("ana"))
    ask_to_listen(store, Silent(), recording)
    return recording


def test_the_worker_gets_the_sound_from_the_store_and_it_is_taken_out_when_the_work_is_done(
    store, waiting, s3, serve, tmp_path
):
    address, client = s3
    server, asked = serve(sound_store=address, **KEYS)
    desk, claim, work = claim_and_fetch(server, tmp_path)
    [digest] = claim.payload["segments"]
    assert work.files[0].read_bytes() == store.blobs.read(digest)
    assert names(client) == [f"of-today/{digest}"]
    assert not [path for path in asked if "/sound/" in path], "the server was asked for sound"
    assert desk.deliver(claim, HEARD, 1.0)
    assert names(client) == []


def test_a_store_that_gives_other_bytes_or_none_is_not_believed(store, waiting, s3, serve, tmp_path):
    address, client = s3
    server, asked = serve(sound_store=address, **KEYS)
    desk = RemoteDesk(server, "t0ken", "elsewhere")
    claim = desk.claim()
    [digest] = claim.payload["segments"]
    client.fput_object("sound", f"of-today/{digest}", __file__)
    work = desk.listening(claim, tmp_path)
    assert work.files[0].read_bytes() == store.blobs.read(digest)
    client.remove_object("sound", f"of-today/{digest}")
    assert desk.listening(claim, tmp_path).files[0].read_bytes() == store.blobs.read(digest)
    assert len([path for path in asked if "/sound/" in path]) == 2


def test_a_store_that_is_away_holds_nothing_up(store, waiting, serve, tmp_path):
    server, _ = serve(sound_store="http://127.0.0.1:9/sound", **KEYS)
    desk, claim, work = claim_and_fetch(server, tmp_path)
    assert claim.payload["addresses"] == []
    assert work.files[0].read_bytes() == store.blobs.read(claim.payload["segments"][0])
    assert desk.deliver(claim, HEARD, 1.0)


def test_without_the_setting_the_api_brings_the_sound_and_the_library_is_not_loaded(
    store, waiting, serve, tmp_path, monkeypatch
):
    monkeypatch.setattr(room, "_connect", lambda *_: pytest.fail("connected to a store nobody set"))
    server, asked = serve()
    _, claim, work = claim_and_fetch(server, tmp_path)
    assert work.files[0].read_bytes() == store.blobs.read(claim.payload["segments"][0])
    assert [path for path in asked if "/sound/" in path]


@pytest.mark.parametrize(
    ("settings", "word"),
    [
        ({"sound_store": "https://store.example"}, "bucket"),
        ({"sound_store": "https://store.example/sound"}, "HATCHNOTE_SOUND_STORE_KEY"),
        ({"sound_store": "https://store.example:port/sound", **KEYS}, "HATCHNOTE_SOUND_STORE"),
    ],
)
def test_a_setting_that_cannot_work_is_refused_in_one_sentence(settings, word):
    with pytest.raises(BadInput) as refused:
        room.sound_store(Settings(data=Path("data"), **settings))
    assert word in str(refused.value)
    assert str(refused.value).count(". ") == 0
