"""What can be worked out for one machine: readings in, Computed out, one file a subject.

Each file has `work(machine)`, which yields a Computed for everything the readings call for: with the numbers put in,
or with the reason why it is unknown.
"""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.domain import Computed
from hatchnote.trade.machine import Machine
from hatchnote.trade.worked import air, belts, direct, electrical, gas, refrigeration, sensors

SUBJECTS = (refrigeration, electrical, gas, air, belts, sensors, direct)


def work(machine: Machine) -> Iterator[Computed]:
    """Everything that follows from the readings of one machine."""
    for subject in SUBJECTS:
        yield from subject.work(machine)
