"""A difference of the air is a rise or a drop by what the air did: "split", "delta T" and "difference" say neither."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft

DROP, RISE = "temperature-drop", "temperature-rise"
_NEITHER = frozenset(["split", "splits", "delta", "deltas", "difference", "d", "t", "ts"])
_SAYS = frozenset(["drop", "drops", "cooling", "rise", "rises", "heat"])
_RETURN, _SUPPLY = "return-air-temperature", "supply-air-temperature"
_WARMEST_DROP = 32.0
"""°F: no air is cooled by more across a comfort coil (common practice, no source)."""
_NEAR = 6.0
"""°F by which a difference told may miss that of the two temperatures told."""


def rise_or_drop(doc: Doc, drafts: list[Draft]) -> None:
    """Make a rise of every "split" of air that was warmed, by the return and supply told of the same machine."""
    told = sorted((d for d in drafts if not d.withdrawn and d.value is not None), key=lambda d: d.at)
    for d in told:
        if d.point != DROP or d.value is None or not _neither(doc, d):
            continue
        back, out = _nearest(told, d, _RETURN), _nearest(told, d, _SUPPLY)
        if back is not None and out is not None:
            warmed = out - back
            if warmed > 0 and abs(warmed - d.value) <= _NEAR:
                d.point = RISE
        elif d.value > _WARMEST_DROP:
            d.point = RISE


def _nearest(told: list[Draft], d: Draft, point: str) -> float | None:
    """The temperature told last before a difference, or first behind it, °F: it may be told of heat and of cooling."""
    same = [x for x in told if x.point == point and x.tag == d.tag]
    before = [x for x in same if x.at < d.at]
    return before[-1].value if before else same[0].value if same else None


def _neither(doc: Doc, d: Draft) -> bool:
    begin, end = doc.sentences[d.sentence]
    near = {*doc.norm[max(begin, d.start - 6) : min(end, d.stop + 4)]}
    return bool(near & _NEITHER) and not near & _SAYS
