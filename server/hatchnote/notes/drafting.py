"""Making the draft of a reading: the likeliest point of a subject for a value, and the part it is of."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.fitting import OUTSIDE, TWO_WAYS, Fit, fit
from hatchnote.notes.subjects import NOMINAL_VOLTS, ONLY_SAID, Line, Subject, doc_words
from hatchnote.notes.vocabulary import PointEntry
from hatchnote.notes.wordlists import words

_IN_INCHES = frozenset(["[in_i]", "[in_i'H2O]"])
"""Units of the points that "half an inch" can be of: never the ohms of a sensor it was moved by."""

_MOST_MANIFOLD = 4.6
"""in. w.c.: above it a gas pressure of natural gas is the inlet's (common practice, no source)."""
_BOUNDS = frozenset(["under", "below", "over", "above", "than"])
_SAYS_PARTS = frozenset(["point", ".", "half", "and", "quarter", "quarters"])


_MEGGED = words("meg megs megged meggered megger megging ohm ohms ohmed winding windings")
_WOUND = frozenset(
    {"compressor", "supply-fan-motor", "condenser-fan-motor", "inducer-motor", "crankcase-heater"}
)


def _volts_to_ground(line: Line, m: Mention, subject: Subject) -> bool:
    """ "One twenty to ground on A": volts, where neither ohms nor anything wound is spoken of."""
    if m.value is None or m.value.ucum is not None or m.value.text or subject.mention is None:
        return False
    if doc_words(line.doc, subject.mention) != "to ground" or subject.comp is not None:
        return False
    wound = any(x.comp in _WOUND for x in line.items)
    return not wound and not _MEGGED & {*line.doc.norm[line.begin : line.end]}


def take(line: Line, m: Mention, subject: Subject, rule: str) -> Draft | None:
    value = m.value
    assert value is not None
    best: tuple[float, PointEntry, Fit] | None = None
    slugs = subject.points
    megged = "insulation-resistance"
    meant = subject.comp or (focus_before(line.doc, m.start) if slugs[:1] == ["resistance"] else None)
    insulated = meant is not None and meant.comp in line.points[megged].components
    if value.ucum in ("MOhm", "GOhm") and insulated and (not subject.strong or slugs[:1] == ["resistance"]):
        slugs = [megged, *(s for s in slugs if s != megged)]  # "I meg it and get point oh two megs"
    if "voltage" in slugs or "control-voltage" in slugs:
        slugs = _which_volts(m, subject, slugs)
    if slugs[:1] == [megged] and _volts_to_ground(line, m, subject):
        slugs = ["voltage"]
    unsaid = subject.mention is not None and doc_words(line.doc, subject.mention) == "gas pressure"
    if unsaid and value.first > _MOST_MANIFOLD:
        slugs = ["inlet-gas-pressure"]
    length = value.ucum is None and line.doc.norm[m.stop : m.stop + 2] == ["an", "inch"]
    for rank, slug in enumerate(slugs):
        point = line.points[slug]
        if point.text or (length and point.ucum not in _IN_INCHES):
            continue
        if slug == "time" and value.ucum == "h" and not subject.strong:
            continue  # hours worked
        if point.ucum == "V" and not subject.strong and value.ucum is None and _ohmed(line, m):
            continue
        found = fit(point, value, subject.comp.comp if subject.comp is not None else None)
        if (
            not subject.strong
            and value.ucum is None
            and subject.comp is not None
            and subject.mention is subject.comp
        ):
            entry = line.doc.vocabulary.components[subject.comp.comp]
            volts = slug == "voltage" and entry.implied == "control-voltage"
            if (
                slug not in entry.marked
                and slug != entry.implied
                and not (subject.same and rank == 0)
                and not volts
            ):
                continue
        cost = found.cost + 0.3 * rank
        if best is None or cost < best[0]:
            best = (cost, point, found)
    if best is None or best[2].cost >= 50:
        return None
    cost, point, found = best
    if (
        point.slug == "capacitance"
        and value.ucum is None
        and any(p.value in (370, 440) for p in value.parses)
    ):
        return None  # the voltage a run capacitor is made for (common practice, no source)
    if found.outside and (not subject.strong or m.start - subject.at > 6):
        return None
    draft = Draft(
        point.slug,
        m.start,
        m.start,
        m.stop,
        found.value,
        found.ucum,
        sentence=line.index,
        rule=rule,
        source=m,
    )
    draft.cost, draft.others = found.cost, found.others
    if value.text:
        draft.text, draft.value = value.text, None
    if (
        m.start
        and line.doc.norm[m.start - 1] == "-"
        and line.doc.tokens[m.start].glued
        and m.start > 1
        and line.doc.tokens[m.start - 2].kind == "n"
        and line.doc.owner[m.start - 2] is None
    ):
        draft.doubts.append("figures run together")
    said = line.doc.norm[m.start : m.stop]
    if (
        point.slug == "capacitance"
        and found.value % 1
        and value.shape[:1] == "x"
        and len(said) > 1
        and not _SAYS_PARTS & {*said}
    ):
        draft.doubts.append("may be the two sections of a dual capacitor")  # "forty five five"
    sides = {s.partition("-")[0] for s in subject.points[:2]}
    if (
        point.slug.endswith("-line-temperature")
        and len(subject.points) > 1
        and len(sides) == 1
        and value.ucum is None
        and not _says_line(line, subject)
    ):
        draft.doubts.append("may be a pressure")  # "suction thirty five"
    if (
        m.start > line.begin
        and line.doc.norm[m.start - 1] in _BOUNDS
        and not value.text
        and value.link != "over"
    ):
        draft.doubts.append("said as a bound")  # "under ten"
    if unsaid:
        draft.doubts.append("inlet or manifold was not said")
    if value.ambiguous:
        draft.doubts.append(value.why)
    if found.tie:
        draft.doubts.append(TWO_WAYS)
    if found.cost >= OUTSIDE:
        draft.doubts.append("outside what this can be")
    fill(line, draft, point, subject, m)
    m.claimed = "reading"
    line.doc.drafts.append(draft)
    line.made.append(draft)
    return draft


