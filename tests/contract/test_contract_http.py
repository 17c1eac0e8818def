"""HTTP itself, for every operation: methods, media types, what may be kept."""

from __future__ import annotations

import csv
import io
import json
from html.parser import HTMLParser
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from werkzeug.test import TestResponse

from contract.writing import examples
from flankwise_service.web.operation import Operation
from support.contract import application

OPERATIONS: dict[str, Operation] = application().extensions["flankwise"].operations
STORED = examples.stored()
IDS = sorted(OPERATIONS)
KINDS = [(name, kind) for name in IDS for kind in OPERATIONS[name].media_types]
PROBLEM = "application/problem+json"


def asked(operation_id: str, kind: str | None = None) -> Any:
    """The request of an example that works, one recorded with this media type if there is one."""
    good = [one for one in STORED.get(operation_id, ()) if one["status"] == 200]
    if not good:
        return {}
    return next((one for one in good if one.get("accept") == kind), good[0])["request"]


def send(operation_id: str, method: str, body: Any, **headers: str) -> TestResponse:
    declared = OPERATIONS[operation_id]
    client = application().test_client()
    if declared.method == "GET":
        return client.open(declared.path, method=method, query_string=body, headers=headers)
    if declared.takes != "application/json":
        return client.open(
            declared.path, method=method, data=body, content_type=declared.takes, headers=headers
        )
    return client.open(declared.path, method=method, json=body, headers=headers)


def problem(reply: TestResponse, status: int, code: str) -> dict[str, Any]:
    assert (reply.status_code, reply.mimetype) == (status, PROBLEM)
    told: dict[str, Any] = reply.get_json()
    assert (told["code"], told["status"]) == (code, status)
    return told


@pytest.mark.parametrize(("operation_id", "kind"), KINDS)
def test_each_media_type_that_is_offered_is_given(operation_id: str, kind: str) -> None:
    reply = send(
        operation_id, OPERATIONS[operation_id].method, asked(operation_id, kind), Accept=kind
    )
    assert reply.status_code == 200
    assert reply.content_type.partition(";")[0] == kind.partition(";")[0]
    READERS[kind.partition(";")[0]](reply.get_data(as_text=True))


def _lines(text: str) -> None:
    objects = [json.loads(line) for line in text.splitlines()]
    assert len(objects) > 1
    assert {"totals", "summary"} & set(objects[-1])  # by which a cut reply is noticed


def _table(text: str) -> None:
    rows = list(csv.reader(io.StringIO(text)))
    assert len(rows) > 2
    assert {len(row) for row in rows} == {len(rows[0])}


def _svg(text: str) -> None:
    assert ET.fromstring(text).tag == "{http://www.w3.org/2000/svg}svg"


def _html(text: str) -> None:
    assert text.startswith("<!doctype html>")
    HTMLParser().feed(text)


READERS = {
    "application/json": json.loads,
    "application/x-ndjson": _lines,
    "text/csv": _table,
    "text/plain": str.splitlines,
    "text/html": _html,
    "image/svg+xml": _svg,
}


def test_paths_come_as_lines_and_as_a_table_programs_as_text() -> None:
    for name in ("path_helix", "path_blank"):
        assert set(OPERATIONS[name].media_types) == {
            "application/json", "text/csv", "application/x-ndjson",
        }  # fmt: skip
    for name in ("plan", "program"):
        whole = send(name, "POST", asked(name)).json
        text = send(name, "POST", asked(name), Accept="text/plain").text
        assert text == (whole["program"] if name == "plan" else whole)["text"]


def test_a_program_that_must_not_be_run_is_not_given_as_text() -> None:
    refused = next(one for one in STORED["plan"] if "too shallow" in one["name"])
    told = problem(send("plan", "POST", refused["request"], Accept="text/plain"), 422, "impossible")
    assert "axial_budget" in {fault["code"] for fault in told["faults"]}


@pytest.mark.parametrize("operation_id", IDS)
def test_a_kind_that_isnt_offered_is_406(operation_id: str) -> None:
    reply = send(
        operation_id, OPERATIONS[operation_id].method, asked(operation_id), Accept="font/otf"
    )
    told = problem(reply, 406, "not_acceptable")
    for kind in OPERATIONS[operation_id].media_types:
        assert kind in told["detail"]


@pytest.mark.parametrize("operation_id", IDS)
def test_options_and_405_tell_the_methods(operation_id: str) -> None:
    allowed = {"GET", "HEAD"} if OPERATIONS[operation_id].method == "GET" else {"POST"}
    allowed |= {"OPTIONS"}
    reply = send(operation_id, "OPTIONS", {})
    assert (reply.status_code, reply.data) == (200, b"")
    assert set(reply.headers["Allow"].split(", ")) == allowed
    for method in {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE"} - allowed:
        reply = send(operation_id, method, {})
        assert reply.status_code == 405
        assert set(reply.headers["Allow"].split(", ")) == allowed
        assert reply.data == b"" if method == "HEAD" else reply.json["code"] == "method_not_allowed"


LOOKUPS = [name for name in IDS if OPERATIONS[name].method == "GET" and name != "metrics"]


@pytest.mark.parametrize("operation_id", LOOKUPS)
def test_head_is_get_without_its_body(operation_id: str) -> None:
    got, head = (send(operation_id, method, asked(operation_id)) for method in ("GET", "HEAD"))
    assert (got.status_code, head.status_code, head.data) == (200, 200, b"")
    own = {"X-Request-Id", "Date"}
    assert {(k, v) for k, v in got.headers if k not in own} == {
        (k, v) for k, v in head.headers if k not in own
    }
    assert int(head.headers["Content-Length"]) == len(got.data)


@pytest.mark.parametrize("operation_id", LOOKUPS)
def test_a_lookup_may_be_kept_and_asked_about(operation_id: str) -> None:
    if not OPERATIONS[operation_id].keep:
        assert send(operation_id, "GET", {}).headers["Cache-Control"] == "no-store"
        return
    got = send(operation_id, "GET", asked(operation_id))
    tag = got.headers["ETag"]
    assert tag.startswith('"')
    assert "max-age" in got.headers["Cache-Control"]
    again = send(operation_id, "GET", asked(operation_id), **{"If-None-Match": tag})
    assert (again.status_code, again.data, again.headers["ETag"]) == (304, b"", tag)


@pytest.mark.parametrize("operation_id", [n for n in IDS if n not in ("metrics",)])
def test_the_same_request_gives_the_same_bytes(operation_id: str) -> None:
    method = OPERATIONS[operation_id].method
    replies = [
        send(operation_id, method, asked(operation_id), **{"X-Request-Id": "same"}) for _ in "12"
    ]
    assert replies[0].data == replies[1].data
    assert list(replies[0].headers) == list(replies[1].headers)
    assert replies[0].headers["Service-Version"]
