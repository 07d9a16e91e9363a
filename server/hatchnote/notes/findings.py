"""Stage: findings. A condition and the part it is said of."""

from __future__ import annotations

from hatchnote.notes.absent import absent
from hatchnote.notes.clauses import focus_before
from hatchnote.notes.conditions import meant_of
from hatchnote.notes.doc import Doc, Item, Mention
from hatchnote.notes.findings_denied import is_asked, is_denied, is_supposed, is_thought, trouble_gone
from hatchnote.notes.findings_part import part_described, part_of_noun, part_spoken_of
from hatchnote.notes.focus import is_point
from hatchnote.notes.machines_meant import tags_for
from hatchnote.notes.telling import long_ago
from hatchnote.notes.vocabulary import ConditionEntry, Term
from hatchnote.notes.wordlists import words

REQUIRES = ("components", "work", "tag_at")

ASSIGNS = ("findings",)


def findings(doc: Doc) -> None:
    """Find all conditions said of a part."""
    seen: set[tuple[object, ...]] = set()
    _all(doc, seen)
    _causes(doc)
    _fitted_or_replaced(doc)
    _numbered(doc)


_SYMPTOMS = words("don't doesn't didn't won't wouldn't never isn't ain't wasn't not dead quit no does never")
_CAUSES = frozenset({"open", "shorted", "grounded", "seized", "burnt", "blown", "bulged"})
_CAUSE_NEAR = 30


def _causes(doc: Doc) -> None:
    """ "The igniter never glows, and it's wide open": what is found wrong stands for what was seen of it."""
    found = [x for x in doc.items if x.kind == "finding"]
    seen = [x for x in found if x.fields["condition"] == "failed" and doc.norm[x.start] in _SYMPTOMS]
    gone = {
        id(x)
        for x in seen
        for y in found
        if y.fields["condition"] in _CAUSES
        and y.fields["component"] == x.fields["component"]
        and y.fields["number"] == x.fields["number"]
        and y.tag == x.tag
        and 0 < y.at - x.at < _CAUSE_NEAR
    }
    if gone:
        doc.items[:] = [x for x in doc.items if id(x) not in gone]


_SEVERAL = frozenset({"compressor", "condenser-fan-motor"})
_DONE_TO = frozenset({"replace", "isolate", "repair"})


def _numbered(doc: Doc) -> None:
    """ "Compressor two is grounded. I replaced the compressor": the one that was bad."""
    bad: dict[tuple[str | None, object], dict[str, int]] = {}
    for x in doc.items:
        number = x.fields.get("number")
        if (
            x.kind == "finding"
            and number
            and x.fields["component"] in _SEVERAL
            and x.fields["condition"] != "normal"
        ):
            bad.setdefault((x.tag, x.fields["component"]), {}).setdefault(number, x.at)
    for item in doc.items:
        if item.kind != "work" or item.fields["verb"] not in _DONE_TO or item.fields.get("number"):
            continue
        numbers = bad.get((item.tag, item.fields["component"]), {})
        if len(numbers) == 1 and next(iter(numbers.values())) < item.at and not item.fields.get("quantity"):
            item.fields["number"] = next(iter(numbers))


def _fitted_or_replaced(doc: Doc) -> None:
    """Nothing can be replaced that was missing; what is installed where a bad one was is a replacement."""
    missing: dict[tuple[str | None, object], int] = {}
    bad: dict[tuple[str | None, object], int] = {}
    for x in doc.items:
        if x.kind == "finding" and x.fields["condition"] != "normal":
            where = missing if x.fields["condition"] == "missing" else bad
            where.setdefault((x.tag, x.fields["component"]), x.at)
        if x.kind == "work" and x.fields["verb"] == "remove" and x.fields["state"] == "done":
            bad.setdefault((x.tag, x.fields["component"]), x.at)
    for item in doc.items:
        if item.kind != "work" or item.fields["state"] != "done":
            continue
        place = (item.tag, item.fields["component"])
        if item.fields["verb"] == "replace" and missing.get(place, item.at) < item.at:
            item.fields["verb"] = "install"
        elif item.fields["verb"] == "install" and place not in missing and bad.get(place, item.at) < item.at:
            item.fields["verb"] = "replace"


def _all(doc: Doc, seen: set[tuple[object, ...]]) -> None:
    for begin, end in doc.sentences:
        for m in doc.within(begin, end):
            if (
                m.kind != "word" and not (m.value and m.terms)
            ) or m.claimed == "verb":  # a meter that shows an open too
                continue
            for term in m.of("condition"):
                made = _finding(doc, m, term, begin, end)
                if made is None:
                    continue
                for tag in tags_for(doc, (begin, end), m.start, m.stop):
                    _write(doc, m, term, tag, made, seen)
                break
        for m, comp in absent(doc, begin, end):
            for tag in tags_for(doc, (begin, end), m.start, m.stop):
                _write(doc, m, _MISSING, tag, [(comp, m.number)], seen)


