"""Does a sound file reach its own end? The decoder reads a cut WAV or Ogg to where it stops and says nothing.

WAV: the size of the `data` chunk (RIFF, Multimedia Programming Interface and Data Specifications 1.0, 1991). Ogg: the
last page carries the flag "end of stream" and is whole (RFC 3533, section 6).
"""

from __future__ import annotations

import struct
from pathlib import Path

_UNKNOWN_SIZES = (0, 0xFFFFFFFF)
"""What a program writes that does not know yet how long the sound will be."""
_END_OF_STREAM = 0x04
_PAGE_HEADER = 27
_LARGEST_PAGE = _PAGE_HEADER + 255 + 255 * 255


def cut_short(file: Path) -> bool:
    """True when the file's own marks say that its end is missing; False when they do not, or it has none."""
    with file.open("rb") as sound:
        start = sound.read(12)
        size = sound.seek(0, 2)
        if start[:4] == b"OggS":
            sound.seek(max(0, size - _LARGEST_PAGE))
            return not _ends(sound.read())
        if start[:4] != b"RIFF" or start[8:] != b"WAVE":
            return False
        at = 12
        while at + 8 <= size:
            sound.seek(at)
            name, length = struct.unpack("<4sI", sound.read(8))
            if name == b"data":
                return length not in _UNKNOWN_SIZES and at + 8 + length > size
            at += 8 + length + length % 2
        return True


def _ends(tail: bytes) -> bool:
    at = tail.rfind(b"OggS")
    if at < 0 or at + _PAGE_HEADER > len(tail):
        return False
    lacing = tail[at + _PAGE_HEADER : at + _PAGE_HEADER + tail[at + 26]]
    whole = len(lacing) == tail[at + 26] and at + _PAGE_HEADER + len(lacing) + sum(lacing) <= len(tail)
    return whole and bool(tail[at + 5] & _END_OF_STREAM)
