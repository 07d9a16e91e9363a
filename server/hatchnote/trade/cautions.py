"""Cautions from models/vocabulary/cautions.toml. Those of a condition that endangers people cannot be switched off."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from hatchnote.domain import Caution
from hatchnote.errors import BadInput
from hatchnote.trade.doubts import doubts
from hatchnote.trade.rulefiles import entries
from hatchnote.trade.triggers import Match, Scene, all_of, any_of


def rules() -> tuple[dict[str, Any], ...]:
    """The caution entries in the order of the file."""
    return entries("cautions.toml", "caution", ("id", "name", "text", "source"))


def fixed() -> frozenset[str]:
    """Ids that cannot be switched off."""
    return frozenset(r["id"] for r in rules() if r.get("fixed"))


def slug(tag: str | None) -> str:
    """The end of an id: the machine it belongs to."""
    return (tag or "visit").lower().replace(" ", "-")


def cautions(scenes: list[Scene], *, muted: Collection[str] = ()) -> Iterator[Caution]:
    """Cautions of all machines. Raises BadInput when asked to mute one that is fixed, or one that does not exist."""
    refused = set(muted) & fixed()
    unknown = set(muted) - {r["id"] for r in rules()}
    if refused or unknown:
        which = ", ".join(sorted(refused or unknown))
        why = "cannot be switched off" if refused else "does not exist"
        raise BadInput(f"Caution {which} {why}; leave it out of the list.")
    for rule in sorted(rules(), key=_urgency):
        if rule["id"] in muted:
            continue
        if rule.get("scope") == "visit":
            yield from _for_visit(rule, scenes)
            continue
        for scene in scenes:
            if rule.get("code"):
                yield from _from_doubts(rule, scene)
                continue
            found = _found(rule, scene)
            if found:
                yield _caution(rule, scene.machine.tag, found)


def _urgency(rule: dict[str, Any]) -> int:
    """Dangers to people first, then the machine's own, then what holds for every visit."""
    if rule.get("fixed"):
        return 0
    return 2 if rule.get("scope") == "visit" else 1


def _found(rule: dict[str, Any], scene: Scene) -> list[Match]:
    """What brings the caution up: all of `all`, and one of `any`, where the rule has them."""
    whole = all_of(rule.get("all", []), scene)
    some = any_of(rule.get("any", []), scene)
    if ("all" in rule and not whole) or ("any" in rule and not some):
        return []
    return [*whole, *some]


def _caution(rule: dict[str, Any], tag: str | None, found: list[Match]) -> Caution:
    because = tuple(dict.fromkeys(m.id for m in found if m.id))
    named = [m for m in found if m.id]
    text = rule["text"]
    if named and all(m.doubtful for m in named):
        text += " (From something marked to check.)"
    return Caution(f"{rule['id']}-{slug(tag)}", text, because, rule["source"], "caution", tag)


def _for_visit(rule: dict[str, Any], scenes: list[Scene]) -> Iterator[Caution]:
    """Once a visit, on its first machine, so that a ticket gets no empty machine for it."""
    found = [m for scene in scenes for m in _found(rule, scene)]
    if found:
        yield _caution(rule, scenes[0].machine.tag, found)


def _from_doubts(rule: dict[str, Any], scene: Scene) -> Iterator[Caution]:
    for n, (detail, because) in enumerate(doubts(scene), 1):
        tag = scene.machine.tag
        text = rule["text"].format(detail=detail)
        yield Caution(f"{rule['id']}-{slug(tag)}-{n}", text, because, rule["source"], "caution", tag)
