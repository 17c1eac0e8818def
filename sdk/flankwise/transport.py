"""Talks HTTP: one pooled session, timeouts always, jittered retries, problems turned to errors.

Every call of flankwise is a pure computation, so a POST may be sent again as safely as a GET.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator, Mapping
from types import TracebackType
from typing import Any
from urllib.parse import urlencode, urlsplit

import requests
from requests.adapters import HTTPAdapter
from requests.auth import AuthBase
from urllib3.util.retry import Retry

from flankwise import __version__
from flankwise.errors import Incompatible, NotConfigured, Unreachable, of_reply

Timeout = float | tuple[float, float]
POOL = 32
RETRIED = (429, 502, 503, 504)
LONGEST_WAIT = 30


class JitteredRetry(Retry):
    """Waits a random part of a time that doubles, so that many clients don't come back at once."""

    def get_backoff_time(self) -> float:
        """Return how long to wait before the next try, in seconds."""
        tries = len(self.history)
        ceiling = min(self.backoff_max, self.backoff_factor * 2.0**tries)
        return random.uniform(0.0, ceiling)


class _Token(AuthBase):
    """Sends the bearer token; without one, keeps requests from looking into ~/.netrc."""

    def __init__(self, token: str | None) -> None:
        self._header = f"Bearer {token}" if token else None

    def __call__(self, prepared: requests.PreparedRequest) -> requests.PreparedRequest:
        if self._header is not None:
            prepared.headers["Authorization"] = self._header
        return prepared


class Transport:
    """Sends requests to one service. Threads may share it."""

    def __init__(
        self,
        base_url: str | None = None,
        *,
        token: str | None = None,
        timeout: Timeout = (5.0, 60.0),
        retries: int = 4,
        session: requests.Session | None = None,
    ) -> None:
        self.base_url = _usable(base_url or os.environ.get("FLANKWISE_URL"))
        self.timeout = timeout
        self._session = session or requests.Session()
        self._session.auth = _Token(token or os.environ.get("FLANKWISE_TOKEN"))
        self._session.headers["User-Agent"] = f"flankwise/{__version__}"
        retry = JitteredRetry(
            total=retries,
            allowed_methods=None,
            status_forcelist=RETRIED,
            backoff_factor=0.1,
            backoff_max=5.0,
            retry_after_max=LONGEST_WAIT,
            raise_on_status=False,
        )
        adapter = HTTPAdapter(pool_connections=1, pool_maxsize=POOL, max_retries=retry)
        self._session.mount("http://", adapter)
        self._session.mount("https://", adapter)
        # Proxies and CA of the environment are looked up once, not for every call.
        self._settings: Mapping[str, Any] = self._session.merge_environment_settings(
            self.base_url, {}, None, None, None
        )

    def get(self, path: str, query: Mapping[str, Any], accept: str) -> requests.Response:
        """Return the reply to a GET; raise the error a bad one stands for."""
        asked = {name: _text(value) for name, value in query.items() if value is not None}
        text = f"?{urlencode(asked)}" if asked else ""
        return self._send("GET", path + text, None, accept, stream=False)

    def post(self, path: str, body: Any, accept: str, *, stream: bool = False) -> requests.Response:
        """Return the reply to a POST of `body` as JSON; raise the error a bad one stands for."""
        return self._send("POST", path, body, accept, stream=stream)

    def _send(
        self, method: str, path: str, body: Any, accept: str, *, stream: bool
    ) -> requests.Response:
        request = requests.Request(
            method, self.base_url + path, headers={"Accept": accept}, json=body
        )
        settings = {**self._settings, "stream": stream}
        try:
            prepared = self._session.prepare_request(request)
            reply = self._session.send(
                prepared, timeout=self.timeout, allow_redirects=False, **settings
            )
        except requests.exceptions.InvalidJSONError as error:
            raise ValueError(f"the request can't be written as JSON: {error}") from error
        except requests.RequestException as error:
            raise Unreachable(f"no answer from {self.base_url}: {_cause(error)}") from error
        if reply.status_code != 200:
            raise self._error_of(reply)
        _check_version(reply)
        return reply

    def _error_of(self, reply: requests.Response) -> Exception:
        request_id = reply.headers.get("X-Request-Id")
        with reply:
            try:
                problem = reply.json()
            except ValueError:
                problem = None
        if isinstance(problem, dict) and "status" in problem:
            return of_reply(reply.status_code, problem, request_id)
        if reply.status_code in (401, 403, *RETRIED):  # a proxy on the way may answer these
            return of_reply(reply.status_code, {"title": reply.reason or ""}, request_id)
        return Incompatible(
            f"{self.base_url} answered {reply.status_code} {reply.reason}, "
            "and not as a flankwise service does"
        )

    def lines(self, reply: requests.Response) -> Iterator[bytes]:
        """Yield the lines of a streamed reply, and give its connection back at the end."""
        with reply:
            try:
                yield from reply.iter_lines(chunk_size=65_536)
            except requests.RequestException as error:
                raise Unreachable(f"the reply broke off: {_cause(error)}") from error

    def close(self) -> None:
        """Close the pooled connections."""
        self._session.close()

    def __enter__(self) -> Transport:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


def _usable(base_url: str | None) -> str:
    if not base_url:
        raise NotConfigured("no service named: give base_url, or set FLANKWISE_URL")
    parts = urlsplit(base_url)
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment:
        raise NotConfigured(f"{base_url!r} isn't the address of a service, like http://host:8080")
    return base_url.rstrip("/")


def _check_version(reply: requests.Response) -> None:
    told = reply.headers.get("Service-Version")
    if told is None:
        raise Incompatible(f"{reply.url} answered, but not as a flankwise service does")
    if told.partition(".")[0] != __version__.partition(".")[0]:
        raise Incompatible(
            f"the service speaks contract {told}, this client {__version__}; "
            "use a client of the same major version"
        )


def _text(value: Any) -> str:
    if value is True or value is False:
        return "true" if value else "false"
    return str(value)


def _cause(error: BaseException) -> str:
    inner = error.args[0] if error.args else error
    reason = getattr(inner, "reason", None)
    return str(reason or inner or type(error).__name__)
