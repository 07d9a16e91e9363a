"""Acts of the hand told by what was moved: leads flipped, a jumper taken off, a sheave opened, a pulley slid over.

Trade words of common practice, no source.
"""

from __future__ import annotations

from hatchnote.notes.acts import Act
from hatchnote.notes.clauses import components, focus_before
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.object_of_verb import Object, from_mention
from hatchnote.notes.states import DONE
from hatchnote.notes.telling import not_ours, segment, unreal
from hatchnote.notes.wordlists import words

_FLIPPED = words("flipped swapped switched reversed rolled exchanged traded crossed changed moved")
_LEADS = words("leads lead legs leg phases wires conductors rotation")
_MOTORS = ("supply-fan-motor", "condenser-fan-motor", "inducer-motor", "compressor")
_TAKEN = words("took pulled removed cut yanked unhooked clipped snipped got ripped tore ditched undid")
_GUARDS = (
    "high-pressure-switch",
    "low-pressure-switch",
    "pressure-switch",
    "limit-switch",
    "rollout-switch",
    "smoke-detector",
    "evaporator-coil-sensor",
    "relay",
    "contactor",
)
_TURNED = words("opened closed backed turned spun ran adjusted let screwed wound cranked took brought")
_TURNING = words("opening closing backing turning adjusting winding")
_SHEAVES = ("motor-pulley", "sheave")
_SLID = words(
    "slid moved shifted pulled walked brought tapped knocked bumped nudged pushed put set got scooted"
)
_STRAIGHT = ("over", "in line", "into line", "back out", "back in", "in a bit", "out a bit", "true", "square")
_ALIGNED = ("sheave", "motor-pulley", "supply-fan-wheel")
_HAND_NEAR = 7


def by_hand(doc: Doc, begin: int, end: int, out: list[Act]) -> None:
    """Add the acts of one sentence that are told by what was moved."""
    for i in range(begin, end):
        word = doc.norm[i]
        a, b = segment(doc, i, begin, end)
        if word in _FLIPPED and _LEADS & set(doc.norm[i + 1 : min(b, i + 6)]):
            _leads_flipped(doc, i, b, begin, end, out)
        elif word in ("jumper", "jumpers") and not _to_cut(doc, i, a):
            _jumper_off(doc, i, begin, end, out)
        by = word in _TURNING and i > begin and doc.norm[i - 1] == "by"
        if (word in _TURNED or by) and {"turn", "turns"} & set(doc.norm[i + 1 : min(b, i + 10)]):
            _sheave_turned(doc, i, b, begin, end, out)
        if word in _SLID:
            _slid_over(doc, i, b, begin, end, out)
        if word == "bent":
            _bent_back(doc, i, b, begin, end, out)


def _ours(doc: Doc, i: int, begin: int, end: int) -> bool:
    m = Mention("word", i, i + 1)
    if unreal(doc, m, begin) or not_ours(doc, m, begin, end):
        return False
    before = doc.norm[i - 1] if i > begin and not doc.tokens[i].brk else ""
    if before in (
        "to",
        "the",
        "a",
        "was",
        "were",
        "is",
        "are",
        "be",
        "been",
        "had",
        "has",
        "got",
        "it",
        "they",
    ):
        return False
    near = doc.within(max(begin, i - 5), i)
    return not any(x.has("cue", "not", "needed", "recommended", "declined", "offered") for x in near)


