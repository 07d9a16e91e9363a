"""What the recogniser is told beforehand: the trade's words, and the site's.

Primed with numbers it hears those numbers, so the text holds no digit and no number word. Primed at all
it talks over noise, so `recognise` uses it behind guards only.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from hatchnote.speech.numberwords import without_numbers

TRADE = (
    "Notes on the rooftop unit, RTU. Voltage at the disconnect, volts, amps, kilohms, megohms to ground, microfarads, "
    "microamps flame signal, hertz. Suction, discharge and liquid pressure in psig, superheat, subcooling, microns. "
    "Manifold and inlet gas pressure, inches water column, total external static. Return air, supply air, "
    "mixed air, wet bulb. Compressor, contactor, run capacitor, condenser fan, economizer, damper actuator, "
    "inducer, igniter, flame sensor, heat exchanger, blower, belt, sheave, VFD, TXV, filter drier, Schrader core."
)
"""Written as a technician's note would be punctuated: the recogniser imitates the manner as well."""
SITE_WORDS = 24
"""At most so many of the site's own words: the model gives the prompt half its window, and pays for each."""
_WORD = re.compile(r"[A-Za-z]")


def priming_text(vocabulary: Iterable[str] = (), *, trade: bool = True, site: bool = True) -> str | None:
    """The trade's words and then the site's (tags, nicknames), without any number in them; None: nothing."""
    parts = ([TRADE] if trade else []) + ([own] if site and (own := _site_words(vocabulary)) else [])
    return " ".join(parts) or None


def _site_words(vocabulary: Iterable[str]) -> str:
    known = TRADE.lower()
    out: list[str] = []
    for term in without_numbers(" ".join(str(t).split()) for t in vocabulary):
        plain = term.lower()
        if _WORD.search(term) and plain not in known and plain not in (o.lower() for o in out):
            out.append(term)
    return f"{', '.join(out[:SITE_WORDS])}." if out else ""
