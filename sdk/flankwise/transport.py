"""Talks HTTP: one pooled session, timeouts always, jittered retries, problems turned to errors.

Every call of flankwise is a pure computation, so a POST may be sent again as safely as a GET.
"""

from __future__ import annotations

import json
import os
import random
from collections.abc import Iterator, Mapping
from types import TracebackType
from typing import IO, Any
from urllib.parse import urlencode, urlsplit

import requests
from requests.adapters import HTTPAdapter
from requests.structures import CaseInsensitiveDict
from urllib3.util.retry import Retry

from flankwise import __version__
from flankwise.errors import Incompatible, NotConfigured, Unreachable, of_reply

Timeout = float | tuple[float, float]
JSON = "application/json"
POOL = 32
RETRIED = (429, 502, 503, 504)
LONGEST_WAIT = 30
FIRST_BACKOFF, LONGEST_BACKOFF = 0.1, 5.0


class JitteredRetry(Retry):
    """Waits for a time that doubles, half of it at random: many clients don't come back at once,
    and yet four tries outlast a proxy's restart."""

    def get_backoff_time(self) -> float:
        """Return how long to wait before the next try, in seconds."""
        tries = len(self.history)
        ceiling = min(LONGEST_BACKOFF, FIRST_BACKOFF * 2.0**tries)
        return random.uniform(0.5 * ceiling, ceiling)

    def get_retry_after(self, response: Any) -> float | None:
        """Return how long the service asks to wait, but no longer than a caller would."""
        asked = super().get_retry_after(response)
        return None if asked is None else min(asked, LONGEST_WAIT)


class Transport:
    """Sends requests to one service. Threads may share it."""

    def __init__(
        self,
        base_url: str | None = None,
        *,
        token: str | None = None,
        timeout: Timeout = (5.0, 60.0),
        retries: int = 4,
        verify: bool | str | None = None,
        cert: str | tuple[str, str] | None = None,
        proxies: Mapping[str, str] | None = None,
    ) -> None:
        self.base_url = _usable(base_url or os.environ.get("FLANKWISE_URL"))
        self.timeout = timeout
        self._retries = retries
        self._headers = {"User-Agent": f"flankwise/{__version__}", "Accept-Encoding": "gzip"}
        token = token or os.environ.get("FLANKWISE_TOKEN")
        if token:
            self._headers["Authorization"] = f"Bearer {_safe(token)}"
        self._settings = _settings(self.base_url, verify, cert, proxies)
        # The adapter of requests is used without its session: a session looks up proxies, netrc
        # and cookies anew for every call, and that takes longer than the service does.
        self._adapter = HTTPAdapter(
            pool_connections=1,
            pool_maxsize=POOL,
            max_retries=JitteredRetry(
                total=retries,
                allowed_methods=None,
                status_forcelist=RETRIED,
                raise_on_status=False,
            ),
        )

    def get_json(self, path: str, query: Mapping[str, Any]) -> Any:
        """Return the JSON value that a GET is answered with."""
        return _json(self.get(path, query, JSON))

    def post_json(self, path: str, body: Any) -> Any:
        """Return the JSON value that a POST of `body` is answered with."""
        return _json(self.post(path, body, JSON))

    def get(self, path: str, query: Mapping[str, Any], accept: str) -> requests.Response:
        """Return the reply to a GET; raise the error a bad one stands for."""
        asked = {name: _text(value) for name, value in query.items() if value is not None}
        text = f"?{urlencode(asked)}" if asked else ""
        return self._send("GET", path + text, None, accept, stream=False)

    def post(self, path: str, body: Any, accept: str, *, stream: bool = False) -> requests.Response:
        """Return the reply to a POST of `body` as JSON; raise the error a bad one stands for."""
        return self._send("POST", path, body, accept, stream=stream)

    def post_file(self, path: str, file: IO[bytes], size: int, kind: str) -> requests.Response:
        """Return the streamed reply to a POST of `size` bytes from `file`, sent piece by piece."""
        prepared = self._prepared("POST", path, kind)
        prepared.body = file  # type: ignore[assignment]  # requests streams what can be read
        prepared.headers["Content-Type"] = kind
        prepared.headers["Content-Length"] = str(size)
        return self._sent(prepared, stream=True)

    def _send(
        self, method: str, path: str, body: Any, accept: str, *, stream: bool
    ) -> requests.Response:
        prepared = self._prepared(method, path, accept)
        if body is not None:
            prepared.body = json.dumps(body, allow_nan=False, separators=(",", ":")).encode()
            prepared.headers["Content-Type"] = JSON
            prepared.headers["Content-Length"] = str(len(prepared.body))
        return self._sent(prepared, stream=stream)

    def _prepared(self, method: str, path: str, accept: str) -> requests.PreparedRequest:
        prepared = requests.PreparedRequest()
        prepared.method = method
        prepared.url = self.base_url + path
        prepared.headers = CaseInsensitiveDict(self._headers)
        prepared.headers["Accept"] = accept
        return prepared

    def _sent(self, prepared: requests.PreparedRequest, *, stream: bool) -> requests.Response:
        reply = self._answered(prepared)
        if not stream:
            reply = self._read(reply, prepared)
        if reply.status_code != 200:
            raise self._error_of(reply)
        _check_version(reply)
        return reply

    def _answered(self, prepared: requests.PreparedRequest) -> requests.Response:
        """Return the reply, as far as its head; the adapter has tried again where that helps."""
        try:
            return self._adapter.send(prepared, stream=True, timeout=self.timeout, **self._settings)
        except requests.RequestException as error:
            raise Unreachable(f"no answer from {self.base_url}: {_cause(error)}") from error

    def _read(
        self, reply: requests.Response, prepared: requests.PreparedRequest
    ) -> requests.Response:
        """Return a reply with its whole body, asked for again where its sender died over it."""
        left = self._retries
        while True:
            try:
                reply.content  # noqa: B018  # reads it
                return reply
            except requests.RequestException as error:
                if left == 0:
                    raise Unreachable(f"the reply broke off: {_cause(error)}") from error
            left -= 1
            reply = self._answered(prepared)

    def _error_of(self, reply: requests.Response) -> Exception:
        request_id = reply.headers.get("X-Request-Id")
        with reply:
            try:
                problem = reply.json()
            except ValueError:
                problem = None
        if isinstance(problem, dict) and "status" in problem:
            note = _note(reply.headers.get("Service-Version"))
            return of_reply(reply.status_code, problem, request_id, note)
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
        self._adapter.close()

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
    if parts.username is not None:
        raise NotConfigured("the address of a service holds no name and password; give a token")
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment:
        raise NotConfigured(f"{base_url!r} isn't the address of a service, like http://host:8080")
    return base_url.rstrip("/")


