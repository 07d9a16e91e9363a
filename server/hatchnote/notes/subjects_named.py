"""What the words before a value make its subject: a point, a part with its point implied, legs."""

from __future__ import annotations

from itertools import islice

from hatchnote.notes.capacitor_sizes import SECTION
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.focus import is_point
from hatchnote.notes.names_meant import meant_instead, some_minimum, value_next
from hatchnote.notes.places_read import (
    STAGED,
    dioxide,
    in_the_flue,
    line_of,
    of_a_speed,
    of_the_room,
    side_behind,
    staged,
)
from hatchnote.notes.subjects import (
    ELECTRIC,
    MOTORS,
    NAMED_ONLY,
    STRONG_SCRATCH,
    VERB_POINTS,
    Line,
    Subject,
    as_mention,
    doc_words,
)


def _just_said(line: Line) -> Draft | None:
    """The reading that a correction at a sentence's beginning is of: what was told since may be meant instead."""
    last = line.state.last
    if last is None:
        return None
    breaks = (i for i in range(last.stop, line.begin) if line.doc.tokens[i].brk == 2)
    since = next(breaks, line.begin)
    told = line.doc.within(since, line.begin)
    return None if any(m.comp or m.has("verb") or m.kind == "value" for m in told) else last


def named_legs(line: Line, m: Mention) -> None:
    """Legs alone say what is measured: between lines volts, between terminals of a winding ohms."""
    last = line.made[-1] if line.made else None
    again = last is not None and last.legs is None and last.point in ELECTRIC and line.subject is not None
    told = [x for x in line.items if x.kind == "legs" and x.stop <= m.start]
    if again and told and told[-1].slug[0] == m.slug[0] and not line.subject.strong and last is not None:  # type: ignore[union-attr]
        line.subject = Subject([last.point], m.start, as_mention(last), mention=m)
        return
    if (
        line.subject is not None
        and any(p in ELECTRIC for p in line.subject.points[:2])
        and not _only_a_place(line, line.subject)
        and not (
            m.slug[0] in "CRS"
            and "-" in m.slug
            and not line.subject.strong
            and line.subject.points[0] == "current"
        )
        and not (
            line.subject.used and m.slug[0] == "L" and "-" in m.slug and line.subject.points[0] == "current"
        )
    ):
        return
    at = line.subject.comp if line.subject is not None and not line.subject.strong else None
    if "-" not in m.slug:
        line.subject = Subject(["current", "voltage"], m.start, mention=m)
        return
    ahead = next((x for x in line.items if x.start >= m.stop and x.kind == "value"), None)
    if m.slug == "C-R" and ahead is not None and ahead.value is not None and of_controls(line, ahead):
        m.claimed = "control side"  # R to C of the low voltage, no winding
        line.subject = Subject(["control-voltage"], m.start, mention=m)
        return
    point = "resistance" if m.slug[0] in "CRS" and "-" in m.slug and m.slug[-1] in "CRSG" else "voltage"
    line.subject = Subject([point], m.start, at, mention=m)


def of_controls(line: Line, m: Mention) -> bool:
    """ "R to C is reading twenty six point four": volts of the controls, where nobody speaks of a winding."""
    assert m.value is not None
    if m.value.ucum is not None or not 18 <= m.value.first <= 32:
        return m.value.ucum == "V"
    near = line.doc.within(max(0, line.begin - 25), m.start)
    return not any(x.comp in ("compressor", *MOTORS) or x.has("point", "resistance") for x in near)


def _only_a_place(line: Line, subject: Subject) -> bool:
    """Whether the subject is a part without a number of its own: "at the disconnect, L one to L two two ten"."""
    if (
        subject.strong
        or subject.comp is None
        or subject.mention is not subject.comp
        or not subject.comp.modifier
    ):
        return False
    return line.doc.vocabulary.components[subject.comp.comp].implied not in ELECTRIC


