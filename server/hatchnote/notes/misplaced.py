"""Values that hardly belong to the name they stand beside: a name or a comma between them was not heard."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft, Mention
from hatchnote.notes.fitting import TWO_WAYS
from hatchnote.notes.wordlists import words

PARTS = "said in parts of an inch"
PLATE = "no plate gives this"
NEXT = "the name may belong to the number behind it"
_IN_PARTS = words(
    """
    [in_i] [in_i'H2O] [HP] [lb_av] [oz_av] [ft_i] s min h [in_i].[lbf_av] [ft_i].[lbf_av]
    """
)
"""Units that people say quarters and eighths of (common practice, no source)."""
_ON_PLATES = words(
    """
    voltage control-voltage current capacitance frequency speed gas-input inlet-gas-pressure manifold-pressure
    temperature-rise fuse-rating power refrigerant-charge airflow static-pressure resistance torque opening time
    belt-size filter-size suction-pressure discharge-pressure liquid-pressure subcooling
    """
)


def misplaced(doc: Doc, d: Draft) -> str | None:
    """Why the value of a draft may be of something else."""
    m = d.source
    if m is None or m.value is None or d.value is None:
        return None
    if m.value.style in ("fraction", "mixed") and d.ucum not in _IN_PARTS and (d.value * 2) % 1:
        return PARTS
    lost = m.value.shape == "N" and d.value != 0 and m.value.first in (d.value * 10, d.value * 100)
    if lost and TWO_WAYS not in d.doubts and doc.words and doc.words[0].p is not None:
        return TWO_WAYS  # a point was put where none was heard
    if d.basis == "rated" and d.point not in _ON_PLATES and d.rule == "rating or setting of the point before":
        return PLATE
    if d.rule == "point behind the value" and _before_another(doc, d, m):
        return NEXT
    return None


def _before_another(doc: Doc, d: Draft, m: Mention) -> bool:
    """ "High fire 3.5 flame signal 28": right behind the name stands another number."""
    if m.stop >= len(doc.tokens) or doc.tokens[m.stop].brk or m.value is None or m.value.ucum is not None:
        return False
    name = doc.owner[m.stop]
    if name is None or not name.has("point", d.point) or name.stop >= len(doc.tokens):
        return False
    after = doc.owner[name.stop]
    return after is not None and after.kind == "value" and not doc.tokens[name.stop].brk
