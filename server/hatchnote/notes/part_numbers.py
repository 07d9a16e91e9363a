"""A part's own number or side: "compressor two", "number three fan", "left bearing", "compressor one and two"."""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words

_SIDES = words(
    """
    left right top bottom upper lower front rear back first second middle
    """
)
_ORDINAL = {"first": "1", "second": "2", "third": "3"}
_PRONOUNS = words(
    """
    i we they somebody someone he she and just so it
    """
)
NUMBERED = frozenset(
    {
        "compressor",
        "condenser-fan-motor",
        "contactor",
        "condenser-fan-blade",
        "relay",
        "condenser-coil",
        "run-capacitor",
        "crankcase-heater",
        "inducer-motor",
        "igniter",
        "fuse",
    }
)


def find_part_numbers(doc: Doc) -> None:
    n = len(doc.tokens)
    for m in doc.mentions:
        if m.kind != "word" or not (m.comp or m.has("family")):
            continue
        slug = m.comp
        at = m.stop
        named = at < n and doc.norm[at] in ("number", "no", "#")
        if named:
            at += 1
        state = doc.owner[at + 1] if at + 1 < n and not doc.tokens[at + 1].brk else None
        told = state is not None and state.has("condition")  # "fuse three blown"
        if at < n and not doc.tokens[at].brk and (told or not m.has("point")):
            value = number_word(doc, at)
            after = doc.norm[at + 1] if at + 1 < n else ""
            goes_on = (
                at + 1 < n
                and not doc.tokens[at + 1].brk
                and not doc.tokens[at].lower.endswith(("'s", "’s"))
                and (CLASS.get(after, ".") in "dtxpzZhk" or doc.tokens[at + 1].kind in "nf")
            )
            starts = CLASS.get(after, ".") in "dtxzZ" or (at + 1 < n and doc.tokens[at + 1].kind == "n")
            allowed = slug in NUMBERED or m.has("family", *NUMBERED)
            own = doc.tokens[at].lower.endswith(("'s", "’s"))
            alone = doc.norm[at + 1 : at + 3] in (
                ["by", "itself"],
                ["by", "hand"],
            )  # "compressor one by itself"
            lone = not goes_on and (
                own or alone or after not in MEASURED or (after in _OF_IT and _value_follows(doc, at + 1))
            )
            if (
                value is not None
                and 1 <= value <= 8
                and "." not in doc.tokens[at].text
                and after != "/"  # "motor 1/2 hp"
                and not _and_a_part(doc, at)
                and CLASS.get(doc.norm[at], "d") == "d"
                and (lone or named or (allowed and starts and not (value > _MANY and figures_only(doc, at))))
                and (allowed or named or slug in ("fuse", "burner", "bearing", "igniter", "heat-exchanger"))
                and (named or not _counts_the_next(doc, m, at))
            ):
                _number(doc, m, m.start, at + 1, str(value))
                _second_number(doc, m, at + 1)
                continue
            if allowed and doc.norm[at] in ("a", "b") and doc.tokens[at].text.isupper():
                _number(doc, m, m.start, at + 1, doc.norm[at].upper())
                continue
        if m.start and not doc.tokens[m.start].brk:
            before = doc.norm[m.start - 1]
            earlier = doc.norm[m.start - 2] if m.start >= 2 and not doc.tokens[m.start - 1].brk else ""
            if before in _SIDES and (before != "left" or earlier not in _PRONOUNS):
                _number(doc, m, m.start - 1, m.stop, _ORDINAL.get(before, before))
            elif earlier == "number" and number_word(doc, m.start - 1) is not None:
                _number(doc, m, m.start - 2, m.stop, str(number_word(doc, m.start - 1)))
    _goes_on(doc)


_SIZED = words("dual run new pole amp volt inch by x plus + ton horse round oval of more")
_AHEAD = 8


def _counts_the_next(doc: Doc, m: Mention, at: int) -> bool:
    """ "Contactor, coil two 40 5 dual caps one bearing": in a list without commas the number counts what comes."""
    i = at + 1
    while i < min(len(doc.norm), at + _AHEAD) and not doc.tokens[i].brk:
        part = doc.owner[i]
        if part is not None and part.comp and part.kind == "word" and part.start == i:
            return part.comp != m.comp and (part.plural or (m.plural and i == at + 1))
        if (
            CLASS.get(doc.norm[i], ".") not in "dtxhp"
            and doc.tokens[i].kind not in "nf"
            and doc.norm[i] not in _SIZED
        ):
            return False
        i += 1
    return False


