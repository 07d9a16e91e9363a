"""Stage: the machine and the refrigerant circuit that each word is said of."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machine_turns import UNNAMED
from hatchnote.notes.machines import number_word
from hatchnote.notes.named_late import named_late

REQUIRES = ("machines", "values")
ASSIGNS = ("tag_at", "circuit_at", "heading_at")


def context(doc: Doc) -> None:
    """The machine and the circuit of every token: the one last named, until another is.

    A machine or circuit named behind what is said of it ("supply fifty three on three") reaches back to the start
    of its sentence, or to the machine named before it there.
    """
    _return_air(doc)
    n = len(doc.tokens)
    doc.tag_at = [None] * n
    doc.circuit_at = [None] * n
    tag: str | None = None
    circuit: str | None = None
    head: Mention | None = None
    for begin, end in doc.sentences:
        opens = doc.owner[begin]
        row = opens is not None and opens.kind in ("machine", "machines") and _by_number(doc, opens)
        if head is not None and row:
            doc.heading_at[begin] = head
        else:
            head = _heading(doc, begin, end)
        _fill(doc.tag_at, begin, end, tag)
        _fill(doc.circuit_at, begin, end, circuit)
        last = begin
        for m in doc.within(begin, end):
            if m.kind == "refrigerant" and (doc.tag_at[m.start], m.slug) not in doc.refrigerants:
                doc.refrigerants.append((doc.tag_at[m.start], m.slug))
            if m.kind in ("machines", UNNAMED):
                tag = circuit = None
                _fill(doc.tag_at, m.start, end, tag)
                _fill(doc.circuit_at, m.start, end, circuit)
                last = m.stop
            if m.kind == "machines":
                doc.tags += [t for t in m.slug.split(",") if t not in doc.tags]
            if m.kind not in ("machine", "circuit") or m.claimed:
                continue
            back = m.number and not _leads(doc, m) and _something_said(doc, last, m.start)
            start = (_own_name(doc, last, m) or last) if back else m.start
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
    named_late(doc)


def _from(doc: Doc, start: int, stop: int) -> int:
    """ "Rise on one, fifty two, rise on two, forty eight": a point named behind a value begins what is said anew."""
    between = doc.within(start, stop)
    values = [k for k, m in enumerate(between) if m.kind == "value"]
    if values:
        after = [m for m in between[values[-1] + 1 :] if m.has("point") or m.comp]
        if after and any(m.kind == "machine" for m in doc.within(max(0, start - 4), start)):
            return after[0].start
    return start


def _return_air(doc: Doc) -> None:
    """ "Return on two is seventy two": the air of a machine, no visit."""
    for m in list(doc.mentions):
        if doc.norm[m.start : m.stop] != ["return", "on"] or m.stop >= len(doc.owner):
            continue
        nxt = doc.owner[m.stop]
        if nxt is not None and nxt.kind == "machine":
            doc.drop(m)
            doc.put(Mention("word", m.start, m.start + 1, tuple(doc.vocabulary.trie["return"].get("", ()))))
    doc.settle()


def _leads(doc: Doc, m: Mention) -> bool:
    """ "And on five it's three eighty": what is said of the machine comes behind its name."""
    on = m.start - 1
    opens = on <= 0 or doc.tokens[on].brk or doc.norm[on - 1] in ("and", "but", "then", "so")
    after = doc.norm[m.stop] if m.stop < len(doc.norm) and not doc.tokens[m.stop].brk else ""
    return bool(opens) and after in ("it's", "it", "i", "i've", "i'm", "we", "the", "she's", "there's", "its")


def _own_name(doc: Doc, last: int, m: Mention) -> int:
    """The start of "rise on two" in "rise on one, fifty two, rise on two, forty eight"; 0 where its values came before.

    The clause of the machine holds a name without a value, and the value stands behind the machine.
    """
    start = m.start - 1
    while start > last and not doc.tokens[start].brk:
        start -= 1
    before = doc.within(start, m.start)
    if start <= last or any(x.kind in ("value", "size") for x in before):
        return 0
    named = start == m.start - 1 or any(x.comp or x.has("point") or x.has("family") for x in before)
    behind = next((x for x in doc.within(m.stop, min(len(doc.norm), m.stop + 3))), None)
    return start if named and behind is not None and behind.kind == "value" else 0


_HEADING = 4


def _heading(doc: Doc, begin: int, end: int) -> Mention | None:
    """The part of a sentence that names a part and no more: "Belts."."""
    here = doc.within(begin, end)
    if end - begin > _HEADING or len(here) != 1 or not here[0].comp or here[0].kind != "word":
        return None
    return here[0] if here[0].stop == end else None


def _by_number(doc: Doc, m: Mention) -> bool:
    """ "Three", "one and two": machines told by number alone, as in a row."""
    return number_word(doc, m.start) is not None


def _fill(row: list[str | None], start: int, stop: int, value: str | None) -> None:
    for i in range(start, stop):
        row[i] = value


def _something_said(doc: Doc, start: int, stop: int) -> bool:
    """Whether a value, a part or a condition stands there."""
    return any(
        m.kind in ("value", "size") or m.comp or m.has("condition") or m.has("point")
        for m in doc.within(start, stop)
    )
