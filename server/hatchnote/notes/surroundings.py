"""How well the recogniser heard the seconds around a value.

In noise it is sure of single words it made up, and a second listener may make up the same one; but it is not sure
of all the words around. Chosen on dictations mixed with noise (benchmarks/listening): at 0 dB nine of ten wrong
values that carried no mark stood in such a stretch, at 5 dB all, at 10 dB half; of the right ones in quiet one in
twelve.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log

from hatchnote.domain import Word

AROUND_S = 4.0
HARDLY_HEARD = -0.3
"""Mean natural logarithm of the words' probabilities, below which a stretch was hardly heard."""
_LEAST = 1e-3


def hardly_heard(words: Sequence[Word], at: range) -> bool:
    """True when the other words within 4 s of those at the given places are improbable on the whole.

    False for typed words: they have no probability.
    """
    if not at or words[at[0]].start is None or words[at[0]].p is None:
        return False
    first, last = (words[at[0]].start or 0.0) - AROUND_S, (words[at[-1]].end or 0.0) + AROUND_S
    low, high = at[0], at[-1] + 1
    while low > 0 and (words[low - 1].start or 0.0) >= first:
        low -= 1
    while high < len(words) and (words[high].start or 0.0) <= last:
        high += 1
    around = [*words[low : at[0]], *words[at[-1] + 1 : high]]
    known = [log(max(_LEAST, w.p)) for w in around if w.p is not None]
    return bool(known) and sum(known) / len(known) < HARDLY_HEARD
