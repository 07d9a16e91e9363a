"""Two values said in a fixed order without their points: in and out, low side and high side, "A and B are x and y"."""

from __future__ import annotations

from itertools import islice

from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.fitting import UNLIKELY, fit
from hatchnote.notes.rows_named import named_row
from hatchnote.notes.subjects import COPULA, Line, Subject
from hatchnote.notes.wordlists import words

_GAUGES = frozenset(["gauges", "gauge", "pressures"])
_LEAST_LIFT = 1.2
_ARE = frozenset([*COPULA, "were", "at"])


def pair(line: Line, k: int) -> bool:
    """Take the value at item `k` and the one it goes with; whether that was done."""
    m = line.items[k]
    if m.value is None or m.value.text:
        return False
    if named_row(line, k):
        return True
    if air_humidity(line, k) or named_in_order(line, k) or couple_again(line, k) or in_and_out(line, k):
        return True
    return low_and_high(line, k) or both_sides(line, m)


def named_in_order(line: Line, k: int) -> bool:
    """ "Superheat and subcooling are twelve and nine": two points, then their two values in the same order."""
    norm = line.doc.norm
    before = [
        x
        for x in line.items[max(0, k - 6) : k]
        if x.kind not in ("machine", "circuit") and not all(w in _ARE for w in norm[x.start : x.stop])
    ]
    b = line.items[k + 1] if k + 1 < len(line.items) else None
    second, its_part = _named(before, len(before) - 1)
    first, other_part = _named(before, len(before) - (2 if its_part is second else 3))
    if first is None or second is None or b is None or b.kind != "value":
        return False
    a, its_start = line.items[k], (its_part or second).start
    if norm[first.stop : its_start] != ["and"] or norm[a.stop : b.start] != ["and"]:
        return False
    owners = line.doc.owner
    between = [
        norm[i]
        for i in range(second.stop, a.start)
        if owners[i] is None or owners[i].kind not in ("machine", "circuit")  # type: ignore[union-attr]
    ]
    if (
        not all(w in _ARE or w in ("on", "for", "of") for w in between)
        or b.value is None
        or b.claimed
        or b.value.text
    ):
        return False
    subjects = [
        Subject([t.slug for t in x.of("point")], x.start, part if part and part.comp else None, mention=x)
        for x, part in ((first, other_part), (second, its_part))
    ]
    alike = subjects[0].points[0] == subjects[1].points[0]
    parts = [(x.comp, x.number) if x and x.comp else None for x in (other_part, its_part)]
    if alike and (None in parts or parts[0] == parts[1]):
        return False
    for subject, m in zip(subjects, (a, b), strict=True):
        assert m.value is not None
        if min(fit(line.points[slug], m.value).cost for slug in subject.points) >= UNLIKELY + 1:
            return False
    for subject, m in zip(subjects, (a, b), strict=True):
        if take(line, m, subject, "two points, then their values in order") is not None:
            subject.used += 1
    line.subject = subjects[1]
    line.couple = (subjects[0], subjects[1])
    return True


def couple_again(line: Line, k: int) -> bool:
    """ "Return and supply, seventy four and fifty five on the north, seventy five and fifty six on the middle"."""
    if line.couple is None or k + 1 >= len(line.items) or not line.made:
        return False
    a, b = line.items[k], line.items[k + 1]
    between = line.doc.within(line.made[-1].stop, a.start)
    if b.kind != "value" or b.value is None or b.claimed or line.doc.norm[a.stop : b.start] != ["and"]:
        return False
    if not any(x.kind in ("machine", "circuit") for x in between):
        return False
    for subject, m in zip(line.couple, (a, b), strict=True):
        take(
            line, m, Subject(subject.points, m.start, subject.comp), "two points, then their values in order"
        )
    return True


def _named(items: list[Mention], at: int) -> tuple[Mention | None, Mention | None]:
    """The point named at `at`, and the part it is of: itself, or the one right before it."""
    if at < 0 or items[at].kind != "word" or not items[at].has("point"):
        return None, None
    point = items[at]
    part = items[at - 1] if at else None
    if part is not None and part.kind == "word" and part.comp and part.stop == point.start:
        return point, part
    return point, point


def in_and_out(line: Line, k: int) -> bool:
    """ "Sixty six going in and one oh six coming out", "seventy in, one oh five out": return and supply air."""
    m = line.items[k]
    if not _plain(m) or not _side(line, m, ("in",), ("going", "coming", "goes")):
        return False
    for other in line.items[k + 1 : k + 4]:
        if other.kind != "value":
            continue
        if other.value is None or other.claimed or not _plain(other) or other.start - m.stop > 8:
            return False
        if not _side(line, other, ("out", "off"), ("coming", "going", "blowing", "comes")):
            return False
        first, second = line.points["return-air-temperature"], line.points["supply-air-temperature"]
        assert m.value is not None
        if fit(first, m.value).cost >= UNLIKELY + 1 or fit(second, other.value).cost >= UNLIKELY + 1:
            return False
        take(line, m, Subject([first.slug], m.start), "in and out")
        take(line, other, Subject([second.slug], other.start), "in and out")
        return True
    return False


_PLACED = {
    "space-temperature": "space",
    "return-air-temperature": "return",
    "outdoor-air-temperature": "outdoor",
}


