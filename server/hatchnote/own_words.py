"""The company's own words: a vocabulary file that grows by one entry at a time, checked before it is kept.

The file is the one that the settings name, or `vocabulary.toml` in the data folder. Reading notices a changed
file by itself, in this process and in every worker on the same folder.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import threading
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from hatchnote.domain import Equipment, Facts, Transcript
from hatchnote.errors import BadInput
from hatchnote.export import wording
from hatchnote.places import make_folder
from hatchnote.settings import Settings

KINDS = ("components", "points", "verbs", "conditions")
_HEADER = "# The company's own words, beside those that hatchnote brings: a table a term, `said` is what people say.\n"
_ENVIRONMENT = "HATCHNOTE_VOCABULARY"
_SPOKEN = re.compile(r"[a-z0-9'&/.-]+( [a-z0-9'&/.-]+){0,7}")
_one_writer = threading.Lock()


def use(settings: Settings) -> Path:
    """Make reading in this process (and in the ones it starts) use the company's file. The one in the data folder
    is made where it is missing; one that the settings name has to be there, or BadInput is raised."""
    path = _path(settings)
    if not path.exists():
        if settings.vocabulary:
            raise BadInput(
                f"There is no vocabulary file {path}; check HATCHNOTE_VOCABULARY, or make an empty file there."
            )
        make_folder(path.parent)
        path.write_text(_HEADER, encoding="utf-8")
    os.environ[_ENVIRONMENT] = str(path)
    return path


def add(settings: Settings, kind: str, slug: str, said: str) -> bool:
    """Keep one spoken form; False when it was there. Raises BadInput, with the file unchanged, when it cannot be."""
    with _one_writer:
        path = use(settings)
        before = path.read_text(encoding="utf-8")
        after = _with_entry(before, kind, slug, said)
        if after == before:
            return False
        new = path.with_suffix(".new")
        new.write_text(after, encoding="utf-8")
        try:
            _check(new)
            with new.open("rb") as file:
                os.fsync(file.fileno())
            os.replace(new, path)
        finally:
            new.unlink(missing_ok=True)
        return True


def preview(
    settings: Settings,
    kind: str,
    slug: str,
    said: str,
    notes: Sequence[tuple[Sequence[str], Sequence[Equipment]]],
) -> list[tuple[list[str], list[str]]]:
    """What each note would have read without and with the entry: lines that differ only.

    `notes` are the texts of a ticket's dictations and the machines of its site. The new vocabulary is tried in a
    process of its own, because reading in this one goes on with the old.
    """
    path = use(settings)
    asked = [
        {"texts": list(texts), "machines": [{"tag": e.tag, "nicknames": list(e.nicknames)} for e in machines]}
        for texts, machines in notes
    ]
    with tempfile.TemporaryDirectory(prefix="hatchnote-") as folder:
        trial = Path(folder) / "vocabulary.toml"
        trial.write_text(_with_entry(path.read_text(encoding="utf-8"), kind, slug, said), encoding="utf-8")
        _check(trial)
        done = subprocess.run(
            [sys.executable, "-m", "hatchnote.own_words"],
            input=json.dumps(asked),
            capture_output=True,
            text=True,
            timeout=60,
            env={**os.environ, _ENVIRONMENT: str(trial)},
        )
    if done.returncode:
        raise BadInput("The new word could not be tried out; nothing was changed.")
    out = []
    for one, now in zip(asked, json.loads(done.stdout), strict=True):
        was = lines(one)
        out.append(([x for x in was if x not in now], [x for x in now if x not in was]))
    return out


def lines(note: dict[str, Any]) -> list[str]:
    """Everything read from one ticket's texts, a line an item."""
    from hatchnote.notes import read_notes

    machines = [Equipment(m["tag"], tuple(m["nicknames"])) for m in note["machines"]]
    facts = Facts()
    for text in note["texts"]:
        facts = facts + read_notes(Transcript.from_text(text), equipment=machines)
    return _worded(facts)


def _worded(facts: Facts) -> list[str]:
    from hatchnote.tickets.document import finding_json, part_json, reading_json, work_json

    out = [
        f"{wording.machine_name(r.tag)}: {wording.reading_name(reading_json(r))} {wording.value(reading_json(r))}"
        for r in facts.readings
    ]
    out += [
        f"{wording.machine_name(w.tag)}: {wording.work_name(work_json(w))}, {w.state}" for w in facts.work
    ]
    out += [
        f"{wording.machine_name(p.tag)}: part {wording.plain(part_json(p)['component'])}" for p in facts.parts
    ]
    out += [f"{wording.machine_name(f.tag)}: {wording.finding_name(finding_json(f))}" for f in facts.findings]
    return out


def _path(settings: Settings) -> Path:
    return Path(settings.vocabulary) if settings.vocabulary else settings.data.absolute() / "vocabulary.toml"


def _with_entry(text: str, kind: str, slug: str, said: str) -> str:
    """The file's text with one more spoken form. Comments and order of what stands there are kept."""
    if kind not in KINDS:
        raise BadInput(f"There is no kind of word called {kind}; use {', '.join(KINDS)}.")
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug):
        raise BadInput(f"{slug!r} is no name of a term; choose one from the list.")
    spoken = " ".join(said.lower().split())
    if not _SPOKEN.fullmatch(spoken) or len(spoken) > 80:
        raise BadInput("A spoken form is one to eight plain words; leave punctuation out.")
    there = tomllib.loads(text).get(kind, {}).get(slug, {})
    if spoken in there.get("said", ()):
        return text
    heading = f"[{kind}.{slug}]"
    if not there:
        return f'{text.rstrip()}\n\n{heading}\nsaid = ["{spoken}"]\n'
    list_of = re.compile(rf"(\[{kind}\.{re.escape(slug)}\][^\[]*?\bsaid\s*=\s*\[)")
    if not list_of.search(text):
        raise BadInput(
            f"The entry {heading} of the vocabulary file is written in a way of its own; add the word there by hand."
        )
    return list_of.sub(lambda m: f'{m.group(1)}"{spoken}", ', text, count=1)


def _check(path: Path) -> None:
    """Raises BadInput when the shipped vocabulary and this file do not go together."""
    from hatchnote.notes import vocabulary
    from hatchnote.notes.vocabulary_build import KEYS, build
    from hatchnote.places import MODELS, data_folder

    shipped = data_folder(MODELS) / "vocabulary"
    kinds = [shipped / f"{kind}.toml" for kind in KEYS]
    try:
        build([*((p, {p.stem: vocabulary._parse(p)}) for p in kinds), (path, vocabulary._parse(path))])
    except vocabulary.BadVocabulary as error:
        raise BadInput(str(error).split(": ", 1)[-1]) from error


if __name__ == "__main__":
    print(json.dumps([lines(note) for note in json.load(sys.stdin)]))
