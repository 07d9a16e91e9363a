"""Acts told by their tool: "ran the hose over the coil", "shot of grease in both bearings", "put bubbles on the union".

The verb is light (put, hit, ran, gave); what was done lies in the tool or the stuff, and in the part it went to.
"""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import PRONOUNS, components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, from_mention
from hatchnote.notes.states import DONE, NEEDED, NOT_DONE, RECOMMENDED
from hatchnote.notes.telling import not_ours, segment, unreal
from hatchnote.notes.tools import DRAINS, GREASED, SEEN, Tool, tool_in, verb_of
from hatchnote.notes.wordlists import words

_LIGHT = words(
    """
    put puts gave give gives hit shot ran run took take went made make used use stuck squirted pumped
    worked poured sprayed got knocked blew dumped applied threw shined shone held rubbed wiped passed
    dropped pushed forced dribbled dabbed smeared
    """
)

"""First words of an act whose tool or stuff says what it was."""


_LINKS = words("in into on onto to through over down at across around inside up under with off")

_DIRT = words(
    """
    dirt mud cottonwood lint dust slime gunk sludge leaves grease soot carbon bugs webs nest nests
    debris crud junk trash feathers hair algae scale grime fuzz seeds pollen gum muck corrosion rust
    scum sand garbage buildup crap sticks oxidation grass bees wasps bird fluff fur hairballs seed
    """
)

_FREED = words("off out from")
_DIRTIED = (
    "evaporator-coil",
    "condenser-coil",
    "supply-fan-wheel",
    "burner",
    "flame-sensor",
    "air-filter",
    "drain-pan",
    "inducer-motor",
    "contactor",
    "outdoor-air-damper",
)

_TAKERS = words(
    """
    got knocked cleaned blew scraped washed brushed picked pulled dug scooped vacuumed wiped cleared
    took combed raked
    """
)


