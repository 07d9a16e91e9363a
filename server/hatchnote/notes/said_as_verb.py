"""Whether a verb's form is really said as a verb in its place."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_TORQUED = Term("verb", "tighten", "past")

_SETTING = MOVED = Term("verb", "adjust", "past", True)

"""The verb in "set it at", "brought it up to", which are cues of their own."""

_DETERMINERS = words("the a an my this that his her their our your no any some each every new old its")

_PREPOSITIONS = words("on in at of with for from by under per than")

_INFINITIVE = words(
    """
    to please just and then also will would should could can must not didn't don't i'll we'll i'd let's
    gonna never couldn't can't won't wouldn't haven't or us me i you office we go so did
    """
)


_THE_ONE = words(
    """
    roofer roofers electrician electricians plumber contractor somebody someone guy crew man fellow
    landlord owner them him her us helper
    """
)


def alone_in_its_clause(doc: Doc, m: Mention, end: int) -> bool:
    return doc.tokens[m.start].brk == 1 and (m.stop >= end or doc.tokens[m.stop].brk > 0)


def _trouble_before(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Duct found torn at the flex, sealed": done about it."""
    if not m.has("condition", "sealed"):
        return False
    return any(
        x.has("condition") and not x.has("condition", "normal", "sealed") for x in doc.within(begin, m.start)
    )


def asked_of(doc: Doc, m: Mention, begin: int) -> bool:
    """ "I'd recommend the roofer repair the curb", "have the electrician tighten the lugs"."""
    if m.start > begin and not doc.tokens[m.start].brk and doc.norm[m.start - 1] in ("somebody", "someone"):
        at = m.start - 1
        if at == begin or doc.tokens[at].brk or doc.norm[at - 1] == "and":
            return True  # "and somebody quote compressor two"
    if m.start - 2 < begin or doc.tokens[m.start].brk or doc.norm[m.start - 1] not in _THE_ONE:
        return False
    low = max(begin, m.start - 6)
    return bool({"have", "get", "let"} & set(doc.norm[low : m.start])) or any(
        x.has("cue", "recommended", "needed") for x in doc.within(low, m.start)
    )


_AFTER_PAST = frozenset({"is", "are", "was", "were", "been", "being", "has", "have", "had", "got"})


def is_verb(doc: Doc, m: Mention, begin: int, end: int) -> Term | None:
    """The verb term of `m` that its place in the sentence allows, strong forms first; None where it is no verb."""
    if doc.tokens[m.stop - 1].lower.endswith(("'s", "’s")):
        return None
    terms = sorted(m.of("verb"), key=lambda t: t.weak)
    if not terms and (
        (m.has("cue", "setting") and doc.norm[m.start] not in ("now", "torqued")) or _moved(doc, m)
    ):
        terms = [_SETTING]
    if not terms and m.has("cue", "setting") and doc.norm[m.start] == "torqued":
        terms = [_TORQUED]
    if not terms:
        return None
    opens = m.start == begin or doc.tokens[m.start].brk > 0
    before = "" if opens else doc.norm[m.start - 1]
    owner = doc.owner[m.start - 1] if m.start > begin else None
    counted = doc.owner[m.start - 2] if m.start - 2 >= begin else None
    if doc.norm[m.start] == "change" and before == "and" and counted is not None and counted.kind == "value":
        return None  # "twelve and change"
    for term in terms:
        if term.form == "noun":
            continue
        if term.form == "base" or term.form == "third":
            if term.form == "third" and (m.comp or before in _DETERMINERS):
                continue
            if (
                term.slug == "return-visit"
                and (before == "a" or (before == "the" and doc.norm[m.start - 2] in ("be", "that'll", "for")))
                and doc.norm[m.stop - 1] in ("visit", "trip", "return")
            ):
                return term
            if before in _DETERMINERS or before in _PREPOSITIONS or (m.part and m.modifier):
                continue
            if term.form == "third" and not (owner is None or owner.comp or opens):
                continue
            if term.form == "third":
                continue  # "the switch tests good": a habit, no act
            licensed = (
                opens
                or before in _INFINITIVE
                or (
                    owner is not None
                    and owner.has("cue", "needed", "recommended", "not", "declined", "offered")
                )
            )
            licensed = licensed or doc.norm[max(begin, m.start - 2) : m.start] == ["did", "was"]
            licensed = licensed or asked_of(doc, m, begin)
            licensed = licensed or (term.slug == "order" and _order_one(doc, m, end))
            ambiguous_past = any(t.form == "past" and t.slug == term.slug for t in terms)
            if ambiguous_past and before in _AFTER_PAST:
                continue
            if not licensed and not ambiguous_past:
                continue
            if m.comp and not (before in _INFINITIVE or opens):
                continue
            if opens and m.has("component") and not _object_follows(doc, m, end):
                continue
            if before == "and" and not opens and not asked_on(doc, m, begin):
                continue  # "flour and grease"
            if before == "and" and m.has("condition") and _closes(doc, m, end) and not ambiguous_past:
                continue  # "the drain pan's dry and clean"
            alone = opens and (m.stop >= end or doc.tokens[m.stop].brk > 0)
            if alone and m.has("condition") and not ambiguous_past:
                continue  # "the drain pan, clean"
        if term.form == "past" and before in _DETERMINERS and not opens:
            continue  # "the replaced motor"
        asked = owner is not None and not opens and owner.has("cue", "needed", "recommended")
        asked = asked or before == "be"
        if term.form == "past" and m.has("condition", "sealed"):
            asked = asked or _sealed_by_us(doc, m, begin, end)
        mended = alone_in_its_clause(doc, m, end) and _trouble_before(doc, m, begin)
        if term.form == "past" and mended:
            return term
        if term.form == "past" and m.has("condition") and not asked and not _acted(doc, m, begin, end):
            continue
        passive = term.form == "past" and before in ("was", "were", "been", "got")
        if term.weak and not passive and not _object_follows(doc, m, end):
            continue
        return term
    return None


