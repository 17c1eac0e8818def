"""The worker gunicorn runs: its own with threads, whose refusals are problems like all others.

A request whose head can't be read never reaches the application; gunicorn answers it itself, by a
page of HTML, and quotes it in its log. Here it is answered with a code of the contract, and only
the kind of the error is logged: a head that is wrong may hold a token. It is counted as any other
request that is answered with a problem, of no operation.
"""

from __future__ import annotations

import os
import re
from http import HTTPStatus
from typing import Any

from gunicorn import util
from gunicorn.http import errors
from gunicorn.workers.gthread import ThreadWorker

from flankwise_service import __version__
from flankwise_service.web.problems import INSIDE, MEDIA_TYPE, Problem

OWN_FAULTS = (
    errors.InvalidResponseHeader, errors.InvalidResponseHeaderName, errors.ConfigurationProblem,
)  # fmt: skip


class Worker(ThreadWorker):  # type: ignore[misc]  # gunicorn has no types
    """Answers what it can't read with a problem (RFC 9457)."""

    def handle_error(self, req: Any, client: Any, addr: Any, exc: BaseException) -> None:
        """Answer a request that the application didn't; the connection is closed after it."""
        problem = problem_of(exc, self.cfg)
        request_id = os.urandom(9).hex()
        if problem.code == "internal":
            self.log.error("request %s failed", request_id, exc_info=exc)
        else:
            self.log.warning("request %s can't be read: %s", request_id, type(exc).__name__)
        state = getattr(self.wsgi, "extensions", {}).get("flankwise")
        if state is not None:
            state.meter.turned_away(problem.status, problem.code)
        try:
            util.write_nonblock(client, reply(problem, request_id))
        except OSError as error:
            self.log.debug("request %s went away: %s", request_id, type(error).__name__)


def problem_of(error: BaseException, limits: Any) -> Problem:
    """Return what is said of a request gunicorn gave up; `limits` are its settings.

    >>> problem_of(errors.InvalidHeaderName("A B"), None).detail
    "the head of the request can't be read: invalid header name"
    """
    if isinstance(error, errors.LimitRequestLine):
        return Problem(
            "query_too_long", f"the request line is longer than {limits.limit_request_line}"
        )
    if isinstance(error, errors.LimitRequestHeaders):
        return Problem(
            "headers_too_large",
            f"there are more than {limits.limit_request_fields} headers, or one is longer than "
            f"{limits.limit_request_field_size} bytes",
        )
    if isinstance(error, errors.ParseException) and not isinstance(error, OWN_FAULTS):
        said = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(error).__name__).lower()
        return Problem("bad_request", f"the head of the request can't be read: {said}")
    return Problem("internal", INSIDE)


def reply(problem: Problem, request_id: str) -> bytes:
    """Return a whole reply as bytes, with the headers that every reply of the service has."""
    body = problem.body(request_id)
    head = (
        f"HTTP/1.1 {problem.status} {HTTPStatus(problem.status).phrase}\r\n"
        f"Connection: close\r\nContent-Type: {MEDIA_TYPE}\r\nContent-Length: {len(body)}\r\n"
        f"Cache-Control: no-store\r\nX-Request-Id: {request_id}\r\n"
        f"Service-Version: {__version__}\r\nX-Content-Type-Options: nosniff\r\n\r\n"
    )
    return head.encode("ascii") + body
