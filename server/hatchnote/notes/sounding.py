"""Stage: mishearings nobody listed, read as the trade word that sounds alike where the place asks for one.

A word is suspicious when it is neither a word of the trade nor a common English one, or when the recogniser
hardly heard it. It is read otherwise only in a place that asks for a trade word: behind a number (a unit), before
the noun of a part or a point ("... sensor", "... pressure"), as the object of a trade verb, or as what a part is; and
only where one word is clearly nearest. Words with figures are never touched, and every repair is kept in
`doc.repairs`, which marks what is read over it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import lru_cache
from typing import Any, NamedTuple

from hatchnote.notes.doc import Doc, Repair
from hatchnote.notes.inflect import plural
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.phonetics import alike, sound
from hatchnote.notes.unit_behind import known_words as unit_words
from hatchnote.notes.vocabulary import Node, Vocabulary
from hatchnote.places import MODELS, data_folder

REQUIRES = ("tokens", "norm", "repairs")
ASSIGNS = ("norm", "repairs")

UNKNOWN, HARDLY = 0.70, 0.78
"""Likeness that a repair needs: of a word nobody knows, and of an English word that was hardly heard."""
UNSURE = 0.45
"""Probability below which an English word counts as hardly heard."""
MARGIN = 0.06
"""How much better than the next trade word the nearest must be."""
OTHER_START = 0.15
"""Taken off where the first sound differs: words are known by how they begin."""
PAIR_UNSURE = 0.7
"""Probability below which one of two common words may be half of a part's name."""
SHORTEST = 5
"""Letters: shorter words sound like too many others."""
_UNITS = (
    "volts", "amps", "milliamps", "microamps", "ohms", "kilohms", "megohms", "microfarads", "hertz", "microns",
    "pounds", "ounces", "percent", "degrees", "inches", "horsepower", "millivolts", "kilowatts",
)  # fmt: skip
_BEFORE = frozenset(["the", "a", "an", "new", "old", "both", "this", "that", "another"])
_IS = frozenset(["is", "was", "are", "were"])
_STANDS = _IS | {"look", "looks", "looked"}
_HOW = frozenset(
    ["all", "pretty", "really", "very", "so", "both", "still", "badly", "a", "bit", "little", "just"]
)
_JOIN = frozenset(["and", "so", "on", "but"])
_OBJECT = frozenset(["the", "both", "all", "it", "them", "that", "those"])
_PARTICLES = frozenset(["out", "up", "off", "in", "on", "down"])


class _Places(NamedTuple):
    """The trade's words by the place they stand in, each with its sound."""

    words: frozenset[str]
    units: tuple[tuple[str, str], ...]
    parts: tuple[tuple[str, str], ...]
    pairs: tuple[tuple[str, str], ...]
    """Parts of two words."""
    several: tuple[tuple[str, str], ...]
    """Parts, several of them."""
    verbs: tuple[tuple[str, str], ...]
    """What was done: cleaned, greased ..."""
    states: tuple[tuple[str, str], ...]
    """What a part can be: tripped, pitted ..."""
    heads: dict[str, tuple[tuple[str, str], ...]]
    """By the noun behind, the words that come before it: sensor: flame, zone ..."""


_places: list[tuple[Vocabulary, _Places]] = []


def _of(vocabulary: Vocabulary) -> _Places:
    if not _places or _places[0][0] is not vocabulary:
        _places[:] = [(vocabulary, _collect(vocabulary))]
    return _places[0][1]


