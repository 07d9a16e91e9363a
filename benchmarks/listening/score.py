"""Two yardsticks for a transcript: word error rate, and how many of the spoken digits came through.

Both sides are folded first by Whisper's published English normaliser (package whisper-normalizer): spoken
numbers become figures, spelling and punctuation go. Letters said one by one are joined ("R T U" = "RTU").
Digits are then compared as one string, since a recogniser groups them at random ("11-2", "112", "11.2").
"""

from __future__ import annotations

import re
from functools import lru_cache


@lru_cache(maxsize=1)
def _normaliser():
    from whisper_normalizer.english import EnglishTextNormalizer

    return EnglishTextNormalizer()


def folded(text: str) -> str:
    """Normalised text with spelt letters joined."""
    plain = _normaliser()(text)
    plain = re.sub(r"\b(\w) (?=\w\b(?! \d))", r"\1", plain)
    return " ".join(plain.split())


def digits(text: str) -> str:
    """Only the digits, in order, as one string."""
    return re.sub(r"\D", "", _normaliser()(text))


def word_errors(said: str, heard: str) -> tuple[int, int]:
    """(errors, words said): sum both over many texts before dividing."""
    import jiwer

    reference, hypothesis = folded(said), folded(heard)
    if not reference:
        return len(hypothesis.split()), 0
    found = jiwer.process_words(reference, hypothesis or " ")
    return found.substitutions + found.deletions + found.insertions, len(reference.split())


def digit_errors(said: str, heard: str) -> tuple[int, int]:
    """(edits, digits said) between the digit strings."""
    from rapidfuzz.distance import Levenshtein

    a, b = digits(said), digits(heard)
    return Levenshtein.distance(a, b), len(a)
