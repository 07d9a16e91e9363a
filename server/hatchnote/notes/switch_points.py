"""Pressures told of switches: what one opens and closes at, what it wants to see, what the inducer makes for it."""

from __future__ import annotations

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Draft, Mention
from hatchnote.notes.drafting import take
from hatchnote.notes.subjects import Line, Subject
from hatchnote.notes.wordlists import words

_POINT = {
    "low-pressure-switch": "suction-pressure",
    "high-pressure-switch": "discharge-pressure",
    "pressure-switch": "draft",
}
_DRAFTED = ("inducer-motor", "pressure-switch")
_WORKS = words(
    """
    opens open opening opened closes close closing closed trips trip tripping tripped cuts cut cutting
    kicks kick kicked kicking breaks break broke breaking makes make made making resets reset drops drop
    dropped dropping pops popped lets comes came coming goes went going pulls pulled rolls
    """
)
_BETWEEN = words(
    "at around about back out in right up off down like it again under over near roughly only just"
)
_AT = words("at around under over near about")
_WANTS = words("wants want needs need takes requires wanted needed for see have till until before")
_MAKES = words("makes make making made develops developing gets getting generating produces producing giving")
_PULLS = words(
    "pulls pulling pull pulled draws drawing drew got holding running shows showing has had is reads"
)
WORKS_AT = "what a switch works at"
"""The rule of a pressure at which a switch opens or closes: its own, neither as found nor as left."""
_FAN_MAKES = 3.0
"""Inches of water: no inducer of a rooftop unit pulls more (common practice, no source)."""


def switch_point(line: Line, k: int) -> bool:
    """Join the value at item `k` where it is told of a pressure switch or of the draft that works one."""
    m = line.items[k]
    if (
        m.value is None
        or m.value.text
        or m.value.ucum not in (None, "[psi]", "[lb_av]", "[in_i'H2O]", "inch?")
    ):
        return False
    if line.subject is not None and line.subject.strong and not line.subject.used:
        waiting = line.subject.points[0]
        if waiting != "opening":
            return False
    return _works_at(line, m) or _set_for(line, m) or _wanted(line, m) or _made(line, m)


def _works_at(line: Line, m: Mention) -> bool:
    """ "Opens at fifty, closes back at ninety five", "the high pressure switch cut out around six hundred"."""
    doc = line.doc
    i = m.start - 1
    while i >= line.begin and m.start - i < 7 and not doc.tokens[i + 1].brk and doc.norm[i] in _BETWEEN:
        i -= 1
    if i < line.begin or doc.tokens[i + 1].brk or not _AT & set(doc.norm[i + 1 : m.start]):
        return False
    if doc.norm[i] not in _WORKS and not {"cutout", "cutin"} & {doc.norm[i]}:
        return False
    switch = _spoken_of(line, m.start)
    return switch is not None and _take(line, m, switch, WORKS_AT) is not None


def _set_for(line: Line, m: Mention) -> bool:
    """ "The low pressure cutout's set for twenty": what the switch is set to."""
    said = line.doc.norm[max(line.begin, m.start - 2) : m.start]
    if said not in (["set", "for"], ["set", "at"], ["set", "to"]):
        return False
    switch = _spoken_of(line, m.start)
    draft = _take(line, m, switch, WORKS_AT) if switch is not None else None
    if draft is not None:
        draft.basis = "set"
    return draft is not None


def _wanted(line: Line, m: Mention) -> bool:
    """ "The pressure switch wants point six five", "won't make till it sees point five": the switch's own rating."""
    doc = line.doc
    i = m.start - 1
    while i >= line.begin and doc.norm[i] in ("about", "at", "least", "around", "a", "it", "sees"):
        i -= 1
    if (
        i < line.begin
        or doc.norm[i] not in _WANTS
        or any(doc.tokens[x].brk for x in range(i + 1, m.start + 1))
    ):
        return False
    switch = _spoken_of(line, i) or _switch_word(line, i - 1)
    if switch is None or switch.comp != "pressure-switch":
        switch = _switch_word(line, i - 1)
    if switch is None:
        return False
    draft = _take(line, m, switch, "what a switch wants")
    if draft is None:
        return False
    draft.basis = "rated"
    return True


