"""Photos: what is in the bytes, a normalised copy to show, a thumbnail, and location data taken out.

The original bytes are never changed; everything here is derived from them. Formats are judged by
content, never by name. Pillow reads JPEG, PNG and WebP, pillow-heif adds HEIC.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hatchnote.errors import BadInput

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_PIXELS = 120_000_000
"""Larger pictures are refused: a few kilobytes can claim to be gigabytes of pixels."""
THUMBNAIL_EDGE = 480
SHOWN_EDGE = 2400
_ALLOWED = {"JPEG", "PNG", "WEBP", "HEIF", "AVIF", "MPO"}
_EXIF_IFD = 0x8769
_ORIENTATION = 0x0112
"""5 to 8 are turned by a quarter (EXIF 2.32, 4.6.4 A)."""
_DATE_ORIGINAL, _OFFSET_ORIGINAL = 0x9003, 0x9011


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """Width and height in pixels as shown (orientation applied); `taken_at` ISO 8601 or None."""

    width: int
    height: int
    format: str
    taken_at: str | None


def take_in(data: bytes, *, name: str, edge: int = THUMBNAIL_EDGE) -> tuple[PhotoFacts, bytes]:
    """What `describe` says and the thumbnail, from one decoding that takes little memory.

    A JPEG is decoded at an eighth to a half of its size, as its format allows; a cut one is found all the same.
    Raises BadInput as `describe` does.
    """
    with _open(data, name, at_least=edge) as image:
        width, height = image.info["hatchnote_size"]
        if image.getexif().get(_ORIENTATION, 1) >= 5:
            width, height = height, width
        facts = PhotoFacts(width, height, str(image.format), _taken_at(image))
        return facts, _jpeg(image, edge)


def describe(data: bytes, *, name: str) -> PhotoFacts:
    """Look into a photo without changing it.

    Raises BadInput with one sentence when it is no photo, is cut short, or is too large to open.
    """
    from PIL import ImageOps

    with _open(data, name) as image:
        shown = ImageOps.exif_transpose(image)
        return PhotoFacts(shown.width, shown.height, str(image.format), _taken_at(image))


def derive(data: bytes, *, name: str, edge: int, rotation: int = 0) -> bytes:
    """A JPEG of at most `edge` pixels on its longer side, upright, without any metadata.

    `rotation` is degrees clockwise, a multiple of 90. Raises BadInput as `describe` does.
    """
    with _open(data, name, at_least=edge) as image:
        return _jpeg(image, edge, rotation=rotation)


def _jpeg(image: Image, edge: int, *, rotation: int = 0) -> bytes:
    """Made small first and turned then: a full-size copy for each step would take a hundred megabytes."""
    from PIL import ImageOps

    image.thumbnail((edge, edge))
    upright = ImageOps.exif_transpose(image).convert("RGB")
    if rotation % 360:
        upright = upright.rotate(-rotation, expand=True)
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()


def _open(data: bytes, name: str, *, at_least: int | None = None) -> Image:
    import pillow_heif
    from PIL import Image, UnidentifiedImageError

    pillow_heif.register_heif_opener()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(data))
            if image.format not in _ALLOWED:
                raise BadInput(f"{name} is a {image.format} picture; send a JPEG, PNG, WebP or HEIC photo.")
            if image.width * image.height > MAX_PIXELS:
                raise BadInput(
                    f"{name} claims {image.width} × {image.height} pixels, more than can be opened; "
                    "take the photo again at a normal size."
                )
            image.info["hatchnote_size"] = image.size
            if at_least is not None and image.format in ("JPEG", "MPO"):
                image.draft("RGB", (at_least, at_least))
            image.load()
    except UnidentifiedImageError:
        raise BadInput(f"{name} is no photo; send a JPEG, PNG, WebP or HEIC file.") from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise BadInput(
            f"{name} claims more pixels than can be opened; take the photo again at a normal size."
        ) from None
    except BadInput:
        raise
    except (OSError, SyntaxError, ValueError, EOFError, IndexError) as error:
        raise BadInput(f"{name} is cut short or damaged ({error}); send it again.") from error
    return image


def _taken_at(image: Image) -> str | None:
    try:
        exif = image.getexif().get_ifd(_EXIF_IFD)
    except (OSError, SyntaxError, ValueError, KeyError):
        return None
    stamp = str(exif.get(_DATE_ORIGINAL, "")).strip("\x00 ")
    if len(stamp) != 19 or not stamp[:4].isdigit():
        return None
    day, _, clock = stamp.partition(" ")
    offset = str(exif.get(_OFFSET_ORIGINAL, "")).strip("\x00 ")
    return f"{day.replace(':', '-')}T{clock}{offset if len(offset) == 6 else ''}"
