"""Bare numbers that measure nothing: counts, times of day, names of places, "the kindergarten one"."""

from __future__ import annotations

from hatchnote.notes.begun_anew import begun_anew
from hatchnote.notes.doc import Mention
from hatchnote.notes.numbers.words import CLASS, VALUE
from hatchnote.notes.subjects import COPULA, FILLERS, LINKERS, Line
from hatchnote.notes.units import load_units
from hatchnote.notes.wordlists import words

_THE = frozenset(
    ["the", "this", "that", "these", "those", "other", "a", "an", "each", "every", "which", "new", "old"]
)
_CLOCK = frozenset(["before", "till", "until", "til", "since", "by", "past", "after"])
_NAMES = frozenset(
    """
    page sheet row lot badge key ticket bull exit track channel stall booth slot gym court field dock bus
    car truck hangar ward aisle store shop bay gate door room suite apartment building floor hole site class
    grade grid highway interstate route pier cabin trailer shed barn pew seat player team drawing note step
    chapter
    """.split()  # noqa: SIM905 (read as prose)
)
_VERBS = frozenset(
    """
    seems looks feels means sounds makes gives runs goes comes stays needs wants keeps drops climbs sits
    rises holds reads says shows checks is was has does plus minus less this across always his its us as
    perhaps yes amps volts ohms ones degrees inches pounds legs'
    """.split()  # noqa: SIM905 (read as prose)
)
_ADVERBS = frozenset(
    """
    right about exactly roughly nearly almost maybe like say well good okay ok i it they she he we you them
    those these that this one ones there here all both again already today and or but so steady even
    currently still pretty close only just back over under around near right-around between out off in of
    for with as per there's she's he's they're i'd we're i'll get getting give gives gave gonna be been go
    going take takes took draw drew pull amping see saw seeing call called read come coming put ran run sat
    sits sit stood stands hovering hangs hanging floating measured measure checked checks tested test tests
    ohmed megged clocked ohms amps volts amp volt fine high low hot cold new old
    """.split()  # noqa: SIM905 (read as prose)
)
_HESITATIONS = frozenset(["uh", "um", "er", "ah", "like", "no", "well"])
_COUNTED = words("legs phases rev revs revolution revolutions turn turns lap laps times")
_COUNTING = frozenset({"replace", "install", "order", "clean", "remove", "lubricate"})
_HANDED = words("give hand pass toss throw grab get bring reach")
_DRAWS = words(
    "it's is was are they're she's he's motor compressor fan blower still now and only one two three"
)
_NO_UNITS = frozenset(["second", "minute", "points", "point", "bars", "stone", "rod", "chain", "hand", "cup"])
SMALL = 12


def counted(line: Line, m: Mention) -> bool:
    """Whether a number without a unit counts or names something where it stands."""
    value = m.value
    assert value is not None
    if value.ucum is not None or value.text:
        return False
    doc = line.doc
    if doc.norm[m.start - 2 : m.start] in (["me", "the"], ["me", "a"]) and doc.norm[m.start - 3] in _HANDED:
        return True  # "give me the five sixteenths": a tool
    before = doc.norm[m.start - 1] if m.start > line.begin else ""
    tied = before if not doc.tokens[m.start].brk else ""
    after = doc.norm[m.stop] if m.stop < line.end and not doc.tokens[m.stop].brk else ""
    whole = value.style in ("cardinal", "written", "digits") and value.first == int(value.first)
    if after == "of" and whole:
        nxt = doc.owner[m.stop + 1] if m.stop + 1 < line.end else None
        return not (nxt is not None and nxt.has("point"))
    if not whole:
        return False
    if _other_unit(line, m) or (_clock_behind(line, m) and value.first <= 30):
        return True
    if _enumerator(line, m) or _stumble(line, m) or _done_to_them(line, m):
        return True
    if "hundred" in doc.norm[max(line.begin, m.start - 2) : m.start] and tied in ("and", "hundred"):
        return True  # "hundred and one" without its "a" is not taken apart
    nxt = doc.owner[m.stop] if after else None
    if _small(m) and nxt is not None and nxt.plural and nxt.part and not nxt.has("point", "belt-deflection"):
        return True  # "two belts", "four fans"
    if tied == "other" and _small(m):
        return True  # "the other two are good"
    if after in _COUNTED:
        return True  # "one rev of the two foot dial", "on all three legs"
    if tied == "makes" and doc.norm[m.start - 2] in ("that", "this", "it", "which"):
        return True  # "that makes three"
    if value.first <= 99 and _plural(line, m):
        return True
    said = doc.owner[m.start - 2] if m.start - 2 >= line.begin else None
    if tied == "of" and said is not None and said.has("point") and not said.has("verb"):
        return False  # "a subcooling of one"
    if m.stop - m.start == 1 and doc.norm[m.start] == "one" and (_pronoun(line, m) or _one_of_them(line, m)):
        return True
    held = doc.owner[m.start - 1] if tied else None
    pulling = held is not None and held.has("point") and doc.norm[m.start - 2] in _DRAWS
    if tied in _NAMES and not pulling:
        return True
    small = 1 <= value.first <= SMALL and m.stop - m.start == 1
    if small and tied in _CLOCK and not (tied == "after" and _told_before(line, m)):
        return True
    return small and tied == "at" and _hour(line, m)