def named_word(line: Line, k: int) -> None:
    m = line.items[k]
    if m.claimed in ("suffix", "position", SECTION) or line.doc.norm[m.start - 1 : m.stop] == [
        "same",
        "legs",
    ]:
        return
    if m.has("point", "co") and dioxide(line, m):
        line.subject, line.foreign = None, True
        return
    if (
        m.has("point")
        and m.stop < line.end
        and line.doc.norm[m.stop] in ("monitor", "alarm", "detector", "meter", "tester")
    ):
        line.subject = None if line.doc.norm[m.stop] in ("monitor", "alarm") else line.subject
        line.foreign = line.doc.norm[m.stop] in ("monitor", "alarm")
        return
    points = [t for t in m.of("point") if not t.weak]
    weak = [t for t in m.of("point") if t.weak]
    if m.has("cue", "rated"):
        line.rated_at = m.stop
    waiting = line.subject is not None and line.subject.strong and not line.subject.used
    if m.has("cue", "heater") and not m.comp and not waiting:
        line.subject = Subject(["current", "power", "voltage"], m.start, strong=False, mention=m, nobody=True)
        return
    if m.has("cue", "scratch") and takes_back(line, k):
        line.scratched = line.made[-1] if line.made else _just_said(line) if k <= 2 else None
        loose = next((x for x in line.items[max(0, k - 2) : k] if x.kind == "value" and not x.claimed), None)
        if loose is not None and m.start - loose.stop <= 2:
            line.scratched, loose.claimed = None, "taken back"  # "so forty, hang on, forty five rise"
            return
        line.scratch_at = m.stop
        line.strong_scratch = any(w in doc_words(line.doc, m) for w in STRONG_SCRATCH)
        return
    if m.claimed == "verb" and m.has("verb"):
        verb = m.slug
        if verb == "charge" and "out" in doc_words(line.doc, m).split():
            verb = "recover"  # "weighed out"
        if verb in VERB_POINTS:
            named, place = VERB_POINTS[verb]
            vacuum = "vacuum" in named  # "brought down to" may be any value brought down
            line.subject = Subject(list(named), m.start, None, strong=not vacuum, position=place, mention=m)
            return
    if points and (in_the_flue(line, m) or side_behind(line, m) or of_the_room(line, m)):
        return
    if points and m.claimed != "suffix":
        slugs = [t.slug for t in points]
        if m.has("component") and m.comp and is_part_here(line, k):
            slugs = []
        if slugs and (meant_instead(line, m, slugs) or some_minimum(line, m, slugs)):
            return
        if slugs:
            old = line.subject
            if (
                old is not None
                and old.strong
                and not old.used
                and old.points[0] in ("static-pressure", "humidity")
            ):
                line.shadow = old.points[0]
            line.subject = Subject(slugs, m.start, component_near(line, k), mention=m)
            return
    warmth = line_of(line, k) if weak else None
    if warmth is not None:
        line.subject = Subject([warmth], m.start, mention=m)
        return
    low = weak and doc_words(line.doc, m) in ("low", "high")
    open_one = line.subject if line.subject is not None and not line.subject.used else None
    if low and open_one is not None and open_one.points and open_one.points[0] in STAGED:
        m.kind, m.slug = "stage", doc_words(line.doc, m)
        return
    if weak and doc_words(line.doc, m) in ("low", "high") and staged(line):
        m.kind, m.slug = "stage", doc_words(line.doc, m)
        last = line.made[-1] if line.made else line.state.last
        if last is not None:
            line.subject = Subject([last.point], m.start, mention=m)
        return
    if weak and doc_words(line.doc, m) in ("low", "high") and of_a_speed(line, m):
        last = line.made[-1]
        line.subject = Subject([last.point], m.start, as_mention(last), mention=m)
        return
    if weak and doc_words(line.doc, m) in ("low", "high") and not value_next(line, k):
        return
    amps = (
        line.subject is not None
        and "current" in line.subject.points
        and any(t.slug == "current" for t in weak)
    )
    if (
        amps
        and line.subject is not None
        and not line.subject.strong
        and not line.subject.used
        and line.subject.comp
    ):
        line.subject = Subject(["current"], m.start, line.subject.comp, strong=False, mention=m)
        return
    if weak and (line.subject is None or line.subject.used or not amps):
        if not (line.subject and not line.subject.used and line.subject.strong):
            comp = line.subject.comp if line.subject and line.subject.comp else None
            line.subject = Subject(
                [t.slug for t in weak], m.start, comp or component_near(line, k), strong=False, mention=m
            )
        return
    if m.comp and m.part:
        named_part(line, k)


