"""Checking the tables of the vocabulary files and indexing their spoken forms in one trie of words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from hatchnote.notes.condition_forms import doing, lacking, refusing
from hatchnote.notes.inflect import inflections, plural
from hatchnote.notes.spoken_forms import expand
from hatchnote.notes.vocabulary_entries import (
    BadVocabulary,
    ComponentEntry,
    ConditionEntry,
    Node,
    PointEntry,
    SoundAlike,
    Term,
    VerbEntry,
    Vocabulary,
)
from hatchnote.notes.wordlists import words

KEYS = {
    "points": {
        "unit",
        "ucum",
        "units",
        "said",
        "also",
        "likely",
        "possible",
        "spoken",
        "components",
        "default",
        "circuit",
        "difference",
        "positions",
        "windows",
        "default_position",
        "text",
        "adjust",
        "set",
        "site",
    },
    "components": {"label", "said", "family", "implied", "marked", "size", "paired", "no_part", "site"},
    "verbs": {"said", "weak", "nouns", "parts", "takes", "component", "bare", "object", "silent"},
    "conditions": {"said", "verbs", "nouns", "only", "component", "weak", "refuses", "lacks", "does"},
    "machines": {"said", "loose"},
    "cues": {"said"},
    "soundalikes": {"heard", "meant", "near", "always", "next", "previous", "digits", "quiet", "first"},
}
_SPOKEN = {"said", "also", "family", "weak", "nouns", "verbs", "loose"}
"""Keys whose values are lists of spoken forms, whatever the kind."""
_UCUM = words(
    """
    V kV mV A mA uA nA Ohm kOhm MOhm GOhm uF nF Hz kHz /min [in_i'H2O] [psi] Pa kPa MPa mbar bar
    [Btu_IT]/h kW W [ppm] % [degF] Cel K [cft_i]/min L/s m3/h [ft_i]/min m/s um[Hg] m[Hg] mm[Hg] Torr
    [lb_av] [oz_av] kg g [in_i] mm [HP] [in_i].[lbf_av] [ft_i].[lbf_av] N.m deg s min h
    """
)


_JOINED = 3
"""Letters of a word that is written together with another: "a coil" and "to c" stay two."""


class _Builder:
    """Collects entries and spoken forms file by file, and refuses what cannot be."""

    def __init__(self) -> None:
        self.tables: dict[str, dict[str, dict[str, Any]]] = {k: {} for k in KEYS if k != "soundalikes"}
        self.sounds: list[SoundAlike] = []
        self.trie: Node = {}
        self.sound_trie: Node = {}
        self.owner: dict[tuple[str, str], str] = {}
        self.path = Path()

    def fail(self, text: str, slug: str, said: str | None = None) -> BadVocabulary:
        return BadVocabulary(f"{self.path}:{_line(self.path, slug, said)}: {text}")

    def read(self, path: Path, data: Mapping[str, Any]) -> None:
        self.path = path
        for kind, table in data.items():
            if kind not in KEYS:
                raise self.fail(f"there is no kind {kind!r}; use {', '.join(KEYS)}.", kind)
            if kind == "soundalikes":
                for sound in table.get("sound", ()):
                    self.sound(sound)
                continue
            for slug, entry in table.items():
                self.entry(kind, slug, entry)

    def entry(self, kind: str, slug: str, entry: Any) -> None:
        if not isinstance(entry, dict):
            raise self.fail(f"{slug!r} must be a table.", slug)
        unknown = set(entry) - KEYS[kind]
        if unknown:
            raise self.fail(f"{slug} has an unknown key {sorted(unknown)[0]!r}.", slug)
        entry = self.written_out(slug, entry)
        known = self.tables[kind]
        if slug in known:
            old = known[slug]
            for key, value in entry.items():
                old[key] = [*old[key], *value] if isinstance(value, list) and key in old else value
        else:
            if kind in ("points", "cues") and len(known) >= 1 and "said" not in entry:
                raise self.fail(f"{slug} has no spoken forms.", slug)
            known[slug] = dict(entry)
        for ucum in (*entry.get("units", ()), *filter(None, [entry.get("ucum")])):
            if ucum not in _UCUM:
                raise self.fail(f"{slug} has an unknown unit {ucum!r}; use a UCUM code.", slug, ucum)
        for key in ("likely", "possible"):
            window = entry.get(key)
            if window is not None and not (len(window) == 2 and window[0] < window[1]):
                raise self.fail(f"{slug}: {key} must be two numbers, the lower first.", slug)
        self.forms(kind, slug, entry)

    def written_out(self, slug: str, entry: Mapping[str, Any]) -> dict[str, Any]:
        """The entry with every form that was written short written out."""
        full = dict(entry)
        for key in _SPOKEN & set(entry):
            forms: dict[str, None] = {}
            for said in entry[key]:
                try:
                    forms.update(dict.fromkeys(expand(said)))
                except ValueError as error:
                    raise self.fail(str(error), slug, said) from None
            full[key] = list(forms)
        return full

    def forms(self, kind: str, slug: str, entry: Mapping[str, Any]) -> None:
        add = self.add
        if kind == "points":
            for said in entry.get("said", ()):
                add(said, Term("point", slug), slug, several=True)
            for said in entry.get("also", ()):
                add(said, Term("point", slug, weak=True), slug, several=True)
        elif kind == "components":
            for said in entry.get("said", ()):
                add(said, Term("component", slug), slug)
                add(plural(said), Term("component", slug, plural=True), slug)
            for said in entry.get("family", ()):
                add(said, Term("family", slug), slug, several=True)
                add(plural(said), Term("family", slug, plural=True), slug, several=True)
        elif kind == "verbs":
            for key in ("said", "weak"):
                for said in entry.get(key, ()):
                    for form, text in inflections(said):
                        add(text, Term("verb", slug, form, key == "weak"), slug, several=True)
            for said in entry.get("nouns", ()):
                add(said, Term("verb", slug, "noun"), slug, several=True)
        elif kind == "conditions":
            weak = set(entry.get("weak", ()))
            for said in {*entry.get("said", ()), *weak}:
                add(said, Term("condition", slug, "adjective", said in weak), slug, several=True)
            for said in entry.get("verbs", ()):
                add(said, Term("condition", slug, "verb"), slug, several=True)
            for key, forms in (("refuses", refusing), ("lacks", lacking), ("does", doing)):
                for said in entry.get(key, ()):
                    for text in forms(said):
                        add(text, Term("condition", slug, "adjective"), slug, several=True)
            for said in entry.get("nouns", ()):
                add(said, Term("condition", slug, "noun"), slug, several=True)
        elif kind == "machines":
            for said in entry.get("said", ()):
                add(said, Term("machine", slug), slug)
            for said in entry.get("loose", ()):
                add(said, Term("machine", slug, weak=True), slug)
        else:
            for said in entry.get("said", ()):
                add(said, Term("cue", slug), slug, several=True)

    def add(self, said: str, term: Term, slug: str, *, several: bool = False) -> None:
        words = said.split()
        if not words or said != said.lower():
            raise self.fail(f"the spoken form {said!r} of {slug} must be lower-case words.", slug, said)
        kind = term.kind
        if not several:
            owner = self.owner.setdefault((kind, said), slug)
            if owner != slug:
                raise self.fail(f"the spoken form {said!r} belongs to both {owner} and {slug}.", slug, said)
        node = self.trie
        for word in words:
            node = node.setdefault(word, {})
        terms = node.setdefault("", [])
        if term not in terms:
            terms.append(term)

    def sound(self, entry: Mapping[str, Any]) -> None:
        heard, meant = entry.get("heard"), entry.get("meant")
        if not heard or not meant:
            raise self.fail("a sound-alike needs `heard` and `meant`.", str(meant or ""))
        unknown = set(entry) - KEYS["soundalikes"]
        if unknown:
            raise self.fail(f"a sound-alike has an unknown key {sorted(unknown)[0]!r}.", str(meant))
        values: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in entry.items()}
        made = SoundAlike(**values)
        self.sounds.append(made)
        for text in made.heard:
            node = self.sound_trie
            for word in re.findall(r"[a-z']+|\d+", text):
                node = node.setdefault(word, {})
            node.setdefault("", []).append(made)

    def build(self) -> Vocabulary:
        t = self.tables
        points = {s: _point(s, e) for s, e in t["points"].items()}
        components = {s: _component(s, e) for s, e in t["components"].items()}
        verbs = {s: _entry(VerbEntry, s, e, {"said", "weak", "nouns"}) for s, e in t["verbs"].items()}
        conditions = {
            s: _entry(ConditionEntry, s, e, {"said", "verbs", "nouns", "weak", "refuses", "lacks", "does"})
            for s, e in t["conditions"].items()
        }
        self.crosscheck(points, components, verbs, conditions)
        self.join()
        spoken = {kind: {s: tuple(e.get("said", ())) for s, e in table.items()} for kind, table in t.items()}
        machines = {s: tuple(e.get("said", ())) for s, e in t["machines"].items()}
        return Vocabulary(
            points,
            components,
            verbs,
            conditions,
            machines,
            tuple(self.sounds),
            self.trie,
            self.sound_trie,
            spoken,
        )

    def join(self) -> None:
        """Names of two words are found as one too: recognisers write "runcap", "flamesensor"."""
        for first in [w for w in self.trie if w.isalpha() and len(w) >= _JOINED]:
            node = self.trie[first]
            for second in [w for w in node if w.isalpha() and len(w) >= _JOINED]:
                named = any(t.kind in ("component", "point") for t in node[second].get("", ()))
                if named and first + second not in self.trie:
                    self.trie[first + second] = node[second]

    def crosscheck(self, points: Any, components: Any, verbs: Any, conditions: Any) -> None:
        def need(slug: str, named: Iterable[str | None], known: Mapping[str, Any], what: str) -> None:
            for name in named:
                if name is not None and name not in known:
                    raise self.fail(
                        f"{slug} names the {what} {name!r}, which is not in the vocabulary.", slug
                    )

        for p in points.values():
            need(p.slug, (*p.components, p.default, p.adjust), components, "component")
        for c in components.values():
            need(c.slug, (c.implied, *c.marked), points, "point")
        for v in verbs.values():
            need(v.slug, (*v.takes, v.component), components, "component")
        for c in conditions.values():
            need(c.slug, (*c.only, c.component), components, "component")


def build(files: Iterable[tuple[Path, Mapping[str, Any]]]) -> Vocabulary:
    builder = _Builder()
    for path, data in files:
        builder.read(path, data)
    return builder.build()


def _entry(kind: Any, slug: str, entry: Mapping[str, Any], drop: set[str]) -> Any:
    values = {k: tuple(v) if isinstance(v, list) else v for k, v in entry.items() if k not in drop}
    return kind(slug=slug, **values)


def _point(slug: str, entry: Mapping[str, Any]) -> PointEntry:
    full = {"unit": "", "ucum": "", "units": [], "likely": [-1e9, 1e9], "possible": [-1e12, 1e12], **entry}
    made: PointEntry = _entry(PointEntry, slug, full, {"said", "also"})
    return made


def _component(slug: str, entry: Mapping[str, Any]) -> ComponentEntry:
    made: ComponentEntry = _entry(ComponentEntry, slug, {"label": slug, **entry}, {"said"})
    return made


def _line(path: Path, slug: str, said: str | None) -> int:
    """The line where `said` stands below the heading of `slug`; 1 where neither is found."""
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except OSError:
        return 1
    heading = next((i for i, x in enumerate(lines) if slug in x and x.lstrip().startswith("[")), 0)
    if said:
        for i in range(heading, len(lines)):
            if f'"{said}"' in lines[i]:
                return i + 1
    return heading + 1
