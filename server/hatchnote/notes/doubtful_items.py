"""Work, parts and findings that may be meant otherwise than they are read: what a person should look at."""

from __future__ import annotations

from hatchnote.domain import Alternative
from hatchnote.notes.doc import Doc

_COILS = ("evaporator-coil", "condenser-coil")


def doubtful_items(doc: Doc) -> None:
    """Mark items of a coil that nobody named, and those beside a taking back of which nothing came."""
    unnamed = {m.comp for m in doc.mentions if m.presumed}
    unnamed -= {m.comp for m in doc.mentions if m.comp and not m.presumed}
    taken_back = _unsettled(doc)
    for item in doc.items:
        component = item.fields.get("component")
        if component in unnamed and component in _COILS:
            item.doubts.append("which coil was not said")
            item.others += tuple(Alternative(None, None, c) for c in _COILS if c != component)
        if any(begin <= item.at < end for begin, end in taken_back):
            item.doubts.append("something was taken back beside it")


def _unsettled(doc: Doc) -> list[tuple[int, int]]:
    """Stretches of two sentences of which the second begins by taking back, where no reading was said anew."""
    out: list[tuple[int, int]] = []
    for before, now in zip(doc.sentences, doc.sentences[1:], strict=False):
        first = next((m for m in doc.within(*now) if m.kind == "word"), None)
        if first is None or not first.has("cue", "scratch") or first.start > now[0] + 2:
            continue
        if not any(d.rule == "taken back and said again" and now[0] <= d.at < now[1] for d in doc.drafts):
            out.append((before[0], now[1]))
    return out
