"""Manners of saying a value that go wrong more often than others, each with the words a person reads beside it."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft, Mention
from hatchnote.notes.fitting import TWO_WAYS
from hatchnote.notes.subjects import COPULA, NOMINAL_VOLTS
from hatchnote.notes.wordlists import words

_SMALL = 10
_FITTING = frozenset({"replace", "install", "order", "quote"})
_OF_A_PLATE = frozenset({"fuse-rating", "power", "speed", "voltage"})
_SURE = frozenset({"run-capacitor", "variable-frequency-drive"})
"""Parts that the unit alone tells: microfarads, hertz."""
_OPENING = frozenset(
    ["outdoor-air-damper", "economizer", "economizer-actuator", "metering-valve", "variable-frequency-drive"]
)
_MONEY = frozenset(["dollar", "dollars", "bucks", "quoted", "price", "labor", "cents", "invoice"])
_TOLD = frozenset({"rating or setting of the point before", "rated", "three of a kind"})


def doubtful(doc: Doc, d: Draft) -> str | None:
    """Why this value may be something else; None where nothing speaks against it."""
    m = d.source
    if m is None or m.value is None or d.value is None:
        return None
    if _roughly(doc, m):
        return "only roughly told"
    if (
        d.rule == "by its unit"
        and d.component is not None
        and d.component not in _SURE
        and _part_from_before(doc, d)
    ):
        return "the part was not said with the number"
    if d.rule == "by its unit" and d.point == "current" and d.component is None:
        return "what draws it was not said"
    if d.component == "inducer-motor" and d.point == "current" and _pulled(doc, d, m):
        return "may be the draft it pulls"
    if d.point.endswith("air-temperature") and _shown(doc, d, m):
        return "what the sensor shows, told beside what was measured"
    if d.component == "disconnect" and d.point == "current":
        return "may be the size of the breaker or disconnect"
    begin, end = doc.sentences[d.sentence]
    if m.value.ucum is None and _MONEY & {*doc.norm[begin:end]}:
        return "money is spoken of"
    if d.point == "opening" and m.value.ucum is None and not _opens(doc, d):
        return "what is open so far was not said"
    if d.point == "time" and m.value.ucum is None:
        return "seconds or minutes were not said"
    if d.point in ("power", "speed") and d.basis == "rated" and d.rule in _OF_A_MOTOR and _wanted(doc, d):
        return "may be the size of a part that was fitted or is wanted"
    if _lone_figure(doc, d, m):
        return "a small number without a unit"
    if d.point in _OF_A_PLATE and d.basis == "rated" and d.rule not in _TOLD and _fitted(doc, d):
        return "may be the size of a part that was fitted or is wanted"
    if (
        d.point == "resistance"
        and m.value.ucum in (None, "Ohm")
        and m.value.shape in ("dz", "dZ", "dd")
        and d.value >= 10
    ):
        return TWO_WAYS
    return None


def _shown(doc: Doc, d: Draft, m: Mention) -> bool:
    """ "Discharge air's fifty eight, sensor says sixty seven": the one that only the sensor shows."""
    near = doc.norm[max(0, m.start - 5) : m.start]
    if not any(w in ("sensor", "thermistor") for w in near):
        return False
    return any(
        x.point == d.point and x is not d and x.tag == d.tag and x.value != d.value and abs(x.at - d.at) < 25
        for x in doc.drafts
    )


_LEAST_DRAWN = 1.6
_PULLS = frozenset({"pulls", "pulling", "pulled", "pull"})
_AMPS = frozenset({"amp", "amps", "amperage", "amped", "a"})


def _pulled(doc: Doc, d: Draft, m: Mention) -> bool:
    """ "The inducer pulls point eight five": amps and inches of draft are told in the same words and size."""
    begin, end = doc.sentences[d.sentence]
    if m.value is None or m.value.ucum is not None or d.value is None or d.value >= _LEAST_DRAWN:
        return False
    return bool(_PULLS & set(doc.norm[max(begin, m.start - 4) : m.start])) and not _AMPS & set(
        doc.norm[begin:end]
    )


_SOME = frozenset({"something", "some", "odd", "ish", "-ish", "change", "somethin'", "somethin"})


def _roughly(doc: Doc, m: Mention) -> bool:
    """ "Two hundred and something", "forty some", "four and change", "thirty odd": a value with a part left out."""
    stop = m.value.number_stop if m.value is not None and m.value.number_stop else m.stop
    behind = [w for w in doc.norm[stop : stop + 3] if w not in ("and", "-", "plus")]
    return bool(behind) and behind[0] in _SOME and not any(t.brk for t in doc.tokens[stop : stop + 2])


def _opens(doc: Doc, d: Draft) -> bool:
    """Whether a damper, a valve or a drive is spoken of near: "minimum" alone may be that of a gas pressure."""
    begin, end = doc.sentences[max(0, d.sentence - 2)][0], doc.sentences[d.sentence][1]
    return any(m.comp in _OPENING for m in doc.within(begin, end))


_OF_A_MOTOR = frozenset({"speed behind the horses of a plate", "part with its point implied", "by its unit"})
_WANTED = words(
    "order ordered swap swapped new replace replaced install installed quote quoted need needs fitted"
)
_WANTED_BACK = 22


def _wanted(doc: Doc, d: Draft) -> bool:
    """Whether a motor was ordered or fitted shortly before its horses and its speed are told."""
    return bool(_WANTED & {*doc.norm[max(0, d.start - _WANTED_BACK) : d.start]})


def _lone_figure(doc: Doc, d: Draft, m: Mention) -> bool:
    """ "Three" of something: one word, no unit, and no name or copula right before it."""
    assert m.value is not None and d.value is not None
    one_word = m.value.number_stop - m.start == 1 and m.value.ucum is None
    if (
        not one_word
        or d.value > _SMALL
        or d.value != int(d.value)
        or d.value in NOMINAL_VOLTS
        or d.value == 0
    ):
        return False
    before = doc.owner[m.start - 1] if m.start else None
    named = before is not None and (
        before.has("point") or before.has("cue") or before.kind in ("legs", "stage")
    )
    after = doc.owner[m.stop] if m.stop < len(doc.owner) else None
    ahead = before if before is not None or m.start < 2 else doc.owner[m.start - 2]
    joined = doc.norm[m.start - 1] in ("plus", "over") if m.start else False
    listed = ahead is not None and ahead.kind == "value" and (ahead is before or joined)
    plain = doc.norm[m.start - 1] in COPULA and d.rule == "point before the value"
    if after is not None and after.kind == "value" and not doc.tokens[m.stop].brk and not joined:
        return not named  # "6.8, 2 6.5": the two may be whose it is, or the first figure of 26.5
    return not (named or listed or plain or (after is not None and after.has("point")))


def _part_from_before(doc: Doc, d: Draft) -> bool:
    """Whether the part was named in an earlier sentence only."""
    begin, end = doc.sentences[d.sentence]
    return not any(m.comp == d.component for m in doc.within(begin, end))


def _fitted(doc: Doc, d: Draft) -> bool:
    begin, _ = doc.sentences[d.sentence]
    before = doc.within(begin, d.start)
    return any(
        (m.has("verb") and any(t.slug in _FITTING for t in m.of("verb")))
        or (m.has("cue", "needed") and m.claimed != "verb" and _wanted_part(doc, m, d))
        for m in before
    )


def _wanted_part(doc: Doc, m: Mention, d: Draft) -> bool:
    """ "Need a condenser fan motor, half horse": the part that the value is of is asked for."""
    behind = doc.within(m.stop, d.start)
    part = next((x for x in behind if x.comp and x.part), None)
    return part is not None and part.comp == d.component and part.start - m.stop <= 2
