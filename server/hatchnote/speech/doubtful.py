"""Where the two listeners differ over a number, or the first was unsure of it, those seconds are heard a third time.

The first listener's model hears a few seconds cut out around the number, without priming: other surroundings, other
cuts. What two of three agree on stands; what was overruled is kept beside it as another hearing, so that the value
carries a mark with both.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from hatchnote.domain import SecondHearing, Word
from hatchnote.speech.audio import RATE
from hatchnote.speech.figures import figures
from hatchnote.speech.numberwords import number_runs
from hatchnote.speech.recognise import Recogniser
from hatchnote.speech.second import Passage, align

UNSURE = 0.45
"""A number word less probable than this is doubtful; the mark in `notes` begins at the same place."""
MOST = 3
"""Numbers heard a third time in one segment: where more are doubtful, noise has the upper hand."""
_BEFORE_S, _AFTER_S = 1.2, 0.6
_UNIT_WORDS = 2
_WORDS = "zero one two three four five six seven eight nine".split()  # noqa: SIM905
_PARTS = {"2": "hal(?:f|ves)", "4": "quarters?|fourths?", "8": "eighths?|eights?|8ths?"}
"""What stands for a denominator, as recognisers write it."""
_HYPHEN = re.compile(r"\d-\d")


class ThirdHearing:
    """Settles doubtful numbers of what the first listener heard."""

    def __init__(self, recogniser: Recogniser, *, beam: int = 5) -> None:
        self._recogniser = recogniser
        self._beam = beam

    def settle(
        self, passage: Passage, hearings: Sequence[SecondHearing]
    ) -> tuple[Sequence[Word], list[SecondHearing]]:
        """The passage's words and hearings after listening again; the same ones where nothing was doubtful."""
        words = list(passage.words)
        beside = {h.start: h for h in hearings}
        overruled: list[SecondHearing] = []
        runs = number_runs([w.text for w in words])
        chosen = sorted(self._doubtful(words, runs, beside), key=lambda r: _least(words[r[0] : r[1]]))[:MOST]
        # From the end, so that places before stay where they are.
        for a, b in sorted(chosen, reverse=True):
            other = beside[_start(words[a])]
            third = self._hear(passage, words, a, b)
            better = settled(words[a:b], other.text, third)
            if better is None:
                continue
            if figures(_text(better)) != figures(_text(words[a:b])):
                told = words[a : min(b + _UNIT_WORDS, len(words))]
                overruled.append(
                    replace(other, text=_text(told), listener=f"{self._recogniser.name}, overruled", p=None)
                )
            words[a:b] = better
        # Of several hearings of the same seconds the last one counts, hence the overruled ones behind.
        return words, sorted([*hearings, *overruled], key=lambda h: h.start)

    @staticmethod
    def _doubtful(
        words: Sequence[Word], runs: Sequence[tuple[int, int]], beside: dict[float, SecondHearing]
    ) -> list[tuple[int, int]]:
        return [
            (a, b)
            for a, b in runs
            if (h := beside.get(_start(words[a]))) is not None and doubtful(words[a:b], h.text)
        ]

    def _hear(self, passage: Passage, words: Sequence[Word], a: int, b: int) -> Sequence[Word]:
        """What is heard in the place of words a … b."""
        last = words[min(b - 1 + _UNIT_WORDS, len(words) - 1)]
        start = max(passage.offset, _start(words[a]) - _BEFORE_S)
        end = (last.end or 0.0) + _AFTER_S
        sound = passage.sound[int((start - passage.offset) * RATE) : int((end - passage.offset) * RATE)]
        heard = self._recogniser.decode(self._recogniser.encode([sound]), beam=self._beam, offsets=[start])[
            0
        ].words
        near = [i for i, w in enumerate(words) if start <= _start(w) and (w.end or 0.0) <= end] or [a]
        first, stop = min(near[0], a), max(near[-1] + 1, b)
        here = words[a:b]
        if figures(_text(words[first:stop])) == figures(_text(heard)) and not (
            _hyphened(here) or _glued(here)
        ):
            return here  # the same in other words: nothing to settle, and places would be guessed
        partner = align([w.text for w in words[first:stop]], [w.text for w in heard])
        return heard[partner[a - first][0] : partner[b - 1 - first][1]]


def doubtful(first: Sequence[Word], second: str) -> bool:
    """True where the two hearings are of different figures, a word is improbable, or a hyphen leaves it open."""
    one, two = figures(_text(first)), figures(second)
    same = one == two or (len(one) > 1 and (two.startswith(one) or two.endswith(one)))
    return not same or _least(first) < UNSURE or _hyphened(first)


def settled(first: Sequence[Word], second: str, third: Sequence[Word]) -> tuple[Word, ...] | None:
    """The words to put in the place of the first listener's, or None to leave those.

    The third hearing stands where the second one is of the same figures (and letters, where they are glued to
    figures) and the first is not. "5-8", which may be a range, a decimal or a fraction, gives way to "5/8" where
    another heard the eighths; that another wrote a point proves nothing.
    """
    if not third:
        return None
    one, two, three = figures(_text(first)), figures(second), figures(_text(third))
    least = min(_least(first), _least(third))
    letters = _glued(first)
    relettered = bool(letters) and letters != _glued(third) == _glued([Word(t) for t in second.split()])
    if three and three == two and (three != one or relettered):
        return tuple(replace(w, p=min(w.p or 0.0, least)) for w in third)
    if len(first) == 1 and _hyphened(first):
        clear = _cleared(_bare(first[0].text), f"{second} / {_text(third)}")
        if clear:
            return (replace(first[0], text=first[0].text.replace(_bare(first[0].text), clear)),)
    return None


def _cleared(hyphened: str, others: str) -> str | None:
    """ "5/8" for "5-8", where another hearing says so."""
    a, b = hyphened.split("-")
    said = rf"\b(?:{a}|{_WORDS[int(a)]})[ -](?:{_PARTS[b]})\b" if b in _PARTS else ""
    if said and int(a) < int(b) and re.search(said, others.lower()):
        return f"{a}/{b}"
    return None


def _glued(words: Sequence[Word]) -> list[str]:
    """The letters before figures in one word: "bx" of "BX-44"."""
    out = [re.match(r"([a-z]+)-?\d", w.text.lower()) for w in words]
    return [m[1] for m in out if m]


def _hyphened(words: Sequence[Word]) -> bool:
    return any(_HYPHEN.fullmatch(_bare(w.text)) for w in words)


def _text(words: Sequence[Word]) -> str:
    return " ".join(w.text for w in words)


def _bare(text: str) -> str:
    return text.strip(".,;:?!")


def _start(word: Word) -> float:
    return float(word.start or 0.0)


def _least(words: Sequence[Word]) -> float:
    return min((w.p for w in words if w.p is not None), default=1.0)
