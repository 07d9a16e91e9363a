"""Listening while he speaks: fed slices of sound, it gives out words that no later sound can change.

`transcribe` is this listener fed everything at once, so a draft made during the recording equals the one
made afterwards. Memory holds the sound not yet decoded and what the second listener may still need.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from hatchnote.domain import SecondHearing, Transcript, Word
from hatchnote.speech.activity import Cutter, Segment, SpeechMeter
from hatchnote.speech.audio import RATE
from hatchnote.speech.doubtful import ThirdHearing
from hatchnote.speech.hearing import Ear
from hatchnote.speech.level import HighPass
from hatchnote.speech.models import default_model
from hatchnote.speech.priming import priming_text
from hatchnote.speech.recognise import load
from hatchnote.speech.second import Passage, SecondListener
from hatchnote.speech.settings import ListenSettings

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_GPU_BATCH = 16


def _unread(language: str) -> str:
    return (
        f"This was heard as {language}: the words are written down, but readings, work and parts are read in"
        " English only; fill them in by hand."
    )


class Listener:
    """Words as they become certain. Not for several threads at once.

    >>> listener = Listener(["RTU-3"])
    >>> words = listener.feed(samples)      # 16 kHz mono float32, any length, in order
    >>> transcript = listener.finish()
    """

    def __init__(
        self,
        vocabulary: Iterable[str] = (),
        *,
        language: str | None = None,
        settings: ListenSettings | None = None,
        progress: Callable[[float], None] | None = None,
        total_s: float | None = None,
    ) -> None:
        import numpy as np

        s = self._settings = settings or ListenSettings.from_environment()
        language = language or s.language
        recogniser = load(s.model or default_model("first"), s)
        prompt = (
            priming_text(vocabulary, trade=s.prime_trade, site=s.prime_site) if language == "en" else None
        )
        self._ear = Ear(recogniser, s, prompt=prompt, language=language)
        second = s.second_model or default_model("second")
        # The second listener knows English numbers only.
        listens_twice = second != "none" and language == "en"
        self._batch = s.batch or (_GPU_BATCH if recogniser.on_gpu else 1)
        self._second: SecondListener | None = None
        if listens_twice:
            listener = load(second, s)
            together = listener.on_gpu if s.together is None else s.together
            self._second = SecondListener(listener, beam=s.second_beam, batch=self._batch, together=together)
        self._third = ThirdHearing(recogniser, beam=s.beam) if self._second is not None and s.third else None
        self._language = language
        self._progress, self._total_s = progress, total_s
        self._filter = HighPass(s.high_pass_hz)
        self._meter, self._cutter = SpeechMeter(), Cutter(s)
        self._sound: NDArray[np.float32] = np.zeros(0, dtype=np.float32)
        self._from = 0
        self._count = 0
        self._words: list[Word] = []
        self._hearings: list[SecondHearing] = []
        self._queue: list[Segment] = []
        self._finished = False

    @property
    def words(self) -> tuple[Word, ...]:
        """All words certain so far."""
        return tuple(self._words)

    @property
    def seconds(self) -> float:
        """How much sound was fed."""
        return self._count / RATE

    def feed(self, samples: NDArray[np.float32]) -> list[Word]:
        """Listen to the next samples; the words that became certain by them."""
        import numpy as np

        before = len(self._words)
        step = 30 * RATE
        for at in range(0, len(samples), step):
            clean = self._filter.apply(samples[at : at + step])
            self._sound = np.concatenate([self._sound, clean])
            self._count += len(clean)
            self._take(self._cutter.feed(self._meter.feed(clean)))
        return self._words[before:]

    def finish(self, *, id: str | None = None, warnings: Iterable[str] = ()) -> Transcript:
        """The tail is decoded and the whole transcript given out; the listener is used up."""
        if not self._finished:
            import numpy as np

            empty = np.zeros(0, dtype=np.float32)
            self._take(self._cutter.feed(self._meter.feed(empty, last=True)))
            self._take(self._cutter.finish(self._count), last=True)
            self._finished = True
        if self._progress:
            self._progress(1.0)
        return Transcript(
            words=tuple(self._words),
            id=id,
            duration_s=round(self._count / RATE, 3),
            language=self._language,
            second=tuple(self._hearings),
            warnings=(*warnings, *([] if self._language == "en" else [_unread(self._language)])),
        )

    def _take(self, segments: list[Segment], *, last: bool = False) -> None:
        self._queue += segments
        while self._queue and (last or len(self._queue) >= self._batch):
            self._hear(self._queue[: self._batch])
            del self._queue[: self._batch]
        self._forget()

    def _hear(self, segments: list[Segment]) -> None:
        sounds = [self._sound[s.start - self._from : s.end - self._from] for s in segments]
        offsets = [s.start / RATE for s in segments]
        heard = self._ear.hear(sounds, offsets)
        passages = [Passage(s, o, h.words) for s, o, h in zip(sounds, offsets, heard, strict=True) if h]
        hearings = self._second.listen(passages) if self._second is not None else []
        for p in passages:
            words = p.words
            starts = {w.start for w in words}
            mine = [h for h in hearings if h.start in starts]
            if self._third is not None:
                words, mine = self._third.settle(p, mine)
            self._words += words
            self._hearings += mine
        if self._progress and self._total_s:
            self._progress(min(0.99, segments[-1].end / RATE / self._total_s))

    def _forget(self) -> None:
        """Drop sound before everything that is still to be decoded."""
        starts = [s.start for s in self._queue]
        pending = self._cutter.pending_from
        keep = min([*starts, pending if pending is not None else self._count - 2 * RATE])
        if keep > self._from:
            self._sound = self._sound[keep - self._from :].copy()
            self._from = keep
