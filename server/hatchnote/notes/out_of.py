"""The rating behind a reading: "39.6 on a 40", "four point one out of a five eight"."""

from __future__ import annotations

from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.subjects import Line, Subject, as_mention

_OUT_OF = (
    ("on", "a"),
    ("on", "an"),
    ("out", "of", "a"),
    ("out", "of", "an"),
    ("out", "of"),
    ("against", "a"),
    ("against", "an"),
    ("off", "a"),
)
_OTHER_THINGS = frozenset(
    {"breaker", "fuse", "circuit", "disconnect", "contactor", "pole", "day", "scale", "meter"}
)
_RATED = frozenset({"capacitance", "current", "gas-input", "airflow", "speed"})


def out_of(line: Line, k: int) -> bool:
    """Take the value at item `k` as the rating of what was just read, where it stands right behind it."""
    m = line.items[k]
    last = line.made[-1] if line.made else None
    if last is None or last.text or last.point not in _RATED or last.basis != "measured" or m.value is None:
        return False
    between = tuple(line.doc.norm[last.stop : m.start])
    if between not in _OUT_OF or m.value.text or m.value.ucum not in (None, last.ucum):
        return False
    tokens = line.doc.tokens[last.stop : m.start + 1]
    if any(t.brk for t in tokens) or any(t.text == "A" for t in tokens) or _on_a_leg(line, m.stop):
        return False
    part = as_mention(last)
    if _OTHER_THINGS & {*line.doc.norm[m.stop : m.stop + 2]}:
        m.claimed = "a name"  # "fourteen on a thirty amp breaker": what feeds it, no rating of its own
        return True
    if fit(line.points[last.point], m.value, last.component).cost >= UNLIKELY:
        return False
    draft = take(line, m, Subject([last.point], m.start, part), "the rating of what was read")
    if draft is not None:
        draft.basis = "rated"
    return draft is not None


def _on_a_leg(line: Line, at: int) -> bool:
    """ "Sixteen one on a, sixteen three on b": the legs of a row."""
    return line.doc.norm[at : at + 2] in (["on", "b"], ["on", "c"])
