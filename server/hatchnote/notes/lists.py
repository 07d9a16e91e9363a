"""Stage: legs, firing stages and positions of the drafts, and values said once of several things."""

from __future__ import annotations

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Doc, Draft, Mention
from hatchnote.notes.in_order import in_order
from hatchnote.notes.numbers import Parse
from hatchnote.notes.subjects import COPULA
from hatchnote.notes.vocabulary import PointEntry
from hatchnote.notes.wordlists import words

REQUIRES = ("drafts", "legs", "stage")
ASSIGNS = ("legs of drafts", "positions")

_LEGGED = frozenset({"voltage", "current", "resistance", "insulation-resistance", "control-voltage"})
_STAGED = frozenset(
    {
        "manifold-pressure",
        "inlet-gas-pressure",
        "co",
        "oxygen",
        "stack-temperature",
        "temperature-rise",
        "gas-input",
        "supply-air-temperature",
        "flame-signal",
        "draft",
        "time",
        "return-air-temperature",
    }
)
_INHERITS = frozenset(
    {"rating or setting of the point before", "goes on from before", "goes on from the sentence before"}
)
_FLUE = frozenset({"co", "oxygen"})


def lists(doc: Doc) -> None:
    """Give every draft its legs, stage and position."""
    by_sentence: dict[int, list[Draft]] = {}
    for d in doc.drafts:
        by_sentence.setdefault(d.sentence, []).append(d)
    order: list[str] = []
    flue: str | None = None
    known: dict[tuple[object, str], str] = {}
    for number, begin, end in doc.numbered_sentences():
        here = by_sentence.get(number)
        if here:
            order = _legs(doc, here, begin, end, order)
            _stages(doc, here, begin, end, flue)
            flue = here[-1].stage if here[-1].point in _IN_FLUE else None
            _even(doc, here)
            _positions(doc, here, begin, end)
            _sides(doc, here)
            for d in here:
                if (
                    d.position is None
                    and d.rule in _INHERITS
                    and d.point in ("static-pressure", "humidity", "capacitance")
                ):
                    d.position = known.get((d.tag, d.point))
                if d.position:
                    known[d.tag, d.point] = d.position
    in_order(doc, by_sentence)
    _numbers(doc)
    _both(doc)


def _around(doc: Doc, d: Draft) -> str:
    """Four words on either side of a draft, not over another value and not over a mark of punctuation behind it."""
    low = d.start
    while low > 0 and d.start - low < 4 and not doc.tokens[low].brk:
        low -= 1
        owner = doc.owner[low]
        if owner is not None and owner.kind == "value":
            break
    high = d.stop
    while high < len(doc.tokens) and high - d.stop < 4 and not doc.tokens[high].brk:
        high += 1
    return f" {' '.join(doc.norm[low : d.start])} | {' '.join(doc.norm[d.stop : high])} "


def _both(doc: Doc) -> None:
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
        if " both " not in said or d.text or d.withdrawn or d.rule == "both sides alike":
            out.append(d)
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
            out += [d.copy(number=n) for n in sorted(numbers[d.component])]
        elif " on both " in said and len(doc.tags) == 2:
            out += [d.copy(tag=t) for t in doc.tags]
        else:
            out.append(d)
    doc.drafts[:] = out


def _even(doc: Doc, drafts: list[Draft]) -> None:
    """ "6.2 on L1, 60 on L2, 61 on L3": values of one list lie near each other; a lost point is put back."""
    for run in _runs(drafts):
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


# ---------------------------------------------------------------- legs


def _legs(doc: Doc, drafts: list[Draft], begin: int, end: int, order: list[str]) -> list[str]:
    legs = [m for m in doc.within(begin, end) if m.kind == "legs"]
    for run in _runs(drafts):
        order = _legs_of_run(doc, run, legs, drafts, begin, end, order)
    return order


