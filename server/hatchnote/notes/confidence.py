"""Stage: doubts. What makes a person look again, and what else it could be.

Marked are: a word of the value that the recogniser was unsure of; words that can be read in two ways; a value
unlikely for its point; a repaired word beside it; a machine the site does not have; a point that was not said; a
manner of writing that leaves the value open; a second hearing of the same seconds that gives another number, or none
of this size. A second hearing that agrees takes a doubt about the recogniser's words away.
"""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Doc, Draft, Repair
from hatchnote.notes.doubtful import doubtful
from hatchnote.notes.doubtful_items import doubtful_items
from hatchnote.notes.fitting import TWO_WAYS, fit
from hatchnote.notes.left_open import FRACTION, HYPHEN, MANY, left_open
from hatchnote.notes.legs_differ import legs_differ
from hatchnote.notes.misplaced import misplaced
from hatchnote.notes.named_twice import ONCE, named_twice
from hatchnote.notes.regrouped import WHY, regrouped
from hatchnote.notes.second_heard import second_heard
from hatchnote.notes.surroundings import hardly_heard

REQUIRES = ("drafts", "repairs", "work", "findings")
ASSIGNS = ("doubts",)

UNSURE = 0.45
"""Probability of a number word below which its value is marked. Chosen on our own spoken set, see benchmarks/notes."""
REPAIR_REACH = 4
"""Tokens between a repaired word and the value it vouches for."""
_GUESSED = frozenset(
    {"the same points as on the machine before", "goes on from before", "goes on from the sentence before"}
)


def confidence(doc: Doc) -> None:
    """Add the doubts of every draft and item."""
    named_twice(doc)
    legs_differ(doc)
    starts = _word_starts(doc)
    repairs = [r for r in doc.repairs if not r.quiet]
    times = [h.start for h in doc.second]
    for d in doc.drafts:
        entry = doc.vocabulary.points[d.point]
        if _regroup(doc, d, starts):
            d.doubts.append(WHY)
        elif d.value is not None and d.source is not None and d.source.value is not None:
            found = fit(entry, d.source.value, d.component)
            if found.cost >= 1.9 and not any("outside" in x for x in d.doubts) and d.basis != "rated":
                low, high = entry.windows.get(d.component or "", entry.likely)
                d.doubts.append(f"unusual for this point (mostly {low:g} to {high:g} {entry.unit})".rstrip())
        for r in repairs:
            if _read_over(doc, d, r) and _same_sentence(doc, r.start, d.start):
                d.doubts.append(f'heard "{r.heard}", read as "{r.meant}"')
        if d.tag in doc.doubtful_tags:
            d.doubts.append(doc.doubtful_tags[d.tag])
        if d.rule in _GUESSED:
            d.doubts.append("the point was not said with the number")
        elif (why := doubtful(doc, d) or misplaced(doc, d)) is not None:
            d.doubts.append(why)
        if _cut_out(doc, d, starts):
            d.doubts.append("heard run into another word")
        many = 2 if d.point in ONCE and d.legs is None else MANY
        heard_open = left_open(doc.words, _word_range(doc, d, starts), d.ucum, many)
        if heard_open and heard_open[0] not in _settled(d):
            d.doubts.append(heard_open[0])
            d.others = (*d.others, *heard_open[1])
        unsure = _unsure(doc, d, starts)
        second = second_heard(doc, d, _word_range(doc, d, starts), times)
        if second is not None and second.agrees:
            unsure = None
            if second.parted and TWO_WAYS in d.doubts:
                d.doubts.remove(TWO_WAYS)
        elif second is not None:
            d.doubts.append("a second hearing gives another number")
            d.others = (*d.others, *second.others)
            _likelier(doc, d, second.others)
        if unsure is None and hardly_heard(doc.words, _word_range(doc, d, starts)):
            unsure = "the words around it were hardly heard"
        if unsure:
            d.doubts.append(unsure)
    for a, b in pairwise(doc.drafts):
        if _same_place_twice(a, b):
            for d in (a, b):
                d.doubts.append("two numbers for the same terminals")
    doubtful_items(doc)
    for item in doc.items:
        if item.tag in doc.doubtful_tags:
            item.doubts.append(doc.doubtful_tags[item.tag or ""])
        for r in repairs:
            if (
                item.start <= r.stop + 5
                and r.start <= item.stop + 3
                and _same_sentence(doc, r.start, item.start)
            ):
                item.doubts.append(f'heard "{r.heard}", read as "{r.meant}"')


