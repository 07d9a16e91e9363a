"""What the findings of a dictation say of one another and of its work, once all are found."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Item
from hatchnote.notes.wordlists import words

_SYMPTOMS = words(
    "don't doesn't didn't won't wouldn't never isn't ain't wasn't aren't weren't not dead quit stopped no does is"
)
_DRIVEN = words(
    "run runs running start starts starting started turn turns turning spin spins spinning come comes coming came "
    "glow glows glowing fire light move moving close closing open opening respond responding"
)
"""What a part does only where current, gas or another part lets it: not doing so is seldom its own fault."""
_MOTORS = frozenset(
    {"compressor", "condenser-fan-motor", "supply-fan-motor", "inducer-motor", "igniter", "ignition-control"}
)
_CAUSES = frozenset({"open", "shorted", "grounded", "seized", "burnt", "blown", "bulged", "cracked", "iced"})
_CAUSE_NEAR = 30
_CAUSE_TOLD = 90


def causes_for_symptoms(doc: Doc) -> None:
    """ "The igniter never glows, and it's wide open": what is found wrong stands for what was seen of it.

    A motor that does not run is a symptom too where something else is found wrong on the machine: "compressor two
    isn't running, its contactor has a burnt coil".
    """
    found = [x for x in doc.items if x.kind == "finding"]
    gone: set[int] = set()
    for x in found:
        if not _symptom(doc, x):
            continue
        driven = _stands_still(doc, x)
        for y in found:
            if y is x or y.tag != x.tag or y.fields["condition"] == "normal":
                continue
            if _symptom(doc, y) and _stands_still(doc, y):
                continue  # "compressor won't start, fan isn't turning": neither is the other's cause
            same = y.fields["component"] == x.fields["component"]
            if same and y.fields["number"] not in (x.fields["number"], None):
                continue
            if same and y.fields["condition"] in _CAUSES and -12 < y.at - x.at < _CAUSE_NEAR:
                gone.add(id(x))
                y.fields["number"] = x.fields["number"]
            elif driven and not same and -_CAUSE_NEAR < y.at - x.at < _CAUSE_TOLD:
                gone.add(id(x))
    if gone:
        doc.items[:] = [x for x in doc.items if id(x) not in gone]


def _symptom(doc: Doc, x: Item) -> bool:
    return x.fields["condition"] == "failed" and doc.norm[x.start] in _SYMPTOMS


def _stands_still(doc: Doc, x: Item) -> bool:
    return x.fields["component"] in _MOTORS and bool(_DRIVEN & set(doc.norm[x.start : x.stop]))


_LIKEWISE = (
    *(["so", w] for w in ("is", "are", "was", "were")),
    *(["same", w] for w in ("with", "for", "on", "goes")),
    *(["ditto", w] for w in ("for", "on", "the", "with")),
    ["as", "is"],
    ["as", "are"],
)
_LIKEWISE_BACK = 16


def so_is_the_other(doc: Doc) -> None:
    """ "The trap's plugged and so is the drain line", "same with the disconnect": the same of another."""
    for i in range(1, len(doc.norm) - 2):
        if doc.norm[i : i + 2] not in _LIKEWISE:
            continue
        part = next((m for m in doc.within(i + 2, min(len(doc.norm), i + 6)) if m.comp and m.part), None)
        if part is None or part.kind != "word" or any(t.brk for t in doc.tokens[i + 1 : part.start + 1]):
            continue
        ends = (
            part.stop >= len(doc.norm)
            or doc.tokens[part.stop].brk
            or doc.norm[part.stop] in ("so", "and", "too")
        )
        told = [x for x in doc.items if x.kind == "finding" and 0 < i - x.at < _LIKEWISE_BACK]
        worked = [x for x in doc.items if x.kind == "work" and 0 < i - x.at < _LIKEWISE_BACK]
        if not ends or not told or any(x.at > told[-1].at for x in worked):
            continue
        last = max(told, key=lambda x: x.at)
        if any(x.fields["component"] == part.comp and x.tag == last.tag for x in told):
            continue
        fields = {**last.fields, "component": part.comp, "number": part.number}
        doc.items.append(Item("finding", part.start, i, part.stop, last.tag, fields, f"so is: {last.rule}"))


_SEVERAL = frozenset({"compressor", "condenser-fan-motor", "condenser-fan-blade"})

_DONE_TO = frozenset({"replace", "isolate", "repair"})


def the_numbered_one(doc: Doc) -> None:
    """ "Compressor two is grounded. I replaced the compressor": the one that was bad."""
    bad: dict[tuple[str | None, object], dict[str, int]] = {}
    for x in doc.items:
        number = x.fields.get("number")
        if (
            x.kind == "finding"
            and number
            and x.fields["component"] in _SEVERAL
            and x.fields["condition"] != "normal"
        ):
            bad.setdefault((x.tag, x.fields["component"]), {}).setdefault(number, x.at)
    for item in doc.items:
        if item.kind != "work" or item.fields["verb"] not in _DONE_TO or item.fields.get("number"):
            continue
        numbers = bad.get((item.tag, item.fields["component"]), {})
        if len(numbers) == 1 and next(iter(numbers.values())) < item.at and not item.fields.get("quantity"):
            item.fields["number"] = next(iter(numbers))


def fitted_or_replaced(doc: Doc) -> None:
    """Nothing can be replaced that was missing; what is installed where a bad one was is a replacement."""
    missing: dict[tuple[str | None, object], int] = {}
    bad: dict[tuple[str | None, object], int] = {}
    for x in doc.items:
        if x.kind == "finding" and x.fields["condition"] != "normal":
            where = missing if x.fields["condition"] == "missing" else bad
            where.setdefault((x.tag, x.fields["component"]), x.at)
        if x.kind == "work" and x.fields["verb"] == "remove" and x.fields["state"] == "done":
            bad.setdefault((x.tag, x.fields["component"]), x.at)
    for item in doc.items:
        if item.kind != "work" or item.fields["state"] == "not-done":
            continue
        place = (item.tag, item.fields["component"])
        done = item.fields["state"] == "done"
        if item.fields["verb"] == "replace" and missing.get(place, item.at) < item.at:
            item.fields["verb"] = "install"
        elif (
            done
            and item.fields["verb"] == "install"
            and place not in missing
            and bad.get(place, item.at) < item.at
        ):
            item.fields["verb"] = "replace"
