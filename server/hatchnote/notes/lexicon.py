"""Stage: spoken forms of the vocabulary, longest first, without overlap."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.tokens import Token
from hatchnote.notes.vocabulary import Node, Term, Vocabulary

REQUIRES = ("tokens", "norm")
ASSIGNS = ("mentions", "owner", "sentences")

_ENDINGS = ("'s", "'re", "'ve", "'ll", "'d", "'m")
_KEEP = frozenset({"let's"})


def normal(token: Token) -> str:
    """A token as the vocabulary writes it: lower case, straight apostrophe, no "'s"."""
    word = token.lower
    if "’" in word:
        word = word.replace("’", "'")
    if "'" in word and word not in _KEEP:
        for ending in _ENDINGS:
            if ending == "'d" and len(word) > 5 and word not in ("there'd", "they'd"):
                return word  # "evac'd" is a past, not "evac had"
            if word.endswith(ending) and len(word) > len(ending):
                return (
                    word[: -len(ending)] if word not in ("it's", "that's", "i'll", "we'll", "i'd") else word
                )
    return word


def longest(
    trie: Node, norm: list[str], at: int, stop: int, tokens: list[Token]
) -> tuple[int, list[Term]] | None:
    """The longest spoken form that begins at token `at`; None where none does."""
    node = trie
    best: tuple[int, list[Term]] | None = None
    i = at
    while i < stop:
        below = node.get(norm[i])
        if below is None:
            break
        node = below
        i += 1
        if "" in node:
            best = (i, node[""])
        if i < stop and tokens[i].brk:
            break
    return best


LONGEST = 90
"""Tokens: a sentence is cut at the next small word when it has run on for two thirds of this, or here at the latest."""
_CUTS = frozenset(["and", "then", "now", "okay", "so", "but", "next", "also"])


def sentences(tokens: list[Token]) -> list[tuple[int, int]]:
    """Token ranges of the sentences, by the marks that end one; a dictation without any is cut by length."""
    out: list[tuple[int, int]] = []
    begin = 0
    for i in range(1, len(tokens) + 1):
        length = i - begin
        if (
            i == len(tokens)
            or tokens[i].brk == 2
            or _plural_end(tokens, i)
            or length >= LONGEST
            or (length >= LONGEST * 2 // 3 and (tokens[i].brk or tokens[i].lower in _CUTS))
        ):
            out.append((begin, i))
            begin = i
    return out


def _plural_end(tokens: list[Token], i: int) -> bool:
    """ "with 45s. L1": a full stop behind a plural of figures, no abbreviation."""
    token = tokens[i]
    return (
        token.gap.startswith(". ")
        and token.text[:1].isupper()
        and tokens[i - 1].lower == "s"
        and tokens[i - 1].glued
    )


def inner_component(vocabulary: Vocabulary, words: list[str]) -> str:
    """The component named inside a point's spoken form: economizer in "economizer minimum"."""
    found = ""
    length = 0
    for at in range(len(words)):
        node = vocabulary.trie
        for i in range(at, len(words)):
            below = node.get(words[i])
            if below is None:
                break
            node = below
            for term in node.get("", ()):
                if term.kind == "component" and i + 1 - at > length:
                    found, length = term.slug, i + 1 - at
    return found


_PARTICLES = frozenset(["off", "out", "up", "down", "on", "in"])
_PART_BACK = 6


def _parted(
    doc: Doc, trie: Node, at: int, end: int, found: tuple[int, list[Term]] | None
) -> tuple[int, list[Term]] | None:
    """ "shut the gas off", "put a new one on": a verb whose second word comes after its object."""
    node = trie.get(doc.norm[at])
    if node is None or (found is not None and found[0] > at + 1):
        return found
    particles = _PARTICLES & node.keys()
    if not particles and "back" not in node:
        return found
    for i in range(at + 2, min(end - 1, at + _PART_BACK)):
        if doc.norm[i] == "back" and not doc.tokens[i].brk and doc.norm[i + 1] in node.get("back", {}):
            terms = [t for t in node["back"][doc.norm[i + 1]].get("", ()) if t.kind == "verb"]
            if terms:
                return at + 1, terms
    for i in range(at + 2, min(end, at + _PART_BACK + 1)):
        if doc.tokens[i].brk or doc.norm[i] in ("and", "but", "so", "at", "back"):
            break
        if doc.norm[i] in particles:
            after = doc.norm[i + 1] if i + 1 < end and not doc.tokens[i + 1].brk else ""
            if doc.norm[i] in ("on", "in") and after not in ("", "and", "so", "but", "for", "then", "with"):
                break
            terms = [t for t in node[doc.norm[i]].get("", ()) if t.kind == "verb"]
            if terms:
                own = [
                    t
                    for t in (found[1] if found else ())
                    if t.kind != "verb" or t.slug not in {x.slug for x in terms}
                ]
                return at + 1, [*terms, *own]
    return found


_CAPITALS = frozenset(["sat", "rat", "mat", "oat", "sh", "sc", "sp", "esp", "tesp"])
"""Abbreviations that are words of their own in small letters."""


def lexicon(doc: Doc) -> None:
    """Find every spoken form."""
    doc.owner = [None] * len(doc.tokens)
    doc.sentences = sentences(doc.tokens)
    trie = doc.vocabulary.trie
    inner: dict[str, str] = {}
    for begin, end in doc.sentences:
        i = begin
        while i < end:
            if doc.norm[i] not in trie:
                i += 1
                continue
            found = longest(trie, doc.norm, i, end, doc.tokens)
            found = _parted(doc, trie, i, end, found)
            if found is None:
                i += 1
                continue
            stop, terms = found
            if stop == i + 1 and doc.norm[i] in _CAPITALS and not doc.tokens[i].text.isupper():
                i += 1
                continue
            mention = Mention("word", i, stop, tuple(terms))
            for term in terms:
                if term.kind == "component":
                    mention.comp, mention.plural = term.slug, term.plural
            if not mention.comp and (mention.has("point") or mention.has("verb")) and stop - i > 1:
                key = " ".join(doc.norm[i:stop])
                if key not in inner:
                    inner[key] = inner_component(doc.vocabulary, doc.norm[i:stop]) if stop - i > 1 else ""
                mention.comp = inner[key]
            doc.put(mention)
            i = stop
