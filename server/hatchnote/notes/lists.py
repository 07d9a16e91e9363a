"""Stage: legs, firing stages and positions of the drafts, and values said once of several things."""

from __future__ import annotations

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.firing_stages import in_pairs, under_headings
from hatchnote.notes.in_order import in_order
from hatchnote.notes.legs_given import Order, give_legs, runs_of
from hatchnote.notes.numbers import Parse
from hatchnote.notes.positions import IN_FLUE, measured_at, positions, sides, stages
from hatchnote.notes.rise_or_drop import rise_or_drop
from hatchnote.notes.said_of_all import said_of_all

REQUIRES = ("drafts", "legs", "stage")
ASSIGNS = ("legs of drafts", "positions")
_INHERITS = frozenset(
    {"rating or setting of the point before", "goes on from before", "goes on from the sentence before"}
)


def lists(doc: Doc) -> None:
    """Give every draft its legs, stage and position."""
    by_sentence: dict[int, list[Draft]] = {}
    for d in doc.drafts:
        by_sentence.setdefault(d.sentence, []).append(d)
    order = Order()
    flue: str | None = None
    known: dict[tuple[object, str], str] = {}
    for number, begin, end in doc.numbered_sentences():
        here = by_sentence.get(number)
        give_legs(doc, here or [], begin, end, order)
        if here:
            stages(doc, here, begin, end, flue)
            in_pairs(doc, here, begin, end)
            flue = here[-1].stage if here[-1].point in IN_FLUE else None
            _even(doc, here)
            positions(doc, here, begin, end)
            measured_at(doc, here, begin, end)
            sides(doc, here)
            for d in here:
                if (
                    d.position is None
                    and d.rule in _INHERITS
                    and d.point in ("static-pressure", "humidity", "capacitance")
                ):
                    d.position = known.get((d.tag, d.point))
                if d.position:
                    known[d.tag, d.point] = d.position
    under_headings(doc, by_sentence)
    in_order(doc, by_sentence)
    rise_or_drop(doc, doc.drafts)
    _numbers(doc)
    said_of_all(doc)


def _even(doc: Doc, drafts: list[Draft]) -> None:
    """ "6.2 on L1, 60 on L2, 61 on L3": values of one list lie near each other; a lost point is put back."""
    for run in runs_of(drafts):
        sure = [
            d.value
            for d in run
            if d.value
            and d.source is not None
            and d.source.value is not None
            and (d.source.value.style == "decimal" or d.source.value.shape == "D")
        ]
        if not sure or len(run) < 2:
            continue
        middle = sorted(sure)[len(sure) // 2]
        for d in run:
            if (
                d.value
                and d.source is not None
                and d.source.value is not None
                and d.source.value.shape == "N"
                and d.value > 4 * middle
            ):
                near = [p for p in d.source.value.parses if middle / 2 < p.value < middle * 2]
                text = f"{d.value:.10g}"
                if not near and len(text) > 1 and middle / 2 < d.value / 10 < middle * 2:
                    near = [Parse(d.value / 10, "point lost", 1.0, "")]
                if near:
                    d.others = (Alternative(d.value, d.ucum, text), *d.others)
                    d.value = near[0].value
                    d.doubts.append(f"heard {text}, beside {middle:g}")


def _numbers(doc: Doc) -> None:
    """ "Compressor one and two, eleven two and eleven four": one each; a single value is said of both."""
    out: list[Draft] = []
    i = 0
    drafts = doc.drafts
    while i < len(drafts):
        d = drafts[i]
        if d.number and "," in d.number:
            numbers = d.number.split(",")
            run = [d]
            while (
                len(run) < len(numbers)
                and i + len(run) < len(drafts)
                and drafts[i + len(run)].number == d.number
                and drafts[i + len(run)].point == d.point
                and drafts[i + len(run)].sentence == d.sentence
            ):
                run.append(drafts[i + len(run)])
            if len(run) == len(numbers):
                for one, number in zip(run, numbers, strict=True):
                    one.number = number
                    out.append(one)
            else:
                for one in run:
                    for number in numbers:
                        out.append(one.copy(number=number))
            i += len(run)
            continue
        out.append(d)
        i += 1
    doc.drafts[:] = _circuits(out)


def _circuits(drafts: list[Draft]) -> list[Draft]:
    """ "Circuit one and two both have eleven degrees of superheat": one each."""
    out: list[Draft] = []
    i = 0
    while i < len(drafts):
        d = drafts[i]
        if not d.circuit or "," not in d.circuit:
            out.append(d)
            i += 1
            continue
        names = d.circuit.split(",")
        run = [d]
        while (
            len(run) < len(names)
            and i + len(run) < len(drafts)
            and drafts[i + len(run)].circuit == d.circuit
            and drafts[i + len(run)].point == d.point
        ):
            run.append(drafts[i + len(run)])
        for k, name in enumerate(names):
            if len(run) == len(names):
                run[k].circuit = name
                out.append(run[k])
            else:
                out.append(d.copy(circuit=name))
        i += len(run) if len(run) == len(names) else 1
    return out
