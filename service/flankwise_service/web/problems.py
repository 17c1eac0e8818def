"""What is said when a request can't be answered: RFC 9457 problem details, every fault in one.

    Problem                  an HTTP status, a code that never changes, words that may
    └── carries Faults       core/errors.py, each with an RFC 6901 pointer into the request

Codes are listed in `CODES`, those too that only the proxy or gunicorn says (deploy/proxy,
worker.py); the type of a problem is `urn:flankwise:problem:` and its code.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from http import HTTPStatus

import orjson

from flankwise_service.core.errors import Fault, Refusal

MEDIA_TYPE = "application/problem+json"
TYPE_PREFIX = "urn:flankwise:problem:"

INSIDE = "the request was not at fault; quote the request id when asking"
"""All that is said outside of a failure inside."""

CODES: dict[str, tuple[int, str]] = {
    "bad_request": (400, "The request can't be read"),
    "bad_json": (400, "The body isn't valid JSON"),
    "body_cut_short": (400, "The body is shorter than its Content-Length"),
    "not_authorized": (401, "A token is needed"),
    "not_allowed": (403, "The token doesn't allow this"),
    "no_such_path": (404, "There is nothing at this path"),
    "method_not_allowed": (405, "This path doesn't know that method"),
    "not_acceptable": (406, "None of the media types asked for can be given"),
    "length_required": (411, "The length of the body must be told"),
    "body_too_large": (413, "The body is larger than allowed"),
    "query_too_long": (414, "The query is longer than allowed"),
    "unsupported_media_type": (415, "The body is of a kind that isn't taken here"),
    "bad_values": (422, "Values in the request can't be used"),
    "bad_input": (422, "A value can't be used"),
    "unknown_thread": (422, "The thread designation doesn't name a standard thread"),
    "no_source": (422, "No figure can be stated with a source"),
    "impossible": (422, "These values can't be cut together"),
    "collision": (422, "The tool meets the stock where it must not"),
    "refused": (422, "This can't be worked out as asked"),
    "too_many_requests": (429, "Too many requests at once"),
    "headers_too_large": (431, "The headers are larger than allowed"),
    "internal": (500, "Something is wrong in the service; the request isn't at fault"),
    "not_ready": (503, "The service isn't ready"),
}


class Problem(Exception):
    """A request that ends in a problem reply instead of a result."""

    def __init__(
        self,
        code: str,
        detail: str,
        faults: Iterable[Fault] = (),
        headers: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(detail)
        self.code = code
        self.status, self.title = CODES[code]
        self.detail = detail
        self.faults = tuple(faults)
        self.headers = dict(headers or {})

    def body(self, request_id: str) -> bytes:
        """Return the problem as the bytes of its JSON document."""
        return orjson.dumps(
            {
                "type": TYPE_PREFIX + self.code,
                "title": self.title,
                "status": self.status,
                "detail": self.detail,
                "code": self.code,
                "instance": f"urn:flankwise:request:{request_id}",
                "request_id": request_id,
                "faults": [_plain(fault) for fault in self.faults],
            }
        )


def of_refusal(refusal: Refusal, pointers: Mapping[str, str] | None = None) -> Problem:
    """Return the 422 problem of a refusal of core, its pointers moved into the request.

    `pointers` maps a beginning of a pointer, as core names its arguments, to where the request
    holds it; the longest beginning that fits is taken.
    """
    faults = tuple(_moved(fault, pointers) for fault in refusal.faults) if pointers else ()
    code = _code_of(type(refusal))
    return Problem(code, str(refusal), faults or refusal.faults)


def of_status(status: int, detail: str, headers: Mapping[str, str] | None = None) -> Problem:
    """Return the problem for a plain HTTP `status` that Flask or Werkzeug raised."""
    code = next((code for code, (known, _) in CODES.items() if known == status), None)
    if code is None:
        code = "internal" if status >= HTTPStatus.INTERNAL_SERVER_ERROR else "bad_request"
    return Problem(code, detail, headers=headers)


def _code_of(kind: type[Refusal]) -> str:
    for parent in kind.__mro__:
        code = re.sub(r"(?<!^)(?=[A-Z])", "_", parent.__name__).lower()
        if code in CODES:
            return code
    return "refused"


def _moved(fault: Fault, pointers: Mapping[str, str]) -> Fault:
    fits = [
        begin
        for begin in pointers
        if fault.pointer == begin or fault.pointer.startswith(begin + "/") or begin == ""
    ]
    if not fits:
        return fault
    begin = max(fits, key=len)
    return Fault(
        pointers[begin] + fault.pointer[len(begin) :],
        fault.code, fault.detail, fault.change, fault.value,
        fault.least, fault.greatest, fault.unit, fault.near,
    )  # fmt: skip


SHOWN_TEXT = 80
SAFE_WHOLE = 2**53


def shown(value: object) -> object:
    """Return `value` as a fault may show it: scalars as they are, long text cut, else None."""
    if isinstance(value, str):
        return value if len(value) <= SHOWN_TEXT else value[: SHOWN_TEXT - 1] + "…"
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int):
        return value if abs(value) <= SAFE_WHOLE else _rounded(value)
    if isinstance(value, float):
        return value if value - value == 0 else None
    try:
        return float(value)  # type: ignore[arg-type]  # Decimal and its like
    except (TypeError, ValueError, OverflowError):
        return None


def _rounded(whole: int) -> float | None:
    try:
        return float(whole)
    except OverflowError:
        return None


def _plain(fault: Fault) -> dict[str, object]:
    return {
        "pointer": fault.pointer,
        "code": fault.code,
        "detail": fault.detail,
        "value": shown(fault.value),
        "least": shown(fault.least),
        "greatest": shown(fault.greatest),
        "unit": fault.unit,
        "change": fault.change,
        "near": list(fault.near),
    }
