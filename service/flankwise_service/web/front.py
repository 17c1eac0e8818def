"""The outermost layer: request id in and out, version, access log, and the kept lookups.

It is plain WSGI, so that what every request pays stays small and streams pass through untouched.
"""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from flankwise_service import __version__
from flankwise_service.web.log import AccessLog
from flankwise_service.web.lookups import Lookups, key_of, same

Environ = dict[str, Any]
StartResponse = Callable[..., Any]
Wsgi = Callable[[Environ, StartResponse], Iterable[bytes]]

REQUEST_ID = "flankwise.request_id"
OPERATION = "flankwise.operation"
_SAFE_ID = re.compile(r"[A-Za-z0-9._-]{1,64}\Z", re.ASCII)
_VERSION_HEADERS = [("Service-Version", __version__), ("X-Content-Type-Options", "nosniff")]


def request_id_of(environ: Environ) -> str:
    """Return the caller's X-Request-Id where it is short and safe, else a new one."""
    given = environ.get("HTTP_X_REQUEST_ID")
    if given is not None and _SAFE_ID.match(given):
        return str(given)
    return os.urandom(9).hex()


class Front:
    """Wraps the Flask application."""

    def __init__(self, inner: Wsgi, lookups: Lookups, log: AccessLog) -> None:
        self._inner, self._lookups, self._log = inner, lookups, log

    def __call__(self, environ: Environ, start_response: StartResponse) -> Iterable[bytes]:
        """Answer one request."""
        begun = time.perf_counter()
        request_id = environ[REQUEST_ID] = request_id_of(environ)
        own = [("X-Request-Id", request_id), *_VERSION_HEADERS]
        method = environ["REQUEST_METHOD"]
        if method in ("GET", "HEAD"):
            key = key_of(environ)
            kept = self._lookups.get(key) if key is not None else None
            if kept is not None:
                known = same(environ, kept.etag)
                status = "304 NOT MODIFIED" if known else "200 OK"
                start_response(status, [*_headers(kept.headers, known), *own])
                self._done(environ, method, kept.operation, status, begun)
                return [] if known or method == "HEAD" else [kept.body]

        told: list[str] = []

        def start(status: str, headers: list[tuple[str, str]], exc_info: Any = None) -> Any:
            told[:] = [status]
            return start_response(status, headers + own, exc_info)

        chunks = self._inner(environ, start)
        return _Watched(chunks, lambda: self._done(environ, method, "", told[0], begun))

    def _done(
        self, environ: Environ, method: str, operation: str, status: str, begun: float
    ) -> None:
        self._log.write(
            environ[REQUEST_ID],
            method,
            operation or environ.get(OPERATION, ""),
            int(status[:3]),
            (time.perf_counter() - begun) * 1000,
        )


def _headers(headers: tuple[tuple[str, str], ...], known: bool) -> Iterable[tuple[str, str]]:
    if not known:
        return headers
    return [pair for pair in headers if pair[0] not in ("Content-Length", "Content-Type")]


class _Watched:
    """An iterable of chunks that tells when the last was sent, or the caller went away."""

    def __init__(self, chunks: Iterable[bytes], done: Callable[[], None]) -> None:
        self._chunks, self._tell = chunks, done

    def __iter__(self) -> Iterator[bytes]:
        return iter(self._chunks)

    def close(self) -> None:
        """Close the inner iterable, then tell."""
        try:
            close = getattr(self._chunks, "close", None)
            if close is not None:
                close()
        finally:
            self._tell()
