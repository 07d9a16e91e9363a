"""Telling the company's other systems: a signed webhook, sent and retried through the jobs table."""

from __future__ import annotations

import hashlib
import hmac
import http.client
import uuid
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.request import HTTPRedirectHandler, Request, build_opener

from hatchnote.errors import BadInput, HatchnoteError
from hatchnote.jobs.bell import Bell
from hatchnote.settings import Settings
from hatchnote.store import Store, jobs, tickets
from hatchnote.store.database import Row
from hatchnote.store.packing import dumps

TIMEOUT_S = 10.0
SIGNATURE = "Hatchnote-Signature"
EVENT = "Hatchnote-Event"


class Untold(HatchnoteError):
    """The other system did not take it; it will be told again."""


class _StayHere(HTTPRedirectHandler):
    """A redirected POST would arrive elsewhere as a GET without the event, and its answer be taken for a receipt."""

    def redirect_request(self, *_: Any) -> None:
        return None


def tell_webhook(settings: Settings, store: Store, bell: Bell, ticket: Row) -> bool:
    """Ask for an approved ticket to be told. Call inside the transaction that approved it."""
    if not settings.webhook:
        return False
    new = jobs.put(
        store,
        kind="webhook",
        ref=ticket["id"],
        owner="webhook",
        visit_date=ticket["date"],
        key=f"{ticket['revision']}:{ticket['digest']}",
        payload={"revision": ticket["revision"], "event": str(uuid.uuid4())},
    )
    if new:
        bell.ring()
    return new


def signature(secret: str, body: bytes) -> str:
    """`sha256=` and the HMAC-SHA256 (RFC 2104) of the body in hexadecimal."""
    return "sha256=" + hmac.new(secret.encode(), body, hashlib.sha256).hexdigest()


def deliver(settings: Settings, store: Store, ticket_id: str, payload: dict[str, Any]) -> None:
    """Send one event. Raises Untold when it should be tried again, BadInput when it never can work.

    The event's id stays the same over all tries, so a receiver can drop what it already has.
    """
    if not settings.webhook:
        raise BadInput("No webhook is set any more; set HATCHNOTE_WEBHOOK and try again.")
    revision = tickets.revision(store, ticket_id, int(payload["revision"]))
    event = {
        "event": "ticket.approved",
        "id": payload["event"],
        "ticket": revision.document,
        "digest": revision.sha256,
    }
    body = dumps(event).encode()
    headers = {"Content-Type": "application/json", EVENT: str(payload["event"]), "User-Agent": "hatchnote"}
    if settings.webhook_secret:
        headers[SIGNATURE] = signature(settings.webhook_secret, body)
    request = Request(settings.webhook, data=body, headers=headers, method="POST")
    try:
        with build_opener(_StayHere).open(request, timeout=TIMEOUT_S) as answer:
            answer.read(1024)
    except HTTPError as error:
        raise Untold(f"The webhook answered {error.code}; it will be told again.") from error
    except (URLError, OSError, http.client.HTTPException) as error:
        raise Untold(
            f"The webhook cannot be reached ({type(error).__name__}); it will be told again."
        ) from error
