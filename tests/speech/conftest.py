"""Sound for this room's tests: a short synthetic dictation, real noise, and any of them in a phone's formats."""

from __future__ import annotations

from pathlib import Path

import pytest

DATA = Path(__file__).parent / "data"
SAID = (
    "Okay, R T U three. Suction one eighteen, liquid three forty. Coil sensor reads ten point two kilohms. "
    "Replaced the run capacitor, forty plus five microfarads. Amps on L one were eleven point four."
)
"""What `dictation.flac` says."""


@pytest.fixture(scope="session")
def dictation() -> Path:
    return DATA / "dictation.flac"


@pytest.fixture(scope="session")
def samples(dictation: Path):
    from hatchnote.speech.audio import decode

    return decode(dictation).samples


@pytest.fixture(scope="session")
def heard(dictation: Path):
    """The dictation transcribed once with the site's tag."""
    from hatchnote.speech import transcribe

    return transcribe(dictation, ["RTU-3"], id="d1")


@pytest.fixture
def encode(tmp_path: Path):
    """Write samples (16 kHz mono float32) as a phone would: `encode(samples, "webm", "libopus", rate=48000)`."""
    import av
    import numpy as np

    def write(samples, container: str, codec: str, *, rate: int = 48_000, layout: str = "mono") -> Path:
        path = tmp_path / f"sound.{container}"
        options = {"movflags": "frag_keyframe+empty_moov"} if container == "mp4" else {}
        with av.open(str(path), "w", options=options) as out:
            stream = out.add_stream(codec, rate=rate, layout=layout)
            resampler = av.AudioResampler(format=stream.format, layout=layout, rate=rate)
            pcm = (np.clip(samples, -1, 1) * 32767).astype(np.int16)[None]
            frame = av.AudioFrame.from_ndarray(pcm, format="s16", layout="mono")
            frame.sample_rate = 16_000
            fifo = av.audio.fifo.AudioFifo()
            for piece in (*resampler.resample(frame), *resampler.resample(None)):
                piece.pts = None
                fifo.write(piece)
            size = stream.codec_context.frame_size or 1024
            while (piece := fifo.read(size)) or (piece := fifo.read(0, partial=True)):
                out.mux(stream.encode(piece))
                if fifo.samples == 0:
                    break
            out.mux(stream.encode(None))
        return path

    return write
