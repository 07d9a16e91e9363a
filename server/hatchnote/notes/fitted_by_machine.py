"""Parts told machine by machine without a verb: "filters changed. R T U one, four twenty by twenty by two."."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at
from hatchnote.notes.states import DONE
from hatchnote.notes.wordlists import words

_GOT = frozenset({"got", "gets"})
_SMALL = words("of the those them these more each same size new and a all too both apiece again also in it")
_AGAIN = frozenset({"same", "those", "more", "them", "these"})
_FITTING = ("replace", "install")


def by_machine(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """An act for every machine that opens its clause and is followed by nothing but counts and sizes."""
    here = [m for m in doc.within(begin, end) if m.kind in ("machine", "machines")]
    for k, m in enumerate(here):
        stop = here[k + 1].start if k + 1 < len(here) else end
        if (
            m.start > begin
            and not doc.tokens[m.start].brk
            and doc.norm[m.start - 1] not in ("and", "on", "then")
        ):
            continue
        if any(m.start <= a.start < stop for a in out):
            continue
        model = next((a for a in reversed([*before, *out]) if _fits(a)), None)
        obj = _told(doc, m, stop, model)
        if obj is None or (model is None and obj.start < 0):
            continue
        tags = tuple(m.slug.split(","))
        rule = "fitted, machine by machine"
        out.append(
            Act("replace", DONE, obj.start, m.start, obj.stop, (m.start, stop), [obj], rule, tags=tags)
        )
        if (
            model is not None
            and doc.tag_at[model.start] is None
            and not model.tags
            and model.objects[0].count is None
        ):
            model.verb = ""  # "filters first, all changed": told machine by machine now


def _fits(act: Act) -> bool:
    return act.verb in _FITTING and act.state == DONE and bool(act.objects)


def _told(doc: Doc, m: Mention, stop: int, model: Act | None) -> Object | None:
    """The parts behind the machine; None where anything but counts and sizes is told."""
    got = m.stop < stop and doc.norm[m.stop] in _GOT
    if not got and (model is None or m.stop >= stop):
        return None
    i = m.stop + got
    count: float | None = None
    comp, again, first = "", False, -1
    while i < stop:
        x = doc.owner[i]
        if x is not None and x.comp and (x.kind == "size" or (x.kind == "word" and x.part)):
            comp, i = x.comp, x.stop
        elif count_at(doc, i) is not None and (x is None or x.stop == i + 1):
            count = count if count is not None else count_at(doc, i)
            i += 1
        elif doc.norm[i] in _SMALL:
            again = again or doc.norm[i] in _AGAIN
            i += 1
        else:
            return None
        first = first if first >= 0 else i - 1
    if not comp and again and model is not None:
        comp = model.objects[0].comp
    if not comp or count is None or (model is not None and not got and model.objects[0].comp != comp):
        return None
    return Object(comp, None, count, m.stop + got, stop, sized=again)
