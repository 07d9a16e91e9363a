"""What a verb is done to: the parts behind it, before it, or meant by "it", "those", "four"."""

from __future__ import annotations

from dataclasses import dataclass

from hatchnote.notes.clauses import PRONOUNS, components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.vocabulary import Term

_STOP = frozenset(
    [
        "because",
        "so",
        "but",
        "which",
        "while",
        "until",
        "when",
        "where",
        "if",
        "since",
        "although",
        "now",
        "before",
        "after",
        "unless",
        "that's",
        "it's",
    ]
)
_PASSIVE = frozenset(
    [
        "was",
        "were",
        "is",
        "are",
        "been",
        "be",
        "being",
        "got",
        "get",
        "gets",
        "has",
        "have",
        "had",
        "needs",
        "need",
        "needed",
        "to",
    ]
)


@dataclass(slots=True)
class Object:
    """A part a verb is done to."""

    comp: str
    number: str | None
    count: float | None
    start: int
    stop: int
    pronoun: bool = False
    done: bool = False
    mention: Mention | None = None
    plural: bool = False
    sized: bool = False
    """Whether the size said of the part before is this one's too ("hung two new ones")."""


def count_at(doc: Doc, at: int) -> float | None:
    """A count of things at token `at`: "four", "both", "a couple"; None where there is none."""
    word = doc.norm[at]
    if word == "both":
        return 2
    if word == "couple":
        return 2
    if word in ("pair",):
        return 2
    if word == "dozen":
        return 12
    value = number_word(doc, at)
    if (
        value is not None
        and CLASS.get(word) == "d"
        and at
        and CLASS.get(doc.norm[at - 1]) == "x"
        and not doc.tokens[at].brk
    ):
        value += number_word(doc, at - 1) or 0
    return value


def from_mention(doc: Doc, m: Mention) -> Object:
    """The object that a part's mention stands for, with the count said before it."""
    return Object(
        m.comp,
        m.number,
        count_before(doc, m),
        m.start,
        m.stop,
        mention=m,
        plural=m.plural or _plural_family(m),
    )


def _plural_family(m: Mention) -> bool:
    return any(t.plural for t in m.terms if t.kind in ("component", "family"))


_COUNT_SKIP = frozenset(
    [
        "new",
        "old",
        "more",
        "of",
        "the",
        "blower",
        "pleated",
        "those",
        "two-inch",
        "condenser",
        "dirty",
        "bad",
        "blown",
        "good",
        "worn",
        "supply",
        "return",
        "main",
        "all",
        "last",
    ]
)


def count_before(doc: Doc, m: Mention) -> float | None:
    """ "four filters", "both bearings", "all three fuses", "a set of six filters"."""
    i = m.start - 1
    steps = 0
    while i >= 0 and steps < 5 and not doc.tokens[i + 1].brk:
        owner = doc.owner[i]
        if owner is not None and owner.kind == "size":
            i = owner.start - 1
            steps += 1
            continue
        if (
            owner is not None
            and owner.kind == "value"
            and owner.value is not None
            and owner.value.ucum not in (None,)
        ):
            i = owner.start - 1
            steps += 1
            continue
        count = count_at(doc, i)
        if count is not None:
            if owner is not None and owner.kind == "value":
                if owner.stop - owner.start > 1 and (
                    owner.start < i or owner.value is None or owner.value.first != count
                ):
                    return None
                owner.claimed = "count"
            elif owner is not None and owner.kind not in ("word", "value"):
                return None
            return count if count >= 1 else None
        if doc.norm[i] not in _COUNT_SKIP and not (owner is not None and owner.has("condition")):
            return None
        i -= 1
        steps += 1
    return None


def find(doc: Doc, verb: Mention, term: Term, begin: int, end: int) -> list[Object]:
    """The parts `verb` is done to."""
    behind = _behind(doc, verb, begin, end)
    if term.form == "past" and _passive(doc, verb, begin):
        subject = _subject(doc, verb, begin)
        if subject:
            return subject
        fronted = _fronted(doc, verb, begin)
        if fronted is not None:
            return [fronted]
    if behind:
        return behind
    if term.form in ("past", "ing"):
        subject = _subject(doc, verb, begin)
        if subject and not _starts_clause(doc, verb, begin):
            return subject
    if term.form == "past" and _nothing_behind(doc, verb, end):
        fronted = _fronted(doc, verb, begin)
        if fronted is not None:
            return [fronted]
    return _pronoun(doc, verb, term, begin, end)


