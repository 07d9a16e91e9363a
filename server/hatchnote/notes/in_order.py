"""Names in a row and values in a row: "compressor one amps and compressor two amps, eleven four and eleven nine".

The row of names may stand before the values or behind them, or be that of an earlier sentence ("heads, three seventy
and three sixty, same order"). Names are machines, circuits, and parts of one kind told apart by number or side.
"""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.notes.doc import Doc, Draft, Mention
from hatchnote.notes.subjects import COPULA, FILLERS, LINKERS

_ORDERED = ("same order", "in order", "in that order", "respectively", "that order", "same as above")
_GUESS = "which of them was not said with the number"
_LEAST = 2


class Row(NamedTuple):
    """Names told one after the other: machines, circuits, or the numbers of one kind of part."""

    kind: str
    slugs: tuple[str, ...]
    start: int
    stop: int
    comp: str = ""


def in_order(doc: Doc, by_sentence: dict[int, list[Draft]]) -> None:
    """Give every run of values the names of its row."""
    remembered: list[Row] = []
    circuits: dict[str | None, list[str]] = {}
    going: Row | None = None
    for number, begin, end in doc.numbered_sentences():
        names = _names(doc, begin, end)
        for m in names:
            if m.kind == "circuit" and m.slug not in circuits.setdefault(doc.tag_at[m.start], []):
                circuits[doc.tag_at[m.start]].append(m.slug)
        here = by_sentence.get(number, [])
        rows = _rows(doc, names, begin, end)
        for run in _runs(doc, here):
            row = _beside(doc, run, rows, here) or _earlier(doc, run, remembered, begin, end)
            if (
                row is None
                and going is not None
                and len(going.slugs) == len(run)
                and _plural(doc, run, begin)
            ):
                row = going  # "suctions in the same order, ... Heads, ..." : the machines of the row before
            if row is not None:
                _assign(doc, run, row)
                going = row if row.kind == "machine" else None
            elif _plural(doc, run, begin):
                known = circuits.get(run[0].tag, [])
                if len(known) == len(run) and doc.vocabulary.points[run[0].point].circuit:
                    _assign(doc, run, Row("circuit", tuple(sorted(known)), begin, begin))
                    if "first" not in doc.norm[begin:end]:
                        for d in run:
                            d.doubts.append(_GUESS)
            elif going is not None and any(d.point != run[0].point for d in here):
                going = None
        whole = [m for m in doc.within(begin, end) if m.kind == "machines"]
        rows = [Row("machine", tuple(m.slug.split(",")), m.start, m.stop) for m in whole]
        remembered = [*_told(names), *rows, *remembered][:6]


def _names(doc: Doc, begin: int, end: int) -> list[Mention]:
    return [m for m in doc.within(begin, end) if _slug(m)]


def _slug(m: Mention) -> str:
    if m.kind in ("machine", "circuit"):
        return "" if "," in m.slug else m.slug
    return m.number if m.kind == "word" and m.comp and m.number and "," not in m.number else ""


def _kind(m: Mention) -> tuple[str, str]:
    return (m.kind, m.comp if m.kind == "word" else "")


def _rows(doc: Doc, names: list[Mention], begin: int, end: int) -> list[Row]:
    """The rows of a sentence: names of one kind with nothing but small words and what is measured between."""
    out: list[Row] = []
    group: list[Mention] = []
    whole = [m for m in doc.within(begin, end) if m.kind == "machines"]
    out += [Row("machine", tuple(m.slug.split(",")), m.start, m.stop) for m in whole]
    for m in [*names, None]:
        last = group[-1] if group else None
        kin = (
            m is not None
            and last is not None
            and _kind(m) == _kind(last)
            and _only_small(doc, last.stop, m.start)
        )
        if kin and m is not None and _slug(m) not in [_slug(x) for x in group]:
            group.append(m)
            continue
        if len(group) >= _LEAST:
            out.append(_row(group))
        group = [m] if m is not None else []
    return out


