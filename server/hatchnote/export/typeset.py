"""The customer's PDF: Typst sets `ticket.typ` with the arranged ticket as data.

Tagged (PDF/UA-1) and archivable (PDF/A-2a), with the open fonts that the Typst package carries. Typst may read
nothing but fonts and a temporary folder with the template, the data and the photos.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import Any

from hatchnote.errors import BadInput
from hatchnote.export.document import Approval, arrange

Json = dict[str, Any]

_STANDARDS = ["ua-1", "a-2a"]
_TRIES: tuple[tuple[Any, bool], ...] = ((_STANDARDS, False), (_STANDARDS, True), ([], True))
_PHOTO_EDGE = 1400
"""Pixels on the longer side: 300 a printed inch at the size the template gives a photo."""


def pdf(ticket: Json, photos: Mapping[str, bytes], *, approval: Approval | None = None) -> bytes:
    """The document as PDF bytes. Raises BadInput when a photo is none or the ticket cannot be set."""
    pictures, files = _pictures(ticket, photos)
    sheet = arrange(ticket, files, approval)
    return _compile(
        {"ticket.typ": _template(), "sheet.json": json.dumps(asdict(sheet)).encode(), **pictures},
        ticket["visit"]["date"],
    )


@cache
def _template() -> bytes:
    return (Path(__file__).parent / "ticket.typ").read_bytes()


def _compile(files: dict[str, bytes], date: str) -> bytes:
    """Try the strict standards with the carried fonts, then with the machine's fonts, then plain tagged PDF.

    The later tries serve names in scripts that no font at hand can show: a standard forbids such a document
    (PDF/UA-1 and PDF/A-2a ask for every glyph), and a document with a gap is better than none.
    """
    import datetime as dt
    import tempfile

    import typst

    stamp = int(dt.datetime.fromisoformat(date).replace(tzinfo=dt.UTC).timestamp())
    last: Exception | None = None
    # Typst takes text from memory but pictures only from files.
    with tempfile.TemporaryDirectory(prefix="hatchnote-") as folder:
        for name, data in files.items():
            (Path(folder) / name).write_bytes(data)
        for standards, system_fonts in _TRIES:
            try:
                return typst.compile(
                    f"{folder}/ticket.typ",
                    root=folder,
                    format="pdf",
                    pdf_standards=standards,
                    ignore_system_fonts=not system_fonts,
                    timestamp=stamp,
                )
            except RuntimeError as error:
                last = error
    raise BadInput(
        f"The document could not be typeset ({last}); look for unusual characters or photos."
    ) from last


def _pictures(ticket: Json, photos: Mapping[str, bytes]) -> tuple[dict[str, bytes], dict[str, str]]:
    """Files for Typst and the name of each photo's file: upright copies without any metadata, so no location."""
    from hatchnote.photos import derive

    data: dict[str, bytes] = {}
    names: dict[str, str] = {}
    for machine in ticket["equipment"]:
        for photo in machine["photos"]:
            original = photos.get(photo["sha256"]) or photos.get(photo["id"])
            if photo["left_out"] or original is None:
                continue
            name = f"photo-{len(data)}.jpg"
            data[name] = derive(original, name=photo["name"], edge=_PHOTO_EDGE, rotation=photo["rotation"])
            names[photo["id"]] = name
    return data, names
