"""The legs that readings are of: told beside them, in rows before or behind, or once for all that follow."""

from __future__ import annotations

from dataclasses import dataclass, field

from hatchnote.notes.doc import Doc, Draft, Mention

_LEGGED = frozenset({"voltage", "current", "resistance", "insulation-resistance", "control-voltage"})
_ON = frozenset({"on", "at", "for", "across", "between"})
_SAME = (
    "same order",
    "in order",
    "in that order",
    "respectively",
    "same legs",
    "same phases",
    "same three",
    "same lines",
)
_LEAST = 2


@dataclass(slots=True)
class Order:
    """The order in which legs were last told."""

    pairs: list[str] = field(default_factory=list)
    """Legs against legs: what volts are read between."""
    single: list[str] = field(default_factory=list)
    """Legs one by one: what amps are read on."""
    headed: list[str] = field(default_factory=list)
    """Told once, before any value: "amps on L one, L two, L three."; holds until legs are told anew."""

    def told(self, names: list[str]) -> None:
        if all("-" in n for n in names):
            self.pairs = names
        elif not any("-" in n for n in names):
            self.single = names

    def of(self, d: Draft) -> list[str]:
        return self.pairs if d.point == "voltage" else self.single


def give_legs(doc: Doc, drafts: list[Draft], begin: int, end: int, order: Order) -> None:
    """Give the drafts of one sentence their legs."""
    legs = [m for m in doc.within(begin, end) if m.kind == "legs" and not m.claimed]
    runs = [part for run in runs_of(drafts) for part in _between_groups(doc, run, legs)]
    if legs:
        order.headed = _heading(legs, runs)
        if order.headed:
            order.told(order.headed)
    for run in runs:
        _legs_of_run(doc, run, legs, drafts, begin, end, order)


def _heading(legs: list[Mention], runs: list[list[Draft]]) -> list[str]:
    """Legs told in a row before the first value, for rows of as many values of several things."""
    names = [m.slug for m in legs]
    if len(names) < _LEAST or len(set(names)) < len(names):
        return []
    if not runs:
        return names
    first = runs[0][0].start
    headed = all(m.start < first for m in legs) and all(len(r) in (1, len(names)) for r in runs)
    return names if headed and sum(len(r) == len(names) for r in runs) >= _LEAST else []


def _between_groups(doc: Doc, run: list[Draft], legs: list[Mention]) -> list[list[Draft]]:
    """ "Ten one, ten three, ten two on L one, L two, L three, plate twelve": a row of legs ends its row of values."""
    out: list[list[Draft]] = [[]]
    behind = not any(m.stop <= run[0].start for m in legs)
    for d in run:
        last = out[-1][-1] if out[-1] else None
        if last is not None and len(out[-1]) > 1:
            between = sum(last.stop <= m.start < d.start for m in legs)
            row = behind and between == len(out[-1])
            if row or any(m.has("cue", "rated") for m in doc.within(last.stop, d.start)):
                out.append([])
        out[-1].append(d)
    return out


def runs_of(drafts: list[Draft]) -> list[list[Draft]]:
    """Drafts of one point and part in a row."""
    out: list[list[Draft]] = []
    for d in drafts:
        if d.point not in _LEGGED:
            continue
        last = out[-1][-1] if out else None
        if last is not None and (last.point, last.component, last.number) == (d.point, d.component, d.number):
            out[-1].append(d)
        else:
            out.append([d])
    return out


def _legs_of_run(
    doc: Doc,
    run: list[Draft],
    legs: list[Mention],
    drafts: list[Draft],
    begin: int,
    end: int,
    order: Order,
) -> None:
    low = max([begin, *(d.stop for d in drafts if d.stop <= run[0].start)])
    high = min([end, *(d.start for d in drafts if d.start >= run[-1].stop)])
    own = [m for m in legs if low <= m.start < high and not m.claimed]
    if len(own) == 1 and own[0].start < run[0].start and _one_leg_of_each(doc, run):
        for k, d in enumerate(run):
            d.legs, d.number = own[0].slug, str(k + 1)
        own[0].claimed = "legs"
        return
    if own:
        before = [m for m in own if m.start < run[0].start]
        inner = [m for m in own if m.start > run[0].start]
        if before and len(before) == len(run) and not inner:
            _assign(run, before)
        elif before and len(before) > len(run) and len(run) == 1 and not inner:
            _assign(run, before[-1:])
        elif before:
            closing: list[Mention] = []
            for d in run:
                behind = next((m for m in own if _right_behind(doc, d, m)), None)
                if behind is not None:
                    closing.append(behind)
                    _assign([d], [behind])
                    continue
                near = [
                    m
                    for m in own
                    if m not in closing
                    and m.stop <= d.start
                    and not any(o.start < d.start and o.start >= m.stop for o in run)
                ]
                if near:
                    _assign([d], near[-1:])
        elif len(inner) == len(run) and inner[0].start > run[-1].start:
            _assign(run, inner)
        else:
            for k, d in enumerate(run):
                stop = run[k + 1].start if k + 1 < len(run) else high
                near = [m for m in inner if d.stop <= m.start < stop]
                if near:
                    _assign([d], near[:1])
    names = [d.legs for d in run if d.legs]
    if own or len(names) == len(run) > 1:
        if len(names) > 1:
            order.told(names)
        return
    said = f" {' '.join(doc.norm[low : min(high, run[-1].stop + 6)])} "
    same = order.of(run[0]) if any(f" {w} " in said for w in _SAME) else order.headed
    if len(same) == len(run) and ("-" in same[0]) == (run[0].point == "voltage") and not any(names):
        for d, leg in zip(run, same, strict=True):
            d.legs = leg


def _right_behind(doc: Doc, d: Draft, m: Mention) -> bool:
    """ "Eleven four on L two,": the leg closes the clause of its value."""
    if m.claimed or m.start < d.stop or any(t.brk for t in doc.tokens[d.stop : m.start + 1]):
        return False
    said = doc.norm[d.stop : m.start]
    closes = m.stop >= len(doc.norm) or doc.tokens[m.stop].brk > 0 or doc.norm[m.stop] in ("and", "then")
    return bool(said) and said[-1] in _ON and len(said) <= 2 and closes


def _assign(drafts: list[Draft], mentions: list[Mention]) -> None:
    for d, m in zip(drafts, mentions, strict=True):
        d.legs = m.slug
        m.claimed = "legs"
        d.start, d.stop = (
            min(d.start, m.start) if m.start - d.stop <= 0 and d.start - m.stop <= 2 else d.start,
            d.stop,
        )


_BACK = 200
_HOW_MANY = {"two": 2, "three": 3, "four": 4, "2": 2, "3": 3, "4": 4}


def _one_leg_of_each(doc: Doc, run: list[Draft]) -> bool:
    """ "Three compressors. L one amps, nine one, nine four, nine two.": a table told leg by leg."""
    first = run[0]
    if len(run) < _LEAST or first.component is None or any(d.number or d.legs for d in run):
        return False
    near = doc.within(max(0, first.start - _BACK), first.start)
    said = [m for m in near if m.comp == first.component and m.plural and m.start]
    return any(_HOW_MANY.get(doc.norm[m.start - 1]) == len(run) for m in said)
