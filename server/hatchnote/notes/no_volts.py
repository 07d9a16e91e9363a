"""A zero told without a number: "240 on the primary and nothing on the secondary", "zip on the load side"."""

from __future__ import annotations

from hatchnote.notes.amounts import put_value
from hatchnote.notes.doc import Doc, Mention, Value
from hatchnote.notes.numbers import Parse
from hatchnote.notes.wordlists import words

_ZEROS = frozenset({"nothing", "zip", "zilch", "nada", "zippo", "squat", "none"})
_WHERE = frozenset({"on", "at", "across", "off"})
_SIDES = words("secondary primary")
_REACH = 12


def no_volts(doc: Doc) -> None:
    """Put zero volts on such a word, where the other side of the transformer was told in volts right before."""
    for i, word in enumerate(doc.norm):
        if word not in _ZEROS or i + 2 >= len(doc.norm) or doc.norm[i + 1] not in _WHERE:
            continue
        at = i + 2 + (doc.norm[i + 2] == "the")
        if (
            at >= len(doc.norm)
            or doc.norm[at] not in _SIDES
            or any(t.brk for t in doc.tokens[i + 1 : at + 1])
        ):
            continue
        other = next(iter(_SIDES - {doc.norm[at]}))
        if other not in doc.norm[max(0, i - _REACH) : i]:
            continue
        if {"zero", "0"} & set(doc.norm[at + 1 : at + 3]):
            continue  # "nothing on the secondary, zero": the number is said too
        value = Value([Parse(0.0, "state", 0.0, "0")], "state", "V", "volts", number_stop=i + 1)
        put_value(doc, Mention("value", i, i + 1, value=value))
