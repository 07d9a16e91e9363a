"""What people changed in what had been read, straight from the record of changes."""

from __future__ import annotations

import json

from hatchnote.store import Store
from hatchnote.store.database import Row

LATEST = 5000


def corrections(store: Store, *, limit: int = LATEST) -> list[Row]:
    """The latest changes of read items that stand: {ticket_id, at, kind, field, before, after, was}, values decoded.

    A change that was taken back is none; one whose taking back was taken back is one again.
    """
    rows = store.db.rows(
        "SELECT ticket_id, received_at, kind, field, before, after, was FROM changes"
        " WHERE op = 'set' AND was IS NOT NULL AND kind IN ('reading', 'work', 'part', 'finding')"
        " AND NOT EXISTS (SELECT 1 FROM changes AS b WHERE b.op = 'back' AND b.after = json_quote(changes.id)"
        " AND NOT EXISTS (SELECT 1 FROM changes AS c WHERE c.op = 'back' AND c.after = json_quote(b.id)))"
        " ORDER BY seq DESC LIMIT ?",
        (limit,),
    )
    return [
        {k: json.loads(v) if k in ("before", "after", "was") and v is not None else v for k, v in r.items()}
        for r in rows
    ]
