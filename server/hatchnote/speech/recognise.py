"""Sound → words with one Whisper model: the only file that talks to the recogniser itself."""

from __future__ import annotations

import os
import threading
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from hatchnote.domain import Word
from hatchnote.errors import BadInput
from hatchnote.speech.audio import RATE
from hatchnote.speech.guards import Hypothesis
from hatchnote.speech.models import find_model
from hatchnote.speech.together import Together

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hatchnote.speech.settings import ListenSettings

_TOKENS_PER_S = 9.0
"""Bounds what one segment can produce: a loop ends here instead of at the model's 448 tokens."""
TOGETHER = 16
"""At most so many sounds in one batch: the size measured on an H100 (benchmarks/listening)."""
_PREPENDED = "\"'“¿([{-"
_APPENDED = "\"'.。,，!！?？:：”)]}、"


@dataclass(frozen=True, slots=True)
class Encoded:
    """What the encoder made of a batch of segments; decoding it again costs only the decoder."""

    output: Any
    frames: tuple[int, ...]
    seconds: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """One sound to be heard: its spectrum, its length (s), the text it is primed with, and where it begins (s)."""

    features: NDArray[np.float32]
    seconds: float
    prompt: str | None
    offset: float


@dataclass(frozen=True, slots=True)
class _Alike:
    """What sounds of one batch have in common: the model wants their texts to start at the same place."""

    language: str
    beam: int
    start: int


class Recogniser:
    """A loaded model. Calls from several threads take turns: the model uses all cores by itself."""

    def __init__(self, model: Any, name: str) -> None:
        self.name = name
        self._model = model
        self._turn = threading.Lock()
        self._tokenizers: dict[str, Any] = {}
        self._together: Together[Piece, Hypothesis] = Together(self._hear_alike, most=TOGETHER)

    def hear(
        self,
        sounds: Sequence[NDArray[np.float32]],
        *,
        prompt: str | None = None,
        language: str = "en",
        beam: int = 5,
        offsets: Sequence[float],
    ) -> list[Hypothesis]:
        """Encode and decode, in one batch with what other threads ask for at the same time."""
        key = _Alike(language, beam, len(self._start(self._tokenizer(language), prompt)))
        pieces = [
            Piece(self._features(s), len(s) / RATE, prompt, o) for s, o in zip(sounds, offsets, strict=True)
        ]
        return self._together.ask(key, pieces)

    def _hear_alike(self, key: Hashable, pieces: list[Piece]) -> list[Hypothesis]:
        assert isinstance(key, _Alike)
        return self._decode(
            self._encode([p.features for p in pieces], [p.seconds for p in pieces]),
            [p.prompt for p in pieces],
            [p.offset for p in pieces],
            language=key.language,
            beam=key.beam,
        )

    @property
    def on_gpu(self) -> bool:
        return str(self._model.model.device) == "cuda"

    def encode(self, sounds: Sequence[NDArray[np.float32]]) -> Encoded:
        """Each sound is at most 30 s of 16 kHz samples; the rest of the window is silence."""
        return self._encode([self._features(s) for s in sounds], [len(s) / RATE for s in sounds])

    def _features(self, sound: NDArray[np.float32]) -> NDArray[np.float32]:
        from faster_whisper.audio import pad_or_trim

        extractor = self._model.feature_extractor
        padded: NDArray[np.float32] = pad_or_trim(extractor(sound), extractor.nb_max_frames)
        return padded

    def _encode(self, features: Sequence[NDArray[np.float32]], seconds: Sequence[float]) -> Encoded:
        import numpy as np

        window = self._model.feature_extractor.nb_max_frames
        with self._turn:
            output = self._model.encode(np.stack(features))
        frames = tuple(min(window, int(s * self._model.frames_per_second) + 1) for s in seconds)
        return Encoded(output, frames, tuple(seconds))

    def decode(
        self,
        encoded: Encoded,
        *,
        prompt: str | None = None,
        language: str = "en",
        beam: int = 5,
        no_repeat: int = 0,
        offsets: Sequence[float] | None = None,
    ) -> list[Hypothesis]:
        """One hypothesis a segment; word times are shifted by `offsets` (s).

        Raises BadInput for a language the model does not know.
        """
        count = len(encoded.seconds)
        return self._decode(
            encoded,
            [prompt] * count,
            offsets or [0.0] * count,
            language=language,
            beam=beam,
            no_repeat=no_repeat,
        )

    def _decode(
        self,
        encoded: Encoded,
        prompts: Sequence[str | None],
        offsets: Sequence[float],
        *,
        language: str,
        beam: int,
        no_repeat: int = 0,
    ) -> list[Hypothesis]:
        tokenizer = self._tokenizer(language)
        starts = [self._start(tokenizer, p) for p in prompts]
        room = int(_TOKENS_PER_S * max(encoded.seconds)) + 24
        with self._turn:
            results = self._model.model.generate(
                encoded.output,
                starts,
                beam_size=beam,
                no_repeat_ngram_size=no_repeat,
                max_length=min(self._model.max_length, len(starts[0]) + room),
                return_scores=True,
                return_no_speech_prob=True,
                suppress_blank=True,
                suppress_tokens=self._suppressed(tokenizer),
            )
            tokens = [[t for t in r.sequences_ids[0] if t < tokenizer.eot] for r in results]
            timed = self._times(tokenizer, tokens, encoded)
        out = []
        for i, result in enumerate(results):
            length = len(result.sequences_ids[0])
            out.append(
                Hypothesis(
                    words=_words(timed[i], offsets[i]),
                    text=tokenizer.decode(tokens[i]).strip(),
                    log_prob=result.scores[0] * length / (length + 1),
                    no_speech=result.no_speech_prob,
                    seconds=encoded.seconds[i],
                    primed=prompts[i] is not None,
                )
            )
        return out

    @staticmethod
    def _start(tokenizer: Any, prompt: str | None) -> list[int]:
        before = [tokenizer.sot_prev, *tokenizer.encode(" " + prompt.strip())[-220:]] if prompt else []
        return [*before, *tokenizer.sot_sequence, tokenizer.no_timestamps]

    def _times(self, tokenizer: Any, tokens: list[list[int]], encoded: Encoded) -> list[list[dict[str, Any]]]:
        if not any(tokens):
            return [[] for _ in tokens]
        return list(self._model.find_alignment(tokenizer, tokens, encoded.output, list(encoded.frames)))

    def _tokenizer(self, language: str) -> Any:
        from faster_whisper.tokenizer import Tokenizer

        if language not in self._tokenizers:
            known = self._model.supported_languages
            if language not in known:
                raise BadInput(
                    f"The speech model {self.name} does not know the language {language!r}; use en."
                )
            self._tokenizers[language] = Tokenizer(
                self._model.hf_tokenizer,
                self._model.model.is_multilingual,
                task="transcribe",
                language=language,
            )
        return self._tokenizers[language]

    @staticmethod
    def _suppressed(tokenizer: Any) -> list[int]:
        from faster_whisper.transcribe import get_suppressed_tokens

        return list(get_suppressed_tokens(tokenizer, [-1]))


