"""The part a condition is said of: behind it, before it, or last named."""

from __future__ import annotations

from hatchnote.notes.clauses import PRONOUNS, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.findings_strange import strange_clause, strange_subject
from hatchnote.notes.focus import is_point
from hatchnote.notes.object_of_verb import count_at
from hatchnote.notes.vocabulary import ConditionEntry, Term
from hatchnote.notes.wordlists import words

COPULA = words(
    """
    is was are were looks look looked tested tests reads read seems feels sounds sounded still be been
    being got gets came stays runs running all really pretty real very completely totally kind of a
    little bit too also just
    """
)

_ATTRIBUTIVE_SKIP = words("old blower condenser the same two three all both a an and")

_JOINTS = frozenset(["and", "or", "but"])
_HAVING = words("has have had got gets a some with of little just only light except")


def _allowed(entry: ConditionEntry, m: Mention) -> bool:
    return not entry.only or m.comp in entry.only


def part_described(doc: Doc, m: Mention, entry: ConditionEntry, end: int) -> tuple[str, str | None] | None:
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
            number = owner.number or _its_number(doc, owner, m)
            return (owner.comp, number) if _allowed(entry, owner) else None
        if owner is not None and owner.has("condition"):
            i = owner.stop
            steps += 1
            continue
        if doc.norm[i] not in _ATTRIBUTIVE_SKIP or (
            doc.norm[i] in ("and", "the") and not _described_on(doc, i, end)
        ):
            return None
        i += 1
        steps += 1
    return None


def _its_number(doc: Doc, part: Mention, m: Mention) -> str | None:
    """ "Contactor number two has got pitted points": the points are the contactor's."""
    if doc.norm[part.start : part.stop] not in (["points"], ["contacts"]):
        return None
    for i in range(m.start - 1, max(-1, m.start - 8), -1):
        x = doc.owner[i]
        if doc.tokens[i + 1].brk == 2:
            return None
        if x is not None and x.comp == part.comp and x.number:
            return x.number
    return None


def _described_on(doc: Doc, i: int, end: int) -> bool:
    """ "A cracked and worn belt": behind "and" stands another condition, no clause of its own."""
    after = doc.owner[i + 1] if i + 1 < end else None
    return after is not None and after.has("condition")


