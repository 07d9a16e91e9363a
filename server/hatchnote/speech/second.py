"""The second listener: wherever the first heard a number, another model hears the same sound, unprimed.

It answers in its own words; whether they mean the same value is for `hatchnote.notes` to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

from hatchnote.domain import SecondHearing, Word
from hatchnote.speech.audio import RATE
from hatchnote.speech.guards import Hypothesis
from hatchnote.speech.numberwords import number_runs
from hatchnote.speech.recognise import Recogniser
from hatchnote.speech.rest import with_rest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_MARGIN_S = 1.2
_BRIDGE_S = 4.0
_UNIT_WORDS = 2
_SLACK_S = 0.6
_SHORTEST_S = 0.2


@dataclass(frozen=True, slots=True)
class Passage:
    """A segment the first listener heard: its sound, where it begins (s), and its words."""

    sound: NDArray[np.float32]
    offset: float
    words: Sequence[Word]


class SecondListener:
    """Listens again around numbers only; one window a stretch of numbers, cut where the first was not."""

    def __init__(
        self, recogniser: Recogniser, *, beam: int = 2, batch: int = 1, together: bool = False
    ) -> None:
        self._recogniser = recogniser
        self._beam = beam
        self._batch = batch
        self._together = together

    def listen(self, passages: Sequence[Passage]) -> list[SecondHearing]:
        """What is heard at each number among the passages' words, in order."""
        windows = [(p, a, b) for p in passages for a, b in windows_around_numbers(p)]
        out: list[SecondHearing] = []
        for at in range(0, len(windows), self._batch):
            out += self._listen_in(windows[at : at + self._batch])
        return out

    def _listen_in(self, windows: Sequence[tuple[Passage, float, float]]) -> list[SecondHearing]:
        pieces = [p.sound[int((a - p.offset) * RATE) : int((b - p.offset) * RATE)] for p, a, b in windows]
        offsets = [a for _, a, _ in windows]
        if self._together:
            heard = self._recogniser.hear(pieces, beam=self._beam, offsets=offsets)
        else:
            heard = self._recogniser.decode(self._recogniser.encode(pieces), beam=self._beam, offsets=offsets)
        out: list[SecondHearing] = []
        for (passage, a, b), piece, h in zip(windows, pieces, heard, strict=True):
            whole = with_rest(h, piece, a, b - _MARGIN_S / 2, self._hear)
            inside = [i for i, w in enumerate(passage.words) if a <= _middle(w) < b]
            if inside:
                out += self._at_numbers(passage.words, inside[0], inside[-1] + 1, whole.words)
        return out

    def _hear(self, sound: NDArray[np.float32], offset: float) -> Hypothesis:
        encoded = self._recogniser.encode([sound])
        return self._recogniser.decode(encoded, beam=self._beam, offsets=[offset])[0]

    def _at_numbers(
        self, words: Sequence[Word], first: int, last: int, heard: Sequence[Word]
    ) -> list[SecondHearing]:
        """What of `heard` stands at each run among words first … last."""
        partner = align([w.text for w in words[first:last]], [w.text for w in heard])
        here = [(a, b) for a, b in number_runs([w.text for w in words]) if first <= a and b <= last]
        out: list[SecondHearing] = []
        for k, (a, b) in enumerate(here):
            stop = min(b + _UNIT_WORDS, here[k + 1][0] if k + 1 < len(here) else last)
            start_s, end_s = float(words[a].start or 0.0), float(words[stop - 1].end or 0.0)
            piece = [
                w
                for w in heard[partner[a - first][0] : partner[stop - 1 - first][1]]
                if _near(w, start_s, end_s)
            ]
            out.append(
                SecondHearing(
                    start=start_s,
                    end=end_s,
                    text=" ".join(w.text for w in piece),
                    listener=f"{self._recogniser.name}, unprimed, beam {self._beam}",
                    p=min((w.p for w in piece if w.p is not None), default=None),
                )
            )
        return out


def _middle(word: Word) -> float:
    return ((word.start or 0.0) + (word.end or 0.0)) / 2


def _near(word: Word, start: float, end: float) -> bool:
    """The two models place a word within some half a second of each other."""
    return start - _SLACK_S <= _middle(word) <= end + _SLACK_S


def windows_around_numbers(passage: Passage) -> list[tuple[float, float]]:
    """Seconds to hear again: every run of numbers with a margin, near ones together, within the passage."""
    words = passage.words
    first, last = passage.offset, passage.offset + len(passage.sound) / RATE
    out: list[tuple[float, float]] = []
    for a, b in number_runs([w.text for w in words]):
        unit = words[min(b - 1 + _UNIT_WORDS, len(words) - 1)]
        start = max(first, (words[a].start or 0.0) - _MARGIN_S)
        end = min(last, (unit.end or 0.0) + _MARGIN_S / 2)
        if out and start - out[-1][1] < _BRIDGE_S:
            out[-1] = (out[-1][0], max(end, out[-1][1]))
        else:
            out.append((start, end))
    return [(a, b) for a, b in out if b - a > _SHORTEST_S]


def align(a: Sequence[str], b: Sequence[str]) -> list[tuple[int, int]]:
    """For every word of `a` the half-open range of `b` that stands in its place (empty: nothing does)."""
    plain_a, plain_b = [_plain(x) for x in a], [_plain(x) for x in b]
    out: list[tuple[int, int]] = [(0, 0)] * len(a)
    for tag, a0, a1, b0, b1 in SequenceMatcher(None, plain_a, plain_b, autojunk=False).get_opcodes():
        if tag == "equal":
            for k in range(a1 - a0):
                out[a0 + k] = (b0 + k, b0 + k + 1)
        elif tag in ("replace", "delete"):
            for k in range(a1 - a0):
                out[a0 + k] = (b0, b1)
    return out


def _plain(word: str) -> str:
    return "".join(c for c in word.lower() if c.isalnum() or c == ".").strip(".")
