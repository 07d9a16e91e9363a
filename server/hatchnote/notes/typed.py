"""Contractions as thumbs type them, without the apostrophe: "wont start", "didnt check", "its at 43 now"."""

from __future__ import annotations

from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.tokens import Token
from hatchnote.notes.wordlists import words

_NOT = words(
    """
    ain aren can couldn didn doesn don hadn hasn haven isn mustn needn shouldn wasn weren won wouldn
    """
)
CONTRACTIONS = {f"{stem}t": f"{stem}'t" for stem in _NOT} | {
    "im": "i'm",
    "ive": "i've",
    "thats": "that's",
    "theres": "there's",
    "theyre": "they're",
    "theyve": "they've",
    "weve": "we've",
    "whats": "what's",
    "hes": "he's",
    "shes": "she's",
    "youre": "you're",
}
"""Those that are no word of their own without the apostrophe ("hell", "well", "ill", "were" are)."""
_BEHIND_IT = words(
    """
    at now not been about around running reading pulling drawing sitting holding showing getting going doing still only
    just good fine okay ok up down back on off in out working leaking making bad shot dead gone all too a an the like
    probably tripped stuck open shut closed loose tight low high clean dirty
    """
)
"""Words behind "its" that no thing has: there it is "it's"."""
_GIVEN_ITS = words(
    "getting gets got get has have had sees seeing with of on at for from to lost missing needs"
)
_THINGS = words(
    """
    bearing wiring housing spring string coating setting winding opening casing fitting rating piping tubing bushing
    gasketing running lining ceiling railing flashing ducting framing
    """
)
"""Words in -ing that a thing can have: "its bearing"."""
_AS_NUMBER = "dtxzZN"


def with_apostrophes(tokens: list[Token]) -> list[Token]:
    """The tokens with the apostrophes put into `lower` that were left out; text and places stay as they are."""
    return [_whole(tokens, i) for i in range(len(tokens))]


def _whole(tokens: list[Token], i: int) -> Token:
    token = tokens[i]
    if token.lower == "w" and 0 < i < len(tokens) - 1 and token.text == "w":
        nxt, before = tokens[i + 1], tokens[i - 1]
        wordy = nxt.kind == "w" and len(nxt.text) > 2 and before.kind == "w" and len(before.text) > 2
        if wordy and not nxt.brk and before.lower not in ("and", "the", "from"):
            return token._replace(lower="with")  # "blew out w nitrogen"
    whole = CONTRACTIONS.get(token.lower)
    if token.lower == "its" and i + 1 < len(tokens) and not tokens[i + 1].brk:
        nxt = tokens[i + 1]
        if i and not token.brk and tokens[i - 1].lower in _GIVEN_ITS:
            return token  # "getting its 24 volts"
        does = nxt.lower.endswith("ing") and len(nxt.lower) > 5 and nxt.lower not in _THINGS
        if does or nxt.lower in _BEHIND_IT or nxt.kind in "nf" or CLASS.get(nxt.lower, ".") in _AS_NUMBER:
            whole = "it's"
    return token if whole is None else token._replace(lower=whole)
