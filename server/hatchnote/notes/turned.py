"""Values told before what they are of: "four eighty, four eighty two, that's your line volts; fifty six, supply".

A sentence that begins with a value and ends with a name is read the other way round: every run of values belongs to
the point or the part named between it and the next run.
"""

from __future__ import annotations

from hatchnote.notes.capacitor_sizes import SECTION
from hatchnote.notes.counting import SMALL, counted, supposed
from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.pairs import in_and_out
from hatchnote.notes.patterns import DENIALS
from hatchnote.notes.places_read import STAGED
from hatchnote.notes.positions import position_in
from hatchnote.notes.put_together import put_together
from hatchnote.notes.subjects import ELECTRIC, LINKERS, Line, Subject, doc_words
from hatchnote.notes.subjects_named import of_controls
from hatchnote.notes.wordlists import words

RULE = "before what it is of"
_BEFORE_RUN = words(
    "and uh um then so okay well about right roughly alright but also only just maybe a an the got"
)
_BEHIND_SMALL = words("on over at the of for in is are was were through across degrees even flat")
_STAGED = ("low", "high")
_AT = {"disconnect": "voltage"}
"""What is read at a part that has no number of its own."""
_ROUND = ("even", "flat")


def turned(line: Line) -> None:
    """Take the values of a sentence that tells them first; nothing where it does not."""
    for k in range(len(line.items) - 1, -1, -1):
        if line.items[k].kind == "value" and k < len(line.items) - 1:
            put_together(line, k)
    runs = _runs(line)
    before: Subject | None = None
    for k, (first, last) in enumerate(runs):
        stop = runs[k + 1][0] if k + 1 < len(runs) else len(line.items)
        values = [x for x in line.items[first : last + 1] if x.kind == "value" and not x.claimed]
        behind = _said_of(line, line.items[last].stop, line.items[last + 1 : stop])
        if in_and_out(line, first):
            continue
        subject = _named(line, behind, values)
        section = next((m for m in behind if m.claimed == SECTION), None)
        if section is not None:
            subject = Subject(["capacitance"], section.start)
        if (
            subject is None
            and before is not None
            and behind
            and _small(behind[0])
            and not any(map(_names, behind))
        ):
            subject = Subject(before.points, behind[0].start, before.comp, position=before.position)
        legs = next((x for x in behind if x.kind == "legs" and not x.claimed), None)
        if legs is not None and len(values) == 1 and (subject is None or subject.points[0] in ELECTRIC):
            subject = subject or _between_legs(line, legs, before, values[0])
            legs = None if subject.points == ["control-voltage"] else legs
        else:
            legs = None
        if subject is None:
            continue
        if subject.points[0] in STAGED:
            _stages(line, first, last)
        for m in values:
            assert m.value is not None
            draft = take(line, m, subject, RULE)
            if draft is not None:
                subject.used += 1
                if legs is not None:
                    draft.legs, legs.claimed = legs.slug, "legs"
                if behind and _small(behind[0]) and behind[0].has("cue", "rated"):
                    draft.basis = "rated"
        if subject.used:
            before = subject
            if subject.mention is not None:
                subject.mention.claimed = "suffix"


_MEANWHILE = words("when whenever while if until because once since")


def _said_of(line: Line, start: int, behind: list[Mention]) -> list[Mention]:
    """What stands behind a run, without the clause that tells when: "two oh one when the fan starts"."""
    stop = next((i for i in range(start, line.end) if line.doc.norm[i] in _MEANWHILE), line.end)
    return [m for m in behind if m.start < stop]


def _between_legs(line: Line, legs: Mention, before: Subject | None, value: Mention) -> Subject:
    """What is read between legs where nothing was named: volts, a winding's ohms; at one leg as before, else amps."""
    if before is not None and before.points[0] in ELECTRIC:
        return Subject(before.points, legs.start, before.comp)
    if legs.slug == "C-R" and of_controls(line, value):
        return Subject(["control-voltage"], legs.start)  # "twenty five eight from R to common"
    if "-" in legs.slug and legs.slug[0] in "CRS" and legs.slug[-1] in "CRS":
        return Subject(["resistance"], legs.start)
    return Subject(["voltage"] if "-" in legs.slug and legs.slug[0] in "LAB" else ["current"], legs.start)