def _words(timed: list[dict[str, Any]], offset: float) -> tuple[Word, ...]:
    """The alignment's pieces as words: "7" and ".2" are one, as probable as its weakest piece."""
    from faster_whisper.transcribe import merge_punctuations

    merge_punctuations(timed, _PREPENDED, _APPENDED)
    out: list[Word] = []
    for piece in timed:
        text = str(piece["word"])
        if not text.strip():
            continue
        start, end = round(offset + float(piece["start"]), 2), round(offset + float(piece["end"]), 2)
        p = round(float(piece["probability"]), 4)
        if out and not text.startswith(" "):
            last = out[-1]
            out[-1] = Word(last.text + text.strip(), last.start, end, min(last.p or 0.0, p))
        else:
            out += [Word(t, start, end, p) for t in text.split()]
    return tuple(out)


def threads(settings: ListenSettings) -> int:
    """Decoding threads: what was asked for, or the cores this process may use, at most 4."""
    if settings.threads:
        return settings.threads
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return min(4, cores)


def load(name: str, settings: ListenSettings) -> Recogniser:
    """The recogniser for a model name or folder, loaded once a process.

    Raises BadInput when the model cannot be found, checked or loaded.
    """
    return _load(name, settings.device, settings.compute, threads(settings))


@lru_cache(maxsize=4)
def _load(name: str, device: str, compute: str | None, cores: int) -> Recogniser:
    import ctranslate2

    folder = find_model(name)
    from faster_whisper import WhisperModel

    if device == "auto":
        device = "cuda" if ctranslate2.get_cuda_device_count() > 0 else "cpu"
    compute = compute or ("float16" if device == "cuda" else "int8")
    try:
        model = WhisperModel(folder, device=device, compute_type=compute, cpu_threads=cores)
    except Exception as e:
        # CTranslate2 and the download raise many kinds; a person needs the one sentence.
        first = (str(e).strip().splitlines() or [type(e).__name__])[0].rstrip(".")
        raise BadInput(
            f"The speech model {name} cannot be loaded on {device} as {compute} ({first}); "
            "check HATCHNOTE_SPEECH_MODEL, HATCHNOTE_DEVICE and HATCHNOTE_COMPUTE."
        ) from e
    return Recogniser(model, name)
