"""Stage: spoken forms of the vocabulary, longest first, without overlap."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.full_of import full_of
from hatchnote.notes.numbers.words import CLASS
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
            or (tokens[i].brk == 2 and not _answers(tokens, begin, i))
            or _plural_end(tokens, i)
            or length >= LONGEST
            or (length >= LONGEST * 2 // 3 and (tokens[i].brk or tokens[i].lower in _CUTS))
        ):
            out.append((begin, i))
            begin = i
    return out


_SHORT = 6
"""Words of a question that is answered in the next breath."""


_OPENERS = frozenset(
    [
        "is",
        "are",
        "was",
        "were",
        "do",
        "does",
        "did",
        "can",
        "could",
        "should",
        "would",
        "will",
        "what",
        "why",
        "how",
    ]
)


def _answers(tokens: list[Token], begin: int, i: int) -> bool:
    """ "Control voltage? Twenty five six.", "Belt? Good.": what stands behind a short question belongs to it."""
    if "?" not in tokens[i].gap or i - begin > _SHORT:
        return False
    number = tokens[i].kind in "nf" or CLASS.get(tokens[i].lower, ".") in "dtxzZpm"
    return number or tokens[begin].lower not in _OPENERS


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


_AFTER_PARTICLE = frozenset(
    [
        "",
        "and",
        "so",
        "but",
        "for",
        "then",
        "with",
        "while",
        "when",
        "there",
        "today",
        "because",
        "after",
        "before",
        "her",
        "it",
        "them",
        "too",
        "as",
        "now",
        "since",
        "instead",
        "also",
        "already",
        "myself",
        "next",
        "tomorrow",
        "before",
        "real",
        "right",
    ]
)
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
        if doc.norm[i] == "back" and not doc.tokens[i].brk and "back" in node:
            below, k = node["back"], i + 1
            while k < end and not doc.tokens[k].brk and doc.norm[k] in below:
                below = below[doc.norm[k]]
                k += 1
                terms = [t for t in below.get("", ()) if t.kind == "verb"]
                if terms:
                    return at + 1, terms
        if doc.norm[i : i + 2] == ["on", "order"] and doc.norm[at] in ("put", "get", "got"):
            return at + 1, [t for t in node["on"]["order"][""] if t.kind == "verb"]
    for i in range(at + 2, min(end, at + _PART_BACK + 1)):
        if doc.norm[i] == "and" and doc.norm[i + 1 : i + 3] in (
            ["a", "half"],
            ["a", "quarter"],
            ["three", "quarters"],
        ):
            continue
        if doc.tokens[i].brk or doc.norm[i] in ("and", "but", "so", "at", "back"):
            break
        if doc.norm[i] in particles:
            after = doc.norm[i + 1] if i + 1 < end and not doc.tokens[i + 1].brk else ""
            if doc.norm[i] in ("on", "in") and after not in _AFTER_PARTICLE:
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


_ARTICLES = frozenset(["the", "a", "this", "that"])


def _turned(doc: Doc, trie: Node, at: int, end: int) -> tuple[int, list[Term]] | None:
    """ "sensor of the supply air", "pressure of suction": a name turned about with "of"."""
    for left in (2, 1):
        of = at + left
        if of + 1 >= end or doc.norm[of] != "of" or any(doc.tokens[x].brk for x in range(at + 1, of + 2)):
            continue
        begin = of + 2 if doc.norm[of + 1] in _ARTICLES and of + 2 < end else of + 1
        head = doc.norm[at:of]
        for right in (3, 2, 1):
            stop = begin + right
            if stop > end or any(doc.tokens[x].brk for x in range(begin, stop)):
                continue
            tail = doc.norm[begin:stop]
            for words in ([*tail, *head], [*tail, "air", *head]):
                terms = [t for t in _exact(trie, words) if t.kind in ("point", "component", "family")]
                if terms:
                    return stop, terms
    return None


def _exact(trie: Node, words: list[str]) -> list[Term]:
    node = trie
    for word in words:
        below = node.get(word)
        if below is None:
            return []
        node = below
    found: list[Term] = node.get("", [])
    return found


_SITTERS = frozenset(
    {"i", "he", "she", "it", "we", "they", "that", "unit", "which", "just", "and", "a", "the"}
)


def _typed_name(doc: Doc, i: int) -> bool:
    """ "rat 74 sat 55": a name in small letters, as thumbs type it, with its figures right behind."""
    if i + 1 >= len(doc.tokens) or doc.tokens[i + 1].kind != "n" or doc.tokens[i + 1].brk:
        return False
    return i == 0 or bool(doc.tokens[i].brk) or doc.norm[i - 1] not in _SITTERS


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
            if doc.norm[i] not in trie and "of" not in doc.norm[i + 1 : i + 3]:
                i += 1
                continue
            turned = _turned(doc, trie, i, end)
            if turned is not None:
                stop, terms = turned
                mention = Mention("word", i, stop, tuple(terms))
                for term in terms:
                    if term.kind == "component":
                        mention.comp, mention.plural = term.slug, term.plural
                doc.put(mention)
                i = stop
                continue
            found = longest(trie, doc.norm, i, end, doc.tokens)
            found = _parted(doc, trie, i, end, found)
            if found is None:
                i += 1
                continue
            stop, terms = found
            small = doc.norm[i] in _CAPITALS and not doc.tokens[i].text.isupper()
            if stop == i + 1 and small and not _typed_name(doc, i):
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
    full_of(doc)
