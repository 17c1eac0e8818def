"""Who may ask: optional bearer tokens (RFC 6750), known only by their hash.

A token is one line, `name scopes hash`, in the file at FLANKWISE_TOKEN_FILE (or in
FLANKWISE_TOKENS), such as `office read,plan 5e884898...`; `python -m flankwise_service.token`
makes one. Scope `read` is for lookups (GET), `plan` for everything that is computed (POST). Where
neither setting is given nothing is asked for: that is meant for a loopback address only.

The page asks for the same tokens, as the password of the browser's own question. Its scopes: `read`
for looking a thread up, `plan` for the rest.

A changed file is read again within a second, without a restart. While it can't be read, or holds
a line that makes no sense, the tokens known before stay in force.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import logging
import re
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Any

from flankwise_service.web.problems import Problem

SCOPES = ("read", "plan")
LONGEST_TOKEN = 512
GUARDED = "/v1/"
_LINE = re.compile(
    r"(?P<name>[\w.-]{1,64})\s+(?P<scopes>\w+(?:,\w+)*)\s+(?P<hash>[0-9a-f]{64})\Z", re.ASCII
)

logger = logging.getLogger("flankwise_service")


class BadTokens(Exception):
    """A list of tokens holds lines that make no sense; the message names them by number."""


@dataclass(frozen=True, slots=True)
class Token:
    """One token: whose it is, what it is good for, and its SHA-256."""

    name: str
    scopes: frozenset[str]
    digest: bytes


def tokens_in(lines: Iterable[str]) -> tuple[Token, ...]:
    """Return the tokens of `lines`; empty lines and those that begin with # are left out."""
    found, wrong = [], []
    for number, line in enumerate(lines, 1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        read = _LINE.match(text)
        scopes = frozenset(read["scopes"].split(",")) if read else frozenset()
        if read is None or not scopes <= set(SCOPES):
            wrong.append(str(number))
        else:
            found.append(Token(read["name"], scopes, bytes.fromhex(read["hash"])))
    if wrong:
        raise BadTokens(
            "lines " + ", ".join(wrong) + ": write name, scopes (read,plan) and SHA-256 in hex"
        )
    return tuple(found)


class Access:
    """The tokens in force."""

    def __init__(self, listed: str = "", file: str = "", every: float = 1.0) -> None:
        self._fixed = tokens_in(listed.replace(";", "\n").splitlines())
        self._file = Path(file) if file else None
        self._every = every
        self._stamp: tuple[int, int] | None = None
        self._looked = 0.0
        self._looking = Lock()
        self._from_file: tuple[Token, ...] = ()
        if self._file is not None:
            self._stamp, self._from_file = self._read(self._file)

    @property
    def wanted(self) -> bool:
        """Whether tokens are asked for at all."""
        return bool(self._fixed) or self._file is not None

    def check(self, environ: Mapping[str, Any]) -> Problem | None:
        """Return the problem of a request that lacks a token good for it, else None."""
        method = environ["REQUEST_METHOD"]
        if not self.wanted or method == "OPTIONS" or not environ["PATH_INFO"].startswith(GUARDED):
            return None
        scope = "read" if method in ("GET", "HEAD") else "plan"
        return self._judged(_bearer(environ), scope)

    def check_page(self, environ: Mapping[str, Any], scope: str) -> Problem | None:
        """Return the same for the page, where a browser sends the token as a password (RFC 7617).

        The name beside it may be anything. The page keeps nothing and changes nothing, so a form
        sent from elsewhere with the browser's own password does no harm.
        """
        if not self.wanted:
            return None
        problem = self._judged(_bearer(environ) or _password(environ), scope)
        if problem is not None and problem.code == "not_authorized":
            problem.headers["WWW-Authenticate"] = 'Basic realm="flankwise", charset="UTF-8"'
        return problem

    def _judged(self, secret: str, scope: str) -> Problem | None:
        if not secret:
            return _problem("not_authorized", "this service asks for a bearer token", "")
        token = self._known(secret)
        if token is None:
            said = "the token isn't known here"
            return _problem("not_authorized", said, ', error="invalid_token"')
        if scope not in token.scopes:
            said = f"the token is good for {', '.join(sorted(token.scopes))}, this needs {scope}"
            return _problem("not_allowed", said, f', error="insufficient_scope", scope="{scope}"')
        return None

    def _known(self, secret: str) -> Token | None:
        digest = hashlib.sha256(secret[:LONGEST_TOKEN].encode("utf-8", "replace")).digest()
        found = None
        for token in self._current():  # all of them, so that time doesn't tell which was near
            if hmac.compare_digest(token.digest, digest):
                found = token
        return found if len(secret) <= LONGEST_TOKEN else None

    def _current(self) -> tuple[Token, ...]:
        if self._file is not None and self._is_due():
            with self._looking:  # who comes meanwhile waits: the old list may lack their token
                if self._is_due():
                    self._look_again(self._file)
                    self._looked = time.monotonic()
        return self._fixed + self._from_file

    def _is_due(self) -> bool:
        return time.monotonic() - self._looked >= self._every

    def _look_again(self, file: Path) -> None:
        try:
            stamp = _stamp_of(file)
            if stamp != self._stamp:
                self._stamp, self._from_file = self._read(file)
                logger.warning("tokens read again: %d in force", len(self._from_file))
        except (OSError, BadTokens, UnicodeDecodeError) as error:
            logger.error("tokens stay as they were: %s", error)

    @staticmethod
    def _read(file: Path) -> tuple[tuple[int, int], tuple[Token, ...]]:
        stamp = _stamp_of(file)
        return stamp, tokens_in(file.read_text("utf-8").splitlines())


def _bearer(environ: Mapping[str, Any]) -> str:
    scheme, _, secret = environ.get("HTTP_AUTHORIZATION", "").partition(" ")
    return secret.strip() if scheme.lower() == "bearer" else ""


def _password(environ: Mapping[str, Any]) -> str:
    scheme, _, both = environ.get("HTTP_AUTHORIZATION", "").partition(" ")
    if scheme.lower() != "basic" or len(both) > 4 * LONGEST_TOKEN:
        return ""
    try:
        text = base64.b64decode(both, validate=True).decode()
    except ValueError:
        return ""
    return text.partition(":")[2]


def _stamp_of(file: Path) -> tuple[int, int]:
    status = file.stat()
    return status.st_mtime_ns, status.st_size


def _problem(code: str, detail: str, more: str) -> Problem:
    return Problem(code, detail, headers={"WWW-Authenticate": f'Bearer realm="flankwise"{more}'})
