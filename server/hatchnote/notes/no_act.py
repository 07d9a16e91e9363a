"""Words of an act that tell of none: "brought it down to point five", "even when I jump it", "it's locked out"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_VACUUM = words(
    "vacuum micron microns evac evacuate evacuated pump pumped nitrogen recovered recover lines decay"
)
_DEEP = 100
"""Microns are told in hundreds."""
_SAME_IN_PAST = frozenset({"put", "set", "cut", "shut", "hit", "let"})
_OTHERS = frozenset({"somebody", "someone", "they", "he", "she", "whoever"})
_NOBODY = frozenset({"nobody", "noone", "nobody's"})
_FAULTS = words(
    "fault faults code codes alarm alarms lockout error errors trip tripped board drive display it's"
)
_TELLERS = frozenset({"i", "we", "you", "they"})
_HAD = frozenset({"had", "got", "left", "has", "put", "keeps", "kept", "have"})
_PEOPLE = words(
    """
    somebody someone they he she tenant customer landlord janitor maintenance guy fella feller genius idiot
    joker whoever whoever's electrician roofer plumber owner manager crew tech
    """
)


def tells_of_no_act(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> bool:
    """Whether verb `m` is no work of this visit for what stands around it."""
    if term.slug == "evacuate" and not _of_a_vacuum(doc, m, begin, end):
        return True
    if term.form == "base" and _as_often_as(doc, m, begin):
        return True
    if term.form == "past" and _had_it_so(doc, m, begin):
        return True
    opens = m.start == begin or doc.tokens[m.start].brk
    if doc.norm[m.start] in _SAME_IN_PAST and not opens and doc.norm[m.start - 1] in _OTHERS:
        return True  # "somebody put in one inch filters"
    if term.form == "past" and _NOBODY & set(doc.norm[max(begin, m.start - 3) : m.start]):
        return True  # "nobody's changed these in a year"
    if term.slug == "reset" and doc.norm[m.start].startswith("clear") and not _fault_near(doc, m, end):
        return True  # "the tube was plugged, cleared it"
    if term.slug == "replace" and _put_right(doc, m, end):
        return True
    if (
        term.slug == "reset"
        and m.stop < end
        and doc.norm[m.stop] in ("at", "around")
        and _value_near(doc, m, end)
    ):
        return True  # "opened at one eighty and reset at one fifty"
    if term.slug == "clean" and doc.norm[m.start] in ("blew", "blown", "blows"):
        fuse = any(x.comp == "fuse" for x in doc.within(m.stop, min(end, m.stop + 3)))
        if fuse:
            return True  # "blew the fuse"
    if term.slug == "clean" and doc.norm[m.start] == "soaked" and _named_before(doc, m, begin):
        return True  # "filters soaked, the hood lets the rain in"
    if (
        term.slug == "replace"
        and doc.norm[m.start] == "spun"
        and doc.norm[m.stop : m.stop + 2] == ["the", "shaft"]
    ):
        return True
    so = ("isolate", "adjust", "bypass")
    return (
        term.form == "past"
        and term.slug in so
        and _is_so(doc, m, begin, term_is_bypass=term.slug == "bypass")
    )


def _value_near(doc: Doc, m: Mention, end: int) -> bool:
    return any(x.kind == "value" for x in doc.within(m.stop, min(end, m.stop + 4)))


def _named_before(doc: Doc, m: Mention, begin: int) -> bool:
    part = doc.owner[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else None
    return part is not None and bool(part.comp)


def _of_a_vacuum(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Pulled it down to four hundred" is of a vacuum, "brought it down to point five" of any value."""
    said = doc.norm[m.start : m.stop]
    if any(w.startswith(("evac", "vac")) for w in said) or "pump" in said:
        return True
    if _VACUUM & set(doc.norm[max(0, begin - 30) : end]):
        return True
    value = next((x for x in doc.within(m.stop, min(end, m.stop + 4)) if x.kind == "value"), None)
    if value is None or value.value is None:
        return False
    if any(
        x.has("point") and not x.has("point", "vacuum") and not x.has("verb")
        for x in doc.within(begin, m.start)
    ):
        return value.value.ucum == "um[Hg]"  # "the head was five ten, brought it down to three ninety"
    return value.value.ucum == "um[Hg]" or (value.value.ucum is None and value.value.first >= _DEEP)


def _as_often_as(doc: Doc, m: Mention, begin: int) -> bool:
    """ "It runs when I jump it", "every time you reset it": what happens, no work."""
    i = m.start - 1
    if i - 1 < begin or doc.norm[i] not in _TELLERS:
        return False
    return doc.norm[i - 1] in ("when", "whenever", "time", "if", "til", "until", "unless", "once", "as")


def _had_it_so(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Someone had the high pressure switch jumped out": found so, by others."""
    i = m.start - 1
    part = doc.owner[i] if i >= begin else None
    if part is None or not part.part or doc.tokens[m.start].brk:
        return False
    i = part.start - 1
    while i >= begin and doc.norm[i] in (
        "the",
        "that",
        "this",
        "a",
        "both",
        "all",
        "my",
        "their",
        "these",
        "those",
    ):
        i -= 1
    if i - 1 < begin or doc.norm[i] not in _HAD:
        return False
    return any(w in _PEOPLE or w == "it" for w in doc.norm[max(begin, i - 4) : i])


def _fault_near(doc: Doc, m: Mention, end: int) -> bool:
    return bool(_FAULTS & set(doc.norm[max(0, m.start - 14) : min(end, m.stop + 4)]))


def _put_right(doc: Doc, m: Mention, end: int) -> bool:
    """ "Put them in right", "put it in straight this time": the old ones, seated as they should be."""
    if doc.norm[m.start] != "put":
        return False
    behind = doc.norm[m.start + 1 : min(end, m.start + 5)]
    them = behind[:1] in (["it"], ["them"], ["em"], ["those"])
    return them and bool({"right", "straight", "properly", "correctly", "back"} & set(behind))


def _is_so(doc: Doc, m: Mention, begin: int, *, term_is_bypass: bool) -> bool:
    """ "The economizer's locked out", "its changeover set at sixty five": how a control stands, nobody's act."""
    if doc.tokens[m.start].brk or m.start <= begin:
        return False
    before = doc.owner[m.start - 1]
    word = doc.norm[m.start]
    if before is not None and before.comp == "economizer" and word == "locked":
        return True
    is_set = word == "set" and doc.tokens[m.start - 1].lower.endswith(("'s", "’s"))
    if (
        is_set
        and before is not None
        and before.comp
        and doc.norm[m.start + 1 : m.start + 2] in (["for"], ["at"])
    ):
        return True  # "the cutout's set for twenty"
    if term_is_bypass and before is not None and doc.tokens[m.start - 1].lower.endswith(("'s", "’s")):
        return True  # "low pressure's jumped out with a wire nut"
    return word == "set" and doc.norm[m.start - 1] in (
        "changeover",
        "enthalpy",
        "lockout",
        "cutout",
        "limits",
    )
