"""Parts of one kind told by their number alone: "compressor amps. One is nine two, two is nine four"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machine_rows import alternating, told_of
from hatchnote.notes.part_numbers import NUMBERED
from hatchnote.notes.vocabulary import Term

_NUMBERS = {str(n): str(n) for n in range(1, 5)}
"""A rooftop machine mostly has no more of a kind (common practice, no source)."""
_REACH = 16


def part_rows(doc: Doc) -> None:
    """Put the part on every such number; rows of machines, where several were named together, are left alone."""
    heading: Mention | None = None
    for begin, end in doc.sentences:
        here = doc.within(begin, end)
        if any(m.kind == "machines" for m in here):
            heading = None
            continue
        kin = next((m for m in here if m.comp in NUMBERED and m.kind == "word" and not m.modifier), None)
        least = 1 if kin is not None and kin.number is not None else 2
        row = sorted({*told_of(doc, _NUMBERS, begin, end, least), *alternating(doc, _NUMBERS, begin, end)})
        row = [r for r in row if len(r[2]) == 1 and _free(doc, r[0])]
        start = kin.start if kin is not None else begin
        head = kin if kin is not None else heading
        if head is not None and row:
            numbers = [n for r in row for n in r[2]]
            if head.number is not None:
                ordered = "," not in head.number and numbers[0] != head.number and row[0][0] > start
                ordered = ordered and row[0][0] - head.stop <= _REACH and kin is not None
            else:
                ordered = len(numbers) > 1 and numbers == sorted(set(numbers)) and numbers[0] == "1"
            if ordered and all(r[0] > start or kin is None for r in row):
                for at, stop, number in row:
                    for other in doc.within(at, stop):
                        doc.drop(other)
                    doc.put(Mention("word", at, stop, _part_only(head), comp=head.comp, number=number[0]))
        values = any(o is not None and o.kind == "value" for o in doc.owner[begin:end])
        heading = kin if kin is not None and not values and end - begin <= 6 else None


def _part_only(m: Mention) -> tuple[Term, ...]:
    return tuple(t for t in m.terms if t.kind in ("component", "family")) or m.terms


def _free(doc: Doc, at: int) -> bool:
    owner = doc.owner[at]
    return owner is None or (owner.kind == "word" and not owner.comp)
