"""What a plate, a label or a setting is of, where its value is told without its point."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.subjects import Line, Subject, as_mention
from hatchnote.notes.wordlists import words

_PLATES = words("plate plates nameplate tag sticker label stamped marked")
_RUNNING = frozenset(
    {
        "suction-pressure",
        "discharge-pressure",
        "liquid-pressure",
        "suction-line-temperature",
        "liquid-line-temperature",
        "discharge-line-temperature",
        "return-air-temperature",
        "supply-air-temperature",
        "mixed-air-temperature",
        "outdoor-air-temperature",
        "humidity",
        "frequency",
    }
)
"""What changes while a machine runs: no plate says it. The speed of a drive is no rating either."""
_FIRING = frozenset({"manifold-pressure", "inlet-gas-pressure", "time", "gas-input", "co", "oxygen", "draft"})
_LEAST_INPUT = 20_000.0
"""Btu/h; no other rating of a rooftop machine is a number of this size (common practice, no source)."""
_LOOK_BACK = 20
_FEW = 6


def rated_subjects(line: Line, k: int, *, rated: bool) -> list[Subject]:
    """What a rating or setting at item `k` can be of: the part just spoken of, then what was just read."""
    m = line.items[k]
    doc = line.doc
    plate = rated and bool(_PLATES & {*doc.norm[max(line.begin, m.start - _FEW) : m.start + 2]})
    out: list[Subject] = []
    part = _part_told(line, m) if rated else None
    if part is not None:
        entry = doc.vocabulary.components[part.comp]
        points = list(dict.fromkeys(p for p in (entry.implied, *entry.marked) if p))
        if points:
            out.append(Subject(points, m.start, part, strong=False, mention=part))
    for d in [*reversed(line.made), *reversed(line.state.recent)][:_FEW]:
        if d.point == "power" or d.text or d.tag != doc.tag_at[m.start] or (plate and d.point in _RUNNING):
            continue
        subject = Subject([d.point], m.start, None, strong=False, position=d.position)
        subject.comp = as_mention(d)
        if subject.comp is not None and d.number is not None and _several(line, d):
            subject.comp.number = (
                None  # "compressor one nine four, compressor two nine seven, plate eleven eight"
            )
        out.append(subject)
    return out


def _part_told(line: Line, m: Mention) -> Mention | None:
    """The part told of last, where nothing was read since: "one fuse is blown. Plate calls for thirty"."""
    named = line.doc.vocabulary.components.items()
    plated = tuple(slug for slug, entry in named if entry.marked or entry.implied in ("current", "draft"))
    part = focus_before(line.doc, m.start, plated)
    last = next(iter([*reversed(line.made), *reversed(line.state.recent)]), None)
    if part is None or m.start - part.stop > _LOOK_BACK or line.doc.owner[part.start] is not part:
        return None
    return part if last is None or part.start >= last.stop else None


def plate_input(line: Line, k: int) -> bool:
    """ "Plate says one hundred eighty thousand": the input of what fires, by its size."""
    m = line.items[k]
    value = m.value
    if value is None or value.ucum is not None or value.text or value.first < _LEAST_INPUT:
        return False
    before = {*line.doc.norm[max(line.begin, m.start - _FEW) : m.start]}
    cue = any(x.has("cue", "rated") for x in line.items[max(0, k - 2) : k])
    if not cue and not before & {"input", "btu", "btus", "firing"}:
        return False
    fired = any(d.point in _FIRING and d.tag == line.doc.tag_at[m.start] for d in line.doc.drafts[-12:])
    point = line.points["gas-input"]
    if not fired or fit(point, value).cost >= UNLIKELY:
        return False
    draft = take(line, m, Subject([point.slug], m.start), "by its size")
    if draft is not None and cue:
        draft.basis = "rated"
    return draft is not None


def _several(line: Line, d: Draft) -> bool:
    """Whether several parts of this kind were read since the last rating of one."""
    numbers = set()
    for other in reversed([*line.state.recent, *line.made]):
        if other.component != d.component or other.point != d.point:
            continue
        if other.basis == "rated" or other.rule == "rating or setting of the point before":
            break
        numbers.add(other.number)
    return len(numbers) > 1
