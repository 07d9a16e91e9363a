"""Stage: which machines are named, by their tags, nicknames and places."""

from __future__ import annotations

import re

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.named_places import named_places
from hatchnote.notes.numbers.words import CLASS, VALUE
from hatchnote.notes.wordlists import words

TAGS_REQUIRE = ("mentions",)
TAGS_ASSIGN = ("machines",)
_HOMOPHONE = {"to": 2, "too": 2, "for": 4, "won": 1, "ate": 8, "free": 3, "tree": 3}
_HESITATIONS = frozenset(["um", "uh", "er", "ah", "hm"])
_ARTICLES = frozenset(["the", "this", "that", "their", "every", "each", "a", "my", "our"])
_TURNS = frozenset(["next", "other", "first", "second", "third", "last"])
_PREPOSITION = frozenset(["on", "for", "at", "of", "into", "over", "from"])
_PLACES = words(
    """
    north south east west northeast northwest southeast southwest front rear back kitchen gym lobby
    office warehouse dining corner middle center left right big small old new
    """
)


def number_word(doc: Doc, at: int) -> int | None:
    """The small whole number at token `at`, spoken or written; None where there is none."""
    if at >= len(doc.tokens):
        return None
    token = doc.tokens[at]
    word = doc.norm[at]
    if token.kind == "n":
        return int(token.text) if token.text.isdigit() and len(token.text) <= 3 else None
    if CLASS.get(word) in ("d", "t"):
        return int(VALUE[word])
    if CLASS.get(word) == "x":
        return int(VALUE[word])
    return None


def tag_number(doc: Doc, at: int) -> tuple[int, str] | None:
    """A machine's number at token `at`: (token after it, "3"), "1A" with its letter; None."""
    while at < len(doc.tokens) and doc.norm[at] in _HESITATIONS:
        at += 1  # "R T U, um, two"
    if at < len(doc.tokens) and doc.norm[at] in ("number", "no", "#", "dash", "-", "–"):
        at += 1
    value = number_word(doc, at)
    if value is None:
        if at < len(doc.tokens) and doc.norm[at] in _HOMOPHONE and _ends_here(doc, at + 1):
            return at + 1, str(_HOMOPHONE[doc.norm[at]])
        return None
    stop = at + 1
    if CLASS.get(doc.norm[at]) == "x" and stop < len(doc.tokens) and CLASS.get(doc.norm[stop]) == "d":
        value += int(VALUE[doc.norm[stop]])
        stop += 1
    if (
        CLASS.get(doc.norm[at]) == "d"
        and stop < len(doc.tokens)
        and not doc.tokens[stop].brk
        and CLASS.get(doc.norm[stop]) == "d"
        and (stop + 1 >= len(doc.tokens) or doc.tokens[stop + 1].brk)
    ):
        value = 10 * value + int(VALUE[doc.norm[stop]])  # "R T U one two": figure by figure
        stop += 1
    text = str(value)
    if stop < len(doc.tokens) and not doc.tokens[stop].brk and len(doc.norm[stop]) == 1:
        letter = doc.norm[stop]
        if (
            letter in "abcd"
            and (doc.tokens[stop].text.isupper() or doc.tokens[stop].glued)
            and (
                letter != "a"
                or doc.tokens[stop].text == "A"
                or _ends_here(doc, stop + 1)
                or doc.tokens[stop].glued
            )
        ):
            return stop + 1, text + letter.upper()
    return stop, text


def _ends_here(doc: Doc, at: int) -> bool:
    return (
        at >= len(doc.tokens)
        or doc.tokens[at].brk > 0
        or doc.norm[at] in ("and", "at", "is", "on", "here", "now", "has")
    )


def known_tag(doc: Doc, kind: str, number: str) -> str | None:
    """The site's own spelling of a tag, e.g. "RTU-03" or "R3"; None where the site has no such machine."""
    want = number.lstrip("0")
    for machine in doc.equipment:
        letters = re.sub(r"[^A-Za-z]", "", re.split(r"\d", machine.tag, maxsplit=1)[0])
        digits = re.search(r"\d+[A-Za-z]?$", machine.tag)
        if digits and digits.group().lstrip("0").upper() == want and (letters.upper() == kind or not letters):
            return machine.tag
    return None


