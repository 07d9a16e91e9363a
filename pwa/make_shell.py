"""Write `shell.js`: the list of files that make the app work offline, and their common version.

The service worker imports it. Browsers compare a worker's imports byte by byte, so a changed file changes the
version here and the new worker is noticed. Run `python pwa/make_shell.py` after changing any file of the app;
`check_vendor.py` and the tests refuse a stale list.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

PWA = Path(__file__).resolve().parent
_SUFFIXES = {".html", ".js", ".css", ".svg", ".png", ".webmanifest", ".wav"}
_NOT_SHELL = {"shell.js", "sw.js"}


def shell_files(pwa: Path = PWA) -> list[str]:
    """Paths relative to the app's root, sorted; the worker itself is kept by the browser."""
    return sorted(
        p.relative_to(pwa).as_posix()
        for p in pwa.rglob("*")
        if p.is_file() and p.suffix in _SUFFIXES and p.relative_to(pwa).as_posix() not in _NOT_SHELL
    )


def shell_source(pwa: Path = PWA) -> str:
    """The text that `shell.js` must have."""
    digest = hashlib.sha256()
    files = shell_files(pwa)
    for name in [*files, "sw.js"]:
        digest.update(name.encode() + b"\0" + hashlib.sha256((pwa / name).read_bytes()).digest())
    listing = json.dumps(["./", *[f for f in files if f != "index.html"]], indent=2)
    return (
        "// Made by make_shell.py: what the service worker keeps for offline use, and its version.\n"
        f'export const VERSION = "{digest.hexdigest()[:16]}";\nexport const FILES = {listing};\n'
    )


def is_current(pwa: Path = PWA) -> bool:
    path = pwa / "shell.js"
    return path.exists() and path.read_text(encoding="utf-8") == shell_source(pwa)


if __name__ == "__main__":
    (PWA / "shell.js").write_text(shell_source(), encoding="utf-8")
