"""What an entry of the vocabulary holds: points, components, verbs, conditions, sound-alikes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from hatchnote.errors import BadInput

Node = dict[str, Any]
"""A trie of words; the key "" holds the terms that end here."""


class BadVocabulary(BadInput):
    """A vocabulary file holds a mistake; the message names file and line."""


class Term(NamedTuple):
    """What a spoken form stands for."""

    kind: str
    """point, component, family, verb, condition, cue, machine"""
    slug: str
    form: str = ""
    """verb: base, past, ing or third; condition: adjective, verb or noun; "plural" of a component"""
    weak: bool = False
    plural: bool = False


@dataclass(frozen=True, slots=True)
class PointEntry:
    slug: str
    unit: str
    ucum: str
    units: tuple[str, ...]
    likely: tuple[float, float]
    possible: tuple[float, float]
    spoken: str = "join"
    components: tuple[str, ...] = ()
    default: str | None = None
    circuit: bool = False
    difference: bool = False
    text: bool = False
    set: bool = False
    site: bool = False
    adjust: str | None = None
    positions: Mapping[str, str] = field(default_factory=dict)
    default_position: str | None = None
    windows: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """Narrower `likely` windows by component."""


@dataclass(frozen=True, slots=True)
class ComponentEntry:
    slug: str
    label: str
    family: tuple[str, ...] = ()
    implied: str | None = None
    marked: tuple[str, ...] = ()
    size: tuple[str, ...] = ()
    paired: int = 2
    no_part: bool = False
    site: bool = False


@dataclass(frozen=True, slots=True)
class VerbEntry:
    slug: str
    parts: str | None = None
    takes: tuple[str, ...] = ()
    component: str | None = None
    bare: bool = False
    object: bool = True
    silent: bool = False


@dataclass(frozen=True, slots=True)
class ConditionEntry:
    slug: str
    only: tuple[str, ...] = ()
    component: str | None = None


@dataclass(frozen=True, slots=True)
class SoundAlike:
    heard: tuple[str, ...]
    meant: str
    near: tuple[str, ...] = ()
    always: bool = False
    next: str | None = None
    previous: str | None = None
    digits: bool = False
    quiet: bool = False
    first: bool = False
    """Only the first heard word is meant otherwise; the rest stands as heard."""


@dataclass(frozen=True)
class Vocabulary:
    """All entries by slug, and the trie of their spoken forms."""

    points: dict[str, PointEntry]
    components: dict[str, ComponentEntry]
    verbs: dict[str, VerbEntry]
    conditions: dict[str, ConditionEntry]
    machines: dict[str, tuple[str, ...]]
    soundalikes: tuple[SoundAlike, ...]
    trie: Node
    sound_trie: Node
    spoken: dict[str, dict[str, tuple[str, ...]]]
    """kind -> slug -> spoken forms, as written in the files: for priming a recogniser and for editors."""
