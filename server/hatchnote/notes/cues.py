"""The small words that say when and how a value was: found, was, left, set, rated."""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.wordlists import words


class Cue(NamedTuple):
    """A small word that says when or how a value was: "found", "now", "plate says"."""

    start: int
    stop: int
    slug: str
    trailing: bool
    """It belongs to the value right before it."""


_CUES = ("found", "was", "left", "setting", "from", "rated", "set")


def cues_of(doc: Doc, begin: int, end: int) -> list[Cue]:
    """The cues of the sentence, in order."""
    out: list[Cue] = []
    for m in doc.within(begin, end):
        if m.kind == "value" and (moved := _moved_to(doc, m, begin)) is not None:
            out.append(Cue(moved, m.start, "setting", False))
            continue
        if (
            m.kind == "word"
            and m.has("verb")
            and any(t.slug in ("adjust", "tighten") for t in m.of("verb"))
            and (m.claimed == "verb" or doc.norm[m.start] == "set" or _tightened_to(doc, m))
            and _to_follows(doc, m, end)
        ):
            out.append(Cue(m.start, m.stop, "setting", False))
            continue
        slugs = [t.slug for t in m.of("cue") if t.slug in _CUES]
        if not slugs or m.claimed == "side":
            continue
        slug = "setting" if "setting" in slugs else "rated" if "rated" in slugs else slugs[0]
        if not _counts(doc, m, slug, begin, end):
            continue
        out.append(Cue(m.start, m.stop, slug, _trailing(doc, m, begin, end)))
    return out


def _tightened_to(doc: Doc, m: Mention) -> bool:
    """ "Deflection was an inch, tightened to half an inch": without its object."""
    said = any(t.slug == "tighten" and t.form == "past" for t in m.of("verb"))
    return said and doc.norm[m.stop : m.stop + 1] == ["to"]


def _to_follows(doc: Doc, m: Mention, end: int) -> bool:
    for i in range(m.stop, min(end, m.stop + 9)):
        owner = doc.owner[i]
        if owner is not None and owner.kind == "value":
            return any(doc.norm[x] in ("to", "at") for x in range(m.start, i))
        if doc.tokens[i].brk == 2:
            return False
    return False


