"""Photos are judged by content, kept upright, and stripped of location before they are shown."""

import io

import pytest
from PIL import Image

from hatchnote.errors import BadInput
from hatchnote.photos import derive, describe

ORIENTATION, GPS, EXIF_IFD, DATE_ORIGINAL = 0x0112, 0x8825, 0x8769, 0x9003


def jpeg(size=(640, 480), exif=None):
    out = io.BytesIO()
    image = Image.new("RGB", size, "white")
    image.paste("red", (0, 0, 40, 40))
    image.save(out, "JPEG", **({"exif": exif} if exif else {}))
    return out.getvalue()


def with_exif():
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # camera held upright: rotate 90° clockwise to show
    exif.get_ifd(EXIF_IFD)[DATE_ORIGINAL] = "2026:03:04 09:15:30"
    exif.get_ifd(GPS)[1] = "N"
    return exif


def test_it_reads_size_as_shown_and_the_time_taken():
    facts = describe(jpeg(exif=with_exif()), name="plate.jpg")
    assert (facts.width, facts.height, facts.taken_at) == (480, 640, "2026-03-04T09:15:30")


def test_a_derived_copy_is_upright_and_carries_no_metadata():
    copy = Image.open(io.BytesIO(derive(jpeg(exif=with_exif()), name="plate.jpg", edge=320)))
    assert copy.size == (240, 320)
    assert not dict(copy.getexif())
    r, g, b = copy.getpixel((copy.width - 5, 5))  # the red corner moved from top left to top right
    assert r > 200 and g < 90 and b < 90


def test_rotation_turns_clockwise():
    copy = Image.open(io.BytesIO(derive(jpeg(), name="a.jpg", edge=640, rotation=90)))
    assert copy.size == (480, 640)
    assert copy.getpixel((copy.width - 5, 5))[1] < 90


def test_heic_is_read():
    import pillow_heif

    out = io.BytesIO()
    pillow_heif.from_pillow(Image.new("RGB", (64, 48), "blue")).save(out, format="HEIF")
    assert describe(out.getvalue(), name="x.jpg").width == 64


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "no photo"),
        (b"Return 72, supply 54", "no photo"),
        (jpeg()[:300], "cut short|no photo"),
        (jpeg()[:-200], "cut short"),
    ],
)
def test_what_is_no_photo_gets_one_sentence(data, word):
    with pytest.raises(BadInput, match=word):
        describe(data, name="x.jpg")


def test_a_decompression_bomb_is_refused_before_it_is_unpacked():
    import struct
    import zlib

    def chunk(kind, body):
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", 60000, 60000, 8, 2, 0, 0, 0)
    bomb = (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0" * 100))
        + chunk(b"IEND", b"")
    )
    with pytest.raises(BadInput, match="more"):
        describe(bomb, name="bomb.png")
