"""What tests of the web server share: a signed-in person, ids, digests, and sending a segment."""

import base64
import hashlib
import uuid
from dataclasses import dataclass

PASSWORD = "roof hatch 12"
WEBM_START = b"\x1aE\xdf\xa3"
"""The first bytes of a WebM file (EBML header, RFC 8794)."""


@dataclass
class Person:
    """A signed-in browser."""

    client: object
    id: str
    csrf: str

    def call(self, method, path, body=None, **kwargs):
        headers = {"X-CSRF-Token": self.csrf, **kwargs.pop("headers", {})}
        if body is not None:
            kwargs["json"] = body
        return self.client.open("/api/v1" + path, method=method, headers=headers, **kwargs)

    def get(self, path, **kwargs):
        return self.call("GET", path, **kwargs)

    def put(self, path, body):
        return self.call("PUT", path, body)

    def post(self, path, body):
        return self.call("POST", path, body)

    def tus(self, method, path, *, data=None, **headers):
        named = {name.replace("_", "-"): str(value) for name, value in headers.items()}
        if method == "PATCH":
            named.setdefault("Content-Type", "application/offset+octet-stream")
        fixed = {"Tus-Resumable": "1.0.0", "X-CSRF-Token": self.csrf}
        return self.client.open(path, method=method, data=data, headers={**fixed, **named})


def new_id():
    return str(uuid.uuid4())


def metadata(**values):
    return ",".join(f"{k} {base64.b64encode(str(v).encode()).decode()}" for k, v in values.items())


def sha256(data):
    return hashlib.sha256(data).hexdigest()


def sound(size=1000):
    """Bytes that begin like a WebM file."""
    return WEBM_START + bytes(i % 251 for i in range(size - 4))


def begin_segment(person, recording, data, *, id=None, seq=0, **headers):
    """Create the upload of one segment; gives (upload's path, segment's id)."""
    id = id or new_id()
    named = metadata(
        kind="segment", id=id, sha256=sha256(data), recording=recording, seq=seq, filename="a.webm"
    )
    answer = person.tus("POST", "/uploads", Upload_Length=len(data), Upload_Metadata=named, **headers)
    assert answer.status_code == 201, answer.text
    return answer.headers["Location"], id


def send_segment(person, recording, data, **kwargs):
    """Send one segment whole; gives its id."""
    path, id = begin_segment(person, recording, data, **kwargs)
    answer = person.tus("PATCH", path, data=data, Upload_Offset=0)
    assert answer.status_code == 204, answer.text
    assert answer.headers["Hatchnote-Received"] == "whole"
    return id
