"""Sound → words, each with its time and probability.

    transcribe(path, vocabulary) -> Transcript

Nothing heavy is loaded until it is called. `Listener` in `live.py` does the same while the sound comes in.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from hatchnote.domain import Transcript

if TYPE_CHECKING:
    from hatchnote.speech.settings import ListenSettings

__all__ = ["transcribe"]

SoundPath = str | os.PathLike[str]


def transcribe(
    path: SoundPath | Sequence[SoundPath],
    vocabulary: Iterable[str] = (),
    *,
    language: str | None = None,
    settings: ListenSettings | None = None,
    id: str | None = None,
    progress: Callable[[float], None] | None = None,
) -> Transcript:
    """The words of one recording (a file, or its segments' files in order).

    `vocabulary` holds the site's own words: equipment tags, nicknames. `language` None is that of the settings
    (HATCHNOTE_LANGUAGE, else English). `progress` gets the share done, 0..1. Sound without speech gives a
    transcript without words. Raises BadInput or NotFound, one sentence each, for what cannot be listened to.
    """
    from hatchnote.speech.audio import decode_many
    from hatchnote.speech.live import Listener
    from hatchnote.speech.settings import ListenSettings

    chosen = settings or ListenSettings.from_environment()
    paths = [path] if isinstance(path, str | os.PathLike) else list(path)
    sound = decode_many(paths, max_seconds=chosen.max_sound_s)
    listener = Listener(
        vocabulary, language=language, settings=chosen, progress=progress, total_s=sound.seconds
    )
    listener.feed(sound.samples)
    return listener.finish(id=id, warnings=sound.warnings)
