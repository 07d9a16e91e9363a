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
_OPEN = ("wide open", "as open", "open", "a dead open", "dead open")
_LONGEST = 5


def meter_open(doc: Doc) -> None:
    """Put a value with the text "open" wherever a meter showed one."""
    forms = {tuple(form.split()) for form in _SHOWN}
    for i, word in enumerate(doc.norm):
        if word in ("o", "ol", "infinity", "infinite", "open", "over", "overload"):
            for length in range(min(_LONGEST, len(doc.norm) - i), 0, -1):
                if tuple(doc.norm[i : i + length]) in forms and _free(doc, i, i + length):
                    _put(doc, i, i + length)
                    break
        elif word in _READ and not _refers_to_valve(doc, i):
            stop = _open_behind(doc, i + 1)
            if stop and _free(doc, i + 1, stop):
                _put(doc, i + 1, stop)


def _open_behind(doc: Doc, at: int) -> int:
    for form in _OPEN:
        said = form.split()
        if doc.norm[at : at + len(said)] == said and not any(t.brk for t in doc.tokens[at : at + len(said)]):
            return at + len(said)
    return 0


def _refers_to_valve(doc: Doc, i: int) -> bool:
    """ "Reads open" of a damper or a valve is a position; of a percent it is an opening."""
    return i + 2 < len(doc.norm) and doc.norm[i + 2] in ("percent", "to")


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
