"""What a value can only be by its unit, where nothing was named: weights of refrigerant, times, volts at a terminal."""

from __future__ import annotations

from hatchnote.notes.candidates import asked
from hatchnote.notes.doc import Mention
from hatchnote.notes.subjects import BY_UNIT, FIRING, HOLDING, METER, TIMED, Line, Subject
from hatchnote.notes.unit_behind import INCHES
from hatchnote.notes.wordlists import words as word_set


def subject_of_unit(line: Line, k: int) -> Subject | None:
    m = line.items[k]
    assert m.value is not None
    ucum = m.value.ucum
    if ucum is None:
        return None
    if ucum in ("s", "min", "h"):
        return timed(line, m)
    if ucum == "uF" and m.value.unit_text in ("mike", "mikes", "mic", "mics") and _of_flame(line, m):
        return Subject(["flame-signal"], m.start)
    if ucum == "V" and m.value.unit_text != "volt":
        size = m.value.first
        if size >= 90 or 18 <= size <= 32:
            return Subject(["voltage" if size >= 90 else "control-voltage"], m.start)
        return Subject(["control-voltage"], m.start) if size < 18 and _at_a_terminal(line, m) else None
    if ucum in ("[lb_av]", "[oz_av]"):
        return weighed(line, m)
    if ucum == "A" and m.value.unit_text != "amp" and not _of_a_size(line):
        return Subject(["current"], m.start)  # nobody knows of what: marked
    point = BY_UNIT.get(ucum)
    if ucum in (INCHES, "[in_i'H2O]") and any(x.comp == "variable-frequency-drive" for x in line.items[:k]):
        point = "static-pressure"
    if not point:
        return None
    return Subject([point], m.start)


_SIZED = frozenset({"fuse", "contactor", "disconnect", "transformer", "relay", "wiring"})


def _of_a_size(line: Line) -> bool:
    """Whether amps are told of what is made for so many, not of what draws them."""
    return any(x.comp in _SIZED for x in line.items) or bool(
        {"breaker", "circuit"} & {*line.doc.norm[line.begin : line.end]}
    )


def subject_of_unit_behind(line: Line, k: int) -> Subject | None:
    """ "Went from point four to three point one microamps": the unit is said with the second of the two."""
    m = line.items[k]
    nxt = line.items[k + 1] if k + 1 < len(line.items) else None
    if nxt is None or nxt.kind != "value" or nxt.value is None or m.value is None or m.value.ucum is not None:
        return None
    between = [w for w in line.doc.norm[m.stop : nxt.start] if w not in ("up", "down", "about")]
    if line.doc.norm[m.start - 1] != "from" or between != ["to"]:
        return None
    return subject_of_unit(line, k + 1)


_IN_IT = ("in her", "in it", "in the system", "in the unit", "in there", "in circuit", "back in", "of gas", "of juice",
          "of refrigerant", "of charge", "on the scale", "out of", "of r", "in this")  # fmt: skip
_OUT = ("recover", "recovered", "pulled out", "took out", "out of it", "out of her", "reclaimed", "got out", "came out",
        "what was in", "what was left")  # fmt: skip


def weighed(line: Line, m: Mention) -> Subject | None:
    """ "Put two and a half pounds in her", "gave it three pounds four ounces": refrigerant, in or out."""
    doc = line.doc
    behind = " ".join(doc.norm[m.stop : min(line.end, m.stop + 4)])
    said = doc.norm[m.start : m.stop]
    both = bool(m.value and m.value.parses and m.value.parses[0].style == "pounds and ounces") or (
        any(w.startswith("pound") or w in ("lb", "lbs") for w in said)
        and any(w.startswith(("ounce", "oz")) for w in said)
    )
    named = [x for x in doc.within(m.stop, min(line.end, m.stop + 3)) if x.kind == "refrigerant"]
    if named and doc.norm[m.stop] == "of":
        both = True
    gas = m.stop < line.end and doc.owner[m.stop] is not None and doc.owner[m.stop].kind == "refrigerant"  # type: ignore[union-attr]
    said_out = any(f" {w} " in f" {' '.join(doc.norm[line.begin : m.start])} " for w in _OUT[:6])
    if (
        not both
        and not gas
        and not said_out
        and not any(behind.startswith(w) or f" {w}" in f" {behind}" for w in _IN_IT)
    ):
        return None
    out = _taken_out(line, m) or any(
        f" {w} " in f" {' '.join(doc.norm[line.begin : m.start])} " for w in _OUT
    )
    plate = asked(line, line.items.index(m))
    return Subject(
        ["refrigerant-charge"], m.start, position="total" if plate else "recovered" if out else "added"
    )


_TERMINALS = frozenset(["y", "w", "g", "r", "c"]) | {"y1", "y2", "w1", "w2"}


def _at_a_terminal(line: Line, m: Mention) -> bool:
    """ "Zero volts at W one", "nothing but eight volts Y to C": a letter of the thermostat's terminals beside it."""
    doc = line.doc
    near = range(max(line.begin, m.start - 6), min(line.end, m.stop + 5))
    return any(doc.norm[i] in _TERMINALS and doc.tokens[i].text != "a" for i in near)


_TAKES_OUT = word_set("recovered recover recovering reclaimed removed pumped")
_WITH_OUT = word_set(
    "pulled pull pulling took take taking got getting drew sucked bled dumped let lost came came"
)


def _taken_out(line: Line, m: Mention) -> bool:
    """ "Took six pounds out of it", "pulled two pounds of four ten A out": what left the machine."""
    doc = line.doc
    start = m.start
    while start > line.begin and not doc.tokens[start].brk and doc.norm[start - 1] not in ("and", "then"):
        start -= 1
    stop, last = m.stop, min(line.end, m.stop + 7)
    while stop < last and not doc.tokens[stop].brk and doc.norm[stop] not in ("and", "then", "put"):
        stop += 1
    said, after = doc.norm[start : m.start], doc.norm[m.stop : stop]
    if _TAKES_OUT & {*said} or {"recovered", "reclaimed"} & {*after}:
        return True
    return bool(_WITH_OUT & {*said, *after}) and bool({"out", "off"} & {*said, *after})


def _of_flame(line: Line, m: Mention) -> bool:
    """Whether a flame, its rod or its sensor is told of right around the value."""
    near = line.doc.within(max(line.begin, m.start - 8), min(line.end, m.stop + 6))
    return any(x.comp == "flame-sensor" or x.has("point", "flame-signal") for x in near)


def timed(line: Line, m: Mention) -> Subject | None:
    """Seconds of a flame, a meter, minutes of a vacuum or a pressure test; other times are chatter."""
    before = line.doc.norm[line.begin : line.end]
    text = f" {' '.join(before)} "
    near = [x for x in line.doc.within(line.begin, m.start) if x.comp in TIMED]
    seconds = m.value is not None and m.value.ucum == "s"
    if any(w in text for w in METER):
        return Subject(["time"], m.start) if seconds else None
    if any(w in text for w in HOLDING) or (line.made and line.made[-1].point == "vacuum"):
        return Subject(["time"], m.start)
    if near and seconds:
        return Subject(["time"], m.start, near[-1])
    if seconds and any(w in text for w in FIRING):
        return Subject(["time"], m.start)
    return None
