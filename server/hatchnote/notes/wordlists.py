"""Lists of small words, written as running text so that a long one stays readable."""

from __future__ import annotations


def words(text: str) -> frozenset[str]:
    """The words of `text`, divided by white space."""
    return frozenset(text.split())
