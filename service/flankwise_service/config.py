"""Every setting of the service, read once from the environment.

Each is named FLANKWISE_… in capitals, the rest of the name being the field below. A value that
can't be used stops the start, and the message names every bad one, not only the first.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from typing import Any

PREFIX = "FLANKWISE_"


class BadSettings(Exception):
    """The environment holds settings that can't be used; the message names each of them."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What an operator may choose. The defaults suit a small shop's own machine."""

    body_cap: int = 1_048_576
    """Greatest request body in bytes; a larger one is answered 413."""
    stream_cap: int = 268_435_456
    """Greatest body of a stream of requests in bytes; it waits in a file, not in memory."""
    depth_cap: int = 32
    """Greatest nesting of objects and lists in a request body."""
    query_cap: int = 2_048
    """Greatest length of a query string in characters; a longer one is answered 414."""
    lookup_entries: int = 4_096
    """How many rendered lookups (GET) one worker keeps; 0 keeps none."""
    lookup_bytes: int = 16_777_216
    """How many bytes of rendered lookups one worker keeps at most."""
    lookup_age: int = 86_400
    """Seconds a caller or proxy may keep a lookup (Cache-Control: max-age)."""
    access_log: bool = True
    """Whether each request writes one line of JSON to standard output."""
    token_file: str = ""
    """File of tokens (web/access.py), read again when it changes; empty: see `tokens`."""
    tokens: str = ""
    """The same as text, lines separated by semicolons; with neither, no token is asked for."""

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] | None = None) -> Settings:
        """Return the settings that `environment` (default: the process's own) holds.

        Raises BadSettings naming every value that can't be used.

        >>> Settings.from_environment({"FLANKWISE_BODY_CAP": "2000"}).body_cap
        2000
        """
        source = os.environ if environment is None else environment
        values: dict[str, Any] = {}
        wrong: list[str] = []
        for setting in fields(cls):
            text = source.get(PREFIX + setting.name.upper())
            if text is None:
                continue
            read, least, says = _READERS[setting.name]
            try:
                values[setting.name] = read(text)
                if values[setting.name] < least:
                    raise ValueError
            except ValueError:
                wrong.append(f"{PREFIX}{setting.name.upper()}={text!r}: give {says}")
        if wrong:
            raise BadSettings("; ".join(wrong))
        return cls(**values)


def _yes_or_no(text: str) -> bool:
    words = {"1": True, "true": True, "yes": True, "0": False, "false": False, "no": False}
    try:
        return words[text.strip().lower()]
    except KeyError:
        raise ValueError(text) from None


_READERS: dict[str, tuple[Callable[[str], Any], Any, str]] = {
    "body_cap": (int, 1_024, "a whole number of bytes, at least 1024"),
    "stream_cap": (int, 1_024, "a whole number of bytes, at least 1024"),
    "depth_cap": (int, 8, "a whole number, at least 8"),
    "query_cap": (int, 128, "a whole number of characters, at least 128"),
    "lookup_entries": (int, 0, "a whole number, 0 or more"),
    "lookup_bytes": (int, 0, "a whole number of bytes, 0 or more"),
    "lookup_age": (int, 0, "a whole number of seconds, 0 or more"),
    "access_log": (_yes_or_no, 0, "true or false"),
    "token_file": (str, "", "the path of a file"),
    "tokens": (str, "", "lines of tokens, separated by semicolons"),
}
