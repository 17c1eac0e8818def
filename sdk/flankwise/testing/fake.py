"""A service that is faked with `responses`, answering with what was recorded."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import requests
import responses

from flankwise import __version__
from flankwise.testing.recorded import OperationRecorded, Recorded, recorded

PROBLEM = "application/problem+json"
NDJSON = "application/x-ndjson"
Reply = tuple[int, dict[str, str], str]


class NotRecorded(AssertionError):
    """The fake has no reply to what was asked; it never makes one up."""


@dataclass(frozen=True)
class Asked:
    """One request that reached the fake."""

    operation: str
    request: Any


@dataclass
class FakeService:
    """Answers a `flankwise.Client` of the same process, inside a `with` block.

    >>> import flankwise
    >>> with FakeService() as service, flankwise.Client(service.url) as shop:
    ...     shop.threads_limits("7/8-14 UNF-2A", unit="in").pitch_diameter.max
    0.827
    >>> service.asked[0].operation
    'threads_limits'
    """

    url: str = "http://flankwise.test"
    version: str = __version__
    """What the fake says its version is."""
    asked: list[Asked] = field(default_factory=list)
    """What was asked, in order."""

    def __post_init__(self) -> None:
        self._own: dict[str, list[tuple[Any, int, Any]]] = {}
        self._next: list[int] = []
        self._away = False
        self._mock = responses.RequestsMock(assert_all_requests_are_fired=False)

    def __enter__(self) -> FakeService:
        self._mock.start()
        for one in recorded().values():
            self._mock.add_callback(one.method, self.url + one.path, self._answerer(one))
        return self

    def __exit__(self, *_: object) -> None:
        self._mock.stop(allow_assert=False)
        self._mock.reset()

    def good_requests(self, operation: str) -> Mapping[str, Any]:
        """Return the recorded requests of an operation that got a result, by name."""
        return {one.name: one.request for one in recorded()[operation].examples if _good(one)}

    def refused_requests(self, operation: str) -> Mapping[str, Any]:
        """Return the recorded requests of an operation that were refused, by name."""
        return {one.name: one.request for one in recorded()[operation].examples if not _good(one)}

    def reply(self, operation: str, request: Any, reply: Any) -> None:
        """Answer a request with a reply of your own from now on; `...` stands for any request."""
        self._own.setdefault(operation, []).insert(0, (request, 200, reply))

    def refuse(
        self,
        operation: str,
        request: Any = ...,
        *,
        pointer: str = "",
        detail: str,
        change: str = "",
    ) -> None:
        """Refuse a request (any, where none is given) with one fault from now on."""
        fault: dict[str, Any] = {
            "pointer": pointer, "code": "made_up_for_a_test", "detail": detail, "value": None,
            "least": None, "greatest": None, "unit": None, "change": change, "near": [],
        }  # fmt: skip
        problem = _problem(422, "refused", "This can't be worked out as asked", detail, [fault])
        self._own.setdefault(operation, []).insert(0, (request, 422, problem))

    def busy(self, times: int = 1) -> None:
        """Answer the next requests with 503, as a service that is too busy does."""
        self._next += [503] * times

    def fail(self, times: int = 1) -> None:
        """Answer the next requests with 500."""
        self._next += [500] * times

    def away(self, away: bool = True) -> None:
        """Don't answer at all, or do again."""
        self._away = away

    def _answerer(self, one: OperationRecorded) -> Callable[[requests.PreparedRequest], Reply]:
        def answer(sent: requests.PreparedRequest) -> Reply:
            if self._away:
                raise requests.ConnectionError("the fake service is away")
            if self._next:
                return self._stumble(self._next.pop(0))
            request = _request(one, sent)
            self.asked.append(Asked(one.id, request))
            accept = str(sent.headers.get("Accept", ""))
            if one.id == "batch":
                return self._reply(200, accept, self._batch(request["items"]))
            if one.id == "batch_stream":
                return self._reply(200, NDJSON, self._stream(request))
            status, reply = self._found(one, request, accept)
            return self._reply(status, accept, reply)

        return answer

    def _found(self, one: OperationRecorded, request: Any, accept: str) -> tuple[int, Any]:
        for own, status, reply in self._own.get(one.id, ()):
            if own is ... or one.whole(own) == one.whole(request):
                return status, reply
        found = one.find(request, accept)
        if found is None:
            names = "; ".join(example.name for example in one.examples) or "nothing"
            raise NotRecorded(
                f"{one.id} isn't recorded with {json.dumps(request)[:300]}, as {accept}. "
                f"Recorded are: {names}. Give a reply of your own: service.reply({one.id!r}, …)"
            )
        return found.status, found.reply

    def _batch(self, items: list[dict[str, Any]]) -> dict[str, Any]:
        results = [self._item(item) for item in items]
        refused = sum(one["problem"] is not None for one in results)
        return {"results": results, "count": len(results), "refused": refused}

    def _item(self, item: Mapping[str, Any]) -> dict[str, Any]:
        operation = item["operation"]
        if operation not in recorded():
            raise NotRecorded(f"there is no operation {operation}")
        status, told = self._found(recorded()[operation], item["request"], "application/json")
        return {
            "key": item.get("key"), "operation": operation, "status": status,
            "reply": told if status == 200 else None, "problem": None if status == 200 else told,
        }  # fmt: skip

    def _stream(self, text: str) -> str:
        told = self._batch([json.loads(line) for line in text.splitlines() if line.strip()])
        results: list[Any] = told["results"]
        summary = {"summary": {"count": told["count"], "refused": told["refused"]}}
        return "".join(json.dumps(one) + "\n" for one in [*results, summary])

    def _stumble(self, status: int) -> Reply:
        code, title = ("not_ready", "The service isn't ready") if status == 503 else (
            "internal", "Something is wrong in the service; the request isn't at fault"
        )  # fmt: skip
        return self._reply(status, PROBLEM, _problem(status, code, title, "faked for a test", []))

    def _reply(self, status: int, kind: str, reply: Any) -> Reply:
        headers = {
            "Service-Version": self.version,
            "X-Request-Id": "faked",
            "Content-Type": _full(kind) if status == 200 else PROBLEM,
        }
        return status, headers, reply if isinstance(reply, str) else json.dumps(reply)


def _full(kind: str) -> str:
    return f"{kind}; charset=utf-8" if kind.startswith("text/") else kind


def _good(one: Recorded) -> bool:
    return one.status == 200


def _request(one: OperationRecorded, sent: requests.PreparedRequest) -> Any:
    """Return what was asked, the numbers of a query read as numbers."""
    if one.method == "GET":
        return dict(_read(urlsplit(str(sent.url)).query, one))
    body: Any = sent.body
    body = body.read() if hasattr(body, "read") else body
    text = body.decode() if isinstance(body, bytes) else str(body)
    return text if one.takes == NDJSON else json.loads(text)


def _read(query: str, one: OperationRecorded) -> Iterator[tuple[str, Any]]:
    spoken = [*(example.request for example in one.examples), one.defaults]
    texts = {
        name
        for told in spoken
        for name, value in told.items()
        if isinstance(value, str)
    }  # fmt: skip
    for name, text in parse_qsl(query, keep_blank_values=True):
        try:
            yield name, text if name in texts else json.loads(text)
        except ValueError:
            yield name, text


def _problem(status: int, code: str, title: str, detail: str, faults: list[Any]) -> dict[str, Any]:
    return {
        "type": f"urn:flankwise:problem:{code}", "title": title, "status": status,
        "detail": detail, "code": code, "instance": "urn:flankwise:request:faked",
        "request_id": "faked", "faults": faults,
    }  # fmt: skip
