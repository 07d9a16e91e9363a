"""Where somebody speaks, found as the sound comes in, and the segments it is cut into.

Everything here looks only backwards (and `pad_s` forwards), so a recording cut into segments while it is
being made is cut exactly as it would be afterwards. The speech probabilities are those of the Silero
network that faster-whisper carries.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from hatchnote.speech.audio import RATE

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hatchnote.speech.settings import ListenSettings

FRAME = 512
"""Samples a probability stands for: 32 ms."""
_CONTEXT = 64
_SPLIT_LOOKBACK_S = 8.0


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of sound to decode by itself; samples from the start of the recording.

    `speech` is the mean speech probability over it.
    """

    start: int
    end: int
    speech: float


class SpeechMeter:
    """Speech probability of every 32 ms, fed piece by piece with the same result as at once."""

    def __init__(self) -> None:
        import numpy as np
        from faster_whisper.vad import get_vad_model

        self._session: Any = get_vad_model().session
        self._h = np.zeros((1, 1, 128), dtype=np.float32)
        self._c = np.zeros((1, 1, 128), dtype=np.float32)
        self._context = np.zeros(_CONTEXT, dtype=np.float32)
        self._rest = np.zeros(0, dtype=np.float32)

    def feed(self, samples: NDArray[np.float32], *, last: bool = False) -> list[float]:
        """Probabilities of the frames completed by these samples; `last` fills up the final frame."""
        import numpy as np

        data = np.concatenate([self._rest, samples]) if len(self._rest) else samples
        if last and len(data) % FRAME:
            data = np.pad(data, (0, FRAME - len(data) % FRAME))
        whole = len(data) // FRAME
        self._rest = data[whole * FRAME :].copy()
        out: list[float] = []
        for at in range(0, whole, 4096):
            out += self._run(data[at * FRAME : min(at + 4096, whole) * FRAME])
        return out

    def _run(self, data: NDArray[np.float32]) -> list[float]:
        import numpy as np

        frames = data.reshape(-1, FRAME)
        before = np.concatenate([self._context[None], frames[:-1, -_CONTEXT:]])
        self._context = frames[-1, -_CONTEXT:].copy()
        inputs = {"input": np.concatenate([before, frames], axis=1), "h": self._h, "c": self._c}
        probabilities, self._h, self._c = self._session.run(None, inputs)
        return [float(p) for p in np.asarray(probabilities).reshape(-1)]


class Cutter:
    """Speech probabilities → segments, each given out as soon as nothing later can change it."""

    def __init__(self, settings: ListenSettings) -> None:
        self._s = settings
        self._p: list[float] = []
        self._run_start: int | None = None
        self._run_quiet = 0
        self._start: int | None = None
        self._end = 0
        self._given = 0

    @property
    def pending_from(self) -> int | None:
        """The first sample of speech not yet given out as a segment, or None."""
        frame = self._start if self._start is not None else self._run_start
        return None if frame is None else max(self._given, frame * FRAME - self._pad)

    @property
    def _pad(self) -> int:
        return int(self._s.pad_s * RATE)

    def feed(self, probabilities: list[float]) -> list[Segment]:
        """Segments that these frames complete."""
        out: list[Segment] = []
        for p in probabilities:
            self._p.append(p)
            out += self._step(len(self._p) - 1, p)
        return out

    def finish(self, samples: int) -> list[Segment]:
        """What is left when the sound ends after `samples` samples."""
        out: list[Segment] = []
        if self._run_start is not None:
            out += self._close_run(len(self._p) - self._run_quiet)
        if self._start is not None:
            out.append(self._give(min(self._end * FRAME + self._pad, samples)))
        return [Segment(s.start, min(s.end, samples), s.speech) for s in out]

    def _step(self, i: int, p: float) -> list[Segment]:
        s = self._s
        out: list[Segment] = []
        if self._run_start is None:
            if p >= s.speech_on:
                self._run_start, self._run_quiet = i, 0
                if self._start is not None and self._seconds(i - self._end) > s.max_gap_s:
                    out.append(self._give(self._end * FRAME + self._pad))
            elif self._start is not None and self._ends_here(i):
                out.append(self._give(self._end * FRAME + self._pad))
            return out
        self._run_quiet = (
            self._run_quiet + 1 if p < s.speech_off or (p < s.speech_on and self._run_quiet) else 0
        )
        if self._run_quiet and self._seconds(self._run_quiet) >= s.pause_s:
            return self._close_run(i + 1 - self._run_quiet)
        first = self._start if self._start is not None else self._run_start
        if self._seconds(i - first) >= s.max_length_s:
            out += self._split(i)
        return out

    def _ends_here(self, i: int) -> bool:
        """A pause ends a segment that is long enough; a long pause ends any."""
        assert self._start is not None
        pause = self._seconds(i - self._end)
        long_enough = self._seconds(self._end - self._start) >= self._s.soft_length_s
        return pause > self._s.max_gap_s or (long_enough and pause >= self._s.pause_s)

    def _close_run(self, end: int) -> list[Segment]:
        start, self._run_start, self._run_quiet = self._run_start, None, 0
        assert start is not None
        if self._seconds(end - start) < self._s.min_speech_s:
            return []
        if self._start is None:
            self._start = start
        self._end = end
        if self._seconds(end - self._start) >= self._s.soft_length_s:
            return [self._give(end * FRAME + self._pad)]
        return []

    def _split(self, i: int) -> list[Segment]:
        """Speech without a pause for too long: cut before the run in hand, else where it is quietest."""
        assert self._run_start is not None
        if self._start is not None and self._run_start - self._start > 0 and self._end > self._start:
            return [self._give(self._end * FRAME + self._pad)]
        first = max(self._run_start + 1, i - int(_SPLIT_LOOKBACK_S * RATE / FRAME))
        cut = min(range(first, i + 1), key=lambda k: self._p[k])
        self._start, self._end = self._run_start, cut
        self._run_start = cut
        return [self._give(cut * FRAME)]

    def _give(self, end: int) -> Segment:
        assert self._start is not None
        start = max(self._given, self._start * FRAME - self._pad)
        frames = self._p[self._start : max(self._end, self._start + 1)]
        self._start, self._given = None, end
        return Segment(start, end, sum(frames) / len(frames))

    @staticmethod
    def _seconds(frames: int) -> float:
        return frames * FRAME / RATE
