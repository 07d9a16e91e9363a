"""A meter that shows an open: "reads O L", "says infinity", "open line on the meter".

That a part "is open" is a finding; only what a meter showed is a reading, with text "open" and no number.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.numbers import Parse
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_SHOWN = (
    "o l", "ol", "o l d", "infinity", "infinite", "infinite ohms", "infinite resistance", "open line", "over limit",
    "overload on the meter", "over load on the meter", "open on the meter", "open on the ohm meter",
    "open on the ohmmeter", "open on my meter",
)  # fmt: skip
_READ = words(
    "reads read reading shows showing showed says said measures measured meters metered ohms ohmed reported"
)
_METER = words(
    "meter ohmmeter ohm ohms ohmed meg megohms resistance continuity leads probe winding windings coil element"
)
_POSITIONED = ("damper", "economizer", "actuator", "valve", "door", "switch")
"""Words in the name of a part whose "open" may be where it stands: it takes a meter word to make it a resistance."""
_OPEN = ("wide open", "as open", "open", "a dead open", "dead open")
_METERING = frozenset(["measures", "measured", "meters", "metered", "ohms", "ohmed"])
_LONGEST = 5
_REACH = 25
"""Tokens before the sentence in which the part that is metered may have been named."""


def meter_open(doc: Doc) -> None:
    """Put a value with the text "open" wherever a meter showed one."""
    forms = {tuple(form.split()) for form in _SHOWN}
    for i, word in enumerate(doc.norm):
        if word in ("o", "ol", "infinity", "infinite", "open", "over", "overload"):
            for length in range(min(_LONGEST, len(doc.norm) - i), 0, -1):
                if tuple(doc.norm[i : i + length]) in forms and _free(doc, i, i + length):
                    _put(doc, i, i + length)
                    break
        elif word in _READ and _is_metered(doc, i):
            stop = _open_behind(doc, i + 1)
            if stop and _free(doc, i + 1, stop):
                _put(doc, i + 1, stop)


def _open_behind(doc: Doc, at: int) -> int:
    for form in _OPEN:
        said = form.split()
        if doc.norm[at : at + len(said)] == said and not any(t.brk for t in doc.tokens[at : at + len(said)]):
            return at + len(said)
    return 0


def _is_metered(doc: Doc, i: int) -> bool:
    """Whether "reads open" is of a meter: one is spoken of in the sentence, or a part that has a resistance is.

    Of a damper or a valve it is a position, of a percent an opening, and of a sign the hours.
    """
    if i + 2 < len(doc.norm) and doc.norm[i + 2] in ("percent", "to", "from", "slowly", "for"):
        return False
    begin, end = next(((b, e) for b, e in doc.sentences if b <= i < e), (i, i))
    if _METER & {*doc.norm[begin:end]} or doc.norm[i] in _METERING:
        return True
    parts = [m.comp for m in doc.within(max(0, begin - _REACH), i) if m.comp]
    measured = doc.vocabulary.points["resistance"].components
    return bool(parts) and parts[-1] in measured and not any(w in parts[-1] for w in _POSITIONED)


def _free(doc: Doc, start: int, stop: int) -> bool:
    return all(o is None or o.kind == "word" for o in doc.owner[start:stop]) and not any(
        doc.tokens[k].brk for k in range(start + 1, stop)
    )


def _put(doc: Doc, start: int, stop: int) -> None:
    told: list[Term] = []
    for other in [*doc.within(start, stop), doc.owner[start]]:
        if other is not None and other.kind != "dropped":
            told += other.of("condition")  # what the meter shows is a finding of the part as well
            doc.drop(other)
    value = Value([Parse(1.0, "state", 0.0, "")], "state", "Ohm", "", "open", number_stop=stop)
    doc.put(Mention("value", start, stop, tuple(told), value=value))
