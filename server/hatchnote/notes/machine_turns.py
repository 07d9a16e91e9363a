"""Stage: machines that take turns without their names: "next unit", "the other machine", "on to the next one".

Where the machines of a round were told together, their order says which one is meant. A next machine that nothing
names keeps its readings apart from those of the one before: they are of no machine, marked, until it is named.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.wordlists import words

UNNAMED = "unnamed"
"""Kind of the mention that begins what is said of a machine without a name."""
_TURNS = frozenset({"next", "other", "first", "second", "third", "fourth", "last"})
_ORDER = {"first": 0, "second": 1, "third": 2, "fourth": 3, "last": -1}
_THINGS = words("unit machine rooftop")
_MOVING = words(
    "on over to now for onto moving going go goes walking the and so then okay at with up i'm we're"
)
_TOWARDS = words("to for onto at on with now")
_BEHIND = words("over down up there along in line then now please")
_NEIGHBOURS = words("behind beside across past opposite")
_IT = words("it that this them")
_SMALL = words("and then plus the also both")
_LOOK_BACK = 25


@dataclass(slots=True)
class _Round:
    """The machines of a dictation as far as it was read."""

    row: list[str] = field(default_factory=list)
    """Told together, in their order."""
    named: list[str] = field(default_factory=list)
    current: str | None = None

    def told(self, tag: str) -> None:
        self.current = tag
        if tag not in self.named:
            self.named.append(tag)

    def after(self) -> str | None:
        at = self.row.index(self.current) + 1 if self.current in self.row else -1
        return self.row[at] if 0 < at < len(self.row) else None

    def other(self) -> str | None:
        pair = self.row or self.named
        rest = [t for t in pair if t != self.current]
        return rest[0] if len(pair) == 2 and len(rest) == 1 else None


def machine_turns(doc: Doc) -> None:
    """Put a machine, or a mention of an unnamed one, wherever another one's turn begins."""
    if not any(w in _TURNS or w in _NEIGHBOURS for w in doc.norm):
        return
    seen = _Round()
    for begin, end in doc.sentences:
        i = begin
        last: Mention | None = None
        while i < end:
            owner = doc.owner[i]
            if owner is not None and owner.kind in ("machine", "machines") and owner.start == i:
                _named(doc, seen, owner, last)
                last = owner
                i = owner.stop
                continue
            if doc.norm[i] in _TURNS and (owner is None or owner.kind == "word"):
                _turn(doc, seen, i, begin, end)
            elif doc.norm[i] in _NEIGHBOURS and owner is None:
                _neighbour(doc, seen, i, begin, end)
            i += 1
    doc.settle()


def _named(doc: Doc, seen: _Round, m: Mention, last: Mention | None) -> None:
    if m.kind == "machines":
        seen.row, seen.current = m.slug.split(","), None
        return
    beside = last is not None and last.kind == "machine" and _joined(doc, last.stop, m.start)
    if beside and last is not None:
        seen.row = [*(seen.row if last.slug in seen.row else [last.slug]), m.slug]
    seen.told(m.slug)
    if beside:
        seen.current = None


def _joined(doc: Doc, start: int, stop: int) -> bool:
    return all(w in _SMALL for w in doc.norm[start:stop])


def _turn(doc: Doc, seen: _Round, i: int, begin: int, end: int) -> None:
    """The turn that the words at token `i` begin, if they do."""
    if i + 1 >= end or doc.tokens[i + 1].brk:
        return
    thing, stop = doc.norm[i + 1], i + 2
    if thing not in _THINGS and thing != "one":
        return
    start = i
    while start > begin and not doc.tokens[start].brk and doc.norm[start - 1] in _MOVING:
        start -= 1
    if start > begin and not doc.tokens[start].brk:
        return
    while stop < end and not doc.tokens[stop].brk and doc.norm[stop] in _BEHIND:
        stop += 1
    if any(o is not None and o.kind in ("machine", "machines") for o in doc.owner[stop : min(end, stop + 3)]):
        return  # "next one is R T U five"
    if thing == "one" and not _of_machines(doc, seen, start, i, stop, end):
        return
    if doc.norm[i] == "next":
        slug = seen.after()
    elif doc.norm[i] == "other":
        slug = seen.other()
    else:
        at = _ORDER[doc.norm[i]]
        slug = seen.row[at] if -1 <= at < len(seen.row) else None
    another = doc.norm[i] == "next" or (thing != "one" and doc.norm[i] not in ("first", "last"))
    if slug is None and not (another and seen.named):
        return
    for other in doc.within(i, stop):
        doc.drop(other)
    doc.put(Mention("machine" if slug else UNNAMED, i, i + 2, slug=slug or ""))
    if slug:
        seen.told(slug)
    else:
        seen.current = None


def _neighbour(doc: Doc, seen: _Round, i: int, begin: int, end: int) -> None:
    """ "Now for the one behind it": a machine without a name, where somebody goes to it."""
    at = i + 2 if doc.norm[i + 1 : i + 2] == ["from"] else i + 1
    one = i - 1
    if at >= end or doc.norm[at] not in _IT or one <= begin or doc.norm[one] not in _THINGS | {"one"}:
        return
    start = one
    while start > begin and not doc.tokens[start].brk and doc.norm[start - 1] in _MOVING:
        start -= 1
    opens = start == begin or bool(doc.tokens[start].brk)
    if opens and seen.named and _TOWARDS & {*doc.norm[start:one]} and doc.free(one, at + 1):
        doc.put(Mention(UNNAMED, one, at + 1))
        seen.current = None


def _of_machines(doc: Doc, seen: _Round, start: int, i: int, stop: int, end: int) -> bool:
    """Whether "one" is a machine here: somebody goes there, or says no more than that, and no parts are counted."""
    near = doc.within(max(0, start - _LOOK_BACK), start)
    if any(m.comp and m.number for m in near if m.kind == "word"):
        return False
    going = any(w in _TOWARDS for w in doc.norm[start:i])
    alone = stop >= end
    if doc.norm[i] == "next":
        return going or alone
    told = bool(seen.row) and start == _sentence_start(doc, start)
    return told and (going or alone or bool(doc.tokens[stop].brk))


def _sentence_start(doc: Doc, at: int) -> int:
    return doc.sentences[bisect_right(doc.sentences, (at, len(doc.norm))) - 1][0]
