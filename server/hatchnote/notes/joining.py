"""Stage: which number belongs to which point. Sentence by sentence, from left to right.

A subject is what is being measured: a point ("suction"), or a part with the point implied ("compressor two is eleven
four"). A value takes, in this order, the subject behind it ("eleven superheat"), the subject before it, what its unit
can only be, what the sentence before leaves open. A value that finds nothing is no reading.
"""

from __future__ import annotations

from hatchnote.notes.across import across_part
from hatchnote.notes.bare_of_a_part import bare_of_a_part
from hatchnote.notes.by_unit import subject_of_unit, subject_of_unit_behind
from hatchnote.notes.candidates import (
    after_and,
    asked,
    far,
    for_before,
    goes_on,
    it_is_at,
    left_of_last,
    open_subjects,
    point_behind,
)
from hatchnote.notes.counting import counted, loose, supposed, told_apart
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.drafting import size_draft, strange, take
from hatchnote.notes.fitting import NO_FIT, fit
from hatchnote.notes.for_parts import for_part
from hatchnote.notes.indoors import indoors
from hatchnote.notes.naming_numbers import names_a_thing
from hatchnote.notes.not_read import not_read
from hatchnote.notes.out_of import out_of
from hatchnote.notes.pairs import pair
from hatchnote.notes.patterns import (
    across_legs,
    again,
    at_fire,
    denied,
    low_over_high,
    plate_speed,
    position_of_last,
    position_of_subject,
    rated_voltage,
    same_pattern,
    setpoint,
    share,
    shifted,
)
from hatchnote.notes.plates import plate_input
from hatchnote.notes.power_in import power_in
from hatchnote.notes.put_together import put_together
from hatchnote.notes.rows_bare import bare_row, row_goes_on
from hatchnote.notes.subjects import Line, State
from hatchnote.notes.subjects_named import named_legs, named_word
from hatchnote.notes.switch_points import switch_point
from hatchnote.notes.topics import set_topic, topic_of
from hatchnote.notes.turned import turned
from hatchnote.notes.weather import weather

REQUIRES = ("values", "sizes", "components", "tag_at", "circuit_at")
ASSIGNS = ("drafts",)


def joining(doc: Doc) -> None:
    """Make a draft of every value that is a reading."""
    state = State()
    for number, begin, end in doc.numbered_sentences():
        read(Line(doc, state, number, begin, end))


def read(line: Line) -> None:
    set_topic(line)
    turned(line)
    k = 0
    while k < len(line.items):
        m = line.items[k]
        if m.kind == "value" and m.value is not None and not m.claimed:
            k += join_value(line, k)
            continue
        if m.kind == "size":
            size_draft(line, m)
        elif m.kind == "word":
            named_word(line, k)
        elif m.kind == "legs":
            named_legs(line, m)
        k += 1
    if line.scratched is not None and line.strong_scratch and line.scratch_at > line.begin + 3:
        line.scratched.withdrawn = True  # taken back, and nothing said in its place
    line.state.topic = topic_of(line)
    if line.made:
        line.state.recent = list(line.made)
        line.state.last = line.made[-1]
        line.state.subject = line.subject or line.state.subject


