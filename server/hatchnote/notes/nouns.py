"""Acts said as nouns: "its replacement is recommended", "gave the board a reset", "coil cleaning: declined"."""

from __future__ import annotations

from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, from_mention
from hatchnote.notes.states import DECLINED, DONE, NEEDED, NOT_DONE, RECOMMENDED
from hatchnote.notes.telling import heading, segment
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_DID = words(
    "did do doing performed perform made make gave give given carried completed finished held ran done"
)
_ASKED = frozenset(["requested", "wanted", "wants", "asked", "required", "pending"])
_LINKS = frozenset(["of", "for", "on", "to"])
_BACK = 12


_VERBAL = words("not didn't to will would i we did can't couldn't don't doesn't won't can should")
"""Behind these a word that is a noun and a verb is the verb."""


def noun_term(doc: Doc, m: Mention) -> Term | None:
    """The verb that `m` names as a noun: a noun of its own, or an "-ing" behind its part or an article."""
    lead = doc.norm[m.start - 1] if m.start and not doc.tokens[m.start].brk else ""
    for term in m.of("verb"):
        if term.form == "noun" and not (lead in _VERBAL and any(t.form == "base" for t in m.of("verb"))):
            return term
    before = doc.owner[m.start - 1] if m.start and not doc.tokens[m.start].brk else None
    word = doc.norm[m.start - 1] if m.start and not doc.tokens[m.start].brk else ""
    for term in m.of("verb"):
        if (
            term.form == "ing"
            and not term.weak
            and (
                (before is not None and before.part and bool(before.comp))
                or word in ("a", "good", "thorough")
            )
        ):
            return term
    return None


