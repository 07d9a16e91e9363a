"""Machines found off on a safety: "locked out on high limit", "off on high head", "out on the rollout".

What is named behind "on" is the control that opened, also where only its pressure or heat is named. A reset told right
behind is of it: "off on high head. Reset it".
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Item
from hatchnote.notes.wordlists import words

_OFF = words("off out locked tripped kicked shut cut knocked faulted dropped went going goes down lockout")
_ON = words("on by from")
_SAYS = {
    "high-pressure-switch": words("head pressure"),
    "low-pressure-switch": words("pressure suction"),
}
_CONTROLS = frozenset(
    {
        "high-pressure-switch",
        "low-pressure-switch",
        "limit-switch",
        "rollout-switch",
        "smoke-detector",
    }
)
_DENIES = words("not never isn't wasn't didn't no without")
_LEAD = 5
"""Words between "off" and what it is off on: "off again this morning on the high limit"."""
_RESET_WITHIN = 14
"""Words from the trip to its reset: the same breath or the next."""


def safety_trips(doc: Doc) -> None:
    """Add a finding for every control told as the reason a machine was off, and the reset told of it."""
    for begin, end in doc.sentences:
        for i in range(begin, end):
            if doc.norm[i] not in _ON or not _was_off(doc, i, begin):
                continue
            named = _control(doc, i + 1, end)
            if named is None:
                continue
            component, stop = named
            _add_finding(doc, component, i, stop)
            _add_reset(doc, component, stop)


def _was_off(doc: Doc, on: int, begin: int) -> bool:
    lead = doc.norm[max(begin, on - _LEAD) : on]
    return bool(_OFF & {*lead}) and not _DENIES & {*doc.norm[max(begin, on - _LEAD - 2) : on]}


def _control(doc: Doc, at: int, end: int) -> tuple[str, int] | None:
    """(the control, token after its name) named at `at`, with or without its article."""
    while at < end and doc.norm[at] in ("the", "a", "its", "that", "main"):
        at += 1
    if at >= end:
        return None
    owner = doc.owner[at]
    if owner is not None and owner.comp in _CONTROLS:
        return owner.comp, owner.stop
    nxt = doc.norm[at + 1] if at + 1 < end and not doc.tokens[at + 1].brk else ""
    for word, control in (("high", "high-pressure-switch"), ("low", "low-pressure-switch")):
        if doc.norm[at] == word and nxt in _SAYS[control]:
            value = doc.owner[at + 2] if at + 2 < end else None
            return None if value is not None and value.kind == "value" else (control, at + 2)
    return None


def _add_finding(doc: Doc, component: str, at: int, stop: int) -> None:
    tag = doc.tag_at[at]
    told = [x for x in doc.items if x.kind == "finding" and x.tag == tag]
    if any(x.fields["component"] == component and x.fields["condition"] == "tripped" for x in told):
        return
    fields = {"component": component, "number": None, "condition": "tripped"}
    doc.items.append(Item("finding", at, at, stop, tag, fields, "off on a safety: tripped"))


def _add_reset(doc: Doc, component: str, stop: int) -> None:
    """ "Reset it", "reset the switch": with no part of its own named."""
    last = min(len(doc.tokens), stop + _RESET_WITHIN)
    for i in range(stop, last):
        if doc.norm[i] != "reset":
            continue
        noun = doc.norm[i - 1] in ("to", "needs", "on", "manual", "the", "a", "no", "not")
        if noun or doc.tag_at[i] != doc.tag_at[stop - 1]:
            return
        behind = doc.norm[i + 1 : i + 3]
        named = next((m for m in doc.within(i + 1, min(last, i + 4)) if m.comp and m.part), None)
        if named is not None and named.comp != component and behind[:1] != ["it"]:
            return
        done = [x for x in doc.items if x.kind == "work" and x.fields["verb"] == "reset"]
        here = [x for x in done if x.tag == doc.tag_at[i]]
        near = [x for x in here if abs(x.at - i) < 3]
        if any(x.fields["component"] == component for x in here):
            return
        for x in near:
            x.fields["component"], x.fields["number"] = component, None  # "it" was taken for another part
        if not near:
            fields = dict.fromkeys(("number", "quantity")) | {"verb": "reset", "state": "done"}
            fields["component"] = component
            doc.items.append(Item("work", i, i, i + 1, doc.tag_at[i], fields, "reset of a safety: done"))
        return
