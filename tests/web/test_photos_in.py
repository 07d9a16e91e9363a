"""Photos through the server: upright, stripped of their place, judged by content, refused in a sentence."""

import io
import struct
import zlib

import pytest
from browsing import metadata, new_id, sha256
from PIL import Image

GPS, ORIENTATION = 0x8825, 0x0112


def jpeg(size=(640, 480), exif=None):
    out = io.BytesIO()
    Image.new("RGB", size, "white").save(out, "JPEG", **({"exif": exif} if exif else {}))
    return out.getvalue()


def bomb():
    """A PNG of a few hundred bytes that claims 60000 × 60000 pixels (PNG, ISO/IEC 15948)."""

    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 60000, 60000, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(bytes(1000)))
        + chunk(b"IEND", b"")
    )


def send(person, ticket, data, *, id=None, **more):
    id = id or new_id()
    named = metadata(kind="photo", id=id, sha256=sha256(data), ticket=ticket, **more)
    made = person.tus("POST", "/uploads", Upload_Length=len(data), Upload_Metadata=named)
    assert made.status_code == 201, made.text
    return id, person.tus("PATCH", made.headers["Location"], data=data, Upload_Offset=0)


def test_a_photo_is_in_the_ticket_upright_and_without_its_place(ana, visit, store):
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif.get_ifd(GPS)[1] = "N"
    data = jpeg(exif=exif)
    id, answer = send(
        ana, visit, data, filename="plate.jpg", caption="Plate", taken_at="2026-03-04T09:15:30Z"
    )
    assert answer.headers["Hatchnote-Received"] == "whole"
    assert ana.get(f"/receipts/{id}").json["sha256"] == sha256(data)
    [photo] = [p for m in ana.get(f"/tickets/{visit}").json["equipment"] for p in m["photos"]]
    assert (photo["id"], photo["width"], photo["height"], photo["caption"]) == (id, 480, 640, "Plate")
    shown = ana.get(f"/photos/{id}/image")
    with Image.open(io.BytesIO(shown.data)) as image:
        assert image.size == (480, 640)
        assert not dict(image.getexif())
    with Image.open(io.BytesIO(ana.get(f"/photos/{id}/thumbnail").data)) as image:
        assert max(image.size) <= 480
    assert store.blobs.read(sha256(data)) == data


def test_the_same_photo_twice_is_one_photo(ana, visit):
    id, _ = send(ana, visit, jpeg())
    revision = ana.get(f"/tickets/{visit}").json["revision"]
    send(ana, visit, jpeg(), id=id)
    document = ana.get(f"/tickets/{visit}").json
    assert document["revision"] == revision
    assert len([p for m in document["equipment"] for p in m["photos"]]) == 1


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"This is a note, not a photo.", "no photo"),
        (jpeg()[:400], "cut short"),
        (bomb(), "pixels"),
        (b"%PDF-1.7 not a photo", "no photo"),
    ],
    ids=["text", "cut", "bomb", "pdf"],
)
def test_what_is_no_photo_is_refused_and_nothing_is_kept(ana, visit, store, data, word):
    id, answer = send(ana, visit, data, filename="plate.jpg")
    assert answer.status_code == 422
    assert word in answer.json["error"] and answer.json["error"].endswith(".")
    assert ana.get(f"/receipts/{id}").status_code == 404
    assert ana.get(f"/tickets/{visit}").json["revision"] == 0
    assert list(store.blobs.digests()) == []
    assert list(store.uploads.iterdir()) == []


def test_a_photo_is_turned_captioned_moved_and_left_out_by_edits(ana, visit):
    id, _ = send(ana, visit, jpeg())

    def change(op, field, before, after):
        about = {"id": new_id(), "at": "2026-03-04T15:00:00Z", "op": op, "kind": "photo", "item": id}
        return {**about, "field": field, "before": before, "after": after}

    changes = [
        change("set", "rotation", 0, 90),
        change("set", "left_out", False, True),
        change("move", None, None, "RTU-3"),
    ]
    answer = ana.post(f"/tickets/{visit}/edits", {"base_revision": 1, "edits": changes})
    assert answer.status_code == 200, answer.text
    [machine] = [m for m in answer.json["ticket"]["equipment"] if m["photos"]]
    assert (machine["tag"], machine["photos"][0]["rotation"], machine["photos"][0]["left_out"]) == (
        "RTU-3",
        90,
        True,
    )
