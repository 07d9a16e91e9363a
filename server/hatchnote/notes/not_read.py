"""Values told that were not read: lengths, the warmth at which a resistance was read, frames of motors."""

from __future__ import annotations

from hatchnote.notes.by_unit import timed
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.shows_wrong import astray
from hatchnote.notes.subjects import Line
from hatchnote.notes.unit_behind import INCHES, KILO
from hatchnote.notes.wordlists import words


def not_read(line: Line, k: int) -> bool:
    """Whether the value at item `k` is none of a reading, for what stands around it."""
    m = line.items[k]
    around = (
        length(line, m)
        or under_which(line, k)
        or _frame(line, m)
        or _turns(line, m)
        or _watched(line, m)
        or _in_air(line, m)
    )
    return around or _of_the_tester(line, m) or _made_for(line, m) or _of_a_tap(line, m)


_TAPS = frozenset({"tap", "taps", "tapped"})
_TAPPED_AT = frozenset({115, 120, 200, 208, 220, 230, 240, 277, 460, 480, 575})
"""Primary volts that control transformers are made for (common practice, no source)."""


def _of_a_tap(line: Line, m: Mention) -> bool:
    """ "The tap's on two forty", "moved it to the 208 tap": where a transformer is wired, not what was read."""
    if m.value is None or m.value.ucum not in (None, "V") or m.value.first not in _TAPPED_AT:
        return False
    before = {*line.doc.norm[max(line.begin, m.start - 4) : m.start]}
    behind = line.doc.norm[m.stop : m.stop + 1] if m.stop < line.end else []
    told = bool(_TAPS & before) and bool({"on", "at", "for", "to", "from"} & before) and "got" not in before
    moved = any(x.claimed == "not read" for x in line.doc.within(line.begin, m.start)) and "to" in before
    return told or bool(_TAPS & {*behind}) or (moved and bool(_TAPS & {*line.doc.norm[line.begin : m.start]}))


_PULLS = frozenset({"pulling", "pulls", "drawing", "draws", "reads", "at"})
_SIZED = frozenset({"contactor", "fuse", "disconnect", "transformer", "relay"})
_MADE_FOR = frozenset({15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 75, 80, 90, 100, 125, 150, 175, 200})
"""Usual sizes of fuses, contactors and disconnects in amperes (common practice, no source)."""


def _made_for(line: Line, m: Mention) -> bool:
    """ "Single pole thirty amp, I'd change it out": the size of the contactor spoken of, not what it pulls."""
    value, doc = m.value, line.doc
    if value is None or value.ucum != "A" or value.unit_text != "amp" or value.first not in _MADE_FOR:
        return False
    poles = {"pole", "poles"} & {*doc.norm[max(line.begin, m.start - 3) : m.start]}
    before = [x for x in doc.within(line.begin, m.start) if x.comp in _SIZED]
    return bool(poles) and bool(before) and not _PULLS & {*doc.norm[max(line.begin, m.start - 2) : m.start]}


def _of_the_tester(line: Line, m: Mention) -> bool:
    """ "Meggered it at five hundred volts": what the tester puts on the winding."""
    if m.value is None or m.value.ucum != "V" or m.value.first < 50:
        return False
    megged = any(
        x.has("point", "insulation-resistance") and m.start - x.stop <= 6
        for x in line.doc.within(line.begin, m.start)
    )
    return megged and line.doc.norm[m.start - 1] in ("at", "with", "on", "a", "using")


_STANDS_FOR = frozenset({"that's", "that", "which", "which's", "equals", "so"})


def under_which(line: Line, k: int) -> bool:
    """ "twenty seven K at thirty eight": the warmth at which a resistance was read, no reading of its own."""
    m = line.items[k]
    doc = line.doc
    nxt = doc.owner[m.stop] if m.stop < line.end and not doc.tokens[m.stop].brk else None
    if m.value is None or m.value.ucum not in (None, "[degF]") or (nxt is not None and nxt.has("point")):
        return False
    before = line.items[k - 1] if k else None
    if before is None or before.kind != "value" or before.value is None or line.made[-1:] == []:
        return False
    last = line.made[-1]
    sensed = (
        last.source is before
        and last.point == "resistance"
        and (last.component or "").endswith(("air-sensor", "coil-sensor"))
    )
    ohms = before.value.ucum in ("kOhm", KILO, "Ohm")
    between = [w for w in doc.norm[before.stop : m.start] if w not in ("about", "around", "right")]
    if between == ["at"]:
        return ohms or sensed
    # "that's about forty seven", "which puts it at seventy six": what the ohms stand for
    return (ohms or sensed) and bool(_STANDS_FOR & set(between[:3])) and "air" not in between


_LONG = words("long wide deep thick high tall apart square round tread lengthwise longer wider")
_OF_A_LENGTH = words(
    """
    crack split gap hole tear slit slot rip dirt fuzz lint dust water ice frost mud soot snow rust scale slop
    play clearance leaves grease cottonwood hair sludge slime rain
    """
)
_AWAY = words(
    "from out off over up down back short shy low higher lower outside inside past into below above"
)


