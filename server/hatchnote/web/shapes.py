"""JSON Schemas of what the API takes and gives, used for checking requests and in the OpenAPI document."""

from __future__ import annotations

import dataclasses
from typing import Any

from hatchnote.domain import Nameplate

Json = dict[str, Any]


def obj(properties: Json, *, optional: tuple[str, ...] = (), closed: bool = True) -> Json:
    """An object that needs every property but the optional ones, and knows no others."""
    shape: Json = {"type": "object", "properties": properties}
    required = [name for name in properties if name not in optional]
    if required:
        shape["required"] = required
    if closed:
        shape["additionalProperties"] = False
    return shape


def all_of(item: Json, most: int = 10_000) -> Json:
    return {"type": "array", "items": item, "maxItems": most}


def text(most: int = 200, least: int = 0) -> Json:
    return {"type": "string", "maxLength": most, "minLength": least, "pattern": r"^[^\u0000]*$"}


def or_null(schema: Json) -> Json:
    return {"anyOf": [schema, {"type": "null"}]}


def whole(least: int, most: int) -> Json:
    return {"type": "integer", "minimum": least, "maximum": most}


def number(least: float, most: float) -> Json:
    return {"type": "number", "minimum": least, "maximum": most}


ANY: Json = {}
STRING: Json = {"type": "string"}
NULL_STRING: Json = {"type": ["string", "null"]}
NUMBER: Json = {"type": "number"}
NULL_NUMBER: Json = {"type": ["number", "null"]}
INTEGER: Json = {"type": "integer"}
BOOLEAN: Json = {"type": "boolean"}
ID: Json = {
    "type": "string",
    "format": "uuid",
    "pattern": "^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$",
}
DAY: Json = {"type": "string", "format": "date", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
MOMENT: Json = {
    "type": "string",
    "maxLength": 40,
    "pattern": r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,9})?)?(Z|[+-]\d{2}:\d{2})$",
}
SHA256: Json = {"type": "string", "pattern": "^[0-9a-f]{64}$"}
TAG: Json = {"type": "string", "minLength": 1, "maxLength": 60, "pattern": r"^[^\u0000-\u001f/]+$"}
ROLE: Json = {"enum": ["technician", "office", "administrator"]}
STATUS: Json = {"enum": ["draft", "checked", "approved", "returned"]}

ERROR: Json = obj({"error": STRING, "code": STRING}, closed=False)

PERSON: Json = obj({"id": STRING, "name": STRING})
ME: Json = obj({"id": STRING, "name": STRING, "role": ROLE, "csrf": STRING, "server_time": STRING})

SITE_BODY: Json = obj(
    {"name": text(200, 1), "altitude_ft": or_null(number(-1500, 20_000)), "address": or_null(text(500))},
    optional=("altitude_ft", "address"),
)
SITE: Json = obj({"id": STRING, "name": STRING, "altitude_ft": NULL_NUMBER, "address": NULL_STRING})

_AMPS = number(0, 10_000)
_PLATE_FIELDS = tuple(f.name for f in dataclasses.fields(Nameplate))
NAMEPLATE: Json = obj(
    {
        "volts": or_null(text(40)),
        "phase": {"enum": [1, 3, None]},
        "compressor_rla": all_of(_AMPS, 20),
        "fan_fla": or_null(_AMPS),
        "condenser_fan_fla": or_null(_AMPS),
        "rise_min": or_null(number(0, 500)),
        "rise_max": or_null(number(0, 500)),
        "gas": {"enum": ["natural", "propane", None]},
        "input_btuh": or_null(number(0, 1e8)),
        "output_btuh": or_null(number(0, 1e8)),
        "manifold_inwc": or_null(number(0, 100)),
        "inlet_min_inwc": or_null(number(0, 500)),
        "inlet_max_inwc": or_null(number(0, 500)),
        "capacitor_uf": all_of(number(0, 10_000), 20),
        "capacitor_tolerance_pct": or_null(number(0, 100)),
        "refrigerant": or_null(text(20)),
        "charge_lb": all_of(number(0, 10_000), 20),
        "superheat_target": or_null(number(0, 200)),
        "subcooling_target": or_null(number(0, 200)),
        "belt": or_null(text(40)),
        "filters": or_null(text(80)),
        "max_static_inwc": or_null(number(0, 100)),
        "sensor_curve": {"enum": ["10K-2", "10K-3", "Pt1000", None]},
    },
    optional=_PLATE_FIELDS,
)
MACHINE_BODY: Json = obj(
    {"nicknames": all_of(text(60, 1), 20), "nameplate": NAMEPLATE}, optional=("nicknames", "nameplate")
)
MACHINE: Json = obj({"tag": STRING, "nicknames": all_of(STRING), "nameplate": NAMEPLATE})