def _counts(doc: Doc, m: Mention, slug: str, begin: int, end: int) -> bool:
    """Whether the small word is the cue here: "before" a reading, not "before Sunday" or "after ten minutes"."""
    text = " ".join(doc.norm[m.start : m.stop])
    after = doc.norm[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else ""
    nxt = doc.owner[m.stop] if m.stop < end else None
    if text in ("before i started it", "before i started them", "before i started her"):
        return False  # the part was started then, not the visit
    if text in ("before i", "before we"):
        started = after in ("started", "start", "ran", "run", "fired")
        if started and doc.norm[m.stop + 1 : m.stop + 2] in (["it"], ["her"], ["the"], ["them"]):
            return False  # "megged it before I started it": nothing was changed by that
        return after not in _GOING  # "before I quit": still the same visit
    if text in ("after i", "after we"):
        return after not in _COMING
    if text in ("before", "earlier"):
        return after in (
            "",
            "was",
            "were",
            "and",
            "is",
            "it",
            "that",
            "i",
            "cleaning",
            "adjusting",
            "the",
        ) or (nxt is not None and nxt.kind in ("value", "word"))
    if text == "after" and nxt is not None and nxt.has("verb"):
        return True  # "after cleaning the coil"
    if text in ("after", "left", "final"):
        return after in ("", "is", "it", "it's", "was", "i", "cleaning") or (
            nxt is not None
            and nxt.kind == "value"
            and nxt.value is not None
            and nxt.value.ucum not in ("min", "h", "s")
        )
    if text == "locked rotor" and after in ("hit", "was", "spiked", "went", "peaked", "showed"):
        return False  # what it drew when it did not turn
    if text == "locked rotor" and m.start > begin:
        return doc.norm[m.start - 1] not in ("went", "goes", "going", "in", "at", "pulling", "pulls", "drew")
    if text == "tag" or text == "label":
        return True
    if text == "plate" or text == "motor plate":
        return True
    if text == "set":
        return (nxt is not None and (nxt.kind == "value" or nxt.has("point") or bool(nxt.comp))) or after in (
            "the",
            "it",
            "to",
            "at",
        )
    if text == "had":
        return m.start > begin and doc.norm[m.start - 1] in ("i", "we", "it")
    if slug == "was":
        return True
    return True


_MOVED = words(
    """
    brought took got dropped lowered raised bumped pulled backed turned cranked knocked eased cut pushed
    """
)
_BY_US = frozenset({"i", "we", "i've", "we've", "and", "then", "just", "so", "to", "also", "finally"})


def _moved_to(doc: Doc, m: Mention, begin: int) -> int | None:
    """ "Took the head down to three ten", "brought the static back up to point five": where he began to move it."""
    i = m.start - 1
    if i <= begin or doc.norm[i] in ("about", "around"):
        i -= 1
    if i <= begin or doc.norm[i] != "to" or any(doc.tokens[x].brk for x in range(i, m.start + 1)):
        return None
    for k in range(i - 1, max(begin - 1, i - 8), -1):
        owner = doc.owner[k]
        if owner is not None and owner.kind == "value":
            return None
        if doc.norm[k] in _MOVED and (k == begin or doc.tokens[k].brk or doc.norm[k - 1] in _BY_US):
            return k if {"up", "down", "back", "it", "them", "that"} & set(doc.norm[k:i]) else None
        if doc.tokens[k].brk:
            return None
    return None


def _placed(doc: Doc, m: Mention, begin: int) -> Mention | None:
    """The value of which only a place is told between it and cue `m`."""
    for i in range(m.start - 1, max(begin, m.start - 6), -1):
        if doc.tokens[i + 1].brk:
            return None
        owner = doc.owner[i]
        if owner is not None and owner.kind == "value":
            return owner if doc.norm[owner.stop] in ("at", "on", "across", "in", "through") else None
    return None


_GOING = words(
    """
    quit left leave go went forget head headed close closed waste wasted blow blew try tried put order fire energize
    power
    """
)


_COMING = frozenset(["got", "came", "arrived", "get"])


def _trailing(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "three fifty five now": the cue stands right behind a value and its clause ends there."""
    i = m.start - 1
    if i < begin or doc.tokens[m.start].brk:
        return False
    if doc.norm[i] in ("the", "on", "right", "a", "of", "at", "by") and i > begin:
        i -= 1
    if doc.norm[i] in ("on", "per", "by", "off", "from") and i > begin:
        i -= 1
    owner = doc.owner[i]
    told_late = doc.norm[m.start] == "now" or (
        m.stop - m.start > 1 and doc.norm[m.start] in ("when", "before")
    )
    if told_late and (at := _placed(doc, m, begin)) is not None:
        owner = at  # "point nine two at the switch now", "four ten on circuit two when I got here"
    if (
        owner is not None
        and owner.kind == "word"
        and (owner.claimed == "suffix" or owner.has("point") or owner.comp)
        and owner.start > begin
    ):
        owner = doc.owner[owner.start - 1]
    if owner is None or owner.kind not in ("value", "legs", "size"):
        return False
    after = doc.norm[m.stop] if m.stop < end else ""
    if m.claimed == "suffix" and m.has("cue", "rated"):
        return True
    act = m.stop < end and doc.owner[m.stop] is not None and doc.norm[m.stop].endswith("ing")
    if (act or m.stop - m.start > 1) and doc.norm[m.start] in ("after", "before", "when", "once"):
        return True  # "down to forty after I cleaned the burners": the clause is the cue
    return (
        m.stop >= end
        or bool(doc.tokens[m.stop].brk)
        or after in ("and", "but", "so", "on", "which", "with", "for", "after", "instead")
    )
