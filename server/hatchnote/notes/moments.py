"""Stage: measured, rated or set; as found or as left."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Draft, Mention

REQUIRES = ("drafts", "work")
ASSIGNS = ("basis", "moment")

_SETTABLE = frozenset({"opening", "frequency", "torque", "space-temperature", "speed"})
_ALWAYS_RATED = frozenset({"fuse-rating"})
_NO_MOMENT = frozenset({"refrigerant-charge", "outdoor-air-temperature", "torque"})
_MOTOR_SPEEDS = frozenset(
    {825, 850, 1050, 1075, 1100, 1140, 1160, 1200, 1625, 1725, 1740, 1750, 1760, 1800, 3450, 3500, 3600}
)
_CONTINUES = frozenset(["they", "it", "that", "those", "these", "it's", "that's", "they're"])
_WORKED = frozenset(
    {
        "replace",
        "install",
        "repair",
        "adjust",
        "tighten",
        "clean",
        "flush",
        "reset",
        "charge",
        "align",
        "seal",
        "lubricate",
        "rewire",
        "bypass",
        "evacuate",
        "remove",
        "restore",
        "insulate",
    }
)
_CUES = ("found", "was", "left", "setting", "from", "rated", "set")


def moments(doc: Doc) -> None:
    """Give every draft its basis and moment."""
    by_sentence: dict[int, list[Draft]] = {}
    for d in doc.drafts:
        if not d.withdrawn:
            by_sentence.setdefault(d.sentence, []).append(d)
    found_before = False
    for number, begin, end in doc.numbered_sentences():
        here = by_sentence.get(number, [])
        cues = _cues(doc, begin, end)
        if here:
            continues = found_before and doc.norm[begin] in _CONTINUES
            _sentence(doc, here, cues, begin, end, continues)
        found_before = any(slug == "found" and not trailing for _, _, slug, trailing in cues)
    _read_again(doc)


def _cues(doc: Doc, begin: int, end: int) -> list[tuple[int, int, str, bool]]:
    """(start, stop, cue, trailing) of the sentence; trailing ones belong to the value right before them."""
    out: list[tuple[int, int, str, bool]] = []
    for m in doc.within(begin, end):
        if (
            m.kind == "word"
            and m.has("verb")
            and any(t.slug == "adjust" for t in m.of("verb"))
            and (m.claimed == "verb" or doc.norm[m.start] == "set")
            and _to_follows(doc, m, end)
        ):
            out.append((m.start, m.stop, "setting", False))
            continue
        slugs = [t.slug for t in m.of("cue") if t.slug in _CUES]
        if not slugs:
            continue
        slug = "setting" if "setting" in slugs else "rated" if "rated" in slugs else slugs[0]
        if not _counts(doc, m, slug, begin, end):
            continue
        out.append((m.start, m.stop, slug, _trailing(doc, m, begin, end)))
    return out


def _to_follows(doc: Doc, m: Mention, end: int) -> bool:
    for i in range(m.stop, min(end, m.stop + 9)):
        owner = doc.owner[i]
        if owner is not None and owner.kind == "value":
            return any(doc.norm[x] in ("to", "at") for x in range(m.start, i))
        if doc.tokens[i].brk == 2:
            return False
    return False


def _counts(doc: Doc, m: Mention, slug: str, begin: int, end: int) -> bool:
    """Whether the small word is the cue here: "before" a reading, not "before Sunday" or "after ten minutes"."""
    text = " ".join(doc.norm[m.start : m.stop])
    after = doc.norm[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else ""
    nxt = doc.owner[m.stop] if m.stop < end else None
    if text in ("before", "earlier"):
        return after in (
            "",
            "was",
            "were",
            "and",
            "is",
            "it",
            "that",
            "i",
            "cleaning",
            "adjusting",
            "the",
        ) or (nxt is not None and nxt.kind in ("value", "word"))
    if text in ("after", "left", "final"):
        return after in ("", "is", "it", "it's", "was", "i", "cleaning") or (
            nxt is not None
            and nxt.kind == "value"
            and nxt.value is not None
            and nxt.value.ucum not in ("min", "h", "s")
        )
    if text == "tag" or text == "label":
        return True
    if text == "plate" or text == "motor plate":
        return True
    if text == "set":
        return (nxt is not None and (nxt.kind == "value" or nxt.has("point") or bool(nxt.comp))) or after in (
            "the",
            "it",
            "to",
            "at",
        )
    if text == "had":
        return m.start > begin and doc.norm[m.start - 1] in ("i", "we", "it")
    if slug == "was":
        return True
    return True


def _trailing(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "three fifty five now": the cue stands right behind a value and its clause ends there."""
    i = m.start - 1
    if i < begin or doc.tokens[m.start].brk:
        return False
    if doc.norm[i] in ("the", "on", "right", "a", "of", "at", "by") and i > begin:
        i -= 1
    if doc.norm[i] in ("on", "per", "by", "off", "from") and i > begin:
        i -= 1
    owner = doc.owner[i]
    if (
        owner is not None
        and owner.kind == "word"
        and (owner.claimed == "suffix" or owner.has("point") or owner.comp)
        and owner.start > begin
    ):
        owner = doc.owner[owner.start - 1]
    if owner is None or owner.kind not in ("value", "legs", "size"):
        return False
    after = doc.norm[m.stop] if m.stop < end else ""
    if m.claimed == "suffix" and m.has("cue", "rated"):
        return True
    return (
        m.stop >= end
        or bool(doc.tokens[m.stop].brk)
        or after in ("and", "but", "so", "on", "which", "with", "for", "after")
    )


