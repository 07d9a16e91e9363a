"""Frozen dataclasses ↔ JSON, for what the database keeps: transcripts, facts, nameplates."""

from __future__ import annotations

import dataclasses
import json
import types
import zlib
from functools import cache
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

T = TypeVar("T")


def dumps(value: Any) -> str:
    """Compact JSON with sorted keys: equal values give equal text, which digests rely on."""
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def pack(value: Any) -> bytes:
    """A dataclass or plain value as zlib-packed JSON."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        value = dataclasses.asdict(value)
    return zlib.compress(dumps(value).encode(), 6)


def unpack(data: bytes) -> Any:
    return json.loads(zlib.decompress(data))


def unpack_as(cls: type[T], data: bytes) -> T:
    """The dataclass `cls` that `pack` was given."""
    return from_plain(cls, unpack(data))


def from_plain(cls: type[T], data: dict[str, Any]) -> T:
    """Build a dataclass from plain values, nested ones and tuples included.

    Fields that the class does not have (any more) are left out, those missing take their defaults: what an
    older or newer version stored still opens.
    """
    hints = _hints(cast(Any, cls))
    known = {f.name for f in dataclasses.fields(cast(Any, cls))}
    return cls(**{name: _build(hints[name], value) for name, value in data.items() if name in known})


@cache
def _hints(cls: type) -> dict[str, Any]:
    return get_type_hints(cls)


def _build(hint: Any, value: Any) -> Any:
    if value is None:
        return None
    if dataclasses.is_dataclass(hint):
        return from_plain(hint, value)  # type: ignore[arg-type]
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        inner = [a for a in arguments if a is not type(None)]
        return _build(inner[0], value) if len(inner) == 1 else value
    if origin is tuple:
        if len(arguments) == 2 and arguments[1] is Ellipsis:
            return tuple(_build(arguments[0], v) for v in value)
        return tuple(_build(a, v) for a, v in zip(arguments, value, strict=True))
    return value