def _runs(drafts: list[Draft]) -> list[list[Draft]]:
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
    order: list[str],
) -> list[str]:
    low = max([begin, *(d.stop for d in drafts if d.stop <= run[0].start)])
    high = min([end, *(d.start for d in drafts if d.start >= run[-1].stop)])
    own = [m for m in legs if low <= m.start < high and not m.claimed]
    if own:
        before = [m for m in own if m.start < run[0].start]
        inner = [m for m in own if m.start > run[0].start]
        if before and len(before) == len(run) and not inner:
            _assign(run, before)
        elif before and len(before) > len(run) and len(run) == 1 and not inner:
            _assign(run, before[-1:])
        elif before:
            for d in run:
                near = [
                    m
                    for m in own
                    if m.stop <= d.start and not any(o.start < d.start and o.start >= m.stop for o in run)
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
        return names if len(names) > 1 else order
    words = " ".join(doc.norm[run[0].start : min(len(doc.norm), run[-1].stop + 6)])
    if (
        order
        and len(order) == len(run)
        and ("same order" in words or "in order" in words or "respectively" in words)
    ):
        for d, leg in zip(run, order, strict=True):
            d.legs = leg
    return order


def _assign(drafts: list[Draft], mentions: list[Mention]) -> None:
    for d, m in zip(drafts, mentions, strict=True):
        d.legs = m.slug
        m.claimed = "legs"
        d.start, d.stop = (
            min(d.start, m.start) if m.start - d.stop <= 0 and d.start - m.stop <= 2 else d.start,
            d.stop,
        )


# ---------------------------------------------------------------- stages and positions


_IN_FLUE = frozenset({"co", "oxygen", "stack-temperature"})


def _stages(doc: Doc, drafts: list[Draft], begin: int, end: int, flue: str | None) -> None:
    stages = [m for m in doc.within(begin, end) if m.kind == "stage" and m.slug]
    for d in drafts:
        if d.point in _IN_FLUE and not stages and flue and "ambient" not in doc.norm[begin:end]:
            d.stage = flue  # a flue reading that goes on over a full stop
        if d.point not in _STAGED or not stages:
            continue
        before = [m for m in stages if m.start < d.start]
        behind = [
            m
            for m in stages
            if d.stop <= m.start <= d.stop + 3
            and not any(doc.tokens[i].brk for i in range(d.stop, m.start + 1))
        ]
        on = behind and doc.norm[behind[0].start - 1] in ("on", "in", "at", "for")
        if behind and (on or not before):
            d.stage = behind[0].slug
        elif before:
            d.stage = before[-1].slug
        else:
            last = stages[-1]
            if doc.norm[last.start - 2 : last.start] in (
                ["all", "on"],
                ["all", "at"],
                ["both", "on"],
                ["all", "in"],
            ):
                d.stage = last.slug


def _positions(doc: Doc, drafts: list[Draft], begin: int, end: int) -> None:
    entries = doc.vocabulary.points
    carried: str | None = None
    for _k, d in enumerate(drafts):
        entry = entries[d.point]
        if d.position or not entry.positions:
            continue
        low = max([begin, *(o.stop for o in drafts if o.stop <= d.start)])
        high = min([end, *(o.start for o in drafts if o.start >= d.stop)])
        fresh = _tail(doc, low, d.start) if low > begin else begin
        found = position_in(doc, entry, fresh, d.start, last=True) if fresh < d.start else None
        ahead = position_in(doc, entry, d.stop, _tail(doc, d.stop, high), last=False)
        if found is None and ahead is None:
            found = position_in(doc, entry, low, d.start, last=True)
        tail = _tail(doc, d.stop, high)
        behind = position_in(doc, entry, d.stop, tail, last=False)
        if behind and (found is None or d.point == "capacitance"):
            found = behind
        elif d.point == "capacitance" and not any(
            doc.norm[i] in ("herm", "side", "section", "terminal") for i in range(low, d.start)
        ):
            found = None  # "the fan's capacitor" is no section of it
        if d.point in _FLUE:
            analysed = d.stage is not None or any(o.point in ("oxygen", "stack-temperature") for o in drafts)
            if found is None and carried is None and analysed:
                carried = "flue"  # a reading of the flue gas, whatever was left unsaid
            if found is None:
                found = carried or position_in(doc, entry, begin, low, last=True) or entry.default_position
            if found is None and d.point == "co" and _in_a_room(doc, begin, end):
                found = "ambient"
            carried = found
        d.position = found or _carried(doc, drafts, _k)
    for d in drafts:
        if (
            d.point in entries
            and d.point.endswith("-air-temperature")
            and "wet bulb" in " ".join(doc.norm[max(begin, d.start - 5) : min(end, d.stop + 3)])
        ):
            back = d.start
            while back > begin and d.start - back < 3 and not doc.tokens[back].brk:
                back -= 1
            near = " ".join(doc.norm[back : d.start])
            after = " ".join(doc.norm[d.stop : min(end, d.stop + 2)])
            if "wet bulb" in near or after.startswith("wet bulb"):
                d.position = "wet-bulb"


_SIDES = frozenset(["left", "right", "front", "rear", "top", "bottom", "upper", "lower", "middle"])


def _sides(doc: Doc, drafts: list[Draft]) -> None:
    """ "Condenser fans, left one point six, right one point seven": two of a kind told apart by their side."""
    sided: list[tuple[Draft, int]] = []
    for d in drafts:
        i = d.at - 1
        while i > 0 and not doc.tokens[i + 1].brk and (doc.norm[i] in COPULA or doc.norm[i] == "one"):
            i -= 1
        if d.component and i >= 0 and doc.norm[i] in _SIDES and not doc.tokens[i + 1].brk:
            sided.append((d, i))
    kinds = {(d.component, d.point) for d, _ in sided}
    if len(sided) < 2 or len(kinds) != 1:
        return
    for d, i in sided:
        d.number = doc.norm[i]
        owner = doc.owner[i]
        if owner is not None and owner.has("cue"):
            owner.claimed = "side"


def _carried(doc: Doc, drafts: list[Draft], k: int) -> str | None:
    """ "Return static was negative one point one, now it's negative point six": still the return's."""
    before = drafts[k - 1] if k else None
    if before is None or before.point != drafts[k].point or before.point not in ("static-pressure", "humidity"):
        return None
    between = doc.within(before.stop, drafts[k].start)
    return before.position if any(m.has("cue", "left", "setting", "was", "found", "set", "rated") for m in between) else None


_NO_ROOM = words("flue stack vent exhaust unit heat machine burner box morning end meantime air red line")


def _in_a_room(doc: Doc, begin: int, end: int) -> bool:
    """ "In the hall", "in the brewhouse": carbon monoxide where people are."""
    return any(
        doc.norm[i] in ("in", "inside") and doc.norm[i + 1] in ("the", "their") and doc.norm[i + 2] not in _NO_ROOM
        for i in range(begin, end - 2)
    )


def _tail(doc: Doc, start: int, stop: int) -> int:
    """Up to the next mark of punctuation or "and"."""
    i = start
    while i < stop and not doc.tokens[i].brk and doc.norm[i] not in ("and", "but"):
        i += 1
    return i


def position_in(doc: Doc, entry: PointEntry, start: int, stop: int, *, last: bool) -> str | None:
    found: str | None = None
    length = 0
    i = start
    while i < stop:
        for said, position in entry.positions.items():
            words = said.split()
            here = i + len(words) <= stop and doc.norm[i : i + len(words)] == words
            if here and (found is None or (last and len(words) >= length)):
                found, length = position, len(words)
        i += 1
    return found


# ---------------------------------------------------------------- numbers of parts


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