def join_value(line: Line, k: int) -> int:
    """Join the value at item `k`; how many items were used."""
    m = line.items[k]
    value = m.value
    assert value is not None
    if line.foreign and line.subject is None:
        return 1
    if m.start > line.begin and (
        line.doc.norm[m.start - 1] == "by"
        or line.doc.norm[m.start - 2 : m.start] in (["by", "a"], ["by", "about"])
    ):
        return 1  # an offset, no reading
    if line.scratched is None and denied(line, m):
        line.scratched, line.scratch_at = line.made[-1], m.start
    if line.scratched is not None and again(line, m):
        return 1
    if names_a_thing(line, m):
        m.claimed = "a name"
        return 1
    if not_read(line, k):
        m.claimed = "not read"
        return 1
    if counted(line, m) or for_part(line, m) or supposed(line, m):
        return 1
    if (
        k + 1 < len(line.items)
        and line.items[k + 1].kind == "size"
        and value.ucum is None
        and line.items[k + 1].start - m.stop <= 2
    ):
        return 1  # "four of the sixteen by twenty by two"
    put_together(line, k)
    if weather(line, m) or switch_point(line, k) or bare_of_a_part(line, k):
        return 1
    if out_of(line, k) or indoors(line, k):
        return 1
    if (
        pair(line, k)
        or across_part(line, k)
        or across_legs(line, k)
        or power_in(line, k)
        or plate_speed(line, k)
    ):
        return 1
    if low_over_high(line, k):
        return 2
    same_unit = subject_of_unit_behind(line, k) if line.subject is None or not line.subject.strong else None
    if same_unit is not None and take(line, m, same_unit, "by the unit of what it went to") is not None:
        return 1
    position = position_of_last(line, m)
    if position is not None and take(line, m, position, "position of the point before") is not None:
        return 1
    moved = shifted(line, m)
    if moved is not None and take(line, m, moved, "the same at another load") is not None:
        return 1
    if rated_voltage(line, k) or plate_input(line, k) or (line.made and setpoint(line, k)):
        return 1
    used = same_pattern(line, k)
    if used:
        return used
    if m.start > line.begin and for_before(line, m) and value.ucum is None and not value.text:
        return 1
    behind = point_behind(line, k)
    subject = line.subject
    over = left_of_last(line, k) if behind is None else None
    if over is not None and take(line, m, over, "left, of the point found before") is not None:
        return 1
    if (subject is None or subject.used) and behind is None and asked(line, k):
        for other in open_subjects(line, k):
            if (
                not strange(line, m, other)
                and take(line, m, other, "rating or setting of the point before") is not None
            ):
                return 1
    use_behind = behind is not None and (
        subject is None or subject.used > 0 or not subject.strong or far(line, subject, m)
    )
    if behind is not None and line.doc.norm[m.stop] == "across" and behind.points[:1] == ["pressure-drop"]:
        use_behind = True  # "supply point eight, and point nine across the filters"
    if behind is not None and subject is not None and behind.strong and line.doc.norm[m.stop] == "on":
        # "the flue's reading four sixty on C O"
        use_behind = use_behind or not set(behind.points) & set(subject.points)
    if (
        behind is not None
        and subject is not None
        and subject.used
        and strange(line, m, behind)
        and not strange(line, m, subject)
        and goes_on(line, k)
    ):
        behind = None  # "five two, five one volts two oh nine": the name of the next row
    if behind is not None and subject is not None and not subject.used and value.ucum is not None:
        none = min((fit(line.points[s], value).cost for s in subject.points), default=0.0) >= NO_FIT
        use_behind = use_behind or none  # "in the flue eight percent oxygen": no temperature
    if use_behind and subject is not None and not subject.strong and not subject.used and behind is not None:
        # "compressor eleven amps": a weak subject gives way to a point said right behind
        use_behind = True
    if use_behind and behind is not None:
        moved = position_of_subject(line, m, behind)
        if moved is not None:
            moved.mention, behind = behind.mention, moved
        draft = take(line, m, behind, "point behind the value")
        if draft is not None:
            if behind.mention is not None:
                behind.mention.claimed = "suffix"
            if subject is not None and not subject.strong and not subject.used and subject.comp is None:
                line.subject = None  # "pulling eleven degrees of subcool": what it pulls is told
            share(line, k, behind)
            return 1
    if subject is not None and subject.used and after_and(line, k) and strange(line, m, subject):
        for other in open_subjects(line, k):
            if (
                other.points[:1] != subject.points[:1]
                and not strange(line, m, other)
                and take(line, m, other, "goes on from before") is not None
            ):
                return 1
    placed = position_of_subject(line, m, line.subject)
    if placed is not None and take(line, m, placed, "position of the point before") is not None:
        if subject is not None:
            subject.used += 1
        return 1
    if _belies(line, m):
        for other in open_subjects(line, k):
            if not strange(line, m, other) and take(line, m, other, "goes on from before") is not None:
                return 1
    if subject is not None and (not subject.used or goes_on(line, k)):
        weak = not subject.strong and subject.mention is not None
        if weak and loose(line, k, subject.mention.stop) and not it_is_at(line, m):  # type: ignore[union-attr]
            return 1
        if (
            subject.strong
            and subject.mention is not None
            and strange(line, m, subject)
            and told_apart(line, m)
        ):
            return 1
        draft = take(
            line, m, subject, "point before the value" if subject.strong else "part with its point implied"
        )
        if draft is not None:
            subject.used += 1
            return 1
    for before in open_subjects(line, k):
        if strange(line, m, before):
            continue
        draft = take(line, m, before, "goes on from the sentence before")
        if draft is not None:
            return 1
    if row_goes_on(line, k) or bare_row(line, k) or at_fire(line, k) or setpoint(line, k):
        return 1
    by_unit = subject_of_unit(line, k)
    if by_unit is not None and take(line, m, by_unit, "by its unit") is not None and value.ucum in ("V", "A"):
        share(line, k, by_unit)
    return 1


def _belies(line: Line, m: Mention) -> bool:
    """ "Cleaned the wheel, and now she's point five eight": no speed, whatever part was named last."""
    subject = line.subject
    if subject is None or subject.strong or subject.used or m.value is None or m.value.ucum is not None:
        return False
    if "now" not in line.doc.norm[max(line.begin, m.start - 4) : m.start]:
        return False
    return strange(line, m, subject) and subject.comp is not None and subject.mention is subject.comp
