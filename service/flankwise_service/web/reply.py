"""The Flask application and the response of this service, without what neither has a use for.

Both use only hooks that Flask and Werkzeug document. Each request is spared work that a service
without sessions, redirects and host names in its routes would do for nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from flask import Flask, Request, Response
from flask.sessions import SessionInterface, SessionMixin
from werkzeug.datastructures import Headers
from werkzeug.routing import MapAdapter


class NoSession(SessionInterface):
    """Sessions are neither read nor written: this service keeps nothing of a caller."""

    def __init__(self) -> None:
        self._none = self.null_session_class()

    def open_session(self, app: Flask, request: Request) -> SessionMixin:
        """Return the one session that holds nothing and refuses to be written to."""
        return self._none


class Service(Flask):
    """Flask with routes that are the same under every host name, and without sessions."""

    session_interface = NoSession()

    def create_url_adapter(self, request: Request | None) -> MapAdapter | None:
        """Return what matches the path of a request, its Host header left unread."""
        if request is None:
            return super().create_url_adapter(request)
        return self.url_map.bind("", path_info=request.path, default_method=request.method)


class Reply(Response):
    """A successful reply that is final: status and headers stay as the operation gave them.

    `headers` is taken as it is, and shared by all replies of its kind: it is never changed.
    """

    def __init__(self, body: bytes | Iterable[bytes], headers: Headers) -> None:
        super().__init__(status="200 OK", headers=headers)
        self.response = [body] if isinstance(body, bytes) else body

    def get_wsgi_response(
        self, environ: dict[str, Any]
    ) -> tuple[Iterable[bytes], str, list[tuple[str, str]]]:
        """Return chunks, status and headers; the length where the body is there as a whole."""
        headers = self.headers.to_wsgi_list()
        if isinstance(self.response, list):
            headers.append(("Content-Length", str(len(self.response[0]))))
        chunks: Iterable[bytes] = () if environ["REQUEST_METHOD"] == "HEAD" else self.response  # type: ignore[assignment]
        return chunks, self.status, headers