def _told_before(line: Line, m: Mention) -> bool:
    """ "Superheat thirty before, after eleven": the other half of a pair."""
    doc = line.doc
    opens = bool(doc.tokens[m.start - 1].brk) or doc.norm[m.start - 2] in ("and", "then")
    return opens and bool(line.made) and "before" in doc.norm[line.begin : m.start - 1]


def _enumerator(line: Line, m: Mention) -> bool:
    """ "One, transformer was burnt. Two, ...": the numbers of a list told item by item."""
    doc = line.doc
    if m.start != line.begin or m.stop >= line.end or doc.tokens[m.stop].brk != 1 or not _small(m):
        return False
    assert m.value is not None
    wanted = {m.value.first - 1, m.value.first + 1}
    for k in (line.index - 2, line.index - 1, line.index + 1, line.index + 2):
        if 0 <= k < len(doc.sentences):
            begin, end = doc.sentences[k]
            word = doc.norm[begin] if end > begin + 1 and doc.tokens[begin + 1].brk == 1 else ""
            number = VALUE.get(word, float(word) if word.isdigit() and len(word) < 3 else -9.0)
            if number in wanted and CLASS.get(word, "d") in "dt":
                return True
    return False


def _stumble(line: Line, m: Mention) -> bool:
    """ "Thirteen, uh, thirteen six", "three point, three point five": begun, and said again in full."""
    doc = line.doc
    said = doc.norm[m.start : m.stop]
    i = m.stop
    while (
        i < line.end
        and i - m.stop < 4
        and (doc.norm[i] in _HESITATIONS or (i == m.stop and doc.norm[i] == "point"))
    ):
        i += 1
    between = doc.norm[m.stop : i]
    if begun_anew(line, m):
        return True
    if not between or i >= line.end:
        return False
    nxt = doc.owner[i]
    return (
        nxt is not None
        and nxt.kind == "value"
        and nxt.start == i
        and nxt.stop - nxt.start > len(said)
        and doc.norm[i : i + len(said)] == said
    )


def _done_to_them(line: Line, m: Mention) -> bool:
    """ "I changed ten", "put in six": how many, not how much."""
    doc = line.doc
    other = next((x for x in reversed(line.items) if x.kind == "value" and x.stop <= m.start), None)
    if (
        other is not None
        and all(w in _HESITATIONS for w in doc.norm[other.stop : m.start])
        and m.start > other.stop
    ):
        return _small(m) and _done_to_them(line, other)  # "changed twelve, uh, ten"
    before = doc.owner[m.start - 1] if m.start > line.begin else None
    if (
        before is None
        or doc.tokens[m.start].brk
        or not _small(m)
        or not before.has("verb")
        or before.has("cue")
    ):
        return False
    return not before.has("point") and any(t.slug in _COUNTING for t in before.of("verb"))