def _leads_flipped(doc: Doc, i: int, b: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Flipped two leads and that fixed it", "swapped L one and L three": the motor turns the other way."""
    if any(x.verb == "rewire" for x in out) or not _ours(doc, i, begin, end):
        return
    counted = {"two", "2", "any", "a", "the", "rotation", "couple"} & set(doc.norm[i + 1 : min(b, i + 6)])
    motor = next((x for x in components(doc, i + 1, b, heads=False) if x.comp in _MOTORS), None)
    motor = motor or focus_before(doc, i, _MOTORS, 60)
    if motor is None or not counted:
        return
    _drop(out, i, b, {"replace"})
    obj = Object(motor.comp, motor.number, None, i, b, pronoun=True, mention=motor)
    out.append(Act("rewire", DONE, i, i, b, (begin, end), [obj], "told by hand: leads flipped"))


def _to_cut(doc: Doc, i: int, a: int) -> bool:
    """ "Put a jumper on it": the other way round."""
    return bool({"put", "putting", "stuck", "hung", "added", "installed", "with"} & set(doc.norm[a:i]))


def _jumper_off(doc: Doc, i: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Took the jumper off", "found a jumper on the limit, pulled it": the switch does its work again."""
    at = next((k for k in range(i - 1, max(begin - 1, i - 4), -1) if doc.norm[k] in _TAKEN), None)
    if at is None:
        behind = range(i + 1, min(end, i + 12))
        at = next((k for k in behind if doc.norm[k] in _TAKEN and doc.norm[k + 1 : k + 2] in _IT), None)
    if at is None or not _ours(doc, at, begin, end) or any(x.verb == "restore" for x in out):
        return
    named = [x for x in components(doc, i, min(end, i + 9), heads=False) if x.comp in _GUARDS]
    near = named[0] if named else focus_before(doc, i, _GUARDS, 60)
    if near is None:
        return
    for x in [x for x in out if x.verb in ("remove", "bypass") and abs(x.start - at) <= _HAND_NEAR]:
        out.remove(x)
    obj = Object(near.comp, near.number, None, at, i + 1, pronoun=True, mention=near)
    start = min(at, i)
    out.append(
        Act("restore", DONE, start, start, i + 1, (begin, end), [obj], "told by hand: a jumper taken off")
    )


_IT = (["it"], ["that"], ["them"], ["out"], ["those"], ["off"])


def _sheave_turned(doc: Doc, i: int, b: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Opened the variable sheave two turns", "closed it a turn and a half"."""
    if not _ours(doc, i, begin, end):
        return
    named = [x for x in components(doc, i + 1, b, heads=False) if x.comp in _SHEAVES]
    pronoun = doc.norm[i + 1 : i + 2] in (["it"], ["her"], ["that"])
    near = named[0] if named else focus_before(doc, i, (), 30) if pronoun else None
    if near is None or near.comp not in _SHEAVES or any(x.verb == "adjust" and x.start >= i - 1 for x in out):
        return
    obj = (
        from_mention(doc, near)
        if named
        else Object(near.comp, near.number, None, i, b, pronoun=True, mention=near)
    )
    out.append(
        Act("adjust", DONE, i, i, max(i + 1, obj.stop), (begin, end), [obj], "told by hand: sheave turned")
    )


def _slid_over(doc: Doc, i: int, b: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Slid the motor sheave over", "knocked the wheel back in line": aligned."""
    said = " ".join(doc.norm[i:b])
    if not any(f" {x}" in said for x in _STRAIGHT) or not _ours(doc, i, begin, end):
        return
    named = [x for x in components(doc, i + 1, min(b, i + _HAND_NEAR)) if x.part]
    if not named or named[0].comp not in _ALIGNED:
        return
    _drop(out, i, b, {"adjust", "remove", "replace"})
    if any(x.verb == "align" for x in out):
        return
    obj = from_mention(doc, named[0])
    out.append(Act("align", DONE, i, i, obj.stop, (begin, end), [obj], "told by hand: slid into line"))


def _bent_back(doc: Doc, i: int, b: int, begin: int, end: int, out: list[Act]) -> None:
    """ "Bent the electrode back out", "bent the linkage straight": a rod is adjusted, another part repaired."""
    if not {"back", "out", "straight", "in", "over"} & set(doc.norm[i + 1 : b]) or not _ours(
        doc, i, begin, end
    ):
        return
    named = [x for x in components(doc, i + 1, min(b, i + 5)) if x.part]
    if not named or any(abs(x.start - i) < 3 for x in out):
        return
    verb = "adjust" if named[0].comp in ("igniter", "flame-sensor") else "repair"
    obj = from_mention(doc, named[0])
    out.append(Act(verb, DONE, i, i, obj.stop, (begin, end), [obj], "told by hand: bent back"))


def _drop(out: list[Act], start: int, stop: int, verbs: set[str]) -> None:
    for x in [x for x in out if x.verb in verbs and start <= x.start < stop]:
        out.remove(x)