def _collect(vocabulary: Vocabulary) -> _Places:
    parts: dict[str, str] = {}
    pairs: dict[str, str] = {}
    heads: dict[str, dict[str, str]] = {}
    states = {
        form: sound(form)
        for forms in vocabulary.spoken["conditions"].values()
        for form in forms
        if form.isalpha() and len(form) >= SHORTEST
    }
    for forms in vocabulary.spoken["points"].values():
        for first, _, head in (form.partition(" ") for form in forms):
            if head.isalpha() and len(first) >= SHORTEST:
                heads.setdefault(head, {})[first] = sound(first)
    for forms in vocabulary.spoken["components"].values():
        for form in forms:
            words = form.split()
            if len(words) == 1 and len(form) >= SHORTEST:
                parts[form] = sound(form)
            elif len(words) == 2 and len(words[0]) >= SHORTEST:
                pairs[form] = sound(form)
                heads.setdefault(words[1], {})[words[0]] = sound(words[0])
    return _Places(
        frozenset(_words(vocabulary.trie)) | frozenset(_words(vocabulary.sound_trie)) | unit_words(),
        tuple((u, sound(u)) for u in _UNITS),
        tuple(parts.items()),
        tuple(pairs.items()),
        tuple((plural(part), sound(plural(part))) for part in parts),
        tuple((w, sound(w)) for w in _done(vocabulary)),
        tuple(states.items()),
        {head: tuple(firsts.items()) for head, firsts in heads.items()},
    )


def _done(vocabulary: Vocabulary) -> Iterator[str]:
    for word, node in vocabulary.trie.items():
        behind = [t for below in node.values() if isinstance(below, dict) for t in below.get("", ())]
        terms = [*node.get("", ()), *behind]
        if len(word) >= SHORTEST and any(t.kind == "verb" and t.form == "past" for t in terms):
            yield word


def _words(node: Node) -> Iterator[str]:
    stack: list[Any] = [node]
    while stack:
        for word, below in stack.pop().items():
            if word:
                yield word
                stack.append(below)


@lru_cache(maxsize=1)
def english() -> frozenset[str]:
    """Common English words (SCOWL, sizes 10 to 35, four letters or more); read once."""
    path = data_folder(MODELS) / "words" / "english.txt"
    return frozenset(path.read_text(encoding="utf-8").split())


def sounding(doc: Doc) -> None:
    """Put the trade word in `norm` where a suspicious word sounds like it and its place asks for it."""
    places = _of(doc.vocabulary)
    chances = _chances(doc)
    taken = {i for r in doc.repairs for i in range(r.start, r.stop)}
    for i, word in enumerate(doc.norm):
        if len(word) < SHORTEST or word in places.words or word in CLASS or i in taken or not word.isalpha():
            continue
        common = word in english()
        chance = 1.0 if chances is None else chances[i]
        if common and chance >= PAIR_UNSURE:
            continue
        if not common and doc.tokens[i].text[0].isupper() and i and not doc.tokens[i].brk:
            continue  # a name
        both = _pair(doc, places, i)
        if both is not None:
            doc.repairs.append(Repair(i, i + 2, doc.said(i, i + 2), both))
            doc.norm[i : i + 2] = both.split()
            continue
        if common and chance >= UNSURE:
            continue
        need = HARDLY if common else UNKNOWN
        candidates = _asked(doc, places, i)
        if common and candidates is places.states:
            continue  # people say of a part whatever they like
        meant = _nearest(sound(word), candidates, need)
        if meant is not None:
            doc.repairs.append(Repair(i, i + 1, doc.said(i, i + 1), meant))
            doc.norm[i] = meant


def _asked(doc: Doc, places: _Places, i: int) -> tuple[tuple[str, str], ...]:
    """The trade words that token `i` could be, by what stands around it; none where nothing asks for one."""
    tokens, norm = doc.tokens, doc.norm
    after = norm[i + 1] if i + 1 < len(norm) and not tokens[i + 1].brk else ""
    if after in _STANDS and (subjects := _subjects(doc, places, i)):
        return subjects
    if not i or tokens[i].brk:
        return places.heads.get(after, ()) or (places.verbs if _does(doc, i) else ())
    before = norm[i - 1]
    if tokens[i - 1].kind in "nf" or CLASS.get(before, ".") in "dtxhpzZ":
        return places.units if before != "one" else ()
    if after in places.heads:
        return places.heads[after]
    if before in _IS and (not after or after in _JOIN) and _part_before(doc, i - 1):
        return places.states
    return places.parts if _is_object(doc, i) else ()


