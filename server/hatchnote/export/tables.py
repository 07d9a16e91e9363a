"""Parts and readings as CSV: RFC 4180 (CRLF, quotes doubled, one header row), UTF-8 without a byte order mark."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from typing import Any

Json = dict[str, Any]

PART_COLUMNS = (
    "ticket", "date", "site", "technician", "machine", "use", "quantity", "component", "description", "size",
    "to_check", "status", "item",
)  # fmt: skip
READING_COLUMNS = (
    "ticket", "date", "site", "technician", "machine", "point", "component", "number", "legs", "stage", "circuit",
    "position", "basis", "moment", "value", "ucum", "unit", "text", "difference", "reference", "confidence",
    "to_check", "said", "status", "item",
)  # fmt: skip
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def parts_csv(tickets: Json | Iterable[Json]) -> bytes:
    """One row a part."""
    rows = []
    for ticket in _several(tickets):
        for machine in ticket["equipment"]:
            for p in machine["parts"]:
                rows.append(
                    (*_visit(ticket), machine["tag"], p["use"], p["quantity"], p["component"], p["description"],
                     p["size"], _why(p), ticket["status"], p["id"])
                )  # fmt: skip
    return write(PART_COLUMNS, rows)


def readings_csv(tickets: Json | Iterable[Json]) -> bytes:
    """One row a reading; `difference` and `reference` say what a UCUM code cannot."""
    rows = []
    for ticket in _several(tickets):
        for machine in ticket["equipment"]:
            for r in machine["readings"]:
                rows.append(
                    (*_visit(ticket), machine["tag"], r["point"], r["component"], r["number"], r["legs"], r["stage"],
                     r["circuit"], r["position"], r["basis"], r["moment"], r["value"], r["ucum"], r["unit"],
                     r["text"], "true" if r.get("difference") else None, r.get("reference"), r["confidence"],
                     _why(r), r["said"], ticket["status"], r["id"])
                )  # fmt: skip
    return write(READING_COLUMNS, rows)


def write(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """The table as CSV bytes.

    Text that a spreadsheet would run as a formula gets a leading apostrophe; numbers stay numbers.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([cell(v) for v in row])
    return out.getvalue().encode("utf-8")


def cell(value: object) -> str:
    """One value as the text between two commas."""
    if value is None:
        return ""
    if isinstance(value, int | float) and not isinstance(value, bool):
        from hatchnote.export.wording import number

        return number(float(value)).replace(",", "")
    text = str(value)
    return "'" + text if text.startswith(_FORMULA_STARTS) else text


def _several(tickets: Json | Iterable[Json]) -> Iterable[Json]:
    return [tickets] if isinstance(tickets, dict) else tickets


def _visit(ticket: Json) -> tuple[object, ...]:
    visit = ticket["visit"]
    return ticket["id"], visit["date"], visit["site"], visit["technician"]


def _why(item: Json) -> str | None:
    return item["check"]["why"] if item["check"] else None
