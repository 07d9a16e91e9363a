"""Acts told by a set form of words: back on a day, a tag on it, the minimum set."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.parts_listed import is_asked_for
from hatchnote.notes.states import DONE, NEEDED
from hatchnote.notes.telling import segment
from hatchnote.notes.wordlists import words

_DAYS = words("monday tuesday wednesday thursday friday saturday sunday tomorrow next first")


_SPANS = words("week weeks day days month months morning")


def back_on(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Back Wednesday at seven."."""
    at = begin + 1
    while at < end and doc.norm[at] in ("out", "up", "here", "there", "over", "again"):
        at += 1
    if doc.norm[begin] != "back" or at >= end or doc.norm[at] not in (_DAYS | {"on", "in"}):
        return
    if {"if", "was", "were", "is", "none"} & set(doc.norm[begin:end]) or any(
        x.verb == "return-visit" for x in out
    ):
        return
    if doc.norm[at] in ("on", "in") and not (_DAYS | _SPANS) & set(doc.norm[at : at + 4]):
        return
    out.append(Act("return-visit", NEEDED, begin, begin, at + 1, (begin, end), [], "back on a day"))


def dampers_or(doc: Doc, at: int, otherwise: str) -> str:
    """The damper, where it was the one spoken of, or `otherwise`: whose minimum is meant."""
    near = focus_before(doc, at, ("outdoor-air-damper", "economizer", "economizer-actuator"), 40)
    if near is None or near.comp != "outdoor-air-damper":
        return otherwise
    return otherwise if {"economizer", "econ"} & set(doc.norm[max(0, at - 40) : at + 1]) else near.comp


def minimum_set(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Minimum set to fifteen percent": the economizer is adjusted; "set at" tells what it is."""
    if is_asked_for(doc, segment(doc, i, begin, end)[0], i) or any(
        a.verb == "adjust" and a.start >= i - 3 for a in out
    ):
        return
    obj = Object(dampers_or(doc, i, "economizer"), None, None, i, i + 3, pronoun=True)
    out.append(Act("adjust", DONE, i, i, i + 3, (begin, end), [obj], "minimum set"))


_PUT = words("put ran run running switched set left got have had placed")


def on_bypass(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Put it on bypass so they've got air", "running the drive in bypass": of the drive spoken of."""
    for i in range(begin + 1, end):
        if doc.norm[i] != "bypass" or doc.norm[i - 1] not in ("on", "in", "into"):
            continue
        low = max(begin, i - 6)
        if not _PUT & set(doc.norm[low:i]) or any(a.verb == "bypass" for a in out):
            continue
        if any(m.has("cue", "not", "needed", "recommended", "found", "was") for m in doc.within(low, i)):
            continue
        drive = focus_before(doc, i, ("variable-frequency-drive",), 60)
        if drive is not None:
            obj = Object(drive.comp, drive.number, None, i - 1, i + 1, pronoun=True, mention=drive)
            out.append(Act("bypass", DONE, i, low, i + 1, (begin, end), [obj], "put on bypass"))


def labelled(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Put the conversion label on it", "stuck a new sticker on the panel"."""
    lead = doc.norm[max(segment(doc, i, begin, end)[0], i - 5) : i]
    put = {"put", "stuck", "slapped", "placed", "hung"} & set(lead)
    if not put or is_asked_for(doc, max(begin, i - 6), i) or any(x.verb == "label" for x in out):
        return
    if {"he", "they", "she", "somebody", "someone", "had"} & set(lead):
        return
    out.append(Act("label", DONE, i, i, i + 2, (begin, end), [], "a label is put on"))


_TAGGED = words("it her unit disconnect machine breaker valve handle switch panel thermostat")


def tagged(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Red tag on the unit", "tag's on it"."""
    a, _ = segment(doc, i, begin, end)
    lead = doc.norm[a:i]
    if not set(lead) <= {"red", "a", "the", "warning", "danger", "my", "and", "lockout", "yellow"}:
        return
    behind = doc.norm[i + 2 : min(end, i + 7)]
    what = next((k for k, w in enumerate(behind) if w in _TAGGED), None)
    if {"says", "say", "said", "reads", "is", "calls", "was", "shows"} & set(behind[:4]):
        return  # "the tag on it says six nine"
    if what is None or what > 2 or any(x.verb == "label" for x in out):
        return
    out.append(Act("label", DONE, i, a, i + 2, (begin, end), [], "a tag is on it"))