def _stages(line: Line, first: int, last: int) -> None:
    """ "One point five on low, three point four on high, manifold": the low and high of these are stages."""
    for m in line.items[first : last + 1]:
        if m.kind == "word" and doc_words(line.doc, m) in _STAGED:
            m.kind, m.slug = "stage", doc_words(line.doc, m)


def _runs(line: Line) -> list[tuple[int, int]]:
    """Places of the runs of values in a sentence told the other way round; empty for any other sentence."""
    items = line.items
    first = next((k for k, m in enumerate(items) if not _small(m)), None)
    if first is None or not _value(line, items[first]) or not _opens(line, items[first]):
        return []
    if any(m.has("cue", "scratch") for m in items) or DENIALS & {*line.doc.norm[line.begin : line.end]}:
        return []
    runs: list[tuple[int, int]] = []
    for k in range(first, len(items)):
        if not _value(line, items[k]):
            continue
        last = runs[-1][1] if runs else k
        if runs and all(_stage(line, m) for m in items[last + 1 : k]) and _close(line, items[last], items[k]):
            runs[-1] = (runs[-1][0], k)
        else:
            runs.append((k, k))
    start, last = runs[-1]
    told = any(
        _names(m) or m.kind == "legs" or (_small(m) and not m.has("cue", "also")) for m in items[last + 1 :]
    )
    asked = start > first and any(m.has("cue", "rated", "set", "from") for m in items[start - 1 : start])
    return runs if told or asked else []


def _small(m: Mention) -> bool:
    return m.kind == "word" and m.has("cue") and not m.has("point") and not m.comp


def _stage(line: Line, m: Mention) -> bool:
    return m.kind == "stage" or (m.kind == "word" and doc_words(line.doc, m) in _STAGED)


def _close(line: Line, a: Mention, b: Mention) -> bool:
    """Whether a value goes on the run of the one before: nothing but linkers and stages between."""
    return all(
        line.doc.norm[i] in LINKERS or line.doc.norm[i] in _ROUND or line.doc.owner[i] is not None
        for i in range(a.stop, b.start)
    )


def _value(line: Line, m: Mention) -> bool:
    if m.kind != "value" or m.value is None or m.claimed or counted(line, m) or supposed(line, m):
        return False
    bare = (
        m.value.ucum is None
        and m.stop - m.start == 1
        and m.value.style == "cardinal"
        and m.value.first <= SMALL
    )
    if (
        not bare
        or m.stop >= line.end
        or line.doc.tokens[m.stop].brk
        or line.doc.norm[m.stop] in _BEHIND_SMALL
    ):
        return True
    nxt = line.doc.owner[m.stop]
    return nxt is not None and (nxt.has("point") or nxt.has("cue")) and not nxt.part


def _opens(line: Line, m: Mention) -> bool:
    """Whether only small words stand before the first value."""
    return all(
        line.doc.norm[i] in _BEFORE_RUN or line.doc.owner[i] is not None for i in range(line.begin, m.start)
    )


def _names(m: Mention) -> bool:
    return m.kind == "word" and (m.has("point") or bool(m.comp))


def _named(line: Line, behind: list[Mention], values: list[Mention]) -> Subject | None:
    """What the stretch behind a run says its values are of: a point that fits them, or a part with its own."""
    part = next((m for m in behind if m.comp and m.kind == "word" and m.part), None)
    for weak in (False, True):
        for m in behind:
            slugs = [t.slug for t in m.of("point") if t.weak == weak]
            if not slugs or (m.has("component") and len(slugs) == 1 and line.points[slugs[0]].text):
                continue
            fitting = [s for s in slugs if _fits(line, s, values, part, UNLIKELY if weak else UNLIKELY + 1)]
            if fitting:
                place = position_in(
                    line.doc, line.points[fitting[0]], behind[0].start, behind[-1].stop, last=False
                )
                return Subject(fitting, m.start, m if m.comp else part, position=place, mention=m)
    if part is None:
        return None
    entry = line.doc.vocabulary.components[part.comp]
    own = (entry.implied or _AT.get(part.comp), *entry.marked)
    points = [p for p in own if p and _fits(line, p, values, part, UNLIKELY + 1)]
    return Subject(points, part.start, part, strong=part.comp in _AT, mention=part) if points else None


def _fits(line: Line, slug: str, values: list[Mention], part: Mention | None, most: float) -> bool:
    point = line.points[slug]
    if point.text:
        return False
    comp = part.comp if part is not None and part.comp in point.components else None
    return all(m.value is not None and fit(point, m.value, comp).cost < most for m in values)
