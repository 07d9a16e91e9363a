"""Stage: words that stand for a part named before ("the left one", "number two's noisy") and sides said behind a part.

Runs after the parts are known and before work and findings, so that both see the same part with its number.
"""

from __future__ import annotations

from hatchnote.notes.capacitor_sizes import capacitor_sections
from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.machines import number_word
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

REQUIRES = ("components", "values", "tag_at")
ASSIGNS = ("components", "part_numbers")

_SIDES = frozenset(
    ["left", "right", "top", "bottom", "upper", "lower", "front", "rear", "back", "outer", "inner"]
)
_GO_ON = frozenset(
    [
        "is",
        "was",
        "are",
        "were",
        "has",
        "had",
        "looks",
        "sounds",
        "needs",
        "keeps",
        "feels",
        "won't",
        "isn't",
        "wasn't",
        "got",
        "went",
        "just",
        "still",
        "also",
        "only",
        "too",
        "and",
    ]
)
_BACK = 45
_SAME_TYPE = frozenset({"panel", "refrigerant", "curb", "ductwork", "wiring", "insulation"})


def backrefs(doc: Doc) -> None:
    """Resolve them all."""
    _heads(doc)
    _numbers_behind(doc)
    _families_of(doc)
    _numbered_fans(doc)
    _motors_by_size(doc)
    _same_one(doc)
    _parts_of_fans(doc)
    _beside(doc)
    _sides_behind(doc)
    capacitor_sections(doc)
    last: Mention | None = None
    added = False
    n = len(doc.tokens)
    i = 0
    while i < n:
        m = doc.owner[i]
        if m is not None and m.kind == "word" and m.comp and m.part and not m.modifier:
            last = m
            i = m.stop
            continue
        if last is not None and i - last.start <= _BACK and doc.tag_at[i] == doc.tag_at[last.start]:
            found = _stands_for(doc, i)
            if found is not None:
                stop, number = found
                for other in doc.within(i, stop):
                    doc.drop(other)
                last = doc.put(
                    Mention("word", i, stop, (Term("component", last.comp),), comp=last.comp, number=number)
                )
                added = True
                i = stop
                continue
        i += 1
    if added:
        doc.settle()


def _longer_value(doc: Doc, at: int) -> bool:
    """Whether token `at` begins a number of several words ("one point four")."""
    m = doc.owner[at]
    return m is not None and m.kind == "value" and m.stop != at + 1


def _stands_for(doc: Doc, at: int) -> tuple[int, str] | None:
    """ "the left one", "number one's" at token `at`: (token after it, "left")."""
    n = len(doc.tokens)
    word = doc.norm[at]
    if (
        word in _SIDES
        and at + 1 < n
        and doc.norm[at + 1] == "one"
        and not doc.tokens[at + 1].brk
        and not _longer_value(doc, at + 1)
    ):
        after = doc.owner[at + 2] if at + 2 < n and not doc.tokens[at + 2].brk else None
        follows = at + 2 < n and (
            doc.norm[at + 2] in _GO_ON or (after is not None and after.has("condition"))
        )
        if word != "right" or follows:
            return at + 2, word
    if word == "number" and at + 1 < n and not doc.tokens[at + 1].brk:
        owner = doc.owner[at]
        if owner is not None and owner.kind == "machine":
            return None
        value = number_word(doc, at + 1)
        held = doc.owner[at + 1]
        if value is None or not 1 <= value <= 8 or (held is not None and held.stop != at + 2):
            return None
        token = doc.tokens[at + 1]
        after = doc.owner[at + 2] if at + 2 < n else None
        goes_on = (
            at + 2 < n
            and not doc.tokens[at + 2].brk
            and (doc.norm[at + 2] in _GO_ON or (after is not None and after.has("condition")))
        )
        if token.lower.endswith(("'s", "’s")) or goes_on:
            return at + 2, str(value)
    return None


