"""From drafts to `Facts`: spans in characters and seconds, ids, units as a technician reads them."""

from __future__ import annotations

from bisect import bisect_right
from typing import Any, cast

from hatchnote.domain import Check, Facts, Finding, Part, Reading, Span, WorkItem
from hatchnote.notes.doc import Doc, Draft, Item
from hatchnote.notes.ids import Ids
from hatchnote.notes.sureness import sureness
from hatchnote.notes.told import told

UNIT_TEXT = {
    "Ohm": "ohm",
    "kOhm": "kohm",
    "MOhm": "Mohm",
    "GOhm": "Gohm",
    "uF": "uF",
    "Hz": "Hz",
    "/min": "rpm",
    "uA": "uA",
    "mA": "mA",
    "A": "A",
    "V": "V",
    "mV": "mV",
    "[in_i'H2O]": "in. w.c.",
    "[psi]": "psig",
    "[degF]": "°F",
    "Cel": "°C",
    "[ppm]": "ppm",
    "%": "%",
    "[cft_i]/min": "cfm",
    "[ft_i]/min": "fpm",
    "um[Hg]": "microns",
    "[lb_av]": "lb",
    "[oz_av]": "oz",
    "[in_i]": "in.",
    "[HP]": "hp",
    "kW": "kW",
    "W": "W",
    "[Btu_IT]/h": "Btu/h",
    "s": "s",
    "min": "min",
    "h": "h",
    "[in_i].[lbf_av]": "lbf·in",
    "[ft_i].[lbf_av]": "lbf·ft",
    "N.m": "N·m",
    "kPa": "kPa",
    "Pa": "Pa",
}


class _Clock:
    """Seconds of the words that hold a stretch of characters."""

    def __init__(self, doc: Doc) -> None:
        self.words = doc.words
        self.starts: list[int] = []
        at = 0
        for word in doc.words:
            self.starts.append(at)
            at += len(word.text) + 1

    def span(self, doc: Doc, start: int, stop: int) -> Span:
        a, b = doc.tokens[start].start, doc.tokens[max(start, stop - 1)].end
        begin = end = None
        if self.words:
            first, last = bisect_right(self.starts, a) - 1, bisect_right(self.starts, b - 1) - 1
            begin, end = self.words[first].start, self.words[last].end
        return Span(a, b, doc.dictation, begin, end)


def facts(doc: Doc) -> Facts:
    """What was read out of `doc`, in order of speech."""
    clock = _Clock(doc)
    ids = Ids(doc.dictation)
    drafts = sorted(doc.drafts, key=lambda d: (d.at, d.start))
    readings = [_reading(doc, d, clock, ids) for d in drafts if not d.withdrawn]
    withdrawn = [_reading(doc, d, clock, ids) for d in drafts if d.withdrawn]
    made: dict[str, list[Any]] = {"work": [], "part": [], "finding": []}
    for item in sorted(doc.items, key=lambda x: x.at):
        made[item.kind].append(_item(doc, item, clock, ids))
    # Each refrigerant with the machine that was being spoken of; named twice is named once.
    gases = dict.fromkeys((doc.tag_at[m.start], m.slug) for m in doc.mentions if m.kind == "refrigerant")
    return Facts(
        tuple(readings),
        tuple(made["work"]),
        tuple(made["part"]),
        tuple(made["finding"]),
        tuple(withdrawn),
        tuple(doc.tags),
        tuple(gases),
        told(doc),
    )


def _check(doubts: list[str], others: Any) -> Check | None:
    if not doubts:
        return None
    return Check("; ".join(dict.fromkeys(doubts)), tuple(others))


def _reading(doc: Doc, d: Draft, clock: _Clock, ids: Ids) -> Reading:
    entry = doc.vocabulary.points[d.point]
    span = clock.span(doc, d.start, d.stop)
    numeric = d.value is not None
    ucum = d.ucum or (entry.ucum if not entry.text else None) or None
    unit = entry.unit if ucum == entry.ucum else UNIT_TEXT.get(ucum or "", ucum)
    return Reading(
        id=ids.make("reading", d.point, span.start_char, span.end_char, d.component, d.number, d.tag),
        point=d.point,
        heard=span,
        said=doc.text[span.start_char : span.end_char],
        value=_tidy(d.value) if numeric else None,
        unit=unit or None,
        ucum=ucum,
        text=d.text,
        component=d.component,
        number=d.number,
        legs=d.legs,
        stage=d.stage,
        circuit=d.circuit,
        position=d.position,
        basis=cast(Any, d.basis),
        moment=cast(Any, d.moment),
        difference=entry.difference,
        tag=d.tag,
        confidence=sureness(d),
        check=_check(d.doubts, d.others),
        rule=d.rule,
    )


def _tidy(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.10g}")


def _item(doc: Doc, item: Item, clock: _Clock, ids: Ids) -> WorkItem | Part | Finding:
    span = clock.span(doc, item.start, item.stop)
    kind = {"work": WorkItem, "part": Part, "finding": Finding}[item.kind]
    key = [item.fields.get(k) for k in ("verb", "component", "number", "condition", "use", "size")]
    confidence = max(0.05, 0.95 - 0.25 * len(item.doubts))
    made: Any = kind(
        id=ids.make(item.kind, *key, span.start_char, item.tag),
        heard=span,
        tag=item.tag,
        rule=item.rule,
        confidence=confidence,
        check=_check(item.doubts, item.others),
        **item.fields,
    )
    return cast("WorkItem | Part | Finding", made)
