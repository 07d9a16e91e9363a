"""Where a value without a subject of its own may find one: behind it, in its unit, in what was said before."""

from __future__ import annotations

from itertools import islice

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.counting import between
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.drafting import strange
from hatchnote.notes.fitting import NO_FIT, UNLIKELY, fit
from hatchnote.notes.names_meant import value_next
from hatchnote.notes.plates import rated_subjects
from hatchnote.notes.subjects import (
    COPULA,
    FILLERS,
    LINKERS,
    Line,
    Subject,
    as_mention,
)
from hatchnote.notes.subjects_named import capacitor_side, section_of
from hatchnote.notes.wordlists import words as word_set


def for_before(line: Line, m: Mention) -> bool:
    """ "right for forty eight": told of what a reading fits, not read."""
    owner = line.doc.owner[m.start - 1]
    return line.doc.norm[m.start - 1] == "for" and (owner is None or not owner.has("cue"))


def asked(line: Line, k: int) -> bool:
    """Whether "plate says" or "setpoint" stands right before the value."""
    m = line.items[k]
    nxt = line.items[k + 1] if k + 1 < len(line.items) else None
    if nxt is not None and nxt.has("cue", "rated") and not nxt.has("point") and nxt.start - m.stop <= 2:
        between = line.doc.norm[m.stop : nxt.start]
        if between and all(w in ("by", "on", "per", "off", "the", "its", "of") for w in between):
            return not line.doc.tokens[m.stop].brk  # "needs point five five by the label"
    return any(
        x.kind == "word" and x.has("cue", "rated", "set") and not x.has("point") and m.start - x.stop <= 3
        for x in line.items[max(0, k - 2) : k]
    )


def far(line: Line, subject: Subject, m: Mention) -> bool:
    return m.start - subject.at > 14


_SIDES = frozenset(["left", "right", "front", "rear", "top", "bottom", "upper", "lower"])
_OTHERS = frozenset({"they", "he", "she", "you", "guys", "everybody"})
_HAD = frozenset({"had", "got", "get", "were", "was", "said", "say", "says", "want", "wanted"})
_LOADS = word_set(
    "standing static running firing idle idling off on with it everything burning going flowing lit fired"
)
"""How a machine stood when a value was read: "eight one standing and five nine with everything running"."""


def goes_on(line: Line, k: int) -> bool:
    """Whether a value follows the one before in a list, or a word between takes the subject up again."""
    m = line.items[k]
    j = k - 1
    while j >= 0 and line.items[j].kind not in ("value", "size"):
        j -= 1
    start = line.items[j].stop if j >= 0 else line.begin
    if j >= 0 and not line.items[j].claimed.startswith("reading"):
        return True
    linked = j == k - 1 and j >= 0 and m.value is not None and m.value.link in ("over", "plus", "slash")
    if linked and line.subject is not None and "capacitance" in line.subject.points[:1]:
        return True  # "forty five over five": the other section
    between = [(i, line.doc.owner[i]) for i in range(start, m.start)]
    words = [(i, owner) for i, owner in between if owner is None or owner.kind == "word"]
    if all(
        line.doc.norm[i] in LINKERS
        or line.doc.norm[i] in _SIDES
        or line.doc.norm[i] in ("even", "flat")
        or (owner is not None and owner.modifier)
        for i, owner in words
    ):
        return True
    said = {line.doc.norm[i] for i, _ in words}
    if (
        ("and" in said or line.doc.tokens[m.start].brk == 1)
        and said <= _LOADS | LINKERS
        and line.subject is not None
        and not strange(line, m, line.subject)
    ):
        return True
    return any(line.doc.norm[i] in COPULA or (owner is not None and owner.has("cue")) for i, owner in words)


