"""Writing down one worked value: judged, named, with the numbers put in, or unknown with the reason."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Sequence

from hatchnote.domain import Computed, Moment, Reading
from hatchnote.errors import BadInput
from hatchnote.trade.amounts import Formula, Unit, number
from hatchnote.trade.limits import Context, Range, compare, limits, plain
from hatchnote.trade.machine import Machine, Want, amount, words
from hatchnote.trade.nameplates import Disagreement

Worked = tuple[float, str]
"""A value in the unit of its limit, and the formula with the numbers put in."""


def title(kind: str, *qualifiers: str | None, moment: Moment | None = None) -> str:
    """ "superheat, circuit 2, as found"."""
    parts = [limits().by_kind[kind].name, *(q for q in qualifiers if q)]
    if moment:
        parts.append(words(moment))
    return ", ".join(parts)


def identity(tag: str | None, name: str) -> str:
    """A stable id: the same value of the same machine keeps it through every new reading of the text."""
    return "c-" + hashlib.blake2s(f"{tag}|{name}".encode(), digest_size=6).hexdigest()


def shown(reading: Reading, decimals: int | None = None) -> str:
    """A reading as it is put into a formula: "3.5 in. w.c."."""
    value = plain(reading.value) if decimals is None else f"{reading.value:.{decimals}f}"
    return f"{value} {reading.unit or reading.ucum or ''}".strip()


def source_of(*formulas: Formula) -> str:
    return "; ".join(dict.fromkeys(f.source for f in formulas))


def put_down(
    machine: Machine,
    kind: str,
    name: str,
    inputs: Sequence[Reading | None],
    source: str,
    compute: Callable[[], Worked],
    *,
    plate: Callable[[], Range | None] | None = None,
    context: Context | None = None,
) -> Computed:
    """Compute and judge; anything that cannot be computed becomes unknown with its reason."""
    try:
        value, text = compute()
        own = plate() if plate else None
    except (BadInput, Disagreement) as reason:
        return unknown(machine, kind, name, inputs, source, str(reason))
    verdict = compare(kind, value, plate=own, context=context)
    judgement, expected = verdict.judgement, verdict.expected
    doubtful = _doubtful(inputs)
    if doubtful and judgement != "unknown":
        expected = f"{expected}; would be {judgement}, but depends on a reading marked to check"
        judgement = "unknown"
    limit = limits().by_kind[kind]
    return Computed(
        identity(machine.tag, name),
        name,
        round(value, limit.decimals),
        limit.unit,
        limit.ucum,
        _ids(inputs),
        text,
        source,
        judgement,
        expected,
        limit.difference,
        machine.tag,
        doubtful,
    )


def unknown(
    machine: Machine, kind: str, name: str, inputs: Sequence[Reading | None], source: str, why: str
) -> Computed:
    """A value that cannot be worked out, and why."""
    limit = limits().by_kind[kind]
    return Computed(
        identity(machine.tag, name),
        name,
        None,
        limit.unit,
        limit.ucum,
        _ids(inputs),
        f"unknown ({why})",
        source,
        "unknown",
        None,
        limit.difference,
        machine.tag,
        _doubtful(inputs),
    )


def as_said(machine: Machine, kind: str, want: Want, *qualifiers: str | None) -> Iterator[Computed]:
    """Judge a value the technician worked out himself, where there is one."""
    chosen = machine.choose({"said": want})
    name = title(kind, *qualifiers, moment=chosen.moment)
    if chosen.conflict:
        yield unknown(machine, kind, name, [], "as said", chosen.conflict)
    elif chosen.whole:
        read = chosen.readings["said"]
        limit = limits().by_kind[kind]
        yield put_down(
            machine,
            kind,
            name,
            [read],
            "as said by the technician",
            lambda: (number(amount(read), Unit(limit.ucum, limit.difference)), f"{shown(read)} as said"),
            plate=lambda: machine.plate.range_for(kind),
        )


def _ids(inputs: Sequence[Reading | None]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(r.id for r in inputs if r is not None))


def _doubtful(inputs: Sequence[Reading | None]) -> bool:
    return any(r is not None and r.check is not None for r in inputs)


__all__ = ["Worked", "amount", "as_said", "identity", "put_down", "shown", "source_of", "title", "unknown"]
