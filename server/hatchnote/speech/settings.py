"""How to listen: every knob of the recogniser, its default and what it does.

The defaults are those measured in benchmarks/listening; change one there before changing it here.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from dataclasses import dataclass

from hatchnote.errors import BadInput

_CODE = re.compile(r"[a-z]{2,3}")


@dataclass(frozen=True, slots=True)
class ListenSettings:
    """What one listening uses. Times are seconds, probabilities 0..1."""

    model: str | None = None
    """Name in models/speech.toml, a faster-whisper model name, or a folder; None: the pinned default."""
    second_model: str | None = None
    """The second listener's model; "none" turns it off; None: the pinned default."""
    language: str = "en"
    """What is spoken, as ISO 639-1 has it. Readings are read in English only."""
    device: str = "auto"
    """"cpu", "cuda" or "auto"."""
    compute: str | None = None
    """CTranslate2 compute type; None: int8 on a CPU, float16 on a GPU."""
    threads: int = 0
    """Threads for one decoding; 0: as many as this process may use, at most 4."""

    beam: int = 5
    second_beam: int = 2
    third: bool = False
    """Hear doubtful numbers a third time, cut out and unprimed, where there is a second listener: measured to cost
    an eighth more time and to change no reading (benchmarks/listening)."""
    prime_trade: bool = True
    """Tell the recogniser the trade's words first, behind the guards."""
    prime_site: bool = True
    """Tell it the site's own words too."""
    batch: int = 0
    """Segments decoded together; 0: 1 on a CPU, 16 on a GPU."""

    together: bool | None = None
    """Decode in one batch what several recordings ask for at the same time; None: on a GPU. On a CPU it saves a
    tenth of the time (benchmarks/listening), and the first draft of three comes when all three are done."""

    level: bool = False
    """Bring every segment to the same loudness before decoding."""
    high_pass_hz: float = 0.0
    """Wind and machines shake below this; no voice does. 0 turns it off."""
    speech_on: float = 0.25
    """A frame counts as speech from this probability on …"""
    speech_off: float = 0.15
    """… until it falls below this one."""
    min_speech_s: float = 0.2
    pause_s: float = 0.4
    """A stretch of speech ends after a pause this long."""
    pad_s: float = 0.3
    """Sound kept before and after a segment."""
    soft_length_s: float = 12.0
    """From this length on a segment ends at the next pause …"""
    max_length_s: float = 27.0
    """… and here at the latest: the model's window is 30 s."""
    max_gap_s: float = 1.6
    """A longer pause always ends a segment."""

    retell: bool = True
    """Decode what a decoding left out at its end, and doubtful segments, once more."""

    no_speech: float = 0.6
    log_prob: float = -1.0
    compression: float = 2.4
    max_sound_s: float = 4 * 3600.0
    """Longer recordings are refused: nobody dictates for four hours, and memory is bounded by it."""

    @staticmethod
    def from_environment(environ: Mapping[str, str] | None = None) -> ListenSettings:
        """Defaults, overridden by HATCHNOTE_SPEECH_MODEL, _SECOND_MODEL, _LANGUAGE, _DEVICE, _COMPUTE, _THREADS."""
        env = os.environ if environ is None else environ
        threads = env.get("HATCHNOTE_THREADS", "0")
        if not threads.isdecimal():
            raise BadInput(f"HATCHNOTE_THREADS is {threads!r}; give a whole number, or 0 for all cores.")
        device = env.get("HATCHNOTE_DEVICE") or "auto"
        if device not in ("auto", "cpu", "cuda"):
            raise BadInput(f"HATCHNOTE_DEVICE is {device!r}; use auto, cpu or cuda.")
        language = env.get("HATCHNOTE_LANGUAGE") or "en"
        if not _CODE.fullmatch(language):
            raise BadInput(f"HATCHNOTE_LANGUAGE is {language!r}; give a code such as en, es or fr.")
        return ListenSettings(
            language=language,
            model=env.get("HATCHNOTE_SPEECH_MODEL") or None,
            second_model=env.get("HATCHNOTE_SECOND_MODEL") or None,
            device=device,
            compute=env.get("HATCHNOTE_COMPUTE") or None,
            threads=int(threads),
        )
