"""Names that mean something else than they say, or that stand for a value already told."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.subjects import Line, Subject, doc_words


def value_next(line: Line, k: int) -> bool:
    m = line.items[k]
    for i in range(m.stop, min(line.end, m.stop + 5)):
        owner = line.doc.owner[i]
        if owner is not None and owner.kind in ("value", "legs"):
            return True
        if owner is not None and (
            owner.comp or owner.has("point") or owner.has("verb") or owner.has("condition")
        ):
            return False
    return False


_DAMPERS = frozenset({"outdoor-air-damper", "economizer", "economizer-actuator"})
_FAR = 40


def some_minimum(line: Line, m: Mention, slugs: list[str]) -> bool:
    """ "It's over the minimum, plate says five": the least of something else, where no damper is spoken of."""
    if slugs != ["opening"] or doc_words(line.doc, m) not in ("minimum", "min", "position"):
        return False
    ahead = next((x.value for x in line.items if x.kind == "value" and x.start >= m.stop), None)
    near = line.doc.within(max(0, m.start - _FAR), line.end)
    return (ahead is None or ahead.ucum != "%") and not any(x.comp in _DAMPERS for x in near)


_INSTEAD = (
    ["no", "that's"],
    ["no", "that", "is"],
    ["sorry", "that's"],
    ["i", "mean"],
    ["wait", "that's"],
    ["no", "it's"],
    ["that's", "actually"],
)


def meant_instead(line: Line, m: Mention, slugs: list[str]) -> bool:
    """ "Head three forty, no, that's my liquid": the value just told is of another point."""
    last = line.made[-1] if line.made else None
    if last is None or m.start - last.stop > 5 or last.text or last.value is None:
        return False
    said = [w for w in line.doc.norm[last.stop : m.start] if w not in ("my", "the", "uh", "um", "oh")]
    if said[-2:] not in _INSTEAD and said[-3:] not in _INSTEAD:
        return False
    fitting = [s for s in slugs if s != last.point and line.points[s].ucum == last.ucum]
    if not fitting or value_next(line, line.items.index(m)):
        return False
    last.point, last.rule = fitting[0], "another point was meant"
    line.subject = Subject(slugs, m.start, None, used=1, mention=m)
    return True
