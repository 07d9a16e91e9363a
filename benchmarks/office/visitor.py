"""One signed-in person of the office, over HTTP with a kept connection, who times every answer."""

from __future__ import annotations

import http.client
import json
import time
from collections import defaultdict
from typing import Any

from benchmarks.office.generate import PASSWORD


class Visitor:
    """`times` holds seconds by kind of request; `errors` every answer that was not 2xx or 409."""

    def __init__(self, port: int, name: str) -> None:
        self.port = port
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.times: dict[str, list[float]] = defaultdict(list)
        self.errors: list[str] = []
        self.cookie = ""
        self.csrf = ""
        status, body = self.ask("sign in", "POST", "/api/v1/session", {"name": name, "password": PASSWORD})
        if status != 200:
            raise SystemExit(f"{name} cannot sign in: {status} {body!r}")
        self.csrf = json.loads(body)["csrf"]

    def ask(self, kind: str, method: str, path: str, body: Any = None, **headers: str) -> tuple[int, bytes]:
        """Send, read the whole answer, note the time."""
        sent = {"Cookie": self.cookie, "Origin": f"http://127.0.0.1:{self.port}", **headers}
        data = body if isinstance(body, bytes) else None
        if body is not None and data is None:
            data = json.dumps(body).encode()
            sent["Content-Type"] = "application/json"
        if method != "GET":
            sent["X-CSRF-Token"] = self.csrf
        started = time.perf_counter()
        for again in (True, False):
            try:
                self.connection.request(method, path, data, sent)
                answer = self.connection.getresponse()
                got = answer.read()
                break
            except (http.client.HTTPException, ConnectionError):
                # A kept connection may have been closed by the server between two requests.
                self.connection.close()
                if not again:
                    raise
        self.times[kind].append(time.perf_counter() - started)
        cookie = answer.getheader("Set-Cookie")
        if cookie:
            self.cookie = cookie.split(";")[0]
        if answer.status >= 400 and answer.status != 409:
            self.errors.append(f"{method} {path}: {answer.status} {got[:200]!r}")
        self.location = answer.getheader("Location") or ""
        return answer.status, got

    def get(self, kind: str, path: str) -> bytes:
        return self.ask(kind, "GET", path)[1]


def percentile(values: list[float], part: float) -> float:
    """Nearest-rank percentile."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, max(0, round(part * len(ordered) + 0.5) - 1))]


def table(times: dict[str, list[float]]) -> str:
    lines = [f"{'':32}{'n':>6}{'median':>10}{'p95':>10}{'longest':>10}   (ms)"]
    for kind, values in times.items():
        ms = [v * 1000 for v in values]
        lines.append(
            f"{kind:32}{len(ms):6}{percentile(ms, 0.5):10.1f}{percentile(ms, 0.95):10.1f}{max(ms):10.1f}"
        )
    return "\n".join(lines)
