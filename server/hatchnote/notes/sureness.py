"""How sure each rule is: the share of its readings that were right in value, unit and point.

Counted over 1,900 readings of the open dictations (blind-a, blind-b, tuning-c and the first sixty of tuning-d) while
half of their misses were still there, and rounded down: what is unseen goes wrong more often than what was looked at.
The reliability table of benchmarks/notes/score.py shows how the sum comes out.
"""

from __future__ import annotations

from hatchnote.notes.doc import Draft

_RIGHT = {
    "point before the value": 0.98,
    "part with its point implied": 0.97,
    "before what it is of": 0.96,
    "rating or setting of the point before": 0.94,
    "point behind the value": 0.96,
    "left, of the point found before": 0.97,
    "low side, then high side": 0.97,
    "low over high": 0.97,
    "position of the point before": 0.93,
    "by its unit": 0.9,
    "in a list before its point": 0.9,
    "designation": 0.93,
}
_OTHER = 0.95
_DOUBT, _COST = 0.2, 0.06
"""What a doubt takes off, and a unit of cost of an unusual way of saying the value."""


def sureness(d: Draft) -> float:
    """Between 0.05 and 0.99: the rule's own share, less what is unusual and what is marked."""
    own = _RIGHT.get(d.rule, _OTHER)
    return max(0.05, min(0.99, own - _COST * max(0.0, d.cost) - _DOUBT * len(d.doubts)))
