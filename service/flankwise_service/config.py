"""Every setting of the service, read once from the environment.

Each is named FLANKWISE_… in capitals, the rest of the name being the field below. A value that
can't be used, and a name that none has, stop the start: FLANKWISE_TOKEN_FILE misspelt would leave
the door open. The message names every bad one, not only the first.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from difflib import get_close_matches
from typing import Any

PREFIX = "FLANKWISE_"
ELSEWHERE = frozenset({
    "FLANKWISE_TOKEN", "FLANKWISE_URL",  # the SDK and its command
    "FLANKWISE_PORT", "FLANKWISE_TOKENS_AT",  # deploy/compose.yaml
    "FLANKWISE_PYTHON",  # deploy/environment.sh
    "FLANKWISE_MANY", "FLANKWISE_MUST_HAVE", "FLANKWISE_PROXY_IMAGE", "FLANKWISE_TEST_PROCESSES",
})  # fmt: skip
"""Names that others of this project read, the last line those of its tests."""
_CLUSTER = re.compile(
    r"FLANKWISE_(SERVICE_HOST|SERVICE_PORT(_\w+)?|PORT_\d+_(TCP|UDP|SCTP)(_\w+)?)\Z", re.ASCII
)
"""What Kubernetes tells every pod of a Service named flankwise (enableServiceLinks)."""


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
    bind: str = "127.0.0.1:8000"
    """Where the server listens: addresses separated by commas; `unix:PATH` is one too."""
    workers: int = field(default_factory=lambda: min(os.cpu_count() or 1, 8))
    """Processes that answer; by default as many as cores, at most 8."""
    threads: int = 16
    """Threads of each worker."""
    turn_wait: float = 0.25
    """Seconds a plan or path waits at most for the one before it in its worker; 0: not at all."""
    max_requests: int = 200_000
    """Requests after which a worker is replaced, about; 0: never."""
    proxy: str = "127.0.0.1"
    """Addresses whose word on who the caller is counts, separated by commas; `*`: all."""

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] | None = None) -> Settings:
        """Return the settings that `environment` (default: the process's own) holds.

        Raises BadSettings naming every value that can't be used, and every name that none has.

        >>> Settings.from_environment({"FLANKWISE_BODY_CAP": "2000"}).body_cap
        2000
        """
        source = os.environ if environment is None else environment
        values: dict[str, Any] = {}
        wrong = list(_unknown(source))
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


def _unknown(source: Mapping[str, str]) -> Iterator[str]:
    """Yield what to say of each name that looks like a setting and is none; never its value."""
    known = {PREFIX + setting.name.upper() for setting in fields(Settings)}
    for name in sorted(source):
        if not name.upper().startswith(PREFIX) or name in known | ELSEWHERE or _CLUSTER.match(name):
            continue
        near = get_close_matches(name.upper(), known, 1)
        meant = f"; {near[0]} is near" if near else ""
        yield f"{name!r} is set, and there is no such setting{meant}"


def _yes_or_no(text: str) -> bool:
    words = {"1": True, "true": True, "yes": True, "0": False, "false": False, "no": False}
    try:
        return words[text.strip().lower()]
    except KeyError:
        raise ValueError(text) from None


def _whole(text: str) -> int:
    """Return a whole number in plain figures: 1_0 is a slip of the pen, not ten."""
    if not re.fullmatch(r"[0-9]{1,18}", text.strip(), re.ASCII):
        raise ValueError(text)
    return int(text)


def _seconds(text: str) -> float:
    """Return seconds, at most a minute: one who waits longer gets no reply anyway."""
    if not re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,9})?", text.strip(), re.ASCII) or float(text) > 60:
        raise ValueError(text)
    return float(text)


_READERS: dict[str, tuple[Callable[[str], Any], Any, str]] = {
    "body_cap": (_whole, 1_024, "a whole number of bytes, at least 1024"),
    "stream_cap": (_whole, 1_024, "a whole number of bytes, at least 1024"),
    "depth_cap": (_whole, 8, "a whole number, at least 8"),
    "query_cap": (_whole, 128, "a whole number of characters, at least 128"),
    "lookup_entries": (_whole, 0, "a whole number, 0 or more"),
    "lookup_bytes": (_whole, 0, "a whole number of bytes, 0 or more"),
    "lookup_age": (_whole, 0, "a whole number of seconds, 0 or more"),
    "access_log": (_yes_or_no, 0, "true or false"),
    "token_file": (str, "", "the path of a file"),
    "tokens": (str, "", "lines of tokens, separated by semicolons"),
    "bind": (str, "!", "HOST:PORT or unix:PATH, several separated by commas"),
    "workers": (_whole, 1, "a whole number of processes, at least 1"),
    "threads": (_whole, 1, "a whole number of threads, at least 1"),
    "turn_wait": (_seconds, 0.0, "a number of seconds, 0 to 60"),
    "max_requests": (_whole, 0, "a whole number of requests, 0 or more"),
    "proxy": (str, "", "addresses separated by commas"),
}
