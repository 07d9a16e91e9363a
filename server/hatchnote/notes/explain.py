"""The text marked up for a terminal: which characters became what, by which rule."""

from __future__ import annotations

from collections.abc import Sequence

from hatchnote.domain import Facts, Finding, Part, Reading, Transcript, WorkItem

_COLOUR = {"reading": "36", "work": "32", "part": "35", "finding": "33", "withdrawn": "2;9"}
_MARK = "\x1b[1;31m?\x1b[0m"
Item = Reading | WorkItem | Part | Finding


def explain(transcript: Transcript | str, facts: Facts) -> str:
    """The text with every used stretch coloured and numbered, and below it one line an item with its rule.

    Cyan readings, green work, magenta parts, yellow findings, struck out what was taken back; a red ? is a check.
    """
    text = transcript.text if isinstance(transcript, Transcript) else Transcript.from_text(transcript).text
    rows = _rows(facts)
    return f"{_marked(text, rows)}\n\n{_legend(rows)}"


def _rows(facts: Facts) -> list[tuple[str, Item]]:
    rows: list[tuple[str, Item]] = [("reading", r) for r in facts.readings]
    rows += [("withdrawn", r) for r in facts.withdrawn]
    rows += (
        [("work", w) for w in facts.work]
        + [("part", p) for p in facts.parts]
        + [("finding", f) for f in facts.findings]
    )
    return sorted(rows, key=lambda row: (row[1].heard.start_char, row[1].heard.end_char))


def _marked(text: str, rows: Sequence[tuple[str, Item]]) -> str:
    out: list[str] = []
    at = 0
    for number, (kind, item) in enumerate(rows, 1):
        start, end = item.heard.start_char, item.heard.end_char
        check = _MARK if item.check else ""
        if start < at:  # a second item of the same words: only its number
            out.append(f"\x1b[{_COLOUR[kind]}m[{number}]\x1b[0m{check}")
            continue
        out.append(text[at:start])
        out.append(
            f"\x1b[1;{_COLOUR[kind]}m{text[start:end]}\x1b[0m\x1b[{_COLOUR[kind]}m[{number}]\x1b[0m{check}"
        )
        at = end
    out.append(text[at:])
    return "".join(out)


def _legend(rows: Sequence[tuple[str, Item]]) -> str:
    lines = []
    for number, (kind, item) in enumerate(rows, 1):
        check = f"  \x1b[1;31mcheck: {item.check.why}\x1b[0m" if item.check else ""
        if item.check and item.check.alternatives:
            check += f" (or {', '.join(a.text for a in item.check.alternatives)})"
        where = item.tag or "no machine"
        head = f"\x1b[{_COLOUR[kind]}m{number:>3} {kind:<9}\x1b[0m {where:<10}"
        lines.append(f"{head} {_what(item)}  \x1b[2m<- {item.rule}\x1b[0m{check}")
    return "\n".join(lines)


def _what(item: Item) -> str:
    if isinstance(item, Reading):
        value = item.text if item.text is not None else f"{item.value:.10g}"
        of = " ".join(x for x in (item.component, item.number, item.legs, item.stage, item.position) if x)
        circuit = f" circuit {item.circuit}" if item.circuit else ""
        how = " ".join(x for x in (item.basis if item.basis != "measured" else None, item.moment) if x)
        return (
            f"{item.point} {value} {item.unit or ''}".rstrip()
            + (f" of {of}" if of else "")
            + circuit
            + (f" ({how})" if how else "")
        )
    if isinstance(item, WorkItem):
        count = f" x{item.quantity:g}" if item.quantity else ""
        return " ".join(x for x in (item.verb, item.component, item.number) if x) + count + f": {item.state}"
    if isinstance(item, Part):
        return (
            f"{item.quantity:g} {item.component}" + (f" {item.size}" if item.size else "") + f": {item.use}"
        )
    return " ".join(x for x in (item.component, item.number) if x) + f": {item.condition}"
