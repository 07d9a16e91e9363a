"""Sound for workers on other hosts through an S3-compatible store, when HATCHNOTE_SOUND_STORE names one.

The server puts a segment there when a worker claims its recording and hands out an address that is good for an
hour; the worker needs no key and no library. When the work is done the sound is taken out again: the data folder
remains its only home. Whatever goes wrong with the store, the worker fetches from the server's API as without one.
"""

from __future__ import annotations

import io
import logging
import time
from collections.abc import Iterable
from datetime import timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

from hatchnote.errors import BadInput
from hatchnote.settings import Settings

if TYPE_CHECKING:
    from hatchnote.store.blobs import Blobs

log = logging.getLogger("hatchnote.jobs")
LASTS = timedelta(hours=1)
_CONNECT_S, _READ_S = 3.0, 10.0
_LENDING_S = 20.0
"""Seconds after which lending is given up: the worker that asked waits for its answer, and its lease is running."""


class SoundStore:
    """A bucket of an S3-compatible store, and within it a prefix. Objects are named by their SHA-256."""

    def __init__(self, client: Any, bucket: str, prefix: str) -> None:
        self._client, self._bucket, self._prefix = client, bucket, prefix

    def lend(self, blobs: Blobs, digests: Iterable[str]) -> list[str]:
        """An address for every blob, in order; an empty list when the store cannot be used just now."""
        try:
            end = time.monotonic() + _LENDING_S
            return [self._lend(blobs, d, end) for d in digests]
        except Exception as error:  # the client raises its own and its HTTP library's errors
            log.warning("the sound store cannot be used (%s); sound goes by the API", type(error).__name__)
            return []

    def take_back(self, digests: Iterable[str]) -> None:
        """Remove the blobs. Repeatable; failure is logged only, for the bucket may have a rule of its own."""
        for digest in digests:
            try:
                self._client.remove_object(self._bucket, self._name(digest))
            except Exception as error:
                log.warning("sound stayed in the sound store (%s)", type(error).__name__)

    def _lend(self, blobs: Blobs, digest: str, end: float) -> str:
        if time.monotonic() > end:
            raise TimeoutError
        data = blobs.read(digest)
        self._client.put_object(self._bucket, self._name(digest), io.BytesIO(data), len(data))
        return str(self._client.presigned_get_object(self._bucket, self._name(digest), expires=LASTS))

    def _name(self, digest: str) -> str:
        return f"{self._prefix}{digest}"


def sound_store(settings: Settings) -> SoundStore | None:
    """The store that the settings name, or None.

    Raises BadInput when the package for it is not installed or the address names no bucket.
    """
    if not settings.sound_store:
        return None
    return _connect(
        settings.sound_store,
        settings.sound_store_key,
        settings.sound_store_secret,
        settings.sound_store_region,
    )


@lru_cache(maxsize=4)
def _connect(address: str, key: str, secret: str, region: str) -> SoundStore:
    try:
        import urllib3
        from minio import Minio
    except ImportError:
        raise BadInput(
            "HATCHNOTE_SOUND_STORE needs the package minio; install it with `pip install hatchnote[s3]`."
        ) from None
    parts = urlsplit(address)
    bucket, _, prefix = parts.path.strip("/").partition("/")
    if not parts.netloc or not bucket:
        raise BadInput(
            f"HATCHNOTE_SOUND_STORE is {address!r}; give an address with a bucket, https://host:port/bucket."
        )
    if not key or not secret:
        raise BadInput("Set HATCHNOTE_SOUND_STORE_KEY and HATCHNOTE_SOUND_STORE_SECRET for the sound store.")
    pool = urllib3.PoolManager(
        timeout=urllib3.Timeout(connect=_CONNECT_S, read=_READ_S), retries=urllib3.Retry(0), maxsize=8
    )
    try:
        client = Minio(
            parts.netloc,
            access_key=key,
            secret_key=secret,
            secure=parts.scheme == "https",
            region=region,
            http_client=pool,
        )
    except ValueError as error:
        raise BadInput(f"HATCHNOTE_SOUND_STORE is {address!r}; the store's client says: {error}.") from None
    return SoundStore(client, bucket, f"{prefix.rstrip('/')}/" if prefix else "")
