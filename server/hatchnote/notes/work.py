"""Stage: work. What was done, is needed, was recommended, was declined, was left; and the parts that follow from it."""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.agreed import agreed
from hatchnote.notes.answers import declined_afterwards, taken_on
from hatchnote.notes.brought import brought
from hatchnote.notes.by_hand import by_hand
from hatchnote.notes.clauses import focus_before
from hatchnote.notes.counted_in import counted_in
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.fitted import fitted
from hatchnote.notes.fitted_by_machine import by_machine
from hatchnote.notes.instruments import by_tool, by_vacuum
from hatchnote.notes.kept import left_in
from hatchnote.notes.new_parts import new_parts
from hatchnote.notes.no_act import tells_of_no_act
from hatchnote.notes.nouns import a_new_one, noun_term, objects_of_noun, state_of_noun
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.objects import objects_of
from hatchnote.notes.objects_before import parts_ahead
from hatchnote.notes.off_by_itself import left_off, off_by_itself
from hatchnote.notes.parted_verbs import parted_verbs
from hatchnote.notes.pieces import pieces
from hatchnote.notes.said_as_verb import MOVED, is_verb
from hatchnote.notes.shopping import opens_list, wanted
from hatchnote.notes.states import DONE, NEEDED, NOT_DONE, RECOMMENDED, state_of
from hatchnote.notes.states_said import met_at_once
from hatchnote.notes.steps import without_steps
from hatchnote.notes.superseded import superseded
from hatchnote.notes.taken_away import taken_away
from hatchnote.notes.telling import asked_whether, not_ours, ours_now, unreal
from hatchnote.notes.verb_manners import (
    ISOLATED,
    adjusted,
    charge_amount,
    corrected,
    covered_line,
    cut_off,
    found_so,
    glued,
    intransitive,
    is_not_work,
    is_power,
    is_setting,
    moved_wires,
    not_the_gas,
    only_measured,
    other_verb,
    pounds_follow,
    resettable,
    said_to_leak,
    things_way,
    took_up,
    value_follows,
    went_off,
    wires,
    wrapped,
)
from hatchnote.notes.verbless import due, got_done, more_of_the_same, needs_part, so_does
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words
from hatchnote.notes.work_corrected import take_back
from hatchnote.notes.work_items import write_items

REQUIRES = ("components", "values", "sizes", "tag_at")

ASSIGNS = ("work", "parts")

_ASKING = (["should", "we"], ["should", "i"], ["do", "we"], ["did", "they"], ["did", "anybody"])


