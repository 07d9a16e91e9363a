"""The part meant by "it", "those", "four" or by a size alone."""

from __future__ import annotations

from hatchnote.notes.clauses import PRONOUNS, components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.object_of_verb import Object, count_at, count_before, from_mention
from hatchnote.notes.unit_behind import INCHES
from hatchnote.notes.vocabulary import Term


def meant(doc: Doc, verb: Mention, term: Term, begin: int, end: int) -> list[Object]:
    """The part meant by a pronoun or a bare count behind the verb."""
    entry = doc.vocabulary.verbs[term.slug]
    for i in range(verb.stop, min(end, verb.stop + 6)):
        word = doc.norm[i]
        if doc.tokens[i].brk and (
            i > verb.stop or count_at(doc, i) is None or (i + 1 < end and not doc.tokens[i + 1].brk)
        ):
            break
        if word == "and" or (
            i > verb.stop + 1
            and word in ("it", "that", "they")
            and doc.norm[i - 1] not in ("up", "out", "off", "on", "all", "of", "down", "in")
        ):
            break
        owner = doc.owner[i]
        if owner is not None and owner.kind == "size":
            return [
                Object(
                    owner.comp,
                    None,
                    count_at(doc, i - 1) if i else None,
                    owner.start,
                    owner.stop,
                    pronoun=True,
                )
            ]
        count = count_at(doc, i)
        behind = doc.owner[i + 1] if count is not None and i + 1 < end else None
        if behind is not None and behind.has("cue", "thing", "stranger"):
            return []  # "dropped four tabs in"
        if count is not None or word in ("a", "an", "new"):
            size = _size_right_behind(doc, i, end)
            if size is not None:
                return [Object(size.comp, None, count or count_before(doc, size), size.start, size.stop)]
        if count is not None and doc.norm[i + 1 : i + 3] in _MORE_OF:
            near = last_fitted(doc, verb)
            if near is not None:
                if owner is not None and owner.kind == "value":
                    owner.claimed = "count"
                return [Object(near.comp, None, count, verb.start, i + 3, pronoun=True, mention=near)]
        if (
            count is not None
            and owner is not None
            and owner.kind == "value"
            and owner.value is not None
            and owner.value.ucum is None
            and owner.value.first == count
            and i == owner.start
            and doc.norm[i - 1] not in ("to", "at", "by", "from")
        ):
            near = last_meant(doc, verb, entry.takes, begin) or _coming_size(doc, i, end)
            if near is not None:
                owner.claimed = "count"
                return [Object(near.comp, None, count, verb.start, i + 1, pronoun=True, mention=near)]
        pair = word == "pair" and doc.norm[i - 1] in ("the", "that") and doc.norm[i + 1 : i + 2] != ["of"]
        if pair or word in PRONOUNS or word in ("new", "another"):
            near = _by_size(doc, i, end) or last_meant(doc, verb, entry.takes, begin)
            if near is None:
                return _named_behind(doc, i, end) if word in ("them", "all", "both", "those") else []
            count = 2 if pair or word == "both" or doc.norm[i + 1 : i + 2] == ["both"] else None
            if word == "all":
                count, i = _all_so_many(doc, i, end)
            if (
                near.kind == "word"
                and count is None
                and word in ("them", "em", "those")
                and near.comp == "bearing"
            ):
                count = count_before(doc, near)
            twin = _twin(doc, near, begin) if word in _PLURAL_WORDS else None
            if twin is not None and count in (None, 2):
                return [
                    Object(x.comp, x.number, None, verb.start, i + 1, pronoun=True, mention=x)
                    for x in (twin, near)
                ]
            number = None if count else near.number
            return [Object(near.comp, number, count, verb.start, i + 1, pronoun=True, mention=near)]
    sized = _sized(doc, verb, end)
    if sized is not None:
        return [sized]
    if (
        verb.stop >= end
        or doc.tokens[verb.stop].brk
        or doc.norm[verb.stop] in ("and", "with", "off", "out", "up", "again")
        or _as_far_as(doc, verb.stop)
    ):
        near = last_meant(doc, verb, entry.takes, begin)
        if near is not None and verb.start - near.start < 30:
            count = count_before(doc, near) if near.start >= begin and near.kind == "word" else None
            return [Object(near.comp, near.number, count, verb.start, verb.stop, pronoun=True, mention=near)]
        after = components(doc, verb.stop, min(end, verb.stop + 8))
        if after and term.slug == "inspect":
            return [from_mention(doc, after[0])]
    return []


def _as_far_as(doc: Doc, at: int) -> bool:
    """ "Scraped what I could reach", "brushed as much as I could", "combed most of what I could"."""
    said = doc.norm[at : at + 6]
    return (
        "could" in said and said[0] in ("what", "as", "all", "most", "best") and bool({"i", "we"} & set(said))
    )


_PLURAL_WORDS = frozenset({"both", "them", "those", "em", "they"})
_BETWEEN_TWINS = frozenset({"and", "the", "a", "an", "its", "so", "is", "are", "both", "plus", "as", "well"})


def _twin(doc: Doc, near: Mention, begin: int) -> Mention | None:
    """ "The belt and the pulley were worn, replaced both": the part told with the last."""
    if near.kind != "word" or near.plural or not near.comp:
        return None
    low = max(begin, near.start - 9)
    for m in reversed(doc.within(low, near.start)):
        if m.has("condition") and not m.comp:
            continue
        if not m.comp or not m.part or m.kind != "word" or m.comp == near.comp or m.modifier or m.plural:
            return None
        words = {doc.norm[k] for k in range(m.stop, near.start) if not _is_condition(doc, k)}
        return m if "and" in words and words <= _BETWEEN_TWINS else None
    return None


