"""Stage: which part a bare word means ("the motor", "that switch"), and which parts only say where."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.numbers.words import CLASS

REQUIRES = ("mentions", "values", "part_numbers")
ASSIGNS = ("components",)

_WHERE = frozenset(
    [
        "at",
        "on",
        "in",
        "under",
        "behind",
        "inside",
        "beside",
        "around",
        "near",
        "above",
        "below",
        "by",
        "from",
        "off",
        "between",
        "against",
        "through",
        "over",
        "with",
        "inside",
        "for",
    ]
)
_SKIP = frozenset(
    [
        "the",
        "a",
        "an",
        "that",
        "this",
        "his",
        "their",
        "its",
        "our",
        "my",
        "your",
        "old",
        "new",
        "one",
        "other",
        "blower",
    ]
)
_BARE_DEFAULT = {
    "motor": "supply-fan-motor",
    "fan motor": "supply-fan-motor",
    "fan": "supply-fan-motor",
    "coil": "evaporator-coil",
    "coils": "condenser-coil",
    "board": "control-board",
    "limit": "limit-switch",
    "rod": "flame-sensor",
    "thermistor": "coil-sensor",
    "actuator": "economizer-actuator",
}
LOOK_BACK = 220
"""Tokens: a bare word does not reach further back than this."""


def focus(doc: Doc) -> None:
    """Resolve bare words and mark the parts that only say where."""
    last: dict[str, Mention] = {}
    numbered: dict[str, Mention] = {}
    for m in doc.mentions:
        if m.kind != "word":
            continue
        if doc.norm[m.start : m.stop] == ["pump"] and _evacuating(doc, m):
            m.comp, m.terms = "", ()
        family = m.of("family")
        if family and not m.comp:
            _resolve(doc, m, {t.slug for t in family}, last, numbered)
        if m.comp == "condenser-fan-blade" and doc.norm[m.start : m.stop] in (["blade"], ["blades"]):
            m.comp = _whose_blade(m, last)
        if (
            m.comp == "supply-fan-wheel"
            and doc.norm[m.start : m.stop] == ["wheel"]
            and _of_the_inducer(m, last)
        ):
            m.comp = "inducer-motor"
        if m.comp:
            m.modifier = _says_where(doc, m)
            if not (m.has("point") and not m.has("component")) and not is_point(doc, m):
                last[m.comp] = m
                if m.number:
                    numbered[m.comp] = m
    _inherit_numbers(doc)


_VACUUM = frozenset(["vacuum", "micron", "microns", "evacuated", "evacuate", "evac", "valved", "nitrogen"])


def _evacuating(doc: Doc, m: Mention) -> bool:
    """Whether a vacuum is told of around "the pump": then it is the vacuum pump, not the compressor."""
    return bool(_VACUUM & {*doc.norm[max(0, m.start - 25) : m.stop + 12]})


def _resolve(
    doc: Doc, m: Mention, slugs: set[str], last: dict[str, Mention], numbered: dict[str, Mention]
) -> None:
    if doc.norm[m.stop - 1] == "fan" and _of_the_drive(doc, m):
        return
    relay = last.get("relay")
    close = relay is not None and 0 < m.start - relay.stop <= _RELAY_NEAR
    if close and relay is not None and doc.norm[m.start : m.stop] == ["coil"]:
        same = not any(t.brk == 2 for t in doc.tokens[relay.stop : m.stop])
        m.comp = "relay" if same else m.comp  # "fan relay won't close, good coil"
        if same:
            return
    near = [last[s] for s in slugs if s in last and m.start - last[s].start <= LOOK_BACK]
    word = doc.norm[m.start] if m.number is None else ""
    before = doc.norm[m.start - 1] if m.start else ""
    if near:
        chosen = max(near, key=lambda x: x.start)
        m.comp = chosen.comp
        named = numbered.get(m.comp)
        if (
            (
                m.number is None
                and before in ("that", "this", "same", "new")
                and named is not None
                and "," not in (named.number or "")
            )
            and m.start - named.start <= LOOK_BACK
            and doc.tag_at[m.start] == doc.tag_at[named.start]
        ):
            m.number = named.number
    else:
        said = " ".join(doc.norm[m.start : m.stop])
        default = (
            _BARE_DEFAULT.get(said) or _BARE_DEFAULT.get(word) or _BARE_DEFAULT.get(said.removesuffix("s"))
        )
        if said in ("line", "lines") and any(
            s in last and m.start - last[s].start < 40 for s in ("condensate-trap", "drain-pan")
        ):
            default = "condensate-line"
        if said == "fan" and m.number in ("1", "2", "3", "4"):
            default = "condenser-fan-motor"
        if said in ("fan", "motor", "fan motor") and _blade_before(m, last):
            default = "condenser-fan-motor"
        if said == "coil" and _outdoors(doc, m, last):
            default = "condenser-coil"
        if said == "module" and _of_a_motor(doc, m, last):
            m.comp = "supply-fan-motor"
        if default in slugs:
            m.comp, m.presumed = default, True


_BLADED = {
    "condenser-fan-blade": "condenser-fan-blade",
    "condenser-fan-motor": "condenser-fan-blade",
    "condenser-coil": "condenser-fan-blade",
    "outdoor-air-damper": "outdoor-air-damper",
    "economizer": "outdoor-air-damper",
    "economizer-actuator": "outdoor-air-damper",
    "supply-fan-wheel": "supply-fan-wheel",
}


def _whose_blade(m: Mention, last: dict[str, Mention]) -> str:
    """ "Damper's hung open on a bent blade", "fuzz on every blade" of a wheel: the blade of what was last spoken of."""
    near = [last[c] for c in _BLADED if c in last and m.start - last[c].start <= 40]
    return _BLADED[max(near, key=lambda x: x.start).comp] if near else "condenser-fan-blade"


_RELAY_NEAR = 6
_SHORT = 40


def _of_the_drive(doc: Doc, m: Mention) -> bool:
    """ "The drive's cooling fan is dead, I'd order a fan": a fan that cools the drive, no fan of the air's."""
    for i in range(m.start - 1, max(-1, m.start - _SHORT), -1):
        x = doc.owner[i]
        if doc.norm[i] == "fan" and x is not None and x.comp:
            return x.comp == "variable-frequency-drive"
    return False


