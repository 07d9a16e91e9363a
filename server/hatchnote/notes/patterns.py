"""Values that come in patterns: taken back and said again, low over high, parted figures, lists, positions."""

from __future__ import annotations

from itertools import islice

from hatchnote.notes.basis import MOTOR_SPEEDS
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import OUTSIDE, UNLIKELY, fit
from hatchnote.notes.subjects import COPULA, NOMINAL_VOLTS, Line, Subject, as_mention
from hatchnote.notes.subjects_named import of_controls
from hatchnote.notes.wordlists import words


def position_of_last(line: Line, m: Mention) -> Subject | None:
    """ "Return static negative point four, total one point four": a position of the point spoken of before."""
    last = line.made[-1] if line.made else None
    if last is None or line.doc.norm[m.stop : m.stop + 1] == ["across"]:
        return None  # "total two point one, and point nine across the filters"
    entry = line.points[last.point]
    if not entry.positions or last.point not in ("static-pressure", "humidity"):
        return None
    i = m.start - 1
    while i > line.begin and (
        line.doc.norm[i] in COPULA
        or line.doc.norm[i] in ("minus", "negative", "about", "plus", "positive", "+")
    ):
        i -= 1
    parted = any(line.doc.tokens[x].brk for x in range(i + 1, m.start + 1))
    position = None if parted else entry.positions.get(line.doc.norm[i])
    if (
        position
        and m.value is not None
        and m.value.ucum is None
        and i > line.begin
        and line.doc.norm[i - 1] in ("in", "at", "for")
    ):
        return None  # "parked in space eleven"
    if position is None and m.stop < line.end and not line.doc.tokens[m.stop].brk:
        closed = (
            m.stop + 1 >= line.end or line.doc.tokens[m.stop + 1].brk or line.doc.norm[m.stop + 1] == "and"
        )
        position = entry.positions.get(line.doc.norm[m.stop]) if closed else None  # "so point eight total"
    return Subject([last.point], m.start, None, position=position) if position else None


_SHIFTS = words(
    """
    drops drop dipped dips sags sag sagged falls fall climbs climb rises rise jumps jump goes go comes come spikes
    spiked settles creeps crept swings swung
    """
)


def shifted(line: Line, m: Mention) -> Subject | None:
    """ "Two oh seven with it off, drops to one ninety eight when it starts": the same reading at another load."""
    last = line.made[-1] if line.made else None
    i = m.start - 1
    if last is None or m.value is None or line.doc.norm[i] not in ("to", "at"):
        return None
    if last.point in ("time", "torque", "power") or last.basis != "measured":
        return None
    i -= 1
    while i > last.stop and line.doc.norm[i] in ("up", "down", "back", "out", "right", "off"):
        i -= 1
    if i < last.stop or line.doc.norm[i] not in _SHIFTS:
        return None
    since = line.doc.within(last.stop, i)
    other = [
        x for x in since if x.comp or (x.has("point") and not x.has("point", last.point, "static-pressure"))
    ]
    if other or fit(line.points[last.point], m.value, last.component).outside:
        return None
    return Subject([last.point], m.start, as_mention(last), strong=False, position=last.position)


