"""Stage: findings. A condition and the part it is said of."""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes.absent import absent
from hatchnote.notes.conditions import meant_of
from hatchnote.notes.doc import Doc, Item, Mention
from hatchnote.notes.findings_after import (
    causes_for_symptoms,
    fitted_or_replaced,
    so_is_the_other,
    the_numbered_one,
)
from hatchnote.notes.findings_denied import is_asked, is_denied, is_supposed, is_thought, trouble_gone
from hatchnote.notes.findings_frames import (
    ADVERBS,
    adverb,
    as_meant,
    did_to,
    done_by_hand,
    is_act,
    lacks_some,
    of_its_supply,
    only_how,
    own_deed,
    praises_work,
    the_bad_one,
    turned_about,
    well_done,
    where_it_is,
    works_at,
    wrong_with,
)
from hatchnote.notes.findings_part import part_described, part_of_noun, part_spoken_of
from hatchnote.notes.focus import is_point
from hatchnote.notes.machines_meant import tags_for
from hatchnote.notes.safety_trips import safety_trips
from hatchnote.notes.short_of_gas import short_of_gas
from hatchnote.notes.shows_wrong import shows_wrong
from hatchnote.notes.telling import long_ago
from hatchnote.notes.unsaid import unsaid
from hatchnote.notes.vocabulary import Term

REQUIRES = ("components", "work", "tag_at")

ASSIGNS = ("findings",)


def findings(doc: Doc) -> None:
    """Find all conditions said of a part."""
    seen: set[tuple[object, ...]] = set()
    _all(doc, seen)
    safety_trips(doc)
    so_is_the_other(doc)
    causes_for_symptoms(doc)
    fitted_or_replaced(doc)
    the_numbered_one(doc)
    unsaid(doc)


def _all(doc: Doc, seen: set[tuple[object, ...]]) -> None:
    for begin, end in doc.sentences:
        for m in doc.within(begin, end):
            if (
                m.kind != "word" and not (m.value and m.terms)
            ) or m.claimed == "verb":  # a meter that shows an open too
                continue
            for term in m.of("condition"):
                made = _finding(doc, m, term, begin, end)
                if made is None:
                    continue
                for tag in tags_for(doc, (begin, end), m.start, m.stop):
                    _write(doc, m, term, tag, made, seen)
                break
        for m, sensor in shows_wrong(doc, begin, end):
            for tag in tags_for(doc, (begin, end), m.start, m.stop):
                _write(doc, m, _ASTRAY, tag, [(sensor.comp, sensor.number)], seen)
        for m in short_of_gas(doc, begin, end):
            for tag in tags_for(doc, (begin, end), m.start, m.stop):
                _write(doc, m, _LOW, tag, [("refrigerant", None)], seen)
        for m, comp in absent(doc, begin, end):
            for tag in tags_for(doc, (begin, end), m.start, m.stop):
                _write(doc, m, _MISSING, tag, [(comp, m.number)], seen)


_HOW_MUCH = frozenset(["flat", "dead", "clean", "good", "solid", "strong", "even", "nice", "steady"])
"""Words of condition that, right before a number, only say how much it is."""
_LOW = Term("condition", "low-charge", "short by weight")
_MISSING = Term("condition", "missing", "none there")
_ASTRAY = Term("condition", "out-of-range", "shows wrong")


def _write(
    doc: Doc,
    m: Mention,
    term: Term,
    tag: str | None,
    made: list[tuple[str, str | None]],
    seen: set[tuple[object, ...]],
) -> None:
    for comp, number in made:
        if comp == "insulation" and term.slug == "normal" and _megged(doc, m):
            continue  # "two hundred megohms, so the insulation's still okay": a winding's, which the ohms tell
        slug = meant_of(term.slug, comp, doc.norm[m.start : m.stop])
        if not slug:
            continue
        for one in number.split(",") if number and "," in number else [number]:
            key = (tag, comp, one, slug)
            if key in seen:
                continue
            seen.add(key)
            fields = {"component": comp, "number": one, "condition": slug}
            doc.items.append(Item("finding", m.start, m.start, m.stop, tag, fields, f"{term.form}: {slug}"))


def _megged(doc: Doc, m: Mention) -> bool:
    """Whether megohms are told in the sentence of `m`."""
    begin, end = doc.sentences[bisect_right(doc.sentences, (m.start, len(doc.norm))) - 1]
    return any(
        x.kind == "value" and x.value is not None and x.value.ucum == "MOhm" for x in doc.within(begin, end)
    )


