"""Any sound a phone makes becomes 16 kHz mono; what cannot be heard gets one clear sentence."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hatchnote.errors import BadInput, NotFound
from hatchnote.speech.audio import RATE, decode, decode_many

FORMATS = [
    ("webm", "libopus", 48_000, "mono"),
    ("webm", "libopus", 48_000, "stereo"),
    ("mp4", "aac", 44_100, "mono"),
    ("m4a", "aac", 48_000, "stereo"),
    ("ogg", "libopus", 16_000, "mono"),
    ("wav", "pcm_s16le", 8_000, "mono"),
    ("wav", "pcm_f32le", 96_000, "stereo"),
    ("flac", "flac", 22_050, "mono"),
    ("mp3", "libmp3lame", 44_100, "mono"),
]


def loudness(samples: np.ndarray) -> np.ndarray:
    """Root mean square of every 100 ms: what must survive any codec."""
    n = len(samples) // 1600
    return np.sqrt(np.mean(samples[: n * 1600].reshape(n, 1600) ** 2, axis=1))


@pytest.mark.parametrize(("container", "codec", "rate", "layout"), FORMATS)
def test_every_format_a_phone_makes_is_read(encode, samples, container, codec, rate, layout):
    sound = decode(encode(samples, container, codec, rate=rate, layout=layout))
    assert sound.samples.dtype == np.float32 and sound.samples.ndim == 1
    assert sound.seconds == pytest.approx(len(samples) / RATE, abs=0.15)
    a, b = loudness(samples), loudness(sound.samples)
    n = min(len(a), len(b))
    # A fragmented MP4 keeps the encoder's 50 ms of lead-in, which blurs a comparison by 100 ms.
    assert np.corrcoef(a[:n], b[:n])[0, 1] > 0.9
    assert sound.warnings == ()


def test_both_channels_are_heard(tmp_path: Path):
    import soundfile

    tone = np.sin(np.arange(RATE) * 0.2).astype(np.float32) * 0.5
    soundfile.write(tmp_path / "one-side.wav", np.stack([np.zeros_like(tone), tone], axis=1), RATE)
    heard = decode(tmp_path / "one-side.wav").samples
    assert np.abs(heard).max() == pytest.approx(0.25, abs=0.12)


@pytest.mark.parametrize(
    ("container", "codec"),
    [("webm", "libopus"), ("ogg", "libopus"), ("wav", "pcm_s16le"), ("mp3", "libmp3lame")],
)
def test_a_file_cut_short_gives_what_was_read(encode, samples, container, codec):
    path = encode(samples, container, codec)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * 0.6)])
    sound = decode(path)
    assert 0.5 < sound.seconds / (len(samples) / RATE) < 0.7


@pytest.mark.parametrize(("container", "codec"), [("flac", "flac"), ("mp3", "libmp3lame"), ("mp4", "aac")])
def test_a_break_that_can_be_seen_is_told(encode, samples, container, codec):
    path = encode(samples, container, codec)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * 0.6)])
    (warning,) = decode(path).warnings
    assert f"sound.{container} breaks off after 11 s of 18 s" in warning


@pytest.mark.parametrize(("container", "codec"), [("ogg", "libopus"), ("wav", "pcm_s16le")])
@pytest.mark.parametrize("share", [0.2, 0.6, 0.98])
def test_a_break_that_the_decoder_keeps_to_itself_is_told(encode, samples, container, codec, share):
    path = encode(samples, container, codec)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * share)])
    (warning,) = decode(path).warnings
    assert f"sound.{container} is damaged or cut short" in warning


def test_a_wav_that_does_not_know_its_length_is_whole(encode, samples):
    """Recorders that stream write 0xFFFFFFFF for sizes they do not know yet."""
    path = encode(samples, "wav", "pcm_s16le")
    data = bytearray(path.read_bytes())
    at = data.index(b"data") + 4
    data[at : at + 4] = b"\xff" * 4
    path.write_bytes(data)
    assert decode(path).warnings == ()


def test_damage_in_the_middle_costs_only_its_place(encode, samples):
    path = encode(samples, "mp3", "libmp3lame")
    data = bytearray(path.read_bytes())
    middle = len(data) // 2
    data[middle : middle + 2000] = bytes(2000)
    path.write_bytes(data)
    assert decode(path).seconds > 0.9 * len(samples) / RATE


def test_an_mp4_without_its_index_is_refused_in_a_sentence(encode, samples):
    path = encode(samples, "m4a", "aac")
    data = path.read_bytes()
    path.write_bytes(data[: len(data) // 2])
    with pytest.raises(BadInput, match=r"sound\.m4a cannot be read as sound .*record or send it again"):
        decode(path)


def test_no_such_file(tmp_path: Path):
    with pytest.raises(NotFound, match="no sound file"):
        decode(tmp_path / "absent.webm")


def test_an_empty_file(tmp_path: Path):
    path = tmp_path / "empty.webm"
    path.touch()
    with pytest.raises(BadInput, match=r"empty\.webm is empty"):
        decode(path)


def test_a_picture_renamed(tmp_path: Path):
    from PIL import Image

    path = tmp_path / "picture.webm"
    Image.new("RGB", (64, 64), "red").save(path, "JPEG")
    with pytest.raises(BadInput, match=r"picture\.webm (holds no sound|cannot be read as sound)"):
        decode(path)


def test_a_text_file(tmp_path: Path):
    path = tmp_path / "notes.ogg"
    path.write_text("Suction one eighteen.\n" * 50)
    with pytest.raises(BadInput, match=r"notes\.ogg"):
        decode(path)


def test_a_container_without_a_single_frame(tmp_path: Path):
    import wave

    path = tmp_path / "nothing.wav"
    with wave.open(str(path), "wb") as out:
        out.setparams((1, 2, 16_000, 0, "NONE", ""))
    with pytest.raises(BadInput, match=r"nothing\.wav"):
        decode(path)


def test_too_long_is_refused_before_memory_is_spent(encode, samples):
    with pytest.raises(BadInput, match="longer than"):
        decode(encode(samples, "flac", "flac"), max_seconds=5)


def test_segments_of_a_recording_are_decoded_one_by_one(encode, samples):
    half = len(samples) // 2
    first = encode(samples[:half], "webm", "libopus")
    second = first.rename(first.with_name("first.webm"))
    third = encode(samples[half:], "mp4", "aac")
    assert decode_many([second, third]).seconds == pytest.approx(len(samples) / RATE, abs=0.3)
