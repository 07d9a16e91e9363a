"""Work taken back by voice: "scratch that, I changed six", "no, sorry, an A forty six".

What is said behind the correction replaces its like: a count, a size, a value of a size, a side or number, a verb.
"""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import count_at
from hatchnote.notes.wordlists import words

_NEAR = 14
_FILLERS = words(
    """
    no sorry wait i mean meant make it that a an the it's that's uh um rather actually was were should
    be to of them
    """
)
_SIDES = frozenset({"left", "right", "top", "bottom", "upper", "lower", "front", "rear", "back"})
_FITTING = frozenset({"replace", "install", "order"})


def take_back(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Apply the corrections of one sentence to its acts."""
    for m in doc.within(begin, end):
        if not _corrects(doc, m, begin):
            continue
        last = next((a for a in reversed(out) if a.start < m.start and m.start - a.stop < _NEAR), None)
        if last is None:
            continue
        after = next((a for a in out if m.stop <= a.start < m.stop + 5), None)
        if after is not None:
            _said_anew(doc, last, after, out)
        else:
            _said_of(doc, last, m, end)


def _corrects(doc: Doc, m: Mention, begin: int) -> bool:
    """A word of correction, or a bare "no" between commas."""
    if m.has("cue", "scratch"):
        return True
    return (
        m.stop - m.start == 1
        and doc.norm[m.start] == "no"
        and m.start > begin
        and doc.tokens[m.start].brk > 0
        and m.stop < len(doc.tokens)
        and doc.tokens[m.stop].brk > 0
    )


def _said_anew(doc: Doc, last: Act, after: Act, out: list[Act]) -> None:
    """ "I changed four, scratch that, I changed six": the second is meant, of the same part."""
    if not last.objects:
        return
    if last.verb != after.verb:
        if after.objects and after.objects[0].comp == last.objects[0].comp:
            out.remove(last)  # "I replaced the sensor, no, I cleaned the sensor"
        return
    if after.objects and not after.objects[0].pronoun and after.objects[0].comp == last.objects[0].comp:
        out.remove(last)
        return
    if after.objects and not after.objects[0].pronoun:
        out.remove(last)
        return
    count = after.objects[0].count if after.objects else None
    model = last.objects[-1]
    if count is None and not after.objects:
        return
    model.count = count or model.count
    out.remove(after)


def _said_of(doc: Doc, last: Act, m: Mention, end: int) -> None:
    """ "No, make that three", "sorry, an A forty six", "no, the right one"."""
    i = m.stop
    stop = min(end, m.stop + 9)
    while i < stop:
        x = doc.owner[i]
        if x is not None and x.kind == "size" and last.objects and x.comp == last.objects[-1].comp:
            _void(doc, last, m, x)
            return
        if x is not None and x.kind == "value" and x.value is not None and x.value.ucum is not None:
            _void(doc, last, m, x)
            return
        if x is not None and x.comp and x.part:
            _count_of_part(doc, last, x)
            return
        count = count_at(doc, i)
        named = doc.owner[i + 1] if i + 1 < stop and not doc.tokens[i + 1].brk else None
        if count is not None and named is not None and named.comp and named.part:
            _count_of_part(doc, last, named)
            return
        if count is not None and last.objects and last.verb in _FITTING and _alone(doc, i, end):
            last.objects[-1].count = count
            if x is not None:
                x.claimed = "count"
            return
        if doc.norm[i] in _SIDES and last.objects and last.objects[-1].number in _SIDES:
            last.objects[-1].number = doc.norm[i]
            return
        if doc.norm[i] not in _FILLERS and not (x is not None and x.has("cue", "scratch", "not")):
            return
        i += 1


def _count_of_part(doc: Doc, last: Act, x: Mention) -> None:
    """ "Four filters, scratch that, six filters"."""
    if not last.objects or last.objects[-1].comp != x.comp:
        return
    count = count_at(doc, x.start - 1)
    if count is not None:
        last.objects[-1].count = count


def _alone(doc: Doc, i: int, end: int) -> bool:
    return i + 1 >= end or doc.tokens[i + 1].brk > 0 or doc.norm[i + 1] in ("of", "ones", "and", "new")


def _void(doc: Doc, last: Act, m: Mention, said: Mention) -> None:
    """The size or value said before the correction is not the part's: only what comes behind counts."""
    if last.verb not in _FITTING:
        return  # "evacuated to four hundred, correction, three eighty": a reading, which keeps its own record
    for x in doc.within(last.start, m.start):
        like = x.kind == said.kind and (
            x.kind == "size"
            or (x.value is not None and said.value is not None and x.value.ucum == said.value.ucum)
        )
        bare = (
            x.kind == "value"
            and said.kind == "value"
            and x.value is not None
            and x.value.ucum is None
            and m.start - x.stop <= 1
        )
        if like or bare:
            x.claimed = "taken back"
    last.stop = max(last.stop, said.stop)
