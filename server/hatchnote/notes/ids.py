"""Ids that stay the same when the same text is read again, so that edits keep their item."""

from __future__ import annotations

import hashlib


class Ids:
    """Makes ids from what an item is and where it was said; equal ones are counted."""

    def __init__(self, dictation: str | None) -> None:
        self._dictation = dictation or ""
        self._seen: dict[str, int] = {}

    def make(self, kind: str, *parts: object) -> str:
        """ "r-" and twelve hexadecimal digits of SHA-256 over dictation, kind and `parts`."""
        key = "\x1f".join([self._dictation, kind, *(str(p) for p in parts)])
        count = self._seen.get(key, 0)
        self._seen[key] = count + 1
        digest = hashlib.sha256(f"{key}\x1f{count}".encode()).hexdigest()
        return f"{kind[0]}-{digest[:12]}"
