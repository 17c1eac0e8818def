"""The recorded requests and replies that come with the package."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any


@dataclass(frozen=True)
class Recorded:
    """One request, and what the service replied to it."""

    name: str
    request: Any
    status: int
    reply: Any
    accept: str
    """The media type of the reply, when there is one."""


@dataclass(frozen=True)
class OperationRecorded:
    """One operation, with all that is recorded of it."""

    id: str
    method: str
    path: str
    takes: str
    defaults: Mapping[str, Any]
    """What a field means that is left out."""
    examples: tuple[Recorded, ...]

    def find(self, request: Any, accept: str) -> Recorded | None:
        """Return the record of this request, whatever defaults it spells out."""
        wanted = self.whole(request)
        for one in self.examples:
            if self.whole(one.request) == wanted and (one.status != 200 or one.accept == accept):
                return one
        return None

    def whole(self, request: Any) -> Any:
        """Return a request with its defaults written out, and without its nulls."""
        if not isinstance(request, Mapping):
            return request
        given = {name: value for name, value in request.items() if value is not None}
        return {**self.defaults, **given}


@cache
def recorded() -> Mapping[str, OperationRecorded]:
    """Return every operation by its id.

    >>> recorded()["threads_limits"].path
    '/v1/threads/limits'
    """
    lines = resources.files("flankwise.testing").joinpath("recorded.ndjson").read_text("utf-8")
    return {one.id: one for one in map(_operation, lines.splitlines())}


def _operation(line: str) -> OperationRecorded:
    told = json.loads(line)
    examples = tuple(Recorded(**one) for one in told.pop("examples"))
    return OperationRecorded(**told, examples=examples)
