"""The outermost layer: request id, version, tokens, counts, access log, and the kept lookups.

It is plain WSGI, so that what every request pays stays small and streams pass through untouched.
"""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable, Iterable, Iterator
from http import HTTPStatus
from typing import Any

from flankwise_service import __version__
from flankwise_service.web.access import Access
from flankwise_service.web.log import AccessLog
from flankwise_service.web.lookups import Lookups, key_of, same
from flankwise_service.web.metrics import Meter
from flankwise_service.web.problems import MEDIA_TYPE, Problem

Environ = dict[str, Any]
StartResponse = Callable[..., Any]
Wsgi = Callable[[Environ, StartResponse], Iterable[bytes]]

REQUEST_ID = "flankwise.request_id"
OPERATION = "flankwise.operation"
PROBLEM = "flankwise.problem"
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

    def __init__(
        self, inner: Wsgi, lookups: Lookups, access: Access, log: AccessLog, meter: Meter
    ) -> None:
        self._inner, self._lookups, self._access = inner, lookups, access
        self._log, self._meter = log, meter

    def __call__(self, environ: Environ, start_response: StartResponse) -> Iterable[bytes]:
        """Answer one request."""
        begun = time.perf_counter()
        self._meter.begin()
        request_id = environ[REQUEST_ID] = request_id_of(environ)
        own = [("X-Request-Id", request_id), *_VERSION_HEADERS]
        method = environ["REQUEST_METHOD"]
        refused = self._access.check(environ)
        if refused is not None:
            return self._refuse(refused, environ, start_response, own, begun)
        if method in ("GET", "HEAD"):
            key = key_of(environ)
            kept = self._lookups.get(key) if key is not None else None
            if kept is not None:
                known = same(environ, kept.etag)
                status = "304 NOT MODIFIED" if known else "200 OK"
                start_response(status, [*_headers(kept.headers, known), *own])
                environ[OPERATION] = kept.operation
                self._done(environ, status, begun)
                return [] if known or method == "HEAD" else [kept.body]

        told: list[str] = []

        def start(status: str, headers: list[tuple[str, str]], exc_info: Any = None) -> Any:
            told[:] = [status]
            return start_response(status, headers + own, exc_info)

        chunks = self._inner(environ, start)
        return _Watched(chunks, lambda: self._done(environ, told[0], begun))

    def _refuse(
        self,
        problem: Problem,
        environ: Environ,
        start_response: StartResponse,
        own: list[tuple[str, str]],
        begun: float,
    ) -> Iterable[bytes]:
        body = problem.body(environ[REQUEST_ID])
        status = f"{problem.status} {HTTPStatus(problem.status).phrase}"
        headers = [
            ("Content-Type", MEDIA_TYPE),
            ("Content-Length", str(len(body))),
            ("Cache-Control", "no-store"),
        ]
        environ[PROBLEM] = problem.code
        start_response(status, [*headers, *problem.headers.items(), *own])
        self._done(environ, status, begun)
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [body]

    def _done(self, environ: Environ, status: str, begun: float) -> None:
        seconds = time.perf_counter() - begun
        operation = environ.get(OPERATION, "")
        method, number = environ["REQUEST_METHOD"], int(status[:3])
        self._meter.done(operation, method, number, seconds, environ.get(PROBLEM, ""))
        self._log.write(environ[REQUEST_ID], method, operation, number, seconds * 1000)


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
