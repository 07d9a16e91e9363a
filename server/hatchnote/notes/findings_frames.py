"""Frames in which a condition tells of its part, or of none: done to it, opening its sentence, praising the work."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.vocabulary import ConditionEntry, Term
from hatchnote.notes.wordlists import words

_FUNCTION = words(
    """
    and or but so on in at to with from when while now here there again up the a an old it real pretty
    too bad over out off one ones as for by about along across around maybe near under between behind
    through inside below above running going coming that which where you we i clear not like bigger wider
    """
)


def turned_about(doc: Doc, m: Mention, begin: int, end: int) -> tuple[str, str | None] | None:
    """ "Pitted, the blower contactor.", "burnt, one wire terminal, and loose": the condition opens its sentence."""
    if m.start != begin or m.stop >= end or not doc.tokens[m.stop].brk:
        return None
    i = m.stop
    while i < end and doc.norm[i] in ("the", "one", "a", "that", "both"):
        i += 1
    x = doc.owner[i] if i < end and i > m.stop else None
    if x is None or not x.comp or not x.part or x.kind != "word":
        return None
    return (x.comp, x.number) if x.stop >= end or doc.tokens[x.stop].brk else None


_JOINTS = frozenset({"gas-union", "schrader-core", "service-valve"})


def where_it_is(doc: Doc, m: Mention, term: Term, end: int) -> tuple[str, str | None] | None:
    """ "The gas valve leaks at the union", "it tripped on the high pressure switch": the part behind is meant."""
    if m.stop >= end or doc.tokens[m.stop].brk:
        return None
    at = {"leaking": "at", "tripped": "on"}.get(term.slug)
    within = m.stop - m.start > 1 and doc.norm[m.stop - 1] == at  # "leaking at" is a form of its own
    if at is None or term.form == "noun" or not (within or doc.norm[m.stop] == at):
        return None
    for x in doc.within(m.stop + (not within), min(end, m.stop + 5)):
        if doc.tokens[x.start].brk:
            return None
        if x.comp and x.part and x.kind == "word":
            joint = x.comp in _JOINTS if at == "at" else x.comp.endswith(("switch", "sensor"))
            return (x.comp, x.number) if joint else None
    return None


_HARMERS = frozenset({"hail", "wind", "storm", "water", "squirrel", "mouse", "rat"})
_HARMS = words(
    """
    chewed ate bent tore ripped cut smashed beat mangled busted broke crushed shredded knocked tripped
    hit
    """
)


def did_to(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> tuple[str, str | None] | None:
    """ "A squirrel chewed the wire", "hail beat up the fins": done to the part behind, by something."""
    by_weather = m.stop - m.start > 1 and doc.norm[m.start] in _HARMERS
    if term.slug != "damaged" or not (by_weather or doc.norm[m.start] in _HARMS):
        return None
    if not by_weather and (m.start == begin or doc.tokens[m.start].brk):
        return None
    if m.start > begin and doc.norm[m.start - 1] in (
        "i",
        "we",
        "and",
        "to",
        "is",
        "was",
        "are",
        "were",
        "been",
        "be",
        "then",
        "who",
        "got",
    ):
        return None
    before = doc.owner[m.start - 1] if m.start > begin else None
    if before is not None and before.comp:
        return None
    for x in doc.within(m.stop, min(end, m.stop + 5)):
        if any(t.brk for t in doc.tokens[m.stop : x.start + 1]):
            return None
        if x.comp and x.part and x.kind == "word" and not x.modifier:
            return x.comp, x.number
    return None


def lacks_some(doc: Doc, m: Mention, end: int) -> tuple[str, str | None] | None:
    """ "The access panel's missing four screws": the screws are missing, not the panel."""
    if doc.norm[m.start : m.stop] != ["missing"]:
        return None
    for x in doc.within(m.stop, min(end, m.stop + 5)):
        if any(t.brk for t in doc.tokens[m.stop : x.start + 1]):
            return None
        if x.comp and x.part and x.kind == "word":
            between = set(doc.norm[m.stop : x.start])
            if between & {"on", "at", "from", "off", "in", "by", "of", "and", "near", "under", "around"}:
                return None
            return x.comp, x.number
    return None


def own_deed(doc: Doc, m: Mention, term: Term, begin: int) -> bool:
    """ "Cut the wire back", "ate two bars", "got it loose": done by the speaker, found on no part."""
    if term.slug == "loose" and m.start - 2 >= begin and doc.norm[m.start - 2] == "got":
        return True
    opens = m.start == begin or doc.tokens[m.start].brk > 0
    after = doc.norm[m.stop] if m.stop < len(doc.norm) and not doc.tokens[m.stop].brk else ""
    return opens and doc.norm[m.start] in _DEEDS and after in _DEED_AFTER


_DEEDS = words(
    "cut bent stripped tore broke ripped split sliced ate snapped smashed busted chewed popped nicked"
)
_DEED_AFTER = words("the that a an it them those these out off back up all my two three four some loose")


_DOERS = words(
    """
    they he she somebody someone tenant landlord customer roofer roofers electrician janitor whoever i we
    guy
    """
)
_OBJECTS = words("the a an that this my our their her his its both all two these those another some")


def done_by_hand(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "They choked the return down", "bent the electrode back", "plugged the hole": an act upon what stands behind."""
    if (
        m.stop - m.start > 2
        or m.stop + 1 >= end
        or doc.tokens[m.stop].brk
        or doc.norm[m.stop] not in _OBJECTS
    ):
        return False
    word = doc.norm[m.start]
    if not (word.endswith("ed") or word in _DONE_PAST) or (
        doc.norm[m.stop] in ("all", "both", "two") and not m.comp
    ):
        return False
    opens = m.start == begin or doc.tokens[m.start].brk > 0
    return opens or doc.norm[m.start - 1] in _DOERS