def point_behind(line: Line, k: int) -> Subject | None:
    """The point said right behind the value: "nineteen degree split", "118 on the suction"."""
    m = line.items[k]
    i = m.stop
    steps = 0
    while i < line.end and steps < 5:
        if line.doc.tokens[i].brk:
            return None
        owner = line.doc.owner[i]
        if owner is None:
            if (
                i == m.stop
                and m.value is not None
                and m.value.ucum in ("[degF]", "Cel")
                and line.doc.norm[i] == "drop"
            ):
                return Subject(["temperature-drop"], i)  # "that's a nineteen degree drop"
            if line.doc.norm[i] not in FILLERS:
                return None
            i += 1
            steps += 1
            continue
        if owner.kind != "word":
            return None
        points = [t.slug for t in owner.of("point") if not t.weak or owner.stop - owner.start > 1]
        on = any(
            line.doc.norm[x] in ("on", "at", "in", "for", "of", "through", "across")
            for x in range(m.stop, owner.start)
        )
        warm = (
            m.value is not None
            and m.value.ucum == "[degF]"
            and any(p.endswith("temperature") for p in points)
        )
        if points and (warm or on or not owner.has("component")):
            own_value = value_next(line, line.items.index(owner, k))
            pending = line.subject is not None and not line.subject.used
            if pending and line.subject is not None and m.value is not None and m.value.ucum is not None:
                costs = [fit(line.points[s], m.value).cost for s in line.subject.points]
                pending = (
                    min(costs, default=0.0) < NO_FIT
                )  # a subject that cannot be in this unit waits for nothing
            if own_value and pending and not on:
                return None
            if owner.has("cue", "rated") and _row_ends(line, k, owner, points):
                return None  # "seven two, seven four, seven three f l a eight four"
            comp = owner if owner.comp else None
            return Subject(points, owner.start, comp, mention=owner)
        if capacitor_side(line, owner):
            return None
        if section := section_of(line, owner):
            subject = Subject(["capacitance"], owner.start, None, strong=False)
            subject.comp = as_mention(section)
            return subject
        if owner.comp and on and owner.part:
            entry = line.doc.vocabulary.components[owner.comp]
            if (
                line.subject is not None
                and line.subject.strong
                and any(owner.comp in line.points[p].components for p in line.subject.points)
            ):
                if line.subject.comp is None or line.subject.used:
                    if line.subject.comp is None:
                        for d in line.made:
                            if d.component is None and owner.comp in line.points[d.point].components:
                                d.component, d.number = owner.comp, owner.number
                    line.subject.comp = owner
                    owner.claimed = "suffix"
                return None
            named = [entry.implied] if entry.implied else []
            named += [
                p.slug for p in line.points.values() if owner.comp in p.components and p.slug not in named
            ]
            last = line.made[-1] if line.made else None
            if last is not None and last.point in named and doc_and(line, last.stop, m.start):
                rest = [
                    p for p in named if p != last.point
                ]  # "... at the disconnect and two oh six at the contactor"
                return Subject(
                    [last.point, *rest], owner.start, owner, strong=False, same=True, mention=owner
                )
            return Subject(named, owner.start, owner, strong=False, mention=owner)
        return None
    return None


def _same_machine(line: Line, d: Draft, m: Mention) -> bool:
    """Whether a value is of the machine of draft `d`, or of one of a row that the values around `d` were told of."""
    tag = line.doc.tag_at[m.start]
    if d.tag == tag:
        return True
    begin, end = line.doc.sentences[d.sentence]
    return tag is not None and any(
        x.kind == "machines" and tag in x.slug.split(",") for x in line.doc.within(begin, end)
    )


def _row_ends(line: Line, k: int, rating: Mention, points: list[str]) -> bool:
    """Whether the value at item `k` is the last of a row and the rating behind it leads the next value."""
    last = line.made[-1] if line.made else None
    nxt = next((x for x in line.items[k + 1 :] if x.start >= rating.stop), None)
    return (
        last is not None
        and last.point in points
        and line.items[k].start - last.stop <= 1
        and nxt is not None
        and nxt.kind == "value"
        and nxt.start == rating.stop
        and not line.doc.tokens[nxt.start].brk
    )


def doc_and(line: Line, start: int, stop: int) -> bool:
    """Whether an "and" right before token `stop` joins it to what ended at `start`, nearby."""
    return stop - start < 7 and line.doc.norm[stop - 1] in ("and", "then")


def open_subjects(line: Line, k: int) -> list[Subject]:
    """Subjects that what was said before leaves open for a rating, a setting or a value of now."""
    m = line.items[k]
    cues = [x for x in line.items[max(0, k - 5) : k] if x.kind == "word" and x.has("cue")]
    out: list[Subject] = []
    if any(x.has("cue", "rated", "set") for x in cues[-2:]) or asked(line, k):
        out += rated_subjects(line, k, rated=not cues or not cues[-1].has("cue", "set"))
    elif (
        any(x.has("cue", "left", "setting", "found", "was", "from") for x in cues[-3:])
        or adjusting(line, k)
        or conjoined(line, k)
    ) and not elsewhere(line, m):
        for d in islice(reversed(line.doc.drafts), 12):
            if (
                not _same_machine(line, d, m)
                or (d.basis == "set" and d.point != "opening")
                or d.point == "power"
            ):
                continue
            subject = Subject([d.point], m.start, None, strong=False, position=d.position)
            subject.comp = as_mention(d)
            out.append(subject)
    if (
        line.state.last is not None
        and line.state.last.sentence == line.index - 1
        and not line.made
        and said_it(line, m)
    ):
        d = line.state.last
        again = Subject([d.point], m.start, None, strong=False, position=d.position)
        again.comp = as_mention(d)
        out.append(again)
    out += _same_now(line, k)
    near = meant_by_pronoun(line, m) or _only_now(line, k)
    if near is not None:
        entry = line.doc.vocabulary.components[near.comp]
        points = [p for p in (entry.implied, *entry.marked) if p]
        points += [p.slug for p in line.points.values() if near.comp in p.components and p.slug not in points]
        if points:
            out.append(Subject(points, m.start, near, strong=False, mention=near))
    return out


