"""Stage: measured, rated or set; as found or as left."""

from __future__ import annotations

from hatchnote.notes.basis import give_basis
from hatchnote.notes.cues import Cue, cues_of
from hatchnote.notes.doc import Doc, Draft
from hatchnote.notes.wordlists import words

REQUIRES = ("drafts", "work")
ASSIGNS = ("basis", "moment")
_NO_MOMENT = frozenset({"refrigerant-charge", "outdoor-air-temperature", "torque"})
_CONTINUES = words(
    """
    they it that those these it's that's they're
    """
)
_WORKED = words(
    """
    replace install repair adjust tighten clean flush reset charge align seal lubricate rewire bypass
    evacuate remove restore insulate
    """
)


def moments(doc: Doc) -> None:
    """Give every draft its basis and moment."""
    by_sentence: dict[int, list[Draft]] = {}
    for d in doc.drafts:
        if not d.withdrawn:
            by_sentence.setdefault(d.sentence, []).append(d)
    found_before = False
    for number, begin, end in doc.numbered_sentences():
        here = by_sentence.get(number, [])
        cues = cues_of(doc, begin, end)
        if here:
            continues = found_before and doc.norm[begin] in _CONTINUES
            _sentence(doc, here, cues, begin, end, continues)
        found_before = any(slug == "found" and not trailing for _, _, slug, trailing in cues)
    _read_again(doc)


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
        leading = [c for c in cues if not c[3] and c[1] <= d.start]
        give_basis(doc, d, drafts, k, leading, trailing, previous, begin)
        _moment(doc, d, leading, trailing, continues, drafts, k)


def _moment(
    doc: Doc,
    d: Draft,
    leading: list[Cue],
    trailing: Cue | None,
    continues: bool,
    drafts: list[Draft],
    k: int,
) -> None:
    if d.point in _NO_MOMENT:
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
    for start, stop, cue, _ in reversed(leading):
        if cue in ("rated", "set"):
            if cue == "set" and d.basis == "set":
                return
            if cue == "rated" and start > (drafts[k - 1].start if k else 0):
                continue
            continue
        if cue in ("left", "setting"):
            if d.basis == "rated":
                continue
            d.moment = "as-left"
        elif cue == "found":
            d.moment = "as-found"
        elif cue == "from":
            value = doc.owner[stop] if stop < len(doc.owner) else None
            if value is not None and value.start != d.at:
                continue
            d.moment = "as-found"
        elif cue == "was":
            d.was = True
            if k + 1 < len(drafts) and drafts[k + 1].moment == "as-left":
                d.moment = "as-found"
        return
    if d.component and _new_part(doc, d):
        d.moment = "as-left"
        return
    if continues:
        d.moment = "as-found"


def _new_part(doc: Doc, d: Draft) -> bool:
    """ "New igniter is fifty one ohms"."""
    i = d.start - 1
    while i > 0 and d.start - i < 8 and not doc.tokens[i + 1].brk:
        owner = doc.owner[i]
        if owner is not None and owner.comp == d.component:
            return doc.norm[owner.start - 1] == "new" and owner.start > 0
        i -= 1
    return False


def _key(d: Draft) -> tuple[object, ...]:
    return (d.tag, d.point, d.component, d.number, d.circuit, d.position)


def _read_again(doc: Doc) -> None:
    """What was read before the work and again after it is as found, with the group it was said in."""
    drafts = sorted((d for d in doc.drafts if not d.withdrawn), key=lambda d: d.at)
    last_left: dict[tuple[object, ...], int] = {}
    loose: dict[tuple[object, ...], int] = {}
    again_sentence: dict[tuple[object, ...], int] = {}
    for d in drafts:
        if d.moment == "as-left":
            last_left[_key(d)] = d.at
            again_sentence[_key(d)] = d.sentence
            loose[(d.tag, d.point)] = d.at
    worked: dict[object, list[int]] = {}
    for item in doc.items:
        if item.kind == "work" and item.fields["state"] == "done" and item.fields["verb"] in _WORKED:
            worked.setdefault(item.tag, []).append(item.at)
    groups: set[tuple[int, object, object]] = set()
    for d in drafts:
        if d.moment is not None or d.basis != "measured" or d.point in _NO_MOMENT:
            continue
        again = last_left.get(_key(d))
        if again is not None and again > d.at:
            d.moment = "as-found"
            if again_sentence[_key(d)] != d.sentence:
                groups.add((d.sentence, d.tag, d.circuit))
        elif d.was:
            later = any(at > d.at for at in worked.get(d.tag, ()))
            earlier = any(at < d.at for at in worked.get(d.tag, ()))
            if loose.get((d.tag, d.point), -1) > d.at or (later and not earlier):
                d.moment = "as-found"
    last: dict[tuple[object, ...], Draft] = {}
    for d in drafts:
        if d.basis != "measured" or d.point in _NO_MOMENT or d.point in ("vacuum", "time") or d.text:
            continue
        before = last.get((_key(d), d.legs))
        last[(_key(d), d.legs)] = d
        if (
            before is not None
            and d.moment is None
            and before.moment in (None, "as-found")
            and before.value != d.value
            and d.stage == before.stage
        ) and any(before.at < at < d.at for at in worked.get(d.tag, ())):
            before.moment, d.moment = "as-found", "as-left"
    for d in drafts:
        if (
            d.moment is None
            and d.basis == "measured"
            and d.point not in _NO_MOMENT
            and (d.sentence, d.tag, d.circuit) in groups
        ) and not any(o.moment == "as-left" and o.sentence == d.sentence and o.at < d.at for o in drafts):
            d.moment = "as-found"
