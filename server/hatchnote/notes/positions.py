"""Firing stages, positions and sides of the drafts of one sentence, by the words around their values."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.subjects import COPULA
from hatchnote.notes.vocabulary import PointEntry
from hatchnote.notes.wordlists import words

_STAGED = words(
    """
    manifold-pressure inlet-gas-pressure co oxygen stack-temperature temperature-rise gas-input
    supply-air-temperature flame-signal draft time return-air-temperature
    """
)
_FLUE = frozenset({"co", "oxygen"})
IN_FLUE = frozenset({"co", "oxygen", "stack-temperature"})


def stages(doc: Doc, drafts: list[Draft], begin: int, end: int, flue: str | None) -> None:
    stages = [m for m in doc.within(begin, end) if m.kind == "stage" and m.slug]
    for d in drafts:
        if d.point in IN_FLUE and not stages and flue and "ambient" not in doc.norm[begin:end]:
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
        turned = all(
            any(o.stop <= m.start <= o.stop + 3 for m in stages)
            and not any(m.start < o.start for m in stages)
            for o in drafts[:1]
        )
        on = (behind and turned) or (behind and doc.norm[behind[0].start - 1] in ("on", "in", "at", "for"))
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


_TOLD_AT = words(
    "that those all these this measured taken read checked reading it's that's is are was and at the"
)


def measured_at(doc: Doc, drafts: list[Draft], begin: int, end: int) -> None:
    """ "Four eighty, four sixty, four seventy nine, and that's at the disconnect": where all the volts were read."""
    volts = [d for d in drafts if d.point == "voltage"]
    if len(volts) < _ROW or any(d.component for d in volts):
        return
    last = max(d.stop for d in volts)
    behind = next((m for m in doc.within(last, end) if m.comp), None)
    if behind is None or behind.comp not in doc.vocabulary.points["voltage"].components:
        return
    between = doc.norm[last : behind.start]
    if "at" in between[-2:] and len(between) > 2 and all(w in _TOLD_AT or w == "volts" for w in between):
        for d in volts:
            d.component, d.number = behind.comp, behind.number


_ROW = 2
_AIR = {
    "space-temperature": "space",
    "return-air-temperature": "return",
    "outdoor-air-temperature": "outdoor",
}
_WITH = words("with and the its at is of relative humidity rh r h degrees it a sitting running")


def _beside(doc: Doc, before: Draft, d: Draft) -> str | None:
    """Where the air is whose temperature was told right before its humidity."""
    place = _AIR.get(before.point)
    between = doc.norm[before.stop : d.start]
    return place if place and between and all(w in _WITH for w in between) else None


def positions(doc: Doc, drafts: list[Draft], begin: int, end: int) -> None:
    entries = doc.vocabulary.points
    carried: str | None = None
    for k, d in enumerate(drafts):
        entry = entries[d.point]
        if d.point == "humidity" and not d.position and k:
            d.position = _beside(
                doc, drafts[k - 1], d
            )  # "outside it's eighty eight with the humidity at fifty"
        if d.position and d.point in _FLUE:
            carried = d.position
        if d.position or not entry.positions:
            continue
        low = max([begin, *(o.stop for o in drafts if o.stop <= d.start)])
        ahead_of = (m.start for m in doc.within(d.stop, end) if m.kind == "value")
        high = min([end, *(o.start for o in drafts if o.start >= d.stop), *ahead_of])
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
        d.position = found or _carried(doc, drafts, k)
    for d in drafts:
        if (
            d.point in entries
            and d.point.endswith("-air-temperature")
            and "wet bulb" in " ".join(doc.norm[max(begin, d.start - 5) : min(end, d.stop + 3)])
        ):
            back = d.start
            while (
                back > begin
                and d.start - back < 3
                and (not doc.tokens[back].brk or (back == d.start and doc.norm[back - 1] == "bulb"))
            ):
                back -= 1
            near = " ".join(doc.norm[back : d.start])
            after = " ".join(doc.norm[d.stop : min(end, d.stop + 2)])
            leads = any(o.start == d.stop + 2 for o in drafts)  # "sixty eight, wet bulb fifty nine"
            if "wet bulb" in near or (after.startswith("wet bulb") and not leads):
                d.position = "wet-bulb"


_SIDES = words(
    """
    left right front rear top bottom upper lower middle
    """
)


def sides(doc: Doc, drafts: list[Draft]) -> None:
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
    if (
        before is None
        or before.point != drafts[k].point
        or before.point not in ("static-pressure", "humidity")
    ):
        return None
    between = doc.within(before.stop, drafts[k].start)
    told = any(m.kind == "machine" for m in between) or any(
        m.has("cue", "left", "setting", "was", "found", "set", "rated") for m in between
    )
    return before.position if told else None


_NO_ROOM = words("flue stack vent exhaust unit heat machine burner box morning end meantime air red line")


def _in_a_room(doc: Doc, begin: int, end: int) -> bool:
    """ "In the hall", "in the brewhouse": carbon monoxide where people are."""
    return any(
        doc.norm[i] in ("in", "inside")
        and doc.norm[i + 1] in ("the", "their")
        and doc.norm[i + 2] not in _NO_ROOM
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
