"""What leaves the house: a PDF for the customer, CSV for parts counter and invoice, a day as ZIP.

Every function takes documents of Contract 2 (plain dicts, as `tickets.to_json` makes them) and gives
bytes; none touches a database, a file or the network. See README.md in this folder.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hatchnote.export.document import Approval
    from hatchnote.export.refrigerant import LoggedTicket

Json = dict[str, Any]

__all__ = ["day_zip", "parts_csv", "pdf", "readings_csv", "refrigerant_log_csv"]


def pdf(
    ticket: Json, photos: Mapping[str, bytes] | None = None, *, approval: Approval | None = None
) -> bytes:
    """The customer's document. `photos` maps a photo's sha256 (or its id) to its bytes.

    Photos whose bytes are missing are named as missing, never left out in silence. Raises BadInput when the
    ticket cannot be typeset.
    """
    from hatchnote.export.typeset import pdf as make

    return make(ticket, photos or {}, approval=approval)


def parts_csv(tickets: Json | Iterable[Json]) -> bytes:
    """One row a part (RFC 4180, UTF-8)."""
    from hatchnote.export.tables import parts_csv as make

    return make(tickets)


def readings_csv(tickets: Json | Iterable[Json]) -> bytes:
    """One row a reading, with UCUM codes (RFC 4180, UTF-8). Withdrawn readings are not in it."""
    from hatchnote.export.tables import readings_csv as make

    return make(tickets)


def refrigerant_log_csv(tickets: Iterable[LoggedTicket], *, since: str | None = None) -> bytes:
    """One row an addition, recovery, evacuation or leak test, with what 40 CFR 82.157 asks a record to hold.

    Tickets before `since` have no rows; they tell when refrigerant was added last.
    """
    from hatchnote.export.refrigerant import refrigerant_log_csv as make

    return make(tickets, since=since)


def day_zip(
    date: str,
    tickets: Iterable[LoggedTicket],
    photos: Mapping[str, bytes] | None = None,
    approvals: Mapping[str, Approval] | None = None,
) -> bytes:
    """Every ticket of one day: PDF, JSON and CSV each, and the day's lists. The same input gives the same bytes."""
    from hatchnote.export.day import day_zip as make

    return make(date, tickets, photos or {}, approvals or {})
