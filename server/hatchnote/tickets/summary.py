"""Two or three plain sentences for the customer, made only from what the record holds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from hatchnote.domain import Finding, MachineRecord, WorkItem

_T = TypeVar("_T")

_PAST = {
    "replace": "replaced", "repair": "repaired", "adjust": "adjusted", "tighten": "tightened", "clean": "cleaned",
    "lubricate": "lubricated", "inspect": "inspected", "test": "tested", "measure": "measured", "remove": "removed",
    "install": "installed", "reset": "reset", "isolate": "isolated", "restore": "restored to service",
    "leak-test": "leak tested", "recover": "recovered", "evacuate": "evacuated", "charge": "charged",
    "flush": "flushed", "seal": "sealed", "insulate": "insulated", "align": "aligned", "rewire": "rewired",
    "order": "ordered", "recommend": "recommended", "quote": "quoted", "return-visit": "arranged a return visit",
    "secure": "secured", "bypass": "bypassed", "label": "labelled",
}  # fmt: skip
_PREDICATE = {
    "failed": "had failed", "open": "was open", "shorted": "was shorted", "grounded": "was grounded",
    "leaking": "was leaking", "no-flame": "showed no flame", "delayed-ignition": "lit with a delay",
    "flame-rollout": "showed flame rollout", "low-charge": "was low on charge", "missing": "was missing",
    "normal": "was found in order", "intermittent": "worked intermittently", "tight": "was tight",
}  # fmt: skip
_REFRIGERANT_VERBS = {"evacuate": "the refrigerant circuit",
                      "recover": "the refrigerant", "charge": "the refrigerant"}  # fmt: skip
_NO_ARTICLE = {"refrigerant", "wiring", "insulation", "ductwork"}


def summarise(record: MachineRecord) -> str:
    """The customer's summary of one machine.

    Says what was found, what was done, and what is still to do or was declined. Items marked `check`
    are worded as reported and to be confirmed: a summary must not sound surer than the record.
    """
    sentences = []
    abnormal = [f for f in record.findings if f.condition not in ("normal", "sealed", "tight")]
    if abnormal:
        sentences.append(_sentence(_list(_finding(f) for f in _unique(abnormal))))
    done = [w for w in record.work if w.state == "done"]
    if done:
        sentences.append(_sentence("We " + _list(_done(w) for w in _unique(done))))
    for state, lead in (("needed", "Still needed"), ("recommended", "Recommended"),
                        ("declined", "Offered and declined"), ("not-done", "Not done on this visit")):  # fmt: skip
        todo = [w for w in record.work if w.state == state]
        if todo:
            sentences.append(_sentence(f"{lead}: " + _list(_planned(w) for w in _unique(todo))))
    if not sentences:
        normal = [f for f in record.findings if f.condition == "normal"]
        if normal:
            sentences.append(_sentence(_list(_finding(f) for f in _unique(normal))))
        elif record.readings:
            n = len(record.readings)
            sentences.append(f"{n} reading{'s were' if n != 1 else ' was'} recorded.")
        else:
            sentences.append("Nothing was recorded for this machine.")
    if any(f.check for f in abnormal) or any(w.check for w in record.work):
        sentences.append("Some of this is still to be confirmed.")
    return " ".join(sentences)


def component_name(slug: str | None, number: str | None = None) -> str:
    """ "condenser-fan-motor", "2" → "condenser fan motor 2". Raises nothing; None → "unit"."""
    name = (slug or "unit").replace("-", " ")
    return f"{number} {name}" if number in ("left", "right", "top", "bottom", "middle") else (
        f"{name} {number}" if number else name)  # fmt: skip


def _the(item: WorkItem | Finding) -> str:
    name = component_name(item.component, item.number)
    return name if item.component in _NO_ARTICLE else f"the {name}"


def _finding(f: Finding) -> str:
    predicate = _PREDICATE.get(f.condition, "was " + f.condition.replace("-", " "))
    return f"{_the(f)} {predicate}"


def _done(w: WorkItem) -> str:
    verb = _PAST.get(w.verb, w.verb)
    if w.verb == "return-visit":
        return verb
    if w.verb == "leak-test" and w.component is None:  # of gas or of refrigerant: the record does not say
        return "did a leak test"
    if w.component is None and w.verb in _REFRIGERANT_VERBS:
        return f"{verb} {_REFRIGERANT_VERBS[w.verb]}"
    return f"{verb} {_counted(w)}"


def _planned(w: WorkItem) -> str:
    if w.verb == "return-visit":
        return "a return visit"
    if w.verb == "leak-test" and w.component is None:
        return "a leak test"
    if w.verb == "recommend":  # "Recommended: recommend the belt" says it twice
        return _the(w)
    verb = w.verb.replace("-", " ")
    if w.component is None and w.verb in _REFRIGERANT_VERBS:
        return f"{verb} {_REFRIGERANT_VERBS[w.verb]}"
    return f"{verb} {_counted(w)}"


def _counted(w: WorkItem) -> str:
    if w.quantity is not None and w.quantity >= 2 and w.component:
        name = component_name(w.component)
        return f"{w.quantity:g} {name}{'es' if name.endswith(('s', 'ch')) else 's'}"
    return _the(w)


def _unique(items: Iterable[_T]) -> list[_T]:
    seen: dict[tuple[object, ...], _T] = {}
    for i in items:
        key = (getattr(i, "verb", ""), getattr(i, "condition", ""), getattr(i, "component", None),
               getattr(i, "number", None))  # fmt: skip
        seen.setdefault(key, i)
    return list(seen.values())


def _list(parts: Iterable[str]) -> str:
    words = list(parts)
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."
