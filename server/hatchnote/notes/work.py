"""Stage: work. What was done, is needed, was recommended, was declined, was left; and the parts that follow from it."""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes import objects
from hatchnote.notes.acts import Act
from hatchnote.notes.brought import brought
from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Item, Mention
from hatchnote.notes.fitted import fitted, superseded
from hatchnote.notes.nouns import noun_term, objects_of_noun, state_of_noun
from hatchnote.notes.parts import count_behind, part_of, removed_parts, said_before
from hatchnote.notes.states import DECLINED, DONE, NEEDED, NOT_DONE, RECOMMENDED, is_verb, state_of
from hatchnote.notes.steps import without_steps
from hatchnote.notes.telling import not_ours, ours_now, unreal
from hatchnote.notes.verbless import declined_afterwards, more_of_the_same, needs_part, new_ones, so_does
from hatchnote.notes.vocabulary import Term

REQUIRES = ("components", "values", "sizes", "tag_at")
ASSIGNS = ("work", "parts")

_ASKING = (["should", "we"], ["should", "i"], ["do", "we"], ["did", "they"], ["did", "anybody"])
_NEEDS = frozenset({"needed", "recommended", "declined"})


def work(doc: Doc) -> None:
    """Find all work items and the parts they imply."""
    acts: list[Act] = []
    for begin, end in doc.sentences:
        found = _sentence(doc, begin, end, acts[-12:])
        acts.extend(found)
    _write(doc, without_steps(superseded(acts, doc.tag_at)))
    removed_parts(doc)


def _sentence(doc: Doc, begin: int, end: int, before: list[Act]) -> list[Act]:
    out: list[Act] = []
    items = doc.within(begin, end)
    for k, m in enumerate(items):
        if m.kind != "word" or m.claimed == "verb":
            continue
        term = is_verb(doc, m, begin, end)
        if term is not None:
            act = _act(doc, m, term, begin, end, items[k + 1 :], out, before)
            if act is not None:
                out.append(act)
                continue
            if not doc.vocabulary.verbs[term.slug].silent and noun_term(doc, m) is None:
                continue
        named = _named(doc, m, begin, end, out)
        if named is not None:
            out.append(named)
            continue
        if m.has("cue", "needed", "recommended", "declined"):
            act = needs_part(doc, m, begin, end, out)
            if act is not None:
                out.append(act)
    more_of_the_same(doc, begin, end, out, before)
    new_ones(doc, begin, end, out)
    fitted(doc, begin, end, out, before)
    brought(doc, begin, end, out)
    so_does(doc, begin, end, out, before)
    declined_afterwards(doc, begin, end, out, before)
    return [a for a in out if a.verb]


