"""What a verb is done to, as one thing: its part, number and count."""

from __future__ import annotations

from dataclasses import dataclass

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words


@dataclass(slots=True)
class Object:
    """A part a verb is done to."""

    comp: str
    number: str | None
    count: float | None
    start: int
    stop: int
    pronoun: bool = False
    done: bool = False
    mention: Mention | None = None
    plural: bool = False
    sized: bool = False
    """Whether the size said of the part before is this one's too ("hung two new ones")."""


def count_at(doc: Doc, at: int) -> float | None:
    """A count of things at token `at`: "four", "both", "a couple"; None where there is none."""
    word = doc.norm[at]
    if word == "both":
        return 2
    if word == "couple":
        return 2
    if word in ("pair",):
        return 2
    if word == "dozen":
        return 12
    value = number_word(doc, at)
    if (
        value is not None
        and CLASS.get(word) == "d"
        and at
        and CLASS.get(doc.norm[at - 1]) == "x"
        and not doc.tokens[at].brk
    ):
        value += number_word(doc, at - 1) or 0
    return value


def from_mention(doc: Doc, m: Mention) -> Object:
    """The object that a part's mention stands for, with the count said before it."""
    return Object(
        m.comp,
        m.number,
        count_before(doc, m),
        m.start,
        m.stop,
        mention=m,
        plural=m.plural or _plural_family(m),
    )


def _plural_family(m: Mention) -> bool:
    return any(t.plural for t in m.terms if t.kind in ("component", "family"))


_COUNT_SKIP = words(
    """
    new old more pieces piece pcs of the blower pleated those two-inch condenser dirty bad blown good
    worn supply return main all last round oval dual
    """
)


_SECTIONED = ("run-capacitor", "start-capacitor")
_MOST = 48
_MANY = frozenset({"panel-screw", "wire-terminal", "air-filter"})
_PIECES = frozenset({"pieces", "piece", "pcs"})


def count_before(doc: Doc, m: Mention) -> float | None:
    """ "four filters", "both bearings", "all three fuses", "a set of six filters"."""
    i = m.start - 1
    steps = 0
    while i >= 0 and steps < 5:
        if doc.tokens[i + 1].brk and not (doc.tokens[i + 1].brk == 1 and doc.norm[i] in _PIECES):
            return None
        owner = doc.owner[i]
        if doc.norm[i] in ("plus", "+") and m.comp in _SECTIONED:
            i -= 1
            continue
        if owner is not None and owner.kind == "size":
            i = owner.start - 1
            steps += 1
            continue
        if (
            owner is not None
            and owner.kind == "value"
            and owner.value is not None
            and owner.value.ucum not in (None,)
        ):
            i = owner.start - 1
            steps += 1
            continue
        count = count_at(doc, i)
        if count is not None and doc.norm[i + 1] == "the" and doc.norm[i] != "both":
            return None  # "on five the coil": a place
        if count is not None:
            if owner is not None and owner.kind == "value":
                whole = owner.value is not None and owner.stop == i + 1 and owner.value.first == count
                if owner.stop - owner.start > 1 and not whole:
                    return None
                owner.claimed = "count"
            elif owner is not None and owner.kind not in ("word", "value"):
                return None
            if (count > _MOST and m.comp not in _MANY) or (
                i and doc.norm[i - 1] in ("a", "an") and owner is not None and owner.kind == "value"
            ):
                return None
            if i >= 3 and doc.norm[i - 2 : i] in (["of", "the"], ["of", "those"]) and count_at(doc, i - 3):
                return count_at(doc, i - 3)  # "two of the three fuses"
            return count if count >= 1 else None
        if doc.norm[i] not in _COUNT_SKIP and not (owner is not None and owner.has("condition")):
            return None
        i -= 1
        steps += 1
    return None


def dedupe(found: list[Object]) -> list[Object]:
    out: list[Object] = []
    for o in found:
        if not any(x.comp == o.comp and x.number == o.number for x in out):
            out.append(o)
    return out
