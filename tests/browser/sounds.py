"""Sound files made by the tests themselves: a voice from espeak-ng, and the same in the containers of phones."""

from __future__ import annotations

import subprocess
from pathlib import Path


def speak(path: Path, text: str, *, speed: int = 140) -> Path:
    """A WAV of `text`, for the fake microphone. Needs espeak-ng."""
    subprocess.run(["espeak-ng", "-v", "en-us", "-s", str(speed), "-w", str(path), text], check=True)
    return path


def then_faint_noise(wav: Path, seconds: float) -> Path:
    """Lengthen a spoken WAV by the faint noise of an open microphone, so that it is not heard twice."""
    import random
    import wave

    with wave.open(str(wav)) as source:
        parameters, spoken = source.getparams(), source.readframes(source.getnframes())
    rest = random.Random(1).randbytes(int(parameters.framerate * seconds))
    with wave.open(str(wav), "wb") as out:
        out.setparams(parameters)
        out.writeframes(spoken)
        # 16-bit samples within ±64: some 54 dB below full scale.
        out.writeframes(b"".join((b % 128 - 64).to_bytes(2, "little", signed=True) for b in rest))
    return wav


def as_aac(wav: Path, path: Path) -> Path:
    """Fragmented MP4 with AAC: what many phones record."""
    import av

    fragmented = {"movflags": "frag_keyframe+empty_moov+default_base_moof"}
    with av.open(str(wav)) as source, av.open(str(path), "w", format="mp4", options=fragmented) as out:
        stream = out.add_stream("aac", rate=44100, layout="mono")
        resampler = av.AudioResampler(format="fltp", layout="mono", rate=44100)
        for frame in source.decode(audio=0):
            for part in resampler.resample(frame):
                out.mux(stream.encode(part))
        for part in resampler.resample(None):
            out.mux(stream.encode(part))
        out.mux(stream.encode(None))
    return path


def seconds(path_or_bytes) -> float:
    """Length of what really decodes, however the file ends."""
    import io

    import av

    source = io.BytesIO(path_or_bytes) if isinstance(path_or_bytes, bytes) else str(path_or_bytes)
    total = 0.0
    with av.open(source) as container:
        try:
            for frame in container.decode(audio=0):
                total += frame.samples / frame.sample_rate
        except av.error.FFmpegError:
            pass  # a cut at the end: what was read before it counts
    return total


def photo(number: int, size: tuple[int, int] = (1600, 1200)) -> bytes:
    """A JPEG unlike every other number's."""
    import io

    from PIL import Image, ImageDraw

    image = Image.effect_noise(size, 40).convert("RGB")
    ImageDraw.Draw(image).text((20, 20), f"photo {number}", fill="white", font_size=120)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()
