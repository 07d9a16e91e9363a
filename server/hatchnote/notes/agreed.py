"""What the customer agreed to, and what was offered: "go ahead with the belts", "okayed the igniter"."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import from_mention
from hatchnote.notes.states import NEEDED, RECOMMENDED
from hatchnote.notes.wordlists import words

_YES = (
    "go ahead with",
    "go ahead on",
    "going ahead with",
    "goes ahead with",
    "okayed",
    "okay'd",
    "ok'd",
    "oked",
    "okays",
    "approved",
    "approves",
    "signed off on",
    "signed for",
    "said yes to",
    "says yes to",
    "said yes on",
    "said okay to",
    "said sure to",
    "agreed to",
    "agrees to",
    "gave the okay on",
    "gave the okay for",
    "gave me the okay on",
    "gave the go ahead on",
    "gave the go ahead for",
    "gave me the go ahead on",
    "green light on",
    "green light for",
)
_BY_FIRST = {f.split()[0]: [x.split() for x in _YES if x.split()[0] == f.split()[0]] for f in _YES}
_OFFERED = words("offered pitched proposed offering")
_WHOM = words("him her them em the a an new manager owner customer lady guy tenant landlord some")
_NOT = words(
    """
    not hasn't haven't didn't never wouldn't isn't aren't hadn't if until till once unless whether when before
    """
)
_ENDS = words("but hold holding except not no unless if so because")
_NAMED_ACTS = words("cleaning wash washing replacement repair repairs changeout service greasing alignment")
_LIST = 12
_REACH = 7


def agreed(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """Add the acts of one sentence that a customer agreed to (needed) or was offered (recommended)."""
    for i in range(begin, end):
        if doc.norm[i] in _OFFERED:
            _offered(doc, i, begin, end, out)
            continue
        for said in _BY_FIRST.get(doc.norm[i], ()):
            if doc.norm[i : i + len(said)] == said and not _NOT & set(doc.norm[max(begin, i - 4) : i]):
                for part in _parts(doc, i + len(said), end):
                    _needed(doc, part, i, begin, end, out, before)
                break


def _parts(doc: Doc, at: int, end: int) -> list[Mention]:
    """The parts of the list behind, over commas and "and", up to a word that ends it."""
    out: list[Mention] = []
    i = at
    while i < min(end, at + _LIST):
        m = doc.owner[i]
        if doc.norm[i] in _ENDS or (m is not None and m.has("cue", "declined", "not")):
            break
        if m is not None and m.comp and m.part and m.kind == "word":
            named_act = m.stop < end and doc.norm[m.stop] in _NAMED_ACTS
            if not named_act and not doc.vocabulary.components[m.comp].no_part:
                out.append(m)
        elif m is not None and m.has("verb"):
            break
        i = max(i + 1, m.stop if m is not None else 0)
    return out


def _needed(doc: Doc, part: Mention, i: int, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    known = [a for a in [*before, *out] if any(o.comp == part.comp for o in a.objects)]
    advised = [a for a in known if a.state == RECOMMENDED]
    for act in advised:
        act.state, act.rule = NEEDED, f"{act.verb}: agreed to"
    if known and (advised or known[-1].verb in ("replace", "order", "install", "quote")):
        return
    out.append(Act("replace", NEEDED, i, i, part.stop, (begin, end), [from_mention(doc, part)], "agreed to"))


def _offered(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Offered him a new economizer actuator", "pitched them new bearings"."""
    at = i + 1
    while at < min(end, i + _REACH) and doc.norm[at] in _WHOM and not doc.tokens[at].brk:
        at += 1
    part = doc.owner[at] if at < end else None
    new = bool({"a", "an", "new", "some"} & set(doc.norm[i + 1 : at]))
    if part is None or not new or not part.comp or not part.part or part.kind != "word" or part.start != at:
        return
    after = doc.norm[part.stop] if part.stop < end else ""
    if after in _NAMED_ACTS or any(o.comp == part.comp for a in out for o in a.objects):
        return
    out.append(
        Act("replace", RECOMMENDED, i, i, part.stop, (begin, end), [from_mention(doc, part)], "offered")
    )
