"""Long computations of a worker take turns, so that its threads don't fight for the interpreter.

Only one thread of a process runs Python at a time. Sixteen plans side by side make it change
between them two hundred times a second, and a light call waits behind all of them. So one that is
heavy waits for those before it, in the order they came, but never long: behind a path of many
seconds it goes ahead after a while and shares, as all would without turns. What is light doesn't
wait at all, and meets one heavy thread instead of sixteen. A reply that is streamed computes while
it is sent, outside any turn.
"""

from __future__ import annotations

import threading
from collections import deque
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
    busy: bool = False
    """Whether somebody has the turn."""
    _guard: threading.Lock = field(default_factory=threading.Lock)
    _queue: deque[threading.Event] = field(default_factory=deque)

    @contextmanager
    def taken(self, *, heavy: bool) -> Iterator[None]:
        """Wait for the turn if the work is heavy, and give it back afterwards."""
        mine = heavy and self.wait > 0 and self._take()
        try:
            yield
        finally:
            if mine:
                self._give()

    def _take(self) -> bool:
        """Return whether the turn came in time."""
        with self._guard:
            if not self.busy:
                self.busy = True
                return True
            called = threading.Event()
            self._queue.append(called)
        if called.wait(self.wait):
            return True
        with self._guard:
            if called.is_set():  # just now, while this one gave up waiting
                return True
            self._queue.remove(called)
            return False

    def _give(self) -> None:
        """Hand the turn to the one that has waited longest, or leave it free."""
        with self._guard:
            if self._queue:
                self._queue.popleft().set()
            else:
                self.busy = False
