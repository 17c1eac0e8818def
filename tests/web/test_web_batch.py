"""Many requests in one: each has its own reply or problem, order is kept, streams are whole."""

from __future__ import annotations

import json
import tracemalloc
from collections.abc import Iterator
from typing import IO, Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from flankwise_service.config import Settings
from flankwise_service.web.app import build_app

NDJSON = "application/x-ndjson"
ONE = {"operation": "echo_body", "request": {"unit": "in", "length": 1}}
REFUSED = {"operation": "echo_body", "request": {"unit": "in", "length": 13}}
BROKEN = {"operation": "echo_body", "request": {"unit": "in", "length": 14}}
LOOKUP = {"operation": "echo_name", "request": {"unit": "in", "name": "a", "turns": 2}}


@pytest.fixture
def many() -> FlaskClient:
    settings = Settings(access_log=False, body_cap=8_192, stream_cap=3_000_000)
    return build_app(settings, ("support.echo_subject", "batch")).test_client()


def ask(client: FlaskClient, *items: Any) -> dict[str, Any]:
    reply = client.post("/v1/batch", json={"items": list(items)})
    assert reply.status_code == 200
    told: dict[str, Any] = reply.get_json()
    return told


def test_each_result_is_what_the_operation_alone_replies(many: FlaskClient) -> None:
    told = ask(many, ONE, LOOKUP | {"key": "mine"}, REFUSED)
    first, second, third = told["results"]
    assert first["reply"] == many.post("/v1/echo/body", json=ONE["request"]).json
    alone = many.get("/v1/echo/name", query_string=LOOKUP["request"]).json
    assert (second["key"], second["reply"]) == ("mine", alone)
    assert (third["status"], third["reply"]) == (422, None)
    problem = many.post("/v1/echo/body", json=REFUSED["request"]).json
    ours = {"instance", "request_id"}
    assert {k: v for k, v in third["problem"].items() if k not in ours} == {
        k: v for k, v in problem.items() if k not in ours
    }
    assert (told["count"], told["refused"]) == (3, 1)


def test_order_is_kept(many: FlaskClient) -> None:
    items = [ONE | {"key": str(place)} for place in range(50)]
    assert [result["key"] for result in ask(many, *items)["results"]] == [
        str(place) for place in range(50)
    ]


def test_one_that_fails_inside_keeps_no_other_from_its_reply(
    many: FlaskClient, caplog: pytest.LogCaptureFixture
) -> None:
    told = ask(many, ONE, BROKEN, ONE)
    assert [result["status"] for result in told["results"]] == [200, 500, 200]
    assert told["results"][1]["problem"]["code"] == "internal"
    assert "secret inside" not in json.dumps(told)
    assert "secret inside" in caplog.text


@pytest.mark.parametrize(
    ("item", "pointer", "code"),
    [
        ({"operation": "echo_bdy", "request": {}}, "/operation", "unknown_operation"),
        ({"operation": "batch", "request": {"items": [ONE]}}, "/operation", "unknown_operation"),
        ({"operation": "livez", "request": {}}, "/operation", "unknown_operation"),
        ({"operation": "echo_body", "request": {"unit": "in"}}, "/length", "missing"),
        ({"operation": "echo_body", "request": []}, "", "not_an_object"),
        ({"operation": "echo_name", "request": {"unit": "in", "name": 1}}, "/name", "not_text"),
    ],
)
def test_a_mistake_in_one_request_is_its_own(
    many: FlaskClient, item: Any, pointer: str, code: str
) -> None:
    told = ask(many, ONE, item)
    fault = told["results"][1]["problem"]["faults"][0]
    assert (fault["pointer"], fault["code"]) == (pointer, code)
    assert told["results"][0]["status"] == 200


@pytest.mark.parametrize(
    ("items", "pointer"),
    [
        ([], "/items"), ([ONE] * 1001, "/items"), ([{"request": {}}], "/items/0/operation"),
        ([ONE, {"operation": "echo_body"}], "/items/1/request"), ([3], "/items/0"),
        ([ONE | {"kee": "x"}], "/items/0/kee"),
    ],
)  # fmt: skip
def test_a_mistake_in_the_envelope_is_the_whole_ones(
    echo_app: Flask, items: Any, pointer: str
) -> None:
    client = build_app(Settings(access_log=False), ("support.echo_subject", "batch")).test_client()
    reply = client.post("/v1/batch", json={"items": items})
    assert reply.status_code == 422
    assert reply.json["faults"][0]["pointer"] == pointer


