"""Dictations that belong together: one cut in two by a call or a dead phone, joined by a person and read as one.

Pure functions on values. Each dictation keeps its words, its sound and its place; what is joined is the reading.
The words go through `notes` as one text, and what was read goes back to the dictations it was heard in, with the
ids of what had been read from the same words before, so that what people changed there still holds.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from hatchnote.domain import Check, Facts, Finding, Part, Reading, Span, Transcript, Word, WorkItem
from hatchnote.errors import BadInput
from hatchnote.tickets.edits import Edit

Heard = Reading | WorkItem | Part | Finding
T = TypeVar("T", Reading, WorkItem, Part, Finding)
Read = Callable[[Transcript], Facts]

ACROSS = "read from the end of one dictation and the start of the next"
_STOP = re.compile(r"[.…,;:–-]+$")
_UNFINISHED = frozenset(
    """
    a an and are as at between but by for from had has have in into is it its like minus my new of on
    one or our over per plus point so than that the their there these this those to under was were with
    """.split()  # noqa: SIM905
)
"""Words that no sentence ends on: a full stop behind one was put there by the end of the file."""


@dataclass(frozen=True, slots=True)
class Together:
    """What was read from joined dictations. `followed_by` tells which new item holds the words of an old one."""

    facts: Facts
    followed_by: Mapping[str, str]


def links(edits: Iterable[Edit]) -> dict[str, str]:
    """Dictation → the one it goes on from, after these edits that count."""
    found: dict[str, str] = {}
    for edit in edits:
        if edit.kind == "dictation" and edit.item:
            if edit.op == "join":
                found[edit.item] = str(edit.after)
            elif edit.op == "part":
                found.pop(edit.item, None)
    return found


def groups(ids: Sequence[str], linked: Mapping[str, str]) -> list[tuple[str, ...]]:
    """The dictations in order, those read together in one tuple at the place of the first."""
    made: dict[str, list[str]] = {}
    first: dict[str, str] = {}
    for id in ids:
        before = linked.get(id)
        first[id] = first.get(before or "", id)
        made.setdefault(first[id], []).append(id)
    return [tuple(members) for members in made.values()]


def check_join(edit: Edit, heard: Sequence[Transcript], linked: Mapping[str, str]) -> None:
    """Raises BadInput when these two cannot be joined, or this one is joined to none."""
    one = next((t for t in heard if t.id == edit.item), None)
    if one is None:
        raise BadInput("There is no such dictation in this ticket; load it again.")
    if edit.op == "part":
        if edit.item not in linked:
            raise BadInput("This dictation is not joined to the one before it; nothing was changed.")
        return
    like = [t for t in heard if _spoken(t) == _spoken(one)]
    at = like.index(one)
    before = like[at - 1].id if at else None
    if before is None or before != edit.after:
        kind = "dictation" if _spoken(one) else "typed note"
        raise BadInput(f"A {kind} can only be joined to the {kind} right before it; nothing was changed.")


def read_together(parts: Sequence[Transcript], before: Sequence[Facts], read: Read) -> Together:
    """Read dictations as one. `before` is what was read from each by itself; `read` reads one transcript.

    A full stop at a cut is the recogniser's way to end a file. It is left out of the joined text where the words
    before it end no sentence, or where a reading comes about only without it.
    """
    whole = facts = None
    for n in range(1, len(parts)):
        kept = _one_text(parts[: n + 1], whole)
        bare = _one_text(parts[: n + 1], whole, drop_stop=True)
        whole, facts = kept, read(kept.transcript)
        if bare.transcript.text != kept.transcript.text:
            tried = read(bare.transcript)
            if _unfinished(parts[n - 1]) or _completes(facts, tried, bare.starts[-1]):
                whole, facts = bare, tried
    assert whole is not None and facts is not None, "one dictation alone is not read together"
    return _back(parts, before, whole.starts, facts)


# ---------------------------------------------------------------- one text


@dataclass(frozen=True, slots=True)
class _Text:
    """Several dictations as one transcript; `starts` are the characters at which each begins."""

    transcript: Transcript
    starts: tuple[int, ...]


def _one_text(parts: Sequence[Transcript], so_far: _Text | None, *, drop_stop: bool = False) -> _Text:
    head = so_far.transcript if so_far else parts[0]
    starts = so_far.starts if so_far else (0,)
    tail = parts[-1]
    words = list(head.words)
    if drop_stop and words and _STOP.sub("", words[-1].text):
        words[-1] = replace(words[-1], text=_STOP.sub("", words[-1].text))
    later = _length_s(head)
    head = replace(head, words=tuple(words))
    moved = tuple(_later(w, later) for w in tail.words)
    second = tuple(replace(x, start=x.start + later, end=x.end + later) for x in tail.second)
    joined = Transcript(
        head.words + moved,
        id=f"{head.id}+{tail.id}",
        duration_s=None if tail.duration_s is None else later + tail.duration_s,
        language=head.language,
        second=head.second + second,
    )
    return _Text(joined, (*starts, len(head.text) + 1 if words else 0))


def _later(word: Word, by: float) -> Word:
    return (
        word
        if word.start is None or word.end is None
        else replace(word, start=word.start + by, end=word.end + by)
    )


def _length_s(t: Transcript) -> float:
    last = max((w.end for w in t.words if w.end is not None), default=0.0)
    return max(t.duration_s or 0.0, last)


def _spoken(t: Transcript) -> bool:
    return t.duration_s is not None or any(w.start is not None for w in t.words)


def _unfinished(t: Transcript) -> bool:
    return bool(t.words) and _STOP.sub("", t.words[-1].text).lower() in _UNFINISHED


def _completes(kept: Facts, bare: Facts, cut: int) -> bool:
    crossing = any(r.heard.start_char < cut < r.heard.end_char for r in bare.readings)
    return crossing or len(bare.readings) > len(kept.readings)


# ---------------------------------------------------------------- back to where it was heard


def _back(
    parts: Sequence[Transcript], before: Sequence[Facts], starts: tuple[int, ...], facts: Facts
) -> Together:
    followed: dict[str, str] = {}

    def settle(name: str) -> tuple[T, ...]:
        old = [(_moved(i.heard, starts[n]), i) for n, f in enumerate(before) for i in getattr(f, name)]
        new = list(getattr(facts, name))
        ids = _ids(old, new, followed)
        return tuple(_placed(replace(i, id=id), parts, starts) for i, id in zip(new, ids, strict=True))

    made = replace(
        facts,
        readings=settle("readings"),
        work=settle("work"),
        parts=settle("parts"),
        findings=settle("findings"),
        withdrawn=tuple(_placed(r, parts, starts) for r in facts.withdrawn),
    )
    return Together(made, followed)


def _moved(span: Span, by: int) -> tuple[int, int]:
    return span.start_char + by, span.end_char + by


def _ids(old: list[tuple[tuple[int, int], T]], new: list[T], followed: dict[str, str]) -> list[str]:
    """For each new item the id of the old one that was read from the same words, or its own.

    The same words saying the same come first, then the same words, then the same meaning in words that overlap.
    An old item that found nothing but whose words are part of a new one is noted in `followed`.
    """
    ids = [i.id for i in new]
    free, open_ = dict(enumerate(old)), set(range(len(new)))
    rules: tuple[Callable[[tuple[int, int], T, T], bool], ...] = (
        lambda at, o, n: at == _moved(n.heard, 0) and _meaning(o) == _meaning(n),
        lambda at, o, n: at == _moved(n.heard, 0),
        lambda at, o, n: _overlap(at, _moved(n.heard, 0)) and _meaning(o) == _meaning(n),
    )
    for rule in rules:
        for k in sorted(open_):
            found = next((j for j, (at, o) in free.items() if rule(at, o, new[k])), None)
            if found is not None:
                ids[k] = free.pop(found)[1].id
                open_.discard(k)
    for at, o in free.values():
        holder = next((k for k in sorted(open_) if _overlap(at, _moved(new[k].heard, 0))), None)
        if holder is not None:
            followed[o.id] = ids[holder]
    return ids


def _overlap(a: tuple[int, int], b: tuple[int, int]) -> bool:
    return a[0] < b[1] and b[0] < a[1]


def _meaning(item: Heard) -> tuple[object, ...]:
    if isinstance(item, Reading):
        return item.point, item.value, item.text, item.ucum, item.legs, item.number
    if isinstance(item, WorkItem):
        return item.verb, item.component, item.number
    if isinstance(item, Part):
        return item.component, item.size
    return item.component, item.condition, item.number


def _placed(item: T, parts: Sequence[Transcript], starts: tuple[int, ...]) -> T:
    """The item with its span in the dictations themselves, and marked where it reaches across a cut."""
    span = _span(item.heard.start_char, item.heard.end_char, parts, starts)
    if span.continued is None:
        return replace(item, heard=span)
    return replace(item, heard=span, check=item.check or Check(ACROSS))


def _span(start: int, end: int, parts: Sequence[Transcript], starts: tuple[int, ...]) -> Span:
    pieces: list[Span] = []
    for n, part in enumerate(parts):
        length = len(part.text)
        if n + 1 < len(starts):  # what stood at the cut ("...") may be shorter in the text read together
            length = min(length, starts[n + 1] - 1 - starts[n])
        a, b = max(0, start - starts[n]), min(length, end - starts[n])
        if a < b or (not pieces and start == end and a <= length):
            pieces.append(_timed(part, a, max(a, b)))
    whole = pieces[-1]
    for piece in reversed(pieces[:-1]):
        whole = replace(piece, continued=whole)
    return whole


def _timed(part: Transcript, start: int, end: int) -> Span:
    held = [w for w, (a, b) in zip(part.words, part.word_offsets(), strict=True) if a < end and b > start]
    timed = [w for w in held if w.start is not None and w.end is not None]
    first, last = (timed[0].start, timed[-1].end) if timed else (None, None)
    return Span(start, end, part.id, first, last)
