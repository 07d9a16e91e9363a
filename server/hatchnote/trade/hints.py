"""Patterns of readings that point somewhere, from models/vocabulary/hints.toml: "consistent with", never an order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hatchnote.domain import Caution
from hatchnote.trade.cautions import slug
from hatchnote.trade.rulefiles import entries
from hatchnote.trade.triggers import Scene, all_of, any_of


def rules() -> tuple[dict[str, Any], ...]:
    """The hints in the order of the file."""
    return entries("hints.toml", "hint", ("id", "text", "all", "source"))


def hints(scene: Scene) -> Iterator[Caution]:
    """Hints of one machine, circuit by circuit where readings name circuits. Each names its readings."""
    circuits = scene.circuits()
    views: list[tuple[str | None, Scene]] = [(c, scene.of_circuit(c)) for c in circuits] or [(None, scene)]
    shown: set[tuple[str, tuple[str, ...]]] = set()
    for rule in rules():
        for circuit, view in views:
            found = all_of(rule["all"], view)
            if not found or any_of(rule.get("none", []), view):
                continue
            found = [*found, *any_of(rule.get("also", []), view)]
            because = tuple(dict.fromkeys(m.id for m in found if m.id))
            if (rule["id"], because) in shown:
                continue
            shown.add((rule["id"], because))
            named = "; ".join(dict.fromkeys(m.named for m in found if m.named))
            text = f"Consistent with {rule['text']}: {named.rstrip('.')}."
            if any(m.doubtful for m in found):
                text += " Depends on something marked to check."
            where = f"-c{circuit}" if circuit and any(f"circuit {circuit}" in m.named for m in found) else ""
            tag = scene.machine.tag
            yield Caution(f"H-{rule['id']}{where}-{slug(tag)}", text, because, rule["source"], "hint", tag)
