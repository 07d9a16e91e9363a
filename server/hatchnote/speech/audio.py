"""Any sound a phone makes → 16 kHz mono float32, through PyAV, which brings its own FFmpeg.

Frames read before a file breaks off are kept, and the break is told.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hatchnote.errors import BadInput, NotFound
from hatchnote.speech.endings import cut_short

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

RATE = 16_000
"""Samples a second that every model here listens to."""


@dataclass(frozen=True, slots=True)
class Sound:
    """Samples in −1..1 at 16 kHz, and what went wrong while reading them."""

    samples: NDArray[np.float32]
    warnings: tuple[str, ...] = ()

    @property
    def seconds(self) -> float:
        return len(self.samples) / RATE


def decode(path: str | os.PathLike[str], *, max_seconds: float = 4 * 3600.0) -> Sound:
    """The sound of one file, channels averaged.

    A file that breaks off gives what was read and a warning. Raises NotFound when there is no such file
    and BadInput when it is empty, holds no sound, or is longer than `max_seconds`.
    """
    import av
    import numpy as np

    file = Path(path)
    if not file.is_file():
        raise NotFound(f"There is no sound file {file}; check the name.")
    if file.stat().st_size == 0:
        raise BadInput(f"{file.name} is empty; record or send it again.")
    blocks: list[NDArray[np.int16]] = []
    count = 0
    broken = False
    try:
        with av.open(str(file), mode="r", metadata_errors="ignore") as container:
            if not container.streams.audio:
                raise BadInput(
                    f"{file.name} holds no sound; give a recording such as WebM, M4A, OGG, WAV, FLAC or MP3."
                )
            resampler = av.AudioResampler(format="s16", layout="mono", rate=RATE)
            frames = _Frames(container)
            for frame in frames:
                for block in _blocks(resampler, frame):
                    blocks.append(block)
                    count += len(block)
                if count > max_seconds * RATE:
                    raise BadInput(
                        f"{file.name} is longer than {max_seconds / 3600:g} h; split the recording."
                    )
            if blocks:
                blocks += _blocks(resampler, None)
            promised = _promised_seconds(container)
            broken = frames.broken or cut_short(file)
    except av.error.FFmpegError as e:
        raise BadInput(f"{file.name} cannot be read as sound ({_reason(e)}); record or send it again.") from e
    if not blocks:
        raise BadInput(f"{file.name} holds no sound that can be read; record or send it again.")
    samples = np.concatenate(blocks).astype(np.float32) / 32768.0
    return Sound(samples, _told(file.name, len(samples) / RATE, promised, broken))


def decode_many(paths: list[str | os.PathLike[str]], *, max_seconds: float = 4 * 3600.0) -> Sound:
    """Segments of one recording, each decoded by itself (they are files of their own), then joined in order."""
    import numpy as np

    sounds: list[Sound] = []
    left = max_seconds
    for path in paths:
        sound = decode(path, max_seconds=left)
        left -= sound.seconds
        sounds.append(sound)
    if not sounds:
        raise BadInput("No sound was given; name at least one recording.")
    if len(sounds) == 1:
        return sounds[0]
    return Sound(np.concatenate([s.samples for s in sounds]), tuple(w for s in sounds for w in s.warnings))


def _blocks(resampler: Any, frame: Any) -> list[NDArray[np.int16]]:
    return [out.to_ndarray().reshape(-1) for out in resampler.resample(frame)]


class _Frames:
    """The frames of the first sound stream; bad packets are skipped, a broken end is remembered."""

    def __init__(self, container: Any) -> None:
        self._container = container
        self.broken = False

    def __iter__(self) -> Iterator[Any]:
        import av

        packets = iter(self._container.demux(audio=0))
        while True:
            try:
                packet = next(packets)
            except StopIteration:
                return
            except av.error.FFmpegError:
                self.broken = True
                return
            try:
                frames = packet.decode()
            except av.error.FFmpegError:
                # One damaged packet costs some milliseconds, not the dictation.
                self.broken = True
                continue
            for frame in frames:
                frame.pts = None
                yield frame


def _promised_seconds(container: Any) -> float | None:
    """How long the file says it is, where it says so."""
    stream = container.streams.audio[0]
    if stream.duration is not None and stream.time_base is not None:
        return float(stream.duration * stream.time_base)
    return container.duration / 1_000_000 if container.duration else None


def _told(name: str, seconds: float, promised: float | None, broken: bool) -> tuple[str, ...]:
    # Encoders pad and trim at the ends; only a real loss is worth a person's attention.
    if promised is not None and promised - seconds > max(1.0, 0.02 * promised):
        return (
            f"{name} breaks off after {seconds:.0f} s of {promised:.0f} s; what was said later is missing.",
        )
    if broken:
        return (f"{name} is damaged or cut short; {seconds:.0f} s could be read, listen to it once.",)
    return ()


def _reason(e: Exception) -> str:
    return str(getattr(e, "strerror", None) or "damaged").rstrip(".").lower()
