"""Turns of speech that give an act its state by more than one word: "finished replacing", "wants greasing", "my
advice is to", "needed cleaning, so I did that".
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_THROUGH = words("finished completed done")
_THEM = words(
    "them him her customer owner manager tenant landlord guy lady man woman office store boss people staff folks"
)
_SAYING = words("told telling advised advise urged warned asked")
_ADVICE = frozenset({"advice", "suggestion", "opinion", "proposal"})
_DID = (
    ["did", "that"],
    ["did", "it"],
    ["did", "them"],
    ["did", "so"],
    ["did", "those"],
    ["did", "both"],
    ["that's", "done"],
    ["it's", "done"],
    ["got", "done"],
    ["is", "done"],
    ["done", "that"],
    ["took", "care"],
    ["taken", "care"],
    ["knocked", "that"],
    ["got", "that"],
)
_AFTER_DID = 9


def said_state(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> str | None:
    """The state that such a turn gives to verb `m`; None where there is none of them."""
    if term.form == "ing" and (_finished(doc, m, begin) or _by_doing(doc, m, begin)):
        return "done"
    if term.form == "ing" and _priced(doc, m, begin, end):
        return "declined"
    if term.form in ("ing", "past") and _wants(doc, m, begin):
        return "needed"
    infinitive = term.form == "base" and m.start - 2 >= begin and doc.norm[m.start - 1] == "to"
    if infinitive and (_advice_is(doc, m, begin) or _told_them(doc, m, begin)):
        return "recommended"
    return None


def _finished(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Finished replacing", "finished up cleaning", "got done washing"; not "haven't finished cleaning"."""
    i = m.start - 1
    if i >= begin and doc.norm[i] in ("up", "with", "off") and not doc.tokens[m.start].brk:
        i -= 1
    if i < begin or doc.norm[i] not in _THROUGH or any(t.brk for t in doc.tokens[i + 1 : m.start + 1]):
        return False
    lead = doc.norm[max(begin, i - 3) : i]
    return not any(x.has("cue", "not") for x in doc.within(max(begin, i - 3), i)) and "be" not in lead


_BROUGHT = words(
    "brought took got dropped lowered raised cured fixed stopped solved down up came went cleared"
)


def _by_doing(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Brought the head down by washing the coil", "fixed that by changing the belt"."""
    if m.start - 2 < begin or doc.norm[m.start - 1] != "by" or doc.tokens[m.start].brk:
        return False
    lead = range(max(begin, m.start - 14), m.start - 1)
    told = {doc.norm[i] for i in lead}
    return bool(_BROUGHT & told) and not {"would", "could", "should", "can", "will", "might"} & told


def _priced(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "I quoted them replacing the contactor and they passed"."""
    lead = doc.norm[max(begin, m.start - 4) : m.start]
    offered = bool({"quoted", "priced", "pitched", "proposed", "mentioned"} & set(lead))
    return offered and any(x.has("cue", "declined") for x in doc.within(m.stop, min(end, m.stop + 10)))


def _wants(doc: Doc, m: Mention, begin: int) -> bool:
    """ "The contactor wants replacing", "bearings want greased": said of a part, by no person."""
    i = m.start - 1
    if i <= begin or doc.tokens[m.start].brk or doc.norm[i] not in ("wants", "want", "wanted"):
        return False
    subject = doc.owner[i - 1]
    if subject is not None and subject.comp and subject.part:
        return doc.norm[i] != "wanted"
    return doc.norm[i] == "wants" and doc.norm[i - 1] in ("it", "that", "one", "this")


def _advice_is(doc: Doc, m: Mention, begin: int) -> bool:
    """ "My advice is to replace", "advice was to wash"."""
    return doc.norm[m.start - 2] in ("is", "was", "would") and bool(
        _ADVICE & set(doc.norm[max(begin, m.start - 5) : m.start])
    )


def _told_them(doc: Doc, m: Mention, begin: int) -> bool:
    """ "I told them to replace the heat exchanger", "advised the owner to": advice to those who pay."""
    return doc.norm[m.start - 2] in _THEM and bool(_SAYING & set(doc.norm[max(begin, m.start - 5) : m.start]))


def met_at_once(doc: Doc, m: Mention, end: int) -> bool:
    """ "The trap needed flushing, so I did that": what was needed was done in the same breath."""
    for i in range(m.stop, min(end - 1, m.stop + _AFTER_DID)):
        owner = doc.owner[i]
        if (
            owner is not None
            and owner is not m
            and (owner.has("verb") or owner.has("cue", "not", "declined"))
        ):
            return False
        told = doc.norm[i : i + 3] in (["so", "i", "did"], ["and", "i", "did"], ["so", "we", "did"])
        if told and (i + 3 >= end or doc.tokens[i + 3].brk):
            return True  # "he said go ahead and replace it so I did"
        if doc.norm[i : i + 2] in _DID:
            return not {"tomorrow", "later", "next"} & set(doc.norm[i : min(end, i + 5)])
    return False


_PLANNED = (
    " i was supposed to ",
    " was going to ",
    " were going to ",
    " was gonna ",
    " meant to ",
    " wanted to ",
)


def was_to_be(doc: Doc, m: Mention, begin: int) -> str | None:
    """ "I was going to change the belt but" is not done; "I'd have changed it" tells of nothing (empty)."""
    lead = doc.norm[max(begin, m.start - 6) : m.start]
    said = f" {' '.join(lead)} "
    if any(x in said for x in _PLANNED):
        if said.endswith(
            (" going to ", " gonna ", " meant to ", " i wanted to ", " supposed to ", " going to just ")
        ):
            return "not-done" if any(t.form == "base" for t in m.of("verb")) else None
        return None
    if said.endswith(
        (" would have ", " i'd have ", " could have ", " we'd have ", " would've ", " should have ")
    ):
        return ""
    return None
