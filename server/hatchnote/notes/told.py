"""Where he says that he informed somebody: what a record of a dangerous condition must hold.

"Told the manager at ten twenty" counts; "the manager told me" and "did not tell anybody" do not.
"""

from __future__ import annotations

import re

from hatchnote.notes.doc import Doc

_PERSON = (
    r"(?:the|their|his|her|our|your|a|an|mr|mrs|ms|miss|them|him|everyone|everybody|someone|somebody|management"
    r"|maintenance|dispatch|office)"
)
_SAID = re.compile(
    rf"\b(?:told|informed|notified|advised|warned|spoke to|spoke with|talked to|talked with)\s+{_PERSON}\b"
    rf"|\blet\s+{_PERSON}(?:\s+\w+){{0,2}}\s+know\b",
    re.IGNORECASE,
)
_NOT = re.compile(r"\b(?:not|never|nobody|no one|\w+n't|didnt)\b[^.]*$", re.IGNORECASE)


def told(doc: Doc) -> tuple[tuple[str | None, str], ...]:
    """(machine spoken of, the words) for every sentence in which he informed somebody."""
    out = []
    for start, stop in doc.sentences:
        if stop <= start:
            continue
        begin, end = doc.tokens[start].start, doc.tokens[stop - 1].end
        words = doc.text[begin:end]
        found = _SAID.search(words)
        if found and not _NOT.search(words[: found.start()]):
            at = next((i for i in range(start, stop) if doc.tokens[i].start >= begin + found.start()), start)
            out.append((doc.tag_at[at], words[found.start() :].strip()))
    return tuple(out)
