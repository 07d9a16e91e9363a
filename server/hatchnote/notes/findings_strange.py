"""Subjects that are none of our parts: "the inducer housing is cracked", "engine four went out, it's loud"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words

_SMALL = words(
    """
    a an the this that these those my your his her its our their and or but so then because since as if
    when while where there here it he she they we i you who what which is are was were be been being am
    's has have had do does did not no yes any some all both each every either neither one ones two
    three four more most much many few lot lots little bit of on in at to from with by for up down out
    off over under through around inside outside behind near across about along back away still just
    also too very really pretty real right left now already only even again almost kind sort quite uh um
    okay well oh yeah like looks look looked seems seem sounds sound feels feel runs running ran got
    gets get came come comes went goes going gone keeps kept stays stayed tests tested reads reading
    read shows showing checks checked ohms ohm'd megs found find said says say saw seen think guess
    believe can could would should will might may must completely totally definitely actually basically
    probably maybe itself themselves myself top bottom side end front rear both's how everything
    something nothing anything first second third fourth last next other another same old new own main
    whole half part parts rest unit machine system plumb slap dang darn ain't isn't wasn't aren't
    weren't don't doesn't didn't won't can't couldn't gonna fixing on-site today today's yesterday
    tomorrow morning afternoon tonight cause though anyway way time thing things stuff guy them him me
    us em gave give made make put took take turned turn turns started start starts stopped stop quit leg
    legs phase inch inches foot feet hour hours minute minutes day days week weeks month months year
    years ago per cent percent degrees amps volts pounds ounces psi hertz microns it's that's there's
    i'm i'd i'll we'll here's what's they're big huge good bad solid block let megohms microamps ohm
    microfarads kilohms k o l cfm rpm porcelain porcelains ceramic insulator tip tips fins gears teeth slots
    round way
    """
)
"""Words that are no subject of their own."""
_PLACES = words(
    """
    on in at of under behind inside beside around near above below by from off between against through
    over with for to
    """
)
_TELLERS = words(
    "i we it he she they you that this there so then and but when while if because what which who"
)
_PAST = words(
    """
    spun felt heard saw took got put ran went did had looked gave made hit set cut kept held found left
    bent
    """
)
_COPULAS = words(
    "is are was were looks look looked seems feels sounds isn't wasn't ain't got gets has have had keeps"
)


def _content(doc: Doc, i: int) -> bool:
    """Whether token `i` is a word with a meaning of its own that the vocabulary does not know."""
    word = doc.norm[i]
    return (
        doc.owner[i] is None
        and doc.tokens[i].kind == "w"
        and word not in _SMALL
        and not word.endswith("ly")
        and CLASS.get(word, ".") == "."
        and len(word) > 2
    )


def strange_subject(doc: Doc, at: int, begin: int) -> bool:
    """ "The inducer housing is cracked": an unknown noun right before what is said of it."""
    i = at - 1
    while i >= begin and not doc.tokens[i + 1].brk and _between(doc, i):
        i -= 1
    if i < begin or doc.tokens[i + 1].brk or not _content(doc, i):
        return False
    if doc.norm[i].endswith(("ed", "ing")) or doc.norm[i] in _PAST or _does(doc, i, begin):
        return False
    for k in range(i - 1, max(begin - 1, i - 5), -1):
        if doc.tokens[k + 1].brk:
            break
        if doc.norm[k] in _PLACES:
            return False  # "the bearing on the drive end is worn"
    return True


def _does(doc: Doc, i: int, begin: int) -> bool:
    """ "The switch closes fine": a verb of the part, no noun."""
    before = doc.owner[i - 1] if i > begin and not doc.tokens[i].brk else None
    return doc.norm[i].endswith("s") and before is not None and bool(before.comp)


def _between(doc: Doc, i: int) -> bool:
    """What may stand between a subject and its condition."""
    word = doc.norm[i]
    owner = doc.owner[i]
    if owner is not None:
        return not owner.comp and (owner.has("cue", "was", "not", "left", "found") or owner.has("condition"))
    return word in _COPULAS or word in (
        "so",
        "very",
        "pretty",
        "real",
        "really",
        "all",
        "both",
        "been",
        "still",
        "also",
        "too",
        "a",
        "little",
        "bit",
        "just",
        "completely",
        "totally",
        "plumb",
        "slap",
        "kind",
        "of",
        "about",
        "almost",
        "now",
        "be",
        "being",
        "not",
    )


def strange_clause(doc: Doc, lead: int, begin: int) -> bool:
    """Whether the clause before token `lead` is about something that is none of our parts."""
    a = lead - 1
    while a > begin and not doc.tokens[a].brk:
        a -= 1
    if any(m.comp or m.kind in ("size", "machine", "circuit") or m.has("point") for m in doc.within(a, lead)):
        return False
    i = a
    while i < lead and (
        doc.norm[i]
        in (
            "the",
            "a",
            "an",
            "my",
            "their",
            "his",
            "her",
            "our",
            "and",
            "so",
            "but",
            "then",
            "this",
            "that",
            "some",
        )
    ):
        i += 1
    if doc.norm[i : i + 2] in (["i", "think"], ["i", "guess"], ["you", "know"]):
        i += 2
        while i < lead and doc.norm[i] in ("the", "a", "their", "his", "that"):
            i += 1
    if lead - i < 2 or doc.norm[i] in _TELLERS or not _content(doc, i):
        return False
    word = doc.norm[i]
    return not (word in _PAST or word.endswith(("ed", "ing")))
