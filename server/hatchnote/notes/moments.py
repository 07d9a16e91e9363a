"""Stage: measured, rated or set; as found or as left."""

from __future__ import annotations

from itertools import pairwise

from hatchnote.notes.basis import give_basis
from hatchnote.notes.cues import Cue, cues_of
from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.read_again import NO_MOMENT, SIZES, family, read_again
from hatchnote.notes.switch_points import WORKS_AT
from hatchnote.notes.turned import RULE as TURNED
from hatchnote.notes.wordlists import words

REQUIRES = ("drafts", "work")
ASSIGNS = ("basis", "moment")
_ANEW = words("i it it's its they they're and i've we")
_IS = words("is it's they're are now reads runs i we it she getting showing")
_HEADING = 4
_HEADED = words(
    "readings reading numbers conditions condition values the my these all are at on upon work service figures"
)
_COMING = {"arrival": "as-found", "departure": "as-left", "arriving": "as-found", "leaving": "as-left"}
_CONTINUES = words(
    """
    they it that those these it's that's they're
    """
)


def moments(doc: Doc) -> None:
    """Give every draft its basis and moment."""
    by_sentence: dict[int, list[Draft]] = {}
    for d in doc.drafts:
        if not d.withdrawn:
            by_sentence.setdefault(d.sentence, []).append(d)
    found_before = False
    heading: str | None = None
    for number, begin, end in doc.numbered_sentences():
        here = by_sentence.get(number, [])
        cues = cues_of(doc, begin, end)
        if here:
            continues = found_before and doc.norm[begin] in _CONTINUES
            _sentence(doc, here, cues, begin, end, continues)
        told = _heading(doc, here, cues, begin, end)
        heading = heading if told is None else told
        for d in here:
            plain = d.moment is None and d.basis == "measured" and not d.was
            if heading and plain and d.point not in NO_MOMENT | SIZES:
                d.moment = heading
        found_before = any(slug == "found" and not trailing for _, _, slug, trailing in cues)
    read_again(doc)


def _heading(doc: Doc, here: list[Draft], cues: list[Cue], begin: int, end: int) -> str | None:
    """ "As found.", "As left.": a sentence of nothing else heads those behind it, up to the next of its kind ("")."""
    if end - begin > _HEADING or here:
        return None
    said = [w for w in doc.norm[begin:end] if w not in _HEADED]
    if len(said) == 1 and said[0] in _COMING:
        return _COMING[said[0]]
    whole = sum(c.stop - c.start for c in cues) >= end - begin - sum(
        w in _HEADED for w in doc.norm[begin:end]
    )
    if whole and cues and doc.norm[begin] != "now" and all(c.slug in ("found", "left") for c in cues):
        return "as-left" if cues[-1].slug == "left" else "as-found"
    named = any(
        m.comp or m.has("point") or m.kind == "value" or m.has("condition") for m in doc.within(begin, end)
    )
    return None if named else ""


