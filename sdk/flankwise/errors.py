"""The tree of errors. Whatever goes wrong in a call is one of these.

FlankwiseError
├── NotConfigured        no usable address of a service was given
├── Unreachable          no answer: the service is away, or the network is
├── Incompatible         something answered, but not a service this client can talk to
├── NoProgram            a plan that must not be run has no program to save
└── Replied              the service answered with a problem (RFC 9457)
    ├── Refused          it won't compute what was asked: `faults` say where and what to change
    ├── NotAllowed       a token is missing, unknown, or not good for this call (401, 403)
    ├── Unavailable      too busy, or starting (429, 502, 503, 504); retries didn't help
    └── ServiceFault     the service itself failed (500); the request isn't at fault
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with what was asked, and what to change."""

    pointer: str
    """Where in the request (JSON pointer, RFC 6901), such as "/cutter/diameter"."""
    code: str
    detail: str
    change: str
    value: Any = None
    least: float | None = None
    greatest: float | None = None
    unit: str | None = None
    near: tuple[str, ...] = ()

    def __str__(self) -> str:
        where = f"{self.pointer}: " if self.pointer else ""
        return f"{where}{self.detail} ({self.change})"


class FlankwiseError(Exception):
    """Base of all errors of this package."""


class NotConfigured(FlankwiseError):
    """No usable address of a service was given."""


class Unreachable(FlankwiseError):
    """No answer came: the service is away, or the network between is."""


class Incompatible(FlankwiseError):
    """Something answered, but not a service this client can talk to."""


class NoProgram(FlankwiseError):
    """A check refuses the plan, so it has no program to save; the message says which."""


class Replied(FlankwiseError):
    """The service answered with a problem."""

    def __init__(
        self, status: int, problem: Mapping[str, Any], request_id: str | None, note: str = ""
    ) -> None:
        self.status = status
        self.note = note
        """What the client adds, such as that the service is older than itself."""
        self.code: str = str(problem.get("code", ""))
        self.title: str = str(problem.get("title", ""))
        self.detail: str = str(problem.get("detail", ""))
        self.request_id = request_id
        self.raw = dict(problem)
        self.faults: tuple[Fault, ...] = tuple(_fault(item) for item in problem.get("faults") or ())
        super().__init__(self._told())

    @property
    def pointers(self) -> tuple[str, ...]:
        """Where the faults are, in the order told."""
        return tuple(fault.pointer for fault in self.faults)

    def _told(self) -> str:
        if self.faults:
            said = "; ".join(str(fault) for fault in self.faults)
        else:
            said = self.detail or self.title or f"HTTP status {self.status}"
        request = f" [request {self.request_id}]" if self.request_id else ""
        request = f" ({self.note}){request}" if self.note else request
        return f"{self.title}: {said}{request}" if self.title else f"{said}{request}"

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.status, self.raw, self.request_id, self.note)


class Refused(Replied):
    """The service won't compute what was asked; `faults` say where and what to change."""


class NotOffered(Replied):
    """The service doesn't know this call: it is older than this client, or at another path."""


class NotAllowed(Replied):
    """A token is missing, unknown, or not good for this call."""


class Unavailable(Replied):
    """The service is too busy, or not ready; the retries didn't help."""


class ServiceFault(Replied):
    """The service itself failed; quote the request id when you ask about it."""


def of_reply(
    status: int, problem: Mapping[str, Any], request_id: str | None, note: str = ""
) -> Replied:
    """Return the error for a reply with this status.

    >>> of_reply(422, {"title": "No", "code": "impossible"}, None).code
    'impossible'
    """
    kind: type[Replied] = Refused
    if status in (401, 403):
        kind = NotAllowed
    elif status in (404, 405, 406):
        kind = NotOffered
    elif status in (429, 502, 503, 504):
        kind = Unavailable
    elif status >= 500:
        kind = ServiceFault
    return kind(status, problem, request_id, note)


def _fault(item: Mapping[str, Any]) -> Fault:
    return Fault(
        pointer=str(item.get("pointer", "")),
        code=str(item.get("code", "")),
        detail=str(item.get("detail", "")),
        change=str(item.get("change", "")),
        value=item.get("value"),
        least=item.get("least"),
        greatest=item.get("greatest"),
        unit=item.get("unit"),
        near=tuple(item.get("near") or ()),
    )
