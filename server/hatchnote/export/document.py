"""What stands on the customer's pages: the ticket arranged as headings, tables and lines of plain text.

Pure: a document of Contract 2 in, a `Sheet` out. Typesetting is in `typeset.py` and `ticket.typ`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hatchnote.export import wording

Json = dict[str, Any]

CHECK_MARK = "(to be confirmed)"
USUAL_CAUTION = (
    "This is a record of what was seen, measured and done on this visit. It is not a statement that the equipment "
    "meets any code or may be operated. The machine's own instructions, local codes and the judgement of licensed "
    "people come first."
)
_HEADINGS = {
    "draft": "Draft service record: not yet approved",
    "checked": "Draft service record: looked over by the technician, not yet approved",
    "returned": "Draft service record: returned to the technician",
    "approved": "Service record",
}


@dataclass(frozen=True, slots=True)
class Approval:
    """What an approved document names: its revision, the digest it was frozen with, by whom and when."""

    revision: int
    digest: str
    """SHA-256 of the frozen document, 64 hexadecimal digits."""
    by: str | None = None
    at: str | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo in the document. `file` is None when its bytes are not at hand."""

    file: str | None
    caption: str


@dataclass(frozen=True, slots=True)
class Section:
    """One machine. Every list holds finished text; a table's rows are as long as its columns."""

    title: str
    summary: str
    columns: tuple[str, ...]
    readings: tuple[tuple[str, ...], ...]
    computed: tuple[tuple[str, str, str], ...]
    findings: tuple[str, ...]
    work: tuple[tuple[str, str], ...]
    parts: tuple[tuple[str, str, str, str], ...]
    recommended: tuple[str, ...]
    cautions: tuple[str, ...]
    missing: tuple[str, ...]
    pictures: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The whole document."""

    title: str
    heading: str
    draft: bool
    facts: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    note: str
    footer: str


def arrange(ticket: Json, files: Mapping[str, str], approval: Approval | None = None) -> Sheet:
    """`files` maps a photo's id to the name of its picture file; photos not in it are named as missing."""
    visit = ticket["visit"]
    status = ticket["status"]
    facts = [("Site", visit["site"] or "not named"), ("Date of visit", visit["date"])]
    facts.append(("Technician", visit["technician"] or "not named"))
    facts.append(("Record", ticket["id"]))
    revision = approval.revision if approval else ticket.get("revision")
    if revision is not None:
        facts.append(("Revision", str(revision)))
    if status == "approved" and approval:
        facts.append(("Approved", " ".join(x for x in (approval.by, approval.at) if x) or "yes"))
        facts.append(("Digest", f"SHA-256 {approval.digest}"))
    return Sheet(
        title=f"Service record {visit['site'] or ''} {visit['date']}".replace("  ", " "),
        heading=_HEADINGS.get(status, _HEADINGS["draft"]),
        draft=status != "approved",
        facts=tuple(facts),
        sections=tuple(_section(m, files) for m in ticket["equipment"] if _has_content(m)),
        note=USUAL_CAUTION,
        footer=f"{visit['site'] or 'Service record'} · {visit['date']}"
        + (f" · revision {revision}" if revision is not None else "")
        + (" · draft" if status != "approved" else ""),
    )


def _has_content(machine: Json) -> bool:
    lists = ("readings", "work", "parts", "findings", "computed", "cautions", "missing", "photos")
    return machine["tag"] is not None or any(machine[name] for name in lists)


def _section(machine: Json, files: Mapping[str, str]) -> Section:
    columns, rows = _readings(machine["readings"])
    todo = [w for w in machine["work"] if w["state"] in ("needed", "recommended", "declined", "not-done")]
    return Section(
        title=wording.machine_name(machine["tag"]),
        summary=machine["summary"],
        columns=columns,
        readings=rows,
        computed=tuple(_computed(c) for c in machine["computed"]),
        findings=tuple(_marked(wording.finding_name(f), f) for f in machine["findings"]),
        work=tuple((_work(w), wording.STATE_NAMES["done"]) for w in machine["work"] if w["state"] == "done"),
        parts=tuple(_part(p) for p in machine["parts"]),
        recommended=tuple(f"{wording.STATE_NAMES[w['state']].capitalize()}: {_work(w)}" for w in todo),
        cautions=tuple(_caution(c) for c in machine["cautions"]),
        missing=tuple(f"{m['what']}: {m['why']}" for m in machine["missing"]),
        pictures=tuple(_picture(p, files) for p in machine["photos"] if not p["left_out"]),
    )


def _readings(readings: list[Json]) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Rows in order of first mention; a column for each moment that occurs."""
    moments = [m for m in ("as-found", "as-left", None) if any(r["moment"] == m for r in readings)]
    grouped: dict[tuple[object, ...], dict[str | None, list[str]]] = {}
    names: dict[tuple[object, ...], str] = {}
    for r in readings:
        key = wording.reading_key(r)
        names.setdefault(key, wording.reading_name(r))
        grouped.setdefault(key, {}).setdefault(r["moment"], []).append(_marked(wording.value(r), r))
    rows = tuple(
        (names[key], *("; ".join(cells.get(m, [])) or "–" for m in moments)) for key, cells in grouped.items()
    )
    return ("Reading", *(wording.MOMENT_NAMES[m].capitalize() for m in moments)), rows


def _computed(c: Json) -> tuple[str, str, str]:
    unknown = "not known" if c["judgement"] == "unknown" else "–"  # a comparison of names has no value
    value = wording.value(c) if c["value"] is not None else unknown
    if c.get("depends_on_check"):
        value += f" {CHECK_MARK}"
    judged = {"within": "within what is expected", "outside": "outside what is expected"}.get(
        c["judgement"], ""
    )
    expected = f"expected {c['expected']}" if c["expected"] else ""
    remark = "; ".join(x for x in (judged, expected, f"from {c['formula']}", c["source"]) if x)
    return c["name"], value, remark


def _work(w: Json) -> str:
    return _marked(wording.work_name(w) + (f", {w['detail']}" if w["detail"] else ""), w)


def _part(p: Json) -> tuple[str, str, str, str]:
    name = wording.plain(p["component"])
    if p["description"] and p["description"] != name:
        name = f"{name}: {p['description']}"
    return (
        wording.number(float(p["quantity"])),
        _marked(name, p),
        p["size"] or "–",
        wording.USE_NAMES[p["use"]],
    )


def _caution(c: Json) -> str:
    return str(c["text"]) + (f" ({c['source']})" if c["source"] else "")


def _picture(p: Json, files: Mapping[str, str]) -> Picture:
    file = files.get(p["id"])
    words = p["caption"] or "Photo without a caption"
    taken = f", taken {p['taken_at'][:16].replace('T', ' ')}" if p["taken_at"] else ""
    gone = "" if file else " (the picture is not at hand)"
    return Picture(file, words + taken + gone)


def _marked(text: str, item: Json) -> str:
    return f"{text} {CHECK_MARK}" if item["check"] else text
