"""Stage: names that numbers belong to: circuits, legs, firing stages, a part's own number, phases, refrigerants."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Repair
from hatchnote.notes.firing_stages import stages_by_side
from hatchnote.notes.legs_between import legs_between
from hatchnote.notes.legs_listed import legs_listed
from hatchnote.notes.legs_named import find_legs
from hatchnote.notes.machines import number_word
from hatchnote.notes.marked import take_over
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.part_numbers import MEASURED, find_part_numbers
from hatchnote.notes.part_rows import part_rows
from hatchnote.notes.refrigerants_named import find_refrigerants

_ORDINAL = {"first": "1", "second": "2", "third": "3"}
REQUIRES = ("mentions", "machines")
ASSIGNS = ("circuit", "legs", "stage", "part_numbers", "refrigerant")
_LINE_VOLTS = frozenset({200, 220, 230, 240, 380, 400, 440, 460, 480})


def marks(doc: Doc) -> None:
    """Find all of them, so that their numbers are no readings."""
    find_refrigerants(doc)
    _phases(doc)
    _circuits_and_stages(doc)
    stages_by_side(doc)
    _stages_beside(doc)
    _next_circuits(doc)
    legs_listed(doc)
    find_legs(doc)
    legs_between(doc)
    find_part_numbers(doc)
    doc.settle()
    part_rows(doc)
    doc.settle()


def _phases(doc: Doc) -> None:
    for i in range(1, len(doc.tokens)):
        text = doc.tokens[i - 1].text
        if (
            doc.norm[i] == "phase"
            and not doc.tokens[i].brk
            and len(text) == 3
            and text.isdigit()
            and text[-1] == "3"
            and int(text) - 3 in _LINE_VOLTS
        ):
            doc.phased.add(i - 1)  # "463 phase": four sixty, three phase
            doc.repairs.append(Repair(i - 1, i + 1, doc.said(i - 1, i + 1), f"{int(text) - 3}, 3 phase"))
            take_over(doc, i, i + 1, "phase", "3")
    for i in range(1, len(doc.tokens)):
        if (
            doc.norm[i] in ("phase", "ph")
            and (doc.norm[i - 1] in ("three", "single", "3", "1"))
            and not doc.tokens[i].brk
        ):
            take_over(doc, i - 1, i + 1, "phase", "3" if doc.norm[i - 1] in ("three", "3") else "1")


def _circuits_and_stages(doc: Doc) -> None:
    n = len(doc.tokens)
    for i in range(n):
        word = doc.norm[i]
        owner = doc.owner[i]
        if owner is not None and owner.kind != "word":
            continue
        if word == "circuit" or (
            word == "c" and i + 1 < n and doc.tokens[i + 1].glued and doc.tokens[i].text == "C"
        ):
            at = i + 1
            if at < n and doc.norm[at] == "number":
                at += 1
            value = number_word(doc, at) if at < n and not doc.tokens[at].brk else None
            if (
                value is None
                and at < n
                and doc.norm[at] in ("a", "b")
                and word == "circuit"
                and doc.tokens[at].text.isupper()
            ):
                _circuit(doc, i, at + 1, doc.norm[at].upper())
            elif value is not None and 1 <= value <= 8:
                second = number_word(doc, at + 2) if at + 2 < n and doc.norm[at + 1] == "and" else None
                after = doc.norm[at + 3] if at + 3 < n else ""
                if (
                    second is not None
                    and 1 <= second <= 8
                    and CLASS.get(after, ".") == "."
                    and (at + 3 >= n or doc.tokens[at + 3].kind == "w")
                    and after not in MEASURED
                ):
                    _circuit(doc, i, at + 3, f"{value},{second}")
                else:
                    _circuit(doc, i, at + 1, str(value))
            elif i and doc.norm[i - 1] in ("first", "second", "third"):
                _circuit(doc, i - 1, i + 1, _ORDINAL[doc.norm[i - 1]])
            elif i and doc.norm[i - 1] in ("a", "b") and doc.tokens[i - 1].text.isupper():
                _circuit(doc, i - 1, i + 1, doc.norm[i - 1].upper())
            elif i >= 2 and doc.norm[i - 2] == "number" and number_word(doc, i - 1):
                _circuit(doc, i - 2, i + 1, str(number_word(doc, i - 1)))
        elif word in ("fire", "stage", "heat") and i:
            before = doc.norm[i - 1]
            if before in ("low", "high", "lo", "hi") and not doc.tokens[i].brk:
                take_over(doc, i - 1, i + 1, "stage", "low" if before.startswith("lo") else "high")
            elif word != "heat" and before in ("first", "second") and not doc.tokens[i].brk:
                if word == "fire" or (
                    i + 1 < n and doc.norm[i + 1] in ("heat", "gas", "fire", "manifold", "firing")
                ):
                    take_over(doc, i - 1, i + 1, "stage", "low" if before == "first" else "high")
                else:
                    take_over(doc, i - 1, i + 1, "stage", "")
            elif word == "stage" and i + 1 < n and number_word(doc, i + 1) is not None:
                take_over(doc, i, i + 2, "stage", "")


def _next_circuits(doc: Doc) -> None:
    """ "Circuit one superheat ten, two is twelve": the next circuit, by its number alone."""
    for begin, end in doc.sentences:
        named = {m.slug for m in doc.within(begin, end) if m.kind == "circuit" and m.slug.isdigit()}
        if not named:
            continue
        told = any(m.kind == "circuit" and m.number == "on" for m in doc.within(begin, end))
        for i in range(begin + 1, end):
            value = number_word(doc, i)
            if value is None or not 1 <= value <= 8 or str(value) in named:
                continue
            closes = i + 1 >= end or bool(doc.tokens[i + 1].brk)
            if told and closes and doc.norm[i - 1] == "on" and doc.owner[i] is None:
                _circuit(doc, i, i + 1, str(value))  # "three forty on circuit one and three fifty on two"
            if closes:
                continue
            opens = doc.tokens[i].brk == 1 or doc.norm[i - 1] in ("and", "but", "then", "on")
            if (
                opens
                and doc.owner[i] is None
                and doc.norm[i + 1] in ("is", "was", "has", "had", "reads", "it's", "at")
            ):
                _circuit(doc, i, i + 1, str(value))


def _stages_beside(doc: Doc) -> None:
    """ "Second stage manifold's three five, first stage one seven": a stage is a firing stage beside another."""
    for begin, end in doc.sentences:
        here = [m for m in doc.within(begin, end) if m.kind == "stage"]
        if any(m.slug for m in here):
            for m in here:
                first = doc.norm[m.start]
                if not m.slug and first in ("first", "second"):
                    m.slug = "low" if first == "first" else "high"


def _circuit(doc: Doc, start: int, stop: int, slug: str) -> None:
    m = take_over(doc, start, stop, "circuit", slug)
    before = doc.norm[start - 1] if start else ""
    m.number = before if before in ("on", "for", "of") else None