_AFTER_ALL = frozenset(
    {"today", "and", "too", "out", "off", "up", "again", "also", "back", "then", "with", "as", "already"}
)


def _nothing_behind(doc: Doc, verb: Mention, end: int) -> bool:
    return verb.stop >= end or doc.tokens[verb.stop].brk > 0 or doc.norm[verb.stop] in _AFTER_ALL


_LIST_WORDS = frozenset(
    {
        "of",
        "them",
        "each",
        "all",
        "by",
        "the",
        "a",
        "an",
        "and",
        "x",
        "pleats",
        "pleated",
        "new",
        "those",
        "type",
        "in",
        "on",
        "at",
        "inside",
        "behind",
        "bad",
        "total",
        "both",
        "was",
        "were",
        "is",
        "are",
        "got",
        "also",
        "then",
    }
)


def _fronted(doc: Doc, verb: Mention, begin: int) -> Object | None:
    """ "Filters, eight, twenty by twenty five by two, changed": part, count and size before a verb of its own."""
    at = verb.start
    while (
        at > begin
        and not doc.tokens[at].brk
        and doc.norm[at - 1] in ("was", "were", "been", "had", "has", "have", "got", "and", "is", "are")
    ):
        at -= 1
    if at == begin or not doc.tokens[at].brk:
        return None
    count: float | None = None
    counted: Mention | None = None
    i = at - 1
    while i >= begin and verb.start - i < 26:
        m = doc.owner[i]
        if m is not None and m.kind == "value" and m.value is not None and not m.value.text:
            if (
                m.value.ucum is None
                and m.value.first == int(m.value.first)
                and 1 <= m.value.first <= 48
                and m.stop - m.start == 1
            ):
                count, counted = m.value.first, m
            i = m.start - 1
        elif m is not None and m.comp and m.kind == "word" and m.part:
            if m.modifier:
                i = m.start - 1
                continue
            own = count_before(doc, m)
            if own is None and counted is not None:
                counted.claimed = "count"
            return Object(m.comp, m.number, own or count, m.start, m.stop, mention=m, plural=m.plural)
        elif m is not None and (m.kind == "size" or m.has("condition") or m.has("verb")):
            i = m.start - 1
        elif doc.norm[i] in _LIST_WORDS or count_at(doc, i) is not None:
            count = count or count_at(doc, i)
            i -= 1
        else:
            return None
    return None


def _starts_clause(doc: Doc, verb: Mention, begin: int) -> bool:
    return (
        verb.start == begin
        or doc.tokens[verb.start].brk > 0
        or doc.norm[verb.start - 1] in ("and", "then", "so", "i", "we", "but")
    )