def _heads(doc: Doc) -> None:
    """ "The burner harness": of two parts named in one breath the last is meant, the first says where."""
    for m in doc.mentions:
        if m.kind != "word" or not m.comp or not m.part or m.plural or m.number or m.stop >= len(doc.tokens):
            continue
        after = doc.owner[m.stop]
        if after is None or after.kind != "word" or not after.comp or not after.part or after.comp == m.comp:
            continue
        if doc.tokens[m.stop].brk or doc.tokens[m.stop - 1].lower.endswith(("'s", "’s", "s")):
            continue
        if m.has("component") and after.has("component"):
            m.modifier = True


def _families_of(doc: Doc) -> None:
    """ "A new motor on the inducer": a bare word is the part of its kind that is named behind it."""
    for m in doc.mentions:
        if m.kind != "word" or not m.has("family") or m.has("component") or m.stop + 2 >= len(doc.tokens):
            continue
        if doc.norm[m.stop : m.stop + 2] not in (["on", "the"], ["for", "the"], ["in", "the"], ["of", "the"]):
            continue
        x = doc.owner[m.stop + 2]
        if x is None or not x.has("component") or any(doc.tokens[k].brk for k in range(m.stop, m.stop + 3)):
            continue
        if x.comp in {t.slug for t in m.of("family")}:
            m.comp = x.comp
            m.number = m.number or x.number


_FANS = (["fan", "motor"], ["fan"], ["fans", "motor"])


def _numbers_behind(doc: Doc) -> None:
    """ "Changed fan motor three, quarter horse", "fan three is dead": a bare number right behind that ends the name."""
    for m in doc.mentions:
        if m.kind != "word" or m.number or not m.has("family") or doc.norm[m.start : m.stop] not in _FANS:
            continue
        at = m.stop
        if at >= len(doc.tokens) or doc.tokens[at].brk:
            continue
        value = doc.owner[at]
        count = number_word(doc, at)
        if (
            count is None
            or not 1 <= count <= 6
            or (value is not None and (value.kind != "value" or value.stop != at + 1))
        ):
            continue
        ends = at + 1 >= len(doc.tokens) or doc.tokens[at + 1].brk or doc.norm[at + 1] in _GO_ON
        possessive = doc.tokens[at].lower.endswith(("'s", "’s"))
        behind = doc.owner[at + 1] if at + 1 < len(doc.tokens) else None
        if not (ends or possessive or (behind is not None and behind.has("condition"))):
            continue
        m.number = f"{count:.10g}"
        if value is not None:
            value.claimed = "number"


def _numbered_fans(doc: Doc) -> None:
    """ "Fan motor one", "fan two": several fans of a kind are the condenser's; "that motor" after it is the same."""
    last: Mention | None = None
    for m in doc.mentions:
        bare = m.kind == "word" and m.has("family") and not m.comp
        if bare and doc.norm[m.start] == "fan" and m.number in ("1", "2", "3", "4", "5", "6"):
            m.comp = "condenser-fan-motor"
        if m.kind != "word" or not m.comp:
            continue
        family = m.has("family") and not m.has("component")
        if not family:
            last = None if m.comp == "supply-fan-motor" else last
            continue
        if doc.norm[m.start] == "fan" and m.number in ("1", "2", "3", "4") and m.comp == "supply-fan-motor":
            m.comp = "condenser-fan-motor"
            last = m
        elif last is not None and m.comp == "supply-fan-motor" and _same_fan(doc, m, last):
            m.comp = last.comp
            m.number = m.number or (last.number if doc.norm[m.start - 1] == "that" else None)


_ONES = words("compressor condenser-fan-motor contactor crankcase-heater inducer-motor igniter bearing")


