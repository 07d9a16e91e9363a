"""Stage: names that numbers belong to: circuits, legs, firing stages, a part's own number, phases, refrigerants."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention, Repair
from hatchnote.notes.machines import number_word
from hatchnote.notes.numbers.words import CLASS

REQUIRES = ("mentions", "machines")
ASSIGNS = ("circuit", "legs", "stage", "part_numbers", "refrigerant")

_SIDES = frozenset(
    ["left", "right", "top", "bottom", "upper", "lower", "front", "rear", "back", "first", "second", "middle"]
)
_ORDINAL = {"first": "1", "second": "2", "third": "3"}
_PRONOUNS = frozenset(["i", "we", "they", "somebody", "someone", "he", "she", "and", "just", "so", "it"])
_NUMBERED = frozenset(
    {"compressor", "condenser-fan-motor", "contactor", "condenser-fan-blade", "relay", "condenser-coil"}
)
_TERMINALS = {"c": "C", "common": "C", "r": "R", "run": "R", "s": "S", "start": "S"}
_ORDER = {"C": 0, "R": 1, "S": 2}
_LETTER_LEGS = frozenset("abc")
_LINE_VOLTS = frozenset({200, 220, 230, 240, 380, 400, 440, 460, 480})
_BLENDS = {
    "410": "R-410A",
    "22": "R-22",
    "32": "R-32",
    "454": "R-454B",
    "407": "R-407C",
    "134": "R-134a",
    "404": "R-404A",
    "448": "R-448A",
    "449": "R-449A",
    "438": "R-438A",
    "422": "R-422D",
    "12": "R-12",
    "507": "R-507A",
    "421": "R-421A",
}
_SPOKEN_BLENDS = {
    ("four", "ten"): "410",
    ("four", "ten", "a"): "410",
    ("twenty", "two"): "22",
    ("thirty", "two"): "32",
    ("four", "fifty", "four"): "454",
    ("four", "oh", "seven"): "407",
    ("one", "thirty", "four"): "134",
    ("four", "oh", "four"): "404",
    ("four", "four", "eight"): "448",
    ("four", "forty", "eight"): "448",
    ("four", "one", "oh"): "410",
    ("four", "hundred", "ten"): "410",
}


def marks(doc: Doc) -> None:
    """Find all of them, so that their numbers are no readings."""
    _refrigerants(doc)
    _phases(doc)
    _circuits_and_stages(doc)
    _legs(doc)
    _part_numbers(doc)
    doc.settle()


def _take(doc: Doc, start: int, stop: int, kind: str, slug: str) -> Mention:
    for other in doc.within(start, stop):
        doc.drop(other)
    return doc.put(Mention(kind, start, stop, slug=slug))


def _phases(doc: Doc) -> None:
    for i in range(1, len(doc.tokens)):
        text = doc.tokens[i - 1].text
        if (
            doc.norm[i] == "phase"
            and not doc.tokens[i].brk
            and len(text) == 3
            and text.isdigit()
            and text[-1] == "3"
            and int(text) - 3 in _LINE_VOLTS
        ):
            doc.phased.add(i - 1)  # "463 phase": four sixty, three phase
            doc.repairs.append(Repair(i - 1, i + 1, doc.said(i - 1, i + 1), f"{int(text) - 3}, 3 phase"))
            _take(doc, i, i + 1, "phase", "3")
    for i in range(1, len(doc.tokens)):
        if (
            doc.norm[i] in ("phase", "ph")
            and (doc.norm[i - 1] in ("three", "single", "3", "1"))
            and not doc.tokens[i].brk
        ):
            _take(doc, i - 1, i + 1, "phase", "3" if doc.norm[i - 1] in ("three", "3") else "1")


def _refrigerants(doc: Doc) -> None:
    n = len(doc.tokens)
    i = 0
    while i < n:
        marked = doc.norm[i] == "r" and i + 1 < n and not doc.tokens[i + 1].brk
        begin = i + 1 if marked else i
        if marked and doc.norm[begin] == "-" and begin + 1 < n:
            begin += 1
        found: tuple[int, str] | None = None
        if doc.tokens[begin].kind == "n" and doc.tokens[begin].text in _BLENDS:
            found = (begin + 1, doc.tokens[begin].text)
        else:
            for length in (3, 2):
                code = _SPOKEN_BLENDS.get(tuple(doc.norm[begin : begin + length]))
                if (
                    code
                    and begin + length <= n
                    and not any(doc.tokens[k].brk for k in range(begin + 1, min(n, begin + length)))
                ):
                    found = (begin + length, code)
                    break
        if found:
            stop, code = found
            suffix = ""
            if (
                stop < n
                and doc.norm[stop] in ("a", "b", "c", "d")
                and len(code) == 3
                and not doc.tokens[stop].brk
            ):
                suffix = doc.norm[stop].upper()
                stop += 1
            elif doc.norm[stop - 1] == "a" and stop - begin == 3:
                suffix = "A"
            elif (
                i
                and doc.norm[i - 1] == "of"
                and not doc.tokens[i].brk
                and (i + 1 < n and code in ("22", "410"))
            ):
                suffix = "?"
            after = doc.norm[stop] if stop < n else ""
            letter_is_article = (
                suffix == "A"
                and after not in ("", "and")
                and stop < n
                and not doc.tokens[stop].brk
                and (doc.tokens[stop - 1].text == "a")
                and not marked
            )
            if (
                (marked and (stop - begin < 3 or suffix))
                or marked
                or (suffix and not letter_is_article and len(code) == 3)
                or suffix == "?"
            ):
                name = _BLENDS[code]
                if suffix in "BCD" and suffix:
                    name = f"R-{code}{suffix}"
                _take(doc, i, stop, "refrigerant", name)
                i = stop
                continue
        i += 1


def _circuits_and_stages(doc: Doc) -> None:
    n = len(doc.tokens)
    for i in range(n):
        word = doc.norm[i]
        owner = doc.owner[i]
        if owner is not None and owner.kind != "word":
            continue
        if word == "circuit" or (
            word == "c" and i + 1 < n and doc.tokens[i + 1].glued and doc.tokens[i].text == "C"
        ):
            at = i + 1
            if at < n and doc.norm[at] == "number":
                at += 1
            value = number_word(doc, at) if at < n and not doc.tokens[at].brk else None
            if (
                value is None
                and at < n
                and doc.norm[at] in ("a", "b")
                and word == "circuit"
                and doc.tokens[at].text.isupper()
            ):
                _circuit(doc, i, at + 1, doc.norm[at].upper())
            elif value is not None and 1 <= value <= 8:
                second = number_word(doc, at + 2) if at + 2 < n and doc.norm[at + 1] == "and" else None
                after = doc.norm[at + 3] if at + 3 < n else ""
                if (
                    second is not None
                    and 1 <= second <= 8
                    and CLASS.get(after, ".") == "."
                    and (at + 3 >= n or doc.tokens[at + 3].kind == "w")
                    and after not in _MEASURED
                ):
                    _circuit(doc, i, at + 3, f"{value},{second}")
                else:
                    _circuit(doc, i, at + 1, str(value))
            elif i and doc.norm[i - 1] in ("first", "second", "third"):
                _circuit(doc, i - 1, i + 1, _ORDINAL[doc.norm[i - 1]])
            elif i and doc.norm[i - 1] in ("a", "b") and doc.tokens[i - 1].text.isupper():
                _circuit(doc, i - 1, i + 1, doc.norm[i - 1].upper())
            elif i >= 2 and doc.norm[i - 2] == "number" and number_word(doc, i - 1):
                _circuit(doc, i - 2, i + 1, str(number_word(doc, i - 1)))
        elif word in ("fire", "stage", "heat") and i:
            before = doc.norm[i - 1]
            if before in ("low", "high", "lo", "hi") and not doc.tokens[i].brk:
                _take(doc, i - 1, i + 1, "stage", "low" if before.startswith("lo") else "high")
            elif word != "heat" and before in ("first", "second") and not doc.tokens[i].brk:
                if word == "fire" or (
                    i + 1 < n and doc.norm[i + 1] in ("heat", "gas", "fire", "manifold", "firing")
                ):
                    _take(doc, i - 1, i + 1, "stage", "low" if before == "first" else "high")
                else:
                    _take(doc, i - 1, i + 1, "stage", "")
            elif word == "stage" and i + 1 < n and number_word(doc, i + 1) is not None:
                _take(doc, i, i + 2, "stage", "")


def _circuit(doc: Doc, start: int, stop: int, slug: str) -> None:
    m = _take(doc, start, stop, "circuit", slug)
    before = doc.norm[start - 1] if start else ""
    m.number = before if before in ("on", "for", "of") else None


# ---------------------------------------------------------------- legs


def _leg(doc: Doc, i: int) -> tuple[int, str] | None:
    """One leg or terminal at token `i`: (token after it, "L1")."""
    n = len(doc.tokens)
    if i >= n or (doc.owner[i] is not None and doc.owner[i].kind not in ("word",)):  # type: ignore[union-attr]
        return None
    word = doc.norm[i]
    nxt = i + 1
    if word in ("l", "leg", "line", "t", "el", "ell") and nxt < n and not doc.tokens[nxt].brk:
        value = number_word(doc, nxt)
        if value in (1, 2, 3) and (doc.tokens[nxt].kind == "w" or len(doc.tokens[nxt].text) == 1):
            return nxt + 1, f"{'T' if word == 't' else 'L'}{value}"
    if word == "phase" and nxt < n and doc.norm[nxt] in _LETTER_LEGS and not doc.tokens[nxt].brk:
        return nxt + 1, doc.norm[nxt].upper()
    if word in _LETTER_LEGS and nxt < n and doc.norm[nxt] in ("phase", "leg") and not doc.tokens[nxt].brk:
        return nxt + 1, word.upper()
    return None


def _legs(doc: Doc) -> None:
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
        explicit = joined > stop and doc.norm[stop] == "to"
        glued = _run_together(doc, joined) if joined < n and (explicit or joined == stop) else ""
        if glued and glued != first and first[0] == "L":
            _take(doc, i, joined + 1, "legs", "-".join(sorted((first, glued))))
            doc.run_together.add(joined + 1)
            return joined + 2
        two = (
            _leg(doc, joined)
            if joined < n and (explicit or (not doc.tokens[joined].brk and joined == stop))
            else None
        )
        if two is not None and two[1] != first and (joined == stop or explicit):
            _take(doc, i, two[0], "legs", "-".join(sorted((first, two[1]))))
            return _more_pairs(doc, two[0])
        bare = number_word(doc, joined) if joined < n and not doc.tokens[joined].brk else None
        if (
            first[0] in "LT"
            and bare in (1, 2, 3)
            and str(bare) != first[1]
            and (doc.tokens[joined].kind == "w" or len(doc.tokens[joined].text) == 1)
        ):
            after = doc.norm[joined + 1] if joined + 1 < n else ""
            if explicit or (
                joined == stop
                and (
                    joined + 1 >= n
                    or doc.tokens[joined + 1].brk
                    or (CLASS.get(after, ".") in "dtx" and _pairs_follow(doc, joined + 1))
                )
            ):
                _take(doc, i, joined + 1, "legs", "-".join(sorted((first, f"{first[0]}{bare}"))))
                return _more_pairs(doc, joined + 1)
        if joined < n and explicit and doc.norm[joined] in ("ground", "case", "neutral"):
            _take(doc, i, joined + 1, "legs", f"{first}-{'N' if doc.norm[joined] == 'neutral' else 'G'}")
            return joined + 1
        _take(doc, i, stop, "legs", first)
        return stop
    return _glued_legs(doc, i) or _terminals(doc, i) or _bare_pair(doc, i)


def _pairs_follow(doc: Doc, at: int) -> bool:
    return False


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
            _take(doc, begin, middle + 1, "legs", f"L{min(a, b)}-L{max(a, b)}")
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
        _take(doc, i, i + 1, "legs", leg)
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
            _take(doc, i, i + 2, "legs", f"L{min(digits)}-L{max(digits)}")
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
        _take(doc, i, joined + 1, "legs", f"{a}-{b}")
        return joined + 1
    if (
        second is None
        and joined < n
        and doc.norm[joined] in ("ground", "case")
        and doc.norm[joined - 1] == "to"
        and len(doc.norm[i]) == 1
        and doc.tokens[i].text.isupper()
    ):
        _take(doc, i, joined + 1, "legs", f"{first}-G")
        return joined + 1
    return 0


def _bare_pair(doc: Doc, i: int) -> int:
    """ "A to B four seventy eight", "one to two four seventy eight" beside a voltage."""
    n = len(doc.tokens)
    if i + 2 >= n or doc.norm[i + 1] not in ("to", "-") or doc.tokens[i + 1].brk or doc.tokens[i + 2].brk:
        return 0
    if doc.owner[i] is not None and doc.owner[i].kind != "word":  # type: ignore[union-attr]
        return 0
    a, b = doc.norm[i], doc.norm[i + 2]
    if a in _LETTER_LEGS and b in _LETTER_LEGS and a != b:
        _take(doc, i, i + 3, "legs", "-".join(sorted((a.upper(), b.upper()))))
        return i + 3
    x, y = number_word(doc, i), number_word(doc, i + 2)
    if x in (1, 2, 3) and y in (1, 2, 3) and x != y and i + 3 < n and not doc.tokens[i + 3].brk:
        after = doc.norm[i + 3]
        number_next = doc.tokens[i + 3].kind == "n" or CLASS.get(after, ".") in "dtx"
        near = any(m.kind == "legs" or m.has("point", "voltage") for m in doc.within(max(0, i - 14), i))
        if number_next and near:
            _take(doc, i, i + 3, "legs", f"L{min(x, y)}-L{max(x, y)}")
            return i + 3
    return 0


# ---------------------------------------------------------------- a part's own number


def _part_numbers(doc: Doc) -> None:
    n = len(doc.tokens)
    for m in doc.mentions:
        if m.kind != "word" or not (m.comp or m.has("family")):
            continue
        slug = m.comp
        at = m.stop
        named = at < n and doc.norm[at] in ("number", "no", "#")
        if named:
            at += 1
        if at < n and not doc.tokens[at].brk and not m.has("point"):
            value = number_word(doc, at)
            after = doc.norm[at + 1] if at + 1 < n else ""
            goes_on = (
                at + 1 < n
                and not doc.tokens[at + 1].brk
                and (CLASS.get(after, ".") in "dtxpzZhk" or doc.tokens[at + 1].kind in "nf")
            )
            starts = CLASS.get(after, ".") in "dtxzZ" or (at + 1 < n and doc.tokens[at + 1].kind == "n")
            allowed = slug in _NUMBERED or m.has("family", *_NUMBERED)
            lone = not goes_on and (
                after not in _MEASURED or (after in ("amp", "amps") and _amps_of(doc, at + 1))
            )
            if (
                value is not None
                and 1 <= value <= 8
                and "." not in doc.tokens[at].text
                and CLASS.get(doc.norm[at], "d") == "d"
                and (lone or named or (allowed and starts))
                and (allowed or named or slug in ("fuse", "burner", "bearing", "igniter", "heat-exchanger"))
            ):
                _number(doc, m, m.start, at + 1, str(value))
                _second_number(doc, m, at + 1)
                continue
            if allowed and doc.norm[at] in ("a", "b") and doc.tokens[at].text.isupper() and not goes_on:
                _number(doc, m, m.start, at + 1, doc.norm[at].upper())
                continue
        if m.start and not doc.tokens[m.start].brk:
            before = doc.norm[m.start - 1]
            earlier = doc.norm[m.start - 2] if m.start >= 2 and not doc.tokens[m.start - 1].brk else ""
            if before in _SIDES and (before != "left" or earlier not in _PRONOUNS):
                _number(doc, m, m.start - 1, m.stop, _ORDINAL.get(before, before))
            elif earlier == "number" and number_word(doc, m.start - 1) is not None:
                _number(doc, m, m.start - 2, m.stop, str(number_word(doc, m.start - 1)))


def _amps_of(doc: Doc, at: int) -> bool:
    """ "compressor two amps fourteen two": what follows the amps is the value."""
    nxt = at + 1
    while nxt < len(doc.tokens) and doc.norm[nxt] in ("are", "is", "were", "was", "at", "draw", "reading"):
        nxt += 1
    return (
        nxt < len(doc.tokens)
        and doc.tokens[nxt].brk < 2
        and (doc.tokens[nxt].kind == "n" or CLASS.get(doc.norm[nxt], ".") in "dtx")
    )


_MEASURED = frozenset(
    [
        "amp",
        "amps",
        "volt",
        "volts",
        "ohm",
        "ohms",
        "inch",
        "inches",
        "percent",
        "hertz",
        "degrees",
        "degree",
        "psi",
        "microfarad",
        "microfarads",
        "mfd",
        "horse",
        "hp",
        "pole",
        "and",
        "a",
        "half",
        "quarter",
        "microamp",
        "microamps",
        "over",
        "by",
        "x",
        "foot",
        "feet",
        "pound",
        "pounds",
        "ounces",
        "cfm",
        "rpm",
        "parts",
        "ppm",
        "k",
        "meg",
        "megs",
    ]
) - {"and", "a"}


def _second_number(doc: Doc, m: Mention, at: int) -> None:
    """ "compressor one and two": the second number is kept on the mention as "1,2"."""
    if at + 1 < len(doc.tokens) and doc.norm[at] in ("and", "&") and not doc.tokens[at + 1].brk:
        value = number_word(doc, at + 1)
        after = at + 2
        if (
            value is not None
            and 1 <= value <= 8
            and (
                after >= len(doc.tokens)
                or doc.tokens[after].brk
                or (
                    CLASS.get(doc.norm[after], ".") == "."
                    and doc.norm[after] not in _MEASURED
                    and doc.tokens[after].kind == "w"
                )
            )
        ):
            _number(doc, m, m.start, at + 2, f"{m.number},{value}")


def _number(doc: Doc, m: Mention, start: int, stop: int, number: str) -> None:
    for other in doc.within(start, stop):
        if other is not m:
            doc.drop(other)
    m.start, m.stop, m.number = start, stop, number
    for i in range(start, stop):
        doc.owner[i] = m
