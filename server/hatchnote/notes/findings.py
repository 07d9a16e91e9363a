"""Stage: findings. A condition and the part it is said of."""

from __future__ import annotations

from hatchnote.notes.clauses import PRONOUNS, focus_before
from hatchnote.notes.doc import Doc, Item, Mention
from hatchnote.notes.focus import is_point
from hatchnote.notes.telling import long_ago
from hatchnote.notes.vocabulary import ConditionEntry, Term

REQUIRES = ("components", "work", "tag_at")
ASSIGNS = ("findings",)

_COPULA = frozenset(
    [
        "is",
        "was",
        "are",
        "were",
        "looks",
        "look",
        "looked",
        "tested",
        "tests",
        "reads",
        "read",
        "seems",
        "feels",
        "sounds",
        "sounded",
        "still",
        "be",
        "been",
        "being",
        "got",
        "gets",
        "came",
        "stays",
        "runs",
        "running",
        "all",
        "really",
        "pretty",
        "real",
        "very",
        "completely",
        "totally",
        "kind",
        "of",
        "a",
        "little",
        "bit",
        "too",
        "also",
        "just",
    ]
)
_ATTRIBUTIVE_SKIP = frozenset(
    ["old", "blower", "condenser", "the", "same", "two", "three", "all", "both", "a", "an", "and"]
)
_NORMAL_BLOCK = frozenset(
    ["not", "isn't", "wasn't", "aren't", "weren't", "no", "doesn't", "don't", "didn't", "never", "ain't"]
)
_HYPOTHETICAL = frozenset(["if", "unless", "in_case", "until", "before"])
_JOINTS = frozenset(["and", "or", "but"])


def findings(doc: Doc) -> None:
    """Find all conditions said of a part."""
    seen: set[tuple[object, ...]] = set()
    _all(doc, seen)
    missing = {
        (x.tag, x.fields["component"]): x.at
        for x in doc.items
        if x.kind == "finding" and x.fields["condition"] == "missing"
    }
    for item in doc.items:
        if item.kind == "work" and item.fields["verb"] == "replace" and item.fields["state"] == "done":
            at = missing.get((item.tag, item.fields["component"]))
            if at is not None and at < item.at:
                item.fields["verb"] = "install"  # nothing was there to be replaced


def _all(doc: Doc, seen: set[tuple[object, ...]]) -> None:
    for begin, end in doc.sentences:
        for m in doc.within(begin, end):
            if m.kind != "word" or m.claimed == "verb":
                continue
            for term in m.of("condition"):
                made = _finding(doc, m, term, begin, end)
                if made is None:
                    continue
                for part in made:
                    comp, number = part
                    tag = doc.tag_at[m.start]
                    for one in number.split(",") if number and "," in number else [number]:
                        key = (tag, comp, one, term.slug)
                        if key in seen:
                            continue
                        seen.add(key)
                        fields = {"component": comp, "number": one, "condition": term.slug}
                        doc.items.append(
                            Item(
                                "finding", m.start, m.start, m.stop, tag, fields, f"{term.form}: {term.slug}"
                            )
                        )
                break