def named_part(line: Line, k: int) -> None:
    """A part: the subject's own, or a subject with its implied point."""
    m = line.items[k]
    if capacitor_side(line, m):
        m.modifier = True
        return
    entry = line.doc.vocabulary.components[m.comp]
    subject = line.subject
    if subject is not None and not subject.used and subject.strong:
        if any(m.comp in line.points[p].components for p in subject.points):
            subject.comp = m
            return
        if m.modifier:
            return
    if m.modifier and subject is not None and subject.strong and entry.implied is None and subject.used:
        return
    if (
        m.modifier
        and subject is not None
        and subject.strong
        and not (subject.used and value_next(line, k) and not _told_when(line, k))
    ):
        if any(m.comp in line.points[p].components for p in subject.points):
            subject.comp = m
        return
    if (
        subject is not None
        and subject.used
        and subject.strong
        and subject.mention is not None
        and any(m.comp in line.points[p].components for p in subject.points)
        and value_next(line, k)
        and entry.implied != subject.points[0]
        and entry.implied is None
    ):
        subject.comp = m
        return
    if (
        m.modifier
        and subject is not None
        and not subject.strong
        and subject.comp is not None
        and entry.implied is None
        and 0 < m.start - subject.comp.stop <= 2
    ):
        return  # "fuses in the disconnect": the fuses are spoken of
    if m.comp == "disconnect" and m.modifier and line.doc.norm[max(0, m.start - 2) : m.start].count("at"):
        line.subject = Subject(["voltage"], m.start, m, mention=m)
        return
    implied = [entry.implied] if entry.implied else []
    marked = [p for p in entry.marked if p not in implied]
    extra = [
        p.slug
        for p in line.points.values()
        if m.comp in p.components
        and p.slug not in implied
        and p.slug not in marked
        and p.slug not in NAMED_ONLY
    ]
    line.subject = Subject(implied + marked + extra, m.start, m, strong=False, mention=m)
    last = line.made[-1] if line.made else None
    if (
        last is not None
        and last.component == m.comp
        and last.number != m.number
        and last.basis == "measured"
        and last.point not in marked
    ) or (last is not None and _in_parallel(line, k, last)):
        # "compressor one tested at two hundred megs, compressor two at one fifty"
        line.subject.points = [last.point, *(p for p in line.subject.points if p != last.point)]
        line.subject.same = True


def _told_when(line: Line, k: int) -> bool:
    """ "Sixty at the compressor when I showed up, one twenty when I left": the place closes what was told before it."""
    m = line.items[k]
    after = line.items[k + 1] if k + 1 < len(line.items) else None
    return after is not None and after.start == m.stop and after.has("cue", "found", "left")


def _in_parallel(line: Line, k: int, last: Draft) -> bool:
    """ "Compressor megs out at forty five and the blower motor at sixty": the second part is read for the same."""
    m = line.items[k]
    doc = line.doc
    if (
        m.comp not in line.points[last.point].components
        or last.point == line.doc.vocabulary.components[last.component or m.comp].implied
    ):
        return False
    joined = all(doc.norm[i] in ("and", "the", "then", "its") for i in range(last.stop, m.start))
    return joined and m.stop < line.end and doc.norm[m.stop] in ("at", "is", "was") and value_next(line, k)


def capacitor_side(line: Line, m: Mention) -> bool:
    """ "on the compressor side" beside a capacitor says which section of it."""
    subject = line.subject
    if subject is None or "capacitance" not in subject.points[:1] or m.comp not in ("compressor", *MOTORS):
        return False
    after = line.doc.norm[m.stop] if m.stop < line.end else ""
    herm = "herm" in line.doc.norm[line.begin : m.start]
    return m.modifier or herm or after in ("side", "sides", "side's", "section", "terminal")


def section_of(line: Line, m: Mention) -> Draft | None:
    """The capacitance read shortly before of which "on the compressor side" is the other section."""
    after = line.doc.norm[m.stop] if m.stop < line.end else ""
    last = line.made[-1] if line.made else None
    sided = m.modifier or m.claimed == SECTION  # "and four point nine on the fan"
    going = last is not None and last.point == "capacitance" and sided
    if m.comp not in ("compressor", *MOTORS) or (after not in ("side", "section", "terminal") and not going):
        return None
    for d in islice(reversed(line.doc.drafts), 4):
        if d.point == "capacitance" and d.tag == line.doc.tag_at[m.start]:
            return d
    return None


def is_part_here(line: Line, k: int) -> bool:
    """A word that is a part and a point ("fuse", "belt", "suction line") is a part unless a value follows."""
    return not is_point(line.doc, line.items[k])


def component_near(line: Line, k: int) -> Mention | None:
    """The part that a point's own words name, or the part just before it in the clause."""
    m = line.items[k]
    if m.comp:
        return m
    for j in range(k - 1, max(-1, k - 4), -1):
        other = line.items[j]
        if other.kind == "value" or break_between(line, other.stop, m.start):
            return None
        if other.comp and other.part:
            return other
    return None


def break_between(line: Line, start: int, stop: int) -> bool:
    return any(line.doc.tokens[i].brk for i in range(start, min(stop + 1, len(line.doc.tokens))))


def takes_back(line: Line, k: int) -> bool:
    """Whether the words really take something back: "sorry" and "wait" only beside a value."""
    m = line.items[k]
    text = doc_words(line.doc, m)
    last = line.made[-1] if line.made else line.state.last
    if last is None:
        return False
    if any(w in text for w in STRONG_SCRATCH):
        return True
    near = line.made and m.start - line.made[-1].stop <= 4
    ahead = [x for x in line.items[k + 1 : k + 5] if x.kind == "value"]
    return bool(near and ahead and ahead[0].start - m.stop <= 10)
