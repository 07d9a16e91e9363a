"""Two yardsticks for a transcript: errors in its words, and how many of the spoken digits came through.

Both sides are folded first by Whisper's published English normaliser (package whisper-normalizer): spelling and
punctuation go, spoken numbers become figures. Letters said one by one are joined ("R T U" = "RTU"). What is left
is scored in two parts, because a recogniser groups digits at random ("11-2", "112", "11.2"): the words that carry
no number by jiwer's word error rate, and all digits, in order, as one string.
"""

from __future__ import annotations

import re
from functools import lru_cache

from hatchnote.speech.numberwords import carries_number


@lru_cache(maxsize=1)
def _normaliser():
    from whisper_normalizer.english import EnglishTextNormalizer

    return EnglishTextNormalizer()


def folded(text: str) -> str:
    """Normalised words without the ones that carry a number, and without single letters."""
    spaced = text.replace("-", " ")
    joined = re.sub(r"\b([A-Z])((?: [A-Z]\b)+)", lambda m: m[0].replace(" ", ""), spaced)
    plain = re.sub(r"(?<=[a-z])(?=\d)|(?<=\d)(?=[a-z])", " ", _normaliser()(joined))
    return " ".join(w for w in plain.split() if len(w) > 1 and not carries_number(w))


def digits(text: str) -> str:
    """Only the digits, in order, as one string."""
    return re.sub(r"\D", "", _normaliser()(text.replace("-", " ")))


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
