"""The errors a person meets. Each message is one sentence: what happened, and what to do."""

from __future__ import annotations


class HatchnoteError(Exception):
    """Base of every error whose text is meant for a person. The command line exits with 1."""


class BadInput(HatchnoteError, ValueError):
    """What was given cannot be used: a broken sound file, a photo that is none, a wrong setting."""


class NotFound(HatchnoteError, LookupError):
    """There is no such thing, or not for this person."""


class Conflict(HatchnoteError):
    """Somebody else changed the same thing first; nothing was overwritten."""


class NoRoom(HatchnoteError, OSError):
    """The disk is full or a limit is reached; nothing was stored by halves."""
