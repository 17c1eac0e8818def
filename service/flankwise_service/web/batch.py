"""Many requests in one: mixed operations, each with its own reply or problem, order kept."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator
from typing import Any, BinaryIO

import orjson
from flask import Blueprint, request

from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.web.body import JSON, NDJSON, parse
from flankwise_service.web.dump import to_json
from flankwise_service.web.fields import near_misses
from flankwise_service.web.front import REQUEST_ID
from flankwise_service.web.load import bad_values, load
from flankwise_service.web.operation import Operation, State, operation, state
from flankwise_service.web.problems import INSIDE, Problem, of_refusal
from flankwise_service.web.schemas.batch import RequestBatchAsk, RequestBatchReply, RequestLineAsk

blueprint = Blueprint("batch", __name__)
logger = logging.getLogger("flankwise_service")


@operation(
    blueprint, "POST", "/batch", id="batch", tag="batch", asks=RequestBatchAsk,
    replies=RequestBatchReply,
    summary="Many requests in one",
)  # fmt: skip
def batch(asked: dict[str, Any]) -> object:
    """Answer up to 1000 requests, of any operations that reply with JSON, in the order asked.

    Each has its own reply or its own problem: one that is refused keeps no other from its reply.
    """
    held, request_id = state(), str(request.environ[REQUEST_ID])
    results = [_result(item, held, request_id) for item in asked["items"]]
    refused = sum(result["problem"] is not None for result in results)
    return {"results": results, "count": len(results), "refused": refused}


def _lines(found: tuple[BinaryIO, State, str]) -> Iterator[bytes]:
    """Yield one line a request, and at the end the summary by which a cut stream is noticed."""
    lines, held, request_id = found
    count = refused = 0
    with lines:
        for line in _each_line(lines, held.settings.body_cap):
            result = _line_result(line, held, request_id)
            count += 1
            refused += result["problem"] is not None
            yield to_json(result) + b"\n"
    yield to_json({"summary": {"count": count, "refused": refused}}) + b"\n"


@operation(
    blueprint, "POST", "/batch/stream", id="batch_stream", tag="batch", asks=RequestLineAsk,
    replies=None, renders={NDJSON: _lines}, takes=NDJSON,
    summary="Any number of requests, line by line",
)  # fmt: skip
def batch_stream(lines: BinaryIO) -> object:
    """Answer a stream of requests, one JSON object a line (NDJSON), with one line each.

    The last line is `{"summary": {"count": ..., "refused": ...}}`; a stream without it was cut.
    A line that can't be read has its own problem, like any other.
    """
    return lines, state(), str(request.environ[REQUEST_ID])


def _each_line(lines: BinaryIO, cap: int) -> Iterator[bytes]:
    """Yield the lines that aren't blank; of one longer than `cap` only so much that it shows."""
    while line := lines.readline(cap + 1):
        end = line
        while len(line) > cap and end and not end.endswith(b"\n"):
            end = lines.readline(cap + 1)
        if len(line) > cap or line.strip():
            yield line


def _line_result(line: bytes, held: State, request_id: str) -> dict[str, Any]:
    try:
        if len(line) > held.settings.body_cap:
            raise Problem("body_too_large", f"a line has more than {held.settings.body_cap} bytes")
        item = load(_LINE, parse(line, held.settings.depth_cap))
    except Problem as problem:
        return _told({"key": None, "operation": ""}, problem, request_id)
    return _result(item, held, request_id)


_LINE = RequestLineAsk()


def _result(item: dict[str, Any], held: State, request_id: str) -> dict[str, Any]:
    try:
        declared = _operation(item["operation"], held)
        with held.turns.taken(heavy=declared.heavy):
            reply = orjson.Fragment(_reply(declared, item["request"]))
    except Problem as problem:
        return _told(item, problem, request_id)
    return {
        "key": item["key"], "operation": item["operation"], "status": 200,
        "reply": reply, "problem": None,
    }  # fmt: skip


def _bytes(body: str | Iterable[bytes]) -> Iterable[bytes]:
    return (body.encode(),) if isinstance(body, str) else body


def _told(item: dict[str, Any], problem: Problem, request_id: str) -> dict[str, Any]:
    return {
        "key": item["key"], "operation": item["operation"], "status": problem.status,
        "reply": None, "problem": orjson.Fragment(problem.body(request_id)),
    }  # fmt: skip


def _operation(name: str, held: State) -> Operation:
    declared = held.batchable.get(name)
    if declared is None:
        detail = f"there is no operation {name} with a JSON reply"
        near = near_misses(name, list(held.batchable))
        raise bad_values(
            [Fault("/operation", "unknown_operation", detail, "see /openapi.json", name, near=near)]
        )
    return declared


def _reply(declared: Operation, asked: Any) -> bytes:
    """Return the JSON reply of one operation; raise the problem there is instead."""
    try:
        result = declared.compute(load(declared.schema, asked))
        body = declared.renders.get(JSON, to_json)(result)
        return body if isinstance(body, bytes) else b"".join(_bytes(body))
    except Refusal as refusal:
        raise of_refusal(refusal, declared.pointers) from refusal
    except Problem:
        raise
    except Exception as error:  # one that fails must not take the others along
        logger.exception("%s failed in a batch", declared.id)
        raise Problem("internal", INSIDE) from error
