"""What is off without this visit's doing: "the outdoor fan shut off", "gas is off for the season", "I have to shut it
down with pliers".
"""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object
from hatchnote.notes.states import DONE, NEEDED
from hatchnote.notes.telling import not_ours, unreal
from hatchnote.notes.wordlists import words

_STOPS = words("shut shuts kicked cut cuts cycled dropped tripped went turned")
_RUNS = frozenset(
    {
        "compressor",
        "condenser-fan-motor",
        "supply-fan-motor",
        "inducer-motor",
        "burner",
        "variable-frequency-drive",
    }
)
_IS = words("is are it's that's they're still stays")
_FOUND = (
    "when i got",
    "when we got",
    "when i showed",
    "when i arrived",
    "when we arrived",
    "on arrival",
    "before i",
)
_BY_OTHERS = (
    "for the",
    "for summer",
    "by ",
    "at the street",
    "at the meter",
    "to the",
    "all summer",
    "till",
    "until",
)
_ME = words("i we you i've we've you've i'd")
_HAVE_TO = words("got to have has gotta had")
_LATER = words("tomorrow next later tonight")
_LEFT = words("left leaving leave leaves")
_ONE = words("it her them that this the unit machine one rooftop package those both")
_TAKEN_OFF = frozenset(
    {"panel", "panel-screw", "gasket", "insulation", "air-filter", "supply-fan-belt", "roof-hatch"}
)
_BEHIND = words("until till til for because so and with since at pending as there")
_OFF = (["off"], ["locked", "out"], ["shut", "off"], ["shut", "down"], ["out", "of", "service"], ["down"])


def off_by_itself(doc: Doc, m: Mention, state: str, found: list[Object], begin: int, end: int) -> bool:
    """Whether an act of switching off, as said at `m`, is nobody's work of this visit."""
    lead = doc.norm[max(begin, m.start - 4) : m.start]
    if doc.norm[m.start] in _LEFT and any(o.comp in _TAKEN_OFF for o in found):
        return True  # "left the panel off"
    if state == NEEDED:
        mine = bool(_ME & set(lead)) and bool(_HAVE_TO & set(lead))
        return mine and not _LATER & set(doc.norm[m.stop : end])  # how it has to be done, always
    if state != DONE or m.start <= begin or doc.tokens[m.start].brk:
        return False
    before = doc.owner[m.start - 1]
    gas = any(o.comp == "gas-line" for o in found)
    behind = " ".join(doc.norm[m.stop : min(end, m.stop + 4)])
    if doc.norm[m.start - 1] in _IS and gas and behind.startswith(_BY_OTHERS):
        return True
    if behind.startswith(("at the disconnect", "at the breaker", "at the switch")):
        return False
    if doc.norm[m.start - 1] in ("was", "were", "been") and behind.startswith(_FOUND):
        return True
    runs = before is not None and before.comp in _RUNS and before.part and not before.modifier
    if before is not None and _LEFT & set(doc.norm[max(begin, before.start - 3) : before.start]):
        return False  # "I left compressor two shut off"
    return (
        runs
        and doc.norm[m.start] in _STOPS
        and not any(o.start >= m.stop and not _only_where(o) for o in found)
    )


def _only_where(o: Object) -> bool:
    return o.pronoun or (o.mention is not None and o.mention.modifier)


def left_off(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """ "Left unit two off, it's not fit to run", "leaving her off till the board comes": taken out of service."""
    for i in range(begin, end - 1):
        if doc.norm[i] not in _LEFT or any(a.verb == "isolate" and abs(a.start - i) < 5 for a in out):
            continue
        k = i + 1
        machine: Mention | None = None
        while k < min(end, i + 5) and not doc.tokens[k].brk:
            x = doc.owner[k]
            if x is not None and x.kind == "machine":
                machine, k = x, x.stop
            elif doc.norm[k] in _ONE and (x is None or not x.comp):
                k += 1
            else:
                break
        if k == i + 1 or k >= end or doc.tokens[k].brk:
            continue
        off = next((o for o in _OFF if doc.norm[k : k + len(o)] == o), None)
        if off is None or not _closes(doc, k + len(off), end):
            continue
        at = Mention("word", i, i + 1)
        asked = any(x.has("cue", "not", "needed", "recommended") for x in doc.within(max(begin, i - 4), i))
        if asked or unreal(doc, at, begin) or not_ours(doc, at, begin, end):
            continue
        start = machine.start if machine is not None else i
        out.append(Act("isolate", DONE, start, start, k + len(off), (begin, end), [], "left off"))


def _closes(doc: Doc, at: int, end: int) -> bool:
    return at >= end or doc.tokens[at].brk > 0 or doc.norm[at] in _BEHIND