def _which_coil(line: Line, subject: Subject, m: Mention) -> str:
    """What a pressure drop is across: the coil where one is named with it, else the filters."""
    if subject.mention is None or "coil" not in doc_words(line.doc, subject.mention):
        return "air-filter"
    near = focus_before(line.doc, m.start, ("condenser-coil", "evaporator-coil"))
    return near.comp if near is not None else "evaporator-coil"


_LOW_VOLTAGE = words(
    """
    thermostat gas-valve reversing-valve economizer-actuator smoke-detector pressure-switch limit-switch
    rollout-switch high-pressure-switch low-pressure-switch ignition-control relay
    """
)
_LEAST_LINE_VOLTS = 90.0


def _which_volts(m: Mention, subject: Subject, slugs: list[str]) -> list[str]:
    """Line and control voltage are told apart by their size; no volts at all by the part they are missing at."""
    value = m.value
    assert value is not None
    if value.text or not value.parses:
        return slugs
    if value.ucum is None and not subject.strong and "voltage" in slugs:
        return slugs
    lines, control = "voltage", "control-voltage"
    most = max(p.value for p in value.parses if p.cost < 1.0) if value.ucum is None else value.first
    if most >= _LEAST_LINE_VOLTS and slugs[0] == control and value.ucum in (None, "V"):
        if value.shape == "N" and 180 <= most < 330 and most not in NOMINAL_VOLTS and _says_control(subject):
            return slugs  # "control voltage 256": the point was lost
        return [lines, *slugs]  # the line side of a transformer
    low = value.first == 0 and subject.comp is not None and subject.comp.comp in _LOW_VOLTAGE
    if lines in slugs and (low or 18 <= value.first <= 32):
        rest = [s for s in slugs if s not in (lines, control)]
        return [control, lines, *rest] if slugs[0] in (lines, control) else [*rest, control, lines]
    return slugs


def _says_control(subject: Subject) -> bool:
    return subject.strong and subject.mention is not None and not subject.mention.comp


def _says_line(line: Line, subject: Subject) -> bool:
    """Whether the line's warmth was named in full: "liquid line", "suction temp"."""
    said = doc_words(line.doc, subject.mention) if subject.mention is not None else ""
    return any(w in said for w in ("line", "temp", "pipe"))


def _ohmed(line: Line, m: Mention) -> bool:
    """ "The transformer ohms out at one point two": no volts, though a transformer's number mostly is."""
    for i in range(max(line.begin, m.start - 4), m.start):
        owner = line.doc.owner[i]
        if line.doc.norm[i] in ("ohm", "ohms", "ohmed") and (owner is None or owner.kind != "value"):
            return True
    return False


