"""The vocabulary as data: models/vocabulary/*.toml read, checked and indexed once.

Every spoken form becomes a path of words in one trie, whose leaves are `Term`s. A company's own words
come from the TOML file named by HATCHNOTE_VOCABULARY, in the same tables: entries of a known slug add
spoken forms, and new components, verbs or conditions may be added.

    [components.sheave]
    said = ["whirly thing"]

A mistake in any file is a `BadVocabulary` with the file and line it is on.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from hatchnote.notes.vocabulary_build import KEYS, build
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
from hatchnote.places import MODELS, data_folder

__all__ = [
    "BadVocabulary", "ComponentEntry", "ConditionEntry", "Node", "PointEntry", "SoundAlike", "Term", "VerbEntry",
    "Vocabulary", "load", "walk",
]  # fmt: skip
OWN_FILE = "HATCHNOTE_VOCABULARY"
"""Environment variable that names a company's own file."""


def load(paths: Iterable[Path] | None = None) -> Vocabulary:
    """Read and check the vocabulary; the shipped files and HATCHNOTE_VOCABULARY when no paths are given.

    Raises BadVocabulary, a BadInput, with file and line.
    """
    if paths is None:
        own = os.environ.get(OWN_FILE)
        return _cached(own, _stamp(own))
    return build([(p, _parse(p)) for p in paths])


def _stamp(own: str | None) -> float:
    try:
        return os.stat(own).st_mtime if own else 0.0
    except OSError as error:
        raise BadVocabulary(f"The vocabulary file {own} cannot be read; correct {OWN_FILE}.") from error


@lru_cache(maxsize=4)
def _cached(own: str | None, stamp: float) -> Vocabulary:
    folder = data_folder(MODELS) / "vocabulary"
    files = [(folder / f"{kind}.toml", {kind: _parse(folder / f"{kind}.toml")}) for kind in KEYS]
    if own:
        files.append((Path(own), _parse(Path(own))))
    return build(files)


def _parse(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError as error:
        raise BadVocabulary(f"The vocabulary file {path} is missing; install hatchnote again.") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadVocabulary(f"{path}: {error}; correct the file.") from error


def walk(trie: Node) -> Iterator[tuple[str, list[Term]]]:
    """Every spoken form with its terms, for tests and editors."""
    stack: list[tuple[str, Node]] = [("", trie)]
    while stack:
        path, node = stack.pop()
        for word, below in node.items():
            if word == "":
                yield path.strip(), below
            else:
                stack.append((f"{path} {word}", below))
