"""Check that every vendored file is the released one: `python pwa/check_vendor.py`.

`vendor/manifest.json` names each library with version, licence, source and the SHA-256 of every file.
A file that is changed, missing or unlisted is an error; so is an app shell above its limit.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import sys
from pathlib import Path

PWA = Path(__file__).resolve().parent
SHELL_LIMIT = 150 * 1024
"""Bytes, each file compressed by gzip at level 6 as a usual proxy does."""


def problems(vendor: Path = PWA / "vendor") -> list[str]:
    """One sentence for every way in which the folder differs from its manifest."""
    listed = json.loads((vendor / "manifest.json").read_text(encoding="utf-8"))["libraries"]
    expected = {f"{lib['name']}/{name}": digest for lib in listed for name, digest in lib["files"].items()}
    found = {
        str(p.relative_to(vendor)): hashlib.sha256(p.read_bytes()).hexdigest()
        for p in vendor.rglob("*")
        if p.is_file() and p.name != "manifest.json"
    }
    out = [f"vendor/{name} is missing." for name in sorted(expected.keys() - found.keys())]
    out += [
        f"vendor/{name} is not in vendor/manifest.json." for name in sorted(found.keys() - expected.keys())
    ]
    out += [
        f"vendor/{name} is not the released file: its SHA-256 is {found[name]}."
        for name in sorted(expected.keys() & found.keys())
        if expected[name] != found[name]
    ]
    return out


def shell_bytes(pwa: Path = PWA) -> int:
    """What a phone loads before the app can work offline, compressed."""
    from make_shell import shell_files

    return sum(len(gzip.compress((pwa / name).read_bytes(), 6)) for name in shell_files(pwa))


def main() -> int:
    from make_shell import is_current

    found = problems()
    size = shell_bytes()
    if size > SHELL_LIMIT:
        found.append(f"The app shell is {size:,} bytes compressed; the limit is {SHELL_LIMIT:,}.")
    if not is_current(PWA):
        found.append("pwa/shell.js is out of date; run `python pwa/make_shell.py`.")
    for sentence in found:
        print(sentence, file=sys.stderr)
    if not found:
        print(f"Vendored files are the released ones; the app shell is {size:,} bytes compressed.")
    return 1 if found else 0


if __name__ == "__main__":
    sys.path.insert(0, str(PWA))
    sys.exit(main())
