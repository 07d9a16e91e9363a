"""What the customer answered: advice declined, all of it or by its part, and advice taken on the spot."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, from_mention
from hatchnote.notes.states import DECLINED, DONE, NEEDED, NOT_DONE, RECOMMENDED
from hatchnote.notes.telling import segment
from hatchnote.notes.wordlists import words

_TAKEN = frozenset({"so", "and", "that's", "it's", "that", "it", "is", "they're", "those", "are"})
_IN = frozenset({"in", "on", "done"})


def declined_afterwards(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "They said no" after the advice, in the same sentence or the next: the advice is declined."""
    asked = ("answer", "response", "reply", "customer", "owner")
    answered = doc.norm[begin] in asked and doc.norm[begin + 1 : begin + 2] == ["no"]
    if answered:
        for act in before[-2:]:
            if act.sentence[1] == begin and act.state in (RECOMMENDED, NEEDED) and act.verb != "order":
                act.state, act.rule = DECLINED, f"{act.verb}: declined"
        return
    for m in doc.within(begin, end):
        if not m.has("cue", "declined") or m.claimed == "verb":
            continue
        named = _advised(doc, m, end, [*before, *out])
        if named:
            for act in named:
                act.state, act.rule = DECLINED, f"{act.verb}: declined"
            continue
        if any(a.state == DECLINED and abs(a.start - m.start) < 3 for a in out) or _no_of_a_thing(
            doc, m, end
        ):
            continue
        if _own_object(doc, m, end):
            continue
        earlier = [a for a in out if a.start < m.start and a.state in (RECOMMENDED, NEEDED, DECLINED)]
        if not earlier:
            earlier = [a for a in before[-3:] if a.sentence[1] == begin and a.state in (RECOMMENDED, NEEDED)]
        if not earlier:
            later = [a for a in out if a.start > m.start and a.state == DECLINED]
            if not later:
                _declined_part(doc, m, begin, end, out)
            continue
        for act in earlier:
            if act.verb in ("order", "return-visit"):
                continue
            act.state = DECLINED
            act.rule = f"{act.verb}: declined"


_NO_TO = words("to thanks way sir for on not so because and but today about we i he")


def _no_of_a_thing(doc: Doc, m: Mention, end: int) -> bool:
    """ "The board says no alarms": no answer of a person's."""
    if doc.norm[m.stop - 1] != "no" or m.stop >= end or doc.tokens[m.stop].brk:
        return False
    return doc.norm[m.stop] not in _NO_TO and not (
        doc.owner[m.stop] is not None and doc.owner[m.stop - 1] is not m
    )


def _advised(doc: Doc, m: Mention, end: int, acts: list[Act]) -> list[Act]:
    """ "She said no to the inducer": the advice given before of the part named behind the answer."""
    for i in range(m.stop, min(end, m.stop + 7)):
        if doc.tokens[i].brk or doc.norm[i] in ("because", "so", "but", "since"):
            return []
        x = doc.owner[i]
        if x is not None and x.has("verb") and not x.comp:
            return []
        if x is not None and x.comp and x.part and x.kind == "word" and not x.modifier:
            return [
                a
                for a in acts
                if a.state in (RECOMMENDED, NEEDED)
                and a.verb not in ("order", "return-visit", "quote")
                and a.start < m.start
                and any(o.comp == x.comp and (x.number is None or o.number == x.number) for o in a.objects)
                and doc.tag_at[a.start] == doc.tag_at[m.start]
            ]
    return []


def taken_on(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "She said yes to the contactor, so that's in": what was advised is done."""
    for i in range(begin, end):
        if doc.norm[i] not in _IN or (i + 1 < end and not doc.tokens[i + 1].brk):
            continue
        a, _ = segment(doc, i, begin, end)
        said = doc.norm[a:i]
        if not said or not set(said) <= _TAKEN or not set(said) & {"that's", "it's", "that", "it", "those"}:
            continue
        near = next(iter(reversed(components(doc, begin, a))), None) or focus_before(doc, a, parts_only=True)
        if near is None or any(o.comp == near.comp and x.state == DONE for x in out for o in x.objects):
            continue
        advice = [
            x
            for x in [*before, *out]
            if x.state in (RECOMMENDED, NEEDED) and any(o.comp == near.comp for o in x.objects)
        ]
        if not advice:
            continue
        verb = advice[-1].verb if advice[-1].verb != "order" else "replace"
        obj = Object(near.comp, near.number, None, a, i + 1, pronoun=True, mention=near, sized=True)
        out.append(Act(verb, DONE, a, a, i + 1, (begin, end), [obj], f"{verb}: advice taken"))


def _own_object(doc: Doc, m: Mention, end: int) -> bool:
    for other in doc.within(m.stop, min(end, m.stop + 6)):
        if doc.tokens[other.start].brk:
            return False
        if other.claimed == "verb":
            return True
    return False


def _declined_part(doc: Doc, m: Mention, begin: int, end: int, out: list[Act]) -> None:
    """ "Declined the bearings", "the customer doesn't want the new belt", "bearings: declined"."""
    if any(a.state == NOT_DONE and a.start < m.start for a in out):
        return  # "I did not test that, my boss said leave it"
    near = [
        x
        for x in components(doc, m.stop, min(end, m.stop + 7))
        if not any(doc.tokens[i].brk for i in range(m.stop, x.start + 1))
    ]
    if not near:
        near = components(doc, max(begin, m.start - 8), m.start)[-1:]
    if not near and any(
        doc.norm[i] in ("it", "that", "them") for i in range(max(begin, m.start - 4), m.start)
    ):
        meant = focus_before(doc, m.start, (), 25, parts_only=True)
        near = [meant] if meant is not None else []
    if near and not doc.vocabulary.components[near[0].comp].no_part:
        obj = from_mention(doc, near[0])
        out.append(
            Act(
                "replace",
                DECLINED,
                m.start,
                m.start,
                max(m.stop, near[0].stop),
                (begin, end),
                [obj],
                "declined part",
                m,
            )
        )