def _told(names: list[Mention]) -> list[Row]:
    """What "same order" can mean later: all names of one kind of a sentence, each once."""
    kinds: dict[tuple[str, str], list[Mention]] = {}
    for m in names:
        row = kinds.setdefault(_kind(m), [])
        if _slug(m) not in [_slug(x) for x in row]:
            row.append(m)
    return [_row(row) for row in kinds.values() if len(row) >= _LEAST]


def _row(group: list[Mention]) -> Row:
    kind, comp = _kind(group[0])
    return Row(kind, tuple(_slug(m) for m in group), group[0].start, group[-1].stop, comp)


def _only_small(doc: Doc, start: int, stop: int) -> bool:
    i = start
    while i < stop:
        owner = doc.owner[i]
        if owner is not None and (owner.kind not in ("word",) or owner.has("verb") or owner.has("condition")):
            return False
        if owner is None and doc.norm[i] not in LINKERS and doc.norm[i] not in FILLERS:
            return False
        i += 1
    return True


def _runs(doc: Doc, drafts: list[Draft]) -> list[list[Draft]]:
    """Values of one point told one after the other."""
    out: list[list[Draft]] = []
    for d in sorted(drafts, key=lambda x: x.at):
        if d.withdrawn or d.text or d.source is None:
            continue
        last = out[-1][-1] if out else None
        if (
            last is not None
            and last.point == d.point
            and last.legs is None
            and d.legs is None
            and last.source is not None
            and all(w in LINKERS for w in doc.norm[last.source.stop : d.source.start])
        ):
            out[-1].append(d)
        else:
            out.append([d])
    return [run for run in out if len(run) >= _LEAST]


def _beside(doc: Doc, run: list[Draft], rows: list[Row], drafts: list[Draft]) -> Row | None:
    """The row of as many names right before the run or right behind it."""
    first, last = run[0], run[-1]
    assert first.source is not None and last.source is not None
    sources = [d.source for d in drafts if d.source is not None]
    low = max((s.stop for s in sources if s.stop <= first.source.start), default=0)
    high = min((s.start for s in sources if s.start >= last.source.stop), default=len(doc.tokens))
    for row in rows:
        inside = (low <= row.start and row.stop <= first.source.start) or last.source.stop <= row.start < high
        if inside and len(row.slugs) == len(run) and _can(doc, run[0], row):
            return row
    return None


def _earlier(doc: Doc, run: list[Draft], remembered: list[Row], begin: int, end: int) -> Row | None:
    words = f" {' '.join(doc.norm[begin:end])} "
    if not any(f" {w} " in words for w in _ORDERED):
        return None
    return next((r for r in remembered if len(r.slugs) == len(run) and _can(doc, run[0], r)), None)


def _can(doc: Doc, d: Draft, row: Row) -> bool:
    point = doc.vocabulary.points[d.point]
    if row.kind == "circuit":
        return point.circuit or d.component == "compressor"
    return row.kind == "machine" or row.comp in point.components


def _plural(doc: Doc, run: list[Draft], begin: int) -> bool:
    """ "Superheats ten and twelve": several of them are told by the word itself."""
    assert run[0].source is not None
    i = run[0].source.start - 1
    while i > begin and doc.norm[i] in COPULA and doc.owner[i] is None:
        i -= 1
    owner = doc.owner[i] if i >= begin else None
    if owner is None or not owner.has("point"):
        return False
    return doc.tokens[owner.stop - 1].lower.endswith("s") and "'" not in doc.tokens[owner.stop - 1].text


def _assign(doc: Doc, run: list[Draft], row: Row) -> None:
    for d, slug in zip(run, row.slugs, strict=True):
        if row.kind == "machine":
            d.tag = slug
        elif row.kind == "circuit":
            d.circuit = slug
        else:
            d.component, d.number = row.comp, slug
            d.circuit = None if not doc.vocabulary.points[d.point].circuit else d.circuit
