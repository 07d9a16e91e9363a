"""What people say of the rooms without naming the point: how warm it is, what the thermostat is set to."""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.subjects import COPULA, Line, Subject
from hatchnote.notes.wordlists import words

_ROOMS = words(
    """
    store shop office offices kitchen lobby classroom gym sanctuary warehouse bar restaurant building showroom lounge
    hall cafeteria room space bakery pharmacy floor library waiting sales dining break server conference ward church
    salon
    """
)
_IN = frozenset({"in", "inside"})
_ARTICLES = frozenset({"the", "this", "that", "their", "his", "her"})
_MODES = words(
    """
    cooling heating cool heat setback setup occupied unoccupied night nights day days away daytime nighttime weekend
    weekends
    """
)
_SCHEDULES = words(
    """
    schedule schedules setpoint setpoints setback unoccupied occupied programmed programed reprogrammed program stat
    thermostat tstat
    """
)
_TO = COPULA | words("at to for set setpoint point is of around about mode and")
_COLDEST, _WARMEST = 45.0, 95.0


def indoors(line: Line, k: int) -> bool:
    """Take the value at item `k` as the temperature of a room, or as what its thermostat is set to."""
    m = line.items[k]
    value = m.value
    if value is None or value.text or value.ucum not in (None, "[degF]") or not value.parses:
        return False
    if not _COLDEST <= value.first <= _WARMEST or value.first != int(value.first):
        return False
    subject = line.subject
    waiting = subject is not None and subject.strong and not subject.used
    stat = _of_a_mode(line, m)
    if stat is not None and not (
        waiting and subject is not None and subject.points[0] != "space-temperature"
    ):
        draft = take(line, m, Subject(["space-temperature"], m.start, stat), "what the thermostat is set to")
        if draft is not None:
            draft.basis, draft.component = "set", "thermostat"
        return draft is not None
    if waiting or not _in_a_room(line, m):
        return False
    draft = take(line, m, Subject(["space-temperature"], m.start), "told of a room")
    if draft is not None and value.ucum is None and not _told_how_warm(line, m):
        draft.doubts.append("the point was not said with the number")
    return draft is not None


def _told_how_warm(line: Line, m: Mention) -> bool:
    """Whether a copula leads to the value, it opens its clause, or a word of change follows: not "we seat eighty"."""
    doc = line.doc
    opens = m.start == line.begin or bool(doc.tokens[m.start].brk)
    leads = doc.norm[m.start - 1] in COPULA or doc.norm[m.start - 1] in ("holding", "about", "it's")
    return (
        opens
        or leads
        or bool({"dropping", "falling", "climbing", "rising"} & {*doc.norm[m.stop : m.stop + 6]})
    )


def _in_a_room(line: Line, m: Mention) -> bool:
    """ "Seventy two in the store", "it's 84 degrees inside the kitchen", "the office is at seventy six"."""
    doc = line.doc
    i = m.stop
    if doc.norm[max(line.begin, m.start - 2) : m.start] in (["there", "were"], ["there", "are"]):
        return False
    if i + 1 < line.end and not doc.tokens[i].brk and doc.norm[i] in _IN:
        at = i + 1 + (doc.norm[i + 1] in _ARTICLES)
        return at > i + 1 and at < line.end and doc.norm[at] in _ROOMS
    i = m.start - 1
    while i >= line.begin and (doc.norm[i] in COPULA or doc.norm[i] in ("at", "holding", "about")):
        if doc.tokens[i + 1].brk:
            return False
        i -= 1
    told = i < m.start - 1 or (i >= line.begin and doc.tokens[i].lower.endswith(("'s", "’s")))
    if not told or i - 1 < line.begin or doc.norm[i] not in _ROOMS:
        return False
    k = i - 1
    while k > line.begin and doc.norm[k] in _ROOMS:
        k -= 1
    lead = doc.norm[k - 1] if k > line.begin else ""
    return doc.norm[k] in _ARTICLES and lead not in ("in", "at", "on", "from", "to")


def _of_a_mode(line: Line, m: Mention) -> Mention | None:
    """ "Set the schedule, cooling at seventy three, setback eighty": the thermostat, where a mode tells of it."""
    doc = line.doc
    behind = m.stop < line.end and not doc.tokens[m.stop].brk and doc.norm[m.stop] in _MODES
    i = m.start - 1
    while i >= line.begin and m.start - i < 5 and doc.norm[i] in _TO and doc.norm[i] not in _MODES:
        if doc.tokens[i + 1].brk:
            break
        i -= 1
    before = i >= line.begin and doc.norm[i] in _MODES and not doc.tokens[i + 1].brk
    if not before and not behind:
        return None
    low = max(0, line.begin - 12) if line.made or line.index else line.begin
    if not _SCHEDULES & {*doc.norm[low : m.start]}:
        return None
    stat = next((x for x in reversed(doc.within(low, m.start)) if x.comp == "thermostat"), None)
    return stat or Mention("word", m.start, m.start, comp="thermostat")
