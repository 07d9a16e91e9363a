"""What single verbs ask of their objects: belts are taken up, gas is shut off, lines are wrapped."""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, from_mention
from hatchnote.notes.told_by_form import dampers_or
from hatchnote.notes.wordlists import words


def wrapped(doc: Doc, o: Object, begin: int) -> Object:
    """ "Insulation on the suction line's missing, so I insulated it": the line is insulated."""
    if o.comp != "insulation":
        return o
    for m in reversed(doc.within(begin, o.start if not o.pronoun else o.stop)):
        if m.comp and m.kind == "word" and m.modifier:
            return Object(m.comp, m.number, None, o.start, o.stop, pronoun=True)
    return o


def wires(doc: Doc, m: Mention, found: list[Object], begin: int) -> list[Object]:
    """ "Wiring, burnt at the contactor, rewired": the wiring, where it was spoken of."""
    if any(not o.pronoun and o.start > m.start for o in found):
        return found
    near = focus_before(doc, m.start, ("wiring", "wire-terminal"), 14)
    if near is None:
        return found
    return [Object(near.comp, near.number, None, m.start, m.stop, pronoun=True)]


def took_up(doc: Doc, m: Mention, verb: str, begin: int) -> str:
    """A loose belt taken up is tightened; one set to a deflection is adjusted."""
    word = doc.norm[m.start]
    if word in ("took", "take", "taking", "snugged"):
        near = doc.within(max(begin, m.start - 12), m.start)
        loose = any(x.has("condition", "loose", "noisy") for x in near) or bool(
            {"slipping", "slipped", "slips", "squealed"} & set(doc.norm[max(begin, m.start - 12) : m.start])
        )
        return "tighten" if loose else verb
    return verb


def not_the_gas(doc: Doc, m: Mention, o: Object) -> Object:
    """ "Shut the gas off, doped it and tightened it": the fitting spoken of before, not the gas."""
    if not o.pronoun or o.comp not in ("gas-line", "refrigerant"):
        return o
    near = focus_before(
        doc, m.start, ("gas-union", "gas-valve", "schrader-core", "service-valve", "refrigerant-line"), 40
    )
    if near is None:
        return o
    return Object(near.comp, near.number, o.count, o.start, o.stop, pronoun=True, mention=near)


def cut_off(doc: Doc, m: Mention, end: int) -> bool:
    """Whether power or the whole machine was taken out of service, no part being named."""
    if m.start and doc.norm[m.start - 1] in ("it", "she", "unit", "had", "they", "again"):
        return False  # "it had locked out"
    said = set(doc.norm[m.start : m.stop])
    for i in range(m.stop, min(end, m.stop + 4)):
        if doc.tokens[i].brk:
            break
        said.add(doc.norm[i])
    return bool(said & {"power", "locked", "lock", "tagged", "service", "energized"})


