"""Words in, facts out: the pipeline from a transcript to `Facts`."""

from __future__ import annotations

from collections.abc import Iterable

from hatchnote.domain import Equipment, Facts, Transcript
from hatchnote.notes.doc import Doc
from hatchnote.notes.lexicon import normal
from hatchnote.notes.pipeline import STAGES
from hatchnote.notes.tokens import tokenize
from hatchnote.notes.typed import with_apostrophes
from hatchnote.notes.vocabulary import load


def read_doc(source: Transcript | str, *, equipment: Iterable[str | Equipment] = ()) -> Doc:
    """Run every stage and return the document with all its mentions, for explanation and tests."""
    transcript = Transcript.from_text(source) if isinstance(source, str) else source
    text = transcript.text
    tokens = tokenize(text)
    known = tuple(e if isinstance(e, Equipment) else Equipment(e) for e in equipment)
    doc = Doc(text, tokens, load(), known, transcript.words, transcript.second, transcript.id)
    doc.norm = [normal(t) for t in with_apostrophes(tokens)]
    doc.owner = [None] * len(tokens)
    if tokens:
        for stage in STAGES:
            stage.run(doc)
    return doc


def read_notes(source: Transcript | str, *, equipment: Iterable[str | Equipment] = ()) -> Facts:
    """The readings, work, parts and findings of one dictation or typed note, each with its span.

    `equipment` names the machines of the site: tags, or `Equipment` with the names people call them by. Characters
    of spans count in `Transcript.text` (white space of a plain string is folded to single spaces). Never raises on
    any text. Words heard in another language than English give no facts: what looks like a reading in them is none.
    """
    from hatchnote.notes.facts import facts

    if isinstance(source, Transcript) and source.language != "en":
        return Facts()
    return facts(read_doc(source, equipment=equipment))
