"""A bad line between phone and server: a small HTTP proxy that delays, refuses, and cuts at random bytes.

Every request gets a connection of its own, so that a fault meets one request. What the phone sent up to the cut
has really reached the server, as on a roof.
"""

from __future__ import annotations

import contextlib
import random
import re
import socket
import threading
import time


class BadLine:
    """`faults`: share of requests that fail. `latency_s`: delay of each. Both may be changed while it runs.

    `cut_next`: the next answers to uploads are cut behind these bytes, where they are in them; the last one first.
    """

    def __init__(self, port: int, *, seed: int) -> None:
        self.target = port
        self.faults = 0.0
        self.latency_s = 0.0
        self.requests = self.failed = 0
        self.cut_next: list[bytes] = []
        self._random = random.Random(seed)
        self._lock = threading.Lock()
        self._listener = socket.create_server(("127.0.0.1", 0), backlog=64)
        self.address = f"http://127.0.0.1:{self._listener.getsockname()[1]}"
        threading.Thread(target=self._accept, daemon=True).start()

    def close(self) -> None:
        self._listener.close()

    def _accept(self) -> None:
        while True:
            try:
                phone, _ = self._listener.accept()
            except OSError:
                return
            threading.Thread(target=self._serve, args=(phone,), daemon=True).start()

    def _fate(self) -> tuple[str, float]:
        with self._lock:
            self.requests += 1
            if self._random.random() >= self.faults:
                return "pass", 0
            self.failed += 1
            return self._random.choice(["refuse", "cut-request", "cut-answer"]), self._random.random()

    def _serve(self, phone: socket.socket) -> None:
        with phone, contextlib.suppress(OSError):
            phone.settimeout(60)
            head, rest = read_head(phone)
            if not head:
                return
            fate, part = self._fate()
            time.sleep(self.latency_s)
            if fate == "refuse":
                return
            length = int((re.search(rb"content-length: *(\d+)", head, re.I) or [b"", b"0"])[1])
            with socket.create_connection(("127.0.0.1", self.target), timeout=60) as server:
                server.sendall(
                    re.sub(rb"\r\nconnection:[^\r]*", b"", head, flags=re.I) + b"connection: close\r\n\r\n"
                )
                upto = int(length * part) if fate == "cut-request" else length
                if not pump(phone, server, rest, upto) or fate == "cut-request":
                    return
                if self.cut_next and re.match(rb"(POST|PATCH) /uploads", head):
                    answer = b"".join(iter(lambda: server.recv(65536), b""))
                    before, found, _ = answer.partition(self.cut_next[-1])
                    if found:
                        self.cut_next.pop()
                    phone.sendall(before + found if found else answer)
                else:
                    pump_answer(server, phone, part if fate == "cut-answer" else None)


def read_head(sock: socket.socket) -> tuple[bytes, bytes]:
    """The request's head, ending in one line break, and what came of its body with it."""
    got = b""
    while b"\r\n\r\n" not in got:
        piece = sock.recv(65536)
        if not piece:
            return b"", b""
        got += piece
    head, _, rest = got.partition(b"\r\n\r\n")
    return head + b"\r\n", rest


def pump(source: socket.socket, sink: socket.socket, first: bytes, length: int) -> bool:
    """Pass on `length` bytes; false when the source ended before."""
    piece = first[:length]
    while True:
        sink.sendall(piece)
        length -= len(piece)
        if length <= 0:
            return True
        piece = source.recv(min(65536, length))
        if not piece:
            return False


def pump_answer(server: socket.socket, phone: socket.socket, part: float | None) -> None:
    """Pass on the whole answer, or only its first bytes: the server has done its work, the phone cannot know."""
    answer = b""
    while piece := server.recv(65536):
        if part is None:
            phone.sendall(piece)
        else:
            answer += piece
    if part is not None:
        phone.sendall(answer[: int(len(answer) * part)])
