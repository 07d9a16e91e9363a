"""Stage: small words and endings that recognisers lose or take for others of the same sound.

"The inlet's seven" is written "the inlets 7", "so I replaced it" "so a replaced it", "one and three sixteenths" "one in
three sixteenths", "changed two twenty by twenty" "changed to 20 by 20", "the switch tripped" "the switch trip". What
another reading would be as likely for is kept in `doc.repairs`, which marks what is read over it.
"""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Repair
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words

REQUIRES = ("tokens", "norm")
ASSIGNS = ("norm", "repairs")

_NAMES = words(
    """
    inlet manifold suction discharge head static superheat subcooling oxygen humidity amperage draft opening split
    deflection flue signal vacuum velocity airflow minimum outside ambient stack supply return frequency capacitance
    tension
    """
)
"""What is measured, by names of which nobody has several before a number."""
_PLURALS = {("supplies" if w == "supply" else f"{w}s"): w for w in _NAMES}
_ITS_OBJECT = words(
    """
    it them that those these this the both all my his her one two three four five six another
    """
)
_SOUND_LIKE = {"to": "two", "too": "two", "for": "four"}
_FIGURES = {
    **_SOUND_LIKE,
    "at": "eight",
    "ate": "eight",
    "won": "one",
    "free": "three",
    "tree": "three",
    "sex": "six",
}
_WORDS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_SPELLED = {str(i): word for i, word in enumerate(_WORDS)}
_OTHER_POINTS = words("set dew balance the this that a some boiling freezing test pick")
_SMALL_UNITS = words("micron microns macro mic's mega microwave")
_CAPACITOR = words("cap capacitor caps capacitors run dual runcap")
_NUMBERED = words("circuit compressor")
_TELLING = words("is was has had now suction head superheat subcooling amps pulls pulling draws reads runs")
_HEAD = (150, 650)
"""Psig that a head pressure mostly has."""
_BESIDE = words("suction liquid superheat subcooling low")
_COUNTING = words("changed replaced installed order ordered need needs swapped")
_SIZED = frozenset(["by", "x", "×"])
_POINTED = {"set": "setpoint", "dew": "dewpoint", "balance": "balance"}
_TWO = 2
_LONGEST = 4
"""Words of a part's name."""
_ENDS = frozenset(["and", "so", "but"])
_STATES = {
    "crack": "cracked",
    "trip": "tripped",
    "clog": "clogged",
    "rust": "rusted",
    "pit": "pitted",
    "burn": "burned",
    "fray": "frayed",
    "kink": "kinked",
    "melt": "melted",
    "warp": "warped",
    "scorch": "scorched",
    "seize": "seized",
    "corrode": "corroded",
    "glaze": "glazed",
}
"""What a part is after it was done, by the word without its ending; no word that is also a thing a part can have."""


def heard_words(doc: Doc) -> None:
    """Put what was meant in `norm`; a count in its token too, for numbers are read from those."""
    for i, word in enumerate(doc.norm):
        if word in _PLURALS and _number(doc, i + 1) and doc.tokens[i + 1].brk < 2:
            doc.norm[i] = _PLURALS[word]
        elif word == "a":
            if _did(doc, i):
                doc.norm[i] = "i"
        elif word == "in":
            if _number(doc, i - 1) and not doc.tokens[i].brk and _part_of_one(doc, i + 1):
                _put(doc, i, "and")
        elif word in _FIGURES and i > 1 and doc.norm[i - 1] in ("point", "decimal"):
            if _goes_on(doc, i):
                _put(doc, i, _FIGURES[word])
                if _number(doc, i + 1) and doc.tokens[i + 1].text in _SPELLED:
                    spelled = _SPELLED[doc.tokens[i + 1].text]
                    doc.norm[i + 1] = spelled
                    doc.tokens[i + 1] = doc.tokens[i + 1]._replace(kind="w", lower=spelled, text=spelled)
        elif word == "had":
            if _head(doc, i):
                _put(doc, i, "head")
        elif word in _SOUND_LIKE and _ounces(doc, i):
            _put(doc, i, _SOUND_LIKE[word])
        elif word in _SMALL_UNITS and _of_a_capacitor(doc, i):
            _put(doc, i, "microfarads")
        elif word == "boy":
            _boy(doc, i)
        elif word in _SOUND_LIKE and i and doc.norm[i - 1] in _NUMBERED and _told(doc, i):
            _put(doc, i, _SOUND_LIKE[word])
        elif word in _SOUND_LIKE:
            if i and doc.norm[i - 1] in _COUNTING and not doc.tokens[i].brk and _size(doc, i + 1):
                _put(doc, i, _SOUND_LIKE[word])
        elif word in _POINTED:
            _set_point(doc, i)
        elif word in _STATES and _state_of_part(doc, i):
            _put(doc, i, _STATES[word])


def _put(doc: Doc, i: int, meant: str) -> None:
    doc.repairs.append(Repair(i, i + 1, doc.said(i, i + 1), meant))
    doc.norm[i] = meant
    doc.tokens[i] = doc.tokens[i]._replace(lower=meant, text=meant)


def _number(doc: Doc, i: int) -> bool:
    return 0 <= i < len(doc.tokens) and (
        doc.tokens[i].kind in "nf" or CLASS.get(doc.norm[i], ".") in "dtxhpzZHQ"
    )


