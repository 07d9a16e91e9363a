"""One segment heard with care: primed where that holds, plainly where it does not, not at all over noise."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from hatchnote.speech.audio import RATE
from hatchnote.speech.guards import Hypothesis, agree, failing
from hatchnote.speech.level import levelled
from hatchnote.speech.recognise import Encoded, Recogniser
from hatchnote.speech.rest import with_rest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hatchnote.speech.settings import ListenSettings

_DOUBTFUL = -0.55
"""Below this mean log-probability speech must be heard the same way twice to be believed."""


class Ear:
    """A recogniser with its priming text and guards."""

    def __init__(
        self, recogniser: Recogniser, settings: ListenSettings, *, prompt: str | None, language: str = "en"
    ) -> None:
        self._recogniser = recogniser
        self._settings = settings
        self._prompt = prompt
        self._language = language
        self._together = recogniser.on_gpu if settings.together is None else settings.together

    def hear(
        self, sounds: Sequence[NDArray[np.float32]], offsets: Sequence[float]
    ) -> list[Hypothesis | None]:
        """What was said in each sound, `offsets` (s) added to its times; None where nobody speaks."""
        if self._settings.level:
            sounds = [levelled(s) for s in sounds]
        encoded: Encoded | None = None
        if self._together:
            first = self._recogniser.hear(
                sounds,
                prompt=self._prompt,
                language=self._language,
                beam=self._settings.beam,
                offsets=offsets,
            )
        else:
            encoded = self._recogniser.encode(sounds)
            first = self._decode(encoded, offsets, self._prompt)
        out: list[Hypothesis | None] = []
        for i, h in enumerate(first):
            why = failing(h, self._settings, prompt=self._prompt)
            believed: Hypothesis | None = h
            if why is not None or h.log_prob < _DOUBTFUL or h.no_speech >= self._settings.no_speech:
                one = encoded if encoded and len(sounds) == 1 else self._recogniser.encode([sounds[i]])
                believed = self._again(one, offsets[i], h, why)
            if believed is not None and self._settings.retell:
                end = offsets[i] + len(sounds[i]) / RATE - self._settings.pad_s
                believed = with_rest(believed, sounds[i], offsets[i], end, self._rest)
            out.append(believed)
        return out

    def _rest(self, sound: NDArray[np.float32], offset: float) -> Hypothesis | None:
        h = self._decode(self._recogniser.encode([sound]), [offset], None)[0]
        return h if failing(h, self._settings) is None and h.log_prob >= _DOUBTFUL else None

    def _again(
        self, encoded: Encoded, offset: float, first: Hypothesis, why: str | None
    ) -> Hypothesis | None:
        """The first decoding failed or is doubtful: decode otherwise and believe what two agree on."""
        other = self._decode(encoded, [offset], None if first.primed else self._prompt)[0]
        why_other = failing(other, self._settings)
        if why is None and why_other is None:
            if not agree(first.text, other.text):
                return None
            return max(first, other, key=lambda h: h.log_prob)
        if why_other is None and other.log_prob >= _DOUBTFUL:
            return other
        third = self._decode(encoded, [offset], None, no_repeat=3, beam=1)[0]
        why_third = failing(third, self._settings)
        candidates = [
            h
            for h, w in ((first, why), (other, why_other), (third, why_third))
            if w in (None, "unsure") and h.text
        ]
        for h in sorted(candidates, key=lambda h: -h.log_prob):
            if any(agree(h.text, x.text) for x in candidates if x is not h):
                return h
        return None

    def _decode(
        self,
        encoded: Encoded,
        offsets: Sequence[float],
        prompt: str | None,
        *,
        no_repeat: int = 0,
        beam: int = 0,
    ) -> list[Hypothesis]:
        return self._recogniser.decode(
            encoded,
            prompt=prompt,
            language=self._language,
            beam=beam or self._settings.beam,
            no_repeat=no_repeat,
            offsets=offsets,
        )
