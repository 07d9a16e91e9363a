"""What a complete record would hold and this one does not: rules in models/vocabulary/completeness.toml."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hatchnote.domain import Missing
from hatchnote.trade.cautions import slug
from hatchnote.trade.rulefiles import entries
from hatchnote.trade.triggers import Scene, any_of


def rules() -> tuple[dict[str, Any], ...]:
    """The rules in the order of the file."""
    return entries("completeness.toml", "rule", ("id", "any", "item"))


def missing(scene: Scene) -> Iterator[Missing]:
    """The gaps of one machine's record. The same thing asked for by several rules is named once."""
    asked: set[str] = set()
    for rule in rules():
        because = any_of(rule["any"], scene)
        if not because or any_of(rule.get("unless", []), scene):
            continue
        for item in rule["item"]:
            if item["what"] in asked or any_of(item["has"], scene):
                continue
            asked.add(item["what"])
            tag = scene.machine.tag
            ids = tuple(dict.fromkeys(m.id for m in because if m.id))
            yield Missing(f"M-{rule['id']}-{item['id']}-{slug(tag)}", item["what"], item["why"], ids, tag)
