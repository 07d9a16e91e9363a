"""What a word for a condition means by the part it is said of: a frozen coil is iced, a frozen damper stuck."""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.notes.wordlists import words


class _Rule(NamedTuple):
    said: str
    parts: frozenset[str]
    meant: str
    words: frozenset[str] = frozenset()
    """One of these must be among the words; empty: any."""


_COLD = frozenset(
    {
        "evaporator-coil",
        "condenser-coil",
        "refrigerant-line",
        "condensate-line",
        "filter-drier",
        "metering-valve",
        "drain-pan",
    }
)
_DRAINS = frozenset(
    {"condensate-trap", "condensate-line", "metering-valve", "filter-drier", "pressure-switch"}
)
_CONTACTS = frozenset({"contactor", "wire-terminal", "wiring", "disconnect", "relay"})
_SOFT = frozenset({"wiring", "insulation", "ductwork", "gasket"})

_HOLDING = words("gas-valve service-valve schrader-core reversing-valve refrigerant-line gas-union")
_OFF_BY = frozenset({"by", "lying", "lies", "degrees"})
_SENSING = words(
    """
    supply-air-sensor return-air-sensor outdoor-air-sensor coil-sensor condenser-coil-sensor thermostat
    evaporator-coil-sensor pressure-switch limit-switch low-pressure-switch high-pressure-switch
    run-capacitor transformer control-board
    """
)
_DRIVEN = frozenset({"sheave", "motor-pulley", "supply-fan-belt", "supply-fan-wheel", "supply-fan-motor"})
_ANY: frozenset[str] = frozenset()
"""Stands for every other part."""

_RULES = (
    _Rule("seized", _COLD, "iced", frozenset({"froze", "frozen", "freezes", "freezing"})),
    _Rule("dirty", _DRAINS, "plugged", frozenset({"packed", "full", "loaded", "impacted"})),
    _Rule(
        "failed", _CONTACTS, "burnt", frozenset({"cooked", "fried", "burned", "burnt", "smoked", "crispy"})
    ),
    _Rule(
        "dirty",
        _CONTACTS | {"control-board", "transformer"},
        "burnt",
        frozenset({"black", "blackened", "sooty"}),
    ),
    _Rule("leaking", _HOLDING, "leaking", frozenset({"hold", "holding"})),
    _Rule("leaking", _ANY, "", frozenset({"hold", "holding"})),
    _Rule("failed", frozenset({"fuse"}), "blown"),
    _Rule("burnt", frozenset({"fuse"}), "blown"),
    _Rule("worn", _SOFT, "damaged", frozenset({"chewed", "frayed", "fraying", "eaten", "shredded", "dry"})),
    _Rule("rusted-through", _SOFT | {"supply-fan-belt"}, "damaged"),
    _Rule("seized", _DRAINS | {"burner"}, "plugged", frozenset({"shut"})),
    _Rule("seized", frozenset({"air-filter"}), "", frozenset({"jammed", "wedged", "stuck", "crammed"})),
    _Rule(
        "damaged",
        frozenset({"supply-fan-wheel", "condenser-fan-blade"}),
        "misaligned",
        frozenset({"rubbing"}),
    ),
    _Rule("missing", frozenset({"bearing"}), "failed", frozenset({"gone"})),
    _Rule("worn", frozenset({"relay", "contactor", "gas-valve"}), "seized", frozenset({"hanging", "hangs"})),
    _Rule("loose", frozenset({"relay", "contactor", "gas-valve"}), "seized", frozenset({"hanging", "hangs"})),
    _Rule("misaligned", frozenset({"wiring"}), "", frozenset({"twisted"})),
    _Rule("out-of-range", _SENSING, "out-of-range", _OFF_BY),
    _Rule("out-of-range", _DRIVEN, "misaligned", _OFF_BY),
    _Rule("out-of-range", _ANY, "", _OFF_BY),
)


def meant_of(slug: str, comp: str, said: list[str]) -> str:
    """The condition that the words `said`, vocabulary's `slug`, mean of part `comp`; empty where they mean none.

    Common practice, no source.
    """
    for rule in _RULES:
        mine = comp in rule.parts or rule.parts is _ANY
        if rule.said == slug and mine and (not rule.words or rule.words & set(said)):
            return rule.meant
    return slug
