"""Photos of a ticket. The original bytes, the thumbnail and the copy to show are blobs."""

from __future__ import annotations

from hatchnote.domain import Photo
from hatchnote.errors import Conflict, NotFound
from hatchnote.store import Store
from hatchnote.store.database import Row


def add(store: Store, row: Row) -> bool:
    """Keep a photo; True when it was new. Raises Conflict when the id already has other bytes."""
    with store.db.write():
        old = store.db.row("SELECT sha256, ticket_id FROM photos WHERE id = ?", (row["id"],))
        if old is None:
            store.db.insert("photos", {**row, "received_at": store.now()})
            return True
        if (old["sha256"], old["ticket_id"]) != (row["sha256"], row["ticket_id"]):
            raise Conflict(
                "This photo was already received with other bytes; send the new one under a new id."
            )
        return False


def photo(store: Store, id: str) -> Row:
    """Raises NotFound."""
    row = store.db.row(
        "SELECT photos.*, tickets.technician_id AS ticket_technician_id FROM photos"
        " JOIN tickets ON tickets.id = ticket_id WHERE photos.id = ?",
        (id,),
    )
    if row is None:
        raise NotFound("There is no such photo.")
    return row


def of_ticket(store: Store, ticket_id: str) -> list[Photo]:
    """In the order they were taken."""
    rows = store.db.rows(
        "SELECT * FROM photos WHERE ticket_id = ? ORDER BY coalesce(taken_at, ''), received_at, id",
        (ticket_id,),
    )
    return [
        Photo(
            id=r["id"],
            sha256=r["sha256"],
            name=r["name"],
            width=r["width"],
            height=r["height"],
            taken_at=r["taken_at"],
            caption=r["caption"],
            dictation=r["recording_id"],
            at_s=r["at_s"],
        )
        for r in rows
    ]


def set_shown(store: Store, id: str, shown_sha256: str) -> None:
    store.db.change("UPDATE photos SET shown_sha256 = ? WHERE id = ?", (shown_sha256, id))