def _read_over(doc: Doc, d: Draft, r: Repair) -> bool:
    """Whether a reading rests on a repaired word: one in it, right behind it, or shortly before it and its likes."""
    if r.start >= d.start:
        return r.start < d.stop or (
            r.start - d.stop <= 1 and not any(t.brk for t in doc.tokens[d.stop : r.start + 1])
        )
    between = (x for x in doc.drafts if x.sentence == d.sentence and r.stop <= x.at < d.at)
    return d.start <= r.stop + REPAIR_REACH and all(x.point == d.point for x in between)


def _settled(d: Draft) -> tuple[str, ...]:
    """What the reading itself shows not to be open: a hyphen read as a number, a fraction read with its whole."""
    if d.value is None:
        return ()
    return (HYPHEN,) if d.value == int(d.value) else (HYPHEN, FRACTION)


def _cut_out(doc: Doc, d: Draft, starts: list[int]) -> bool:
    """True where a heard word goes on behind the number in letters that nothing was read from: "8-boy"."""
    words = _word_range(doc, d, starts)
    if d.source is None or not words or doc.words[words[-1]].p is None:
        return False
    end = starts[words[-1]] + len(doc.words[words[-1]].text)
    stop = d.source.stop
    behind = [i for i in range(stop, min(stop + 3, len(doc.tokens))) if doc.tokens[i].end <= end]
    return any(
        doc.tokens[i].text.isalpha() and len(doc.tokens[i].text) > 2 and doc.owner[i] is None for i in behind
    )


def _same_place_twice(a: Draft, b: Draft) -> bool:
    """One after the other, of one point between the same terminals, and different: one number cut in two, mostly."""
    same = (a.point, a.component, a.number, a.tag, a.legs) == (b.point, b.component, b.number, b.tag, b.legs)
    near = a.source is not None and b.source is not None and 0 <= b.source.start - a.source.stop <= 1
    return same and near and a.legs is not None and a.value != b.value


def _same_sentence(doc: Doc, a: int, b: int) -> bool:
    return not any(doc.tokens[i].brk == 2 for i in range(min(a, b) + 1, max(a, b) + 1))


def _word_starts(doc: Doc) -> list[int]:
    starts: list[int] = []
    at = 0
    for word in doc.words:
        starts.append(at)
        at += len(word.text) + 1
    return starts


def _word_range(doc: Doc, d: Draft, starts: list[int]) -> range:
    if not starts or d.source is None:
        return range(0)
    stop = (
        d.source.value.number_stop
        if d.source.value is not None and d.source.value.number_stop
        else d.source.stop
    )
    first = bisect_right(starts, doc.tokens[d.source.start].start) - 1
    last = bisect_right(starts, doc.tokens[max(stop - 1, d.source.start)].end - 1) - 1
    return range(first, last + 1)


def _unsure(doc: Doc, d: Draft, starts: list[int]) -> str | None:
    if not doc.words or doc.words[0].p is None:
        return None
    low = min((doc.words[i].p or 1.0 for i in _word_range(doc, d, starts)), default=1.0)
    return "the recogniser was not sure of the number" if low < UNSURE else None


def _regroup(doc: Doc, d: Draft, starts: list[int]) -> bool:
    """Give the draft the one likely value of its figures; what was written is kept as what else it could be."""
    entry = doc.vocabulary.points[d.point]
    if d.ucum != entry.ucum or d.source is None or (d.value is None and d.text is None):
        return False
    low, high = entry.windows.get(d.component or "", entry.likely)
    found = regrouped(doc.words, _word_range(doc, d, starts), low, high)
    if found is None or found[0] == d.value:
        return False
    d.others = (Alternative(d.value, d.ucum, found[1]), *d.others)
    d.value, d.text = found[0], None
    return True


def _likelier(doc: Doc, d: Draft, others: tuple[Alternative, ...]) -> None:
    """Take the second hearing's number where it is likely for the point and the first one's is not.

    The first one's is kept as what else it could be; the mark stays.
    """
    entry = doc.vocabulary.points[d.point]
    low, high = entry.windows.get(d.component or "", entry.likely)
    if d.value is not None and others and d.ucum != entry.ucum == others[0].ucum:
        first = Alternative(d.value, d.ucum, f"{d.value:.10g}")
        d.others = (first, *(x for x in d.others if x.value != others[0].value))
        d.value, d.ucum = others[0].value, entry.ucum
        return
    if d.value is None or d.ucum != entry.ucum or low <= d.value <= high:
        return
    for other in others:
        if other.value is not None and low <= other.value <= high:
            first = Alternative(d.value, d.ucum, f"{d.value:.10g}")
            d.others = (first, *(x for x in d.others if x is not other))
            d.value = other.value
            return