def _small(m: Mention) -> bool:
    value = m.value
    return (
        value is not None
        and value.ucum is None
        and m.stop - m.start == 1
        and value.first == int(value.first)
        and 1 <= value.first <= 2 * SMALL
    )


def _clock_behind(line: Line, m: Mention) -> bool:
    """ "Twenty after eleven", "ten to four": a time of day, told at the head of its clause."""
    doc = line.doc
    if (
        m.stop + 1 >= line.end
        or doc.norm[m.stop] not in ("after", "past", "till", "to")
        or doc.tokens[m.stop].brk
    ):
        return False
    hour = doc.owner[m.stop + 1]
    opens = (
        m.start == line.begin
        or bool(doc.tokens[m.start].brk)
        or doc.norm[m.start - 1] in ("at", "it's", "till")
    )
    return (
        opens
        and hour is not None
        and hour.kind == "value"
        and hour.value is not None
        and hour.value.ucum is None
        and 1 <= hour.value.first <= SMALL
    )


def _other_unit(line: Line, m: Mention) -> bool:
    """ "One thousand milligrams", "three minute steep": measured in a unit that no reading of a machine has."""
    doc = line.doc
    if (
        m.stop >= line.end
        or doc.tokens[m.stop].brk
        or len(doc.norm[m.stop]) < 3
        or doc.owner[m.stop] is not None
    ):
        return False
    found = load_units().match(doc.tokens, m.stop, written=False)
    return found is not None and bool(found.unit.ucum) and doc.norm[m.stop] not in _NO_UNITS


_OF_CONTROLS = frozenset(["changeover", "enthalpy", "lockout"])
_SUPPOSED = (
    ["should", "be"],
    ["ought", "be"],
    ["would", "be"],
    ["should", "read"],
    ["figure", "about"],
    ["figured", "about"],
)


_WISHING = frozenset({"like", "want", "wants", "love", "hope", "hoping", "expect"})


def supposed(line: Line, m: Mention) -> bool:
    """ "So it should be eleven K or so": reckoned, not read."""
    doc = line.doc
    if _OF_CONTROLS & {*doc.norm[max(line.begin, m.start - 5) : m.start]}:
        return True  # at what a control changes over: a setting with no point of its own
    said = doc.norm[max(line.begin, m.start - 2) : m.start]
    if said == ["to", "see"] and _WISHING & {*doc.norm[max(line.begin, m.start - 4) : m.start - 2]}:
        return True  # "reads one point one, I like to see two"
    if said == ["instead", "of"] and not {"now", "it's", "new"} & {*doc.norm[line.begin : m.start]}:
        return True  # "two point nine instead of three and a half": what it ought to be
    if (said[-1:] == ["not"] or said == ["not", "to"]) and m.value is not None and not m.value.text:
        return True  # "forty foot pounds, not forty five"
    before = [
        w for w in doc.norm[max(line.begin, m.start - 5) : m.start] if w not in ("to", "like", "around", "at")
    ]
    return any(before[-2:] == w or before[-3:-1] == w for w in _SUPPOSED)


def _plural(line: Line, m: Mention) -> bool:
    """ "thirty two chairs", "two burritos": the noun behind it is what is counted."""
    doc = line.doc
    if m.stop >= line.end or doc.tokens[m.stop].brk or doc.owner[m.stop] is not None:
        return False
    word = doc.norm[m.stop]
    return (
        len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "'s", "us")) and word not in _VERBS
    )


def _pronoun(line: Line, m: Mention) -> bool:
    """ "the kindergarten one", "that's the outdoor one"."""
    doc = line.doc
    for i in range(m.start - 1, max(line.begin - 1, m.start - 4), -1):
        if doc.tokens[i + 1].brk:
            return False
        if doc.norm[i] in _THE:
            return i < m.start - 1 or doc.norm[i] not in ("a", "an")
        if doc.norm[i] in COPULA and doc.norm[i] not in ("only", "just"):
            return False
    return False