_JOINED_SHEET = frozenset(
    {"ductwork", "curb", "panel", "drain-pan", "gas-line", "roof-hatch", "refrigerant-line"}
)
"""Parts that leak at their seams and are sealed by hand; a bearing or a gasket is sealed as it came."""


_SEALED_WHAT = words("what its all every the that those around it them some up both my another")


def _sealed_by_us(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Ductwork sealed", "the curb has been sealed", "got the seams sealed", "its ductwork not sealed"."""
    if m.start <= begin or doc.tokens[m.start].brk:
        return m.stop < end and not doc.tokens[m.stop].brk and doc.norm[m.stop] in _SEALED_WHAT
    before = doc.norm[m.start - 1]
    part = doc.owner[m.start - 1]
    if part is not None and part.comp and part.part:
        return part.comp in _JOINED_SHEET
    if before in ("was", "were", "been", "got", "get", "gets"):
        return True
    return (
        (before in ("not", "also", "wasn't", "weren't", "didn't") or part is None)
        and any(x.comp in _JOINED_SHEET for x in doc.within(max(begin, m.start - 5), min(end, m.stop + 3)))
        and before not in ("is", "are", "looks", "it's", "they're", "still", "all")
    )


def asked_on(doc: Doc, m: Mention, begin: int) -> bool:
    """Whether "and" joins a base form to another verb or a cue before it in its breath: "tighten it and check it"."""
    for i in range(m.start - 2, max(begin - 1, m.start - 24), -1):
        owner = doc.owner[i]
        if doc.tokens[i + 1].brk and i + 1 < m.start - 1:
            return False
        asks = owner is not None and owner.has("cue", "needed", "recommended", "not", "declined", "offered")
        if asks or (owner is not None and owner.has("verb")) or doc.norm[i] in _DOING:
            return True
    return False


_DOING = words(
    """
    i we you he they to go went come came got get take took put let do did done will would can could pull
    pulled have had
    """
)


def _order_one(doc: Doc, m: Mention, end: int) -> bool:
    """ "Crankcase heater's open order one": the comma is often lost; not "in order", "work order"."""
    if doc.norm[m.start - 1] in (
        "in",
        "on",
        "of",
        "work",
        "the",
        "a",
        "an",
        "no",
        "that",
        "this",
        "any",
        "proper",
    ):
        return False
    after = doc.norm[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else ""
    return after in ("one", "two", "three", "four", "a", "an", "another", "me", "us", "new")


def _closes(doc: Doc, m: Mention, end: int) -> bool:
    return m.stop >= end or doc.tokens[m.stop].brk > 0


def _moved(doc: Doc, m: Mention) -> bool:
    """ "bumped it from 3.2": a cue that is an act too."""
    return m.has("cue", "from") and doc.norm[m.start] in (
        "bumped",
        "took",
        "raised",
        "adjusted",
        "changed",
        "turned",
        "moved",
        "brought",
    )


def _acted(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Sealed the curb" is an act, "the curb is sealed" is a condition."""
    previous = doc.owner[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else None
    if doc.norm[m.stop : m.stop + 2] in (["them", "out"], ["it", "out"], ["them", "off"], ["it", "off"]):
        return True  # "ants in the contactor blew them out": no comma was typed
    if previous is not None and previous.part:
        return False
    return _object_follows(doc, m, end) or (
        m.start > begin and doc.norm[m.start - 1] in ("i", "we", "and", "then")
    )


_OBJECT_SKIP = words(
    """
    the a an new in on up out it that them those all both some my old another one two three four five
    six eight set of first second each every both's this these leaking bad blower back her him system
    circuit unit machine around along over down off most any everything
    universal generic bigger smaller heavier used rebuilt spare aftermarket oem better different
    """
)


_MEANS = frozenset(
    {"nitrogen", "water", "air", "vac", "hose", "bleach", "snake", "brush", "cleaner", "foam", "co2"}
)


def _object_follows(doc: Doc, m: Mention, end: int) -> bool:
    pronoun = False
    if m.stop < end and doc.norm[m.stop] == "with" and _MEANS & set(doc.norm[m.stop + 1 : m.stop + 4]):
        return True  # "drain line plugged, blew out with nitrogen": the part named before
    for i in range(m.stop, min(end, m.stop + 8)):
        if doc.tokens[i].brk:
            return pronoun
        owner = doc.owner[i]
        if owner is not None and (
            owner.comp or owner.kind in ("value", "size", "refrigerant", "stage") or owner.has("point")
        ):
            return True
        word = doc.norm[i]
        if word in ("it", "that", "them", "those", "one", "ones", "new", "another"):
            pronoun = True
            continue
        if word not in _OBJECT_SKIP and (owner is None or not owner.has("condition")):
            return pronoun
    return pronoun
