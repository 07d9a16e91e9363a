"""The parts behind a verb: one, a list, a list over sizes."""

from __future__ import annotations

from hatchnote.notes.clauses import PRONOUNS, components
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.object_of_verb import Object, count_before, dedupe, from_mention
from hatchnote.notes.objects_meant import last_meant
from hatchnote.notes.wordlists import words

_STOP = words(
    "because so but which while until when where if since although now before after unless that's it's"
)


def _size_first(doc: Doc, verb: Mention, end: int) -> Object | None:
    """ "changed two twenty by twenty by ones belt good": the size right behind the verb is what was changed."""
    if not any(doc.vocabulary.verbs[t.slug].parts for t in verb.of("verb")):
        return None
    for m in doc.within(verb.stop, min(end, verb.stop + 5)):
        if doc.tokens[m.start].brk:
            return None
        if m.kind == "value" and m.value is not None and m.value.ucum is None and m.stop - m.start == 1:
            continue
        if m.kind != "size":
            return None
        after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
        if after is None or not after.comp or after.comp == m.comp or after.plural:
            return None
        return Object(m.comp, None, count_before(doc, m), m.start, m.stop)
    return None


def parts_behind(doc: Doc, verb: Mention, begin: int, end: int) -> list[Object]:
    first = _size_first(doc, verb, end)
    if first is not None:
        return [first]
    out: list[Object] = []
    i = verb.stop
    limit = min(end, verb.stop + 24)
    while i < limit:
        if doc.tokens[i].brk and i > verb.stop:
            over = _over_specs(doc, i, end) if out else i
            if over > i and _list_goes_on(doc, over, end):
                i = over
                limit = min(end, i + 12)
                continue
            sized = doc.owner[i]
            if (
                out
                and sized is not None
                and sized.kind in ("size", "value")
                and sized.stop < end
                and (doc.tokens[sized.stop].brk or doc.norm[sized.stop] == "and")
                and _list_goes_on(doc, sized.stop, end)
            ):
                i = sized.stop
                continue
            if not out and _stumbled(doc, verb.stop, i, end):
                i += 1
                continue
            if not (out and _list_goes_on(doc, i, end)):
                break
        owner = doc.owner[i]
        if doc.norm[i] in _STOP:
            break
        if owner is None:
            if doc.norm[i] in ("with", "from", "off", "by") and out:
                break
            if doc.norm[i] == "and" and not out and i - verb.stop > 1 and _acts_anew(doc, i + 1, end):
                break  # "turned off the cooling and running the fan to thaw it"
            if doc.norm[i] == "and" and not out and i - verb.stop > 1 and _pronoun_between(doc, verb.stop, i):
                break
            i += 1
            continue
        if (
            owner is not verb
            and owner.has("verb")
            and not owner.comp
            and any(t.form == "past" or t.form == "base" for t in owner.of("verb"))
            and _verb_here(doc, owner, begin, end)
        ):
            break
        if (
            (
                owner.has("cue", "now", "rated", "left", "setting")
                and not owner.comp
                and owner.start > verb.stop
                and not owner.has("cue", "not")
            )
            and owner.has("cue", "rated", "left")
            and doc.norm[owner.start] in ("now", "plate", "nameplate")
        ):
            break
        if (
            owner.comp
            and owner.kind == "word"
            and owner.part
            and out
            and _subject_of_its_own(doc, owner, end)
        ):
            break
        if owner.comp and owner.part and not out and _it_and_a_clause(doc, owner, verb, end):
            break
        if (
            owner.comp
            and owner.kind == "word"
            and owner.part
            and not out
            and _says_of_it(doc, owner, verb, end)
        ):
            break
        if owner.comp and owner.kind == "word" and owner.part:
            if owner.modifier and out:
                i = owner.stop
                continue
            if (
                not owner.modifier
                or not any(not x.modifier for x in components(doc, owner.stop, limit, heads=True)[:1])
            ) and (not owner.modifier or not _pronoun_between(doc, verb.stop, owner.start)):
                out.append(from_mention(doc, owner))
        i = max(owner.stop, i + 1)
    if out and doc.norm[verb.stop : verb.stop + 2] in (["it", "and"], ["that", "and"], ["them", "and"]):
        near = last_meant(doc, verb, (), begin)
        if near is not None:
            out.insert(
                0, Object(near.comp, near.number, None, near.start, near.stop, pronoun=True, mention=near)
            )
    heads = [o for o in out if o.pronoun or (o.mention is not None and not o.mention.modifier)]
    return dedupe(heads or out)


def _acts_anew(doc: Doc, i: int, end: int) -> bool:
    """Whether a verb that the vocabulary does not know stands there: "running the fan", "left it going"."""
    if i + 1 >= end or doc.owner[i] is not None or doc.tokens[i + 1].brk:
        return False
    word = doc.norm[i]
    return word.endswith(("ing", "ed")) or word in (
        "ran",
        "left",
        "let",
        "put",
        "got",
        "took",
        "went",
        "kept",
        "am",
    )


