"""What was left as it was, and the small parts that went in along with another act."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, count_at, from_mention
from hatchnote.notes.states import DONE, NOT_DONE
from hatchnote.notes.telling import unreal
from hatchnote.notes.wordlists import words

_LEFT = words("left leaving kept keeping reused reusing")
_IN_PLACE = words("in on there alone be as")
_HELD_BY = frozenset({"panel-screw", "wire-terminal", "gasket"})
_FASTENING = frozenset({"secure", "repair", "seal", "tighten", "install"})


def left_in(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "I was two short, so I left the old ones in", "reused the old belt": not replaced."""
    for i in range(begin, end - 2):
        if doc.norm[i] not in _LEFT or doc.tokens[i + 1].brk:
            continue
        k = i + 1 + (doc.norm[i + 1] in ("the", "those", "them", "my"))
        if k >= end - 1 or doc.norm[k] not in ("old", "existing", "original") or doc.tokens[k + 1].brk:
            continue
        part = doc.owner[k + 1]
        stop = part.stop if part is not None else k + 2
        if doc.norm[i].startswith(("left", "leav")) and not _IN_PLACE & set(
            doc.norm[stop : min(end, stop + 2)]
        ):
            continue
        named = part is not None and part.comp and part.part
        near = part if named else focus_before(doc, i, parts_only=True, sizes=True)
        one = doc.norm[k + 1] in ("one", "ones")
        if near is None and one:
            near = next(
                (
                    o.mention
                    for a in reversed(before)
                    if (a.verb, a.state) == ("replace", DONE)
                    for o in a.objects
                ),
                None,
            )
        if near is None or not (named or one) or unreal(doc, Mention("word", i, i + 1), begin):
            continue
        if any(o.comp == near.comp for a in out for o in a.objects):
            continue
        number = near.number if near.kind == "word" else None
        obj = Object(near.comp, number, None, i, stop, pronoun=not named, mention=near)
        out.append(Act("replace", NOT_DONE, i, i, stop, (begin, end), [obj], "the old one left in"))


def held_by(doc: Doc, act: Act) -> Object | None:
    """ "Secured it with six new screws": the small parts an act was done with, new or counted; None without any."""
    if act.state != DONE or act.verb not in _FASTENING:
        return None
    for i in range(act.start + 1, min(act.sentence[1], act.stop + 6)):
        if doc.norm[i] != "with" or doc.tokens[i].brk:
            continue
        for x in doc.within(i + 1, min(act.sentence[1], i + 8)):
            if any(t.brk for t in doc.tokens[i + 1 : x.start + 1]):
                return None
            if x.comp in _HELD_BY and x.kind == "word" and x.part:
                lead = range(i + 1, x.start)
                new = any(doc.norm[k] == "new" or count_at(doc, k) is not None for k in lead)
                return from_mention(doc, x) if new else None
    return None
