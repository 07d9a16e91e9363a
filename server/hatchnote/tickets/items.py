"""The items of a ticket by kind: which fields a person may change, and items built from their JSON."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable
from typing import Any, Literal, cast, get_args

from hatchnote.domain import (
    Alternative,
    Basis,
    Check,
    Finding,
    Moment,
    Part,
    PartUse,
    Photo,
    Reading,
    Span,
    WorkItem,
    WorkState,
)
from hatchnote.errors import BadInput
from hatchnote.tickets.document import Json, finding_json, part_json, photo_json, reading_json, work_json

ItemKind = Literal["reading", "work", "part", "finding", "photo"]
Item = Reading | WorkItem | Part | Finding | Photo
KINDS: dict[ItemKind, type[Item]] = {
    "reading": Reading,
    "work": WorkItem,
    "part": Part,
    "finding": Finding,
    "photo": Photo,
}
SLUG_LENGTH = 60
TEXT_LENGTH = 2000


def _text(value: Any) -> bool:
    return isinstance(value, str) and len(value) <= TEXT_LENGTH


def _short(value: Any) -> bool:
    return isinstance(value, str) and 0 < len(value) <= SLUG_LENGTH


def _slug(value: Any) -> bool:
    return (
        _short(value)
        and all(part.isalnum() and part.isascii() for part in value.split("-"))
        and value.islower()
    )


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _amount(value: Any) -> bool:
    return _number(value) and value >= 0


def _flag(value: Any) -> bool:
    return isinstance(value, bool)


def _one_of(*allowed: Any) -> Callable[[Any], bool]:
    return lambda value: value in allowed


def _or_nothing(test: Callable[[Any], bool]) -> Callable[[Any], bool]:
    return lambda value: value is None or test(value)


_COMMON = {"tag": _or_nothing(_short)}
FIELDS: dict[ItemKind, dict[str, Callable[[Any], bool]]] = {
    "reading": {
        **_COMMON,
        "point": _slug,
        "value": _or_nothing(_number),
        "unit": _or_nothing(_short),
        "ucum": _or_nothing(_short),
        "text": _or_nothing(_text),
        "component": _or_nothing(_slug),
        "number": _or_nothing(_short),
        "legs": _or_nothing(_short),
        "stage": _one_of("low", "high", None),
        "circuit": _or_nothing(_short),
        "position": _or_nothing(_short),
        "basis": _one_of(*get_args(Basis)),
        "moment": _one_of(*get_args(Moment), None),
        "difference": _flag,
    },
    "work": {
        **_COMMON,
        "verb": _slug,
        "component": _or_nothing(_slug),
        "number": _or_nothing(_short),
        "state": _one_of(*get_args(WorkState)),
        "detail": _or_nothing(_text),
        "quantity": _or_nothing(_amount),
    },
    "part": {
        **_COMMON,
        "component": _slug,
        "description": _text,
        "size": _or_nothing(_text),
        "quantity": _amount,
        "use": _one_of(*get_args(PartUse)),
    },
    "finding": {**_COMMON, "component": _slug, "number": _or_nothing(_short), "condition": _slug},
    "photo": {
        **_COMMON,
        "caption": _or_nothing(_text),
        "rotation": _one_of(0, 90, 180, 270),
        "left_out": _flag,
    },
}
SETTLES: dict[ItemKind, frozenset[str]] = {
    "reading": frozenset({"point", "value", "unit", "ucum", "text"}),
    "work": frozenset({"verb", "component", "state"}),
    "part": frozenset({"component", "size", "quantity", "use"}),
    "finding": frozenset({"component", "condition"}),
    "photo": frozenset(),
}
"""Fields whose setting by a person answers the question that a `check` asks."""
_REQUIRED: dict[ItemKind, tuple[str, ...]] = {
    "reading": ("point",),
    "work": ("verb", "state"),
    "part": ("component", "use"),
    "finding": ("component", "condition"),
    "photo": (),
}


def check_field(kind: ItemKind, field: str | None, value: Any) -> None:
    """Raises BadInput when a person may not set `field` of such an item to `value`."""
    test = FIELDS[kind].get(field or "")
    if test is None:
        raise BadInput(
            f"A {kind} has no field {field!r} that can be changed; use one of {', '.join(FIELDS[kind])}."
        )
    if not test(value):
        raise BadInput(f"{value!r} is no {field} of a {kind}; nothing was changed.")


def item_json(item: Item) -> Json:
    """The item as Contract 2 writes it, with its machine."""
    if isinstance(item, Reading):
        body = {**reading_json(item), "difference": item.difference}
    elif isinstance(item, WorkItem):
        body = work_json(item)
    elif isinstance(item, Part):
        body = part_json(item)
    elif isinstance(item, Finding):
        body = finding_json(item)
    else:
        body = photo_json(item)
    return {**body, "tag": item.tag}


def added_item(kind: ItemKind, id: str, given: Json) -> Item:
    """An item a person adds: nothing was heard, so it carries an empty span and full confidence.

    Raises BadInput for unknown fields, wrong values, or a missing field that such an item needs.
    """
    if kind == "photo":
        raise BadInput("A photo is added by uploading it.")
    for field, value in given.items():
        check_field(kind, field, value)
    for field in _REQUIRED[kind]:
        if given.get(field) is None:
            raise BadInput(f"A {kind} needs its {field}; nothing was changed.")
    if kind == "reading" and given.get("value") is None and not given.get("text"):
        raise BadInput("A reading needs a value or a text; nothing was changed.")
    extra: Json = {"id": id, "heard": Span(0, 0), "rule": "added by hand"}
    if kind == "reading":
        extra["said"] = ""
    return _make(kind, {**given, **extra})


def rebuilt_item(kind: ItemKind, snapshot: Json) -> Item:
    """The item that `item_json` described: keeps an edit alive when reading anew no longer yields its item."""
    body = dict(snapshot)
    if kind != "photo":
        body["heard"] = _span(body["heard"])
        check = body.get("check")
        if check:
            body["check"] = Check(check["why"], tuple(Alternative(**a) for a in check["alternatives"]))
    return _make(kind, body)


def _span(span: Json) -> Span:
    rest = span.get("continued")
    return Span(
        span["from"], span["to"], span["dictation"], span["start"], span["end"], _span(rest) if rest else None
    )


def _make(kind: ItemKind, body: Json) -> Item:
    cls = KINDS[kind]
    known = {f.name for f in dataclasses.fields(cls)}
    make = cast(Callable[..., Item], cls)
    return make(**{name: value for name, value in body.items() if name in known})
