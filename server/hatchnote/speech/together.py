"""What several recordings ask of one model at the same time, done as one batch.

A caller waits only while the model is at work anyway: whoever gets the model next takes along everything that was
asked for meanwhile and fits together, oldest first, so nobody is overtaken for the sake of a fuller batch.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Hashable, Sequence
from typing import Generic, TypeVar

Work = TypeVar("Work")
Result = TypeVar("Result")


class _Ticket(Generic[Work, Result]):
    def __init__(self, key: Hashable, work: Work) -> None:
        self.key, self.work = key, work
        self.done = False
        self.result: Result | None = None
        self.error: Exception | None = None


class Together(Generic[Work, Result]):
    """Calls `run(key, works)` with at most `most` works of one key; results come back in the order of the works."""

    def __init__(self, run: Callable[[Hashable, list[Work]], Sequence[Result]], *, most: int) -> None:
        self._run, self._most = run, most
        self._waiting: deque[_Ticket[Work, Result]] = deque()
        self._guard = threading.Lock()
        self._turn = threading.Lock()

    def ask(self, key: Hashable, works: Sequence[Work]) -> list[Result]:
        """The results of these works. Raises what `run` raised for one of them, not what others' works raised."""
        mine = [_Ticket[Work, Result](key, w) for w in works]
        with self._guard:
            self._waiting.extend(mine)
        while not all(t.done for t in mine):
            with self._turn:
                if not all(t.done for t in mine):
                    self._work_off(self._take())
        for ticket in mine:
            if ticket.error is not None:
                raise ticket.error
        return [t.result for t in mine]  # type: ignore[misc]

    def _take(self) -> list[_Ticket[Work, Result]]:
        """The oldest and what fits with it."""
        with self._guard:
            key = self._waiting[0].key
            batch = [t for t in self._waiting if t.key == key][: self._most]
            chosen = set(map(id, batch))
            self._waiting = deque(t for t in self._waiting if id(t) not in chosen)
        return batch

    def _work_off(self, batch: list[_Ticket[Work, Result]]) -> None:
        try:
            for ticket, result in zip(batch, self._run(batch[0].key, [t.work for t in batch]), strict=True):
                ticket.result = result
        except Exception as error:
            if len(batch) > 1:
                # One of them may be poison: each alone, so that only its own recording fails.
                for ticket in batch:
                    self._work_off([ticket])
                return
            batch[0].error = error
        for ticket in batch:
            ticket.done = True