_STUMBLES = words("the a an that uh um er ah what's it called my its this what you call like oh i mean")


def _stumbled(doc: Doc, start: int, at: int, end: int) -> bool:
    """ "I replaced the, uh, the contactor": an article that waits for its noun over a comma."""
    lead = doc.norm[start:at]
    return (
        bool(lead)
        and lead[-1] in _STUMBLES
        and set(lead) <= _STUMBLES
        and bool({"the", "a", "an", "that"} & set(lead))
    )


_SPEC_WORDS = words("which is a an it's and coil type rated with pole horse one the of them each blade both")


def _over_specs(doc: Doc, at: int, end: int) -> int:
    """From a comma over sizes and values to what follows them: ", two pole forty amp, and the fuse"."""
    i = at
    values = 0
    while i < end and i - at < 16:
        m = doc.owner[i]
        if m is not None and m.kind in ("value", "size"):
            values += 1
            i = m.stop
        elif m is not None and m.part and m.comp and values:
            return at
        elif values and (doc.norm[i] == "and" or doc.tokens[i].brk) and _list_goes_on(doc, i, end):
            return i
        elif doc.norm[i] in _SPEC_WORDS:
            i += 1
        else:
            return at
    return at


_CLAUSE_WORDS = words(
    """
    is was are were has had came both looks looked still needs need reads runs started dropped went
    won't isn't wasn't shows says pulls draws feels sounds
    """
)


def _subject_of_its_own(doc: Doc, m: Mention, end: int) -> bool:
    """ "reset the switch and the compressors both came up": the second part begins a clause."""
    if not any(doc.norm[k] == "and" or doc.tokens[k + 1].brk for k in range(max(0, m.start - 3), m.start)):
        return False
    if m.stop >= end or doc.tokens[m.stop].brk:
        return False
    after = doc.owner[m.stop]
    possessive = doc.tokens[m.stop - 1].lower.endswith(("'s", "’s"))
    if doc.norm[m.stop] == "both" and (m.stop + 1 >= end or doc.tokens[m.stop + 1].brk):
        return False
    return doc.norm[m.stop] in _CLAUSE_WORDS or (possessive and not (after is not None and after.comp))


_AFTER_AN_OBJECT = words(
    "and or with on in at too as for off out while from by to today now both again up down also"
)


def _it_and_a_clause(doc: Doc, m: Mention, verb: Mention, end: int) -> bool:
    """ "Reset it and the fan hums": the part does something itself; "changed it and the belt": it does not."""
    between = [w for w in doc.norm[verb.stop : m.start] if w not in ("the", "then", "now")]
    if len(between) != 2 or between[0] not in PRONOUNS or between[1] != "and":
        return False
    if m.stop >= end or doc.tokens[m.stop].brk:
        return False
    return doc.norm[m.stop] not in _AFTER_AN_OBJECT and not (doc.owner[m.stop] and doc.owner[m.stop].comp)  # type: ignore[union-attr]


def _says_of_it(doc: Doc, m: Mention, verb: Mention, end: int) -> bool:
    """ "could not check heat on any of them gas is shut off": a bare part and what it is, a clause of its own."""
    if (
        m.stop >= end
        or doc.tokens[m.stop].brk
        or doc.norm[m.stop] not in ("is", "isn't", "was", "wasn't", "are")
    ):
        return False
    return m.start - verb.stop > 1 and doc.norm[m.start - 1] not in (
        "the",
        "that",
        "a",
        "this",
        "its",
        "if",
        "and",
    )


def _verb_here(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    from hatchnote.notes.said_as_verb import is_verb

    return is_verb(doc, m, begin, end) is not None


def _pronoun_between(doc: Doc, start: int, stop: int) -> bool:
    return any(
        doc.norm[i] in PRONOUNS or (doc.norm[i] == "new" and doc.norm[i + 1] in ("one", "ones"))
        for i in range(start, stop)
    )


def _list_goes_on(doc: Doc, at: int, end: int) -> bool:
    """ "replaced the belt, the filters and the igniter": a part right after the comma, and no clause of its own."""
    i = at
    while i < min(end, at + 10):
        held = doc.owner[i]
        if held is not None and held.kind in ("value", "size"):
            i = held.stop
        elif (
            doc.norm[i]
            in (
                "and",
                "the",
                "a",
                "an",
                "both",
                "new",
                "all",
                "its",
                "some",
                "another",
                "plus",
                "also",
                "then",
            )
            or CLASS.get(doc.norm[i], ".") in "dt"
        ):
            i += 1
        else:
            break
    owner = doc.owner[i] if i < end else None
    if owner is None or not owner.comp or not owner.part:
        return False
    j = owner.stop
    if j >= end:
        return True
    nxt = doc.owner[j]
    return (
        bool(doc.tokens[j].brk)
        or doc.norm[j] in ("and", "on", "with", "too", "for", "in")
        or (nxt is not None and nxt.kind in ("size", "value"))
    )