_HAVING = words("had has have got get gets i've we've put need needs use used")


def _one_of_them(line: Line, m: Mention) -> bool:
    """ "Had one on the truck", "put one in": a thing, unless something measured is told right before or behind."""
    doc = line.doc
    nxt = doc.owner[m.stop] if m.stop < line.end else None
    named = doc.owner[m.start - 2] if m.start - 2 >= line.begin else None
    if doc.norm[m.start - 1] in ("of", "at") and named is not None and named.has("point"):
        return False  # "a subcooling of one"
    if (nxt is not None and nxt.has("point")) or m.start == line.begin:
        return False
    before = doc.owner[m.start - 1]
    if before is not None and doc.norm[m.start - 1] in _HAVING:
        return True
    if before is not None:
        return before.has("verb") and not before.has("point") and not before.has("cue")
    return doc.norm[m.start - 1] in _HAVING or (
        doc.norm[m.start - 1] not in COPULA and doc.norm[m.start - 1].isalpha()
    )


def _hour(line: Line, m: Mention) -> bool:
    """ "the counter closes at five": a small number behind an "at" that no measuring leads to."""
    doc = line.doc
    i = m.start - 2
    while i >= line.begin and doc.norm[i] in ("right", "about", "around", "only", "just", "still", "now"):
        i -= 1
    if i < line.begin:
        return False
    owner = doc.owner[i]
    if owner is not None and (owner.kind != "word" or owner.comp or owner.has("point") or owner.has("cue")):
        return False
    return doc.norm[i] not in COPULA and doc.norm[i] not in ("set", "in", "reset", "going", "dialed")


def between(line: Line, start: int, stop: int) -> int:
    """How many words between two places lead somewhere else: neither copula, filler, cue nor name of a part."""
    doc = line.doc
    count = 0
    for i in range(start, stop):
        owner = doc.owner[i]
        word = doc.norm[i]
        if word in COPULA or word in FILLERS or word in LINKERS or word in _ADVERBS:
            continue
        if owner is not None and (owner.has("cue") or owner.has("point") or owner.kind != "word"):
            continue
        if owner is not None and owner.claimed == "verb" and owner.has("verb", "adjust"):
            continue  # "bumped number three to three five"
        count += 1
    return count


def told_apart(line: Line, m: Mention) -> bool:
    """Whether words of something else stand right before a bare number: "outside ..., batch two eighteen"."""
    value = m.value
    assert value is not None
    if value.ucum is not None or value.text:
        return False
    start = m.start
    while start > line.begin and not line.doc.tokens[start].brk and m.start - start < 6:
        owner = line.doc.owner[start - 1]
        if owner is not None and (owner.has("point") or owner.comp or owner.kind != "word"):
            break
        start -= 1
    return between(line, start, m.start) > 0


_SAID_OF = frozenset(
    {"reads", "reading", "measures", "measured", "shows", "showed", "tests", "ohms", "metered"}
)


def loose(line: Line, k: int, anchor: int) -> bool:
    """Whether a bare number stands too far from what it would be said of: an implied point needs it close by."""
    m = line.items[k]
    value = m.value
    assert value is not None
    if value.ucum is not None or value.text:
        return False
    start = anchor
    for x in reversed(line.items[:k]):
        if x.stop <= anchor:
            break
        if (x.kind == "value" and x.claimed.startswith("reading")) or (x.kind == "legs" and x.claimed):
            start = x.stop
            break
    if line.doc.norm[m.start - 1] in _SAID_OF and not any(
        x.comp and x.part for x in line.doc.within(anchor, m.start) if x.start > anchor
    ):
        return False  # "the igniter's got a white spot and reads a hundred and sixty"
    words = between(line, start, m.start)
    small = value.first <= SMALL and m.stop - m.start == 1 and value.first == int(value.first)
    whole = value.style == "cardinal" and value.first == int(value.first)
    return words > (0 if small else 1 if whole else 2)