def air_humidity(line: Line, k: int) -> bool:
    """ "Space is seventy eight at sixty three percent": the humidity of the air just told of."""
    m = line.items[k]
    last = line.made[-1] if line.made else None
    if last is None or m.value is None or m.value.ucum != "%" or last.point not in _PLACED:
        return False
    if m.start - last.stop > 2 or line.doc.norm[m.start - 1] not in ("at", "and", "with"):
        return False
    for nxt in line.doc.within(m.stop, min(line.end, m.stop + 4)):
        if line.doc.tokens[nxt.start].brk or nxt.has("point", "humidity"):
            break
        if nxt.comp or nxt.has("point"):
            return False  # "fifty five percent on the economizer"
    if m.stop < line.end and line.doc.norm[m.stop] in ("open", "outdoor", "outside", "damper"):
        return False
    subject = Subject(["humidity"], m.start, position=_PLACED[last.point])
    return take(line, m, subject, "humidity beside its temperature") is not None


def _plain(m: Mention) -> bool:
    return m.value is not None and m.value.ucum in (None, "[degF]", "Cel") and not m.value.text


def _side(line: Line, m: Mention, sides: tuple[str, ...], verbs: tuple[str, ...]) -> bool:
    doc, i = line.doc, m.stop
    if i < line.end and doc.norm[i] in verbs and not doc.tokens[i].brk:
        i += 1
        return i < line.end and doc.norm[i] in sides
    if i >= line.end or doc.tokens[i].brk or doc.norm[i] not in sides:
        return False
    nxt = i + 1
    return nxt >= line.end or bool(doc.tokens[nxt].brk) or doc.norm[nxt] in ("and", "but", "so", "with")


def low_and_high(line: Line, k: int) -> bool:
    """ "Circuit one, one eighteen, three forty", "gauges, one thirty one, three ninety": low side, then high side."""
    if k + 1 >= len(line.items) or not (_told_of_gauges(line, k) or _she_is(line, k)):
        return False
    a, b = line.items[k], line.items[k + 1]
    if b.kind != "value" or b.value is None or b.claimed or b.start - a.stop > 1 or b.value.text:
        return False
    assert a.value is not None
    if a.value.ucum not in (None, "[psi]", "[lb_av]") or b.value.ucum not in (None, "[psi]", "[lb_av]"):
        return False
    third = line.items[k + 2] if k + 2 < len(line.items) else None
    if (
        third is not None
        and third.kind == "value"
        and third.start - b.stop <= 1
        and _plain(third)
        and not _has_own(line, k + 2)
    ):
        return False
    low, high = fit(line.points["suction-pressure"], a.value), fit(line.points["discharge-pressure"], b.value)
    if low.cost >= UNLIKELY or high.cost >= UNLIKELY or high.value < _LEAST_LIFT * low.value:
        return False
    take(line, a, Subject(["suction-pressure"], a.start), "low side, then high side")
    take(line, b, Subject(["discharge-pressure"], b.start), "low side, then high side")
    return True


def _has_own(line: Line, k: int) -> bool:
    """ "Twelve of superheat": a value with its point right behind it."""
    m = line.items[k]
    nxt = line.items[k + 1] if k + 1 < len(line.items) else None
    return (
        nxt is not None and nxt.has("point") and nxt.start - m.stop <= 2 and not line.doc.tokens[m.stop].brk
    )


_SHE = words("she she's it it's i'm i've i we've we i'd running sitting at now is was had have got with been")
_REFRIGERANT = ("suction-pressure", "discharge-pressure", "liquid-pressure", "superheat", "subcooling")


def _she_is(line: Line, k: int) -> bool:
    """ "Now she's one nineteen and three sixty two": a machine's two pressures, where pressures are spoken of."""
    doc, m = line.doc, line.items[k]
    nxt = line.items[k + 1]
    if doc.norm[m.stop : nxt.start] not in (["and"], ["over"], []) or doc.tokens[nxt.start].brk:
        return False
    start = m.start
    while start > line.begin and not doc.tokens[start].brk and doc.norm[start - 1] in _SHE:
        start -= 1
    if start == m.start or (line.subject is not None and line.subject.strong and not line.subject.used):
        return False
    before = islice(reversed(doc.drafts), 30)
    known = any(d.point in _REFRIGERANT and d.tag == doc.tag_at[m.start] for d in before)
    return known or any(
        x.has("point", *_REFRIGERANT, "suction-line-temperature") for x in line.items[k + 2 :]
    )


def both_sides(line: Line, m: Mention) -> bool:
    """ "One seventy five both sides": a machine at rest, both gauges alike."""
    doc = line.doc
    words = doc.norm[m.stop : min(line.end, m.stop + 3)]
    if words[:2] != ["both", "sides"] and words != ["on", "both", "sides"]:
        return False
    assert m.value is not None
    if (
        m.value.ucum not in (None, "[psi]", "[lb_av]")
        or fit(line.points["suction-pressure"], m.value).cost >= 8
    ):
        return False
    low = take(line, m, Subject(["suction-pressure"], m.start), "both sides alike")
    if low is None:
        return False
    high = low.copy(point="discharge-pressure")
    doc.drafts.append(high)
    line.made.append(high)
    return True


def _told_of_gauges(line: Line, k: int) -> bool:
    """Whether the gauges or a circuit were named right before, and nothing was named to measure since."""
    m = line.items[k]
    subject = line.subject
    if subject is not None and not subject.used and subject.strong:
        return False
    before = line.items[k - 1] if k else None
    if before is not None and before.kind == "circuit" and m.start - before.stop <= 2:
        return True
    start = before.stop if before is not None and before.kind in ("value", "legs") else line.begin
    return any(line.doc.norm[i] in _GAUGES for i in range(max(start, m.start - 8), m.start))