_MISSING = Term("condition", "missing", "none there")


def _write(
    doc: Doc,
    m: Mention,
    term: Term,
    tag: str | None,
    made: list[tuple[str, str | None]],
    seen: set[tuple[object, ...]],
) -> None:
    for comp, number in made:
        slug = meant_of(term.slug, comp, doc.norm[m.start : m.stop])
        if not slug:
            continue
        for one in number.split(",") if number and "," in number else [number]:
            key = (tag, comp, one, slug)
            if key in seen:
                continue
            seen.add(key)
            fields = {"component": comp, "number": one, "condition": slug}
            doc.items.append(Item("finding", m.start, m.start, m.stop, tag, fields, f"{term.form}: {slug}"))


def _finding(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> list[tuple[str, str | None]] | None:
    entry = doc.vocabulary.conditions[term.slug]
    if is_denied(doc, m, term, begin) or is_supposed(doc, m, begin) or is_asked(doc, begin):
        return None
    if is_thought(doc, m, begin):
        return None
    if m.has("point") and is_point(doc, m) and doc.norm[m.stop : m.stop + 1] != ["in"]:
        return None  # "split found at thirteen"
    if doc.norm[m.stop - 1] == "gone" and trouble_gone(doc, m, begin):
        return None
    if term.form != "noun" and long_ago(doc, m, begin, end):
        return None
    if (
        doc.norm[m.start] in ("quit", "stopped")
        and m.start > begin
        and doc.norm[m.start - 1] in ("it", "they", "that")
    ):
        return None  # "snugged it up and it quit": the trouble did
    if term.slug in ("failed", "normal") and doc.norm[m.start] in _ADVERBS and _adverb(doc, m, begin):
        return None
    if term.slug == "normal" and _praises_work(doc, m, end):
        return None
    if _only_how(doc, m, begin, end):
        return None
    behind = _wrong_with(doc, m, term, end)
    if behind is not None:
        return behind if behind[0][0] else None
    if m.has("verb") and term.form == "adjective" and _is_act(doc, m, begin, end):
        return None
    opens = m.start == begin or doc.tokens[m.start].brk or doc.norm[m.start - 1] in ("and", "then", "i")
    if opens and m.stop < end and doc.norm[m.stop] in ("it", "them", "those") and not doc.tokens[m.stop].brk:
        return None  # "bent it back"
    if term.slug == "no-flame" and doc.norm[m.start] == "no":
        return [("burner", None)]
    place = _where_it_is(doc, m, term, end)
    if place is not None:
        return [place]
    harmed = _did_to(doc, m, term, begin, end)
    if harmed is not None:
        return [harmed]
    if term.form == "noun":
        return part_of_noun(doc, m, entry, begin, end)
    turned = _turned_about(doc, m, begin, end)
    if turned is not None and (not entry.only or turned[0] in entry.only):
        return [turned]
    one = _the_bad_one(doc, m, entry, begin, end)
    if one is not None:
        return [one]
    attributive = None if term.weak or term.slug == "normal" else part_described(doc, m, entry, end)
    if attributive is not None:
        return [attributive]
    subject = part_spoken_of(doc, m, term, entry, begin)
    if subject:
        return subject
    if entry.component and not term.weak:
        return [(entry.component, None)]
    return None


_FUNCTION = words(
    """
    and or but so on in at to with from when while now here there again up the a an old it real pretty
    too bad over out off one ones as for by
    """
)


def _turned_about(doc: Doc, m: Mention, begin: int, end: int) -> tuple[str, str | None] | None:
    """ "Pitted, the blower contactor.", "burnt, one wire terminal, and loose": the condition opens its sentence."""
    if m.start != begin or m.stop >= end or not doc.tokens[m.stop].brk:
        return None
    i = m.stop
    while i < end and doc.norm[i] in ("the", "one", "a", "that", "both"):
        i += 1
    x = doc.owner[i] if i < end and i > m.stop else None
    if x is None or not x.comp or not x.part or x.kind != "word":
        return None
    return (x.comp, x.number) if x.stop >= end or doc.tokens[x.stop].brk else None


_JOINTS = frozenset({"gas-union", "schrader-core", "service-valve"})


def _where_it_is(doc: Doc, m: Mention, term: Term, end: int) -> tuple[str, str | None] | None:
    """ "The gas valve leaks at the union", "it tripped on the high pressure switch": the part behind is meant."""
    if m.stop >= end or doc.tokens[m.stop].brk:
        return None
    at = {"leaking": "at", "tripped": "on"}.get(term.slug)
    if at is None or term.form == "noun" or doc.norm[m.stop] != at:
        return None
    for x in doc.within(m.stop + 1, min(end, m.stop + 5)):
        if doc.tokens[x.start].brk:
            return None
        if x.comp and x.part and x.kind == "word":
            joint = x.comp in _JOINTS if at == "at" else x.comp.endswith(("switch", "sensor"))
            return (x.comp, x.number) if joint else None
    return None


_HARMS = words(
    """
    chewed ate bent tore ripped cut smashed beat mangled busted broke crushed shredded knocked tripped
    hit
    """
)


def _did_to(doc: Doc, m: Mention, term: Term, begin: int, end: int) -> tuple[str, str | None] | None:
    """ "A squirrel chewed the wire", "hail beat up the fins": done to the part behind, by something."""
    if (
        term.slug != "damaged"
        or doc.norm[m.start] not in _HARMS
        or m.start == begin
        or doc.tokens[m.start].brk
    ):
        return None
    if doc.norm[m.start - 1] in (
        "i",
        "we",
        "and",
        "to",
        "is",
        "was",
        "are",
        "were",
        "been",
        "be",
        "then",
        "who",
        "got",
    ):
        return None
    before = doc.owner[m.start - 1]
    if before is not None and before.comp:
        return None
    for x in doc.within(m.stop, min(end, m.stop + 5)):
        if doc.tokens[x.start].brk:
            return None
        if x.comp and x.part and x.kind == "word" and not x.modifier:
            return x.comp, x.number
    return None


def _only_how(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "dead seized" tells how, "marked to open" what for, "a bent ladder" of a thing that is no part."""
    after = doc.owner[m.stop] if m.stop < end and not doc.tokens[m.stop].brk else None
    word = doc.norm[m.start]
    if (
        after is not None
        and after.has("condition")
        and m.stop - m.start == 1
        and word in ("dead", "good", "bad", "full", "stuck")
    ):
        return True
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if word == "full" and (
        after is not None or doc.norm[m.stop : m.stop + 1] in (["of"], ["load"], ["on"], ["fire"])
    ):
        return True
    if before in ("full", "fully") and word in ("open", "closed", "shut"):
        return True
    if before == "to" and word in ("open", "clean", "clear", "seal", "work"):
        return True
    if before in ("a", "an") and m.stop < end and not doc.tokens[m.stop].brk:
        if after is not None:
            return after.has("cue", "thing")
        return doc.tokens[m.stop].kind == "w" and doc.norm[m.stop] not in _FUNCTION and not m.has("verb")
    return False


def _wrong_with(doc: Doc, m: Mention, term: Term, end: int) -> list[tuple[str, str | None]] | None:
    """ "Nothing wrong with the belt", "no issues with the economizer": normal is said of what stands behind."""
    if term.slug != "normal" or doc.norm[m.stop - 1] != "with":
        return None
    for x in doc.within(m.stop, min(end, m.stop + 5)):
        if doc.tokens[x.start].brk:
            break
        if x.comp and x.kind == "word" and x.part:
            return [(x.comp, x.number)]
    return [("", None)]


def _the_bad_one(
    doc: Doc, m: Mention, entry: ConditionEntry, begin: int, end: int
) -> tuple[str, str | None] | None:
    """ "Fitted in place of the worn one": the part last named."""
    before = doc.norm[m.start - 1] if m.start > begin else ""
    if (
        before not in ("the", "that", "both", "all", "those")
        or m.stop >= end
        or doc.norm[m.stop] not in ("one", "ones")
        or doc.tokens[m.stop].brk
    ):
        return None
    near = focus_before(doc, m.start, entry.only, 25)
    return (near.comp, near.number) if near is not None else None


def place_of(doc: Doc, m: Mention, begin: int, end: int) -> tuple[str, str | None] | None:
    """The part a condition is said of, for those who need it before the findings are written."""
    for term in m.of("condition"):
        made = _finding(doc, m, term, begin, end)
        if made:
            return made[0]
    return None


def _is_act(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "sealed the curb", "cut the wire": the past of a verb with its object behind it."""
    before = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if before in ("is", "was", "are", "were", "looks", "be", "been"):
        return False
    return before in ("i", "we", "then", "and", "to", "he") and not _comp_before(doc, m, begin)


def _comp_before(doc: Doc, m: Mention, begin: int) -> bool:
    return any(x.comp and x.part for x in doc.within(max(begin, m.start - 5), m.start))


_ADVERBS = frozenset({"bad", "good", "fine", "nice"})


def _praises_work(doc: Doc, m: Mention, end: int) -> bool:
    """ "A good wash", "a good long flush": the work is good."""
    for i in range(m.stop, min(end, m.stop + 2)):
        owner = doc.owner[i]
        if doc.tokens[i].brk:
            return False
        if owner is not None:
            return owner.has("verb") and not owner.comp
    return False


def _adverb(doc: Doc, m: Mention, begin: int) -> bool:
    """ "pitted real bad": how much, not what."""
    i = m.start - 1
    if i >= begin and doc.norm[i] in ("real", "pretty", "so", "really", "too", "that"):
        i -= 1
    owner = doc.owner[i] if i >= begin else None
    return owner is not None and owner.has("condition")