def machines(doc: Doc) -> None:
    """Find every machine named: by its tag, by a nickname of the site's, by "unit three" and "number three"."""
    _nicknames(doc)
    for m in list(doc.mentions):
        terms = m.of("machine")
        if not terms or m.kind == "dropped":
            continue
        found = tag_number(doc, m.stop)
        previous = doc.norm[m.start - 1] if m.start and not doc.tokens[m.start].brk else ""
        term = terms[0]
        if (
            previous
            and term.slug == "HP"
            and doc.norm[m.start] in ("h", "hp")
            and _number_before(doc, m.start)
        ):
            continue  # "five H P" is a motor's size
        spelled = (
            m.stop < len(doc.tokens) and doc.tokens[m.stop - 1].gap == "." and doc.tokens[m.stop].gap == ". "
        )
        if found is None or (found[0] - m.stop and doc.tokens[m.stop].brk > 1 and not spelled):
            continue
        stop, number = found
        if term.weak and (previous in _TURNS or (previous == "in" and _dwelling(doc, m.start))):
            continue
        if doc.norm[stop - 1] in _HOMOPHONE and previous in _ARTICLES:
            continue  # "the lugs at the unit too"
        if doc.tokens[m.stop].brk and _counts(doc, stop):
            continue  # "R T U, four ton"
        if term.weak and (doc.tokens[m.stop].brk or _counts(doc, stop)):
            continue
        tag = known_tag(doc, term.slug, number)
        if tag is None:
            tag = _any_known(doc, number) if term.weak else None
        if tag is None:
            tag = f"{term.slug}-{number}"
            if doc.equipment:
                doc.doubtful_tags[tag] = f"{tag} is no machine of this site"
        _extend(doc, m, stop, tag)
        m.number = previous if previous in _PREPOSITION else None
    _places(doc)
    doc.settle()
    from hatchnote.notes.machines_together import together

    together(doc)
    named_places(doc)


def _number_before(doc: Doc, at: int) -> bool:
    return doc.tokens[at - 1].kind in "nf" or CLASS.get(doc.norm[at - 1], ".") in "dtxhHQF"


def _dwelling(doc: Doc, at: int) -> bool:
    """ "The tenant in unit twelve": where somebody lives, unless a part or an act stands before it."""
    return at >= 2 and doc.owner[at - 2] is None and not doc.tokens[at - 1].brk


def _any_known(doc: Doc, number: str) -> str | None:
    found = [e.tag for e in doc.equipment if re.search(rf"(?<!\d)0*{re.escape(number)}$", e.tag, re.I)]
    return found[0] if len(found) == 1 else None


def _counts(doc: Doc, stop: int) -> bool:
    """ "unit two forty volt" is no machine, "unit three" before a clause or a word is."""
    return (
        stop < len(doc.tokens)
        and not doc.tokens[stop].brk
        and doc.norm[stop] in ("hundred", "point", "volt", "volts", "ton", "oh")
    )


def _extend(doc: Doc, m: Mention, stop: int, tag: str) -> None:
    for other in doc.within(m.stop, stop):
        doc.drop(other)
    m.kind, m.slug, m.terms, m.comp = "machine", tag, (), ""
    m.stop = stop
    for i in range(m.start, stop):
        doc.owner[i] = m


def _nicknames(doc: Doc) -> None:
    names: dict[tuple[str, ...], str] = {}
    for machine in doc.equipment:
        for name in (*machine.nicknames, machine.tag):
            words = tuple(re.findall(r"[a-z']+|\d+", name.lower()))
            if words and not (len(words) == 1 and words[0].isdigit()):
                names[words] = machine.tag
    if not names:
        return
    first = {w[0] for w in names}
    longest = max(len(w) for w in names)
    i = 0
    while i < len(doc.tokens):
        if doc.norm[i] in first:
            for length in range(min(longest, len(doc.tokens) - i), 0, -1):
                tag = names.get(tuple(doc.norm[i : i + length]))
                if tag and not any(doc.tokens[k].brk for k in range(i + 1, i + length)):
                    for other in doc.within(i, i + length):
                        doc.drop(other)
                    previous = doc.norm[i - 1] if i else ""
                    m = doc.put(Mention("machine", i, i + length, slug=tag))
                    m.number = previous if previous in _PREPOSITION else None
                    i += length - 1
                    break
        i += 1


def _places(doc: Doc) -> None:
    """ "the north unit" stays a label: its number is never guessed. "Number three" is a machine that was named."""
    for i, word in enumerate(doc.norm):
        if word not in ("unit", "rooftop", "one") or not i or doc.norm[i - 1] not in _PLACES:
            continue
        owner = doc.owner[i]
        if owner is not None and owner.kind == "machine":
            continue
        tag = _known_place(doc, doc.norm[i - 1])
        if tag is None:
            continue
        for other in doc.within(i - 1, i + 1):
            doc.drop(other)
        if doc.free(i - 1, i + 1):
            doc.put(Mention("machine", i - 1, i + 1, slug=tag))


def _known_place(doc: Doc, place: str) -> str | None:
    found = [e.tag for e in doc.equipment if any(place in n.lower().split() for n in e.nicknames)]
    return found[0] if len(found) == 1 else None
