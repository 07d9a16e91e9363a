"""Reading the rule files, once, with an error that names the file and the entry."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from typing import Any

from hatchnote.errors import BadInput
from hatchnote.places import MODELS, data_folder
from hatchnote.trade.triggers import KINDS

GROUPS = ("any", "all", "none", "also", "unless", "has")


@lru_cache(maxsize=8)
def entries(file: str, key: str, required: tuple[str, ...]) -> tuple[dict[str, Any], ...]:
    """The tables `key` of models/vocabulary/`file`. Raises BadInput for one that lacks a key or has a wrong trigger."""
    path = data_folder(MODELS) / "vocabulary" / file
    found = tomllib.loads(path.read_text(encoding="utf-8")).get(key, [])
    for entry in found:
        where = f"{file}, {key} {entry.get('id', '?')}"
        _check(entry, required, where)
        for item in entry.get("item", []):
            _check(item, ("id", "what", "why", "has"), where)
    ids = [e["id"] for e in found]
    if len(ids) != len(set(ids)):
        raise BadInput(f"{file} has two entries with the same id; give each its own.")
    return tuple(found)


def _check(entry: dict[str, Any], required: tuple[str, ...], where: str) -> None:
    for name in required:
        if name not in entry:
            raise BadInput(f"{where} lacks `{name}`; add it.")
    for group in GROUPS:
        for trigger in entry.get(group, []):
            if trigger.get("kind") not in KINDS:
                raise BadInput(
                    f"{where} has a trigger of no known kind ({trigger.get('kind')}); see triggers.py."
                )