def _same_one(doc: Doc) -> None:
    """ "Compressor two has no ohms, so that compressor's grounded", "contactor number two has pitted points"."""
    last: dict[str, Mention] = {}
    for m in doc.mentions:
        if m.kind != "word" or not m.comp or not m.part or m.comp not in _ONES:
            continue
        if m.plural and doc.norm[m.start : m.stop] not in (["points"], ["contacts"]):
            continue
        if m.number:
            last[m.comp] = m
            continue
        one = last.get(m.comp)
        if (
            one is None
            or "," in (one.number or "")
            or m.start - one.start > 30
            or doc.tag_at[m.start] != doc.tag_at[one.start]
        ):
            continue
        before = doc.norm[m.start - 1] if m.start else ""
        here = not any(doc.tokens[k].brk == 2 for k in range(one.stop, m.start + 1))
        points = doc.norm[m.start : m.stop] in (["points"], ["contacts"])
        if before in ("that", "this", "same") or (here and points and m.start - one.start < 9):
            m.number = one.number


_BLADE_BACK = 14
_BESIDE = frozenset(
    {
        "after",
        "before",
        "past",
        "behind",
        "beside",
        "above",
        "below",
        "under",
        "near",
        "by",
        "against",
        "feeding",
    }
)
_BESIDE_OF = (
    ["ahead", "of"],
    ["back", "of"],
    ["front", "of"],
    ["side", "of"],
    ["upstream", "of"],
    ["downstream", "of"],
    ["next", "to"],
    ["close", "to"],
)
_TO_OR_AT = frozenset({"to", "for", "on", "from", "at"})
_LINES = frozenset({"wiring", "gas-line", "refrigerant-line", "insulation"})
_RUNNING = words(
    "running going coming leading right just mounted sitting located that's that is in at on the"
)


def _parts_of_fans(doc: Doc) -> None:
    """ "Condenser fan two's wobbling, the blade is cracked", "motor two is locked up and its blade is bent"."""
    for m in doc.mentions:
        if m.comp != "condenser-fan-blade" or m.number is not None or m.kind != "word" or m.plural:
            continue
        for i in range(m.start - 1, max(-1, m.start - _BLADE_BACK), -1):
            x = doc.owner[i]
            if doc.tokens[i + 1].brk == 2:
                break
            if x is None or x is m or not x.comp or not x.part:
                continue
            if x.comp == "condenser-fan-motor" and x.number in (
                "1",
                "2",
                "3",
                "4",
                "5",
                "6",
                "left",
                "right",
            ):
                m.number = x.number
                if x.stop == m.start:
                    x.modifier = True
            break


def _beside(doc: Doc) -> None:
    """ "The gas union ahead of the valve", "the wire running past the panel": the second says where."""
    for m in doc.mentions:
        if m.kind != "word" or not m.comp or not m.part or m.start < 2 or m.modifier:
            continue
        if doc.norm[m.stop : m.stop + 1] and doc.norm[m.stop] in _STRETCH and _on_a_side(doc, m):
            m.modifier = True
            continue
        k = m.start - (doc.norm[m.start - 1] in ("the", "that", "its"))
        if doc.norm[k - 1] == "to" and k < m.start and "from" in doc.norm[max(0, m.start - 6) : k]:
            m.modifier = not any(
                t.brk for t in doc.tokens[k - 1 : m.start + 1]
            )  # "the wiring to the contactor"
            continue
        where = 1 if doc.norm[k - 1] in _BESIDE else 2 if doc.norm[k - 2 : k] in _BESIDE_OF else 0
        i = k - where - 1
        while where and i > 0 and doc.norm[i] in _RUNNING and doc.owner[i] is None:
            i -= 1
        if not where and doc.norm[k - 1] in _TO_OR_AT:
            line = doc.owner[k - 2] if k >= 2 else None
            if line is not None and line.comp in _LINES and line.part and k < m.start and line.kind == "word":
                m.modifier = not any(
                    t.brk for t in doc.tokens[k - 1 : m.start + 1]
                )  # "the wires to the compressor"
            continue
        if not where or i < 0 or any(t.brk for t in doc.tokens[i + 1 : m.start + 1]):
            continue
        before = doc.owner[i]
        if before is not None and before.comp and before.part and before.kind == "word":
            m.modifier = True