def _finding(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> list[tuple[str, str | None]] | None:
    entry = doc.vocabulary.conditions[term.slug]
    unfaulted = term.slug == "normal" and doc.norm[m.start] in (
        "any",
        "anything",
    )  # "don't see anything wrong"
    if (
        (not unfaulted and is_denied(doc, m, term, begin))
        or is_supposed(doc, m, begin)
        or is_asked(doc, begin)
    ):
        return None
    if is_thought(doc, m, begin):
        return None
    if term.slug == "open" and _held_open(doc, m, begin):
        return None
    if m.has("point") and is_point(doc, m) and doc.norm[m.stop : m.stop + 1] != ["in"]:
        return None  # "split found at thirteen"
    if doc.norm[m.stop - 1] == "gone" and trouble_gone(doc, m, begin):
        return None
    if term.form != "noun" and long_ago(doc, m, begin, end):
        return None
    if (
        doc.norm[m.start] in ("quit", "stopped")
        and m.start > begin
        and doc.norm[m.start - 1] in ("it", "they", "that")
    ):
        return None  # "snugged it up and it quit": the trouble did
    if doc.norm[m.stop - 1] in _HOW_MUCH and m.stop < end and not doc.tokens[m.stop].brk:
        behind_it = doc.owner[m.stop]
        if behind_it is not None and behind_it.kind == "value":
            return None  # "a flat zero", "a good three and a half"
    if term.slug in ("failed", "normal") and doc.norm[m.start] in ADVERBS and adverb(doc, m, begin):
        return None
    if term.slug == "normal" and well_done(doc, m, begin):
        return None
    if term.slug == "normal" and (praises_work(doc, m, end) or not as_meant(doc, m)):
        return None
    if term.slug == "normal" and of_its_supply(doc, m, begin):
        return None
    if only_how(doc, m, begin, end) or works_at(doc, m, term, end):
        return None
    behind = wrong_with(doc, m, term, begin, end)
    if behind is not None:
        return behind if behind[0][0] else None
    if m.has("verb") and term.form == "adjective" and is_act(doc, m, begin, end):
        return None
    opens = m.start == begin or doc.tokens[m.start].brk or doc.norm[m.start - 1] in ("and", "then", "i")
    if opens and m.stop < end and doc.norm[m.stop] in ("it", "them", "those") and not doc.tokens[m.stop].brk:
        return None  # "bent it back"
    if term.slug == "no-flame" and doc.norm[m.start] == "no":
        return [("burner", None)]
    if own_deed(doc, m, term, begin):
        return None
    lacking = lacks_some(doc, m, end)
    if lacking is not None:
        return [lacking]
    place = where_it_is(doc, m, term, end)
    if place is not None:
        return [place]
    harmed = did_to(doc, m, term, begin, end)
    if harmed is not None:
        return [harmed]
    by_tool = "with" in doc.norm[max(begin, m.start - 6) : m.start]
    if term.form == "noun" and doc.norm[m.start] in ("bubbles", "soap") and by_tool:
        return None  # "went over it with the sniffer and bubbles"
    if term.form == "noun":
        return part_of_noun(doc, m, entry, begin, end)
    if done_by_hand(doc, m, begin, end):
        return None
    turned = turned_about(doc, m, begin, end)
    if turned is not None and (not entry.only or turned[0] in entry.only):
        return [turned]
    one = the_bad_one(doc, m, entry, begin, end)
    if one is not None:
        return [one]
    attributive = None if term.weak or term.slug == "normal" else part_described(doc, m, entry, end)
    if attributive is not None:
        return [attributive]
    subject = part_spoken_of(doc, m, term, entry, begin)
    if subject:
        return subject
    if entry.component and not term.weak:
        return [(entry.component, None)]
    return None


_HOLDS = frozenset({"had", "have", "got", "has", "get", "with", "having", "while", "when", "keep", "leave"})


def _held_open(doc: Doc, m: Mention, begin: int) -> bool:
    """ "While I had it open", "with her open", "when it's open": opened to work on."""
    before = doc.norm[max(begin, m.start - 2) : m.start]
    if before[-1:] == ["it's"]:
        return before[:1] == ["while"] or before[:1] == ["when"]
    return (
        len(before) == 2 and before[1] in ("it", "that", "them", "her", "everything") and before[0] in _HOLDS
    )


def place_of(doc: Doc, m: Mention, begin: int, end: int) -> tuple[str, str | None] | None:
    """The part a condition is said of, for those who need it before the findings are written."""
    for term in m.of("condition"):
        made = _finding(doc, m, term, begin, end)
        if made:
            return made[0]
    return None