def part_of_noun(
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
            before in _HAVING
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


def _only_sizes(doc: Doc, i: int, begin: int) -> bool:
    """Whether the stretch that ends at token `i` only counts or sizes: ", four pieces, twenty by twenty by two,"."""
    k = i
    while k >= begin:
        owner = doc.owner[k]
        if not (
            (owner is not None and owner.kind in ("size", "value"))
            or doc.norm[k] in ("pieces", "each", "of", "them", "inch", "inches")
            or count_at(doc, k) is not None
        ):
            return False
        if doc.tokens[k].brk:
            return True
        k -= 1
    return False


_MEASURED = (
    "run-capacitor",
    "start-capacitor",
    "thermostat",
    "limit-switch",
    "pressure-switch",
    "high-pressure-switch",
    "low-pressure-switch",
)
"""Parts of which a value out of range is said by "it"; sensors may only show what is so."""
_CASES = frozenset({"panel", "curb", "roof-hatch", "disconnect", "control-board"})
"""What things lie in, on or by."""
_OTHER_THINGS = words(
    "stuff everything guy he she they place roof weather i i'm day rest customer manager else"
)


_OF_TERMINALS = frozenset({"loose", "burnt", "corroded", "pitted", "damaged"})


def _of_a_terminal(doc: Doc, m: Mention, term: Term, begin: int) -> bool:
    """ "T3 on the compressor was loose", "L one's burnt at the contactor": said of the terminal of that leg."""
    if term.slug not in _OF_TERMINALS:
        return False
    i = m.start - 1
    while i >= begin and m.start - i < 8 and not doc.tokens[i + 1].brk:
        x = doc.owner[i]
        if x is not None and x.kind == "legs":
            return "-" not in x.slug and "," not in x.slug and len(x.slug) == 2
        if x is not None and x.comp and x.part and not x.modifier:
            return False
        i -= 1
    return False


def part_spoken_of(
    doc: Doc, m: Mention, term: Term, entry: ConditionEntry, begin: int
) -> list[tuple[str, str | None]] | None:
    """The part before the condition in its clause; a pronoun or an empty subject means the part last named."""
    i = m.start - 1
    pronoun = False
    copula = False
    crossed = skipped = 0
    ones = plural = joined = False
    if doc.norm[max(begin, m.start - 2) : m.start] in (
        ["tested", "it"],
        ["checked", "it"],
        ["tested", "that"],
        ["tested", "them"],
    ):
        pronoun = True  # "and tested it, good"
    empty = m.start == begin or doc.tokens[m.start].brk == 1
    if strange_subject(doc, m.start, begin):
        return None
    if _of_a_terminal(doc, m, term, begin):
        return [("wire-terminal", None)]
    head = doc.heading_at.get(begin)
    if head is not None and _allowed(entry, head) and _only_machines(doc, begin, m.start):
        return [(head.comp, head.number)]  # "Belts. Three's is cracked."
    while i >= begin and m.start - i < 22:
        owner = doc.owner[i]
        if doc.tokens[i + 1].brk and i + 1 > begin and strange_clause(doc, i + 1, begin):
            return None
        if doc.tokens[i + 1].brk:
            crossed += 1
            lead = i + 1
            if crossed == 1 and lead < m.start:
                if _bare_lead(doc, lead, m.start):
                    empty = True
                elif not pronoun:
                    return None
            if crossed - skipped > 1 and not (empty or pronoun):
                return None
            skipped += _only_sizes(doc, i, begin)
            if crossed - skipped > (4 if pronoun else 2):
                return None
        if owner is not None and owner is not m:
            if (
                owner.has("cue", "thing", "stranger")
                and not owner.comp
                and doc.norm[owner.stop - 1] in ("end", "ends")
            ):
                i = owner.start - 1  # "the bearing on the drive end's howling"
                continue
            if owner.has("cue", "thing", "stranger") and not owner.comp:
                return None
            if owner.kind == "size" and owner.comp and pronoun and _allowed(entry, owner):
                return [(owner.comp, None)]
            if (
                owner.comp
                and owner.kind == "word"
                and owner.part
                and not owner.modifier
                and not is_point(doc, owner)
                and doc.norm[owner.stop : owner.stop + 1] != ["side"]
            ):
                faulty = "out" in doc.norm[m.start : m.stop] and "sensor" in owner.comp
                if (
                    pronoun
                    and not faulty
                    and term.slug == "out-of-range"
                    and "which" not in doc.norm[owner.stop : m.start]
                ):
                    return None
                if not _allowed(entry, owner):
                    if crossed:
                        return None
                    i = owner.start - 1
                    continue
                return _with_joined(doc, owner, begin, m)
            if owner.comp and owner.modifier and not owner.plural and plural and owner.comp in _CASES:
                return None  # "left the old belts inside the door, they're not bad"
            if (
                owner.comp
                and owner.kind == "word"
                and owner.modifier
                and not ones
                and _allowed(entry, owner)
                and not _head_before(doc, owner, begin, entry, over_breaks=pronoun)
            ):
                return [(owner.comp, owner.number)]
            i = owner.start - 1
            if owner.has("cue", "was") or any(w in COPULA for w in doc.norm[owner.start : owner.stop]):
                copula = True
            if owner.kind == "word" and any(w in PRONOUNS for w in doc.norm[owner.start : owner.stop]):
                pronoun = True
            continue
        word = doc.norm[i]
        if word == "all" and doc.norm[i + 1] in ("the", "over", "around", "along", "through"):
            pass  # "cracked all the way round and glazed"
        elif word in PRONOUNS and crossed == 0 and not pronoun and not _determiner(doc, i):
            if not all(_light(doc, x) for x in range(i + 1, m.start)):
                return None
            pronoun = True
            ones = word in ("one", "ones")
            plural = word in ("they", "they're", "those", "them", "these")
        elif word in COPULA:
            copula = True
        elif word in ("and", "but", "so", "because") and pronoun:
            joined = True  # "I take it out and it is cracked"
        elif word in _OTHER_THINGS and crossed == 0 and not joined:
            return None
        i -= 1
    if pronoun or empty:
        if term.slug == "out-of-range" and pronoun:
            own_fault = "out" in doc.norm[m.start : m.stop] or "calibration" in doc.norm[m.start : m.stop]
            measured = (
                _MEASURED
                if not own_fault
                else (*_MEASURED, *(c for c in doc.vocabulary.components if "sensor" in c))
            )
            copula = copula or bool({"that's", "it's"} & set(doc.norm[max(begin, m.start - 4) : m.start]))
            near = focus_before(doc, i + 1 if i + 1 > 0 else 0, measured, 30)
            return [(near.comp, near.number)] if near is not None and copula else None
        back = 40 if pronoun else 25
        near = focus_before(doc, i + 1 if i + 1 > 0 else 0, entry.only, back, sizes=True)
        if (
            near is not None
            and (copula or pronoun or empty)
            and (not empty or m.start != begin or not term.weak)
        ):
            if term.slug == "normal" and not pronoun:
                return None
            return [(near.comp, near.number)]
    return None


def _only_machines(doc: Doc, begin: int, stop: int) -> bool:
    """Whether nothing but machines and small words stands there: "three is", "one and two,"."""
    return all(
        (doc.owner[i] is not None and doc.owner[i].kind in ("machine", "machines"))  # type: ignore[union-attr]
        or _light(doc, i)
        for i in range(begin, stop)
    )


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


_LIGHT = words(
    """
    so one now not uh um in at plumb slap real right pretty way clear clean good some kinda sorta dang
    awful mighty
    """
)


def _light(doc: Doc, i: int) -> bool:
    """A word that may stand between "it" and the condition."""
    owner = doc.owner[i]
    return (
        doc.norm[i] in COPULA
        or doc.norm[i] in _LIGHT
        or (owner is not None and (owner.has("condition") or owner.has("cue")))
    )


_LEAD_WORDS = words(
    """
    so which that uh um now in at out reads ohms meter testing ohm there pieces inside checked tested
    condition shape still yes
    """
)


def _bare_lead(doc: Doc, start: int, stop: int) -> bool:
    """A clause that only takes the subject up again: ", looks good", "and it's bulged", ", real bad"."""
    for i in range(start, stop):
        word = doc.norm[i]
        owner = doc.owner[i]
        if (
            word in COPULA
            or word in PRONOUNS
            or word in _JOINTS
            or word in _LEAD_WORDS
            or count_at(doc, i) is not None
            or (owner is not None and owner.kind == "size")
        ):
            continue
        if owner is not None and (owner.has("condition") or owner.has("cue")):
            continue
        return False
    return True


def _head_before(
    doc: Doc, m: Mention, begin: int, entry: ConditionEntry, *, over_breaks: bool = False
) -> bool:
    i = m.start - 1
    while i >= begin and m.start - i < 14:
        if doc.tokens[i + 1].brk and not over_breaks:
            return False
        owner = doc.owner[i]
        if owner is not None and owner.comp and owner.part and not owner.modifier and _allowed(entry, owner):
            return True
        i -= 1
    return False


def _with_joined(doc: Doc, head: Mention, begin: int, m: Mention) -> list[tuple[str, str | None]]:
    """ "The contactor and the relay are burnt", "belt, pulleys and bearings all look good": each of them."""
    out = [(head.comp, head.number)]
    between = doc.norm[head.stop : m.start]
    plural = any(w in ("are", "were", "look", "both", "all") for w in between)
    plural = plural or (not between and doc.norm[head.start - 1] == "and" and head.start - 1 > begin)
    if not plural:
        return out
    both = "both" in between
    at = head.start
    joined = False
    while len(out) < (2 if both else 5):
        i = at - 1
        linked = False
        while i >= begin and at - i < 9:
            owner = doc.owner[i]
            if doc.norm[i] == "and":
                linked = joined = True
            elif doc.tokens[i + 1].brk:
                linked = linked or joined or both
            if owner is not None and owner.kind in ("value", "size") and (both or joined):
                i = owner.start - 1
                continue
            if owner is not None and owner.comp:
                break
            if doc.norm[i] not in ("and", "the", "a", "an", "is", "plus", "was", "its", "both") and not (
                both and doc.norm[i] in ("inch", "inches", "at")
            ):
                return out
            i -= 1
        owner = doc.owner[i] if i >= begin else None
        if owner is None or not owner.comp or not owner.part or owner.kind != "word" or owner.modifier:
            return out
        if not linked and not (doc.tokens[at].brk and joined):
            return out  # "back to the compressor, filters are plugged": no list
        if (owner.comp, owner.number) in out:
            return out
        out.insert(0, (owner.comp, owner.number))
        at = owner.start
    return out