def stream(client: FlaskClient, *lines: bytes) -> list[dict[str, Any]]:
    body = b"\n".join(lines)
    told = {"CONTENT_LENGTH": str(len(body))}
    reply = client.post("/v1/batch/stream", data=body, content_type=NDJSON, environ_overrides=told)
    assert reply.status_code == 200
    assert reply.mimetype == NDJSON
    return [json.loads(line) for line in reply.text.splitlines()]


def line(item: Any) -> bytes:
    return json.dumps(item).encode()


def test_a_stream_answers_line_by_line_and_ends_with_a_summary(many: FlaskClient) -> None:
    told = stream(many, line(ONE | {"key": "a"}), b"", line(REFUSED), line(LOOKUP), b"")
    assert told[-1] == {"summary": {"count": 3, "refused": 1}}
    assert [each["status"] for each in told[:-1]] == [200, 422, 200]
    assert told[0]["key"] == "a"


def test_lines_that_cant_be_read_have_their_own_problem(many: FlaskClient) -> None:
    lines = [b"{", b"[]", b"\xff", b'{"operation":"echo_body","operation":"x","request":{}}',
             b"[" * 600, line({"operation": "echo_body"}), line(ONE)]  # fmt: skip
    told = stream(many, *lines)
    assert [each["status"] for each in told[:-1]] == [400, 422, 400, 422, 400, 422, 200]
    assert told[-1] == {"summary": {"count": 7, "refused": 6}}


def test_a_line_longer_than_a_body_may_be_is_refused(many: FlaskClient) -> None:
    told = stream(many, line(ONE), b" " * 20_000 + line(ONE), line(ONE), b"x" * 20_000)
    assert [each["status"] for each in told[:-1]] == [200, 413, 200, 413]


def test_a_stream_of_nothing_is_its_summary(many: FlaskClient) -> None:
    assert stream(many) == [{"summary": {"count": 0, "refused": 0}}]


@pytest.mark.parametrize(
    ("content_type", "body", "status"),
    [("application/json", b"{}", 415), (NDJSON, b" " * 3_000_001, 413)],
)
def test_what_is_no_stream_is_refused(
    many: FlaskClient, content_type: str, body: bytes, status: int
) -> None:
    assert many.post("/v1/batch/stream", data=body, content_type=content_type).status_code == status


def test_a_stream_cut_short_is_refused(many: FlaskClient) -> None:
    told = {"CONTENT_LENGTH": "900"}
    reply = many.post(
        "/v1/batch/stream", data=line(ONE), content_type=NDJSON, environ_overrides=told
    )
    assert (reply.status_code, reply.json["code"]) == (400, "body_cut_short")


def test_memory_stays_flat_however_long_the_stream(many: FlaskClient) -> None:
    body = (line(ONE) + b"\n") * 30_000

    def peak(count: int) -> int:
        whole = body[: (len(line(ONE)) + 1) * count]
        tracemalloc.start()
        reply = many.post("/v1/batch/stream", data=whole, content_type=NDJSON, buffered=False)
        pieces: Iterator[bytes] = iter(reply.response)
        next(pieces)
        tracemalloc.reset_peak()
        before = tracemalloc.get_traced_memory()[0]
        told = 1 + sum(1 for _ in pieces)
        reply.close()
        most = tracemalloc.get_traced_memory()[1] - before
        tracemalloc.stop()
        assert told == count + 1
        return most

    assert peak(3_000) < 400_000
    assert peak(300) < 400_000


def test_a_stream_for_which_there_is_no_room_may_come_again(
    many: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("flankwise_service.web.body.SpooledTemporaryFile", on_a_full_disk)
    whole = line(ONE) * 5_000
    told = {"CONTENT_LENGTH": str(len(whole))}
    reply = many.post("/v1/batch/stream", data=whole, content_type=NDJSON, environ_overrides=told)
    assert (reply.status_code, reply.json["code"]) == (503, "not_ready")
    assert int(reply.headers["Retry-After"]) > 0


def on_a_full_disk(in_memory: int) -> IO[bytes]:
    """Return a file of the real kind: Linux's /dev/full takes no byte (full(4))."""
    return open("/dev/full", "wb", buffering=0)
