"""Measured, rated or set: what the cues around a value say, and what the value itself can only be."""

from __future__ import annotations

from hatchnote.notes.cues import Cue
from hatchnote.notes.doc import Doc, Draft

_SETTABLE = frozenset({"opening", "frequency", "torque", "space-temperature", "speed"})
_ALWAYS_RATED = frozenset({"fuse-rating"})
MOTOR_SPEEDS = frozenset(
    {825, 850, 1050, 1075, 1100, 1140, 1160, 1200, 1625, 1725, 1740, 1750, 1760, 1800, 3450, 3500, 3600}
)


_MEASURING = frozenset(
    [
        "reads",
        "read",
        "reading",
        "measured",
        "measures",
        "measure",
        "tested",
        "testing",
        "got",
        "only",
        "down",
        "tests",
    ]
)
_OUT_OF = (["on", "a"], ["on", "an"], ["against", "a"], ["of", "a"], ["out", "of"], ["against", "an"])


def give_basis(
    doc: Doc,
    d: Draft,
    drafts: list[Draft],
    k: int,
    leading: list[Cue],
    trailing: Cue | None,
    previous: int,
    begin: int,
) -> None:
    if d.basis != "measured":
        return
    last = leading[-1] if leading else None
    if last is not None and last.slug == "was" and len(leading) > 1:
        told = leading[-2]
        near = told.start >= previous - 1 and last.start - told.stop <= 6
        if (
            told.slug in ("rated", "set")
            and near
            and not any(doc.tokens[i].brk for i in range(told.stop, last.start))
        ):
            last = told  # "the target for this orifice was fourteen"
    brought = last is not None and last.slug == "setting"
    if brought and trailing is not None and {"per", "by"} & {*doc.norm[d.stop : trailing.start]}:
        trailing = None  # "brought it down to three and a half per the plate": what it was brought to
    chained = (
        k > 0
        and drafts[k - 1].basis == "rated"
        and d.source is not None
        and d.source.value is not None
        and d.source.value.link in ("plus", "and", "list", "slash")
        and drafts[k - 1].point == d.point
    )
    if (
        (trailing is not None and trailing[2] == "rated")
        or (
            last is not None
            and last[2] == "rated"
            and (last[0] >= previous - 1 or chained)
            and not _taken_up(doc, last[1], d)
        )
        or (chained and last is not None and last[0] < drafts[k - 1].start)
    ):
        d.basis = "rated"
    elif (
        (
            last is not None
            and last[2] == "set"
            and last[0] >= previous - 1
            and not _lost_between(doc, last[1], d)
        )
        or (trailing is not None and trailing[2] == "set")
        or (last is not None and last[2] == "setting" and d.point in _SETTABLE and last[0] >= previous - 1)
    ):
        d.basis = "set"
    if (
        d.basis == "measured"
        and k
        and drafts[k - 1].point == d.point
        and doc.norm[d.start - 2 : d.start] in _OUT_OF
        and not doc.tokens[d.start].brk
    ):
        d.basis = "rated"  # "four point one on a five point eight motor"
    plate = next((c for c in leading if c.slug == "rated"), None)
    if (
        d.basis == "measured"
        and d.rule == "by its unit"
        and plate is not None
        and not _taken_up(doc, plate.stop, d)
    ):
        d.basis = "rated"  # "motor plate five horse, fourteen amps"
    if d.basis == "measured" and d.point == "opening" and _minimum(doc, d, begin):
        d.basis = "set"
    twin = drafts[k - 1] if k else None
    if twin is not None and twin.point == d.point == "capacitance" and d.start - twin.stop <= 2:
        d.basis = "rated" if doc.norm[d.start - 1] == "of" else d.basis  # "the cap's four point nine of five"
    if d.basis == "measured":
        found = any(
            c.slug in ("found", "was")
            and c.start >= previous - 1
            and not any(
                m.has("condition") for m in doc.within(c.stop, d.start)
            )  # "the cap was swelled, it's a ten"
            for c in leading
        )
        found = found and d.point == "capacitance" and doc.norm[d.start - 1] not in ("a", "an", "the")
        d.basis = "measured" if found else _own_rating(doc, d, drafts, begin)
    if d.basis == "measured" and doc.vocabulary.points[d.point].set:
        d.basis = "set"
    if d.basis == "rated" and d.point == "refrigerant-charge":
        d.position = "total"


def _minimum(doc: Doc, d: Draft, begin: int) -> bool:
    """ "The minimum is twenty percent": a setting; "the minimum was at forty" is where it stood."""
    said = doc.norm[max(begin, d.start - 4) : d.start]
    return said[-1:] != ["at"] and bool({"minimum", "min", "minimums"} & {*said})


def _lost_between(doc: Doc, start: int, d: Draft) -> bool:
    """ "Setpoint's at seventy, space is at seventy four": the setting was another value."""
    return any(m.kind == "value" and not m.claimed.startswith("reading") for m in doc.within(start, d.start))


def _taken_up(doc: Doc, start: int, d: Draft) -> bool:
    """Between "plate" and the value another act or measuring begins: "tag on the unit is gone, reads four sixty"."""
    words = doc.norm[start : d.start]
    return any(
        w
        in (
            "measured",
            "reads",
            "reading",
            "actual",
            "actually",
            "now",
            "pulling",
            "drawing",
            "getting",
            "running",
        )
        for w in words
    )


def _own_rating(doc: Doc, d: Draft, drafts: list[Draft], begin: int) -> str:
    if d.point in _ALWAYS_RATED:
        return "rated"
    if d.point == "power" and d.ucum == "[HP]":
        return "rated"
    if (
        d.point == "voltage"
        and d.source is not None
        and d.source.value is not None
        and d.source.value.unit_text == "volt"
    ) and any(o.point == "power" and o.ucum == "[HP]" for o in drafts):
        return "rated"
    if d.point == "speed" and d.value in MOTOR_SPEEDS:
        near = [o for o in drafts if o.point == "power"]
        if near or doc.norm[max(begin, d.start - 1)] == "a":
            return "rated"
    if d.point == "capacitance" and d.source is not None and d.source.value is not None:
        before = doc.norm[d.start - 1] if d.start > begin else ""
        following = [
            o
            for o in drafts
            if o.start > d.start
            and o.source is not None
            and o.source.value is not None
            and o.source.value.link in ("plus", "over", "slash")
        ]
        plus = d.source.value.link in ("plus", "over", "slash") or (
            bool(following) and following[0].start - d.stop <= 1
        )
        measured = _MEASURING & {*doc.norm[max(begin, d.start - 6) : d.start]}
        same = [o for o in drafts if o.start > d.start and o.point == d.point and o.number == d.number]
        after = doc.norm[d.stop : same[0].start] if same else []
        if d.source.value.ucum == "uF" and not measured and _MEASURING & {*after}:
            return "rated"
        if (plus and not measured) or before in ("a", "an", "the"):
            return "rated"
    return "measured"
