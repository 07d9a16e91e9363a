"""Sound made fit to listen to: a causal high-pass, and loudness a segment at a time."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from hatchnote.speech.audio import RATE

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_TAPS = 801


class HighPass:
    """A linear-phase high-pass fed piece by piece, with the same result as at once; 0 Hz: nothing is done.

    Output is 25 ms late, which is less than a word's timing is good for.
    """

    def __init__(self, hertz: float) -> None:
        import numpy as np

        self._kernel: NDArray[np.float32] | None = None
        if hertz > 0:
            n = np.arange(_TAPS) - (_TAPS - 1) / 2
            low = np.sinc(2 * hertz / RATE * n) * np.hamming(_TAPS)
            low /= low.sum()
            kernel = -low
            kernel[(_TAPS - 1) // 2] += 1.0
            self._kernel = kernel.astype(np.float32)
            self._tail = np.zeros(_TAPS - 1, dtype=np.float32)

    def apply(self, samples: NDArray[np.float32]) -> NDArray[np.float32]:
        """The filtered samples, as many as given."""
        import numpy as np

        if self._kernel is None or not len(samples):
            return samples
        data = np.concatenate([self._tail, samples])
        self._tail = data[-(_TAPS - 1) :].copy()
        size = 1 << math.ceil(math.log2(len(data) + _TAPS))
        spectrum = np.fft.rfft(data, size) * np.fft.rfft(self._kernel, size)
        out = np.fft.irfft(spectrum, size)[_TAPS - 1 : _TAPS - 1 + len(samples)]
        return np.asarray(out, dtype=np.float32)


def levelled(samples: NDArray[np.float32], *, peak: float = 0.7) -> NDArray[np.float32]:
    """The samples scaled so that the loud parts (all but the loudest thousandth) reach `peak`."""
    import numpy as np

    loud = float(np.quantile(np.abs(samples), 0.999)) if len(samples) else 0.0
    if loud < 1e-5:
        return samples
    return np.asarray(np.clip(samples * (peak / loud), -1.0, 1.0), dtype=np.float32)