def _did(doc: Doc, i: int) -> bool:
    """ "a replaced it": a verb in the past that has its object cannot be what an article is for."""
    if i + 2 >= len(doc.norm) or any(t.brk for t in doc.tokens[i + 1 : i + 3]):
        return False
    node = doc.vocabulary.trie.get(doc.norm[i + 1], {})
    past = any(t.kind == "verb" and t.form == "past" for t in node.get("", ()))
    return past and doc.norm[i + 2] in _ITS_OBJECT


def _part_of_one(doc: Doc, i: int) -> bool:
    """Whether a fraction begins here: "three sixteenths", "3/16", "a quarter"."""
    if i + 1 >= len(doc.norm) or doc.tokens[i].brk:
        return False
    if doc.tokens[i].kind == "f":
        return True
    if not (_number(doc, i) or doc.norm[i] == "a"):
        return False
    after = i + 2 if doc.norm[i + 1] == "-" else i + 1
    stroke = doc.norm[i + 1] == "/" and doc.tokens[i + 1].glued
    return stroke or (after < len(doc.norm) and CLASS.get(doc.norm[after]) in ("Q", "H"))


def _goes_on(doc: Doc, i: int) -> bool:
    """ "Static point at, return", "drop point to 4": a figure behind a spoken point, no setting's."""
    if doc.tokens[i].brk or doc.tokens[i - 1].brk or doc.norm[i - 2] in _OTHER_POINTS:
        return False
    last = i + 1 >= len(doc.norm) or doc.tokens[i + 1].brk or doc.norm[i + 1] in _ENDS
    figure = _number(doc, i + 1) and len(doc.tokens[i + 1].text) == 1
    return bool(last) or figure


def _head(doc: Doc, i: int) -> bool:
    """ "Suction 121, had 358, superheat 11": a pressure between two numbers; nobody had it "on the" anything."""
    if not (_number(doc, i - 1) and _number(doc, i + 1)) or doc.tokens[i].brk > 1 or doc.tokens[i + 1].brk:
        return False
    text = doc.tokens[i + 1].text
    between = i + 2 >= len(doc.norm) or doc.tokens[i + 2].brk or doc.norm[i + 2] in ("and", "psi", "psig")
    high = text.isdigit() and _HEAD[0] <= int(text) <= _HEAD[1]
    return high and bool(between) and bool(_BESIDE & {*doc.norm[max(0, i - 4) : i]})


def _ounces(doc: Doc, i: int) -> bool:
    """ "Eleven pounds for ounces"."""
    if i + 1 >= len(doc.norm) or not i:
        return False
    return doc.norm[i - 1] in ("pounds", "pound", "and") and doc.norm[i + 1] in ("ounces", "ounce")


def _of_a_capacitor(doc: Doc, i: int) -> bool:
    """ "A seven and a half micron run cap": what a capacitor is sized in."""
    return _number(doc, i - 1) and i + 1 < len(doc.norm) and doc.norm[i + 1] in _CAPACITOR


def _boy(doc: Doc, i: int) -> None:
    """ "One boy one": a spoken point between two figures, by the sound that is left of it."""
    before = i > 0 and (_number(doc, i - 1) or doc.norm[i - 1] in _SOUND_LIKE)
    if not before or not _number(doc, i + 1) or doc.tokens[i].brk > 1 or doc.tokens[i + 1].brk > 1:
        return
    if doc.norm[i - 1] in _SOUND_LIKE:
        _put(doc, i - 1, _SOUND_LIKE[doc.norm[i - 1]])
    _put(doc, i, "point")
    for k in (i, i + 1):
        doc.tokens[k] = doc.tokens[k]._replace(brk=0, gap=" ")


def _told(doc: Doc, i: int) -> bool:
    """ "Circuit to, suction 121", "compressor to is pulling": what follows is told of a part with its number."""
    if doc.tokens[i].brk:
        return False
    return i + 1 >= len(doc.norm) or bool(doc.tokens[i + 1].brk) or doc.norm[i + 1] in _TELLING


def _size(doc: Doc, i: int) -> bool:
    return _number(doc, i) and any(w in _SIZED for w in doc.norm[i + 1 : i + 3])


def _set_point(doc: Doc, i: int) -> None:
    """ "set.73", "dew.52": the word "point" taken for the sign."""
    if i + 1 >= len(doc.tokens):
        return
    figures = doc.tokens[i + 1]
    if figures.gap != "." or figures.kind != "n" or len(figures.text) < _TWO or "." in figures.text:
        return
    doc.repairs.append(Repair(i, i + 2, doc.said(i, i + 2), f"{_POINTED[doc.norm[i]]} {figures.text}"))
    doc.norm[i] = _POINTED[doc.norm[i]]
    doc.tokens[i + 1] = figures._replace(brk=0, gap=" ")


def _state_of_part(doc: Doc, i: int) -> bool:
    """ "the pressure switch trip.": at the end of its clause, right behind a part."""
    if not i or doc.tokens[i].brk:
        return False
    last = i + 1 >= len(doc.norm) or doc.tokens[i + 1].brk or doc.norm[i + 1] in _ENDS
    return bool(last) and any(_names_part(doc, i - k, i) for k in range(1, min(_LONGEST, i) + 1))


def _names_part(doc: Doc, start: int, stop: int) -> bool:
    node = doc.vocabulary.trie
    for word in doc.norm[start:stop]:
        node = node.get(word, {})
    return any(t.kind in ("component", "family") for t in node.get("", ()))
