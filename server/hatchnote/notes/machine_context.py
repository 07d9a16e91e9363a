"""Stage: the machine and the refrigerant circuit that each word is said of."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention

REQUIRES = ("machines", "values")
ASSIGNS = ("tag_at", "circuit_at")


def context(doc: Doc) -> None:
    """The machine and the circuit of every token: the one last named, until another is.

    A machine or circuit named behind what is said of it ("supply fifty three on three") reaches back to the start
    of its sentence, or to the machine named before it there.
    """
    n = len(doc.tokens)
    doc.tag_at = [None] * n
    doc.circuit_at = [None] * n
    tag: str | None = None
    circuit: str | None = None
    for begin, end in doc.sentences:
        _fill(doc.tag_at, begin, end, tag)
        _fill(doc.circuit_at, begin, end, circuit)
        last = begin
        for m in doc.within(begin, end):
            if m.kind == "refrigerant" and (doc.tag_at[m.start], m.slug) not in doc.refrigerants:
                doc.refrigerants.append((doc.tag_at[m.start], m.slug))
            if m.kind == "machines":
                tag = circuit = None
                _fill(doc.tag_at, m.start, end, tag)
                _fill(doc.circuit_at, m.start, end, circuit)
                doc.tags += [t for t in m.slug.split(",") if t not in doc.tags]
                last = m.stop
            if m.kind not in ("machine", "circuit") or m.claimed:
                continue
            back = m.number and not _leads(doc, m) and _something_said(doc, last, m.start)
            start = last if back else m.start
            if m.kind == "machine":
                if m.slug != tag:
                    circuit = None
                    _fill(doc.circuit_at, start, end, circuit)
                tag = m.slug
                _fill(doc.tag_at, start, end, tag)
                if tag not in doc.tags:
                    doc.tags.append(tag)
            else:
                circuit = m.slug or None
                _fill(doc.circuit_at, start, end, circuit)
            last = m.stop


def _leads(doc: Doc, m: Mention) -> bool:
    """ "And on five it's three eighty": what is said of the machine comes behind its name."""
    on = m.start - 1
    opens = on <= 0 or doc.tokens[on].brk or doc.norm[on - 1] in ("and", "but", "then", "so")
    after = doc.norm[m.stop] if m.stop < len(doc.norm) and not doc.tokens[m.stop].brk else ""
    return bool(opens) and after in ("it's", "it", "i", "i've", "i'm", "we", "the", "she's", "there's", "its")


def _fill(row: list[str | None], start: int, stop: int, value: str | None) -> None:
    for i in range(start, stop):
        row[i] = value


def _something_said(doc: Doc, start: int, stop: int) -> bool:
    """Whether a value, a part or a condition stands there."""
    return any(
        m.kind in ("value", "size") or m.comp or m.has("condition") or m.has("point")
        for m in doc.within(start, stop)
    )
