"""Stage: run-on speech cut into sentences where something else is begun: another machine, another thing, an act.

People who do not stop, and recognisers that write no full stops, leave one sentence of a whole visit; what "now" or
"found" or a machine's name is said of then reaches too far. Sentences as long as people mostly say are left alone.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import pairwise

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.lexicon import LONGEST
from hatchnote.notes.read_again import family
from hatchnote.notes.wordlists import words

REQUIRES = ("mentions", "values", "machines")
ASSIGNS = ("sentences", "unstopped")
_LONG = 42
"""Tokens; of sentences with full stops in our own sets one in two hundred is longer."""
_OPEN = words("and then so but now okay also next well anyway uh um plus after that")
_PEOPLE = words("i we he she they somebody i've we've i'm")
_PLACES = words(
    "on at in of for to from by with under behind near across over off around between into per through"
)
_ARTICLES = words("the a an his her its their that this my our")
_LEADS = words("on in at the for i with is it's everything running here")
_NEAR = 8
_STRIDE = 12
"""Tokens from one comma to the next, beyond which people do not stop."""
_MOST_SMALL = 16
_PARTING = frozenset({"and", "then", "so", "but", "because", "which"})
_LOOSE = frozenset(
    {
        "part with its point implied",
        "rating or setting of the point before",
        "designation",
        "speed behind the horses of a plate",
        "point behind the value",
    }
)
"""Rules that go wrong there once in ten times, on our own sets without their commas and full stops."""
_TIMES = words("now after before found was were left then")


def run_on(doc: Doc) -> None:
    """Cut every long sentence."""
    by_length = [begin for begin, _ in doc.sentences]
    joined: list[tuple[int, int]] = []
    for begin, end in doc.sentences:
        if joined and not doc.tokens[begin].brk:
            joined[-1] = (joined[-1][0], end)  # cut by length alone
        else:
            joined.append((begin, end))
    out: list[tuple[int, int]] = []
    for begin, end in joined:
        if end - begin < _LONG:
            out.append((begin, end))
            continue
        if _stops(doc, begin, end, all_of=True) * _STRIDE < end - begin:
            doc.unstopped.append((begin, end))
        at = begin
        for cut in [*_cuts(doc, begin, end), end]:
            out += _by_length(at, cut, by_length)
            if cut < end:
                doc.tokens[cut] = doc.tokens[cut]._replace(brk=2)
                doc.breaks = None
            at = cut
    doc.sentences = out


def _by_length(begin: int, end: int, borders: list[int]) -> list[tuple[int, int]]:
    """A stretch that nothing divides, cut where its length alone had cut it before."""
    if end - begin < LONGEST:
        return [(begin, end)]
    inside = borders[bisect_right(borders, begin) : bisect_left(borders, end)]
    return list(pairwise([begin, *inside, end]))


def _stops(doc: Doc, begin: int, end: int, *, all_of: bool = False) -> int:
    """How often a comma, or also a small word, parts the words of a stretch."""
    return sum(bool(doc.tokens[i].brk) or (all_of and doc.norm[i] in _PARTING) for i in range(begin + 1, end))


def unstopped(doc: Doc) -> None:
    """Mark what was told without a stop, where the name of a value may be the one before it or the one behind."""
    begins = [a for a, _ in doc.unstopped]
    for d in doc.drafts:
        k = bisect_right(begins, d.at) - 1
        if k >= 0 and d.at < doc.unstopped[k][1] and d.rule in _LOOSE:
            d.doubts.append("told without a stop: may be of something else")


def _cuts(doc: Doc, begin: int, end: int) -> list[int]:
    """Tokens of one long sentence at which something else is begun."""
    spoken = _stops(doc, begin, end) * _STRIDE < end - begin
    out: list[int] = []
    last = begin
    topic: object = None
    told = anything = False
    for m in doc.within(begin, end):
        then = _and_then(doc, last, m.start)
        if told and then is not None:
            out.append(then)
            last, topic, told = then, None, False
        if m.kind in ("value", "size") or m.has("condition"):
            told = True
        before = anything
        anything = anything or told or bool(m.comp)
        start = _clause(doc, last, m.start)
        opens = start > last and (
            bool(doc.tokens[start].brk) or (start < m.start and doc.norm[start] in _OPEN)
        )
        if m.kind in ("machine", "machines"):
            if start > last + 1 and (opens or spoken) and m.number is None and before:
                out.append(start)
                last, topic, told, anything = start, None, False, False
            continue
        if m.kind != "word":
            continue
        about = _topic(m)
        acts = m.has("verb") and not m.has("point") and opens
        if about is None and not acts:
            continue
        if _placed(doc, m.start):
            continue
        fresh = acts or (about != topic and (opens or (spoken and _value_follows(doc, m, end))))
        if told and fresh and start - last >= 2 and not _joined(doc, start, m, end):
            out.append(start)
            last, told = start, False
        if about is not None and (topic is None or fresh):
            topic = about
        if acts:
            topic = None
            told = True
    return out


_TELLS = words("is was are were looks has had reads runs needs got feels sounds seems won't isn't wasn't")


def _joined(doc: Doc, start: int, m: Mention, end: int) -> bool:
    """ "I swap the motor and the blade both": two parts of one act, nothing being told of the second."""
    before = doc.owner[start - 1]
    if doc.norm[start] != "and" or doc.tokens[start].brk or before is None or not before.comp or not m.comp:
        return False
    if any(doc.norm[k] not in _ARTICLES for k in range(start + 1, m.start)):
        return False
    if doc.tokens[m.stop - 1].lower.endswith(("'s", "’s")):
        return False
    after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
    word = doc.norm[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else ""
    return (
        word not in _TELLS
        and (after is None or after.kind == "word")
        and not (after and after.has("condition"))
    )


def _clause(doc: Doc, low: int, at: int) -> int:
    """Back from token `at` over small words to where its clause begins."""
    i = at
    while i > low and at - i < _MOST_SMALL and not doc.tokens[i].brk:
        before = doc.norm[i - 1]
        if before not in _OPEN and before not in _PEOPLE and before not in _ARTICLES and before not in _TIMES:
            break
        value = doc.owner[i - 2] if i - 2 >= low and before in _TIMES and not doc.tokens[i - 1].brk else None
        if value is not None and value.kind == "value":
            break  # "three eight now, rise forty one"
        i -= 1
    while i > low and at - i < _MOST_SMALL and (lead := _heading_before(doc, low, i)) < i:
        i = lead  # "so circuit two now, suction one twenty one"
    return i


def _heading_before(doc: Doc, low: int, at: int) -> int:
    """Where the clause before token `at` begins, if it only says when or of which circuit; else `at`."""
    if not doc.tokens[at].brk:
        return at
    i = at
    headed = False
    while i > low and at - i < _MOST_SMALL:
        i -= 1
        owner = doc.owner[i]
        cue = owner is not None and owner.kind == "word" and owner.has("cue", "left", "found")
        headed = headed or cue or (owner is not None and owner.kind in ("circuit", "machine"))
        named = owner is not None and (cue or owner.kind in ("circuit", "machine", "stage"))
        if not named and doc.norm[i] not in _OPEN and doc.norm[i] not in _TIMES and doc.norm[i] not in _LEADS:
            return at
        if doc.tokens[i].brk:
            break
    return i if headed and i > low else at


def _and_then(doc: Doc, low: int, at: int) -> int | None:
    """Where "and then" begins something new right before token `at`."""
    for i in range(at - 1, max(low, at - _NEAR), -1):
        if doc.norm[i : i + 2] == ["and", "then"]:
            return i
    return None


def _placed(doc: Doc, at: int) -> bool:
    """Whether a word only says where: "at the disconnect", "on the compressor"."""
    i = at - 1
    while i >= 0 and doc.norm[i] in _ARTICLES and not doc.tokens[i + 1].brk:
        i -= 1
    return i >= 0 and doc.norm[i] in _PLACES and not doc.tokens[i + 1].brk


def _topic(m: Mention) -> object:
    points = m.of("point")
    strong = [t for t in points if not t.weak]
    if strong and not m.comp:
        return family(strong[0].slug)
    if m.comp:
        return m.comp
    family_of = m.of("family")
    return family_of[0].slug if family_of else None


def _value_follows(doc: Doc, m: Mention, end: int) -> bool:
    """Whether a value, a condition or a verb stands right behind, before another name."""
    for other in doc.within(m.stop, min(end, m.stop + 6)):
        if other.kind in ("value", "legs") or other.has("condition") or other.has("verb"):
            return True
        if other.kind == "word" and _topic(other) is not None:
            return False
    return False
