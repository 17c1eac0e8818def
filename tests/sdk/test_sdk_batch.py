"""Batches and streams of requests through the SDK, against a real gunicorn and against fakes."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
import responses

import flankwise
from support.server import Server

READ = {"operation": "threads_read", "request": {"designation": "M8-6g", "unit": "mm"}}
WRONG = {"operation": "threads_read", "request": {"designation": "M8-6g", "unit": "cm"}}
OURS = {"Service-Version": flankwise.__version__}
URL = "http://shop.test"


@pytest.fixture
def shop(server: Server) -> Iterator[flankwise.Client]:
    with flankwise.Client(server.url) as client:
        yield client


def test_a_batch_gives_each_its_result(shop: flankwise.Client) -> None:
    told = shop.batch([READ, WRONG | {"key": "w"}, READ])
    assert (told.count, told.refused) == (3, 1)
    assert told.results[0].reply == shop.threads_read("M8-6g", unit="mm").to_dict()
    assert (told.results[1].key, told.results[1].problem["faults"][0]["pointer"]) == ("w", "/unit")


def test_any_number_goes_in_batches_with_progress(shop: flankwise.Client) -> None:
    seen: list[int] = []
    items = (READ | {"key": str(place)} for place in range(25))
    results = list(shop.batch_each(items, size=10, progress=seen.append))
    assert [result.key for result in results] == [str(place) for place in range(25)]
    assert seen == [10, 20, 25]


def test_a_stream_goes_in_one_call(shop: flankwise.Client) -> None:
    seen: list[int] = []
    items = [
        READ | {"key": str(place)} for place in range(3_000)
    ]  # larger than what is kept in memory
    results = list(shop.batch_stream(iter(items), progress=seen.append))
    assert [result.key for result in results] == [item["key"] for item in items]
    assert {result.status for result in results} == {200}
    assert seen[-1] == 3_000
    assert list(shop.batch_stream([])) == []


def answer(*lines: Any) -> str:
    return "\n".join(each if isinstance(each, str) else json.dumps(each) for each in lines)


RESULT: dict[str, Any] = {
    "key": None,
    "operation": "x",
    "status": 200,
    "reply": {},
    "problem": None,
}


@pytest.mark.parametrize(
    ("body", "error"),
    [
        (answer(RESULT), flankwise.Unreachable),
        (answer(RESULT, {"summary": {"count": 2, "refused": 0}}), flankwise.Unreachable),
        (answer(), flankwise.Unreachable),
        (answer(RESULT, "<html>"), flankwise.Incompatible),
        (answer({"other": 1}), flankwise.Incompatible),
    ],
)
def test_a_stream_that_was_cut_is_noticed(body: str, error: type[Exception]) -> None:
    with responses.RequestsMock() as mock:
        mock.post(f"{URL}/v1/batch/stream", body=body, headers=OURS)
        with pytest.raises(error):
            list(flankwise.Client(URL).batch_stream([READ]))