def _made(line: Line, m: Mention) -> bool:
    """ "The inducer's only making point five", "it's pulling negative point nine two at the switch": draft, no amps."""
    doc = line.doc
    assert m.value is not None
    if m.value.ucum not in (None, "[in_i'H2O]", "inch?") or abs(m.value.first) > _FAN_MAKES:
        return False
    said = set(doc.norm[max(line.begin, m.start - 4) : m.start])
    switch = _switch_around(line, m)
    negative = m.value.first < 0
    named = _last_part(line, m.start)
    near = named if named is not None and not negative else focus_before(doc, m.start, _DRAFTED, 25)
    if near is None or near.comp not in _DRAFTED:
        return False
    inches = m.value.ucum is not None
    pulled = bool(_PULLS & said) and (switch is not None or inches)
    before = (
        _read_before(line, m)
        if near.comp == "inducer-motor" and "now" in doc.norm[line.begin : line.end]
        else None
    )
    if before is not None:
        part = Mention("word", m.start, m.start, comp=before) if before else None
        return _take(line, m, part, "draft, read again") is not None
    if not ((_MAKES & said and m.value.first % 1) or pulled or negative):
        return False
    if (
        near.comp == "inducer-motor"
        and not negative
        and not inches
        and not _MAKES & said
        and _amps_likelier(line, m)
    ):
        return False
    return _take(line, m, switch, "draft told of the inducer") is not None


def _read_before(line: Line, m: Mention) -> str | None:
    """The part (or "") that a draft was read at shortly before, where no amps are told: "draft was point two nine ...
    cleaned the wheel, now it's point five eight".
    """
    doc = line.doc
    if {"amp", "amps", "amperage"} & set(doc.norm[line.begin : line.end]):
        return None
    same = [d for d in doc.drafts[-12:] if d.tag == doc.tag_at[m.start] and d.point in ("draft", "current")]
    if not same or any(d.point == "current" and d.component in (None, "inducer-motor") for d in same):
        return None
    last = same[-1]
    return (last.component or "") if last.point == "draft" and last.sentence != line.index else None


def _amps_likelier(line: Line, m: Mention) -> bool:
    """ "Inducer's pulling one point two": a whole ampere and more is drawn, not pulled."""
    assert m.value is not None
    return m.value.first >= 1


def _spoken_of(line: Line, stop: int) -> Mention | None:
    """The pressure switch that is the part last named before token `stop`."""
    near = _last_part(line, stop)
    if near is None:
        near = focus_before(line.doc, line.begin)
    return near if near is not None and near.comp in _POINT else None


def _last_part(line: Line, stop: int) -> Mention | None:
    named = [x for x in line.items if x.stop <= stop and x.comp and x.part and x.kind == "word"]
    return named[-1] if named else None


def _switch_word(line: Line, at: int) -> Mention | None:
    """A bare "switch" before token `at`, in a sentence that told of the inducer or its switch."""
    doc = line.doc
    if focus_before(doc, at, _DRAFTED, 25) is None:
        return None
    for i in range(at, max(line.begin - 1, at - 7), -1):
        if doc.norm[i] == "switch":
            return Mention("word", i, i + 1, comp="pressure-switch")
        if (x := doc.owner[i]) is not None and x.comp and x.part:
            return None
    return None


def _switch_around(line: Line, m: Mention) -> Mention | None:
    """The pressure switch named in the sentence: by its name, or as "at the switch" behind the value."""
    doc = line.doc
    for x in line.items:
        if x.comp == "pressure-switch":
            return x
    behind = doc.norm[m.stop : min(line.end, m.stop + 5)]
    if "switch" in behind and not {"high", "low", "limit", "rollout"} & set(behind):
        at = m.stop + behind.index("switch")
        return Mention("word", at, at + 1, comp="pressure-switch")
    return None


def _take(line: Line, m: Mention, switch: Mention | None, rule: str) -> Draft | None:
    point = _POINT[switch.comp] if switch is not None else "draft"
    draft = take(line, m, Subject([point], m.start, switch, mention=m), rule)
    if draft is not None and switch is not None:
        draft.component, draft.number = switch.comp, switch.number
    elif draft is not None:
        draft.component = None
    if draft is not None and line.subject is not None and line.subject.points[:1] == ["opening"]:
        line.subject = None
    return draft
