"""When not to believe a decoding: Whisper writes something over anything, and loops when it is lost."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

from hatchnote.domain import Word

if TYPE_CHECKING:
    from hatchnote.speech.settings import ListenSettings

_FASTEST_WORDS_PER_S = 6.5
"""Hurried talk reaches some five words a second; more is the model talking by itself."""
_ECHO_WORDS = 6
_FEW_WORDS, _STRETCHED_S, _SURE = 2, 2.5, 0.4
_ENOUGH_AGREEMENT = 0.3


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One decoding of one segment. `log_prob` is the mean per token, `seconds` the segment's length."""

    words: tuple[Word, ...]
    text: str
    log_prob: float
    no_speech: float
    seconds: float
    primed: bool = False


def failing(h: Hypothesis, settings: ListenSettings, *, prompt: str | None = None) -> str | None:
    """Why this decoding is not to be believed, or None."""
    if not h.text.strip():
        return "nothing"
    if h.no_speech > settings.no_speech and h.log_prob < settings.log_prob:
        return "no speech"
    if compression(h.text) > settings.compression:
        return "repeats"
    if loops(h.text.split()):
        return "loops"
    if len(h.text.split()) > 3 + _FASTEST_WORDS_PER_S * h.seconds:
        return "too many words"
    if stretched(h):
        return "stretched"
    if prompt and echoes(h.text, prompt):
        return "echo of the priming"
    if h.log_prob < settings.log_prob:
        return "unsure"
    return None


def stretched(h: Hypothesis) -> bool:
    """True for a word or two, improbable, laid over seconds: what is written over a hum."""
    sure = max((w.p or 0.0 for w in h.words), default=0.0)
    return len(h.words) <= _FEW_WORDS and h.seconds > _STRETCHED_S and sure < _SURE


def compression(text: str) -> float:
    """Bytes of the text over its compressed bytes: above about 2.4 it repeats itself."""
    raw = text.encode()
    return len(raw) / len(zlib.compress(raw))


def loops(words: Sequence[str]) -> bool:
    """True when a run of one to six words stands four times in a row; of figures, six times.

    People do say "eleven two, eleven two, eleven two" over three legs.
    """
    plain = [w.strip(".,!?-").lower() for w in words]
    for size in range(1, 7):
        for at in range(len(plain) - size * 4 + 1):
            unit = plain[at : at + size]
            times = 6 if any(c.isdigit() for w in unit for c in w) else 4
            if plain[at : at + size * times] == unit * times:
                return True
    return False


def echoes(text: str, prompt: str) -> bool:
    """True when six words in a row were only read off the priming text."""
    said, given = _plain(text), _plain(prompt)
    match = SequenceMatcher(None, said, given, autojunk=False).find_longest_match()
    return match.size >= _ECHO_WORDS


def agreement(a: str, b: str) -> float:
    """How much of the shorter of two texts is in both, in order, 0..1."""
    x, y = _digit_by_digit(_plain(a)), _digit_by_digit(_plain(b))
    if not x or not y:
        return 0.0
    same = sum(m.size for m in SequenceMatcher(None, x, y, autojunk=False).get_matching_blocks())
    return same / max(len(x), len(y))


def agree(a: str, b: str) -> bool:
    """True when two independent decodings are plainly of the same speech. Inventions differ."""
    return agreement(a, b) >= _ENOUGH_AGREEMENT


def _plain(text: str) -> list[str]:
    return [w for w in ("".join(c for c in t if c.isalnum()).lower() for t in text.split()) if w]


def _digit_by_digit(words: list[str]) -> list[str]:
    """Recognisers group digits at random: "10028" and "1-0-0-2-8" are the same speech."""
    return [piece for w in words for piece in ([*w] if w.isdigit() else [w])]
