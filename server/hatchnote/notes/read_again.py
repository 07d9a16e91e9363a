"""As found because it was read again: what was read before the work, and again after it.

Work on one thing moves its whole family of readings: who says suction before and after has told of the charge as he
found it with the head, the line temperatures and the superheat of the same breath. The inlet is no kin of the manifold.
"""

from __future__ import annotations

from itertools import pairwise

from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.switch_points import WORKS_AT
from hatchnote.notes.wordlists import words

NO_MOMENT = frozenset({"refrigerant-charge", "outdoor-air-temperature", "torque"})
SIZES = frozenset({"belt-size", "filter-size"})
_WORKED = words(
    """
    replace install repair adjust tighten clean flush reset charge align seal lubricate rewire bypass evacuate
    remove restore insulate recover
    """
)
_READ_NOT_SET = frozenset({"manifold-pressure", "superheat", "subcooling", "belt-deflection"})
"""Points that a control has no number for: what it "was set at" is what was read."""
_FAMILIES = (
    "suction-pressure discharge-pressure liquid-pressure suction-line-temperature liquid-line-temperature"
    " discharge-line-temperature superheat subcooling",
    "static-pressure pressure-drop airflow air-speed",
    "manifold-pressure gas-input time",
    "return-air-temperature supply-air-temperature mixed-air-temperature temperature-drop temperature-rise",
)
_FAMILY = {point: k for k, names in enumerate(_FAMILIES) for point in names.split()}


def family(point: str) -> int | str:
    """The points that move with `point` when work is done."""
    return _FAMILY.get(point, point)


def _key(d: Draft) -> tuple[object, ...]:
    return (d.tag, d.point, d.component, d.number, d.circuit, d.position)


def _breath(d: Draft) -> tuple[object, ...]:
    """What was said together: of one machine and circuit in one sentence; of one part where parts have their own."""
    kin = family(d.point)
    part = (d.component, d.number) if isinstance(kin, str) else None
    return (d.sentence, d.tag, d.circuit, kin, part)


def read_again(doc: Doc) -> None:
    """Give every draft that was read before the work and again after it, and those of its breath, their moment."""
    drafts = sorted((d for d in doc.drafts if not d.withdrawn and d.rule != WORKS_AT), key=lambda d: d.at)
    worked: dict[object, list[tuple[int, str | None]]] = {}
    for item in doc.items:
        if item.kind == "work" and item.fields["state"] == "done" and item.fields["verb"] in _WORKED:
            worked.setdefault(item.tag, []).append((item.at, item.fields["component"]))
    groups = _found_before(doc, drafts, worked)
    _changed_by_work(drafts, worked)
    for d in drafts:
        if (
            d.moment is None and d.basis == "measured" and d.point not in NO_MOMENT and _breath(d) in groups
        ) and not any(o.moment == "as-left" and o.sentence == d.sentence and o.at < d.at for o in drafts):
            d.moment = "as-found"


def _found_before(
    doc: Doc, drafts: list[Draft], worked: dict[object, list[tuple[int, str | None]]]
) -> set[tuple[object, ...]]:
    """Mark what is read again as left; the sentences, with machine, circuit and family, that this was said in."""
    last_left: dict[tuple[object, ...], Draft] = {}
    staged: dict[tuple[object, ...], Draft] = {}
    loose: dict[tuple[object, ...], int] = {}
    for d in drafts:
        if d.moment == "as-left":
            last_left[_key(d)] = staged[(*_key(d), d.stage)] = d
            loose[(d.tag, d.point)] = loose[(d.tag, family(d.point))] = d.at
    groups: set[tuple[object, ...]] = set()
    for before, d in pairwise(drafts):
        same = (before.sentence, before.legs, before.ucum, _key(before)) == (
            d.sentence,
            d.legs,
            d.ucum,
            _key(d),
        )
        measured = before.basis == d.basis == "measured" and d.value != before.value
        if before.was and not d.was and same and measured:
            before.moment, d.moment = (
                before.moment or "as-found",
                d.moment or "as-left",
            )  # "was two, it's three"
            continue
        if (
            d.was
            and not before.was
            and before.moment in (None, "as-left")
            and same
            and d.point not in ("time", "vacuum")
            and d.value != before.value
        ):
            before.moment, d.moment = "as-left", "as-found"  # "head's three ninety, it was five ten"
    for d in drafts:
        again = last_left.get(_key(d))
        if again is not None and d.stage and again.stage not in (None, d.stage):
            again = staged.get(
                (*_key(d), d.stage)
            )  # what was done to the low fire leaves the high fire as it is
        moved = d.point == "opening" and d.basis == "set" and again is not None and again.basis == "set"
        reset = d.basis == "set" and again is not None and again.at > d.at and d.point in _READ_NOT_SET
        if (
            d.moment is not None
            or (d.basis != "measured" and not moved and not reset)
            or d.point in NO_MOMENT | SIZES
        ):
            continue
        if again is not None and again.at > d.at:
            if d.basis == "set" and not moved:
                d.basis = "measured"  # "manifold was set at four one, backed it down to three five"
            d.moment = "as-found"
            if again.sentence != d.sentence:
                groups.add(_breath(d))
        elif d.was and (
            loose.get((d.tag, family(d.point)), -1) > d.at or _worked_on(doc, d, worked.get(d.tag, ()))
        ):
            d.moment = "as-found"
    return groups


def _worked_on(doc: Doc, d: Draft, worked: list[tuple[int, str | None]] | tuple[()]) -> bool:
    """Whether the part that this reading is of, or that is adjusted for it, was worked on later and not before."""
    entry = doc.vocabulary.points[d.point]
    parts = {d.component} if d.component else {entry.adjust}
    own = [at for at, component in worked if component in parts]
    return bool(own) and min(own) > d.at


def _changed_by_work(drafts: list[Draft], worked: dict[object, list[tuple[int, str | None]]]) -> None:
    """The same thing read twice with other values and work between: as found, then as left."""
    last: dict[tuple[object, ...], Draft] = {}
    for d in drafts:
        if d.basis != "measured" or d.point in NO_MOMENT or d.point in ("vacuum", "time") or d.text:
            continue
        before = last.get((_key(d), d.legs))
        last[(_key(d), d.legs)] = d
        if (
            before is not None
            and d.moment is None
            and before.moment in (None, "as-found")
            and before.value != d.value
            and d.stage == before.stage
        ) and any(before.at < at < d.at for at, _ in worked.get(d.tag, ())):
            before.moment, d.moment = "as-found", "as-left"
