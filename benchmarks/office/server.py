"""`hatchnote serve` on a folder and a free port, for as long as a measurement takes."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def served(folder: Path, *, worker: bool = False, threads: int = 8) -> Iterator[tuple[int, int]]:
    """The port and the process number of the web server."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    command = [
        str(Path(sys.executable).parent / "hatchnote"),
        "serve",
        "--data",
        str(folder),
        "--port",
        str(port),
    ]
    process = subprocess.Popen(
        command if worker else [*command, "--no-worker"],
        env={**os.environ, "HATCHNOTE_WEB_THREADS": str(threads), "HATCHNOTE_LOG_LEVEL": "warning"},
    )
    try:
        for _ in range(300):
            try:
                urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz", timeout=2).close()
                break
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
        yield port, process.pid
    finally:
        process.terminate()
        process.wait(timeout=30)
