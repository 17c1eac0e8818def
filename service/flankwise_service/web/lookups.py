"""Keeps the rendered bytes of lookups. Bounded, and keyed by everything that shapes the bytes.

A lookup is a GET whose reply depends on nothing but path, query, Accept and the service version:
core is pure and its tables are part of the program. So the bytes made once are the bytes forever.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from threading import Lock
from typing import Any

Key = tuple[str, str, str]
LONGEST_KEY = 1_024


@dataclass(frozen=True, slots=True)
class Rendered:
    """A reply ready to be sent again."""

    operation: str
    body: bytes
    headers: tuple[tuple[str, str], ...]
    etag: str


def etag_of(body: bytes, version: str) -> str:
    """Return a strong entity tag (RFC 9110, section 8.8.3) for these bytes from this version."""
    digest = hashlib.blake2b(body, digest_size=12, person=version.encode()[:16])
    return f'"{digest.hexdigest()}"'


def key_of(environ: Mapping[str, Any]) -> Key | None:
    """Return the key of a GET or HEAD request, None where it isn't worth keeping."""
    key = (environ["PATH_INFO"], environ["QUERY_STRING"], environ.get("HTTP_ACCEPT", ""))
    return key if len(key[0]) + len(key[1]) + len(key[2]) <= LONGEST_KEY else None


def same(environ: Mapping[str, Any], etag: str) -> bool:
    """Return whether If-None-Match says the caller holds these bytes already."""
    header = environ.get("HTTP_IF_NONE_MATCH")
    if header is None:
        return False
    held = {tag.strip().removeprefix("W/") for tag in header.split(",")}
    return etag in held or "*" in held


class Lookups:
    """Rendered lookups of one worker, the oldest dropped first."""

    def __init__(self, entries: int, most_bytes: int) -> None:
        self._entries, self._most_bytes = entries, most_bytes
        self._held: dict[Key, Rendered] = {}
        self._bytes = 0
        self._lock = Lock()
        self.get = self._held.get

    def put(self, key: Key, rendered: Rendered) -> None:
        """Keep `rendered`; drop the oldest ones until it fits."""
        size = len(rendered.body) + sum(map(len, key))
        if self._entries < 1 or size > self._most_bytes:
            return
        with self._lock:
            if key in self._held:
                return
            while self._held and (
                len(self._held) >= self._entries or self._bytes + size > self._most_bytes
            ):
                oldest = next(iter(self._held))
                dropped = self._held.pop(oldest)
                self._bytes -= len(dropped.body) + sum(map(len, oldest))
            self._held[key] = rendered
            self._bytes += size

    def __len__(self) -> int:
        return len(self._held)
