"""One line of JSON per request on standard output: no bodies, no queries, no tokens."""

from __future__ import annotations

import sys
import time
from typing import TextIO

import orjson


class AccessLog:
    """Writes access lines; a full disk or a closed pipe must not fail a request."""

    def __init__(self, wanted: bool, stream: TextIO | None = None) -> None:
        self.wanted = wanted
        self._stream = stream

    def write(self, request_id: str, method: str, operation: str, status: int, ms: float) -> None:
        """Write the line of one request."""
        if not self.wanted:
            return
        line = orjson.dumps(
            {
                "time": round(time.time(), 3),
                "request_id": request_id,
                "method": method,
                "operation": operation,
                "status": status,
                "ms": round(ms, 3),
            }
        )
        try:
            stream = self._stream or sys.stdout
            stream.write(line.decode() + "\n")
            stream.flush()
        except (OSError, ValueError):
            pass