def position_of_subject(line: Line, m: Mention, subject: Subject | None) -> Subject | None:
    """ "Return side negative point three five" after a static: no temperature can be that."""
    if subject is None or subject.mention is None or m.value is None:
        return None
    if subject.at < m.start and line.doc.norm[m.stop : m.stop + 1] == ["across"]:
        return None
    last = line.made[-1] if line.made else line.state.last
    point = last.point if last is not None else ""
    if point not in ("static-pressure", "humidity", "co"):
        point = line.shadow or ""
    if not point and -2.0 <= m.value.first < 2.0 and m.value.ucum is None:
        near = islice(reversed(line.doc.drafts), 16)
        point = next(
            (d.point for d in near if d.point == "static-pressure" and d.tag == line.doc.tag_at[m.start]), ""
        )
        if not point and m.value.style in ("decimal", "written") and m.value.first != int(m.value.first):
            point = "static-pressure"  # no air is minus point three degrees warm
    if not point:
        return None
    if min((fit(line.points[p], m.value).cost for p in subject.points), default=0.0) < OUTSIDE and not (
        bool(line.made)
        and m.value.ucum is None
        and subject.mention.stop - subject.mention.start == 1
        and (
            point == "humidity"
            or (
                point == "co"
                and m.value.first < 40
                and line.doc.norm[subject.mention.start] in ("ambient", "room", "space", "indoors")
            )
        )
    ):
        return None
    positions = line.points[point].positions
    if (
        line.doc.norm[subject.mention.start - 1] in ("in", "at")
        and m.value.ucum is None
        and point == "humidity"
    ):
        return None  # "parked in space eleven"
    for i in range(subject.mention.start, subject.mention.stop):
        if line.doc.norm[i] in positions:
            return Subject([point], m.start, None, position=positions[line.doc.norm[i]])
    return None


def share(line: Line, k: int, subject: Subject) -> None:
    """ "Low fire 1.7, high fire 3.5 on the manifold": the values before it in the list are of the same point."""
    j = k - 1
    row: list[Mention] = []
    while j >= 0:
        m = line.items[j]
        if m.kind == "value" and not m.claimed:
            row.append(m)
        elif m.kind == "value" or (
            m.kind not in ("stage", "legs") and not (m.kind == "word" and m.has("cue") and not m.has("point"))
        ):
            break
        j -= 1
    kept = list(line.made)
    value = line.items[k].value
    for n, m in enumerate(reversed(row)):
        after = row[len(row) - n - 2] if n + 1 < len(row) else line.items[k]
        if DENIALS & {*line.doc.norm[m.stop : after.start]}:
            m.claimed = "taken back"  # "twenty four, no, twenty four point six volts"
            continue
        same_unit = m.value is not None and (value is None or m.value.ucum in (None, value.ucum))
        alike = fit(line.points[kept[-1].point], m.value) if m.value is not None else None
        low, high = (0.8, 1.25) if kept[-1].point in _LEGGED else (0.4, 2.5)
        near = alike is not None and kept[-1].value and low < alike.value / kept[-1].value < high
        if m.value is not None and same_unit and alike is not None and alike.cost < UNLIKELY and near:
            take(line, m, Subject([kept[-1].point], m.start, subject.comp), "in a list before its point")


def setpoint(line: Line, k: int) -> bool:
    """ "Setpoint's at seventy", "cooling setpoint seventy two": of the space, where nothing else was named."""
    m, before = line.items[k], line.items[k - 1] if k else None
    if (
        before is None
        or before.kind != "word"
        or m.value is None
        or m.start - before.stop > 3
        or m.value.text
    ):
        return False
    said = " ".join(line.doc.norm[before.start : before.stop])
    if ("setpoint" not in said and "set point" not in said) or m.value.ucum not in (None, "[degF]", "Cel"):
        return False
    point = line.points["space-temperature"]
    if fit(point, m.value).cost >= UNLIKELY:
        return False
    return take(line, m, Subject([point.slug], m.start), "a setpoint") is not None


def plate_speed(line: Line, k: int) -> bool:
    """ "It's a five horse, seventeen fifty": the speed on a motor's plate, behind its size."""
    m, last = line.items[k], line.made[-1] if line.made else None
    if last is None and len(line.items) == 1 and line.state.last is not None:
        last = (
            line.state.last if line.state.last.sentence == line.index - 1 else None
        )  # "Five horse. Seventeen forty."
    if (
        last is None
        or last.point != "power"
        or last.ucum != "[HP]"
        or m.start - last.stop > 2
        or m.value is None
    ):
        return False
    if m.value.ucum is not None or m.value.text or m.value.first not in MOTOR_SPEEDS:
        return False
    draft = take(line, m, Subject(["speed"], m.start, as_mention(last)), "speed behind the horses of a plate")
    if draft is not None:
        draft.basis = "rated"
    return draft is not None