def _safe(token: str) -> str:
    if not (token.isascii() and token.isprintable()) or " " in token:
        raise NotConfigured("the token holds characters that a token can't have")
    return token


def _settings(
    base_url: str,
    verify: bool | str | None,
    cert: str | tuple[str, str] | None,
    proxies: Mapping[str, str] | None,
) -> Mapping[str, Any]:
    """Return proxies and certificates, those of the environment where none are given."""
    with requests.Session() as session:
        found = session.merge_environment_settings(
            base_url, dict(proxies or {}), None, verify, cert
        )
    return {name: found[name] for name in ("proxies", "verify", "cert")}


def _note(told: str | None) -> str:
    """Say so where a path or a field may be unknown because the service is older than we are."""
    if told is None or not _older(told, __version__):
        return ""
    return f"the service is {told}, older than this client, {__version__}"


def _older(told: str, ours: str) -> bool:
    try:
        return [int(part) for part in told.split(".")] < [int(part) for part in ours.split(".")]
    except ValueError:
        return False


def _check_version(reply: requests.Response) -> None:
    told = reply.headers.get("Service-Version")
    if told is None:
        raise Incompatible(f"{reply.url} answered, but not as a flankwise service does")
    if told.partition(".")[0] != __version__.partition(".")[0]:
        raise Incompatible(
            f"the service speaks contract {told}, this client {__version__}; "
            "use a client of the same major version"
        )


def _json(reply: requests.Response) -> Any:
    try:
        return json.loads(reply.content)
    except ValueError as error:
        raise Incompatible(f"{reply.url} answered with something that isn't JSON") from error


def _text(value: Any) -> str:
    if value is True or value is False:
        return "true" if value else "false"
    return str(value)


def _cause(error: BaseException) -> str:
    inner = error.args[0] if error.args else error
    reason = getattr(inner, "reason", None)
    return str(reason or inner or type(error).__name__)
