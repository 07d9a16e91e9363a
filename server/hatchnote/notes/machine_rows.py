"""Machines told by their number alone where a round goes from one to the next.

"One is twelve one, two is eleven eight", "two's belt is cracked", "blower amps, one, three point nine, two, four
point oh", "three and four got six each".
"""

from __future__ import annotations

from collections.abc import Mapping

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.part_numbers import NUMBERED
from hatchnote.notes.wordlists import words

_OPEN = words("and but so now then okay well")
_SINGLE = words("is was has had got gets took takes needs reads pulls draws runs wants")
_SEVERAL = words("got are were have had get need take took both run pull draw read")
_LOOK_BACK = 40
_REACH = 200
_FEW = 2


def machine_rows(doc: Doc, known: Mapping[str, str]) -> None:
    """Put a machine wherever such a number opens its clause; `known` maps the numbers of the round to tags."""
    for begin, end in doc.sentences:
        found = [
            *alternating(doc, known, begin, end),
            *told_of(doc, known, begin, end),
        ]
        taken: set[int] = set()
        for start, stop, tags in sorted(set(found)):
            if start in taken or not _free(doc, start, stop) or _of_parts(doc, start, tags):
                continue
            taken |= set(range(start, stop))
            for other in doc.within(start, stop):
                doc.drop(other)
            doc.put(Mention("machine" if len(tags) == 1 else "machines", start, stop, slug=",".join(tags)))
    doc.settle()


_Row = tuple[int, int, tuple[str, ...]]


def told_of(doc: Doc, known: Mapping[str, str], begin: int, end: int, least: int = 2) -> list[_Row]:
    """Numbers that open a clause and are told of: "four is low", "two's belt", "one and two, good"."""
    sure: list[_Row] = []
    loose: list[_Row] = []
    for i in range(begin, end):
        if not (i == begin or doc.tokens[i].brk or doc.norm[i - 1] in _OPEN) and not _gone_to(doc, i, begin):
            continue
        numbers, stop = _numbers(doc, known, i, end)
        if not numbers:
            continue
        tags = tuple(known[n] for n in numbers)
        after = doc.norm[stop] if stop < end and not doc.tokens[stop].brk else ""
        if len(tags) > 1:
            if after in _SEVERAL or (not after and stop < end and not _number_at(doc, stop)):
                sure.append((i, stop, tags))
        elif doc.tokens[i].lower.endswith(("'s", "’s")):
            nxt = doc.owner[stop] if stop < end else None
            named = nxt is not None and (nxt.comp or nxt.has("point") or nxt.has("family"))
            (sure if named or numbers[0] != "1" else loose).append((i, stop, tags))
        elif not after and (
            _gone_to(doc, i, begin) or (i == begin and _round(doc) and _told_behind(doc, stop, end))
        ):
            sure.append((i, stop, tags))
        elif after in _SINGLE:
            (sure if i == begin and doc.tokens[i].text[:1].isupper() else loose).append((i, stop, tags))
    if len({t for *_, tags in (*sure, *loose) for t in tags}) < least:
        loose = []
    return sure + loose


_GOING = words("now back over on moving going again okay then")


def _gone_to(doc: Doc, i: int, begin: int) -> bool:
    """ "Back to four,", "now two.", "over to three": a number that closes its clause, where somebody goes to it."""
    lead = doc.norm[max(begin, i - 3) : i]
    if not lead or any(doc.tokens[k].brk for k in range(max(begin, i - len(lead)) + 1, i + 1)):
        return False
    return (lead[-1] == "to" and bool(_GOING & {*lead})) or (lead == ["now"] and i == begin + 1)


def _round(doc: Doc) -> bool:
    """Whether machines were told together: then a number that opens a sentence is one of them."""
    return any(m.kind == "machines" for m in doc.mentions)


def _told_behind(doc: Doc, at: int, end: int) -> bool:
    """ "Two: supply fifty six": a name behind the number, no value and no act as in a list of things done."""
    nxt = next(iter(doc.within(at, min(end, at + 3))), None)
    return at < end and not _number_at(doc, at) and nxt is not None and (nxt.has("point") or bool(nxt.comp))


def _numbers(doc: Doc, known: Mapping[str, str], i: int, end: int) -> tuple[list[str], int]:
    """The machines' numbers from token `i` on, joined by "and" and commas."""
    out: list[str] = []
    stop = i
    while i < end:
        value = number_word(doc, i)
        if value is None or str(value) not in known or str(value) in out:
            break
        if CLASS.get(doc.norm[i], "d") not in "dt":
            break
        out.append(str(value))
        stop = i + 1
        if stop < end and doc.norm[stop] == "and":
            i = stop + 1
        elif stop < end and doc.tokens[stop].brk == 1 and number_word(doc, stop) is not None:
            i = stop
        else:
            break
    if len(out) > 1 and doc.norm[stop - 2] != "and":
        return [], i  # a row of numbers ends with "and"
    return out, stop


def alternating(doc: Doc, known: Mapping[str, str], begin: int, end: int) -> list[_Row]:
    """ "One, three point nine, two, four point oh": numbers that go up, alone between commas, and values behind."""
    cuts = [begin, *(i for i in range(begin + 1, end) if doc.tokens[i].brk), end]
    out: list[_Row] = []
    last = 0
    k = 0
    while k + 2 < len(cuts):
        a, b = cuts[k], cuts[k + 1]
        value = number_word(doc, a) if b - a == 1 else None
        if value is not None and str(value) in known and value > last and _number_at(doc, b):
            out.append((a, b, (known[str(value)],)))
            last = value
            k += 2
            continue
        if out:
            break
        k += 1
    return out if len(out) > _FEW or (len(out) == _FEW and out[0][0] > begin) else []


def _number_at(doc: Doc, i: int) -> bool:
    return CLASS.get(doc.norm[i], ".") in "dtxhpzZ" or doc.tokens[i].kind in "nf"


def _free(doc: Doc, start: int, stop: int) -> bool:
    return all(o is None or o.kind == "word" for o in doc.owner[start:stop])


def _names_machine(m: Mention | None) -> bool:
    return m is not None and m.kind in ("machine", "machines")


def _of_parts(doc: Doc, at: int, tags: tuple[str, ...]) -> bool:
    """ "Compressor one is nine two, two is nine four": parts of one machine told apart by number are spoken of."""
    low = at
    while low > 0 and at - low < _REACH and not _names_machine(doc.owner[low - 1]):
        low -= 1
    several = doc.owner[low - 1] if low else None
    if several is None or several.kind != "machine":
        return False
    near = [m for m in doc.within(max(0, at - _LOOK_BACK, several.stop), at) if m.comp or m.has("family")]
    if any(m.number and m.number.isdigit() for m in near):
        return True
    told = [m for m in near if m.comp in NUMBERED]
    return (
        bool(told)
        and told[-1].plural
        and max(int(t.rpartition("-")[2] or 0) for t in tags if t[-1:].isdigit()) <= _FEW
    )
