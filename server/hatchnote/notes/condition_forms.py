"""The many ways one word tells a condition: "won't open", "isn't opening", "no longer opens"; "squeals", "keeps
squealing"; "isn't tight". The vocabulary names the word, the forms are made here.
"""

from __future__ import annotations

from collections.abc import Iterator

from hatchnote.notes.inflect import past_and_ing, third

_NOT_DO = (
    "won't",
    "will not",
    "wouldn't",
    "would not",
    "doesn't",
    "does not",
    "don't",
    "won't even",
    "doesn't even",
    "wouldn't even",
    "refuses to",
    "refused to",
    "fails to",
)
"""Not "didn't" and "couldn't", which are mostly said of oneself."""
_NOT_BE = (
    "isn't",
    "is not",
    "aren't",
    "are not",
    "wasn't",
    "was not",
    "weren't",
    "were not",
    "ain't",
    "not",
    "it's not",
    "they're not",
    "isn't even",
    "wasn't even",
    "is no longer",
    "are no longer",
    "was no longer",
    "hasn't been",
    "has not been",
)
_BEGIN = (
    "starting to",
    "starts to",
    "started to",
    "beginning to",
    "began to",
    "wants to",
    "tends to",
    "likes to",
)


def refusing(verb: str) -> Iterator[str]:
    """What a part no longer does: open -> won't open, isn't opening, no longer opens, quit opening."""
    first, _, rest = verb.partition(" ")
    tail = f" {rest}" if rest else ""
    ing = past_and_ing(first)[1]
    for lead in _NOT_DO:
        yield f"{lead} {verb}"
    for lead in _NOT_BE:
        if "been" not in lead:
            yield f"{lead} {ing}{tail}"
    yield f"no longer {third(first)}{tail}"
    yield f"no longer {ing}{tail}"
    yield f"never {third(first)}{tail}"
    yield f"quit {ing}{tail}"
    yield f"quits {ing}{tail}"
    yield f"stopped {ing}{tail}"
    yield f"stops {ing}{tail}"
    yield f"has stopped {ing}{tail}"


def lacking(what: str) -> Iterator[str]:
    """What a part is not: tight -> isn't tight, was not tight, not tight enough."""
    for lead in _NOT_BE:
        yield f"{lead} {what}"


def doing(verb: str) -> Iterator[str]:
    """What a part does that it should not: squeal -> squeals, is squealing, keeps squealing, starting to squeal."""
    first, _, rest = verb.partition(" ")
    tail = f" {rest}" if rest else ""
    ing = past_and_ing(first)[1]
    yield f"{third(first)}{tail}"
    yield f"{ing}{tail}"
    for lead in ("keeps", "kept", "keep", "starts", "started", "begins", "began"):
        yield f"{lead} {ing}{tail}"
    for lead in _BEGIN:
        yield f"{lead} {verb}"
