"""Machines named behind what was said of them: "suction one eighteen, head three forty, that was R T U five".

A dictation that names one machine is of that machine from its first word. Of several, the first one named reaches
back to the beginning, and one without a name ("now for the next one") gets it, where the naming looks back or the
machine was told to be the next; nothing else is attached afterwards.
"""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes.doc import Doc, Draft, Item, Mention
from hatchnote.notes.machine_turns import UNNAMED
from hatchnote.notes.wordlists import words

NOBODY = "?"
"""First character of a machine's tag while it has no name."""
WHY = "which machine was not said"
_LOOKS_BACK = words("that those that's everything all above these which")
_IS = words("was is were are it's that's for on of as goes belongs all still unit one this be")
_NAMING = words("it's that's this it is was that one makes plate says reads here's the so and okay by way")
_SMALL = (
    _LOOKS_BACK
    | _IS
    | words("so far just now i gave you up to here and so okay the stuff numbers readings by way")
)


def named_late(doc: Doc) -> None:
    """Give the tokens before a late naming their machine; `doc.tag_at` holds `NOBODY` tags for the unnamed."""
    named = [m for m in doc.mentions if m.kind in ("machine", "machines", UNNAMED) and not m.claimed]
    if not named:
        return
    _next_ones(doc, named)
    first = named[0]
    if first.kind != "machine" or not any(t is None for t in doc.tag_at[: first.start]):
        return
    only = len({m.slug for m in named}) == 1
    if not _looking_back(doc, first) and not (only and _begins(doc, first)):
        return
    for begin, end in doc.sentences:
        if begin >= first.start:
            break
        if not any(x.comp and doc.vocabulary.components[x.comp].site for x in doc.within(begin, end)):
            for i in range(begin, min(end, first.start)):  # a roof hatch told before is no machine's
                doc.tag_at[i] = doc.tag_at[i] or first.slug


def _begins(doc: Doc, m: Mention) -> bool:
    """Whether anything is told of a machine behind its name, and "unit twelve" is no tenant's."""
    told = any(x.kind in ("value", "size") or x.comp for x in doc.within(m.stop, len(doc.norm)))
    return told and doc.norm[m.start] not in ("unit", "machine")


def _looking_back(doc: Doc, m: Mention) -> bool:
    """ "All of that was R T U six": words before the name that tell of what was said."""
    begin = doc.sentences[bisect_right(doc.sentences, (m.start, len(doc.norm))) - 1][0]
    start = m.start
    while start > begin and doc.norm[start - 1] in _SMALL:
        start -= 1
    lead = doc.norm[start : m.start]
    return start == begin and bool(_LOOKS_BACK & {*lead}) and "this" not in lead[:1]


def _next_ones(doc: Doc, named: list[Mention]) -> None:
    """ "Now for the next one ... here's the plate, it's R T U seven": a machine that gets its name afterwards."""
    for k, m in enumerate(named):
        if m.kind != UNNAMED:
            continue
        after = named[k + 1] if k + 1 < len(named) else None
        stop = after.start if after is not None else len(doc.norm)
        known = {x.slug for x in named[:k]}
        late = (
            after is not None
            and after.kind == "machine"
            and after.slug not in known
            and (_looking_back(doc, after) or _names_it(doc, after))
        )
        tag = after.slug if late and after is not None else f"{NOBODY}{k}"
        for i in range(m.start, stop):
            doc.tag_at[i] = doc.tag_at[i] or tag


def nobody(doc: Doc) -> None:
    """Take the placeholders away again: what is of a machine without a name is of none, and marked."""
    made: list[Draft | Item] = [*doc.drafts, *doc.items]
    for one in made:
        if one.tag is not None and one.tag.startswith(NOBODY):
            one.tag = None
            one.doubts.append(WHY)
    doc.tag_at = [None if t is not None and t.startswith(NOBODY) else t for t in doc.tag_at]


def _names_it(doc: Doc, m: Mention) -> bool:
    """ "It's R T U seven", "plate says it's R T U seven": the name of the one he stands at."""
    if doc.tokens[m.start].brk or not m.start:
        return False
    begin = doc.sentences[bisect_right(doc.sentences, (m.start, len(doc.norm))) - 1][0]
    lead = doc.norm[max(begin, m.start - 3) : m.start]
    return lead[-1:] in (["it's"], ["that's"], ["is"], ["was"]) and all(w in _NAMING for w in lead[-2:])