_DONE_PAST = words("bent split cut broke tore blew froze burnt shot wore stuck bust ate chewed")


def only_how(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "dead seized" tells how, "marked to open" what for, "a bent ladder" of a thing that is no part."""
    after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
    word = doc.norm[m.start]
    if (
        after is not None
        and after.has("condition")
        and m.stop - m.start == 1
        and word in ("dead", "good", "bad", "full", "stuck")
    ):
        return True
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if word.startswith("flap") and doc.norm[m.stop : m.stop + 1] in (
        ["shut"],
        ["closed"],
        ["open"],
        ["free"],
    ):
        return True  # "flaps shut like it should"
    if doc.norm[m.start : m.stop + 2] == ["right", "on", "the", "edge"]:
        return True
    if word in ("groove", "grooves") and "by" in doc.norm[max(begin, m.start - 4) : m.start]:
        return True  # "out of line by half a groove"
    if (
        word == "full"
        and m.stop - m.start == 1
        and (after is not None or doc.norm[m.stop : m.stop + 1] in (["of"], ["load"], ["on"], ["fire"]))
    ):
        return True
    if before in ("full", "fully") and word in ("open", "closed", "shut"):
        return True
    if before == "to" and word in ("open", "clean", "clear", "seal", "work"):
        return True
    if before in ("a", "an") and m.stop < end and not doc.tokens[m.stop].brk:
        if after is not None:
            return after.has("cue", "thing")
        return doc.tokens[m.stop].kind == "w" and doc.norm[m.stop] not in _FUNCTION and not m.has("verb")
    return False


_UNFAULTED = frozenset({"no", "nothing", "not", "any", "anything", "can't"})
_PRAISED = frozenset({"with", "on", "in", "at", "from", "about"})


def wrong_with(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> list[tuple[str, str | None]] | None:
    """ "Nothing wrong with the belt", "no issues on the economizer": normal is said of what stands behind."""
    if term.slug != "normal" or doc.norm[m.stop - 1] not in _PRAISED:
        return None
    if doc.norm[m.start] not in _UNFAULTED and doc.norm[m.stop - 1] != "with":
        return None
    if doc.norm[m.start] in ("any", "anything"):
        lead = doc.within(max(begin, m.start - 5), m.start)
        if not any(x.has("cue", "not") for x in lead):
            return [("", None)]  # "is there anything wrong with it"
    out: list[tuple[str, str | None]] = []
    for x in doc.within(m.stop, min(end, m.stop + 9)):
        if any(doc.tokens[k].brk for k in range(m.stop, x.start + 1)):
            break
        if x.comp and x.kind == "word" and x.part and not (x.modifier and out):
            if out and doc.norm[x.start - 1] not in ("and", "or", "the", "either"):
                break
            out.append((x.comp, x.number))
    return out or ([("", None)] if doc.norm[m.start] in _UNFAULTED else None)


def the_bad_one(
    doc: Doc, m: Mention, entry: ConditionEntry, begin: int, end: int
) -> tuple[str, str | None] | None:
    """ "Fitted in place of the worn one": the part last named."""
    before = doc.norm[m.start - 1] if m.start > begin else ""
    if (
        before not in ("the", "that", "both", "all", "those")
        or m.stop >= end
        or doc.norm[m.stop] not in ("one", "ones")
        or doc.tokens[m.stop].brk
    ):
        return None
    if entry.slug == "normal":
        return None  # "the good one" is as often no part
    near = focus_before(doc, m.start, entry.only, 25)
    return (near.comp, near.number) if near is not None else None


def is_act(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "sealed the curb", "cut the wire": the past of a verb with its object behind it."""
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if before in ("is", "was", "are", "were", "looks", "be", "been"):
        return False
    return before in ("i", "we", "then", "and", "to", "he") and not _comp_before(doc, m, begin)


def _comp_before(doc: Doc, m: Mention, begin: int) -> bool:
    return any(x.comp and x.part for x in doc.within(max(begin, m.start - 5), m.start))


ADVERBS = frozenset({"bad", "good", "fine", "nice"})

_HOW = frozenset({"real", "pretty", "really", "out", "up", "off", "down"})


def well_done(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Hosed the condenser out real good": how it was done."""
    i = m.start - 1
    if i < begin or doc.tokens[m.start].brk or doc.norm[i] not in _HOW:
        return False
    while i >= begin and m.start - i < 9:
        owner = doc.owner[i]
        if doc.norm[i] in ("is", "are", "looks", "look", "it's", "they're", "was", "were"):
            return False
        if owner is not None and owner.claimed == "verb":
            return True
        if doc.tokens[i].brk:
            return False
        i -= 1
    return False


def as_meant(doc: Doc, m: Mention) -> bool:
    """ "The economizer strokes like it should": said of a part that stands right before its verb, nothing between."""
    if not {"should", "supposed", "ought"} & set(doc.norm[m.start : m.stop]) or m.start < 2:
        return True
    if doc.norm[m.start] in ("does", "do", "doing", "works", "operates", "operating", "functions"):
        return True
    near = [doc.owner[i] for i in range(max(0, m.start - 3), m.start) if not doc.tokens[m.start].brk]
    return any(x is not None and x.comp and x.part for x in near)


_GETTING = frozenset({"getting", "gets", "got", "has", "have", "sees", "seeing", "receiving"})
_FED = frozenset({"volts", "volt", "power", "signal", "voltage", "gas", "call", "juice", "pressure"})


def of_its_supply(doc: Doc, m: Mention, begin: int) -> bool:
    """ "The actuator's getting its ten volts all right": what it is given is good, not what it makes of it."""
    fed = False
    for i in range(m.start - 1, max(begin - 1, m.start - 9), -1):
        if doc.tokens[i + 1].brk:
            return False
        owner = doc.owner[i]
        fed = fed or doc.norm[i] in _FED or (owner is not None and owner.kind == "value")
        if doc.norm[i] in _GETTING:
            return fed
        if owner is not None and owner.comp and owner.part:
            return False
    return False


def praises_work(doc: Doc, m: Mention, end: int) -> bool:
    """ "A good wash", "a good long flush": the work is good."""
    for i in range(m.stop, min(end, m.stop + 2)):
        owner = doc.owner[i]
        if doc.tokens[i].brk:
            return False
        if owner is not None:
            return owner.has("verb") and not owner.comp
    return False


def adverb(doc: Doc, m: Mention, begin: int) -> bool:
    """ "pitted real bad": how much, not what."""
    i = m.start - 1
    how = i >= begin and doc.norm[i] in ("real", "pretty", "so", "really", "too", "that")
    if how:
        i -= 1
    if how and any(
        x.has("condition", "damaged") and not any(t.brk for t in doc.tokens[x.stop : m.start + 1])
        for x in doc.within(max(begin, m.start - 8), i)
    ):
        return True  # "hail beat up the coil pretty bad"
    owner = doc.owner[i] if i >= begin else None
    return owner is not None and owner.has("condition")


_TRIPS = frozenset({"tripped", "intermittent"})


def works_at(doc: Doc, m: Mention, term: Term, end: int) -> bool:
    """ "It trips at six ten", "kicks out around fifteen": at what a switch works, no trouble with it."""
    if term.slug not in _TRIPS or m.stop + 1 >= end or doc.tokens[m.stop].brk:
        return False
    if doc.norm[m.start] not in ("trips", "trip", "kicks", "cuts", "cut", "tripping", "kicking", "cutting"):
        return False  # "tripped at six ten this morning"
    at = {"at", "around", "under", "over", "near"} & set(doc.norm[m.stop : m.stop + 2])
    return bool(at) and any(x.kind == "value" for x in doc.within(m.stop, min(end, m.stop + 4)))
