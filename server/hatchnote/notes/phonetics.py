"""How a written word roughly sounds, and how alike two of them sound.

Letters are turned into one character a sound by spelling rules of our own; consonants that recognisers take for
each other in noise (p and b, t and d, s and z, m and n ...) share a class. No source: common practice in
phonetic matching.
"""

from __future__ import annotations

import re
from functools import lru_cache

_SPELLINGS = (
    ("tion", "Sn"), ("sion", "Sn"), ("ough", "o"), ("augh", "o"), ("igh", "y"), ("eigh", "e"), ("sch", "sk"),
    ("tch", "C"), ("ch", "C"), ("sh", "S"), ("th", "D"), ("ph", "f"), ("ck", "k"), ("qu", "kw"), ("wh", "w"),
    ("kn", "n"), ("wr", "r"), ("dge", "J"), ("gh", ""), ("mb", "m"), ("x", "ks"),
)  # fmt: skip
_CLASSES = str.maketrans("bdgvzDJqcy", "ptkfstCkki")


@lru_cache(maxsize=20_000)
def sound(text: str) -> str:
    """The sounds of a word or of several, run together; "" for text without letters."""
    return "".join(_one(word) for word in re.findall(r"[a-z]+", text.lower()))


def _one(word: str) -> str:
    for letters, said in _SPELLINGS:
        word = word.replace(letters, said)
    word = re.sub(r"c(?=[eiy])", "s", word)
    word = re.sub(r"(?<=..)e$|(?<=..)e(?=s$)", "", word)
    word = re.sub(r"(?<=.)h(?![aeiou])|(?<=[aeiou])h", "", word)
    word = word.translate(_CLASSES)
    word = re.sub(r"[aeiou]*[ou][aeiou]*|w(?![aeiou])", "o", word)
    word = re.sub(r"[aei]+", "a", word)
    return re.sub(r"(.)\1+", r"\1", word)


def alike(one: str, other: str, cutoff: float = 0.0) -> float:
    """How alike two results of `sound` are, 0 to 1; consonants alone count as much as the whole. 0 below `cutoff`."""
    from rapidfuzz.distance import Levenshtein

    whole = float(Levenshtein.normalized_similarity(one, other))
    if whole < cutoff - 0.2:
        return 0.0
    bare = float(Levenshtein.normalized_similarity(_consonants(one), _consonants(other)))
    both = (whole + bare) / 2
    return both if both >= cutoff else 0.0


@lru_cache(maxsize=20_000)
def _consonants(said: str) -> str:
    return re.sub("[ao]", "", said).replace("m", "n")