def _sentence(
    doc: Doc,
    drafts: list[Draft],
    cues: list[tuple[int, int, str, bool]],
    begin: int,
    end: int,
    continues: bool,
) -> None:
    for k, d in enumerate(drafts):
        previous = max([begin, *(o.stop for o in drafts if o.stop <= d.start)])
        following = drafts[k + 1].start if k + 1 < len(drafts) else end
        trailing = next((c for c in cues if c[3] and d.stop <= c[0] < following and c[0] - d.stop <= 4), None)
        leading = [c for c in cues if not c[3] and c[1] <= d.start]
        _basis(doc, d, drafts, k, leading, trailing, previous, begin)
        _moment(doc, d, leading, trailing, continues, drafts, k)


def _basis(
    doc: Doc,
    d: Draft,
    drafts: list[Draft],
    k: int,
    leading: list[tuple[int, int, str, bool]],
    trailing: tuple[int, int, str, bool] | None,
    previous: int,
    begin: int,
) -> None:
    if d.basis != "measured":
        return
    last = leading[-1] if leading else None
    chained = (
        k > 0
        and drafts[k - 1].basis == "rated"
        and d.source is not None
        and d.source.value is not None
        and d.source.value.link in ("plus", "and", "list", "slash")
        and drafts[k - 1].point == d.point
    )
    if (
        (trailing is not None and trailing[2] == "rated")
        or (
            last is not None
            and last[2] == "rated"
            and (last[0] >= previous - 1 or chained)
            and not _taken_up(doc, last[1], d)
        )
        or (chained and last is not None and last[0] < drafts[k - 1].start)
    ):
        d.basis = "rated"
    elif (
        (last is not None and last[2] == "set" and last[0] >= previous - 1)
        or (trailing is not None and trailing[2] == "set")
        or (last is not None and last[2] == "setting" and d.point in _SETTABLE and last[0] >= previous - 1)
    ):
        d.basis = "set"
    if d.basis == "measured":
        d.basis = _own_rating(doc, d, drafts, begin)
    if d.basis == "measured" and doc.vocabulary.points[d.point].set:
        d.basis = "set"
    if d.basis == "rated" and d.point == "refrigerant-charge":
        d.position = "total"


def _taken_up(doc: Doc, start: int, d: Draft) -> bool:
    """Between "plate" and the value another act or measuring begins: "tag on the unit is gone, reads four sixty"."""
    words = doc.norm[start : d.start]
    return any(
        w
        in (
            "measured",
            "reads",
            "reading",
            "actual",
            "actually",
            "now",
            "pulling",
            "drawing",
            "getting",
            "running",
        )
        for w in words
    )


def _own_rating(doc: Doc, d: Draft, drafts: list[Draft], begin: int) -> str:
    if d.point in _ALWAYS_RATED:
        return "rated"
    if d.point == "power" and d.ucum == "[HP]":
        return "rated"
    if (
        d.point == "voltage"
        and d.source is not None
        and d.source.value is not None
        and d.source.value.unit_text == "volt"
    ) and any(o.point == "power" and o.ucum == "[HP]" for o in drafts):
        return "rated"
    if d.point == "speed" and d.value in _MOTOR_SPEEDS:
        near = [o for o in drafts if o.point == "power"]
        if near or doc.norm[max(begin, d.start - 1)] == "a":
            return "rated"
    if d.point == "capacitance" and d.source is not None and d.source.value is not None:
        before = doc.norm[d.start - 1] if d.start > begin else ""
        following = [
            o
            for o in drafts
            if o.start > d.start
            and o.source is not None
            and o.source.value is not None
            and o.source.value.link == "plus"
        ]
        plus = d.source.value.link == "plus" or (bool(following) and following[0].start - d.stop <= 1)
        measured = {
            "reads",
            "reading",
            "measured",
            "tested",
            "at",
            "got",
            "testing",
            "only",
            "down",
        } & set(doc.norm[max(begin, d.start - 3) : d.start])
        if (plus and not measured) or before in ("a", "an", "the"):
            return "rated"
    return "measured"


def _moment(
    doc: Doc,
    d: Draft,
    leading: list[tuple[int, int, str, bool]],
    trailing: tuple[int, int, str, bool] | None,
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
