"""Legs and terminals that values are said of: L1 to L2, phase A, common to start, "L2478"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc
from hatchnote.notes.machines import number_word
from hatchnote.notes.marked import take_over
from hatchnote.notes.numbers import find_numbers
from hatchnote.notes.numbers.words import CLASS

_TERMINALS = {"c": "C", "common": "C", "r": "R", "run": "R", "s": "S", "start": "S"}
_ORDER = {"C": 0, "R": 1, "S": 2}
_LETTER_LEGS = frozenset("abc")


def _leg(doc: Doc, i: int) -> tuple[int, str] | None:
    """One leg or terminal at token `i`: (token after it, "L1")."""
    n = len(doc.tokens)
    if i >= n or (doc.owner[i] is not None and doc.owner[i].kind not in ("word",)):  # type: ignore[union-attr]
        return None
    word = doc.norm[i]
    nxt = i + 1
    owner = doc.owner[i]
    if owner is not None and (owner.start < i or owner.stop > nxt):
        return None  # the line of "discharge line one eighty two"
    if word == "line" and _line_volts(doc, nxt):
        return None
    if word in ("l", "leg", "line", "t", "el", "ell") and nxt < n and not doc.tokens[nxt].brk:
        value = number_word(doc, nxt)
        if value in (1, 2, 3) and (doc.tokens[nxt].kind == "w" or len(doc.tokens[nxt].text) == 1):
            return nxt + 1, f"{'T' if word == 't' else 'L'}{value}"
    if word == "phase" and nxt < n and doc.norm[nxt] in _LETTER_LEGS and not doc.tokens[nxt].brk:
        return nxt + 1, doc.norm[nxt].upper()
    if word in _LETTER_LEGS and nxt < n and doc.norm[nxt] in ("phase", "leg") and not doc.tokens[nxt].brk:
        return nxt + 1, word.upper()
    return None


def _line_volts(doc: Doc, at: int) -> bool:
    """ "Line two thirty five": a whole voltage stands behind, not the number of a leg."""
    numbers = find_numbers(doc.tokens[at : at + 6])
    if not numbers or numbers[0].start or doc.tokens[at].brk:
        return False
    return numbers[0].stop > 1 and 100 <= numbers[0].value <= 620


def find_legs(doc: Doc) -> None:
    n = len(doc.tokens)
    i = 0
    while i < n:
        stop = _legs_at(doc, i)
        i = stop if stop else i + 1


def _legs_at(doc: Doc, i: int) -> int:
    n = len(doc.tokens)
    one = _leg(doc, i)
    if one is not None:
        stop, first = one
        joined = stop
        if joined < n and doc.norm[joined] in ("to", "and") and not doc.tokens[joined].brk:
            joined += 1
        explicit = joined > stop and (doc.norm[stop] == "to" or _between(doc, i, joined))
        glued = _run_together(doc, joined) if joined < n and (explicit or joined == stop) else ""
        if glued and glued != first and first[0] == "L":
            take_over(doc, i, joined + 1, "legs", "-".join(sorted((first, glued))))
            doc.run_together.add(joined + 1)
            return joined + 2
        two = (
            _leg(doc, joined)
            if joined < n and (explicit or (not doc.tokens[joined].brk and joined == stop))
            else None
        )
        if two is not None and two[1] != first and (joined == stop or explicit):
            take_over(doc, i, two[0], "legs", "-".join(sorted((first, two[1]))))
            return _more_pairs(doc, two[0])
        bare = number_word(doc, joined) if joined < n and not doc.tokens[joined].brk else None
        if (
            first[0] in "LT"
            and bare in (1, 2, 3)
            and str(bare) != first[1]
            and (doc.tokens[joined].kind == "w" or len(doc.tokens[joined].text) == 1)
        ) and (explicit or (joined == stop and (joined + 1 >= n or doc.tokens[joined + 1].brk))):
            take_over(doc, i, joined + 1, "legs", "-".join(sorted((first, f"{first[0]}{bare}"))))
            return _more_pairs(doc, joined + 1)
        if joined < n and explicit and doc.norm[joined] in ("ground", "case", "neutral"):
            take_over(doc, i, joined + 1, "legs", f"{first}-{'N' if doc.norm[joined] == 'neutral' else 'G'}")
            return joined + 1
        take_over(doc, i, stop, "legs", first)
        return stop
    return _glued_legs(doc, i) or _terminals(doc, i) or _bare_pair(doc, i)


def _between(doc: Doc, i: int, second: int) -> bool:
    """ "Across L one and L two", "voltage between L one and L two four eighty": one pair, not two legs."""
    if doc.norm[i - 1] in ("across", "between"):
        return True
    other = _leg(doc, second)
    if other is None:
        return False
    after = doc.norm[other[0]] if other[0] < len(doc.norm) else ""
    number = CLASS.get(after, ".") in "dtx" or (
        other[0] < len(doc.tokens) and doc.tokens[other[0]].kind == "n"
    )
    volts = (
        any(
            m.kind == "word" and (m.has("point", "voltage") or doc.norm[m.start] == "between")
            for m in doc.within(max(0, i - 20), i)
        )
        or "between" in doc.norm[max(0, i - 20) : i]
    )
    return number and volts and not doc.tokens[other[0]].brk


def _more_pairs(doc: Doc, at: int) -> int:
    """ "L one two, two three, one three": the pairs after the first without their letters."""
    n = len(doc.tokens)
    while at + 1 < n and (doc.tokens[at].brk == 1 or doc.norm[at] == "and"):
        begin = at + 1 if doc.norm[at] == "and" else at
        middle = begin + 1
        if middle < n and doc.norm[middle] in ("to", "-"):
            middle += 1
        a, b = number_word(doc, begin), number_word(doc, middle) if middle < n else None
        ends = (
            middle + 1 >= n
            or doc.tokens[middle + 1].brk
            or doc.norm[middle + 1] == "and"
            or middle > begin + 1
        )
        if a in (1, 2, 3) and b in (1, 2, 3) and a != b and ends and doc.tokens[middle].brk == 0:
            take_over(doc, begin, middle + 1, "legs", f"L{min(a, b)}-L{max(a, b)}")
            at = middle + 1
        else:
            break
    return at


def _run_together(doc: Doc, i: int) -> str:
    """The leg in "L2478", whose other figures are a value: "L2"; "" where there is none."""
    if (
        doc.norm[i] != "l"
        or i + 1 >= len(doc.tokens)
        or not doc.tokens[i + 1].glued
        or doc.tokens[i + 1].kind != "n"
    ):
        return ""
    digits = doc.tokens[i + 1].text
    return f"L{digits[0]}" if digits[0] in "123" and 3 <= len(digits.partition(".")[0]) <= 4 else ""


def _glued_legs(doc: Doc, i: int) -> int:
    """ "L12" is L1-L2; "L1 to L2478" is L1-L2 and 478."""
    n = len(doc.tokens)
    leg = _run_together(doc, i)
    if leg:
        take_over(doc, i, i + 1, "legs", leg)
        doc.run_together.add(i + 1)
        return i + 2
    if (
        doc.tokens[i].text in ("L", "l", "T")
        and i + 1 < n
        and doc.tokens[i + 1].glued
        and doc.tokens[i + 1].kind == "n"
    ):
        digits = doc.tokens[i + 1].text
        if digits in ("12", "23", "13", "21", "31", "32"):
            take_over(doc, i, i + 2, "legs", f"L{min(digits)}-L{max(digits)}")
            return _more_pairs(doc, i + 2)
    return 0


def _terminals(doc: Doc, i: int) -> int:
    """C to R, common to start."""
    n = len(doc.tokens)
    first = _TERMINALS.get(doc.norm[i])
    if first is None or i + 1 >= n:
        return 0
    joined = i + 1
    if doc.norm[joined] == "2" and doc.tokens[joined].glued and len(doc.norm[i]) == 1:
        joined += 1  # "R2S3.7": R to S
    elif doc.norm[joined] in ("to", "and", "-"):
        joined += 1
    second = _TERMINALS.get(doc.norm[joined]) if joined < n else None
    spelled = len(doc.norm[i]) > 1 and joined > i + 1
    letters = len(doc.norm[i]) == 1 and (
        joined > i + 1 or (doc.tokens[i].text.isupper() and joined < n and doc.tokens[joined].text.isupper())
    )
    if (
        second
        and second != first
        and (spelled or letters)
        and not any(doc.tokens[k].brk for k in range(i + 1, joined + 1))
    ):
        a, b = sorted((first, second), key=_ORDER.__getitem__)
        take_over(doc, i, joined + 1, "legs", f"{a}-{b}")
        return joined + 1
    if (
        second is None
        and joined < n
        and doc.norm[joined] in ("ground", "case")
        and doc.norm[joined - 1] == "to"
        and len(doc.norm[i]) == 1
        and doc.tokens[i].text.isupper()
    ):
        take_over(doc, i, joined + 1, "legs", f"{first}-G")
        return joined + 1
    return 0


def _bare_pair(doc: Doc, i: int) -> int:
    """ "A to B four seventy eight", "one to two four seventy eight" beside a voltage."""
    n = len(doc.tokens)
    across = i > 0 and doc.norm[i - 1] in ("across", "between") and doc.norm[i + 1 : i + 2] == ["and"]
    if across and i + 2 < n and not doc.tokens[i + 1].brk and not doc.tokens[i + 2].brk:
        x, y = number_word(doc, i), number_word(doc, i + 2)
        if x in (1, 2, 3) and y in (1, 2, 3) and x != y:
            take_over(doc, i, i + 3, "legs", f"L{min(x, y)}-L{max(x, y)}")
            return i + 3
    if i + 2 >= n or doc.norm[i + 1] not in ("to", "-") or doc.tokens[i + 1].brk or doc.tokens[i + 2].brk:
        return 0
    if doc.owner[i] is not None and doc.owner[i].kind != "word":  # type: ignore[union-attr]
        return 0
    a, b = doc.norm[i], doc.norm[i + 2]
    if a in _LETTER_LEGS and b in _LETTER_LEGS and a != b:
        take_over(doc, i, i + 3, "legs", "-".join(sorted((a.upper(), b.upper()))))
        return i + 3
    x, y = number_word(doc, i), number_word(doc, i + 2)
    if x in (1, 2, 3) and y in (1, 2, 3) and x != y and i + 3 < n and not doc.tokens[i + 3].brk:
        at = i + 3
        while (
            at + 1 < n
            and doc.norm[at] in ("is", "was", "reads", "at", "had", "has", "got")
            and not doc.tokens[at + 1].brk
        ):
            at += 1
        number_next = doc.tokens[at].kind == "n" or CLASS.get(doc.norm[at], ".") in "dtx"
        near = any(m.kind == "legs" or m.has("point", "voltage") for m in doc.within(max(0, i - 14), i))
        if number_next and near:
            take_over(doc, i, i + 3, "legs", f"L{min(x, y)}-L{max(x, y)}")
            return i + 3
    return 0
