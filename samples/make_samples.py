"""Makes the sound and the photos of the sample scenario again: `python samples/make_samples.py [--only sound|photos]`.

Sound: the `said` texts of scenario.toml, spoken by the synthetic voice of that visit's technician (see
benchmarks/listening/voices.py, which fetches the voices once), rooftop noise mixed in where the scenario asks for
it, written as Ogg/Opus, mono. Photos: drawn by samples/draw.py, with the time they were taken in their EXIF.
Speech is the same from run to run on one machine; across machines the last bits of the synthesis may differ.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import tomllib
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

RATE = 24_000
"""Hz, what the voices are made at; one of the rates that Opus takes."""
BIT_RATE = 32_000
"""bit/s, near what a phone page asks of its recorder."""


def scenario() -> dict:
    return tomllib.loads((HERE / "scenario.toml").read_text(encoding="utf-8"))


def main() -> None:
    parser = argparse.ArgumentParser(description="Make the samples' sound and photos again.")
    parser.add_argument("--only", choices=("sound", "photos"))
    chosen = parser.parse_args().only
    given = scenario()
    voices = {t["id"]: t["voice"] for t in given["technicians"]}
    for visit in given["visits"]:
        if chosen != "photos":
            for dictation in visit["dictations"]:
                _make_sound(dictation, voices[visit["technician"]])
        if chosen != "sound":
            from samples.draw import draw

            for photo in visit.get("photos", ()):
                draw(photo["file"], photo["taken_at"], HERE / "photos" / photo["file"])
                print(f"photos/{photo['file']}")


def _make_sound(dictation: dict, voice: str) -> None:
    import soundfile
    from benchmarks.listening.voices import speak

    with tempfile.TemporaryDirectory() as work:
        spoken, rate = soundfile.read(
            speak(dictation["said"], voice, Path(work) / "said.wav"), dtype="float32"
        )
    if rate != RATE:
        raise SystemExit(f"The voice {voice} speaks at {rate} Hz; {RATE} Hz was expected.")
    half_second = np.zeros(RATE // 2, dtype=np.float32)
    sound = np.concatenate([half_second, spoken, half_second])
    if name := dictation.get("noise"):
        sound = _mix(sound, _read(HERE / "noise" / name), float(dictation["snr_db"]))
    out = HERE / "dictations" / dictation["file"]
    _write_opus(out, 0.8 * sound / np.abs(sound).max())
    print(f"dictations/{dictation['file']}: {len(sound) / RATE:.1f} s, {out.stat().st_size} bytes")


def _mix(speech: np.ndarray, noise: np.ndarray, snr_db: float) -> np.ndarray:
    """Noise looped under the speech at a ratio taken over the parts where somebody speaks (20 ms frames)."""
    frames = speech[: len(speech) // 480 * 480].reshape(-1, 480)
    power = (frames**2).mean(axis=1)
    spoken = power[power > power.max() / 1000].mean()
    under = np.resize(noise, len(speech))
    under = under * np.sqrt(spoken / (under**2).mean() / 10 ** (snr_db / 10))
    return (speech + under).astype(np.float32)


def _read(path: Path) -> np.ndarray:
    """A sound file's samples, mono, at RATE."""
    import av

    resampler = av.AudioResampler(format="flt", layout="mono", rate=RATE)
    pieces = []
    with av.open(str(path)) as container:
        for frame in container.decode(audio=0):
            pieces += [f.to_ndarray()[0] for f in resampler.resample(frame)]
    pieces += [f.to_ndarray()[0] for f in resampler.resample(None)]
    return np.concatenate(pieces)


def _write_opus(path: Path, samples: np.ndarray) -> None:
    import av

    path.parent.mkdir(parents=True, exist_ok=True)
    with av.open(str(path), "w", container_options={"fflags": "+bitexact"}) as container:
        stream = container.add_stream("libopus", rate=RATE)
        stream.bit_rate = BIT_RATE
        stream.layout = "mono"
        whole = np.round(np.clip(samples, -1, 1) * 32767).astype(np.int16)
        frame = av.AudioFrame.from_ndarray(whole[None], format="s16", layout="mono")
        frame.sample_rate = RATE
        for packet in (*stream.encode(frame), *stream.encode(None)):
            container.mux(packet)


if __name__ == "__main__":
    main()
