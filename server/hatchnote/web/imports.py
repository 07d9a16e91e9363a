"""Sites and machines from a CSV table: every problem of every row first, then all of it or nothing.

A table adds to what is known. A column that it lacks, or a cell left empty, leaves what somebody entered before.
"""

from __future__ import annotations

import csv
import io
import uuid
from dataclasses import asdict, dataclass, field, replace
from typing import Any, cast

import jsonschema
from flask import Blueprint

from hatchnote.domain import Equipment, Nameplate
from hatchnote.errors import BadInput, NotFound
from hatchnote.store import places
from hatchnote.store.packing import from_plain
from hatchnote.web import shapes as s
from hatchnote.web.context import store
from hatchnote.web.endpoint import OFFICE, complain, endpoint

bp = Blueprint("imports", __name__)
Json = dict[str, Any]

PLACE_COLUMNS = ("site", "address", "altitude_ft", "tag", "nicknames")
COLUMNS = (*PLACE_COLUMNS, *s.NAMEPLATE["properties"])
"""Columns the table may have; `site` and `tag` it must. Several values in one cell stand apart by semicolons."""
MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in one row; `row` counts lines of the table, the heading being 1."""

    row: int
    column: str | None
    sentence: str


@dataclass(slots=True)
class _Row:
    number: int
    site: Json = field(default_factory=dict)
    machine: Equipment | None = None
    given: frozenset[str] = frozenset()
    """Fields of the plate, and "nicknames", whose cells hold something; the others leave what is there."""

    def onto(self, there: Equipment | None) -> Equipment:
        """The machine after this row."""
        new = cast(Equipment, self.machine)
        if there is None:
            return new
        told = {f: getattr(new.nameplate, f) for f in self.given - {"nicknames"}}
        names = new.nicknames if "nicknames" in self.given else there.nicknames
        return Equipment(there.tag, names, replace(there.nameplate, **told))


@endpoint(
    bp,
    "POST",
    "/imports/equipment",
    roles=OFFICE,
    summary="Read a CSV table of machines; with dry_run=1, or with any problem, nothing is written",
    query={"dry_run": {"enum": ["0", "1"]}},
    body=s.obj({"csv": s.text(1_900_000)}),
    answers={
        200: s.obj(
            {
                "rows": s.INTEGER,
                "new_sites": s.all_of(s.STRING, MOST_ROWS),
                "new_machines": s.INTEGER,
                "changed_machines": s.INTEGER,
                "problems": s.all_of(
                    s.obj({"row": s.INTEGER, "column": s.NULL_STRING, "sentence": s.STRING}), MOST_ROWS
                ),
                "written": s.BOOLEAN,
            }
        )
    },
)
def import_equipment(body: Json, query: Json) -> Json:
    rows, problems = read_table(body["csv"])
    with store().db.write():
        known = {r["name"].casefold(): r["id"] for r in places.sites(store())}
        new_sites = list(
            dict.fromkeys(r.site["name"] for r in rows if r.site and r.site["name"].casefold() not in known)
        )
        new = changed = 0
        for r in rows:
            if r.machine is None:
                continue
            site_id = known.get(r.site["name"].casefold())
            there = _there(site_id, r.machine.tag)
            new += there is None
            changed += there is not None and there != r.onto(there)
        write = query["dry_run"] != "1" and not problems
        if write:
            _write(rows, known)
    return {
        "rows": len(rows),
        "new_sites": new_sites,
        "new_machines": new,
        "changed_machines": changed,
        "problems": [asdict(p) for p in problems],
        "written": write,
    }


def read_table(text: str) -> tuple[list[_Row], list[Problem]]:
    """Rows and everything that is wrong with them. Raises BadInput when it is no table at all."""
    reader = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), strict=True)
    rows: list[_Row] = []
    problems: list[Problem] = []
    seen: dict[tuple[str, str], int] = {}
    try:
        heading = [h.strip().lower() for h in next(reader, [])]
        _check_heading(heading)
        for number, cells in enumerate(reader, start=2):
            if not any(c.strip() for c in cells):
                continue
            if len(rows) >= MOST_ROWS:
                raise BadInput(f"The table has more than {MOST_ROWS} rows; split it.")
            row, found = _read_row(number, heading, cells)
            if row.machine is not None:
                key = (row.site["name"].casefold(), row.machine.tag.casefold())
                if key in seen:
                    found.append(Problem(number, "tag", f"This machine stands in row {seen[key]} already."))
                seen.setdefault(key, number)
            rows.append(row)
            problems += found
    except csv.Error as error:
        raise BadInput(
            f"Line {reader.line_num} is no CSV ({error}); save the table as CSV once more."
        ) from error
    return rows, problems


def _check_heading(heading: list[str]) -> None:
    for needed in ("site", "tag"):
        if needed not in heading:
            raise BadInput(f"The first row must name the columns, {needed} among them.")
    unknown = [h for h in heading if h not in COLUMNS]
    if unknown:
        raise BadInput(f"There is no column {unknown[0][:60]!r}; known are {', '.join(COLUMNS)}.")
    if len(set(heading)) != len(heading):
        raise BadInput("A column stands twice in the first row; leave one out.")


def _read_row(number: int, heading: list[str], cells: list[str]) -> tuple[_Row, list[Problem]]:
    problems: list[Problem] = []
    if len(cells) != len(heading):
        sentence = f"This row has {len(cells)} cells where the heading has {len(heading)}."
        return _Row(number), [Problem(number, None, sentence)]
    given = {h: c.strip() for h, c in zip(heading, cells, strict=True)}
    site: Json = {"name": given["site"], "address": given.get("address") or None}
    site["altitude_ft"] = _number(number, "altitude_ft", given.get("altitude_ft", ""), problems)
    plate: Json = {}
    for column in heading:
        if column in PLACE_COLUMNS or not given[column]:
            continue
        value = _plate_value(number, column, given[column], problems)
        if value is not None:
            plate[column] = value
    for column, value in (("site", site["name"]), ("tag", given["tag"])):
        if not value:
            problems.append(Problem(number, column, f"The {column} is empty."))
    if len(given["tag"]) > 60 or not given["tag"].isprintable() or "/" in given["tag"]:
        problems.append(
            Problem(number, "tag", "A tag has at most 60 characters, on one line, without a slash.")
        )
    _complain(s.SITE_BODY, {**site, "name": site["name"] or "?"}, number, problems)
    _complain(s.NAMEPLATE, plate, number, problems)
    nicknames = tuple(n.strip() for n in given.get("nicknames", "").split(";") if n.strip())
    if len(nicknames) > 20 or any(len(n) > 60 for n in nicknames):
        problems.append(Problem(number, "nicknames", "At most 20 nicknames of at most 60 characters each."))
    if problems:
        return _Row(number, site if site["name"] else {}), problems
    machine = Equipment(given["tag"], nicknames, from_plain(Nameplate, plate))
    return _Row(number, site, machine, frozenset([*plate, *(["nicknames"] if nicknames else [])])), []


def _plate_value(number: int, column: str, text: str, problems: list[Problem]) -> Any:
    shape = s.NAMEPLATE["properties"][column]
    if shape.get("type") == "array":
        return [
            v
            for part in text.split(";")
            if (v := _number(number, column, part.strip(), problems)) is not None
        ]
    if column == "phase" or "number" in str(shape.get("anyOf", "")):
        value = _number(number, column, text, problems)
        return int(value) if column == "phase" and value is not None and value.is_integer() else value
    return text


def _number(row: int, column: str, text: str, problems: list[Problem]) -> float | None:
    if not text:
        return None
    try:
        value = float(text.replace(",", ""))
    except ValueError:
        value = float("nan")
    if value != value or abs(value) == float("inf"):
        problems.append(Problem(row, column, f"{text[:40]!r} is no number."))
        return None
    return value


def _complain(shape: Json, values: Json, row: int, problems: list[Problem]) -> None:
    """One sentence a column that does not fit, unless something was said of it already."""
    for column, value in values.items():
        if any(p.column == column for p in problems):
            continue
        one = {"type": "object", "properties": {column: shape["properties"][column]}}
        try:
            complain(jsonschema.Draft202012Validator(one), {column: value})
        except BadInput as told:
            problems.append(Problem(row, column, str(told)))


def _there(site_id: str | None, tag: str) -> Equipment | None:
    try:
        return places.machine(store(), site_id, tag) if site_id else None
    except NotFound:
        return None


def _write(rows: list[_Row], known: dict[str, str]) -> None:
    for r in rows:
        if r.machine is None:
            continue
        name = r.site["name"]
        site_id = known.setdefault(name.casefold(), str(uuid.uuid4()))
        try:
            old: Json = places.site(store(), site_id)
        except NotFound:
            old = {"name": name, "address": None, "altitude_ft": None}
        places.put_site(
            store(),
            site_id,
            name=old["name"],
            altitude_ft=old["altitude_ft"] if r.site["altitude_ft"] is None else r.site["altitude_ft"],
            address=r.site["address"] or old["address"],
        )
        places.put_machine(store(), site_id, r.onto(_there(site_id, r.machine.tag)))