def _finding(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> list[tuple[str, str | None]] | None:
    entry = doc.vocabulary.conditions[term.slug]
    if _denied(doc, m, term, begin) or _hypothetical(doc, m, begin) or _asked(doc, begin):
        return None
    if doc.norm[m.stop - 1] == "gone" and _trouble_gone(doc, m, begin):
        return None
    if term.form != "noun" and long_ago(doc, m, begin, end):
        return None
    if term.slug == "failed" and doc.norm[m.start] == "bad" and _adverb(doc, m, begin):
        return None
    if _only_how(doc, m, begin, end):
        return None
    behind = _wrong_with(doc, m, term, end)
    if behind is not None:
        return behind if behind[0][0] else None
    if m.has("verb") and term.form == "adjective" and _is_act(doc, m, begin, end):
        return None
    opens = m.start == begin or doc.tokens[m.start].brk or doc.norm[m.start - 1] in ("and", "then", "i")
    if opens and m.stop < end and doc.norm[m.stop] in ("it", "them", "those") and not doc.tokens[m.stop].brk:
        return None  # "bent it back"
    if term.form == "noun":
        return _of_noun(doc, m, entry, begin, end)
    one = _the_bad_one(doc, m, entry, begin, end)
    if one is not None:
        return [one]
    attributive = None if term.weak or term.slug == "normal" else _attributive(doc, m, entry, end)
    if attributive is not None:
        return [attributive]
    subject = _subject(doc, m, term, entry, begin)
    if subject:
        return subject
    if entry.component and not term.weak:
        return [(entry.component, None)]
    return None


_FUNCTION = frozenset(
    [
        "and",
        "or",
        "but",
        "so",
        "on",
        "in",
        "at",
        "to",
        "with",
        "from",
        "when",
        "while",
        "now",
        "here",
        "there",
        "again",
        "up",
        "the",
        "a",
        "an",
        "old",
        "it",
        "real",
        "pretty",
        "too",
        "bad",
        "over",
        "out",
        "off",
        "one",
        "ones",
        "as",
        "for",
        "by",
    ]
)


def _only_how(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "dead seized" tells how, "marked to open" what for, "a bent ladder" of a thing that is no part."""
    after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
    word = doc.norm[m.start]
    if (
        after is not None
        and after.has("condition")
        and m.stop - m.start == 1
        and word in ("dead", "good", "bad", "full", "stuck")
    ):
        return True
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if before == "to" and word in ("open", "clean", "clear", "seal", "work"):
        return True
    if before in ("a", "an") and m.stop < end and not doc.tokens[m.stop].brk:
        if after is not None:
            return after.has("cue", "thing")
        return doc.tokens[m.stop].kind == "w" and doc.norm[m.stop] not in _FUNCTION and not m.has("verb")
    return False


def _wrong_with(doc: Doc, m: Mention, term: Term, end: int) -> list[tuple[str, str | None]] | None:
    """ "Nothing wrong with the belt", "no issues with the economizer": normal is said of what stands behind."""
    if term.slug != "normal" or doc.norm[m.stop - 1] != "with":
        return None
    for x in doc.within(m.stop, min(end, m.stop + 5)):
        if doc.tokens[x.start].brk:
            break
        if x.comp and x.kind == "word" and x.part:
            return [(x.comp, x.number)]
    return [("", None)]


def _the_bad_one(
    doc: Doc, m: Mention, entry: ConditionEntry, begin: int, end: int
) -> tuple[str, str | None] | None:
    """ "Fitted in place of the worn one": the part last named."""
    before = doc.norm[m.start - 1] if m.start > begin else ""
    if (
        before not in ("the", "that")
        or m.stop >= end
        or doc.norm[m.stop] not in ("one", "ones")
        or doc.tokens[m.stop].brk
    ):
        return None
    near = focus_before(doc, m.start, entry.only, 25)
    return (near.comp, near.number) if near is not None else None


def place_of(doc: Doc, m: Mention, begin: int, end: int) -> tuple[str, str | None] | None:
    """The part a condition is said of, for those who need it before the findings are written."""
    for term in m.of("condition"):
        made = _finding(doc, m, term, begin, end)
        if made:
            return made[0]
    return None


def _allowed(entry: ConditionEntry, m: Mention) -> bool:
    return not entry.only or m.comp in entry.only


def _denied(doc: Doc, m: Mention, term: Term, begin: int) -> bool:
    """ "no cracks", "isn't leaking", "didn't see any leaks", "no signs of rust"."""
    if term.form == "noun" and m.start > begin and doc.norm[m.start - 1] in ("for", "any"):
        return True  # "checked for cracks"
    i = m.start - 1
    steps = 0
    while i >= begin and steps < (7 if term.form == "noun" else 4):
        if doc.tokens[i + 1].brk:
            return False
        owner = doc.owner[i]
        if owner is not None and owner.has("cue", "not"):
            return True
        if doc.norm[i] in _NORMAL_BLOCK:
            return True
        if owner is not None and owner.comp and term.form != "noun":
            before = (
                doc.norm[owner.start - 1] if owner.start > begin and not doc.tokens[owner.start].brk else ""
            )
            return before in ("no", "zero", "any")  # "no gas leaks"
        if (
            term.form == "adjective"
            and doc.norm[i] not in _COPULA
            and owner is None
            and doc.norm[i] not in ("any", "more", "much", "that", "it", "or", "looking")
        ):
            steps += 2
        i -= 1
        steps += 1
    if term.form == "noun":
        after = [doc.norm[x] for x in range(m.stop, min(len(doc.norm), m.stop + 3))]
        for x in range(m.stop, min(len(doc.norm), m.stop + 9)):
            if doc.tokens[x].brk:
                break
            if doc.norm[x] == "gone" and doc.norm[x - 1] in ("is", "are"):
                return True  # "the leak at the core is gone"
        return (
            after[:2] in (["is", "gone"], ["are", "gone"])
            or after[:1] == ["check"]
            or after[:1] == ["checked"]
        )
    return False


def _hypothetical(doc: Doc, m: Mention, begin: int) -> bool:
    i = m.start - 1
    while i >= max(begin, m.start - 9):
        if doc.norm[i] in ("if", "unless"):
            return True
        if doc.tokens[i + 1].brk:
            return False
        i -= 1
    return False


def _asked(doc: Doc, begin: int) -> bool:
    """ "Is the belt cracked?"."""
    return doc.norm[begin] in ("is", "are", "was", "were") and doc.norm[begin + 1 : begin + 2] in (
        ["the"],
        ["that"],
        ["it"],
    )


def _trouble_gone(doc: Doc, m: Mention, begin: int) -> bool:
    """ "The leak at the core is gone", "the noise in the belt's gone": the trouble is, not the part."""
    low = max(begin, m.start - 10)
    subject = doc.owner[m.start - 1] if m.start > begin else None
    if subject is None or not subject.part:
        return True  # "the valves in it are gone"
    return bool({"noise", "smell", "sound", "code", "fault"} & set(doc.norm[low : m.start])) or any(
        x.has("condition") for x in doc.within(low, m.start)
    )


def _is_act(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "sealed the curb", "cut the wire": the past of a verb with its object behind it."""
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if before in ("is", "was", "are", "were", "looks", "be", "been"):
        return False
    return before in ("i", "we", "then", "and", "to", "he") and not _comp_before(doc, m, begin)


def _comp_before(doc: Doc, m: Mention, begin: int) -> bool:
    return any(x.comp and x.part for x in doc.within(max(begin, m.start - 5), m.start))


def _attributive(doc: Doc, m: Mention, entry: ConditionEntry, end: int) -> tuple[str, str | None] | None:
    """ "a cracked belt", "worn motor pulley", "found a bad contactor"."""
    before = doc.norm[m.start - 1] if m.start and not doc.tokens[m.start].brk else ""
    previous = doc.owner[m.start - 1] if m.start else None
    if before in ("is", "was", "are", "were", "looks", "it's", "that's") or (
        previous is not None and previous.comp and not doc.tokens[m.start].brk and before not in ("found",)
    ):
        return None
    i = m.stop
    steps = 0
    while i < end and steps < 3:
        if doc.tokens[i].brk:
            return None
        owner = doc.owner[i]
        if owner is not None and owner.comp and owner.kind == "word" and owner.part and not owner.modifier:
            return (owner.comp, owner.number) if _allowed(entry, owner) else None
        if owner is not None and owner.has("condition"):
            i = owner.stop
            steps += 1
            continue
        if doc.norm[i] not in _ATTRIBUTIVE_SKIP:
            return None
        i += 1
        steps += 1
    return None


def _adverb(doc: Doc, m: Mention, begin: int) -> bool:
    """ "pitted real bad": how much, not what."""
    i = m.start - 1
    if i >= begin and doc.norm[i] in ("real", "pretty", "so", "really", "too", "that"):
        i -= 1
    owner = doc.owner[i] if i >= begin else None
    return owner is not None and owner.has("condition")


def _of_noun(
    doc: Doc, m: Mention, entry: ConditionEntry, begin: int, end: int
) -> list[tuple[str, str | None]] | None:
    """ "a crack in the second tube", "found a leak at the core", "leak ... is at the braze on the suction line"."""
    i = m.stop
    found: Mention | None = None
    where = False
    while i < min(end, m.stop + 14):
        owner = doc.owner[i]
        if doc.tokens[i].brk and found is None and i > m.stop:
            break
        if doc.tokens[i].brk and i > m.stop:
            break
        if doc.norm[i] in ("in", "at", "on", "from", "around", "under", "near", "off"):
            where = True
        if owner is not None and owner.has("verb") and owner.claimed == "verb":
            break
        if (
            owner is not None
            and owner.comp
            and owner.kind == "word"
            and owner.part
            and where
            and not is_point(doc, owner)
        ):
            found = owner
            break
        i = max(i + 1, owner.stop if owner else 0)
    if found is None:
        before = doc.norm[m.start - 1] if m.start > begin else ""
        previous = doc.owner[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else None
        if previous is not None and previous.comp and previous.part:
            found = previous
        elif (
            before in ("has", "have", "had", "a", "some", "with", "of", "little")
            or doc.norm[m.stop : m.stop + 2] in (["on", "it"], ["in", "it"])
            or (doc.norm[m.stop : m.stop + 1] in (["on"], ["in"]))
        ):
            i = m.start - 1
            while i >= begin and m.start - i < 9:
                owner = doc.owner[i]
                if owner is not None and owner.comp and owner.part and not owner.modifier:
                    found = owner
                    break
                i -= 1
    if found is None or not _allowed(entry, found):
        return None
    return [(found.comp, found.number)]


def _subject(
    doc: Doc, m: Mention, term: Term, entry: ConditionEntry, begin: int
) -> list[tuple[str, str | None]] | None:
    """The part before the condition in its clause; a pronoun or an empty subject means the part last named."""
    i = m.start - 1
    pronoun = False
    copula = False
    crossed = 0
    empty = m.start == begin or doc.tokens[m.start].brk == 1
    while i >= begin and m.start - i < 22:
        owner = doc.owner[i]
        if doc.tokens[i + 1].brk:
            crossed += 1
            lead = i + 1
            if crossed == 1 and lead < m.start:
                if _bare_lead(doc, lead, m.start):
                    empty = True
                elif not pronoun:
                    return None
            if crossed > 1 and not (empty or pronoun):
                return None
            if crossed > (4 if pronoun else 2):
                return None
        if owner is not None and owner is not m:
            if (
                owner.comp
                and owner.kind == "word"
                and owner.part
                and not owner.modifier
                and not is_point(doc, owner)
            ):
                if pronoun and term.slug == "out-of-range" and "which" not in doc.norm[owner.stop : m.start]:
                    return None
                if not _allowed(entry, owner):
                    if crossed:
                        return None
                    i = owner.start - 1
                    continue
                return _with_joined(doc, owner, begin, m)
            if (
                owner.comp
                and owner.kind == "word"
                and owner.modifier
                and _allowed(entry, owner)
                and not _head_before(doc, owner, begin, entry)
            ):
                return [(owner.comp, owner.number)]
            i = owner.start - 1
            if owner.has("cue", "was") or any(w in _COPULA for w in doc.norm[owner.start : owner.stop]):
                copula = True
            if any(w in PRONOUNS for w in doc.norm[owner.start : owner.stop]):
                pronoun = True
            continue
        word = doc.norm[i]
        if word in PRONOUNS and crossed == 0 and not _determiner(doc, i):
            if not all(_light(doc, x) for x in range(i + 1, m.start)):
                return None
            pronoun = True
        elif word in _COPULA:
            copula = True
        elif (
            word
            in (
                "stuff",
                "everything",
                "guy",
                "he",
                "she",
                "they",
                "place",
                "roof",
                "weather",
                "i",
                "i'm",
                "day",
                "rest",
                "customer",
                "manager",
                "else",
            )
            and crossed == 0
        ):
            return None
        i -= 1
    if pronoun or empty:
        if term.slug == "out-of-range" and pronoun:
            return None
        back = 40 if pronoun else 25
        near = focus_before(doc, i + 1 if i + 1 > 0 else 0, entry.only, back)
        if (
            near is not None
            and (copula or pronoun or empty)
            and (not empty or m.start != begin or not term.weak)
        ):
            if term.slug == "normal" and not pronoun:
                return None
            return [(near.comp, near.number)]
    return None


def _determiner(doc: Doc, i: int) -> bool:
    """ "that fan", "those filters": the word belongs to the part behind it."""
    if doc.norm[i] not in (
        "that",
        "this",
        "those",
        "these",
        "both",
        "all",
        "each",
        "the",
        "which",
    ) or i + 1 >= len(doc.owner):
        return False
    owner = doc.owner[i + 1]
    return owner is not None and bool(owner.comp)


def _light(doc: Doc, i: int) -> bool:
    """A word that may stand between "it" and the condition."""
    owner = doc.owner[i]
    return (
        doc.norm[i] in _COPULA
        or doc.norm[i] in ("so", "one", "now", "not", "uh", "um", "in", "at")
        or (owner is not None and (owner.has("condition") or owner.has("cue")))
    )


def _bare_lead(doc: Doc, start: int, stop: int) -> bool:
    """A clause that only takes the subject up again: ", looks good", "and it's bulged", ", real bad"."""
    for i in range(start, stop):
        word = doc.norm[i]
        owner = doc.owner[i]
        if (
            word in _COPULA
            or word in PRONOUNS
            or word in _JOINTS
            or word
            in (
                "so",
                "which",
                "that",
                "uh",
                "um",
                "now",
                "in",
                "at",
                "out",
                "reads",
                "ohms",
                "meter",
                "testing",
                "ohm",
                "there",
            )
        ):
            continue
        if owner is not None and (owner.has("condition") or owner.has("cue")):
            continue
        return False
    return True


def _head_before(doc: Doc, m: Mention, begin: int, entry: ConditionEntry) -> bool:
    i = m.start - 1
    while i >= begin and m.start - i < 10:
        if doc.tokens[i + 1].brk:
            return False
        owner = doc.owner[i]
        if owner is not None and owner.comp and owner.part and not owner.modifier and _allowed(entry, owner):
            return True
        i -= 1
    return False


def _with_joined(doc: Doc, head: Mention, begin: int, m: Mention) -> list[tuple[str, str | None]]:
    """ "the contactor and the relay are burnt": both."""
    out = [(head.comp, head.number)]
    i = head.start - 1
    steps = 0
    plural = any(doc.norm[x] in ("are", "were", "look", "both") for x in range(head.stop, m.start))
    while plural and i >= begin and steps < 3:
        owner = doc.owner[i]
        if doc.norm[i] == "and" or doc.norm[i] in ("the", "a", "an"):
            i -= 1
            steps += 1
            continue
        if (
            owner is not None
            and owner.comp
            and owner.part
            and not owner.modifier
            and any(doc.norm[x] == "and" for x in range(owner.stop, head.start))
        ):
            out.insert(0, (owner.comp, owner.number))
        break
    return out