def work(doc: Doc) -> None:
    """Find all work items and the parts they imply."""
    acts: list[Act] = []
    shopping = False
    for begin, end in doc.sentences:
        found = _sentence(doc, begin, end, acts[-12:])
        if shopping:
            found, shopping = wanted(doc, begin, end, found)
        shopping = shopping or opens_list(doc, begin, end)
        acts.extend(found)
    write_items(doc, without_steps(superseded([a for a in acts if a.verb], doc.tag_at)))
    taken_away(doc)


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
    due(doc, begin, end, out)
    got_done(doc, begin, end, out)
    left_in(doc, begin, end, out, before)
    parted_verbs(doc, begin, end, out)
    by_machine(doc, begin, end, out, before)
    new_parts(doc, begin, end, out)
    fitted(doc, begin, end, out, before)
    brought(doc, begin, end, out)
    counted_in(doc, begin, end, out)
    by_tool(doc, begin, end, out)
    by_vacuum(doc, begin, end, out, before)
    by_hand(doc, begin, end, out)
    so_does(doc, begin, end, out, before)
    take_back(doc, begin, end, out)
    agreed(doc, begin, end, out, before)
    left_off(doc, begin, end, out)
    taken_on(doc, begin, end, out, before)
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
    if term.weak and term.slug != "charge" and pounds_follow(doc, m, end):
        term = next((t for t in m.of("verb") if t.slug == "charge" and t.form == term.form), term)
    entry = doc.vocabulary.verbs[term.slug]
    state = state_of(doc, m, term, begin, end)
    if state is None or doc.norm[begin : begin + 2] in _ASKING or asked_whether(doc, m.start, begin):
        return None
    if tells_of_no_act(doc, m, term, begin, end):
        if term.slug != "evacuate":
            return None
        term = MOVED  # "brought it down to three and a half"
        entry = doc.vocabulary.verbs[term.slug]
    if m.stop < end and doc.norm[m.stop] == "nothing":
        return None
    actor = doc.norm[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else ""
    ours = met_at_once(doc, m, end)  # "he said go ahead and replace it, so I did"
    if state == DONE and not ours and (actor in _OTHERS or not_ours(doc, m, begin, end)):
        return None
    if state == DONE and term.form == "past" and found_so(doc, m, begin):
        return None
    found = pieces(doc, m, term.slug, end) or objects_of(doc, m, term, begin, end)
    if term.weak and term.slug == "remove":
        found = [o for o in found if not o.pronoun and o.comp != "wire-terminal"]  # "pulled the plug on it"
    if (state == NOT_DONE and things_way(doc, m, begin)) or moved_wires(doc, m, begin, end):
        return None
    verb = term.slug
    found = glued(doc, m, found)
    if m.comp and not m.part and not any(o.start >= m.stop and not o.pronoun for o in found):
        found = [Object(m.comp, None, None, m.start, m.stop)]
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
    if verb == "test" and term.form == "past" and intransitive(doc, m, begin, end):
        if value_follows(doc, m, end):
            return None
        found = parts_ahead(doc, m, begin) or found
    if verb == "return-visit" and term.form == "past":
        return None
    if m.start > begin and doc.norm[m.start - 1] == "when" and term.form == "past":
        return None
    if verb == "isolate":
        unhooked = doc.norm[m.start].startswith(("unhook", "unwir")) or bool(
            {"wires", "leads"} & set(doc.norm[m.start : m.stop])
        )
        found = [o for o in found if (not o.pronoun and not unhooked) or o.comp in ISOLATED]
    if verb == "adjust":
        found = adjusted(doc, m, found, end)
    if verb == "adjust" and "tension" in doc.norm[m.start : min(end, m.stop + 3)]:
        found = [Object("supply-fan-belt", None, None, m.start, m.stop)]
    if verb == "reset":
        found = [o for o in (resettable(doc, m, x) for x in found) if o is not None]
    if verb == "insulate":
        found = [wrapped(doc, o, begin) for o in found]
    if verb == "rewire":
        found = wires(doc, m, found, begin)
    if verb in ("adjust", "tighten") and state == DONE and found and found[0].comp == "supply-fan-belt":
        verb = took_up(doc, m, verb, begin)
        entry = doc.vocabulary.verbs[verb]
    if verb in ("tighten", "seal", "clean", "repair"):
        found = [not_the_gas(doc, m, o) for o in found]
    if verb == "seal" and found and all(o.comp == "wiring" for o in found):
        verb, entry = "repair", doc.vocabulary.verbs["repair"]
    if (
        state == NOT_DONE
        and term.weak
        and all(o.pronoun for o in found)
        and "another" in doc.norm[m.stop : m.stop + 2]
    ):
        return None  # "I wouldn't put another dime in her"
    moved = doc.norm[m.stop : m.stop + 2] in (["it", "up"], ["that", "up"], ["it", "down"], ["it", "back"])
    if verb == "replace" and doc.norm[m.start] == "put" and moved and all(o.pronoun for o in found):
        return None  # "their stat was at sixty one, I put it up"
    if verb == "quote" and all(o.pronoun for o in found) and _whole_machine(doc, m, end):
        return Act(
            verb, state, m.start, m.start, m.stop, (begin, end), [], f"{verb}: {state}, a whole machine", m
        )
    if (
        verb == "lubricate"
        and doc.norm[m.start] == "oil"
        and doc.norm[m.stop : m.stop + 1] in (["all"], ["down"], ["on"])
    ):
        return None  # "oil all down the front"
    if verb == "lubricate" and len(found) > 1:
        bearings = {o.start for o in found if o.comp == "bearing"}
        found = [
            o for o in found if o.comp == "bearing" or o.stop not in bearings
        ]  # "greased the motor bearings"
    if verb == "inspect" and only_measured(doc, m, begin, end):
        return None
    if verb == "inspect" and doc.norm[m.stop - 1] == "see" and doc.norm[m.stop : m.stop + 1] in _ANYTHING:
        return None  # "I don't see anything wrong with it"
    if verb == "inspect" and term.form == "base" and state == DONE and doc.norm[m.start] == "check":
        return None
    if verb == "repair" and found and _with_new(doc, m, found):
        verb, entry = "replace", doc.vocabulary.verbs["replace"]
    if verb == "charge":
        found = [o for o in found if o.comp == "refrigerant"]
    if verb in ("replace", "install") and found and found[0].comp == "insulation":
        covered = covered_line(doc, found[0], end)
        if covered is not None:
            verb, entry, found = "insulate", doc.vocabulary.verbs["insulate"], [covered]
    if verb == "repair" and not found:
        found = said_to_leak(doc, m, begin, end)
    if entry.takes:
        allowed = [o for o in found if o.comp in entry.takes]
        if found and not allowed and entry.component and all(o.pronoun for o in found):
            found = allowed = [
                Object(entry.component, None, None, m.start, m.stop)
            ]  # "recovered eight eleven"
        if found and not allowed:
            verb_other = None if term is MOVED else other_verb(doc, m, found)
            if verb_other is None:
                return None
            verb, entry = verb_other, doc.vocabulary.verbs[verb_other]
            allowed = found
        found = allowed
        if not found and entry.component is None and not entry.bare:
            near = focus_before(doc, m.start, entry.takes)
            set_here = m.has("cue", "setting") and near is not None and near.start >= begin
            if near is None or (term.weak and not set_here) or state == NOT_DONE:
                return None
            found = [Object(near.comp, near.number, None, near.start, near.stop)]
        if verb == "adjust" and state == DONE and found[0].comp == "supply-fan-belt":
            verb = took_up(doc, m, verb, begin)
            entry = doc.vocabulary.verbs[verb]
    if not found and entry.component:
        if term.weak and not charge_amount(doc, m, end):
            return None
        if verb == "charge" and not charge_amount(doc, m, end) and term.form == "base" and state != NOT_DONE:
            return None
        found = [Object(entry.component, None, None, m.start, m.stop)]
    if found:
        found = corrected(doc, found, end)
    if verb == "label":
        if state == DONE and term.form == "base" and not ours_now(doc, m, begin):
            return None
        named = doc.norm[m.start] in ("labeled", "labelled", "label")
        found = [o for o in found if named and not o.pronoun and not (o.mention and o.mention.modifier)]
    if verb == "isolate" and off_by_itself(doc, m, state, found, begin, end):
        return None
    if verb == "isolate" and ((not found and not cut_off(doc, m, end)) or went_off(doc, m, begin, end)):
        return None
    if verb == "adjust" and term.weak and not is_setting(doc, m, found, begin, end):
        return None
    if verb == "restore" and not found and not is_power(doc, m, end):
        return None
    if (
        verb == "return-visit"
        and state == RECOMMENDED
        and {"like", "want"} & set(doc.norm[max(begin, m.start - 4) : m.start])
    ):
        state = NEEDED  # "I would like to return in thirty days"
    if verb == "return-visit" and state == NEEDED and is_not_work(doc, m, begin, end):
        return None
    if not entry.object and verb != "label":
        found = [o for o in found if verb == "leak-test" and o.comp == "gas-union"]
    elif not found and not entry.bare and verb not in ("restore", "measure"):
        return None
    if entry.silent and not (state == NOT_DONE and verb == "measure"):
        return None
    if (
        verb == "remove"
        and found
        and all(o.comp == "disconnect" for o in found)
        and doc.norm[m.start] == "pulled"
    ):
        verb = "isolate"
    if verb == "reset" and doc.norm[m.stop : m.stop + 1] == ["at"] and found:
        near = focus_before(doc, m.start, _RESETTABLE, 30)
        if near is not None and all(o.mention is not None and o.mention.modifier for o in found):
            found = [Object(near.comp, near.number, None, m.start, m.stop, pronoun=True, mention=near)]
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


def _whole_machine(doc: Doc, m: Mention, end: int) -> bool:
    """ "Quote him a whole new unit"."""
    said = doc.norm[m.stop : min(end, m.stop + 7)]
    return bool({"unit", "machine", "system", "rooftop", "replacement"} & set(said)) and bool(
        {"a", "new", "whole"} & set(said)
    )


def _with_new(doc: Doc, m: Mention, found: list[Object]) -> bool:
    """ "Fixed her up with two new belts"."""
    lead = doc.norm[m.stop : found[0].start]
    return "with" in lead and "new" in lead and not found[0].pronoun


def _named(doc: Doc, m: Mention, begin: int, end: int, out: list[Act]) -> Act | None:
    """An act said as a noun: "its replacement was refused", "coil cleaning: needed"."""
    term = noun_term(doc, m)
    if term is None or (
        term.slug == "lubricate" and doc.norm[m.start - 1] in ("with", "of") and m.start > begin
    ):
        return None  # "loaded with grease, needs pulled and cleaned"
    state = state_of_noun(doc, m, term, begin, end)
    if state is None or unreal(doc, m, begin) or asked_whether(doc, m.start, begin):
        return None
    if state == NOT_DONE and things_way(doc, m, begin):
        return None
    entry = doc.vocabulary.verbs[term.slug]
    found = objects_of_noun(doc, m, begin, end)
    if entry.component:
        found = [Object(entry.component, None, None, m.start, m.stop)]
    if entry.takes:
        found = [o for o in found if o.comp in entry.takes]
    whole = term.slug == "quote" and a_new_one(doc, m, end)
    if not entry.object or whole:
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


_ANYTHING = (["anything"], ["any"], ["no"], ["nothing"], ["a"], ["much"], ["some"])

_RESETTABLE = (
    "smoke-detector",
    "rollout-switch",
    "limit-switch",
    "high-pressure-switch",
    "low-pressure-switch",
    "variable-frequency-drive",
    "ignition-control",
    "control-board",
)
_OTHERS = words("somebody someone they he she tenant landlord customer janitor whoever")

"""Work of others is no work of this visit."""
