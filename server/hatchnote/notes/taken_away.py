"""Parts taken along or thrown out: "the old inducer's coming back with me", "pitched the old contactor"."""

from __future__ import annotations

from hatchnote.notes.clauses import components
from hatchnote.notes.doc import Doc, Item, Mention
from hatchnote.notes.wordlists import words

_OLD = words(
    """
    old bad failed original defective dead broken burnt burned blown cracked seized grounded shorted leaking
    """
)
_GONE = (
    "warranty",
    "with me",
    "core credit",
    "as a core",
    "as core",
    "for core",
    "for the core",
    "for a rebuild",
    "for exchange",
    "for credit",
    "the scrap",
    "for scrap",
    "sent back",
    "returned to",
    "to the supplier",
    "to the supply house",
    "to the parts house",
    "to the shop",
    "back to the shop",
    "off the roof",
    "down the ladder",
)
"""Phrases behind the part that say where it went."""
_PLACES = words("truck van dumpster trash garbage bin scrap recycling recycler can pickup")
_AWAY = words(
    """
    throwing threw thrown tossing tossed pitching pitched chucking chucked scrapping scrapped hauling hauled
    carrying carried discarded disposed junked dumped recycled hauling ditched
    """
)
"""Verbs that end a part's stay, said behind it ("I'm throwing out") or before it ("pitched the old contactor")."""
_CARRY = words("took taking brought bringing")
_WHERE_TO = words("down home back along")
_REACH = 9
_LEAD = words("the that this out away off down up of my both in")


def taken_away(doc: Doc) -> None:
    """Add a removed part for each; a part that was replaced and taken along is both installed and removed."""
    for begin, end in doc.sentences:
        told = set(doc.norm[begin:end])
        said = " ".join(doc.norm[begin:end])
        if not (told & (_PLACES | _AWAY) or told & _WHERE_TO or any(x in said for x in _GONE)):
            continue
        for m in doc.within(begin, end):
            old = m.comp and m.kind == "word" and m.start > begin and doc.norm[m.start - 1] in _OLD
            if old and not doc.vocabulary.components[m.comp].no_part and _went(doc, m, begin, end):
                _write(doc, m, m.comp)
        _it_goes(doc, begin, end)


def _went(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    after = doc.norm[m.stop : min(end, m.stop + _REACH)]
    said = " ".join(after)
    if any(x in said for x in _GONE):
        return not {"still", "not", "left"} & set(after[:3])
    k = m.start - 2
    while k >= begin and doc.norm[k] in _LEAD and not doc.tokens[k + 1].brk:
        k -= 1
    lead = doc.norm[k] if k >= begin and not doc.tokens[k + 1].brk else ""
    if lead in _AWAY or (lead in _CARRY and bool(_WHERE_TO & set(after[:3]))):
        return True
    breaks = next((i for i in range(m.stop, min(end, m.stop + _REACH)) if doc.tokens[i].brk), end)
    near = doc.norm[m.stop : min(breaks, m.stop + _REACH)]
    if {"out", "away"} & set(near) and _AWAY & set(near):
        return True
    return any(
        w in _PLACES and {"in", "on", "into", "to", "for"} & set(near[max(0, k - 3) : k])
        for k, w in enumerate(near)
    )


def _it_goes(doc: Doc, begin: int, end: int) -> None:
    """ "Removed the start capacitor, and it's going back with me": the part that was taken out."""
    for i in range(begin + 1, end - 3):
        it = doc.norm[i] in ("it's", "that's", "it", "that")
        said = " ".join(doc.norm[i + 1 : i + 6])
        if not it or not said.startswith(
            ("going back", "goes back", "coming back", "coming with", "went back")
        ):
            continue
        for x in reversed(doc.items[-12:]):
            out = x.kind == "work" and x.fields["verb"] == "remove" and x.fields["state"] == "done"
            if out and 0 < i - x.at < 25 and components(doc, max(0, x.at - 25), i):
                at = Mention("word", x.at, x.at + 1)
                _write(doc, at, x.fields["component"])
                break


def _write(doc: Doc, m: Mention, comp: str) -> None:
    fields = {
        "component": comp,
        "description": doc.vocabulary.components[comp].label,
        "size": None,
        "quantity": 1,
        "use": "removed",
    }
    doc.items.append(Item("part", m.start, m.start, m.stop, doc.tag_at[m.start], fields, "taken along"))
