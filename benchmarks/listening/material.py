"""What the recogniser is put to: dictations, real noise, and what phones and gateways do to sound.

Noise is mixed in at a signal-to-noise ratio over the parts where somebody speaks: pauses do not dilute it.
The clips stand in a folder named by HATCHNOTE_AUDIO (or --audio): `noise/*.flac`, `dictations/*.ogg`,
`speech/*.flac` with `manifest.jsonl`. Without spoken dictations there, they are rendered (see voices.py).
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from benchmarks.listening.voices import CACHE, KOKORO, speak
from hatchnote.speech.activity import FRAME, SpeechMeter
from hatchnote.speech.audio import RATE, decode

CONDITIONS = ("clean", "20dB", "10dB", "5dB", "0dB", "clipped", "low-rate", "phone-band")


@dataclass(frozen=True)
class Dictation:
    """A text, what should be read out of it, and its sound without noise."""

    id: str
    script: str
    gold: dict
    sound: Path

    @property
    def tags(self) -> list[str]:
        """What the site would tell the recogniser: its machines' tags."""
        return sorted({i["tag"] for kind in self.gold.values() for i in kind if i.get("tag")})


def dictations(
    texts: Path, audio: Path, *, voice: str | None = None, only: int | None = None
) -> list[Dictation]:
    """The dictations of a JSON-lines file. With `voice` None the spoken ones in `audio` are used where they exist."""
    out = []
    for i, line in enumerate(texts.read_text(encoding="utf-8").splitlines()[:only]):
        entry = json.loads(line)
        sound = audio / "dictations" / f"{entry['id']}.ogg"
        if voice or not sound.exists():
            chosen = voice or KOKORO[i % len(KOKORO)]
            sound = CACHE / "listening" / chosen / f"{entry['id']}.wav"
            if not sound.exists():
                speak(entry["script"], chosen, sound)
        out.append(Dictation(entry["id"], entry["script"], entry["gold"], sound))
    return out


def noises(audio: Path) -> dict[str, np.ndarray]:
    """Noise clips by name."""
    return {p.stem: decode(p).samples for p in sorted((audio / "noise").glob("*.flac"))}


def in_condition(clean: np.ndarray, condition: str, noise: np.ndarray, seed: str) -> np.ndarray:
    """The sound as it would arrive: float32, 16 kHz. `noise` is used by the conditions in dB only."""
    if condition == "clean":
        return clean
    if condition.endswith("dB"):
        return mix(clean, noise, float(condition[:-2]), zlib.crc32(seed.encode()))
    if condition == "clipped":
        return np.clip(clean * (2.5 / max(1e-6, float(np.abs(clean).max()))), -0.5, 0.5).astype(np.float32)
    if condition == "low-rate":
        return _through_opus(clean, 8_000)
    if condition == "phone-band":
        return _phone_band(clean)
    raise ValueError(condition)


def mix(clean: np.ndarray, noise: np.ndarray, snr_db: float, seed: int) -> np.ndarray:
    """Noise looped from a seeded place, scaled so that speech-active parts have the given ratio."""
    rng = np.random.default_rng(seed)
    start = int(rng.integers(0, len(noise)))
    looped = np.resize(np.roll(noise, -start), len(clean))
    active = _active(clean)
    gain = np.sqrt(_power(clean[active]) / (_power(looped[active]) * 10 ** (snr_db / 10)))
    mixed = clean + gain * looped
    return (mixed / max(1.0, float(np.abs(mixed).max()))).astype(np.float32)


def suppressed(sound: np.ndarray) -> np.ndarray:
    """Noise suppression as an experiment: a Wiener filter against each band's quietest tenth, 32 ms frames."""
    size, hop = 512, 128
    window = np.hanning(size).astype(np.float32)
    starts = range(0, max(1, len(sound) - size), hop)
    spectra = np.array([np.fft.rfft(sound[i : i + size] * window, size) for i in starts])
    power = np.abs(spectra) ** 2
    noise = np.quantile(power, 0.1, axis=0) * 2
    spectra *= np.maximum(0.1, 1 - noise / np.maximum(power, 1e-12))
    out, weight = np.zeros(len(sound) + size), np.zeros(len(sound) + size)
    for i, spectrum in zip(starts, spectra, strict=True):
        out[i : i + size] += np.fft.irfft(spectrum, size) * window
        weight[i : i + size] += window**2
    return (out / np.maximum(weight, 0.1))[: len(sound)].astype(np.float32)


def _active(sound: np.ndarray) -> np.ndarray:
    speech = np.repeat(np.array(SpeechMeter().feed(sound, last=True)) >= 0.5, FRAME)[: len(sound)]
    return speech if speech.any() else np.ones(len(sound), dtype=bool)


def _power(x: np.ndarray) -> float:
    return float(np.mean(np.square(x, dtype=np.float64))) or 1e-12


def _phone_band(clean: np.ndarray) -> np.ndarray:
    """300–3400 Hz, and 8 bits a sample by µ-law (ITU-T G.711)."""
    spectrum = np.fft.rfft(clean)
    hertz = np.fft.rfftfreq(len(clean), 1 / RATE)
    narrow = np.fft.irfft(spectrum * ((hertz >= 300) & (hertz <= 3400)), len(clean))
    narrow /= max(1e-6, float(np.abs(narrow).max()))
    coded = np.round(np.sign(narrow) * np.log1p(255 * np.abs(narrow)) / np.log(256) * 127) / 127
    return (np.sign(coded) * (256 ** np.abs(coded) - 1) / 255).astype(np.float32)


def _through_opus(clean: np.ndarray, bits: int) -> np.ndarray:
    """What a phone on a thin line sends: Opus at `bits` per second."""
    import io

    import av

    memory = io.BytesIO()
    with av.open(memory, "w", format="ogg") as container:
        stream = container.add_stream("libopus", rate=RATE, layout="mono")
        stream.bit_rate = bits
        pcm = (np.clip(clean, -1, 1) * 32767).astype(np.int16)[None]
        frame = av.AudioFrame.from_ndarray(pcm, format="s16", layout="mono")
        frame.sample_rate = RATE
        for packet in (*stream.encode(frame), *stream.encode(None)):
            container.mux(packet)
    path = CACHE / "listening" / "opus.ogg"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(memory.getvalue())
    return decode(path).samples


def human(audio: Path) -> Iterator[dict]:
    """Human speech with its transcript: the manifest's entries with `path` added."""
    for line in (audio / "speech" / "manifest.jsonl").read_text(encoding="utf-8").splitlines():
        entry = json.loads(line)
        if entry.get("text"):
            yield {**entry, "path": audio / "speech" / entry["file"]}