def fill(line: Line, draft: Draft, point: PointEntry, subject: Subject, m: Mention) -> None:
    comp = subject.comp
    if comp is not None and (comp.comp in point.components or comp.comp == point.default):
        draft.component, draft.number = comp.comp, comp.number
    elif subject.nobody:
        pass
    elif point.default:
        draft.component = _which_coil(line, subject, m) if point.slug == "pressure-drop" else point.default
    elif point.components and point.slug not in ONLY_SAID:
        near = focus_before(line.doc, m.start, point.components)
        if near is not None:
            draft.component, draft.number = near.comp, near.number
        if near is None and subject.mention is not None and "motor" in doc_words(line.doc, subject.mention):
            draft.component = "supply-fan-motor"  # "motor speed" where no motor was named before
        if draft.component == "variable-frequency-drive" and point.slug in ("power", "current"):
            draft.component = "supply-fan-motor"  # what it drives has the amps and the horses
    elif point.slug == "torque":
        near = focus_before(line.doc, m.start, point.components, 24)
        if near is not None:
            draft.component, draft.number = near.comp, near.number
    elif point.slug in ("voltage", "control-voltage"):
        place = _place(line, point, m)
        if place is not None:
            draft.component, draft.number = place.comp, place.number
    elif point.slug == "space-temperature" and _is_set(line, m):
        stat = next(
            (x for x in line.items if x.comp == "thermostat" or "stat" in line.doc.norm[x.start : x.stop]),
            None,
        )
        if stat is not None:
            draft.component, draft.number = "thermostat", stat.number
    draft.tag = line.doc.tag_at[m.start]
    if point.circuit or (draft.component == "compressor" and draft.number is None):
        draft.circuit = line.doc.circuit_at[m.start]
    if subject.position:
        draft.position = subject.position


def _place(line: Line, point: PointEntry, m: Mention) -> Mention | None:
    """ "At the control board I got twenty six": where the volts were measured, told before them."""
    for x in reversed(line.doc.within(line.begin, m.start)):
        at = line.doc.norm[max(0, x.start - 2) : x.start]
        if x.comp in point.components and x.modifier and ("at" in at or "across" in at):
            return x
    return None


def _is_set(line: Line, m: Mention) -> bool:
    """Whether a setting is told right before the value."""
    return any(
        x.has("cue", "set", "setting") and m.start - x.stop <= 4 for x in line.doc.within(line.begin, m.start)
    )


def size_draft(line: Line, m: Mention) -> None:
    nxt = next((x for x in line.items if x.start >= m.stop), None)
    if nxt is not None and nxt.has("cue", "not", "scratch") and nxt.start - m.stop <= 1:
        after = next((x for x in line.items if x.start >= nxt.stop), None)
        if after is not None and after.kind == "size" and after.start - nxt.stop <= 2:
            m.claimed = "taken back"  # "B X seventy, no, B X seventy fives"
    if m.claimed:
        return
    point = "belt-size" if m.comp == "supply-fan-belt" else "filter-size"
    draft = Draft(
        point, m.start, m.start, m.stop, text=m.slug, sentence=line.index, rule="designation", source=m
    )
    draft.tag = line.doc.tag_at[m.start]
    if not _told_as_size(line, m):
        draft.doubts.append("may be the size of a part that was fitted or is wanted")
    m.claimed = "reading"
    line.doc.drafts.append(draft)
    line.made.append(draft)


_IS = words(
    "is are was were it's they're takes take took uses use size sizes number says read reads type a an same them's"
)
_OTHER_VERBS = frozenset({"replace", "install", "order", "quote", "remove"})


def _told_as_size(line: Line, m: Mention) -> bool:
    """ "Belt's an A forty one": said as what the machine has, and no fitting or ordering told beside it."""
    doc = line.doc
    around = doc.within(line.begin, line.end)
    fitted = any(x.has("verb") and any(t.slug in _OTHER_VERBS for t in x.of("verb")) for x in around)
    before = {*doc.norm[max(line.begin, m.start - 3) : m.start]}
    named = {
        t.lower
        for t in (tok.text for tok in doc.tokens[max(line.begin, m.start - 3) : m.start])
        if t.endswith("'s")
    }
    return not fitted and bool(
        before & _IS or named or any(x.has("point", "belt-size", "filter-size") for x in around)
    )


def strange(line: Line, m: Mention, subject: Subject) -> bool:
    """Whether the value would be unlikely as the subject's point."""
    assert m.value is not None
    return bool(subject.points) and fit(line.points[subject.points[0]], m.value).cost >= 1.9
