"""Values said once of several things: "nine on both", "seventy four on all four", "twenty six on each unit"."""

from __future__ import annotations

import re

from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.turned import RULE as TURNED

_HOW_MANY = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_ALL = re.compile(
    r" (?:on|for|at) (?:all (?:of )?(?:the )?(\w+)(?= )"
    r"|(?:each|every)(?: one| unit| machine| rooftop| of them)?(?= $| \|)) ?"
    r"|(?<=\|) all (two|three|four|five|six|seven|eight) "
)


def _around(doc: Doc, d: Draft) -> str:
    """Four words on either side of a draft, not over another value and not over a mark of punctuation behind it."""
    low = d.start
    while low > 0 and d.start - low < 4 and not doc.tokens[low].brk:
        low -= 1
        owner = doc.owner[low]
        if owner is not None and owner.kind == "value":
            break
    high = d.stop + (d.rule == TURNED)
    while high < len(doc.tokens) and high - d.stop < 6 and not doc.tokens[high].brk:
        high += 1
    return f" {' '.join(doc.norm[low : d.start])} | {' '.join(doc.norm[d.stop : high])} "


def said_of_all(doc: Doc) -> None:
    """ "Nine on both": one for each circuit, part or machine that was named."""
    out: list[Draft] = []
    circuits: list[str] = []
    numbers: dict[str, list[str]] = {}
    for m in doc.mentions:
        if m.kind == "circuit" and m.slug and "," not in m.slug and m.slug not in circuits:
            circuits.append(m.slug)
        if m.comp and m.number and "," not in m.number and m.number.isdigit():
            known = numbers.setdefault(m.comp, [])
            if m.number not in known:
                known.append(m.number)
    for d in doc.drafts:
        said = _around(doc, d)
        entry = doc.vocabulary.points[d.point]
        if d.text or d.withdrawn or d.rule == "both sides alike":
            out.append(d)
        elif " both " not in said:
            out += _of_all(doc, d, said, circuits, numbers)
        elif entry.circuit and len(circuits) == 2:
            out += [d.copy(circuit=c) for c in circuits]
        elif (
            d.component
            and len(numbers.get(d.component, ())) == 2
            and (
                d.number is None
                or "fans" in said
                or "on both" in said
                or "both plates" in said
                or "for both" in said
                or "both rated" in said
                or "both at" in said
            )
        ):
            out += [d.copy(number=n, circuit=None) for n in sorted(numbers[d.component])]
        elif " on both " in said and len(doc.tags) == 2:
            out += [d.copy(tag=t) for t in doc.tags]
        else:
            out.append(d)
    doc.drafts[:] = out


def _of_all(doc: Doc, d: Draft, said: str, circuits: list[str], numbers: dict[str, list[str]]) -> list[Draft]:
    """ "Seventy four on all four", "twelve on each": as many machines, parts or circuits as were named."""
    found = _ALL.search(said)
    if found is None:
        return [d]
    named = next((w for w in found.groups() if w), "")
    many = _HOW_MANY.get(named)
    parts = numbers.get(d.component or "", [])
    machines = len(doc.tags) if many is None else many
    if len(doc.tags) > 1 and machines == len(doc.tags):
        return [d.copy(tag=t) for t in doc.tags]
    if many is not None and d.component and many == len(parts):
        return [d.copy(number=n) for n in sorted(parts)]
    if many is not None and many == len(circuits) and doc.vocabulary.points[d.point].circuit:
        return [d.copy(circuit=c) for c in circuits]
    return [d]