def _and_a_part(doc: Doc, at: int) -> bool:
    """ "Motor's seven and a half horse": a mixed number, or what the part is."""
    said = doc.norm[at + 1 : at + 4]
    return said[:1] == ["and"] and (
        said[1:2] == ["a"] or said[-1].rstrip("s") in ("quarter", "half", "eighth")
    )


_MANY = 4
"""Parts of a kind that a rooftop machine mostly has (common practice, no source): "compressor nine six" is 9.6."""


def figures_only(doc: Doc, at: int) -> bool:
    """Whether two single figures stand at token `at`, and no more."""
    return (
        at + 1 < len(doc.tokens)
        and CLASS.get(doc.norm[at + 1], ".") == "d"
        and not doc.tokens[at + 1].brk
        and (
            at + 2 >= len(doc.tokens)
            or bool(doc.tokens[at + 2].brk)
            or CLASS.get(doc.norm[at + 2], ".") not in "dtxzZphk"
        )
    )


def _goes_on(doc: Doc) -> None:
    """ "Condenser fan one's at one point eight and two's at two point one": the next of its kind."""
    begins = [a for a, _ in doc.sentences]
    for i in range(1, len(doc.tokens)):
        if doc.owner[i] is not None or not doc.tokens[i].lower.endswith(("'s", "’s")):
            continue
        value = number_word(doc, i)
        if (
            value is None
            or not 1 <= value <= 8
            or (doc.norm[i - 1] not in ("and", "then", "but", "while") and not doc.tokens[i].brk)
        ):
            continue
        begin = begins[bisect_right(begins, i) - 1]
        kin = next(
            (
                m
                for m in reversed(doc.within(begin, i))
                if m.comp in NUMBERED and m.number and m.kind == "word"
            ),
            None,
        )
        if kin is not None and i - kin.stop < 14:
            doc.put(Mention("word", i, i + 1, kin.terms, comp=kin.comp, number=str(value)))


_OF_IT = frozenset(["amp", "amps", "volts", "ohms", "megs", "meg"])
_WITHIN = 9


def _value_follows(doc: Doc, at: int) -> bool:
    """ "Compressor two amps fourteen two", "compressor one amps and compressor two amps, ...": it comes later."""
    for i in range(at + 1, min(len(doc.tokens), at + _WITHIN)):
        if doc.tokens[i].brk == 2:
            return False
        if doc.tokens[i].kind == "n" or CLASS.get(doc.norm[i], ".") in "dtxzZ":
            return True
        owner = doc.owner[i]
        if owner is not None and owner.has("verb") and not owner.has("point"):
            return False
    return False


MEASURED = words(
    """
    amp amps volt volts ohm ohms inch inches percent hertz degrees degree psi microfarad microfarads mfd
    horse hp pole and a half quarter microamp microamps over by x foot feet pound pounds ounces cfm rpm
    parts ppm k meg megs pump pumps shot shots squirt squirts drop drops dab dabs
    """
) - {"and", "a"}


def _second_number(doc: Doc, m: Mention, at: int) -> None:
    """ "compressor one and two": the second number is kept on the mention as "1,2"."""
    numbers = [m.number or ""]
    while _comma_one(doc, at):
        third = number_word(doc, at)
        if third is None or not 1 <= third <= 8:
            break
        numbers.append(str(third))
        at += 1
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
                    and doc.norm[after] not in MEASURED
                    and doc.tokens[after].kind == "w"
                )
            )
        ):
            _number(doc, m, m.start, at + 2, ",".join([*numbers, str(value)]))


def _comma_one(doc: Doc, at: int) -> bool:
    """ "One, two, three and four": a number alone behind a comma, before the next or before "and"."""
    if at + 1 >= len(doc.tokens) or doc.tokens[at].brk != 1 or number_word(doc, at) is None:
        return False
    listed = doc.tokens[at + 1].brk == 1 and number_word(doc, at + 1) is not None
    return listed or doc.norm[at + 1] in ("and", "&")


def _number(doc: Doc, m: Mention, start: int, stop: int, number: str) -> None:
    for other in doc.within(start, stop):
        if other is not m:
            doc.drop(other)
    m.start, m.stop, m.number = start, stop, number
    for i in range(start, stop):
        doc.owner[i] = m