def _does(doc: Doc, i: int) -> bool:
    """ "Lineed up the sheaves": first in its clause, before what it is done to."""
    at = i + 2 if i + 1 < len(doc.norm) and doc.norm[i + 1] in _PARTICLES else i + 1
    if at >= len(doc.norm) or any(t.brk for t in doc.tokens[i + 1 : at + 1]):
        return False
    return doc.norm[at] in _OBJECT


def _subjects(doc: Doc, places: _Places, i: int) -> tuple[tuple[str, str], ...]:
    if not _is_subject(doc, i):
        return ()
    return places.several if doc.norm[i].endswith("s") else places.parts


def _is_subject(doc: Doc, i: int) -> bool:
    """Whether a state of a part is told of token `i`: "... look good", "the ... is cracked", "... are all rusted"."""
    if i and not doc.tokens[i].brk and doc.norm[i - 1] not in _BEFORE and doc.norm[i - 1] not in _JOIN:
        return False
    at = i + 1
    if at >= len(doc.norm) or doc.norm[at] not in _STANDS:
        return False
    for k in range(at + 1, min(at + 4, len(doc.norm))):
        if doc.tokens[k].brk:
            return False
        node = doc.vocabulary.trie.get(doc.norm[k], {})
        if any(t.kind == "condition" for t in node.get("", ())):
            return True
        if doc.norm[k] not in _HOW:
            return False
    return False


def _part_before(doc: Doc, i: int) -> bool:
    """Whether a word that names a part stands right before token `i`."""
    node = doc.vocabulary.trie.get(doc.norm[i - 1], {}) if i else {}
    return any(t.kind in ("component", "family") for t in node.get("", ()))


def _is_object(doc: Doc, i: int) -> bool:
    """Whether token `i` stands behind a trade verb and "the", "a", "new" ..., and owns nothing ("the floor's")."""
    if i < 2 or doc.norm[i - 1] not in _BEFORE or doc.norm[i] != doc.tokens[i].lower:
        return False
    at = i - 2
    while at > 0 and (doc.norm[at] in _BEFORE or doc.norm[at] in _PARTICLES) and at > i - 4:
        at -= 1
    if any(doc.tokens[k].brk for k in range(at + 1, i + 1)):
        return False
    node = doc.vocabulary.trie.get(doc.norm[at], {})
    return any(t.kind == "verb" and not t.weak and t.form != "noun" for t in node.get("", ()))


def _pair(doc: Doc, places: _Places, i: int) -> str | None:
    """The part of two words that tokens `i` and the next sound like, as the object of a trade verb."""
    if i + 1 >= len(doc.norm) or doc.tokens[i + 1].brk or doc.tokens[i].kind != "w" or not _is_object(doc, i):
        return None
    follower = doc.norm[i + 1]
    if not follower.isalpha() or len(follower) < SHORTEST - 2 or follower in CLASS:
        return None
    return _nearest(sound(f"{doc.norm[i]} {follower}"), places.pairs, HARDLY)


def _nearest(said: str, candidates: tuple[tuple[str, str], ...], need: float) -> str | None:
    if not said:
        return None
    best = second = 0.0
    meant, meant_said = None, ""
    for word, its in candidates:
        if abs(len(its) - len(said)) > 3:
            continue
        near = alike(said, its)
        if its[0] != said[0]:
            near -= OTHER_START
        if near > best:
            if its != meant_said:
                second = best
            best, meant, meant_said = near, word, its
        elif near > second:
            second = near
    return meant if best >= need and best - second >= MARGIN else None


def _chances(doc: Doc) -> list[float] | None:
    """The recogniser's probability of every token; None for a typed text."""
    if not doc.words or doc.words[0].p is None:
        return None
    starts: list[int] = []
    at = 0
    for word in doc.words:
        starts.append(at)
        at += len(word.text) + 1
    out = []
    for token in doc.tokens:
        p = doc.words[bisect_right(starts, token.start) - 1].p
        out.append(1.0 if p is None else p)
    return out
