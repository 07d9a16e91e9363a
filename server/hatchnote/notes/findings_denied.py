"""Conditions that were not found: denied, only asked about, supposed, or gone by now."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.findings_part import COPULA
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_NORMAL_BLOCK = words("not isn't wasn't aren't weren't no doesn't don't didn't never ain't")


def is_denied(doc: Doc, m: Mention, term: Term, begin: int) -> bool:
    """ "no cracks", "isn't leaking", "didn't see any leaks", "no signs of rust"."""
    if term.form == "noun" and m.start > begin and doc.norm[m.start - 1] in ("for", "any"):
        return True  # "checked for cracks"
    i = m.start - 1
    steps = 0
    while i >= begin and steps < (7 if term.form == "noun" else 4):
        if doc.tokens[i + 1].brk or doc.norm[i] in ("just", "only", "except"):
            return False  # "no holes, just surface rust"
        owner = doc.owner[i]
        if owner is not None and owner.has("cue", "not"):
            return True
        if doc.norm[i] in _NORMAL_BLOCK:
            return True
        if owner is not None and owner.comp and term.form != "noun":
            before = (
                doc.norm[owner.start - 1] if owner.start > begin and not doc.tokens[owner.start].brk else ""
            )
            return before in ("no", "zero", "any")  # "no gas leaks"
        if (
            term.form == "adjective"
            and doc.norm[i] not in COPULA
            and owner is None
            and doc.norm[i] not in ("any", "more", "much", "that", "it", "or", "looking")
        ):
            steps += 2
        i -= 1
        steps += 1
    if (
        m.stop < len(doc.tokens)
        and "?" in doc.tokens[m.stop].gap
        and doc.norm[m.stop] in ("none", "no", "nope", "not")
    ):
        return True  # "heat exchanger cracks? None"
    if term.form == "noun":
        after = [doc.norm[x] for x in range(m.stop, min(len(doc.norm), m.stop + 3))]
        for x in range(m.stop, min(len(doc.norm), m.stop + 9)):
            if doc.tokens[x].brk:
                break
            if doc.norm[x] == "gone" and doc.norm[x - 1] in ("is", "are"):
                return True  # "the leak at the core is gone"
        if after[:1] in (["look"], ["looks"], ["looked"]) and after[1:2] in (
            ["good"],
            ["fine"],
            ["okay"],
            ["clean"],
        ):
            return True  # "the grooves look fine"
        return (
            after[:2] in (["is", "gone"], ["are", "gone"])
            or after[:1] == ["check"]
            or after[:1] == ["checked"]
        )
    return False


_THOUGHT = (
    ["i", "thought"],
    ["i", "figured"],
    ["we", "thought"],
    ["you'd", "think"],
    ["i", "swore"],
    ["thought", "it"],
    ["thought", "the"],
    ["figured", "the"],
    ["might", "be"],
    ["may", "be"],
    ["could", "be"],
    ["could", "have"],
    ["would", "be"],
    ["will", "be"],
    ["wondered", "if"],
    ["i", "suspected"],
    ["was", "suspected"],
    ["looks", "to"],
    ["going", "to"],
    ["supposed", "to"],
    ["used", "to"],
)
_BUT = frozenset({"but", "and", "so", "then", "because", "turns"})


def is_thought(doc: Doc, m: Mention, begin: int) -> bool:
    """ "I thought the inducer was bad", "maybe the board is bad", "it could be shorted": nothing that was found."""
    for i in range(m.start - 1, max(begin - 1, m.start - 9), -1):
        if doc.norm[i] in _BUT or doc.tokens[i + 1].brk:
            return False
        if doc.norm[i] in ("maybe", "perhaps", "possibly") or doc.norm[i : i + 2] in _THOUGHT:
            return True
    return False


def is_supposed(doc: Doc, m: Mention, begin: int) -> bool:
    """ "If the belt is cracked it will squeal"."""
    i = m.start - 1
    while i >= max(begin, m.start - 9):
        if doc.norm[i] in ("if", "unless"):
            return True
        if doc.tokens[i + 1].brk:
            return False
        i -= 1
    return False


def is_asked(doc: Doc, begin: int) -> bool:
    """ "Is the belt cracked?"."""
    return doc.norm[begin] in ("is", "are", "was", "were") and doc.norm[begin + 1 : begin + 2] in (
        ["the"],
        ["that"],
        ["it"],
    )


def trouble_gone(doc: Doc, m: Mention, begin: int) -> bool:
    """ "The leak at the core is gone", "the noise in the belt's gone": the trouble is, not the part."""
    low = max(begin, m.start - 10)
    subject = doc.owner[m.start - 1] if m.start > begin else None
    if subject is None or not subject.part:
        return True  # "the valves in it are gone"
    return bool({"noise", "smell", "sound", "code", "fault"} & set(doc.norm[low : m.start])) or any(
        any(t.form == "noun" for t in x.of("condition"))
        and not any(t.brk for t in doc.tokens[x.stop : m.start + 1])
        for x in doc.within(low, m.start)
    )
