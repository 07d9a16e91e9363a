"""The doorbell: tells a worker, here or on another machine, that there is something in the jobs table.

Huey carries the ring, on SQLite by default and on Redis where several machines work. A lost ring loses
nothing: the sweep looks into the table at every start and every minute.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from hatchnote.settings import Settings

if TYPE_CHECKING:
    from huey.api import Huey

log = logging.getLogger("hatchnote.jobs")
NAME = "hatchnote"


def make_huey(settings: Settings) -> Huey:
    """The queue that the settings name; nothing is connected before it is used."""
    from huey import RedisHuey, SqliteHuey

    if settings.queue == "sqlite":
        return SqliteHuey(NAME, filename=str(settings.queue_file), results=False, fsync=False)
    return RedisHuey(NAME, url=settings.queue, results=False, blocking=True)


class Bell:
    """Rings. `look` is the one task there is; workers register what it does (`hatchnote.jobs.worker`)."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        self._look: Any = None

    def ring(self) -> None:
        """Tell the workers. Never raises: when the queue is away, the sweep finds the work."""
        try:
            if self._look is None:
                self._look = look_task(make_huey(self._settings), _not_here)
            self._look()
        except Exception as error:  # any queue, any failure: the table is the memory
            log.warning("the bell could not be rung (%s); the sweep will find the work", type(error).__name__)


def look_task(huey: Huey, work: Callable[[], object]) -> Any:
    """Register the task under the one name that both sides know.

    Huey names a task by its function's module as well, so the function is made here for both sides.
    """

    def look() -> None:
        work()

    return huey.task(name="look")(look)


def _not_here() -> None:
    raise RuntimeError("this process only rings; a worker does the work")
