"""Verbs whose particle stands behind the part: "looked the belts over", "locked compressor two out"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import from_mention
from hatchnote.notes.states import DONE
from hatchnote.notes.telling import not_ours, unreal

_PARTED = {
    ("looked", "over"): "inspect",
    ("checked", "over"): "inspect",
    ("locked", "out"): "isolate",
    ("locked", "off"): "isolate",
    ("tagged", "out"): "isolate",
    ("shut", "off"): "isolate",
    ("shut", "down"): "isolate",
    ("turned", "off"): "isolate",
}
_ASKED = ("needed", "recommended", "declined", "offered", "not")
_WHOLE = frozenset({"unit", "machine", "it", "her", "system", "rooftop"})
_LEAD = frozenset({"the", "that", "those", "both", "all", "my", "this", "these"})


def parted_verbs(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Find them in one sentence; what an act of `out` already has is left to it."""
    for i in range(begin, end - 2):
        if doc.norm[i] not in ("looked", "checked", "locked", "tagged", "shut", "turned"):
            continue
        opens = (
            i == begin
            or doc.tokens[i].brk
            or doc.norm[i - 1] in ("i", "we", "and", "then", "just", "also", "so")
        )
        if not opens:
            continue
        k = i + 1
        while k < end and doc.norm[k] in _LEAD:
            k += 1
        part = doc.owner[k] if k < end else None
        named = part is not None and part.comp and part.part and part.kind == "word" and not part.modifier
        stop = part.stop if named and part is not None else k + 1
        if stop >= end or any(t.brk for t in doc.tokens[i + 1 : stop + 1]):
            continue
        verb = _PARTED.get((doc.norm[i], doc.norm[stop]))
        whole = doc.norm[k] in _WHOLE and verb == "isolate"
        if whole and any(a.verb == "isolate" for a in out):
            continue  # "shut the unit down, locked out the disconnect": one act
        if verb is None or not (named or whole) or any(a.start <= i < max(a.stop, stop) for a in out):
            continue
        here = Mention("word", i, i + 1)
        lead = doc.within(max(begin, i - 4), i)
        if (
            any(x.has("cue", *_ASKED) for x in lead)
            or unreal(doc, here, begin)
            or not_ours(doc, here, begin, end)
        ):
            continue
        objects = [from_mention(doc, part)] if named and part is not None else []
        out.append(Act(verb, DONE, i, i, stop + 1, (begin, end), objects, f"{verb}: particle behind"))
