"""A whole day as one ZIP: each ticket's PDF, JSON and tables in a folder of its own, and the day's lists."""

from __future__ import annotations

import datetime as dt
import io
import json
import re
import zipfile
from collections.abc import Iterable, Mapping

from hatchnote.export.document import Approval
from hatchnote.export.refrigerant import LoggedTicket, refrigerant_log_csv
from hatchnote.export.tables import parts_csv, readings_csv
from hatchnote.export.typeset import pdf


def day_zip(
    date: str, tickets: Iterable[LoggedTicket], photos: Mapping[str, bytes], approvals: Mapping[str, Approval]
) -> bytes:
    """`photos` by sha256 or id, `approvals` by ticket id.

    Entries carry the day's own date, so that equal input gives equal bytes.
    """
    stamp = dt.date.fromisoformat(date)
    logged = list(tickets)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:

        def put(name: str, data: bytes) -> None:
            info = zipfile.ZipInfo(name, (stamp.year, stamp.month, stamp.day, 0, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            archive.writestr(info, data)

        for one in logged:
            ticket = one.document
            folder = f"{date}/{folder_name(ticket['visit']['site'], ticket['id'])}"
            put(f"{folder}/ticket.pdf", pdf(ticket, photos, approval=approvals.get(ticket["id"])))
            put(f"{folder}/ticket.json", json.dumps(ticket, ensure_ascii=False, indent=1).encode())
            put(f"{folder}/readings.csv", readings_csv(ticket))
            put(f"{folder}/parts.csv", parts_csv(ticket))
        documents = [one.document for one in logged]
        put(f"{date}/readings.csv", readings_csv(documents))
        put(f"{date}/parts.csv", parts_csv(documents))
        put(f"{date}/refrigerant-log.csv", refrigerant_log_csv(logged))
    return out.getvalue()


def folder_name(site: str | None, ticket_id: str) -> str:
    """Letters, digits and hyphens only: no name from a ticket ever becomes a path. Unique by the ticket's id."""
    name = re.sub(r"[^a-z0-9]+", "-", (site or "visit").lower()).strip("-")[:40] or "visit"
    ident = re.sub(r"[^0-9a-zA-Z]", "", ticket_id)[-12:]
    return f"{name}-{ident}"