def by_tool(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Add the acts of one sentence that are told by their tool, and drop what was read of the light verb alone."""
    for i in range(begin, end):
        word = doc.norm[i]
        if word in _TAKERS:
            _dirt_off(doc, i, begin, end, out)
        if word == "grease" or (word == "oil" and doc.norm[i + 1 : i + 2] == ["in"]):
            _stuff_in(doc, i, begin, end, out)
        if word in ("camera", "mirror", "borescope", "scope"):
            if doc.norm[i + 1 : i + 2] == ["in"]:
                _looked_in(doc, i, begin, end, out)
            _could_not_look(doc, i, begin, end, out)
            _looked_through(doc, i, begin, end, out)
        if word == "nitrogen":
            _held(doc, i, begin, end, out)
        if word in _LIGHT and not any(a.start <= i < a.stop and a.rule.startswith("told") for a in out):
            _light_verb(doc, i, begin, end, out)


_NOMINAL = frozenset({"fresh", "new", "some", "a", "shot", "of", "good", "little", "and"})


def _stuff_in(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Fresh grease in the blower bearings", as a sentence without a verb."""
    a, b = segment(doc, i, begin, end)
    taker = doc.owner[i - 2] if i - 2 >= a and doc.norm[i - 1] == "got" else None
    if (
        taker is not None
        and taker.comp in GREASED
        and taker.part
        and (i + 1 >= b or doc.norm[i + 1] in ("too", "today"))
    ):
        obj = from_mention(doc, taker)
        out.append(
            Act(
                "lubricate",
                DONE,
                i,
                taker.start,
                i + 1,
                (begin, end),
                [obj],
                "told by what it got: lubricate",
            )
        )
        return
    if not set(doc.norm[a:i]) <= _NOMINAL or i + 1 >= b or doc.norm[i + 1] not in ("in", "on", "into", "to"):
        return
    parts = components(doc, i + 2, min(b, i + 8), heads=False)
    if not parts or parts[0].comp not in GREASED or any(m.has("verb") for m in doc.within(parts[0].stop, b)):
        return
    for x in [x for x in out if a <= x.start < parts[0].stop]:
        out.remove(x)
    obj = from_mention(doc, parts[0])
    out.append(
        Act("lubricate", DONE, i, a, parts[0].stop, (begin, end), [obj], "told by what went in: lubricate")
    )


def _looked_in(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Camera in, clean", "camera's in, inspecting the heat exchanger": the exchanger is what one looks into."""
    a, b = segment(doc, i, begin, end)
    if b - i > 3 or i - a > 1 or any(x.verb == "inspect" and x.start >= begin for x in out):
        return
    near = next((m for m in components(doc, b, min(len(doc.tokens), b + 6)) if m.comp in SEEN), None)
    near = near or focus_before(doc, i, ("heat-exchanger",), 60)
    comp = near.comp if near is not None else "heat-exchanger"
    obj = Object(comp, None, None, i, i + 2, pronoun=True, mention=near)
    out.append(Act("inspect", DONE, i, a, i + 2, (begin, end), [obj], "told by its tool: inspect"))


_SENT = words("ran run put got stuck sent pushed took fed had running")


def _could_not_look(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Couldn't get the camera past the first bend": the exchanger was not seen."""
    a, _ = segment(doc, i, begin, end)
    denied = any(m.has("cue", "not") for m in doc.within(max(a, i - 5), i))
    if not denied or not {"get", "fit", "run", "put", "reach"} & set(doc.norm[max(a, i - 5) : i]):
        return
    if any(x.verb == "inspect" for x in out):
        return
    obj = Object("heat-exchanger", None, None, i, i + 1, pronoun=True)
    out.append(Act("inspect", NOT_DONE, i, i, i + 1, (begin, end), [obj], "told by its tool: not inspected"))


def _looked_through(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Ran the camera through all six cells": the cells and tubes are the exchanger's."""
    a, b = segment(doc, i, begin, end)
    if not _SENT & set(doc.norm[max(a, i - 3) : i]) or any(x.verb == "inspect" for x in out):
        return
    if not {"cells", "cell", "tube", "tubes", "sections"} & set(doc.norm[i + 1 : b]):
        return
    if any(m.has("cue", "not", "needed", "recommended", "declined") for m in doc.within(max(a, i - 6), i)):
        return
    obj = Object("heat-exchanger", None, None, i, i + 1, pronoun=True)
    out.append(Act("inspect", DONE, i, i, i + 1, (begin, end), [obj], "told by its tool: inspect"))


_HELD = words("held holding hold holds dropped moved")


def _held(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Nitrogen for twenty minutes and it held", "a hundred fifty pounds of nitrogen on it and it held"."""
    near = doc.norm[i : min(end, i + 14)]
    if not _HELD & set(near) or any(a.verb in ("leak-test", "flush") and abs(a.start - i) < 14 for a in out):
        return
    if any(m.has("cue", "needed", "recommended", "declined") for m in doc.within(begin, i)):
        return
    out.append(Act("leak-test", DONE, i, i, i + 1, (begin, end), [], "told by its tool: leak-test"))


def _light_verb(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    a, b = segment(doc, i, begin, end)
    b = min(b, i + 16)
    tool = tool_in(doc, i + 1, b)
    if tool is None or tool.start - i > 9:
        return
    between = doc.within(i + 1, tool.start)
    if any(m.claimed == "verb" and m.start > i for m in between):
        return
    found = _parts(doc, i, tool, b)
    verb = verb_of(doc, tool, {o.comp for o in found})
    state = _state(doc, i, a, begin)
    if verb is None or state is None or (state == DONE and _others(doc, i, begin, end)):
        return
    if (
        tool.verb == "inspect"
        and doc.norm[i] in ("took", "take", "used", "use", "got", "made", "make")
        and not found
    ):
        return
    stop = max([tool.stop, *(o.stop for o in found)])
    old = [x for x in out if i <= x.start < stop or (x.start == i)]
    if any(x.verb == verb and not x.rule.endswith("as a noun") for x in old):
        return
    for x in old:
        out.remove(x)
    for m in (*doc.within(i, i + 1), *doc.within(tool.start, tool.stop)):
        m.claimed = "verb"
    objs = [] if verb == "leak-test" else found
    out.append(Act(verb, state, i, i, stop, (begin, end), objs, f"told by its tool: {verb}", doc.owner[i]))


def _parts(doc: Doc, i: int, tool: Tool, stop: int) -> list[Object]:
    """The parts the tool went to: behind "in", "on", "through", between verb and tool, or before both by a pronoun."""
    behind = components(doc, tool.stop, stop, heads=False)
    if behind:
        heads = [m for m in behind if not m.modifier] or behind
        taken = [m for m in heads if not _cut(doc, tool.stop, m.start)]
        out: list[Object] = []
        for m in taken[:2]:
            if out and not any(doc.norm[k] == "and" for k in range(out[-1].stop, m.start)):
                break
            out.append(from_mention(doc, m))
        if out:
            return out
    before = components(doc, i + 1, tool.start, heads=False)
    if before:
        return [from_mention(doc, before[-1])]
    near = range(i + 1, min(stop, tool.stop + 3))
    if any(doc.norm[k] in PRONOUNS for k in near):
        meant = focus_before(doc, i, (), 25, parts_only=False)
        if meant is not None:
            return [Object(meant.comp, meant.number, None, i, tool.stop, pronoun=True, mention=meant)]
    return []


def _cut(doc: Doc, start: int, stop: int) -> bool:
    return any(doc.norm[k] in ("because", "so", "but", "while", "until", "from") for k in range(start, stop))


def _state(doc: Doc, i: int, a: int, begin: int) -> str | None:
    lead = doc.within(max(begin, i - 7), i)
    if unreal(doc, doc.owner[i] or Mention("word", i, i + 1), begin):
        return None
    near = [m for m in lead if m.start >= a]
    base = doc.norm[i] in ("give", "run", "take", "make", "use", "put", "hit")
    if any(m.has("cue", "not") for m in near):
        return NOT_DONE if base else None
    if any(m.has("cue", "declined", "offered") for m in near):
        return None
    if base and any(m.has("cue", "recommended") for m in near):
        return RECOMMENDED
    if base and any(m.has("cue", "needed") for m in near):
        return NEEDED
    if (
        doc.norm[i] in ("run", "runs", "use", "take")
        and i > a
        and doc.norm[i - 1] not in ("i", "we", "and", "then")
    ):
        return None
    if i > a and doc.norm[i - 1] in ("to", "is", "are", "be", "can", "will"):
        return None
    return DONE


def _others(doc: Doc, i: int, begin: int, end: int) -> bool:
    return not_ours(doc, doc.owner[i] or Mention("word", i, i + 1), begin, end)


def _dirt_off(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Knocked the dirt off the sensor", "got a nest out of the burners": the part is cleaned."""
    a, b = segment(doc, i, begin, end)
    dirt = next((k for k in range(i + 1, min(b, i + 7)) if doc.norm[k] in _DIRT), None)
    if dirt is None:
        return
    out_of = next((k for k in range(i + 1, min(b, dirt + 4)) if doc.norm[k] in _FREED), None)
    if out_of is None:
        return
    parts = components(doc, max(out_of, dirt) + 1, min(b, dirt + 9), heads=False)
    near = None if parts or out_of < dirt else focus_before(doc, i, _DIRTIED, 25)
    if not parts and near is None:
        return
    state = _state(doc, i, a, begin)
    if state is None or (state == DONE and _others(doc, i, begin, end)):
        return
    if near is not None:  # "the coil's clean enough, I just knocked the fluff off"
        if not any(x.start >= i and x.start < b for x in out):
            obj = Object(near.comp, near.number, None, i, out_of + 1, pronoun=True, mention=near)
            rule = "told by what came off: clean"
            out.append(Act("clean", state, i, i, out_of + 1, (begin, end), [obj], rule))
        return
    part = parts[0]
    verb = "flush" if part.comp in DRAINS else "clean"
    if any(x.verb in (verb, "clean", "flush") and i <= x.start <= part.stop and x.objects for x in out):
        return
    for x in [x for x in out if i <= x.start < part.stop and x.verb == "remove"]:
        out.remove(x)
    out.append(
        Act(
            verb,
            state,
            i,
            i,
            part.stop,
            (begin, end),
            [from_mention(doc, part)],
            f"told by what came off: {verb}",
        )
    )


_DRAWN = words("brought pulled pull got took drew sucked ran make made bring held vacced pumped")


def by_vacuum(doc: Doc, begin: int, end: int, out: list[Act], before: list[Act]) -> None:
    """ "Brought it down to five fifty microns", "down to four fifty microns": evacuated."""
    for m in doc.within(begin, end):
        if m.kind != "value" or m.value is None or m.value.ucum != "um[Hg]":
            continue
        tag = doc.tag_at[m.start]
        if any(x.verb == "evacuate" and doc.tag_at[x.start] == tag for x in [*before, *out]):
            return
        a, _ = segment(doc, m.start, begin, end)
        lead = doc.norm[a : m.start]
        down = next((k for k in range(len(lead)) if lead[k : k + 2] == ["down", "to"]), None)
        if not (down == 0 or (_DRAWN & set(lead) and {"to", "until", "at", "into"} & set(lead))):
            continue
        if {"rose", "climbed", "up", "started", "not", "didn't", "wouldn't", "couldn't"} & set(lead):
            continue
        out.append(Act("evacuate", DONE, a, a, m.stop, (begin, end), [], "evacuated: a vacuum was reached"))
        return