def _passive(doc: Doc, verb: Mention, begin: int) -> bool:
    if verb.start <= begin or doc.tokens[verb.start].brk:
        return False
    before = doc.norm[verb.start - 1]
    if before in ("had", "have", "has", "got", "get"):
        return False
    owner = doc.owner[verb.start - 1]
    return before in _PASSIVE or (
        owner is not None
        and owner.has("cue", "needed", "recommended", "not", "was")
        and before not in ("i", "i'll", "not", "never")
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


def _behind(doc: Doc, verb: Mention, begin: int, end: int) -> list[Object]:
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
            if not (out and _list_goes_on(doc, i, end)):
                break
        owner = doc.owner[i]
        if doc.norm[i] in _STOP:
            break
        if owner is None:
            if doc.norm[i] in ("with", "from", "off", "by") and out:
                break
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
        near = _meant(doc, verb, (), begin)
        if near is not None:
            out.insert(
                0, Object(near.comp, near.number, None, near.start, near.stop, pronoun=True, mention=near)
            )
    heads = [o for o in out if o.pronoun or (o.mention is not None and not o.mention.modifier)]
    return _dedupe(heads or out)


_SPEC_WORDS = frozenset(
    {
        "which",
        "is",
        "a",
        "an",
        "it's",
        "and",
        "coil",
        "type",
        "rated",
        "with",
        "pole",
        "horse",
        "one",
        "the",
        "of",
        "them",
        "each",
        "blade",
        "both",
    }
)


def _over_specs(doc: Doc, at: int, end: int) -> int:
    """From a comma over sizes and values to what follows them: ", two pole forty amp, and the fuse"."""
    i = at
    values = 0
    while i < end and i - at < 16:
        m = doc.owner[i]
        if m is not None and m.kind in ("value", "size"):
            values += 1
            i = m.stop
        elif values and (doc.norm[i] == "and" or doc.tokens[i].brk) and _list_goes_on(doc, i, end):
            return i
        elif doc.norm[i] in _SPEC_WORDS:
            i += 1
        else:
            return at
    return at


_CLAUSE_WORDS = frozenset(
    {
        "is",
        "was",
        "are",
        "were",
        "has",
        "had",
        "came",
        "both",
        "looks",
        "looked",
        "still",
        "needs",
        "need",
        "reads",
        "runs",
        "started",
        "dropped",
        "went",
        "won't",
        "isn't",
        "wasn't",
        "shows",
        "says",
        "pulls",
        "draws",
        "feels",
        "sounds",
    }
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


def _verb_here(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    from hatchnote.notes.states import is_verb

    return is_verb(doc, m, begin, end) is not None


def _pronoun_between(doc: Doc, start: int, stop: int) -> bool:
    return any(
        doc.norm[i] in PRONOUNS or (doc.norm[i] == "new" and doc.norm[i + 1] in ("one", "ones"))
        for i in range(start, stop)
    )


def _list_goes_on(doc: Doc, at: int, end: int) -> bool:
    """ "replaced the belt, the filters and the igniter": a part right after the comma, and no clause of its own."""
    i = at
    while i < min(end, at + 5) and (
        doc.norm[i] in ("and", "the", "a", "an", "both", "new", "all", "its")
        or CLASS.get(doc.norm[i], ".") in "dt"
    ):
        i += 1
    owner = doc.owner[i] if i < end else None
    if owner is None or not owner.comp or not owner.part:
        return False
    j = owner.stop
    if j >= end:
        return True
    nxt = doc.owner[j]
    return (
        bool(doc.tokens[j].brk)
        or doc.norm[j] in ("and", "on", "with", "too")
        or (nxt is not None and nxt.kind == "size")
    )


def _dedupe(found: list[Object]) -> list[Object]:
    out: list[Object] = []
    for o in found:
        if not any(x.comp == o.comp and x.number == o.number for x in out):
            out.append(o)
    return out


def before(doc: Doc, verb: Mention, begin: int) -> list[Object]:
    """The parts before a verb in its clause."""
    return _subject(doc, verb, begin)


def _subject(doc: Doc, verb: Mention, begin: int) -> list[Object]:
    """The parts before a verb: "four filters changed", "the core and the cap need replaced"."""
    i = verb.start - 1
    start = verb.start
    while i >= begin and verb.start - i < 14:
        if doc.tokens[i + 1].brk and i + 1 <= verb.start:
            break
        if doc.norm[i] in ("because", "so", "but"):
            break
        start = i
        i -= 1
    found = components(doc, start, verb.start)
    if not found:
        found = components(doc, start, verb.start, heads=False)
    if not found:
        if any(doc.norm[x] in PRONOUNS for x in range(start, verb.start)):
            near = focus_before(doc, start)
            if near is None:
                return []
            count = count_before(doc, near) if near.start >= begin and near.kind == "word" else None
            return [Object(near.comp, near.number, count, near.start, near.stop, pronoun=True, mention=near)]
        return []
    last = found[-1]
    out = [last]
    for m in reversed(found[:-1]):
        if any(doc.norm[x] == "and" for x in range(m.stop, out[0].start)) and out[0].start - m.stop <= 3:
            out.insert(0, m)
        else:
            break
    return _dedupe([from_mention(doc, m) for m in out])


def _pronoun(doc: Doc, verb: Mention, term: Term, begin: int, end: int) -> list[Object]:
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
            near = _meant(doc, verb, entry.takes, begin) or _coming_size(doc, i, end)
            if near is not None:
                owner.claimed = "count"
                return [Object(near.comp, None, count, verb.start, i + 1, pronoun=True, mention=near)]
        if word in PRONOUNS or word in ("new", "another"):
            near = _by_size(doc, i, end) or _meant(doc, verb, entry.takes, begin)
            if near is None:
                return []
            count = 2 if word == "both" or doc.norm[i + 1 : i + 2] == ["both"] else None
            if (
                near.kind == "word"
                and count is None
                and word in ("them", "em", "those")
                and near.comp == "bearing"
            ):
                count = count_before(doc, near)
            number = None if count else near.number
            return [Object(near.comp, number, count, verb.start, i + 1, pronoun=True, mention=near)]
    sized = _sized(doc, verb, end)
    if sized is not None:
        return [sized]
    if (
        verb.stop >= end
        or doc.tokens[verb.stop].brk
        or doc.norm[verb.stop] in ("and", "with", "off", "out", "up", "again")
    ):
        near = _meant(doc, verb, entry.takes, begin)
        if near is not None and verb.start - near.start < 30:
            count = count_before(doc, near) if near.start >= begin and near.kind == "word" else None
            return [Object(near.comp, near.number, count, verb.start, verb.stop, pronoun=True, mention=near)]
        after = components(doc, verb.stop, min(end, verb.stop + 8))
        if after and term.slug == "inspect":
            return [from_mention(doc, after[0])]
    return []


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


def _sized(doc: Doc, verb: Mention, end: int) -> Object | None:
    """ "order a three pole fifty amp": the part last named whose size is said so."""
    values = [
        m for m in doc.within(verb.stop, min(end, verb.stop + 8)) if m.kind == "value" and m.value is not None
    ]
    if not values or doc.tokens[values[0].start].brk or values[0].start - verb.stop > 3:
        return None
    near = _meant(doc, verb, (), verb.start)
    if near is None:
        return None
    spec = doc.vocabulary.components[near.comp].size
    said = {
        "poles": "poles",
        "A": "A",
        "V": "V",
        "uF": "uF",
        "[HP]": "hp",
        "/min": "rpm",
        "[VA]": "VA",
        "kOhm": "Ohm",
        "k?": "Ohm",
    }
    if any(said.get(m.value.ucum or "") in spec or m.value.link == "plus" for m in values if m.value):
        return Object(near.comp, near.number, None, verb.start, verb.stop, pronoun=True, mention=near)
    return None


def _meant(doc: Doc, verb: Mention, takes: tuple[str, ...], begin: int) -> Mention | None:
    parts = any(doc.vocabulary.verbs[t.slug].parts for t in verb.of("verb"))
    return focus_before(doc, verb.start, takes, parts_only=parts, sizes=parts)


def _coming_size(doc: Doc, at: int, end: int) -> Mention | None:
    return next((m for m in doc.within(at, min(end, at + 6)) if m.kind == "size"), None)


def tags_for(doc: Doc, sentence: tuple[int, int], start: int, stop: int) -> tuple[str | None, ...]:
    """The machines an item is said of: one, or several where "on both" is said."""
    if len(doc.tags) > 1:
        words = f" {' '.join(doc.norm[start : min(sentence[1], stop + 5)])} "
        if len(doc.tags) == 2 and any(
            w in words for w in (" on both ", " both units ", " both machines ", " on both of them ")
        ):
            return tuple(doc.tags)
        if len(doc.tags) == 3 and any(
            w in words for w in (" on all three ", " all three units ", " all three machines ")
        ):
            return tuple(doc.tags)
        if any(
            w in words
            for w in (
                " on all of them ",
                " all units ",
                " on every unit ",
                " all the units ",
                " on each unit ",
                " on each one ",
            )
        ):
            return tuple(doc.tags)
    return (doc.tag_at[start],)
