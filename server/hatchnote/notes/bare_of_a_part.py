"""Bare numbers told of a part: what a sensor shows, what stands at the terminals, amps moved by a pulley."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.subjects import Line, Subject
from hatchnote.notes.wordlists import words

_SHOWS = {
    "supply-air-sensor": "supply-air-temperature",
    "return-air-sensor": "return-air-temperature",
    "outdoor-air-sensor": "outdoor-air-temperature",
}
_SENSORS = frozenset({*_SHOWS, "coil-sensor", "condenser-coil-sensor", "evaporator-coil-sensor"})
_OHMED = words("ohm ohms ohmed ohming resistance k meter thousand megs open")
_HOTTEST, _COLDEST = 250.0, 12.0
"""Degrees that an air sensor shows; its ohms are thousands (common practice, no source)."""
_LOW_VOLTS = (20.0, 32.0)
_TO = words("at on to across into from")
_ENDS = words(
    """
    terminals terminal coil plug board actuator valve motor contactor relay stat thermostat harness solenoid
    connector economizer gas switch
    """
)
_DRIVES = ("sheave", "motor-pulley", "supply-fan-belt", "supply-fan-wheel", "air-filter")


def bare_of_a_part(line: Line, k: int) -> bool:
    """Join the value at item `k` by the part it is told of, where its implied point would mislead."""
    m = line.items[k]
    if m.value is None or m.value.text:
        return False
    _same_unit(line, k)
    return (
        _in_here(line, m)
        or _also_thousands(line, m)
        or _sensor_shows(line, m)
        or _low_volts(line, m)
        or _line_volts(line, m)
        or _amps_of_a_drive(line, m)
        or _coil_drops(line, m)
    )


def _in_here(line: Line, m: Mention) -> bool:
    """ "Nine K on the return sensor and it's seventy eight in here": the room, whatever was spoken of before."""
    doc = line.doc
    if m.value is None or m.value.ucum not in (None, "[degF]") or not 40 <= m.value.first <= 115:
        return False
    if (
        doc.norm[m.stop : m.stop + 2] not in (["in", "here"], ["in", "there"])
        or doc.norm[m.start - 1] not in _IT_IS
    ):
        return False
    return (
        take(line, m, Subject(["space-temperature"], m.start, mention=m), "how warm it is in here")
        is not None
    )


_IT_IS = frozenset({"it's", "its", "about", "is", "was", "at", "already", "still", "like"})


def _also_thousands(line: Line, m: Mention) -> bool:
    """ "Chart says ten K and I've got ten point one": kilohms once said hold for the next."""
    last = line.made[-1] if line.made else None
    if last is None or last.ucum != "kOhm" or m.value is None or m.value.ucum is not None or not last.value:
        return False
    if line.subject is not None and line.subject.strong and "resistance" not in line.subject.points:
        return False
    told = {"got", "reads", "reading", "measured", "get", "gets", "showing"} & set(
        line.doc.norm[m.start - 2 : m.start]
    )
    if not told or not last.value / 3 <= m.value.first <= last.value * 3 or last.basis != "measured":
        return False
    if not any(x.has("cue", "rated") for x in line.doc.within(line.begin, last.at)):
        return False  # only what a chart says is held against what was read
    comp = (
        Mention("word", last.at, last.at, comp=last.component, number=last.number) if last.component else None
    )
    draft = take(line, m, Subject(["resistance"], m.start, comp, mention=m), "thousands of ohms, said before")
    if draft is not None:
        draft.ucum = "kOhm"
    return draft is not None


def _coil_drops(line: Line, m: Mention) -> bool:
    """ "Coil's dropping four tenths": inches of water across it."""
    doc = line.doc
    if m.value is None or m.value.ucum is not None or not 0 < m.value.first < 2 or m.value.first == 1:
        return False
    if not {"dropping", "drops"} & set(doc.norm[max(line.begin, m.start - 4) : m.start]):
        return False
    coil = line.subject.comp if line.subject is not None else None
    if coil is None or coil.comp not in ("evaporator-coil", "condenser-coil"):
        return False
    return (
        take(line, m, Subject(["pressure-drop"], m.start, coil, mention=m), "dropped across a coil")
        is not None
    )


def _sensor_shows(line: Line, m: Mention) -> bool:
    """ "The supply air sensor reads fifty five": degrees; "thermistor's eleven two": thousands of ohms, marked."""
    subject = line.subject
    if subject is None or subject.strong or subject.used or subject.comp is None or m.value is None:
        return False
    comp = subject.comp.comp
    if subject.mention is not subject.comp or comp not in _SENSORS or m.value.ucum not in (None, "[degF]"):
        return False
    doc = line.doc
    if _OHMED & set(doc.norm[line.begin : min(line.end, m.stop + 3)]) or m.value.first > _HOTTEST:
        return False
    named = doc.norm[subject.comp.start : subject.comp.stop]
    point = "mixed-air-temperature" if "mixed" in named else _SHOWS.get(comp)
    thermistor = "thermistor" in named
    whole = m.value.first == int(m.value.first) and m.value.first >= _COLDEST
    if m.value.ucum is None and (thermistor or not whole):
        return _thousands(line, m, subject) is not None
    if point is None:
        m.claimed = "shown by a sensor without a point"
        return True
    return take(line, m, Subject([point], m.start, mention=m), "what a sensor shows") is not None


def _thousands(line: Line, m: Mention, subject: Subject) -> Draft | None:
    assert m.value is not None
    draft = take(
        line, m, Subject(["resistance"], m.start, subject.comp, mention=m), "thousands of ohms, unsaid"
    )
    if draft is not None:
        draft.ucum = "kOhm"
        draft.doubts.append("ohms or kilohms were not said")
        subject.used += 1
    return draft


def _low_volts(line: Line, m: Mention) -> bool:
    """ "Twenty four at the terminals", "twenty six on the coil": control voltage."""
    doc = line.doc
    low, high = _LOW_VOLTS
    if m.value is None or m.value.ucum is not None or not any(low <= p.value <= high for p in m.value.parses):
        return False
    if m.stop >= line.end:
        return False
    if line.subject is not None and line.subject.strong and not line.subject.used:
        return False
    behind = [
        w for w in doc.norm[m.stop : min(line.end, m.stop + 4)] if w not in ("the", "its", "that", "both")
    ]
    if m.stop >= line.end or doc.tokens[m.stop].brk or behind[:1] == [] or behind[0] not in _TO:
        return False
    if not _ENDS & set(behind[1:2]):
        return False
    allowed = line.points["control-voltage"].components
    named = next((x for x in line.doc.within(m.stop, min(line.end, m.stop + 4)) if x.comp in allowed), None)
    part = named or focus_before(doc, m.start, allowed, 20)
    return (
        take(line, m, Subject(["control-voltage"], m.start, part, mention=m), "volts at an end") is not None
    )


_SERVICE = (115.0, 120.0, 208.0, 230.0, 240.0, 277.0, 460.0, 480.0, 575.0, 600.0)
"""Service voltages (ANSI C84.1, from memory)."""
_NEAR = 0.08
_POWERED = frozenset(
    {
        "disconnect",
        "contactor",
        "transformer",
        "fuse",
        "variable-frequency-drive",
        "control-board",
        "wire-terminal",
    }
)


def _line_volts(line: Line, m: Mention) -> bool:
    """ "Two oh eight at the disconnect and two oh six at the contactor": volts where each is told."""
    doc = line.doc
    if m.value is None or m.value.ucum not in (None, "V") or m.stop >= line.end or doc.tokens[m.stop].brk:
        return False
    if not any(abs(m.value.first - v) <= _NEAR * v for v in _SERVICE) or doc.norm[m.stop] not in (
        "at",
        "on",
        "across",
    ):
        return False
    subject = line.subject
    if subject is not None and subject.strong and not subject.used and "voltage" not in subject.points:
        return False
    part = next(
        (x for x in doc.within(m.stop, min(line.end, m.stop + 4)) if x.comp in _POWERED and x.part), None
    )
    if part is None:
        return False
    return take(line, m, Subject(["voltage"], m.start, part, mention=m), "volts at a part") is not None


def _same_unit(line: Line, k: int) -> None:
    """ "From fourteen two to twelve nine amps": the unit is that of both."""
    m = line.items[k]
    nxt = line.items[k + 1] if k + 1 < len(line.items) else None
    if nxt is None or nxt.kind != "value" or nxt.value is None or m.value is None or m.value.ucum is not None:
        return
    doc = line.doc
    if doc.norm[m.start - 1] == "from" and doc.norm[m.stop : nxt.start] == ["to"] and nxt.value.ucum:
        m.value.ucum, m.value.unit_text = nxt.value.ucum, nxt.value.unit_text


def _amps_of_a_drive(line: Line, m: Mention) -> bool:
    """ "Opened the sheave a turn, that dropped it to twelve nine amps": the supply fan motor's."""
    if m.value is None or m.value.ucum != "A" or (line.subject is not None and line.subject.strong):
        return False
    near = line.subject.comp if line.subject is not None else None
    last = line.made[-1] if line.made else None
    if last is not None and last.point == "current":
        return False
    if near is None or near.comp not in _DRIVES:
        return False
    motor = Mention("word", m.start, m.start, comp="supply-fan-motor")
    return take(line, m, Subject(["current"], m.start, motor), "amps of what a belt drives") is not None
