"""Stage: the same thing said twice is one reading; values taken back by voice stay in the record only.

The taking back itself ("scratch that, twenty one thousand") happens while joining, where the subject is known;
this stage removes what was only repeated.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft

REQUIRES = ("drafts", "moment", "basis")
ASSIGNS = ("withdrawn",)

_SITE = frozenset({"outdoor-air-temperature"})
_NEAR = 12
"""Tokens within which a repetition is announced ("I say again")."""


def corrections(doc: Doc) -> None:
    """Drop repetitions, and take the machine off readings that belong to the whole roof."""
    many = len(doc.tags) > 1
    for d in doc.drafts:
        if d.point in _SITE and many:
            d.tag = None
    for item in doc.items:
        if many and item.fields.get("component") == "roof-hatch":
            item.tag = None
    seen: dict[tuple[object, ...], Draft] = {}
    kept: list[Draft] = []
    for d in doc.drafts:
        if d.withdrawn:
            kept.append(d)
            continue
        key = (
            d.tag,
            d.point,
            d.component,
            d.number,
            d.circuit,
            d.position,
            d.stage,
            d.value,
            d.text,
            d.legs,
            d.basis,
        )
        before = seen.get(key)
        if before is not None and _same_saying(doc, before, d):
            before.moment = before.moment or d.moment
            continue
        seen[key] = d
        kept.append(d)
    doc.drafts[:] = kept


def _same_saying(doc: Doc, a: Draft, b: Draft) -> bool:
    """Two equal values of a list are two readings; said again elsewhere they are one."""
    if a.moment and b.moment and a.moment != b.moment:
        return False
    if b.start - a.stop < _NEAR and {"again", "repeat", "repeating"} & {*doc.norm[a.stop : b.start]}:
        return True  # "I say again, zero decimal six"
    return a.sentence != b.sentence or a.rule != b.rule or abs(a.at - b.at) > 12
