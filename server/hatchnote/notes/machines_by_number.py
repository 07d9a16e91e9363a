"""Stage: machines named by their number alone in a round of several: "on three", "number two", "one B"."""

from __future__ import annotations

import re
from bisect import bisect_right

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machine_rows import machine_rows
from hatchnote.notes.machines import number_word, tag_number
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words


def bare_numbers(doc: Doc) -> None:
    """ "On three", "number two", "three's filters" in a round of several machines, once they have been named."""
    from hatchnote.notes.numbered import row_on, unnamed

    if not doc.equipment:
        row_on(doc)
    named = {m.slug for m in doc.mentions if m.kind == "machine"}
    named |= {t for m in doc.mentions if m.kind == "machines" for t in m.slug.split(",")}
    if not named and not doc.equipment:
        unnamed(doc)
        return
    kinds = {t.rpartition("-")[0] for t in named if "-" in t}
    many = len(named) > 1 or len(doc.equipment) > 1 or any(t[-1:].isalpha() for t in named)
    if not many and len(kinds) == 1 and not doc.equipment:
        _on_next(doc, next(iter(kinds)))
    if not many or len(kinds) > 1:
        return
    known = {t.rpartition("-")[2]: t for t in (*named, *_through(doc))} | {
        re.search(r"\d+[A-Z]?$", e.tag).group().lstrip("0"): e.tag  # type: ignore[union-attr]
        for e in doc.equipment
        if re.search(r"\d+[A-Z]?$", e.tag)
    }
    _all_of(doc, known)
    _more_of_them(doc, known, kinds)
    machine_rows(doc, known)
    for i in range(len(doc.tokens)):
        if _lettered(doc, i, known):
            continue
        value = number_word(doc, i)
        if value is None or str(value) not in known:
            continue
        owner = doc.owner[i]
        if owner is not None and owner.kind not in ("word",):
            continue
        before = doc.norm[i - 1] if i and not doc.tokens[i].brk else ""
        after = doc.norm[i + 1] if i + 1 < len(doc.tokens) and not doc.tokens[i + 1].brk else ""
        lone = (
            CLASS.get(after, ".") not in "dtxhkpzH"
            and after not in _COUNTED
            and not (
                i + 1 < len(doc.tokens) and doc.tokens[i + 1].kind in "nfs" and not doc.tokens[i + 1].brk
            )
        )
        parallel = before == "on" and _beside_another(doc, i, known)
        if not lone and not parallel:
            continue
        opens = (
            i == 0
            or doc.tokens[i - 1].brk > 0
            or (i >= 2 and doc.norm[i - 2] in ("and", "then", "so", "okay", "now"))
        )
        if (
            (before == "on" and after in _AFTER_MACHINE)
            or (before == "on" and opens)
            or parallel
            or (
                before == "number"
                and (opens or (i >= 2 and doc.norm[i - 2] == "on"))
                and after in _AFTER_MACHINE
            )
            or (before == "number" and after in _MOVED_TO and _moved(doc, i - 1))
            or (before == "number" and opens and _told_of(doc, i - 1, i + 1))
        ):
            start = i - 1 if before == "number" else i
            for other in doc.within(start, i + 1):
                doc.drop(other)
            m = doc.put(Mention("machine", start, i + 1, slug=known[str(value)]))
            m.number = "on" if before == "on" or (i >= 2 and doc.norm[i - 2] == "on") else None
    doc.settle()


_GOES_ON = words("got gets is has had needs was wouldn't won't isn't took")
_MOST = 40


def _more_of_them(doc: Doc, known: dict[str, str], kinds: set[str]) -> None:
    """ "Units one through four, filters changed. Five got a new belt, and six is down.": the round goes on, marked."""
    if len(kinds) != 1 or doc.equipment or not any(m.kind == "machines" for m in doc.mentions):
        return
    kind = next(iter(kinds))
    for begin, end in doc.sentences:
        for i in range(begin, end - 1):
            opens = i == begin or (doc.norm[i - 1] in ("and", "but") and doc.tokens[i - 1].brk > 0)
            value = number_word(doc, i) if opens and doc.owner[i] is None else None
            if value is None or not 1 <= value <= _MOST or str(value) in known or doc.tokens[i + 1].brk:
                continue
            if doc.norm[i + 1] in _GOES_ON and CLASS.get(doc.norm[i], "d") in "dt":
                tag = f"{kind}-{value}"
                known[str(value)] = tag
                doc.doubtful_tags[tag] = f'heard "{doc.said(i, i + 1)}": taken for {tag}'


def _told_of(doc: Doc, start: int, at: int) -> bool:
    """ "Number seven inlet seven oh": what is read follows, where no parts are told apart by number."""
    nxt = doc.owner[at] if at < len(doc.owner) and not doc.tokens[at].brk else None
    near = doc.within(max(0, start - 12), start)
    return nxt is not None and nxt.has("point") and not any(m.comp and m.number for m in near)


_MOVED_TO = frozenset({"to", "from", "up", "down", "back"})


def _moved(doc: Doc, at: int) -> bool:
    """ "Bumped number three to three five": something of the machine was moved."""
    verb = doc.owner[at - 1] if at else None
    return verb is not None and (verb.has("verb", "adjust") or verb.has("cue", "from", "setting"))