def _is_condition(doc: Doc, k: int) -> bool:
    owner = doc.owner[k]
    return owner is not None and owner.has("condition")


_MORE_OF = (["more", "of"], ["of", "those"], ["of", "them"], ["of", "these"])
_FITTED_BACK = 90


def last_fitted(doc: Doc, verb: Mention) -> Mention | None:
    """ "Order three more of those": the part last put in, where one was; else None."""
    if doc.norm[verb.start] not in _ORDERED:
        return None
    for m in reversed(doc.within(max(0, verb.start - _FITTED_BACK), verb.start)):
        if m.claimed != "verb" or m.slug not in ("replace", "install"):
            continue
        if doc.tag_at[m.start] != doc.tag_at[verb.start]:
            return None
        named = components(doc, m.stop, min(len(doc.tokens), m.stop + 6))
        named = [x for x in named if not any(t.brk == 2 for t in doc.tokens[m.stop : x.start + 1])]
        return named[0] if named else focus_before(doc, m.start, parts_only=True)
    return None


_ORDERED = frozenset({"order", "ordered", "ordering"})


def _named_behind(doc: Doc, at: int, end: int) -> list[Object]:
    """ "Changed them all, nine filters": the pronoun is told what it means after the comma."""
    i = at
    while i < end and not doc.tokens[i].brk and i - at < 3:
        i += 1
    if i >= end or doc.tokens[i].brk != 1:
        return []
    named = components(doc, i, min(end, i + 4))[:1]
    if named and named[0].stop < end and doc.norm[named[0].stop] in ("is", "are", "was", "were", "isn't"):
        return []  # "couldn't check any of them, gas is off": told of another thing
    return [from_mention(doc, m) for m in named]


def _all_so_many(doc: Doc, at: int, end: int) -> tuple[float | None, int]:
    """ "All six", "all eight of them": (how many, the last token of it)."""
    i = at + 1
    if i >= end or doc.tokens[i].brk or count_at(doc, i) is None:
        return None, at
    if CLASS.get(doc.norm[i]) == "x" and i + 1 < end and CLASS.get(doc.norm[i + 1]) == "d":
        i += not doc.tokens[i + 1].brk  # "all twenty four"
    owner = doc.owner[i]
    if owner is not None and owner.kind not in ("word", "value"):
        return None, at
    if owner is not None and owner.kind == "value":
        owner.claimed = "count"
    return count_at(doc, i), i


_KIND = {"poles": "poles", "uF": "uF", "[HP]": "hp", "[VA]": "VA", "kOhm": "Ohm", "k?": "Ohm", "W": "W"}


def _by_size(doc: Doc, at: int, end: int) -> Mention | None:
    """ "Put in a new forty plus five", "a new third horse": the part whose size is said so, last named."""
    owner = doc.owner[at + 1] if at + 1 < end and not doc.tokens[at + 1].brk else None
    if owner is None or owner.kind != "value" or owner.value is None:
        return None
    kind = "uF" if owner.value.link == "plus" else _KIND.get(owner.value.ucum or "")
    if owner.stop < end and doc.norm[owner.stop] in ("plus", "+"):
        kind = "uF"
    if kind is None:
        return None
    allowed = tuple(s for s, e in doc.vocabulary.components.items() if kind in e.size)
    near = focus_before(doc, at, allowed, 120)
    if near is None and kind == "uF":
        near = Mention("word", at, at + 1, comp="run-capacitor")
    return near


_SAID = {
    "poles": "poles",
    "A": "A",
    "V": "V",
    "uF": "uF",
    "[HP]": "hp",
    "/min": "rpm",
    "[VA]": "VA",
    "kOhm": "Ohm",
    "k?": "Ohm",
    INCHES: "in",
    "[in_i]": "in",
}


def _sized(doc: Doc, verb: Mention, end: int) -> Object | None:
    """ "order a three pole fifty amp": the part last named whose size is said so."""
    values = [
        m for m in doc.within(verb.stop, min(end, verb.stop + 8)) if m.kind == "value" and m.value is not None
    ]
    if not values or doc.tokens[values[0].start].brk or values[0].start - verb.stop > 3:
        return None
    near = last_meant(doc, verb, (), verb.start)
    if near is None:
        return None
    spec = doc.vocabulary.components[near.comp].size
    if any(_SAID.get(m.value.ucum or "") in spec or m.value.link == "plus" for m in values if m.value):
        return Object(near.comp, near.number, None, verb.start, verb.stop, pronoun=True, mention=near)
    return None


def last_meant(doc: Doc, verb: Mention, takes: tuple[str, ...], begin: int) -> Mention | None:

    parts = any(doc.vocabulary.verbs[t.slug].parts for t in verb.of("verb"))
    sized = parts or "supply-fan-belt" in takes
    return focus_before(doc, verb.start, takes, parts_only=parts, sizes=sized)


def _size_right_behind(doc: Doc, at: int, end: int) -> Mention | None:
    """ "Two new B X fifty fives": a size that stands for the part, in one breath."""
    for i in range(at + 1, min(end, at + 4)):
        if doc.tokens[i].brk:
            return None
        m = doc.owner[i]
        if m is not None and m.kind == "size" and m.comp:
            after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
            return None if after is not None and after.part else m
        if doc.norm[i] not in ("new", "of", "those", "the", "more", "matched", "pair", "set"):
            return None
    return None


def _coming_size(doc: Doc, at: int, end: int) -> Mention | None:
    return next((m for m in doc.within(at, min(end, at + 6)) if m.kind == "size"), None)