VISIT_BODY: Json = obj(
    {"site_id": ID, "site_name": text(200, 1), "date": DAY, "technician_id": or_null(STRING)},
    optional=("site_id", "site_name", "technician_id"),
)
VISIT: Json = obj(
    {
        "id": STRING,
        "date": STRING,
        "status": STATUS,
        "site": obj({"id": STRING, "name": STRING, "altitude_ft": NULL_NUMBER}),
        "technician": PERSON,
        "equipment": all_of(MACHINE),
        "ticket_id": STRING,
    }
)

SEGMENT: Json = obj(
    {
        "id": ID,
        "seq": whole(0, 100_000),
        "bytes": or_null(whole(1, 2**40)),
        "sha256": or_null(SHA256),
        "mime": or_null(text(100)),
    },
    optional=("bytes", "sha256", "mime"),
)
MARK: Json = obj(
    {"at_s": number(0, 1e6), "kind": text(40, 1), "photo_id": or_null(ID)},
    optional=("photo_id",),
    closed=False,
)
RECORDING_BODY: Json = obj(
    {
        "ticket_id": ID,
        "started_at": MOMENT,
        "segments": all_of(SEGMENT, 1000),
        "marks": all_of(MARK, 1000),
        "finished": BOOLEAN,
        "settings": {"type": "object", "maxProperties": 60},
    },
    optional=("segments", "marks", "finished", "settings"),
)
RECORDING: Json = obj(
    {
        "id": STRING,
        "ticket_id": STRING,
        "status": {"enum": ["waiting", "receiving", "listening", "done", "set-aside"]},
        "segments": all_of(
            obj({"id": STRING, "seq": INTEGER, "received_bytes": INTEGER, "sha256": NULL_STRING})
        ),
        "progress": number(0, 1),
        "eta_s": NULL_NUMBER,
        "error": NULL_STRING,
        "words_so_far": STRING,
        "finished": BOOLEAN,
        "duration_s": NULL_NUMBER,
    }
)
NOTE_BODY: Json = obj({"ticket_id": ID, "text": text(20_000, 1), "at": MOMENT})
RECEIPT: Json = obj({"id": STRING, "sha256": SHA256, "bytes": INTEGER})

TICKET_ROW: Json = obj(
    {
        "id": STRING,
        "status": STATUS,
        "site": STRING,
        "site_id": STRING,
        "date": STRING,
        "technician": STRING,
        "technician_id": STRING,
        "checks": INTEGER,
        "missing": INTEGER,
        "machines": INTEGER,
        "age_s": NUMBER,
        "revision": INTEGER,
    }
)
TICKET: Json = {"$ref": "#/components/schemas/Ticket"}
EDIT: Json = obj(
    {
        "id": ID,
        "at": MOMENT,
        "op": {
            "enum": ["set", "add", "remove", "move", "accept", "join", "part", "back"],
            "description": "set a field, add or remove an item, move it to another machine, accept it as it is;"
            " join the dictation `item` to the one right before it (`after`), so that both are read as one, or"
            " part them; take back the change whose id is `after`, as if it had not been made.",
        },
        "kind": {"enum": ["reading", "work", "part", "finding", "photo", "machine", "dictation"]},
        "item": {**or_null(text(200)), "description": "The item's id; the tag for kind machine."},
        "field": {**or_null(text(60)), "description": "For op set."},
        "before": {"description": "What the author saw; the edit applies while it still holds."},
        "after": {
            "description": "The new value; the whole item for add; for join the dictation before; for back the"
            " id of the change to take back."
        },
    },
    optional=("item", "field", "before", "after"),
)
EDITS_BODY: Json = obj({"base_revision": whole(0, 2**31), "edits": all_of(EDIT, 500)})
CONFLICT: Json = obj(
    {"edit": STRING, "item": NULL_STRING, "field": NULL_STRING, "before": ANY, "yours": ANY, "theirs": ANY,
     "who": NULL_STRING, "gone": BOOLEAN}
)  # fmt: skip
STATUS_BODY: Json = obj(
    {"to": STATUS, "note": or_null(text(2000)), "base_revision": whole(0, 2**31)},
    optional=("note", "base_revision"),
)