def _act(
    doc: Doc,
    m: Mention,
    term: Term,
    begin: int,
    end: int,
    rest: list[Mention],
    out: list[Act],
    before: list[Act],
) -> Act | None:
    if term.weak and term.slug != "charge" and _pounds_follow(doc, m, end):
        term = next((t for t in m.of("verb") if t.slug == "charge" and t.form == term.form), term)
    entry = doc.vocabulary.verbs[term.slug]
    state = state_of(doc, m, term, begin, end)
    if state is None or doc.norm[begin : begin + 2] in _ASKING:
        return None
    if m.stop < end and doc.norm[m.stop] == "nothing":
        return None
    actor = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    if state == DONE and (actor in _OTHERS or not_ours(doc, m, begin, end)):
        return None
    if state == DONE and term.form == "past" and _found_so(doc, m, begin):
        return None
    found = objects.find(doc, m, term, begin, end)
    if term.weak and term.slug == "remove":
        found = [o for o in found if not o.pronoun]
    verb = term.slug
    if not found and m.comp and not m.part:
        found = [objects.Object(m.comp, None, None, m.start, m.stop)]
    for other in m.of("verb"):
        takes = doc.vocabulary.verbs[other.slug].takes
        if (
            takes
            and found
            and other.slug != verb
            and not entry.takes
            and all(o.comp in takes for o in found)
            and other.slug != "adjust"
        ):
            verb, entry = other.slug, doc.vocabulary.verbs[other.slug]
            break
    if verb == "test" and term.form == "past" and _intransitive(doc, m, begin, end):
        if _value_follows(doc, m, end):
            return None
        found = objects.before(doc, m, begin) or found
    if verb == "return-visit" and term.form == "past":
        return None
    if m.start > begin and doc.norm[m.start - 1] == "when" and term.form == "past":
        return None
    if verb == "isolate":
        found = [o for o in found if not o.pronoun or o.comp in _ISOLATED]
    if verb == "adjust":
        found = _adjusted(doc, m, found, end)
    if verb == "adjust" and "tension" in doc.norm[m.start : min(end, m.stop + 3)]:
        found = [objects.Object("supply-fan-belt", None, None, m.start, m.stop)]
    if verb == "insulate":
        found = [_wrapped(doc, o, begin) for o in found]
    if verb == "rewire":
        found = _wires(doc, m, found, begin)
    if verb in ("adjust", "tighten") and state == DONE and found and found[0].comp == "supply-fan-belt":
        verb = _took_up(doc, m, verb, begin)
        entry = doc.vocabulary.verbs[verb]
    if verb in ("tighten", "seal", "clean", "repair"):
        found = [_not_the_gas(doc, m, o) for o in found]
    if verb == "seal" and found and all(o.comp == "wiring" for o in found):
        verb, entry = "repair", doc.vocabulary.verbs["repair"]
    if verb == "inspect" and term.form == "base" and state == DONE and doc.norm[m.start] == "check":
        return None
    if verb == "repair" and not found:
        found = _leaking(doc, m, begin, end)
    if entry.takes:
        allowed = [o for o in found if o.comp in entry.takes]
        if found and not allowed:
            verb_other = _other_verb(doc, m, found)
            if verb_other is None:
                return None
            verb, entry = verb_other, doc.vocabulary.verbs[verb_other]
            allowed = found
        found = allowed
        if not found and entry.component is None and not entry.bare:
            near = focus_before(doc, m.start, entry.takes)
            if near is None or term.weak or state == NOT_DONE:
                return None
            found = [objects.Object(near.comp, near.number, None, near.start, near.stop)]
    if not found and entry.component:
        if term.weak and not _charge_amount(doc, m, end):
            return None
        if verb == "charge" and not _charge_amount(doc, m, end) and term.form == "base" and state != NOT_DONE:
            return None
        found = [objects.Object(entry.component, None, None, m.start, m.stop)]
    if found:
        found = _corrected(doc, found, end)
    if verb == "label":
        if state == DONE and term.form == "base" and not ours_now(doc, m, begin):
            return None
        named = doc.norm[m.start] in ("labeled", "labelled", "label")
        found = [o for o in found if named and not o.pronoun and not (o.mention and o.mention.modifier)]
    if verb == "isolate" and not found and not _cut_off(doc, m, end):
        return None
    if verb == "adjust" and term.weak and not _setting(doc, m, found, begin, end):
        return None
    if verb == "restore" and not found and not _power(doc, m, end):
        return None
    if verb == "return-visit" and state == NEEDED and _not_work(doc, m, begin, end):
        return None
    if not entry.object and verb != "label":
        found = []
    elif not found and not entry.bare and verb not in ("restore", "measure"):
        return None
    if entry.silent and not (state == NOT_DONE and verb == "measure"):
        return None
    if verb == "remove":
        found = [o for o in found if not doc.vocabulary.components[o.comp].no_part]
        if not found:
            return None
    if verb == "inspect" and term.weak and state != NOT_DONE:
        return None
    act = Act(
        verb,
        state,
        m.start,
        m.start,
        max([m.stop, *(o.stop for o in found)]),
        (begin, end),
        found,
        f"{verb}: {state}",
        m,
    )
    if (
        term.form == "base"
        and state == DONE
        and not any(t.form == "past" and t.slug == term.slug for t in m.of("verb"))
    ):
        act.doubt = f'heard "{doc.said(m.start, m.stop)}": done, or to do'
    m.claimed, m.slug = "verb", verb
    return act