def across_legs(line: Line, k: int) -> bool:
    """ "I had two oh seven across L one and L two": volts, told before the legs they are between."""
    m = line.items[k]
    legs = line.items[k + 1] if k + 1 < len(line.items) else None
    if legs is not None and legs.has("cue", "from") and k + 2 < len(line.items):
        legs = line.items[k + 2]
    if legs is None or legs.kind != "legs" or "-" not in legs.slug or legs.claimed or m.value is None:
        return False
    between = line.doc.norm[m.stop : legs.start]
    if legs.slug[0] in "CRS" and legs.slug[-1] in "CRS" and between in (["from"], ["between"], ["across"]):
        if m.value.ucum not in (None, "Ohm") or of_controls(line, m):
            return False
        draft = take(line, m, Subject(["resistance"], m.start), "before the legs it is between")
        if draft is not None:
            draft.legs, legs.claimed = legs.slug, "legs"
        return draft is not None
    if legs.slug[0] != "L" or between not in (["across"], ["between"], ["across", "the"]):
        return False
    if m.value.ucum not in (None, "V") or fit(line.points["voltage"], m.value).cost >= UNLIKELY:
        return False
    draft = take(line, m, Subject(["voltage"], m.start), "before the legs it is between")
    if draft is not None:
        draft.legs, legs.claimed = legs.slug, "legs"
    return draft is not None


def at_fire(line: Line, k: int) -> bool:
    """ "High fire three five, low fire one seven": gas at the manifold, where nothing was named. Marked."""
    m, j = line.items[k], k - 1
    while j >= 0 and line.items[j].has("cue", "found", "was", "left"):
        j -= 1  # "high fire found four oh"
    before = line.items[j] if j >= 0 else None
    if (
        before is None
        or before.kind != "stage"
        or not before.slug
        or m.start - before.stop > (1 if j == k - 1 else 3)
        or m.value is None
    ):
        return False
    if m.value.ucum not in (None, "inch?", "[in_i'H2O]") or m.value.text:
        return False
    if fit(line.points["manifold-pressure"], m.value).cost >= UNLIKELY:
        return False
    draft = take(line, m, Subject(["manifold-pressure"], m.start), "gas at a firing stage")
    if draft is not None and not any(d.point == "manifold-pressure" for d in line.made[:-1]):
        draft.doubts.append("the point was not said with the number")
    return draft is not None


_LEGGED = frozenset({"voltage", "current", "resistance"})
"""Points whose values of one row are those of three legs, near each other."""


DENIALS = frozenset(["no", "sorry", "wait", "nope", "oops", "rather"])
_WITHDENIALS = frozenset(
    ["uh", "um", "er", "i", "mean", "make", "that", "it", "it's", "hang", "hold", "on", "is", "at"]
)


_WAY = frozenset({"going", "coming", "in", "out", "the", "on", "at", "of"})


def _of_last(line: Line, i: int) -> bool:
    """Whether a word between a value and its correction only says what the value is of: "going in the return"."""
    owner = line.doc.owner[i]
    return line.doc.norm[i] in _WAY or (owner is not None and owner.claimed == "suffix")


def denied(line: Line, m: Mention) -> bool:
    """ "One fifteen, no, one sixteen": nothing but a denial stands between a value and the next."""
    if not line.made:
        return False
    last = line.made[-1]
    told = [i for i in range(last.stop, m.start) if not _of_last(line, i)]
    words = [line.doc.norm[i] for i in told]
    if not words or len(words) > 6 or not DENIALS & set(words):
        return False
    return all(w in DENIALS or w in _WITHDENIALS for w in words) and m.value is not None and not m.value.text


