"""What the findings of a dictation say of one another and of its work, once all are found."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.wordlists import words

_SYMPTOMS = words("don't doesn't didn't won't wouldn't never isn't ain't wasn't not dead quit no does never")

_CAUSES = frozenset({"open", "shorted", "grounded", "seized", "burnt", "blown", "bulged"})

_CAUSE_NEAR = 30


def causes_for_symptoms(doc: Doc) -> None:
    """ "The igniter never glows, and it's wide open": what is found wrong stands for what was seen of it."""
    found = [x for x in doc.items if x.kind == "finding"]
    seen = [x for x in found if x.fields["condition"] == "failed" and doc.norm[x.start] in _SYMPTOMS]
    gone = {
        id(x)
        for x in seen
        for y in found
        if y.fields["condition"] in _CAUSES
        and y.fields["component"] == x.fields["component"]
        and y.fields["number"] == x.fields["number"]
        and y.tag == x.tag
        and 0 < y.at - x.at < _CAUSE_NEAR
    }
    if gone:
        doc.items[:] = [x for x in doc.items if id(x) not in gone]


_SEVERAL = frozenset({"compressor", "condenser-fan-motor"})

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
        if item.kind != "work" or item.fields["state"] != "done":
            continue
        place = (item.tag, item.fields["component"])
        if item.fields["verb"] == "replace" and missing.get(place, item.at) < item.at:
            item.fields["verb"] = "install"
        elif item.fields["verb"] == "install" and place not in missing and bad.get(place, item.at) < item.at:
            item.fields["verb"] = "replace"