def _named(doc: Doc, m: Mention, begin: int, end: int, out: list[Act]) -> Act | None:
    """An act said as a noun: "its replacement was refused", "coil cleaning: needed"."""
    term = noun_term(doc, m)
    if term is None:
        return None
    state = state_of_noun(doc, m, term, begin, end)
    if state is None or unreal(doc, m, begin):
        return None
    entry = doc.vocabulary.verbs[term.slug]
    found = objects_of_noun(doc, m, begin, end)
    if entry.component:
        found = [objects.Object(entry.component, None, None, m.start, m.stop)]
    if entry.takes:
        found = [o for o in found if o.comp in entry.takes]
    if not entry.object:
        found = []
    elif not found:
        return None
    if any(a.verb == term.slug and not a.objects and not found for a in out):
        return None
    stop = max([m.stop, *(o.stop for o in found)])
    start = min([m.start, *(o.start for o in found if not o.pronoun)])
    m.claimed, m.slug = "verb", term.slug
    return Act(
        term.slug,
        state,
        m.start,
        max(begin, start),
        stop,
        (begin, end),
        found,
        f"{term.slug}: {state}, as a noun",
        m,
    )


def _wrapped(doc: Doc, o: objects.Object, begin: int) -> objects.Object:
    """ "Insulation on the suction line's missing, so I insulated it": the line is insulated."""
    if o.comp != "insulation":
        return o
    for m in reversed(doc.within(begin, o.start if not o.pronoun else o.stop)):
        if m.comp and m.kind == "word" and m.modifier:
            return objects.Object(m.comp, m.number, None, o.start, o.stop, pronoun=True)
    return o


def _wires(doc: Doc, m: Mention, found: list[objects.Object], begin: int) -> list[objects.Object]:
    """ "Wiring, burnt at the contactor, rewired": the wiring, where it was spoken of."""
    if any(not o.pronoun and o.start > m.start for o in found):
        return found
    near = focus_before(doc, m.start, ("wiring", "wire-terminal"), 14)
    if near is None:
        return found
    return [objects.Object(near.comp, near.number, None, m.start, m.stop, pronoun=True)]


def _took_up(doc: Doc, m: Mention, verb: str, begin: int) -> str:
    """A loose belt taken up is tightened; one set to a deflection is adjusted."""
    word = doc.norm[m.start]
    if word in ("took", "take", "taking", "snugged"):
        loose = any(x.has("condition", "loose") for x in doc.within(max(begin, m.start - 12), m.start))
        return "tighten" if loose else verb
    return verb


def _not_the_gas(doc: Doc, m: Mention, o: objects.Object) -> objects.Object:
    """ "Shut the gas off, doped it and tightened it": the fitting spoken of before, not the gas."""
    if not o.pronoun or o.comp not in ("gas-line", "refrigerant"):
        return o
    near = focus_before(
        doc, m.start, ("gas-union", "gas-valve", "schrader-core", "service-valve", "refrigerant-line"), 40
    )
    if near is None:
        return o
    return objects.Object(near.comp, near.number, o.count, o.start, o.stop, pronoun=True, mention=near)


def _cut_off(doc: Doc, m: Mention, end: int) -> bool:
    """Whether power or the whole machine was taken out of service, no part being named."""
    if m.start and doc.norm[m.start - 1] in ("it", "she", "unit", "had", "they", "again"):
        return False  # "it had locked out"
    said = set(doc.norm[m.start : m.stop])
    for i in range(m.stop, min(end, m.stop + 4)):
        if doc.tokens[i].brk:
            break
        said.add(doc.norm[i])
    return bool(said & {"power", "locked", "lock", "tagged", "service", "energized"})


def _power(doc: Doc, m: Mention, end: int) -> bool:
    return bool({"power", "heat", "service", "cooling"} & set(doc.norm[m.start : min(end, m.stop + 4)]))


def _setting(doc: Doc, m: Mention, found: list[objects.Object], begin: int, end: int) -> bool:
    """Weak words ("turn", "move", "set") are an adjustment where a value or a named part goes with them."""
    if any(not o.pronoun for o in found) or m.has("cue", "setting"):
        return True
    if any(
        (
            x.kind == "value"
            and x.value is not None
            and (x.value.ucum is not None or doc.norm[x.start - 1] in ("to", "at", "by"))
        )
        or x.has("point")
        for x in doc.within(m.stop, min(end, m.stop + 9))
    ):
        return True
    return doc.norm[m.start] in ("took", "taking", "take", "raised", "lowered", "dropped")


