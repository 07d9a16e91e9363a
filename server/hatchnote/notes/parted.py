"""Numbers cut in two by a comma or a stop: "1100, and 40 feet a minute", "7, and a half horse", "1.6.2".

They are read as one, marked, with what was heard.
"""

from __future__ import annotations

from hatchnote.notes.amounts import put_value
from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.fitting import WHOLE
from hatchnote.notes.numbers import Parse
from hatchnote.notes.numbers.words import CLASS, VALUE
from hatchnote.notes.unit_behind import Unit, unit_after

_HUNDRED, _THOUSAND = 100, 1000
_WHOLE = WHOLE | {"[Btu_IT]/h"}


def parted(doc: Doc) -> None:
    """Put a value where two pieces of one number stand side by side."""
    for i in range(len(doc.tokens) - 2):
        if doc.tokens[i].kind != "n" or doc.owner[i] is not None:
            continue
        if doc.norm[i + 1] == "and" and doc.tokens[i + 1].brk < 2:
            _hundreds(doc, i)
            _fraction(doc, i)
        elif doc.tokens[i + 1].kind == "n" and doc.tokens[i + 1].gap == ".":
            _two_points(doc, i)


def _number(text: str) -> float:
    return float(text.replace(",", ""))


def _hundreds(doc: Doc, i: int) -> None:
    """ "4500, and 60 CFM": whole hundreds, and what is left of them with the unit."""
    if doc.tokens[i + 2].kind != "n" or doc.tokens[i + 2].brk:
        return
    large, small = _number(doc.tokens[i].text), _number(doc.tokens[i + 2].text)
    unit = unit_after(doc, i + 3)
    round_by = _THOUSAND if large % _THOUSAND == 0 else _HUNDRED
    if (
        unit is None
        or unit.ucum not in _WHOLE
        or large < _HUNDRED
        or large % _HUNDRED
        or not 0 < small < round_by
    ):
        return
    _put(doc, i, i + 3, large + small, unit)


def _fraction(doc: Doc, i: int) -> None:
    """ "7, and a half horse": only over a comma, without one it is a number as it stands."""
    if not doc.tokens[i + 1].brk or i + 3 >= len(doc.tokens) or any(t.brk for t in doc.tokens[i + 2 : i + 4]):
        return
    top, below = doc.norm[i + 2], doc.norm[i + 3]
    above = 1.0 if top in ("a", "an") else VALUE.get(top, 0.0) if CLASS.get(top) == "d" else 0.0
    if CLASS.get(below) not in ("H", "Q") or not 0 < above < VALUE[below]:
        return
    unit = unit_after(doc, i + 4)
    if unit is not None:
        _put(doc, i, i + 4, _number(doc.tokens[i].text) + above / VALUE[below], unit)


def _two_points(doc: Doc, i: int) -> None:
    text = doc.tokens[i].text
    whole, _, part = text.partition(".")
    behind = doc.tokens[i + 1].text
    if len(part) == 1 and len(whole) <= 2 and len(behind) == 1:
        _put(doc, i, i + 2, float(f"{text}{behind}"), unit_after(doc, i + 2))


def _put(doc: Doc, start: int, stop: int, number: float, unit: Unit | None) -> None:
    if not doc.free(start, stop):
        return
    value = Value(
        [Parse(number, "put together", 0.0, f"{number:.10g}")],
        "written",
        unit.ucum if unit else None,
        unit.text if unit else "",
        shape="D",
        ambiguous=True,
        why=f'heard "{doc.said(start, stop)}"',
        number_stop=stop,
    )
    put_value(doc, Mention("value", start, unit.stop if unit else stop, value=value))