def length(line: Line, m: Mention) -> bool:
    """ "A crack two inches long", "a quarter inch thick", "an inch of dirt", "cut four inches out"."""
    value, doc = m.value, line.doc
    if value is None or value.ucum not in ("[in_i]", INCHES, "mm", "[ft_i]", "cm") or value.text:
        return False
    waits = line.subject is not None and line.subject.strong and not line.subject.used
    if waits and line.subject is not None and "[in_i]" in line.points[line.subject.points[0]].units:
        return False
    after = (
        doc.norm[m.stop : min(line.end, m.stop + 3)]
        if m.stop < line.end and not doc.tokens[m.stop].brk
        else []
    )
    if after[:1] and after[0] in _LONG:
        return True
    thick = line.subject is None or (
        not line.subject.strong and "across" not in doc.norm[line.begin : m.start]
    )
    if thick and value.ucum == INCHES and value.first >= 1 and _of_a_filter(line, m):
        return True  # "six sixteen by twenties, two inch": how thick they are
    if after[:1] == ["of"] and _OF_A_LENGTH & set(after[1:]):
        return True
    taken = {"took", "take", "taken", "pulled", "taking"} & set(
        doc.norm[max(line.begin, m.start - 4) : m.start]
    )
    if after[:2] == ["of", "slack"] and taken:
        return True  # "took a half inch of slack out"
    if after[:1] and after[0] in _OF_A_LENGTH - {"water"}:
        return True  # "a two inch crack"
    return bool(after) and after[0] in _AWAY and not waits and not _draws_air(after)


def _of_a_filter(line: Line, m: Mention) -> bool:
    """Whether whole inches stand in a sentence about filters in which no pressure is told."""
    doc = line.doc
    told = set(doc.norm[line.begin : line.end])
    if {"drop", "dropping", "across", "pressure", "static", "column", "differential"} & told:
        return False
    return any(x.comp == "air-filter" for x in doc.within(line.begin, line.end))


def _draws_air(after: list[str]) -> bool:
    return after[0] in ("low", "high", "up", "down", "below", "above") or after[1:2] == ["a"]


def _frame(line: Line, m: Mention) -> bool:
    """ "A one forty five T frame", "frame fifty six": the size of a motor's housing (NEMA MG 1, from memory)."""
    doc = line.doc
    if m.value is None or m.value.ucum is not None:
        return False
    behind = doc.norm[m.stop : min(line.end, m.stop + 2)] if m.stop < line.end else []
    return "frame" in behind or doc.norm[max(line.begin, m.start - 1) : m.start] == ["frame"]


def _of_the_way(doc: Doc, m: Mention) -> bool:
    return doc.norm[m.stop : m.stop + 3] in (
        ["of", "the", "way"],
        ["of", "the", "face"],
        ["of", "the", "coil"],
    )


_THAN = frozenset(
    {"short", "shy", "more", "less", "higher", "lower", "off", "warmer", "cooler", "hotter", "colder"}
)


def _in_air(line: Line, m: Mention) -> bool:
    """ "Reading a hundred and ten in sixty degree air", "four degrees high": what it was held against."""
    doc = line.doc
    if m.value is None or (m.stop < line.end and doc.tokens[m.stop].brk):
        return False
    behind = doc.norm[m.stop : min(line.end, m.stop + 2)]
    if behind[:1] == ["degree"]:
        behind = behind[1:]
    if behind in (["ahead", "of"], ["upstream", "of"], ["downstream", "of"]) or _of_the_way(doc, m):
        return True  # "nine tenths ahead of the filter", "three quarters of the way"
    if behind[:1] and behind[0] in _THAN and behind[1:] in (["of"], ["than"], ["from"]):
        return True  # "twelve hundred C F M short of the report"
    if behind[:1] == ["air"] and doc.norm[m.start - 1] == "in":
        return True
    if behind[:1] and behind[0] in ("high", "low", "off") and "degrees" in doc.norm[m.start : m.stop]:
        return behind[1:] not in (["side"], ["fire"], ["stage"], ["heat"], ["the"])  # "ten degrees high"
    return astray(doc, m, line.begin, line.end) is not None


def _turns(line: Line, m: Mention) -> bool:
    """ "Half a turn", "a turn and a half", "one and a half turns": how far something was turned."""
    doc = line.doc
    if m.value is None or m.value.ucum is not None:
        return False
    if doc.norm[m.start - 2 : m.start] in (["turn", "and"], ["turns", "and"], ["and", "a"]) and (
        {"turn", "turns"} & set(doc.norm[max(line.begin, m.start - 3) : m.start])
    ):
        return True
    if m.stop >= line.end or doc.tokens[m.stop].brk:
        return False
    behind = doc.norm[m.stop : m.stop + 2]
    return behind[:1] in (["turn"], ["turns"], ["groove"], ["grooves"]) or behind in (
        ["a", "turn"],
        ["of", "a"],
        ["more", "turns"],
    )


_LOOKED_ON = words("watched ran run running let watching sat waited stood stayed cycled observed going spent")


def _watched(line: Line, m: Mention) -> bool:
    """ "Watched it for twenty minutes": how long he stayed, nothing timed."""
    doc = line.doc
    if m.value is None or m.value.ucum not in ("min", "h") or timed(line, m) is not None:
        return False
    if line.subject is not None and line.subject.strong and "time" in line.subject.points:
        return False
    return bool(_LOOKED_ON & set(doc.norm[max(line.begin, m.start - 7) : m.start]))