def went_off(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Locked out on ignition", "line two's shut down for lunch": it did, or is so; nobody took it out of service."""
    if (
        m.stop < end
        and not doc.tokens[m.stop].brk
        and doc.norm[m.stop] == "on"
        and doc.norm[m.start] == "locked"
    ):
        after = doc.norm[m.stop + 1 : m.stop + 2]
        return after not in (["the"], ["that"], ["this"]) or bool(
            {"limit", "switch", "pressure", "high", "low", "rollout", "flame"}
            & set(doc.norm[m.stop + 2 : m.stop + 4])
        )
    before = doc.owner[m.start - 1] if m.start > begin and not doc.tokens[m.start].brk else None
    possessive = m.start > begin and doc.tokens[m.start - 1].lower.endswith(("'s", "’s"))
    return possessive and not (before is not None and (before.comp or before.kind == "machine"))


def things_way(doc: Doc, m: Mention, begin: int) -> bool:
    """ "So it doesn't take off", "the coil doesn't need cleaning": a thing's not doing is nobody's work left undone."""
    for i in range(m.start - 1, max(begin - 1, m.start - 5), -1):
        if doc.tokens[i + 1].brk:
            return False
        if doc.norm[i] in ("doesn't", "won't", "wouldn't") or doc.norm[i : i + 2] == ["does", "not"]:
            subject = doc.norm[i - 1] if i > begin and not doc.tokens[i].brk else ""
            owner = doc.owner[i - 1] if i > begin else None
            return subject in ("it", "that", "this", "she", "which") or (
                owner is not None and bool(owner.comp) and owner.part
            )
        if doc.norm[i] == "don't" and doc.norm[i + 1] in ("need", "require"):
            return True
        habit = doc.norm[i] in ("don't", "never") and doc.norm[i - 1] in ("i", "we") and i + 1 == m.start
        if habit and doc.norm[m.stop : m.stop + 1] in (["those"], ["these"]):
            return True  # "I don't patch those"
        if doc.norm[i - 1 : i + 1] == ["no", "need"]:
            return True
    return False


_WIRES = frozenset({"wiring", "wire-terminal"})


def moved_wires(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Moved the leads over one", "wrench set to forty five": nothing is adjusted on the machine."""
    if m.start > begin and doc.norm[m.start - 1] == "wrench" and not doc.tokens[m.start].brk:
        return True
    return doc.norm[m.start] in ("moved", "move", "moving") and any(
        x.comp in _WIRES and x.part and not any(t.brk for t in doc.tokens[m.stop : x.start + 1])
        for x in doc.within(m.stop, min(end, m.stop + 4))
    )


def is_power(doc: Doc, m: Mention, end: int) -> bool:
    return bool({"power", "heat", "service", "cooling"} & set(doc.norm[m.start : min(end, m.stop + 4)]))


def is_setting(doc: Doc, m: Mention, found: list[Object], begin: int, end: int) -> bool:
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


def is_not_work(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "Follow up, none", "I'll swing by, not for work", "back Monday if it does it again"."""
    said = f" {' '.join(doc.norm[m.start : min(end, m.stop + 12)])} "
    if "no need" in " ".join(doc.norm[max(begin, m.start - 4) : m.start]):
        return True
    said = said.replace(" see if ", " ").replace(" check if ", " ")  # "come back and see if it holds"
    return any(x in said for x in _NOT_WORK)


def adjusted(doc: Doc, m: Mention, found: list[Object], end: int) -> list[Object]:
    """ "set it at three eighths deflection", "bumped the manifold to three five": the part behind the value changed."""
    if any(not o.pronoun for o in found):
        return found
    for other in doc.within(m.stop, min(end, m.stop + 12)):
        if other.start > m.stop and any(doc.tokens[i].brk for i in range(m.stop, other.start + 1)):
            break
        if other.kind == "stage" and other.stop < end and doc.norm[other.stop] in _SET_TO:
            return [
                Object("gas-valve", None, None, other.start, other.stop, pronoun=True)
            ]  # "set low fire to"
        for term in other.of("point"):
            part = doc.vocabulary.points[term.slug].adjust
            if part:
                return [Object(part, None, None, other.start, other.stop, pronoun=True)]
            if other.comp:
                return [Object(other.comp, None, None, other.start, other.stop)]
    nearest = found[0].start if found else -1
    for i in range(m.start - 1, max(-1, nearest, m.start - 26), -1):
        owner = doc.owner[i]
        for term in owner.of("point") if owner is not None and not owner.part else ():
            part = doc.vocabulary.points[term.slug].adjust
            if part:
                part = dampers_or(doc, m.start, part) if part == "economizer" else part
                return [Object(part, None, None, m.start, m.stop, pronoun=True)]
    return found


_SET_TO = frozenset({"to", "at", "down", "up", "for", "manifold"})

ISOLATED = words(
    """
    gas-line gas-valve disconnect compressor condenser-fan-motor supply-fan-motor inducer-motor
    crankcase-heater economizer economizer-actuator control-board variable-frequency-drive
    """
)


def intransitive(doc: Doc, m: Mention, begin: int, end: int) -> bool:
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
        or value_follows(doc, m, end)
    )


def value_follows(doc: Doc, m: Mention, end: int) -> bool:
    return any(x.kind == "value" for x in doc.within(m.stop, min(end, m.stop + 3)))


_NO_RESET = frozenset(
    {"burner", "heat-exchanger", "panel", "wiring", "refrigerant", "drain-pan", "condensate-line"}
)
_RESET = (
    "rollout-switch",
    "limit-switch",
    "high-pressure-switch",
    "low-pressure-switch",
    "pressure-switch",
    "variable-frequency-drive",
    "control-board",
    "ignition-control",
    "disconnect",
    "smoke-detector",
    "thermostat",
    "relay",
)


def resettable(doc: Doc, m: Mention, o: Object) -> Object | None:
    """ "The rollout tripped on the right burner, reset it": what can be reset, not where it sits; None for nothing."""
    if o.comp not in _NO_RESET:
        return o
    near = focus_before(doc, m.start, _RESET, 30)
    if near is None:
        return o if o.comp == "drain-pan" else None  # its float switch is
    return Object(near.comp, near.number, o.count, o.start, o.stop, pronoun=True, mention=near)


_GLUED = ("condensate-trap", "condensate-line", "insulation", "gasket")


def glued(doc: Doc, m: Mention, found: list[Object]) -> list[Object]:
    """ "The trap was cracked so the pan never drained, glued up a new one": only pipe and soft things are glued."""
    if not doc.norm[m.start].startswith("glu") or any(o.comp in _GLUED for o in found):
        return found
    near = focus_before(doc, m.start, _GLUED, 40)
    if near is None:
        return found
    return [Object(near.comp, near.number, None, m.start, m.stop + 3, pronoun=True, mention=near)]


def said_to_leak(doc: Doc, m: Mention, begin: int, end: int) -> list[Object]:
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
                    return [Object(comp[0], comp[1], None, m.start, behind[0].stop, pronoun=True)]
    return []


def corrected(doc: Doc, found: list[Object], end: int) -> list[Object]:
    """ "Replaced the contactor, no, I mean the relay"."""
    stop = max(o.stop for o in found)
    for m in doc.within(stop, min(end, stop + 6)):
        if m.has("cue", "scratch"):
            for x in doc.within(m.stop, min(end, m.stop + 4)):
                if x.part and x.comp and x.kind == "word":
                    return [*found[:-1], from_mention(doc, x)]
            return found
        if not m.has("cue"):
            return found
    return found


_CLEARED = frozenset(
    {
        "inducer-motor",
        "burner",
        "condenser-coil",
        "evaporator-coil",
        "supply-fan-wheel",
        "heat-exchanger",
        "outdoor-air-damper",
        "economizer",
        "air-filter",
        "ductwork",
        "pressure-switch",
    }
)


def other_verb(doc: Doc, m: Mention, found: list[Object]) -> str | None:
    """Another verb of the same words that takes these parts ("blew out": a coil is cleaned, a drain line flushed)."""
    comps = {o.comp for o in found}
    out = "out" in doc.norm[m.start : m.stop + 2]
    if m.has("verb", "flush") and out and comps <= _CLEARED:
        return "clean"  # "full of leaves, cleared them out"
    for term in m.of("verb"):
        takes = doc.vocabulary.verbs[term.slug].takes
        if not takes or comps & set(takes):
            return term.slug
    return None


def pounds_follow(doc: Doc, m: Mention, end: int) -> bool:
    """ "Put two and a half pounds in her": what is put in is refrigerant."""
    for x in doc.within(m.stop, min(end, m.stop + 4)):
        if x.kind == "value" and x.value is not None and x.value.ucum in ("[lb_av]", "[oz_av]"):
            return True
    return False


def charge_amount(doc: Doc, m: Mention, end: int) -> bool:
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


def found_so(doc: Doc, m: Mention, begin: int) -> bool:
    """ "Found the disconnect pulled": a state, no act."""
    i = m.start - 1
    owner = doc.owner[i] if i >= begin and not doc.tokens[m.start].brk else None
    if owner is None or not owner.part:
        return False
    low = owner.start
    while low > max(begin, owner.start - 4) and not doc.tokens[low].brk:
        low -= 1
    return any(x.has("cue", "found") for x in doc.within(low, owner.start))


_GLANCES = words("check checked checking looked look looking verified verify checks see saw eyeballed double")
_ELECTRIC = frozenset({"open", "shorted", "grounded", "out-of-range", "failed"})


def only_measured(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """ "I looked at the igniter, it ohmed at forty four", "checked it and it's open": a measurement, no inspection."""
    if doc.norm[m.start] not in _GLANCES and doc.norm[m.stop - 1] not in _GLANCES:
        return False
    before = doc.norm[m.start - 1] if m.start > begin else ""
    if before in ("not", "didn't", "to", "never", "couldn't"):
        return False
    crossed = 0
    for i in range(m.stop, min(end, m.stop + 18)):
        crossed += doc.tokens[i].brk > 0
        x = doc.owner[i]
        if crossed > 2:
            return False
        if x is None or x.start != i:
            continue
        if x.kind == "value" and x.value is not None and x.value.ucum is not None:
            return True
        if (
            x.has("condition", *_ELECTRIC)
            and i - m.stop <= 6
            and not any(y.comp and y.part for y in doc.within(m.stop, i))
        ):
            return True
        if x.has("verb") and x.claimed == "verb":
            return False
    return False


def covered_line(doc: Doc, insulation: Object, end: int) -> Object | None:
    """ "Put new insulation on the suction line": the line is insulated."""
    if insulation.pronoun:
        return None
    for x in doc.within(insulation.stop, min(end, insulation.stop + 5)):
        if x.comp in ("refrigerant-line", "ductwork", "condensate-line") and x.part:
            return Object(x.comp, x.number, None, x.start, x.stop, mention=x)
    return None
