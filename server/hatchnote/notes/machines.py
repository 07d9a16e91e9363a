"""Stages: which machine and which refrigerant circuit each word is said of."""

from __future__ import annotations

import re

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.named_places import named_places
from hatchnote.notes.numbers.words import CLASS, VALUE

TAGS_REQUIRE = ("mentions",)
TAGS_ASSIGN = ("machines",)
CONTEXT_REQUIRE = ("machines", "values")
CONTEXT_ASSIGN = ("tag_at", "circuit_at")

_HOMOPHONE = {"to": 2, "too": 2, "for": 4, "won": 1, "ate": 8, "free": 3, "tree": 3}
_PREPOSITION = frozenset(["on", "for", "at", "of"])
_PLACES = frozenset(
    [
        "north",
        "south",
        "east",
        "west",
        "northeast",
        "northwest",
        "southeast",
        "southwest",
        "front",
        "rear",
        "back",
        "kitchen",
        "gym",
        "lobby",
        "office",
        "warehouse",
        "dining",
        "corner",
        "middle",
        "center",
        "left",
        "right",
        "big",
        "small",
        "old",
        "new",
    ]
)
_NOT_A_MACHINE = frozenset(
    [
        "the",
        "a",
        "other",
        "each",
        "every",
        "any",
        "this",
        "that",
        "whole",
        "same",
        "entire",
        "dead",
        "first",
        "only",
    ]
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
            and (letter != "a" or doc.tokens[stop].text == "A" or _ends_here(doc, stop + 1) or doc.tokens[stop].glued)
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
        if previous and term.slug == "HP" and doc.norm[m.start] in ("h", "hp") and _number_before(doc, m.start):
            continue  # "five H P" is a motor's size
        spelled = m.stop < len(doc.tokens) and doc.tokens[m.stop - 1].gap == "." and doc.tokens[m.stop].gap == ". "
        if found is None or (found[0] - m.stop and doc.tokens[m.stop].brk > 1 and not spelled):
            continue
        stop, number = found
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
    named_places(doc)


def _number_before(doc: Doc, at: int) -> bool:
    return doc.tokens[at - 1].kind in "nf" or CLASS.get(doc.norm[at - 1], ".") in "dtxhHQF"


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


def bare_numbers(doc: Doc) -> None:
    """ "On three", "number two", "three's filters" in a round of several machines, once they have been named."""
    named = {m.slug for m in doc.mentions if m.kind == "machine"}
    if not named and not doc.equipment:
        from hatchnote.notes.numbered import unnamed

        unnamed(doc)
        return
    kinds = {t.rpartition("-")[0] for t in named if "-" in t}
    many = len(named) > 1 or len(doc.equipment) > 1 or any(t[-1:].isalpha() for t in named)
    if not many or len(kinds) > 1:
        return
    known = {t.rpartition("-")[2]: t for t in (*named, *_through(doc))} | {
        re.search(r"\d+[A-Z]?$", e.tag).group().lstrip("0"): e.tag  # type: ignore[union-attr]
        for e in doc.equipment
        if re.search(r"\d+[A-Z]?$", e.tag)
    }
    _all_of(doc, known)
    for i in range(len(doc.tokens)):
        if _lettered(doc, i, known):
            continue
        value = number_word(doc, i)
        if value is None or str(value) not in known:
            continue
        owner = doc.owner[i]
        if owner is not None and owner.kind not in ("word",):
            continue
        before = doc.norm[i - 1] if i and not doc.tokens[i].brk else ""
        after = doc.norm[i + 1] if i + 1 < len(doc.tokens) and not doc.tokens[i + 1].brk else ""
        lone = (
            CLASS.get(after, ".") not in "dtxhkpzH"
            and after not in _COUNTED
            and not (
                i + 1 < len(doc.tokens) and doc.tokens[i + 1].kind in "nfs" and not doc.tokens[i + 1].brk
            )
        )
        if not lone:
            continue
        opens = (
            i == 0
            or doc.tokens[i - 1].brk > 0
            or (i >= 2 and doc.norm[i - 2] in ("and", "then", "so", "okay", "now"))
        )
        if (
            (before == "on" and after in _AFTER_MACHINE)
            or (before == "on" and opens)
            or (
                before == "number"
                and (opens or (i >= 2 and doc.norm[i - 2] == "on"))
                and after in _AFTER_MACHINE
            )
        ):
            start = i - 1 if before == "number" else i
            for other in doc.within(start, i + 1):
                doc.drop(other)
            m = doc.put(Mention("machine", start, i + 1, slug=known[str(value)]))
            m.number = "on" if before == "on" or (i >= 2 and doc.norm[i - 2] == "on") else None
    doc.settle()


def _through(doc: Doc) -> list[str]:
    """ "Units six through nine", "R T U one through R T U three": machines named by the first and the last."""
    out: list[str] = []
    for m in doc.mentions:
        kind, _, first = m.slug.rpartition("-")
        if m.kind != "machine" or not first.isdigit() or m.stop + 1 >= len(doc.norm):
            continue
        if doc.norm[m.stop] not in ("through", "thru", "to") or doc.tokens[m.stop].brk:
            continue
        owner = doc.owner[m.stop + 1]
        last = number_word(doc, m.stop + 1)
        if owner is not None and owner.kind == "machine" and owner.slug.startswith(kind):
            number = owner.slug.rpartition("-")[2]
            last = int(number) if number.isdigit() else None
        if last is not None and int(first) < last <= int(first) + 20:
            out += [f"{kind}-{n}" for n in range(int(first), last + 1)]
    return out


def _all_of(doc: Doc, known: dict[str, str]) -> None:
    """ "Blower amps, one through five in order": a row of machines told by its first and its last."""
    for i in range(len(doc.norm) - 2):
        first, last = number_word(doc, i), number_word(doc, i + 2)
        if doc.norm[i + 1] not in ("through", "thru", "to") or first is None or last is None or last - first < 2:
            continue
        row = [known.get(str(n)) for n in range(first, last + 1)]
        ends = i + 3 >= len(doc.norm) or doc.tokens[i + 3].brk or doc.norm[i + 3] in ("in", "here", "again")
        alone = doc.owner[i : i + 3] == [None] * 3 and not any(t.brk for t in doc.tokens[i + 1 : i + 3])
        if all(row) and ends and alone and (i == 0 or doc.tokens[i].brk or doc.norm[i - 1] in ("on", "for")):
            doc.put(Mention("machines", i, i + 3, slug=",".join(t for t in row if t)))


def _lettered(doc: Doc, i: int, known: dict[str, str]) -> bool:
    """ "Eighteen on one A, nineteen on two B": numbers with letters name machines wherever they stand."""
    found = tag_number(doc, i) if number_word(doc, i) is not None else None
    if found is None or not found[1][-1].isalpha():
        return False
    if found[1] not in known:
        lettered = [tag for number, tag in known.items() if number[-1:].isalpha()]
        opens = i == 0 or doc.tokens[i].brk > 0 or doc.norm[i - 1] in ("on", "and", "then")
        if not lettered or not opens or not doc.tokens[found[0] - 1].text.isupper():
            return False
        known[found[1]] = f"{lettered[0].rpartition('-')[0]}-{found[1]}"
    if any(o is not None and o.kind != "word" for o in doc.owner[i : found[0]]):
        return False
    for other in doc.within(i, found[0]):
        doc.drop(other)
    m = doc.put(Mention("machine", i, found[0], slug=known[found[1]]))
    m.number = "on" if i and doc.norm[i - 1] == "on" and not doc.tokens[i].brk else None
    return True


_COUNTED = frozenset(
    [
        "amps",
        "amp",
        "volts",
        "inches",
        "inch",
        "filters",
        "percent",
        "degrees",
        "pounds",
        "ounces",
        "legs",
        "of",
        "pole",
        "hundred",
        "over",
        "point",
        "and",
    ]
)
_AFTER_MACHINE = frozenset(
    [
        "i",
        "the",
        "is",
        "are",
        "was",
        "were",
        "has",
        "had",
        "it",
        "i've",
        "we",
        "there",
        "return",
        "supply",
        "suction",
        "same",
        "got",
        "no",
        "needs",
    ]
) | {""}


def context(doc: Doc) -> None:
    """The machine and the circuit of every token: the one last named, until another is.

    A machine or circuit named behind what is said of it ("supply fifty three on three") reaches back to the start
    of its sentence, or to the machine named before it there.
    """
    n = len(doc.tokens)
    doc.tag_at = [None] * n
    doc.circuit_at = [None] * n
    tag: str | None = None
    circuit: str | None = None
    for begin, end in doc.sentences:
        _fill(doc.tag_at, begin, end, tag)
        _fill(doc.circuit_at, begin, end, circuit)
        last = begin
        for m in doc.within(begin, end):
            if m.kind == "refrigerant" and (doc.tag_at[m.start], m.slug) not in doc.refrigerants:
                doc.refrigerants.append((doc.tag_at[m.start], m.slug))
            if m.kind not in ("machine", "circuit") or m.claimed:
                continue
            start = last if m.number and _something_said(doc, last, m.start) else m.start
            if m.kind == "machine":
                if m.slug != tag:
                    circuit = None
                    _fill(doc.circuit_at, start, end, circuit)
                tag = m.slug
                _fill(doc.tag_at, start, end, tag)
                if tag not in doc.tags:
                    doc.tags.append(tag)
            else:
                circuit = m.slug or None
                _fill(doc.circuit_at, start, end, circuit)
            last = m.stop


def _fill(row: list[str | None], start: int, stop: int, value: str | None) -> None:
    for i in range(start, stop):
        row[i] = value


def _something_said(doc: Doc, start: int, stop: int) -> bool:
    """Whether a value, a part or a condition stands there."""
    return any(
        m.kind in ("value", "size") or m.comp or m.has("condition") or m.has("point")
        for m in doc.within(start, stop)
    )
