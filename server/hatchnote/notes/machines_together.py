"""Several machines named in one breath: "R T Us one through four", "units two and five", "R T U one, two and three"."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import known_tag, number_word
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.wordlists import words

_PLURALS = {
    ("r", "t", "us"): "RTU",
    ("rtus",): "RTU",
    ("rooftop", "units"): "RTU",
    ("rooftops",): "RTU",
    ("units",): "RTU",
    ("machines",): "RTU",
    ("a", "h", "us"): "AHU",
    ("ahus",): "AHU",
    ("air", "handlers"): "AHU",
    ("m", "a", "us"): "MAU",
    ("heat", "pumps"): "HP",
}
_FIRST = frozenset(name[0] for name in _PLURALS)
_THROUGH = frozenset(["through", "thru", "to"])
_COUNTED = words(
    "hundred thousand point oh and a half of percent inch inches amps amp volts degrees tons ton by"
)
_MOST = 20


def together(doc: Doc) -> None:
    """Put one mention of kind "machines" on every such row; its slug holds the tags with commas between."""
    i = 0
    while i < len(doc.norm):
        head = _head(doc, i)
        if head is None:
            i += 1
            continue
        begin, at, kind, first = head
        found = _row(doc, at, first, plural=first is None)
        if found is None:
            i += 1
            continue
        stop, numbers = found
        for other in doc.within(begin, stop):
            doc.drop(other)
        tags = [known_tag(doc, kind, str(n)) or f"{kind}-{n}" for n in numbers]
        m = doc.put(Mention("machines", begin, stop, slug=",".join(tags)))
        m.number = "on" if begin and doc.norm[begin - 1] in ("on", "for", "at") else None
        i = stop
    doc.settle()


def _head(doc: Doc, i: int) -> tuple[int, int, str, int | None] | None:
    """What a row begins with at token `i`: (start, token after it, kind, the first number where that is in it)."""
    owner = doc.owner[i]
    if owner is not None and owner.kind == "machine" and owner.start == i:
        kind, _, number = owner.slug.rpartition("-")
        return (i, owner.stop, kind, int(number)) if number.isdigit() and kind else None
    if doc.norm[i] not in _FIRST:
        return None
    for name, kind in _PLURALS.items():
        if tuple(doc.norm[i : i + len(name)]) == name and not any(
            t.brk for t in doc.tokens[i + 1 : i + len(name)]
        ):
            return i, i + len(name), kind, None
    return None


def _row(doc: Doc, at: int, first: int | None, *, plural: bool) -> tuple[int, list[int]] | None:
    """The numbers from token `at` on, each one word: (token after the last, numbers); None where there is no row."""
    numbers = [] if first is None else [first]
    stop = at
    ended = False
    while at < len(doc.norm) and not ended:
        joined = doc.norm[at] in ("and", "&")
        through = doc.norm[at] in _THROUGH and bool(numbers)
        if doc.tokens[at].brk == 2 or (doc.tokens[at].brk and not numbers):
            break
        if not joined and not through and numbers and not doc.tokens[at].brk:
            break
        one = at + 1 if joined or through else at
        value = number_word(doc, one)
        if value is None or not 1 <= value <= 99 or value in numbers or (joined and not numbers):
            break
        if one + 1 < len(doc.norm) and not doc.tokens[one + 1].brk and _goes_on(doc, one + 1):
            break
        if joined and doc.norm[one + 1 : one + 2] == ["on"] and not doc.tokens[one + 1].brk and not plural:
            break  # "twelve on R T U one and eleven on R T U two": a value
        if through:
            if not numbers[-1] < value <= numbers[-1] + _MOST:
                break
            numbers += list(range(numbers[-1] + 1, value + 1))
        else:
            numbers.append(value)
        stop, at = one + 1, one + 1
        ended = joined or through
    if len(numbers) < 2 or (not plural and not ended):
        return None  # "R T U one, two hundred": a row of singular names ends with "and" or "through"
    return stop, numbers


def _goes_on(doc: Doc, at: int) -> bool:
    if doc.norm[at] in ("and", "through", "thru"):
        return False
    return (
        CLASS.get(doc.norm[at], ".") in "dtxhkpzZH"
        or doc.tokens[at].kind in "nfs"
        or doc.norm[at] in _COUNTED
    )
