"""One line of JSON per request on standard output: no bodies, no queries, no tokens."""

from __future__ import annotations

import os
import select
import sys
import time
from typing import TextIO

import orjson


class AccessLog:
    """Writes access lines. Neither a full disk nor a reader that stopped reading holds a request.

    A line that can't be written at once is left out, and the next one written says how many were.
    """

    def __init__(self, wanted: bool, stream: TextIO | None = None) -> None:
        self.wanted = wanted
        self._stream = stream
        self._left_out = 0

    def write(self, request_id: str, method: str, operation: str, status: int, ms: float) -> None:
        """Write the line of one request."""
        if not self.wanted:
            return
        line = {
            "time": round(time.time(), 3),
            "request_id": request_id,
            "method": method,
            "operation": operation,
            "status": status,
            "ms": round(ms, 3),
        }
        missed = self._left_out
        if missed:
            line["lines_left_out"] = missed
        if self._put(orjson.dumps(line) + b"\n"):
            self._left_out -= missed
        else:
            self._left_out += 1

    def _put(self, line: bytes) -> bool:
        stream = self._stream or sys.stdout
        if stream is None:  # closed before the start
            return False
        try:
            file = stream.fileno()
        except (OSError, ValueError, AttributeError):
            return _to_text(stream, line)
        return _to_file(file, line)


def _to_text(stream: TextIO, line: bytes) -> bool:
    """Write to a stream that is no file, as tests use."""
    try:
        stream.write(line.decode())
        stream.flush()
    except (OSError, ValueError):
        return False
    return True


def _to_file(file: int, line: bytes) -> bool:
    """Write past all buffers, where that doesn't mean waiting.

    A pipe that can be written at all takes a line as a whole (PIPE_BUF, POSIX), and lines of
    several threads or processes don't mix.
    """
    try:
        ready = select.poll()
        ready.register(file, select.POLLOUT)
        states = ready.poll(0)
        if not states or not states[0][1] & select.POLLOUT:
            return False
        return os.write(file, line) == len(line)
    except (OSError, ValueError):
        return False