def _sentence(
    doc: Doc,
    drafts: list[Draft],
    cues: list[Cue],
    begin: int,
    end: int,
    continues: bool,
) -> None:
    for k, d in enumerate(drafts):
        previous = max([begin, *(o.stop for o in drafts if o.stop <= d.start)])
        following = drafts[k + 1].start if k + 1 < len(drafts) else end
        trailing = next((c for c in cues if c[3] and d.stop <= c[0] < following and c[0] - d.stop <= 4), None)
        if trailing is None and d.rule == TURNED:
            near = following - 2 if k + 1 < len(drafts) else end  # "on a label of" tells of the next value
            trailing = next((c for c in cues if d.stop <= c[0] and c[1] <= near), None)
        leading = [c for c in cues if not c[3] and c[1] <= d.start and not (d.rule == TURNED and k)]
        give_basis(doc, d, drafts, k, leading, trailing, previous, begin)
        _moment(doc, d, leading, trailing, continues, drafts, k, begin)
        before = drafts[k - 1] if k else None
        from_it = d.moment == "as-found" and doc.norm[d.start - 1] == "from"
        if (
            before is not None
            and from_it
            and (before.moment, before.point, before.basis) == (None, d.point, "measured")
        ):
            before.moment = "as-left"  # "down to three forty from four ten"
        if before is None or not before.now or d.was or d.moment is not None or d.basis != "measured":
            continue
        if family(before.point) == family(d.point) and d.point not in NO_MOMENT:
            d.moment, d.now = "as-left", True  # "superheat's eleven now, suction one sixteen": in one breath
    for before, d in pairwise(drafts):
        plain = before.moment is None and before.basis == "measured" and not before.was
        if d.now and d.moment == "as-left" and plain and before.point not in NO_MOMENT | SIZES:
            between = doc.norm[before.stop : d.start]
            joined = "and" in between and not any(t.brk for t in doc.tokens[before.stop + 1 : d.start + 1])
            told = {"now", "it's", "that's", "was", "were"} & {*between}
            if joined and not told and family(before.point) == family(d.point):
                before.moment = "as-left"  # "mixed seventy six and supply fifty seven now"


def _moment(
    doc: Doc,
    d: Draft,
    leading: list[Cue],
    trailing: Cue | None,
    continues: bool,
    drafts: list[Draft],
    k: int,
    begin: int,
) -> None:
    if d.point == "torque" and any(c.slug == "setting" and doc.norm[c.start] == "set" for c in leading[-1:]):
        d.moment = "as-left"
    if d.point in NO_MOMENT or d.rule == WORKS_AT:
        return
    if d.point in SIZES:
        d.moment = "as-found" if any(c.slug == "found" for c in leading[-1:]) else None
        return
    if d.basis == "rated" and (
        d.rule == "rated" or any(c[2] == "rated" for c in ([trailing] if trailing else []) + leading[-1:])
    ):
        return
    if d.point == "vacuum" or (d.point == "time" and d.ucum == "min"):
        return
    if trailing is not None and trailing[2] in ("found", "left", "was"):
        d.moment = "as-found" if trailing[2] == "found" else "as-left" if trailing[2] == "left" else d.moment
        d.was = trailing[2] == "was"
        d.now = trailing[2] == "left"
        return
    if (
        k
        and d.basis == "measured"
        and drafts[k - 1].point == d.point
        and doc.norm[d.start - 1] == "to"
        and doc.norm[drafts[k - 1].start - 1] == "from"
    ):
        d.moment = "as-left"
        return
    if (
        k
        and d.basis == "measured"
        and drafts[k - 1].point == d.point
        and drafts[k - 1].moment == "as-found"
        and doc.norm[d.start - 1] == "to"
        and doc.norm[d.start - 2] in ("down", "up", "back")
    ):
        d.moment, d.now = "as-left", True  # "found it at four ten, washed the coil, down to three forty"
        return
    for start, stop, cue, _ in reversed(leading):
        if cue in ("rated", "set"):
            if cue == "set" and d.basis == "set":
                put = doc.norm[stop - 1] == "set" and doc.norm[stop] in ("to", "at")
                if d.point == "opening" and (put or doc.norm[start] in ("was", "were")):
                    d.moment = "as-left"  # "the minimum was set to fifteen percent"
                return
            if cue == "rated" and start > (drafts[k - 1].start if k else 0):
                continue
            continue
        if cue in ("left", "setting"):
            if d.basis == "rated":
                continue
            own = [o for o in drafts[:k] if o.start >= stop]
            if cue == "setting" and any(family(o.point) != family(d.point) for o in own):
                continue  # "tightened it to half an inch and the left cap is forty three": only the first was set
            d.moment = "as-left"
        elif cue == "found":
            moved = doc.norm[d.start - 1] in ("to", "at") and bool(
                {"down", "up", "back"} & {*doc.norm[d.start - 3 : d.start]}
            )
            same = [
                o for o in drafts[:k] if (o.point, o.component, o.number) == (d.point, d.component, d.number)
            ]
            # "found superheat at thirty five, added two pounds, superheat's down to fourteen"
            d.moment = "as-left" if moved and same else "as-found"
        elif cue == "from":
            if d.text is not None:
                continue  # "swings from four to thirty"
            value = doc.owner[stop] if stop < len(doc.owner) else None
            if value is not None and value.start != d.at:
                continue
            d.moment = "as-found"
        elif cue == "was":
            told = (
                drafts[k - 1].stop if k else begin
            )  # what opened the sentence held for the value it was said with
            opened = next((c for c in leading if c.start < start and c.slug in ("found", "left")), None)
            if (
                opened is not None
                and opened.start < told <= start
                and doc.norm[opened.stop - 1] in ("to", "at")
            ):
                opened = None
            if (
                opened is not None
                and opened.start <= begin + 1
                and doc.norm[opened.start] != "now"
                and d.basis == "measured"
            ):
                d.moment = "as-found" if opened.slug == "found" else "as-left"
                return  # "on arrival the suction was fifty eight", "when I left the head was three ten"
            if _told_otherwise(doc, stop, d.start):
                return  # "the cap was swelled too, I read six point three": the cap was
            if k and drafts[k - 1].stop > start and _IS & {*doc.norm[drafts[k - 1].stop : d.start]}:
                return  # "was one point four, it's point nine now": only the first was
            d.was = True
            if _of_the_old(doc, begin, d.start):
                d.moment = "as-found"  # "the old one was reading two ten"
            if k + 1 < len(drafts) and drafts[k + 1].moment == "as-left":
                d.moment = "as-found"
        return
    if d.component and (_new_part(doc, d) or _put_in(doc, d)):
        d.moment, d.now = "as-left", True
        return
    if continues:
        d.moment = "as-found"