_OUTDOORS = frozenset({"condenser-fan-motor", "condenser-fan-blade"})
_INDOORS = frozenset(
    {"supply-fan-motor", "supply-fan-wheel", "supply-fan-belt", "air-filter", "drain-pan", "condensate-line"}
)


def _of_the_inducer(m: Mention, last: dict[str, Mention]) -> bool:
    """ "The inducer's housing is rusted, wheel's okay": the inducer's, where no blower was spoken of since."""
    inducer = last.get("inducer-motor")
    if inducer is None or m.start - inducer.start > 30:
        return False
    blower = ("supply-fan-motor", "supply-fan-wheel", "supply-fan-belt", "sheave", "motor-pulley", "bearing")
    return not any(c in last and last[c].start > inducer.start for c in blower)


_ELECTRONIC = frozenset({"ecm", "torque", "airflow", "commutated", "variable", "x13"})


def _of_a_motor(doc: Doc, m: Mention, last: dict[str, Mention]) -> bool:
    """ "The blower's a constant torque motor, module's dead": the electronics on the motor's end, no ignition's."""
    motor = last.get("supply-fan-motor")
    if motor is None or m.start - motor.start > 60:
        return False
    said = doc.norm[max(0, m.start - 60) : m.start]
    return bool(_ELECTRONIC & set(said)) or " e c m " in f" {' '.join(said)} "


def _blade_before(m: Mention, last: dict[str, Mention]) -> bool:
    """ "The condenser fan blade's cracked, I shut that fan off": whose blade was spoken of just before."""
    blade = last.get("condenser-fan-blade")
    if blade is None or m.start - blade.start > 60:
        return False
    return not any(c in last and last[c].start > blade.start for c in _INDOORS)


def _outdoors(doc: Doc, m: Mention, last: dict[str, Mention]) -> bool:
    """Whether "the coil" is the one in the open: by what it is full of, or by the fan last spoken of."""
    if "cottonwood" in doc.norm[max(0, m.start - 12) : m.stop + 12]:
        return True
    near = [last[c] for c in _OUTDOORS | _INDOORS if c in last and m.start - last[c].start <= LOOK_BACK]
    return bool(near) and max(near, key=lambda x: x.start).comp in _OUTDOORS


def is_point(doc: Doc, m: Mention) -> bool:
    """Whether a word that is both a part and a point is said as a point: a value stands behind it."""
    if not m.has("point"):
        return False
    for i in range(m.stop, min(m.stop + 4, len(doc.tokens))):
        owner = doc.owner[i]
        if owner is not None and owner.kind in ("value", "legs"):
            return not (
                m.part and owner.value is not None and doc.vocabulary.points[m.of("point")[0].slug].text
            )
        if owner is not None and (owner.has("verb") or owner.has("condition")):
            return False
        if owner is not None and owner.comp:
            return False
        if doc.tokens[i].brk == 2:
            return False
    return False


_RUN_TO = frozenset(
    {"wiring", "wire-terminal", "gas-line", "refrigerant-line", "condensate-line", "ductwork", "panel"}
)


def _says_where(doc: Doc, m: Mention) -> bool:
    i = m.start - 1
    steps = 0
    while i >= 0 and steps < 3 and not doc.tokens[i + 1].brk:
        word = doc.norm[i]
        if word == "of" and i and doc.norm[i - 1] in ("out", "off", "inside"):
            return True
        led = doc.owner[i - 1] if word == "to" and i else None
        if led is not None and led.comp in _RUN_TO and led.part:
            return True  # "the wire to the crankcase heater"
        if word in _WHERE:
            owner = doc.owner[i]
            return owner is None or not owner.has("verb")
        if word not in _SKIP and CLASS.get(word, ".") not in "dt":
            return False
        if word not in _SKIP and doc.norm[i + 1] in ("the", "a", "an", "its", "their"):
            return False  # "on five the coil": the number is the place
        i -= 1
        steps += 1
    return False


def _inherit_numbers(doc: Doc) -> None:
    """ "Blade on that fan": the blade has the fan's number."""
    for m in doc.mentions:
        if m.comp == "condenser-fan-blade" and m.number is None:
            for other in doc.within(m.stop, min(m.stop + 6, len(doc.tokens))):
                if other.comp == "condenser-fan-motor" and other.modifier and other.number:
                    m.number = other.number
