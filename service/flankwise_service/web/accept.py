"""Chooses the media type of a reply from the Accept header (RFC 9110, section 12.5.1)."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from werkzeug.datastructures import MIMEAccept
from werkzeug.http import parse_accept_header

from flankwise_service.web.problems import Problem

LONGEST_ACCEPT = 512


def choose(header: str | None, offered: Sequence[str]) -> str:
    """Return the one of `offered` the caller likes best; the first where it doesn't matter.

    >>> choose("text/*;q=0.5, text/csv", ["application/json", "text/csv"])
    'text/csv'
    """
    if not header or header == "*/*" or header == offered[0]:
        return offered[0]
    best = _best(header[:LONGEST_ACCEPT], tuple(offered))
    if best is None:
        raise Problem("not_acceptable", "this can be given as " + ", ".join(offered))
    return best


@lru_cache(maxsize=256)
def _best(header: str, offered: tuple[str, ...]) -> str | None:
    # Werkzeug prefers the most specific match, then quality; order of offers breaks a tie.
    return parse_accept_header(header, MIMEAccept).best_match(offered)