def again(line: Line, m: Mention) -> bool:
    """The value that stands in for the one taken back."""
    old = line.scratched
    line.scratched = None
    if old is None or m.start - line.scratch_at > 14:
        return False
    fresh = (
        line.subject is not None
        and line.subject.strong
        and line.subject.at > line.scratch_at
        and old.point not in line.subject.points
    )
    if fresh:
        if line.strong_scratch:
            old.withdrawn = True
        return False
    subject = Subject([old.point], m.start)
    draft = take(line, m, subject, "taken back and said again")
    if draft is None:
        return False
    for name in ("component", "number", "circuit", "stage", "position", "legs"):
        if getattr(draft, name) is None:
            setattr(draft, name, getattr(old, name))
    draft.at = draft.at
    old.withdrawn = True
    draft.doubts.clear()
    if line.subject is not None:
        line.subject.used += 1
    return True


def rated_voltage(line: Line, k: int) -> bool:
    """ "rated four sixty, three phase", "two oh eight to two thirty on the plate"."""
    m = line.items[k]
    value = m.value
    assert value is not None
    if value.ucum not in (None, "V"):
        return False
    if value.text:
        low, _, high = value.text.partition("-")
        nominal = float(low) in NOMINAL_VOLTS and float(high) in NOMINAL_VOLTS
        named = (
            line.subject is not None
            and line.subject.strong
            and "voltage" not in line.subject.points
            and value.ucum is None
        )
        if not nominal or (named and not line.subject.used):  # type: ignore[union-attr]
            return False
        draft = take(line, m, Subject(["voltage"], m.start), "rated")
        if draft is not None:
            draft.basis, draft.component, draft.number = "rated", None, None
        return draft is not None
    nxt = line.items[k + 1] if k + 1 < len(line.items) else None
    phased = nxt is not None and nxt.kind == "phase" and nxt.start - m.stop <= 1
    rated = line.rated_at >= 0 and 0 <= m.start - line.rated_at <= 1
    if (
        (phased or rated)
        and value.first in NOMINAL_VOLTS
        and (value.ucum == "V" or phased or line.subject is None)
    ):
        if rated and not phased and value.ucum is None and line.state.last is not None:
            return False
        draft = take(line, m, Subject(["voltage"], m.start), "rated")
        if draft is not None:
            draft.basis, draft.component, draft.number = "rated", None, None
        return draft is not None
    return False


def same_pattern(line: Line, k: int) -> int:
    """ "Return seventy three, supply fifty three on three. On two I've got seventy four and fifty five"."""
    m = line.items[k]
    if (
        line.subject is not None
        or line.made
        or m.value is None
        or m.value.ucum not in (None, "[degF]", "[psi]")
    ):
        return 0
    before = [x for x in line.items[:k] if x.kind == "machine"]
    if not before or not line.state.recent:
        return 0
    run = [m]
    while (
        k + len(run) < len(line.items)
        and line.items[k + len(run)].kind == "value"
        and line.items[k + len(run)].start - run[-1].stop <= 1
    ):
        run.append(line.items[k + len(run)])
    pattern: list[Draft] = []
    for d in line.state.recent:
        if d.tag != line.doc.tag_at[m.start] and d.basis == "measured" and d.text is None:
            pattern.append(d)
    pattern = pattern[: len(run)]
    if len(pattern) != len(run) or len(run) < 2:
        return 0
    done = 0
    for x, d in zip(run, pattern, strict=True):
        subject = Subject([d.point], x.start, as_mention(d), strong=False, position=d.position)
        draft = take(line, x, subject, "the same points as on the machine before")
        if draft is None:
            break
        done += 1
    return done


def low_over_high(line: Line, k: int) -> bool:
    """ "one eighteen over three fifty": suction over head."""
    if k + 1 >= len(line.items):
        return False
    a, b = line.items[k], line.items[k + 1]
    if b.kind != "value" or b.value is None or b.claimed or b.value.link != "over":
        return False
    assert a.value is not None
    ends = (fit(line.points["suction-pressure"], a.value), fit(line.points["discharge-pressure"], b.value))
    if ends[0].cost >= OUTSIDE or ends[1].cost >= UNLIKELY + 1 or ends[0].value >= ends[1].value:
        return False
    low = take(line, a, Subject(["suction-pressure"], a.start), "low over high")
    high = take(line, b, Subject(["discharge-pressure"], b.start), "low over high") if low else None
    return high is not None