def _beside_another(doc: Doc, i: int, known: dict[str, str]) -> bool:
    """ "Point seven on two and point eight on three", "on one is two ten, on three two twelve": told in pairs."""
    begin, end = doc.sentences[bisect_right(doc.sentences, (i, len(doc.norm))) - 1]
    others = [
        k
        for k in range(begin + 1, end)
        if k != i and doc.norm[k - 1] == "on" and str(number_word(doc, k)) in known
    ]
    if any(number_word(doc, k) == number_word(doc, i) for k in others):
        return False
    after = doc.norm[i + 1] if i + 1 < end else ""
    if after == "and":
        return bool(others) and doc.norm[i + 2 : i + 3] not in (["a"], ["one"], ["half"])
    return bool(doc.tokens[i - 1].brk) and any(k < i for k in others) and after not in _COUNTED - {"point"}


def _on_next(doc: Doc, kind: str) -> None:
    """ "On R T U four the head is three sixty, and on five it's three eighty": by its number alone, marked."""
    for begin, end in doc.sentences:
        if not any(m.kind == "machine" and m.number == "on" for m in doc.within(begin, end)):
            continue
        for i in range(begin + 1, end - 1):
            value = number_word(doc, i)
            if (
                value is None
                or doc.norm[i - 1] != "on"
                or doc.norm[i + 1] not in ("it's", "it", "its", "i've", "i", "the")
            ):
                continue
            if doc.owner[i] is None and not doc.tokens[i].brk and not doc.tokens[i + 1].brk:
                m = doc.put(Mention("machine", i, i + 1, slug=f"{kind}-{value}", number="on"))
                doc.doubtful_tags[m.slug] = f'heard "on {doc.said(i, i + 1)}": taken for {m.slug}'
    doc.settle()


def _through(doc: Doc) -> list[str]:
    """ "Units six through nine", "R T U one through R T U three": machines named by the first and the last."""
    out: list[str] = []
    for m in doc.mentions:
        kind, _, first = m.slug.rpartition("-")
        if m.kind != "machine" or not first.isdigit() or m.stop + 1 >= len(doc.norm):
            continue
        if doc.norm[m.stop] not in ("through", "thru", "to") or doc.tokens[m.stop].brk:
            continue
        owner = doc.owner[m.stop + 1]
        last = number_word(doc, m.stop + 1)
        if owner is not None and owner.kind == "machine" and owner.slug.startswith(kind):
            number = owner.slug.rpartition("-")[2]
            last = int(number) if number.isdigit() else None
        if last is not None and int(first) < last <= int(first) + 20:
            out += [f"{kind}-{n}" for n in range(int(first), last + 1)]
    return out


def _all_of(doc: Doc, known: dict[str, str]) -> None:
    """ "Blower amps, one through five in order": a row of machines told by its first and its last."""
    for i in range(len(doc.norm) - 2):
        first, last = number_word(doc, i), number_word(doc, i + 2)
        if (
            doc.norm[i + 1] not in ("through", "thru", "to")
            or first is None
            or last is None
            or last - first < 2
        ):
            continue
        row = [known.get(str(n)) for n in range(first, last + 1)]
        ends = i + 3 >= len(doc.norm) or doc.tokens[i + 3].brk or doc.norm[i + 3] in ("in", "here", "again")
        alone = doc.owner[i : i + 3] == [None] * 3 and not any(t.brk for t in doc.tokens[i + 1 : i + 3])
        if all(row) and ends and alone and (i == 0 or doc.tokens[i].brk or doc.norm[i - 1] in ("on", "for")):
            doc.put(Mention("machines", i, i + 3, slug=",".join(t for t in row if t)))


def _lettered(doc: Doc, i: int, known: dict[str, str]) -> bool:
    """ "Eighteen on one A, nineteen on two B": numbers with letters name machines wherever they stand."""
    found = tag_number(doc, i) if number_word(doc, i) is not None else None
    if found is None or not found[1][-1].isalpha():
        return False
    if found[1] not in known:
        lettered = [tag for number, tag in known.items() if number[-1:].isalpha()]
        opens = i == 0 or doc.tokens[i].brk > 0 or doc.norm[i - 1] in ("on", "and", "then")
        if not lettered or not opens or not doc.tokens[found[0] - 1].text.isupper():
            return False
        known[found[1]] = f"{lettered[0].rpartition('-')[0]}-{found[1]}"
    if any(o is not None and o.kind != "word" for o in doc.owner[i : found[0]]):
        return False
    for other in doc.within(i, found[0]):
        doc.drop(other)
    m = doc.put(Mention("machine", i, found[0], slug=known[found[1]]))
    m.number = "on" if i and doc.norm[i - 1] == "on" and not doc.tokens[i].brk else None
    return True


_COUNTED = words(
    """
    amps amp volts inches inch filters percent degrees pounds ounces legs of pole hundred over point and
    """
)
_AFTER_MACHINE = words(
    """
    i the is are was were has had it i've we there return supply suction same got no needs
    """
) | {""}