_STRETCH = frozenset({"side", "end", "area", "compartment", "section"})


def _on_a_side(doc: Doc, m: Mention) -> bool:
    """ "The gasket of the burner side": where the part before is."""
    k = m.start - (doc.norm[m.start - 1] in ("the", "that"))
    if k < 2 or doc.norm[k - 1] not in ("of", "on", "at", "in", "from"):
        return False
    before = doc.owner[k - 2]
    whole = not any(t.brk for t in doc.tokens[k - 1 : m.stop + 1])
    return whole and before is not None and bool(before.comp) and before.part and before.kind == "word"


def _motors_by_size(doc: Doc) -> None:
    """ "A third horse eight twenty five motor": a motor sold by horse power and speed is no compressor."""
    last: Mention | None = None
    for m in doc.mentions:
        if m.kind != "word" or not m.comp or not m.part:
            continue
        if m.has("component") and m.comp in _FAN_MOTORS:
            last = m
        bare = m.has("family") and not m.has("component") and doc.norm[m.stop - 1] in ("motor", "motors")
        if not bare or not (m.comp == "compressor" or _small_motor(doc, m)):
            continue
        power = [
            x for x in doc.within(max(0, m.start - 6), m.start) if x.kind == "value" and x.value is not None
        ]
        if not any(x.value is not None and x.value.ucum == "[HP]" for x in power):
            continue
        if _small_motor(doc, m):
            m.comp = "condenser-fan-motor"
        elif last is not None:
            m.comp = last.comp


_FAN_MOTORS = frozenset({"condenser-fan-motor", "supply-fan-motor", "inducer-motor"})
_FAN_SPEEDS = frozenset({825.0, 830.0, 850.0, 1050.0, 1075.0, 1100.0, 1140.0})
"""Speeds in revolutions a minute of six and eight pole motors, which drive propeller fans without a belt. Common
practice, no source."""


def _small_motor(doc: Doc, m: Mention) -> bool:
    """Under one horse and at the speed of a propeller fan."""
    values = [x.value for x in doc.within(max(0, m.start - 6), m.start) if x.kind == "value" and x.value]
    return any(v.ucum == "[HP]" and v.first <= 1 for v in values) and any(
        v.first in _FAN_SPEEDS for v in values
    )


def _same_fan(doc: Doc, m: Mention, last: Mention) -> bool:
    near = m.start - last.start < 40 and doc.tag_at[m.start] == doc.tag_at[last.start]
    return near and doc.norm[m.start - 1] in ("that", "the", "this")


def _sides_behind(doc: Doc) -> None:
    """ "The bearing on the right", "the crankcase heater on number two"."""
    n = len(doc.tokens)
    for m in doc.mentions:
        if (
            m.kind != "word"
            or not m.comp
            or not m.part
            or m.number
            or m.modifier
            or m.comp in _SAME_TYPE
            or m.stop + 2 >= n
        ):
            continue
        if doc.norm[m.stop] not in ("on", "at") or any(doc.tokens[k].brk for k in range(m.stop, m.stop + 3)):
            continue
        side = doc.norm[m.stop + 2]
        if doc.norm[m.stop + 1] == "the" and side in _SIDES:
            after = m.stop + 3
            if after < n and doc.norm[after] in ("side", "hand", "end"):
                after += 1
            owner = doc.owner[after] if after < n and not doc.tokens[after].brk else None
            if owner is None or not owner.comp:
                m.number = side
        elif doc.norm[m.stop + 1] == "number":
            owner = doc.owner[m.stop + 1]
            value = number_word(doc, m.stop + 2)
            if value is not None and 1 <= value <= 4 and (owner is None or owner.kind != "machine"):
                m.number = str(value)
