"""The office's list of tickets: filters, full-text search, and pages that cost the same however far down.

Pages go by key, not by number: the cursor holds the sort value and sequence number of the last row seen.
A search with filters is answered by the full-text index alone: state, site, technician and day are words in it.
"""

from __future__ import annotations

import base64
import binascii
import json
import re
from dataclasses import dataclass
from typing import Any

from hatchnote.errors import BadInput
from hatchnote.store import Store
from hatchnote.store.database import Row
from hatchnote.store.tickets import facets, facets_between

SORTS: dict[str, tuple[str, str]] = {
    "newest": ("date", "DESC"),
    "oldest": ("date", "ASC"),
    "checks": ("checks", "DESC"),
    "missing": ("missing", "DESC"),
}
"""Name → column and direction; the sequence number breaks ties in the same direction."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What the list should show; None means "any". Days are YYYY-MM-DD, both included."""

    status: str | None = None
    site_id: str | None = None
    technician_id: str | None = None
    first_day: str | None = None
    last_day: str | None = None
    words: str | None = None
    sort: str = "newest"
    cursor: str | None = None
    limit: int = 50


_COLUMNS = (
    "t.seq, t.id, t.status, t.site_id, sites.name AS site, t.date, t.technician_id,"
    " coalesce(users.full_name, users.name) AS technician, t.checks, t.missing, t.machines, t.revision,"
    " t.created_at"
)
_JOINS = " JOIN sites ON sites.id = t.site_id JOIN users ON users.id = t.technician_id"


def page(store: Store, wanted: Wanted) -> tuple[list[Row], str | None]:
    """One page of rows and the cursor of the next one, None at the end. Raises BadInput for a bad cursor."""
    rows = _searched(store, wanted) if wanted.words else _listed(store, wanted)
    more = len(rows) > wanted.limit
    rows = rows[: wanted.limit]
    cursor = None
    if more:
        column = "seq" if wanted.words else SORTS[wanted.sort][0]
        cursor = _encode([rows[-1][column], rows[-1]["seq"]])
    now = store.now()
    for row in rows:
        row["age_s"] = round(max(0.0, now - row.pop("created_at")), 1)
        del row["seq"]
    return rows, cursor


def _listed(store: Store, wanted: Wanted) -> list[Row]:
    column, direction = SORTS[wanted.sort]
    conditions, values = _filters(wanted)
    if wanted.cursor:
        sign = "<" if direction == "DESC" else ">"
        conditions.append(f"(t.{column}, t.seq) {sign} (:after, :after_seq)")
        values["after"], values["after_seq"] = _decode(wanted.cursor)
    where = " AND ".join(conditions) or "1"
    return store.db.rows(
        f"SELECT {_COLUMNS} FROM tickets AS t{_JOINS} WHERE {where}"
        f" ORDER BY t.{column} {direction}, t.seq {direction} LIMIT :limit",
        {**values, "limit": wanted.limit + 1},
    )


def _searched(store: Store, wanted: Wanted) -> list[Row]:
    match = match_expression(wanted.words or "")
    if match is None:
        return []
    named = {
        "status": wanted.status,
        "site_id": wanted.site_id,
        "technician_id": wanted.technician_id,
    }
    tokens = facets(**{k: v for k, v in named.items() if v}).split()
    asked = [f"({match})", *(f'facets : "{t}"' for t in tokens)]
    if wanted.first_day or wanted.last_day:
        days = _days(store, wanted)
        if not days:
            return []
        asked.append(f"facets : ({' OR '.join(days)})")
    whole = " AND ".join(asked)
    conditions, values = _filters(Wanted(first_day=wanted.first_day, last_day=wanted.last_day))
    conditions.insert(0, "ticket_search MATCH :match")
    if wanted.cursor:
        conditions.append("ticket_search.rowid < :after_seq")
        _, values["after_seq"] = _decode(wanted.cursor)
    # Newest first by sequence: the index walks its rows in that order, so nothing is sorted.
    return store.db.rows(
        f"SELECT {_COLUMNS} FROM ticket_search CROSS JOIN tickets AS t ON t.seq = ticket_search.rowid{_JOINS}"
        f" WHERE {' AND '.join(conditions)} ORDER BY ticket_search.rowid DESC LIMIT :limit",
        {**values, "match": whole, "limit": wanted.limit + 1},
    )


def _days(store: Store, wanted: Wanted) -> list[str]:
    """The words of the index for the days asked for, as far as there are tickets. Empty when there is none.

    Without them a common word is looked up in every ticket, and the day compared only then.
    """
    first, last = (store.db.value(f"SELECT {edge}(date) FROM tickets") for edge in ("min", "max"))
    if first is None:
        return []
    return facets_between(max(wanted.first_day or first, first), min(wanted.last_day or last, last))


def _filters(wanted: Wanted) -> tuple[list[str], dict[str, Any]]:
    found = {
        "t.status = :status": ("status", wanted.status),
        "t.site_id = :site": ("site", wanted.site_id),
        "t.technician_id = :technician": ("technician", wanted.technician_id),
        "t.date >= :first": ("first", wanted.first_day),
        "t.date <= :last": ("last", wanted.last_day),
    }
    used = {condition: pair for condition, pair in found.items() if pair[1] is not None}
    return list(used), dict(used.values())


_TERM = re.compile(r'"([^"]*)"|(\S+)')


def match_expression(words: str) -> str | None:
    """What a person types as an FTS5 expression: every word must occur, the last may be a beginning.

    Quotes keep words together. Nothing he types is an operator. None when no word is left.
    """
    terms = []
    found = [(phrase or word, bool(phrase)) for phrase, word in _TERM.findall(words)]
    for n, (term, quoted) in enumerate(found):
        clean = " ".join(re.findall(r"[\w-]+", term))
        if not clean or clean.strip("-_ ") == "":
            continue
        prefix = "*" if n == len(found) - 1 and not quoted else ""
        # detail=column keeps no positions, so a phrase is asked for word by word.
        terms += [f'"{w}"{prefix if w == clean.split()[-1] else ""}' for w in clean.split()]
    return "{words tags parts site technician} : (" + " AND ".join(terms[:12]) + ")" if terms else None


def _encode(values: list[Any]) -> str:
    return base64.urlsafe_b64encode(json.dumps(values).encode()).decode().rstrip("=")


def _decode(cursor: str) -> tuple[Any, int]:
    try:
        after, seq = json.loads(base64.urlsafe_b64decode(cursor + "=" * (-len(cursor) % 4)))
        if not isinstance(seq, int) or not isinstance(after, str | int) or abs(seq) > 2**62:
            raise ValueError
        if isinstance(after, int) and abs(after) > 2**62:
            raise ValueError
        return after, seq
    except (ValueError, TypeError, binascii.Error, RecursionError):
        raise BadInput("The cursor is not one of ours; start the list again.") from None
