"""Pieces of a part that have no name of their own on a ticket: "greased the pivots", "sealed the seam"."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.wordlists import words

_SHEET = ("drain-pan", "ductwork", "curb", "panel", "economizer", "roof-hatch", "heat-exchanger")
_MOVING = (
    "outdoor-air-damper",
    "economizer",
    "economizer-actuator",
    "roof-hatch",
    "bearing",
    "supply-fan-motor",
)
_PIECES = {
    "seal": (
        words("seam seams joint joints corner corners edge edges gap gaps hole holes crack cracks split"),
        _SHEET,
    ),
    "repair": (words("seam seams corner edge hole holes crack cracks split tear rip"), _SHEET),
    "lubricate": (
        words("pivot pivots hinge hinges shaft shafts pins bushings joints ends zerk zerks"),
        _MOVING,
    ),
    "tighten": (
        words("bolt bolts nut nuts hardware fittings fitting clamp clamps"),
        ("motor-mount", "supply-fan-motor", "gas-union", "bearing", "economizer-actuator", "panel", "sheave"),
    ),
    "clean": (
        words("fins face tubes orifices orifice crossovers ports slots cells inlet"),
        ("condenser-coil", "evaporator-coil", "burner", "heat-exchanger"),
    ),
}
_ARTICLES = words("the those its all both that up off out down on of some every")
_REACH = 5
_BACK = 40


def pieces(doc: Doc, m: Mention, verb: str, end: int) -> list[Object]:
    """The part last named that has the piece which stands right behind `m`; nothing where no piece stands there."""
    named = _PIECES.get(verb)
    if named is None:
        return []
    for i in range(m.stop, min(end, m.stop + _REACH)):
        if doc.tokens[i].brk:
            return []
        if doc.norm[i] in named[0]:
            near = focus_before(doc, m.start, named[1], _BACK)
            if near is None:
                return []
            return [Object(near.comp, near.number, None, m.start, i + 1, pronoun=True, mention=near)]
        if doc.norm[i] not in _ARTICLES or doc.owner[i] is not None:
            return []
    return []
