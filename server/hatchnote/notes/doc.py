"""What the stages of the pipeline share: one dictation cut into tokens, and the mentions found in it.

A stage is a function `stage(doc) -> None` that adds to the `Doc`; `pipeline.py` lists them in order with what
each requires and assigns. Positions are token indexes, half open, unless the name says characters.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from hatchnote.domain import Alternative, Equipment, SecondHearing, Word
from hatchnote.notes.numbers import Parse
from hatchnote.notes.tokens import Token
from hatchnote.notes.vocabulary import Term, Vocabulary


@dataclass(slots=True)
class Mention:
    """Something named in the text: a spoken form of the vocabulary, a machine, legs, a number, a designation."""

    kind: str
    """word (a spoken form), machine, circuit, legs, stage, number (a part's own), value, size, phase, refrigerant."""
    start: int
    stop: int
    terms: tuple[Term, ...] = ()
    slug: str = ""
    """Machine tag, circuit, leg name, stage, the size as text."""
    comp: str = ""
    """Component: of a component mention, or the one named inside a point's spoken form."""
    number: str | None = None
    """A component's own number or side."""
    plural: bool = False
    modifier: bool = False
    """A component that only says where: "the union at the valve"."""
    presumed: bool = False
    """A bare word ("the coil") taken for one of its kind though none was named before."""
    value: Value | None = None
    claimed: str = ""
    """Who used it: the rule's name. A claimed number is nothing else any more."""

    def has(self, kind: str, *slugs: str) -> bool:
        """Whether one of its terms is of `kind` (and of one of `slugs`)."""
        return any(t.kind == kind and (not slugs or t.slug in slugs) for t in self.terms)

    @property
    def part(self) -> bool:
        """Whether it names a part: by a spoken form of its own or by a bare word such as "the motor"."""
        return any(t.kind in ("component", "family") for t in self.terms)

    def of(self, kind: str) -> list[Term]:
        return [t for t in self.terms if t.kind == kind]


@dataclass(slots=True)
class Value:
    """A number with its unit, before it is known what it measures."""

    parses: list[Parse]
    """Ways to read it, likeliest first; the first is the commonest."""
    style: str
    ucum: str | None = None
    """Unit said with it, None where none was."""
    unit_text: str = ""
    text: str | None = None
    """Set for a range or a state: "208-230", "open"."""
    link: str = ""
    index: bool = False
    ambiguous: bool = False
    """The recogniser's own grouping was taken apart: marked `check`."""
    why: str = ""
    shape: str = ""
    number_stop: int = 0
    """Token after the number itself, before its unit."""

    @property
    def first(self) -> float:
        return self.parses[0].value if self.parses else 0.0


@dataclass(slots=True)
class Draft:
    """A reading in the making."""

    point: str
    at: int
    """Token of the value: order of speech."""
    start: int
    stop: int
    value: float | None = None
    ucum: str | None = None
    text: str | None = None
    component: str | None = None
    number: str | None = None
    legs: str | None = None
    stage: str | None = None
    circuit: str | None = None
    position: str | None = None
    basis: str = "measured"
    moment: str | None = None
    tag: str | None = None
    sentence: int = 0
    rule: str = ""
    source: Mention | None = None
    cost: float = 0.0
    others: tuple[Alternative, ...] = ()
    doubts: list[str] = field(default_factory=list)
    withdrawn: bool = False
    was: bool = False
    """Said with "was" or "were": as found where work follows."""
    now: bool = False
    """Told as left by a word of its own: what is said in the same breath is too."""

    def copy(self, **changes: Any) -> Draft:
        return replace(self, doubts=list(self.doubts), **changes)


@dataclass(slots=True)
class Item:
    """A work item, part or finding in the making; `fields` become those of the domain class."""

    kind: str
    at: int
    start: int
    stop: int
    tag: str | None
    fields: dict[str, Any]
    rule: str
    doubts: list[str] = field(default_factory=list)
    others: tuple[Alternative, ...] = ()


@dataclass(slots=True)
class Repair:
    """A word read as another that sounds alike."""

    start: int
    stop: int
    heard: str
    meant: str
    quiet: bool = False


@dataclass(slots=True)
class Doc:
    """One dictation on its way through the pipeline."""

    text: str
    tokens: list[Token]
    vocabulary: Vocabulary
    equipment: tuple[Equipment, ...] = ()
    words: tuple[Word, ...] = ()
    second: tuple[SecondHearing, ...] = ()
    dictation: str | None = None
    norm: list[str] = field(default_factory=list)
    """Tokens lower case, without "'s"; a repaired token holds the word that was meant."""
    repairs: list[Repair] = field(default_factory=list)
    mentions: list[Mention] = field(default_factory=list)
    """All mentions in order, without overlap."""
    owner: list[Mention | None] = field(default_factory=list)
    """The mention that holds each token."""
    sentences: list[tuple[int, int]] = field(default_factory=list)
    breaks: list[int] | None = None
    """Tokens with a mark of punctuation before them, once somebody asked; whoever adds one sets it back to None."""
    unstopped: list[tuple[int, int]] = field(default_factory=list)
    """Token ranges told without a comma or a small word that parts them."""
    tag_at: list[str | None] = field(default_factory=list)
    circuit_at: list[str | None] = field(default_factory=list)
    heading_at: dict[int, Mention] = field(default_factory=dict)
    """Sentence start -> the part that a heading before named for a row of machines ("Belts. Three's is cracked.")."""
    tags: list[str] = field(default_factory=list)
    doubtful_tags: dict[str, str] = field(default_factory=dict)
    run_together: set[int] = field(default_factory=set)
    """Tokens whose first figure is a leg's: the 2478 of "L2478"."""
    phased: set[int] = field(default_factory=set)
    """Tokens such as the 463 of "463 phase"."""
    refrigerants: list[tuple[str | None, str]] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)

    def put(self, mention: Mention) -> Mention:
        """Add a mention; the caller sees to it that its tokens are free. `settle` sorts afterwards."""
        self.mentions.append(mention)
        for i in range(mention.start, mention.stop):
            self.owner[i] = mention
        return mention

    def drop(self, mention: Mention) -> None:
        for i in range(mention.start, mention.stop):
            if self.owner[i] is mention:
                self.owner[i] = None
        mention.kind = "dropped"

    def settle(self) -> None:
        """Sort the mentions and forget those that were dropped."""
        self.mentions = sorted((m for m in self.mentions if m.kind != "dropped"), key=lambda m: m.start)

    def free(self, start: int, stop: int) -> bool:
        return all(self.owner[i] is None for i in range(start, stop))

    def within(self, start: int, stop: int) -> list[Mention]:
        """Mentions that begin in tokens `start`..`stop`, in order."""
        out: list[Mention] = []
        i = start
        while i < stop:
            m = self.owner[i]
            if m is None or m.start < start:
                i += 1
                continue
            out.append(m)
            i = max(m.stop, i + 1)
        return out

    def numbered_sentences(self) -> Iterator[tuple[int, int, int]]:
        for k, (a, b) in enumerate(self.sentences):
            yield k, a, b

    def said(self, start: int, stop: int) -> str:
        """The words of tokens `start`..`stop` as heard."""
        return self.text[self.tokens[start].start : self.tokens[stop - 1].end]