def left_of_last(line: Line, k: int) -> Subject | None:
    """ "Supply static found at point four, left at one point one": the value behind "left at" is of what was found."""
    m = line.items[k]
    before = line.items[k - 1] if k else None
    last = line.made[-1] if line.made else None
    if (
        before is None
        or last is None
        or not before.has("cue", "left", "setting")
        or m.start - before.stop > 1
    ):
        return None
    if last.text or last.basis != "measured" or m.value is None:
        return None
    if line.subject is not None and line.subject.strong and not line.subject.used:
        return None
    if fit(line.points[last.point], m.value, last.component).cost >= UNLIKELY:
        return None
    return Subject([last.point], m.start, as_mention(last), strong=False, position=last.position)


def _only_now(line: Line, k: int) -> Mention | None:
    """ "Twenty five point eight now.": a sentence of nothing but a value tells of the part spoken of before."""
    m = line.items[k]
    rest = [x for x in line.items if x is not m]
    if (
        not rest
        or not all(x.has("cue", "left", "found") for x in rest)
        or between(line, line.begin, line.end) > m.stop - m.start
    ):
        return None
    return focus_before(line.doc, line.begin)


def elsewhere(line: Line, m: Mention) -> bool:
    """Whether the clause tells of something else: "the key was left at window three", "pie was two ninety five"."""
    doc = line.doc
    start = m.start
    others = doc.norm[line.begin] in _OTHERS and doc.norm[line.begin + 1 : line.begin + 2] != []
    if others and doc.norm[line.begin + 1] in _HAD and not any(x.comp or x.has("point") for x in line.items):
        return True  # "they had eleven inches last night"
    while start > line.begin and not doc.tokens[start].brk:
        owner = doc.owner[start - 1]
        if owner is not None and (owner.kind in ("value", "size") or owner.comp or owner.has("point")):
            break
        start -= 1
    return between(line, start, m.start) > 0


def said_it(line: Line, m: Mention) -> bool:
    return any(line.doc.norm[i] in ("it", "it's") for i in range(max(line.begin, m.start - 4), m.start))


def _same_now(line: Line, k: int) -> list[Subject]:
    """ "Manifold was four one before I started. Three five now.": of the point just read, in a sentence of its own."""
    last = line.state.last
    alone = len(line.items) == k + 2 and k == 0 and line.items[1].has("cue", "left")
    if last is None or not alone or last.sentence != line.index - 1 or last.text or last.basis != "measured":
        return []
    if line.items[0].start != line.begin or line.items[1].stop != line.end:
        return []
    again = Subject([last.point], line.begin, None, strong=False, position=last.position)
    again.comp = as_mention(last)
    return [again]


def it_is_at(line: Line, m: Mention) -> bool:
    """ "Put back in auto following the sensor, it's at 43": the part spoken of, however far back."""
    i = m.start - 1
    while i > line.begin and line.doc.norm[i] in (
        "at",
        "about",
        "around",
        "only",
        "down",
        "up",
        "running",
        "still",
    ):
        i -= 1
    return i < m.start - 1 and i > line.begin and line.doc.norm[i] == "it's"


def meant_by_pronoun(line: Line, m: Mention) -> Mention | None:
    """The part meant by "it reads", "they're" right before the value."""
    for i in range(m.start - 1, max(line.begin - 1, m.start - 5), -1):
        word = line.doc.norm[i]
        if word in ("it", "it's", "they", "that", "that's", "those", "these"):
            return focus_before(line.doc, i)
        if word not in COPULA and word not in FILLERS:
            return None
    return None


def adjusting(line: Line, k: int) -> bool:
    return any(
        x.kind == "word" and x.claimed == "verb" and any(t.slug == "adjust" for t in x.of("verb"))
        for x in line.items[max(0, k - 4) : k]
    )


def after_and(line: Line, k: int) -> bool:
    m = line.items[k]
    return (
        k > 0
        and line.items[k - 1].kind == "value"
        and m.start - line.items[k - 1].stop == 1
        and line.doc.norm[m.start - 1] == "and"
    )


def conjoined(line: Line, k: int) -> bool:
    return after_and(line, k) and any(
        x.kind == "word" and x.has("cue", "left", "setting", "found") for x in line.items[:k]
    )
