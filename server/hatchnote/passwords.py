"""Passwords as argon2id hashes.

19 MiB of memory and two passes: the smaller of the settings that the OWASP password storage cheat sheet
recommends for argon2id (figure from memory), so that a few sign-ins at once fit a small web process.
"""

from __future__ import annotations

import threading
from functools import cache
from typing import TYPE_CHECKING

from hatchnote.errors import BadInput

if TYPE_CHECKING:
    from argon2 import PasswordHasher

SHORTEST = 10
LONGEST = 512
_TWO_AT_ONCE = threading.Semaphore(2)


@cache
def _hasher() -> PasswordHasher:
    from argon2 import PasswordHasher

    return PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)


def hash_password(password: str) -> str:
    """Raises BadInput when the password is too short or absurdly long."""
    if not SHORTEST <= len(password) <= LONGEST:
        raise BadInput(f"A password needs at least {SHORTEST} characters (and at most {LONGEST}).")
    with _TWO_AT_ONCE:
        return _hasher().hash(password)


def matches(password: str, password_hash: str | None) -> bool:
    """Whether it is the right password. Without a hash the work is done all the same: timing tells nothing."""
    from argon2.exceptions import InvalidHashError, VerificationError

    with _TWO_AT_ONCE:
        try:
            return _hasher().verify(password_hash or _nobody(), password) and password_hash is not None
        except (VerificationError, InvalidHashError):
            return False


@cache
def _nobody() -> str:
    return _hasher().hash("nobody has this password")
