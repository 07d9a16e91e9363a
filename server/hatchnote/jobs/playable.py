"""The segments of a recording joined into one AAC/MP4 file: older phones play no WebM, and none seek in it well.

Made from the same decoded samples that were listened to, so that second 12.3 of a word is second 12.3 here.
"""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path

MIME = "audio/mp4"
BIT_RATE = 48_000


def joined(files: Sequence[Path]) -> tuple[bytes, float]:
    """The file's bytes and its length in seconds. Raises BadInput as the decoder does."""
    import av
    import numpy as np

    from hatchnote.speech.audio import RATE, decode_many

    samples = decode_many(list(files)).samples
    # A real file: moving the index to the front reads back what was written.
    with tempfile.TemporaryDirectory(prefix="hatchnote-") as folder:
        file = Path(folder) / "sound.mp4"
        with av.open(str(file), mode="w", format="mp4", options={"movflags": "+faststart"}) as container:
            stream = container.add_stream("aac", rate=RATE)
            stream.bit_rate = BIT_RATE
            stream.layout = "mono"
            step = 1024 * 16
            for at in range(0, len(samples), step):
                block = np.ascontiguousarray(samples[at : at + step])[None, :]
                frame = av.AudioFrame.from_ndarray(block, format="fltp", layout="mono")
                frame.sample_rate = RATE
                frame.pts = at
                container.mux(stream.encode(frame))
            container.mux(stream.encode(None))
        return file.read_bytes(), len(samples) / RATE