def state_of_noun(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> str | None:
    """The state in which the noun is said; None where it is no item of work."""
    a, b = segment(doc, m.start, begin, end)
    lead = doc.norm[max(a, m.start - 5) : m.start]
    if any(lead[k : k + 2] in (["gave", "me"], ["gave", "us"], ["give", "me"]) for k in range(len(lead))):
        return None  # "they gave me a free wash"
    found: str | None = None
    for x in reversed(doc.within(max(a, m.start - _BACK), m.start)):
        if x.has("cue", "declined"):
            return DECLINED
        if x.has("cue", "not") and not (
            set(doc.norm[x.start : x.stop]) <= {"no", "any", "none", "zero", "nothing"}
        ):
            return NOT_DONE
        if x.has("cue", "not"):
            return NOT_DONE if doc.norm[x.start] == "no" and _not_this_time(doc, m, x, a, b) else None
        if x.has("cue", "recommended", "offered"):
            found = found or RECOMMENDED
        if x.has("cue", "needed"):
            found = found or NEEDED
    after = doc.norm[m.stop : min(end, m.stop + 9)]
    behind = doc.within(m.stop, min(end, m.stop + 9))
    if any(x.has("cue", "declined") for x in behind):
        return DECLINED
    passive = (
        bool({"is", "was", "has", "been", "be", "not", "are", "were"} & set(after[:6]))
        or not after[:1]
        or doc.tokens[m.stop].brk > 0
    )
    if (
        passive
        and any(x.has("cue", "not") for x in behind)
        and {"done", "performed", "completed"} & set(after)
    ):
        return NOT_DONE
    passive = passive or any(x.start == m.stop and x.has("cue", "recommended", "needed") for x in behind[:1])
    if passive and any(x.has("cue", "recommended") for x in behind[:3]) and found is None:
        found = RECOMMENDED
    if (
        passive
        and (any(x.has("cue", "needed") for x in behind[:3]) or _ASKED & set(after[:7]))
        and found is None
    ):
        found = NEEDED
    if term.slug in ("quote", "order"):
        priced = doc.norm[m.start] == "price"
        if priced and not (
            doc.norm[m.stop : m.stop + 1] in (["on"], ["for"])
            and (components(doc, m.stop, min(b, m.stop + 6), heads=False) or a_new_one(doc, m, b))
        ):
            return None
        return NEEDED
    if found is not None:
        return found
    told = heading(doc, m.start, begin, end)
    if told is not None:
        return told
    if _nominal(doc, m, a, b):
        return DONE
    if _DID & set(doc.norm[max(a, m.start - 8) : m.start]) or (
        passive and {"done", "performed", "completed", "held", "carried"} & set(after[:4])
    ):
        return DONE
    return None


def a_new_one(doc: Doc, m: Mention, end: int) -> bool:
    """ "A price on a new one", "a quote for a replacement unit": of the whole machine."""
    said = set(doc.norm[m.stop : min(end, m.stop + 6)])
    return bool(said & {"unit", "machine", "one", "rooftop", "system", "replacement"}) and bool(
        said & {"new", "replacement", "whole"}
    )


def _nominal(doc: Doc, m: Mention, a: int, b: int) -> bool:
    """ "A good wash for that", "good long flush on it", "they got a good brushing": no other verb, somebody did it."""
    lead = doc.norm[a : m.start]
    if "got" in lead and lead[-1:] != ["got"]:
        k = a + lead.index("got")
        return doc.norm[k - 1] in ("it", "they", "she", "that", "those", "and") or (
            (owner := doc.owner[k - 1]) is not None and bool(owner.comp)
        )
    praise = {
        "good",
        "quick",
        "thorough",
        "long",
        "nice",
        "light",
        "full",
        "heavy",
        "real",
        "a",
        "and",
        "then",
        "so",
    }
    if (
        lead[-1:] == ["a"]
        and set(lead) <= {"then", "a", "and", "plus", "also"}
        and doc.norm[m.stop : m.stop + 1] in (["of"], ["on"])
    ):
        return True
    if not lead or not set(lead) <= praise or not set(lead) & (praise - {"and", "then", "so", "a"}):
        return False
    return m.stop >= b or doc.norm[m.stop] in ("for", "on", "of", "to", "there")


def _not_this_time(doc: Doc, m: Mention, no: Mention, a: int, b: int) -> bool:
    """ "No washing was done on two", "no sheave alignment today", "smoke detector, no test"."""
    if no.start != a or any(
        doc.norm[k] in ("need", "needed", "needs", "required", "necessary") for k in range(a, b)
    ):
        return False
    after = doc.norm[m.stop : b]
    if not after:
        return m.stop - no.stop <= 3 and m.has("verb")
    return after[0] in ("today", "yet", "tonight") or bool(
        {"done", "performed", "completed"} & set(after[:4])
    )


def objects_of_noun(doc: Doc, m: Mention, begin: int, end: int) -> list[Object]:
    """The parts the noun is about: before it in one breath, behind "of" or "for", given it, or last named."""
    a, b = segment(doc, m.start, begin, end)
    before = doc.owner[m.start - 1] if m.start > a else None
    if before is not None and before.comp and before.part:
        return [from_mention(doc, before)]
    for i in range(m.stop, min(b, m.stop + 2)):
        if doc.norm[i] in _LINKS:
            behind = components(doc, i + 1, min(b, i + 8), heads=False)
            if behind:
                return [from_mention(doc, behind[0])]
    given = components(doc, max(a, m.start - 8), m.start, heads=False)
    if given and any(
        w in ("gave", "give", "given", "did", "got")
        for w in doc.norm[max(a, given[0].start - 4) : given[0].start]
    ):
        return [from_mention(doc, given[-1])]
    near = focus_before(doc, m.start, (), 30)
    if near is None and m.stop < end and doc.tokens[m.stop].brk:
        behind = components(doc, m.stop, min(end, m.stop + 5))
        return [from_mention(doc, behind[0])] if behind else []
    if near is None:
        return []
    return [Object(near.comp, near.number, None, m.start, m.stop, pronoun=True, mention=near)]
