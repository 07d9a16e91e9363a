"""Contract 2: the ticket as one JSON document. The schema is `ticket.schema.json` beside this file."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any, cast

from hatchnote.domain import (
    Caution,
    Check,
    Computed,
    Finding,
    MachineRecord,
    Missing,
    Part,
    Photo,
    Reading,
    Span,
    Ticket,
    Transcript,
    WorkItem,
)

Json = dict[str, Any]
SCHEMA_NAME = "hatchnote.ticket/1"
_GAUGE = {"suction-pressure", "discharge-pressure", "liquid-pressure"}


def to_json(ticket: Ticket) -> Json:
    """The document that `hatchnote ticket --json` prints and `GET /api/v1/tickets/{id}` answers with."""
    return {
        "schema": SCHEMA_NAME,
        "id": ticket.id,
        "status": ticket.status,
        "visit": {
            "site": ticket.visit.site,
            "date": ticket.visit.date,
            "technician": ticket.visit.technician,
        },
        "equipment": [_machine(m) for m in ticket.equipment],
        "dictations": [dictation_json(t) for t in ticket.dictations],
        "withdrawn": [reading_json(r) for r in ticket.withdrawn],
    }


@cache
def schema() -> Json:
    """The JSON Schema (2020-12) that every document of `to_json` satisfies."""
    text = (Path(__file__).parent / "ticket.schema.json").read_text(encoding="utf-8")
    return cast(Json, json.loads(text))


def validate(document: Json) -> None:
    """Raise jsonschema.ValidationError when `document` is no ticket of Contract 2."""
    import jsonschema

    jsonschema.Draft202012Validator(schema()).validate(document)


def _machine(m: MachineRecord) -> Json:
    return {
        "tag": m.tag,
        "summary": m.summary,
        "readings": [reading_json(r) for r in m.readings],
        "work": [work_json(w) for w in m.work],
        "parts": [part_json(p) for p in m.parts],
        "findings": [finding_json(f) for f in m.findings],
        "computed": [computed_json(c) for c in m.computed],
        "cautions": [caution_json(c) for c in m.cautions],
        "missing": [missing_json(x) for x in m.missing],
        "photos": [photo_json(p) for p in m.photos],
    }


def reading_json(r: Reading) -> Json:
    """One reading. `difference` and `reference` say what a UCUM code cannot."""
    out: Json = {
        "id": r.id,
        "point": r.point,
        "component": r.component,
        "number": r.number,
        "legs": r.legs,
        "stage": r.stage,
        "circuit": r.circuit,
        "position": r.position,
        "basis": r.basis,
        "moment": r.moment,
        "value": r.value,
        "unit": r.unit,
        "ucum": r.ucum,
        "text": r.text,
        "said": r.said,
        "heard": _span(r.heard),
        "confidence": round(r.confidence, 3),
        "check": _check(r.check),
        "rule": r.rule,
    }
    if r.difference:
        out["difference"] = True
    if r.point in _GAUGE:
        out["reference"] = "gauge"
    return out


def work_json(w: WorkItem) -> Json:
    """One work item."""
    return {
        "id": w.id,
        "verb": w.verb,
        "component": w.component,
        "number": w.number,
        "state": w.state,
        "detail": w.detail,
        "quantity": w.quantity,
        **_tail(w),
    }


def part_json(p: Part) -> Json:
    """One part."""
    return {
        "id": p.id,
        "component": p.component,
        "description": p.description,
        "size": p.size,
        "quantity": p.quantity,
        "use": p.use,
        **_tail(p),
    }


def finding_json(f: Finding) -> Json:
    """One finding."""
    return {
        "id": f.id,
        "component": f.component,
        "number": f.number,
        "condition": f.condition,
        **_tail(f),
    }


def computed_json(c: Computed) -> Json:
    """One computed value with the numbers that went in."""
    out: Json = {
        "id": c.id,
        "name": c.name,
        "value": c.value,
        "unit": c.unit,
        "ucum": c.ucum,
        "from": list(c.inputs),
        "formula": c.formula,
        "source": c.source,
        "judgement": c.judgement,
        "expected": c.expected,
    }
    if c.difference:
        out["difference"] = True
    if c.depends_on_check:
        out["depends_on_check"] = True
    return out


def caution_json(c: Caution) -> Json:
    """One caution or hint."""
    return {
        "id": c.id,
        "text": c.text,
        "source": c.source,
        "because": list(c.because),
        "kind": c.kind,
    }


def missing_json(m: Missing) -> Json:
    """One missing item."""
    return {"id": m.id, "what": m.what, "why": m.why, "because": list(m.because)}


def photo_json(p: Photo) -> Json:
    """One photo; the bytes are fetched by id."""
    return {
        "id": p.id,
        "sha256": p.sha256,
        "name": p.name,
        "width": p.width,
        "height": p.height,
        "taken_at": p.taken_at,
        "caption": p.caption,
        "dictation": p.dictation,
        "at_s": p.at_s,
        "rotation": p.rotation,
        "left_out": p.left_out,
    }


def _tail(item: WorkItem | Part | Finding) -> Json:
    return {
        "heard": _span(item.heard),
        "confidence": round(item.confidence, 3),
        "check": _check(item.check),
        "rule": item.rule,
    }


def _span(s: Span) -> Json:
    out: Json = {
        "dictation": s.dictation,
        "start": None if s.start is None else round(s.start, 3),
        "end": None if s.end is None else round(s.end, 3),
        "from": s.start_char,
        "to": s.end_char,
    }
    if s.continued is not None:
        out["continued"] = _span(s.continued)
    return out


def _check(c: Check | None) -> Json | None:
    if c is None:
        return None
    return {
        "why": c.why,
        "alternatives": [{"value": a.value, "ucum": a.ucum, "text": a.text} for a in c.alternatives],
    }


def dictation_json(t: Transcript) -> Json:
    """The words of one dictation with seconds and probabilities."""

    def r(x: float | None) -> float | None:
        return None if x is None else round(x, 3)

    out: Json = {
        "id": t.id,
        "duration_s": r(t.duration_s),
        "language": t.language,
        "words": [{"text": w.text, "start": r(w.start), "end": r(w.end), "p": r(w.p)} for w in t.words],
        "warnings": list(t.warnings),
    }
    if t.continues is not None:
        out["continues"] = t.continues
    return out