def _told_otherwise(doc: Doc, start: int, stop: int) -> bool:
    """Whether a condition ends there what was told with "was", and somebody takes up the reading anew."""
    state = next((m for m in doc.within(start, stop) if m.has("condition")), None)
    return state is not None and any(doc.norm[i] in _ANEW for i in range(state.stop, stop))


def _of_the_old(doc: Doc, begin: int, stop: int) -> bool:
    """Whether the clause before token `stop` tells of the old part, taken out since or to be."""
    for i in range(stop - 1, max(begin - 1, stop - 10), -1):
        if doc.norm[i] == "old" and i + 1 < stop:
            return not doc.tokens[i + 1].brk
        if doc.tokens[i + 1].brk and i + 1 < stop:
            return False
    return False


def _new_part(doc: Doc, d: Draft) -> bool:
    """ "New igniter is fifty one ohms"."""
    i = d.start - 1
    while i > 0 and d.start - i < 8 and not doc.tokens[i + 1].brk:
        owner = doc.owner[i]
        if owner is not None and owner.comp == d.component:
            return doc.norm[owner.start - 1] == "new" and owner.start > 0
        i -= 1
    return False


_OF_THE_PART = frozenset({"resistance", "insulation-resistance", "capacitance"})
"""What a new part brings with it; the amps of a new motor are the machine's."""


def _put_in(doc: Doc, d: Draft) -> bool:
    """ "Put an igniter in and that one ohms out at fifty two": read of a part that was fitted in the same sentence."""
    if d.point not in _OF_THE_PART or d.basis != "measured":
        return False
    begin, end = doc.sentences[d.sentence]
    old = any(doc.norm[i] == "old" for i in range(max(begin, d.start - 6), d.start))
    return not old and any(
        item.kind == "work"
        and begin <= item.at < min(end, d.start)
        and item.fields["state"] == "done"
        and item.fields["verb"] in ("replace", "install")
        and item.fields["component"] == d.component
        for item in doc.items
    )