_NOT_WORK = (" none ", " not for work", " if ", " just to ", " for lunch", " for my ")


def _not_work(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Follow up, none", "I'll swing by, not for work", "back Monday if it does it again"."""
    said = f" {' '.join(doc.norm[m.start : min(end, m.stop + 12)])} "
    return any(x in said for x in _NOT_WORK)


def _adjusted(doc: Doc, m: Mention, found: list[objects.Object], end: int) -> list[objects.Object]:
    """ "set it at three eighths deflection", "bumped the manifold to three five": the part behind the value changed."""
    if any(not o.pronoun for o in found):
        return found
    for other in doc.within(m.stop, min(end, m.stop + 12)):
        if other.start > m.stop and any(doc.tokens[i].brk for i in range(m.stop, other.start + 1)):
            break
        for term in other.of("point"):
            part = doc.vocabulary.points[term.slug].adjust
            if part:
                return [objects.Object(part, None, None, other.start, other.stop, pronoun=True)]
            if other.comp:
                return [objects.Object(other.comp, None, None, other.start, other.stop)]
    nearest = found[0].start if found else -1
    for i in range(m.start - 1, max(-1, nearest, m.start - 26), -1):
        owner = doc.owner[i]
        for term in owner.of("point") if owner is not None and not owner.part else ():
            part = doc.vocabulary.points[term.slug].adjust
            if part:
                return [objects.Object(part, None, None, m.start, m.stop, pronoun=True)]
    return found


_ISOLATED = frozenset(
    {
        "gas-line",
        "gas-valve",
        "disconnect",
        "compressor",
        "condenser-fan-motor",
        "supply-fan-motor",
        "inducer-motor",
        "crankcase-heater",
        "economizer",
        "economizer-actuator",
        "control-board",
        "variable-frequency-drive",
    }
)


def _intransitive(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "The switch tested good", "cap tested at thirty eight"."""
    after = doc.norm[m.stop] if m.stop < end else ""
    owner = doc.owner[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else None
    named = (owner is not None and bool(owner.comp)) or doc.norm[m.start - 1] in (
        "itself",
        "all",
        "both",
        "it",
    )
    return named and (
        after in ("at", "good", "okay", "ok", "fine", "bad", "out", "open", "weak", "low")
        or _value_follows(doc, m, end)
    )


def _value_follows(doc: Doc, m: Mention, end: int) -> bool:
    return any(x.kind == "value" for x in doc.within(m.stop, min(end, m.stop + 3)))


def _leaking(doc: Doc, m: Mention, begin: int, end: int) -> list[objects.Object]:
    """ "Repaired the leak": the part that was said to leak."""
    from hatchnote.notes.findings import place_of

    behind = [
        x
        for x in doc.within(m.stop, min(end, m.stop + 4))
        if any(t.form == "noun" for t in x.of("condition"))
    ]
    if not behind:
        return []
    slug = behind[0].of("condition")[0].slug
    at = bisect_right(doc.sentences, (begin, end))
    for a, b in reversed(doc.sentences[max(0, at - 5) : at]):
        for x in reversed(doc.within(a, min(b, m.start) if a == begin else b)):
            if x.has("condition", slug):
                comp = place_of(doc, x, a, b)
                if comp:
                    return [objects.Object(comp[0], comp[1], None, m.start, behind[0].stop, pronoun=True)]
    return []


def _corrected(doc: Doc, found: list[objects.Object], end: int) -> list[objects.Object]:
    """ "Replaced the contactor, no, I mean the relay"."""
    stop = max(o.stop for o in found)
    for m in doc.within(stop, min(end, stop + 6)):
        if m.has("cue", "scratch"):
            for x in doc.within(m.stop, min(end, m.stop + 4)):
                if x.part and x.comp and x.kind == "word":
                    return [*found[:-1], objects.from_mention(doc, x)]
            return found
        if not m.has("cue"):
            return found
    return found


def _other_verb(doc: Doc, m: Mention, found: list[objects.Object]) -> str | None:
    """Another verb of the same words that takes these parts ("blew out": a coil is cleaned, a drain line flushed)."""
    comps = {o.comp for o in found}
    for term in m.of("verb"):
        takes = doc.vocabulary.verbs[term.slug].takes
        if not takes or comps & set(takes):
            return term.slug
    return None


def _pounds_follow(doc: Doc, m: Mention, end: int) -> bool:
    """ "Put two and a half pounds in her": what is put in is refrigerant."""
    for x in doc.within(m.stop, min(end, m.stop + 4)):
        if x.kind == "value" and x.value is not None and x.value.ucum in ("[lb_av]", "[oz_av]"):
            return True
    return False


def _charge_amount(doc: Doc, m: Mention, end: int) -> bool:
    for other in doc.within(m.stop, min(end, m.stop + 6)):
        if (
            other.kind == "value"
            and other.value is not None
            and other.value.ucum in ("[lb_av]", "[oz_av]", "kg")
        ):
            return True
        if other.kind == "refrigerant" or other.comp == "refrigerant":
            return True
    return False


_OTHERS = frozenset(
    ["somebody", "someone", "they", "he", "she", "tenant", "landlord", "customer", "janitor", "whoever"]
)
"""Work of others is no work of this visit."""


def _found_so(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Found the disconnect pulled": a state, no act."""
    i = m.start - 1
    owner = doc.owner[i] if i >= begin and not doc.tokens[m.start].brk else None
    if owner is None or not owner.part:
        return False
    return any(x.has("cue", "found") for x in doc.within(max(begin, owner.start - 4), owner.start))


def _write(doc: Doc, acts: list[Act]) -> None:
    seen: set[tuple[object, ...]] = set()
    by_sentence: dict[tuple[int, int], list[Act]] = {}
    for act in acts:
        by_sentence.setdefault(act.sentence, []).append(act)
    for act in acts:
        tags = objects.tags_for(doc, act.sentence, act.start, act.stop)
        targets: list[objects.Object | None] = list(act.objects) or [None]
        for tag in tags:
            for target in targets:
                comp = target.comp if target else None
                number = target.number if target else None
                quantity = target.count if target and target.count and target.count > 1 else None
                if target and target.count is None and act.verb in ("replace", "install", "order"):
                    target.count = count_behind(doc, target, act.start, act.sentence[1])
                    quantity = target.count if target.count and target.count > 1 else None
                if (
                    target
                    and target.pronoun
                    and quantity is None
                    and act.verb in ("replace", "install", "order")
                ):
                    quantity = said_before(doc, target, act.start)
                    target.count = quantity or target.count
                for one in number.split(",") if number and "," in number else [number]:
                    key = (tag, act.verb, comp, one, act.state)
                    if key in seen:
                        continue
                    if (
                        act.verb in ("replace", "install")
                        and act.state == DONE
                        and (tag, "replace", comp, one, DONE) in seen
                    ):
                        continue
                    seen.add(key)
                    fields = {
                        "verb": act.verb,
                        "state": act.state,
                        "component": comp,
                        "number": one,
                        "quantity": quantity,
                    }
                    doc.items.append(
                        Item(
                            "work",
                            act.at,
                            act.start,
                            act.stop,
                            tag,
                            fields,
                            act.rule,
                            [act.doubt] if act.doubt else [],
                        )
                    )
                if target is not None and not (
                    target.pronoun and act.verb == "replace" and act.state == DONE and target.done
                ):
                    others = by_sentence[act.sentence]
                    mine = act.listed if act.listed and act.listed[0].comp == target.comp else None
                    part = part_of(doc, act.verb, act.state, target, act.start, act.sentence, others, mine)
                    if part is not None:
                        doc.items.append(
                            Item("part", act.at, act.start, act.stop, tag, part, f"{act.verb}: {part['use']}")
                        )


__all__ = ["DECLINED", "DONE", "NEEDED", "NOT_DONE", "RECOMMENDED", "Act", "work"]
