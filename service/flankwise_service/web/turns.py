"""Long computations of a worker take turns, so that its threads don't fight for the interpreter.

Only one thread of a process runs Python at a time. Sixteen plans side by side make it change
between them two hundred times a second: together they take longer than one after the other, and
all end late. So one that is heavy waits for the one before it, but never long: behind a path of
minutes it goes ahead after a while and shares, as all would without turns. What is light doesn't
wait at all, and meets one heavy thread instead of sixteen.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field


@dataclass(slots=True)
class Turns:
    """Whose turn it is in this worker.

    >>> turns = Turns(0.25)
    >>> with turns.taken(heavy=True):
    ...     turns.busy
    True
    >>> turns.busy
    False
    """

    wait: float
    """Seconds one waits for its turn at most; 0: nobody takes turns."""
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def busy(self) -> bool:
        """Whether somebody has the turn."""
        return self._lock.locked()

    @contextmanager
    def taken(self, *, heavy: bool) -> Iterator[None]:
        """Wait for the turn if the work is heavy, and give it back afterwards."""
        mine = heavy and self.wait > 0 and self._lock.acquire(timeout=self.wait)
        try:
            yield
        finally:
            if mine:
                self._lock.release()
