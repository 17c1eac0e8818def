"""What gunicorn refuses before the application sees it: problems too, and nothing of it in the log."""

from __future__ import annotations

import json
import logging
import socket
from contextlib import closing
from types import SimpleNamespace
from typing import Any
from urllib.request import urlopen

import pytest
from flask import Flask
from gunicorn.http import errors
from prometheus_client.parser import text_string_to_metric_families

from flankwise_service.config import Settings
from flankwise_service.web.app import build_app
from flankwise_service.web.problems import CODES
from flankwise_service.worker import Worker, problem_of
from support.server import Server
from support.wire import talk

LIMITS = SimpleNamespace(
    limit_request_line=4094, limit_request_fields=50, limit_request_field_size=4094
)
LEAF_ERRORS = [
    kind
    for kind in vars(errors).values()
    if isinstance(kind, type) and issubclass(kind, errors.ParseException)
    if kind is not errors.ParseException
]
OWN = {"InvalidResponseHeader", "InvalidResponseHeaderName", "ConfigurationProblem"}


@pytest.mark.parametrize("kind", LEAF_ERRORS)
def test_every_error_of_its_parser_has_a_code_and_quotes_nothing(kind: type[Exception]) -> None:
    error = kind.__new__(kind)
    error.__dict__.update(hdr="secret", req="secret", method="secret", msg="secret", info="secret")
    problem = problem_of(error, LIMITS)
    assert CODES[problem.code][0] == problem.status
    assert (problem.code == "internal") == (kind.__name__ in OWN)
    assert "secret" not in problem.detail


def test_what_isnt_known_is_a_fault_of_the_service() -> None:
    assert problem_of(ValueError("x"), LIMITS).code == "internal"


def answered(
    error: Exception, log: logging.Logger, app: Flask | None = None
) -> tuple[bytes, dict[str, Any]]:
    ours, theirs = socket.socketpair()
    worker = Worker.__new__(Worker)  # without the process that the real one is
    worker.cfg, worker.log, worker.wsgi = LIMITS, log, app
    with closing(ours), closing(theirs):
        worker.handle_error(None, ours, ("127.0.0.1", 1), error)
        head, _, body = theirs.recv(65_536).partition(b"\r\n\r\n")
    return head, json.loads(body)


def test_the_log_holds_the_kind_and_the_id_only(caplog: pytest.LogCaptureFixture) -> None:
    log = logging.getLogger("test-worker")
    head, told = answered(errors.InvalidHeader("Authorization Bearer fw_secret"), log)
    assert head.startswith(b"HTTP/1.1 400 Bad Request\r\n")
    assert f"X-Request-Id: {told['request_id']}".encode() in head
    assert caplog.messages == [f"request {told['request_id']} can't be read: InvalidHeader"]


def test_a_fault_of_the_service_is_logged_with_its_trace(caplog: pytest.LogCaptureFixture) -> None:
    head, told = answered(ZeroDivisionError("inside"), logging.getLogger("test-worker"))
    assert head.startswith(b"HTTP/1.1 500 ")
    assert told["code"] == "internal"
    assert "inside" not in told["detail"]
    assert "ZeroDivisionError" in caplog.text


def test_a_caller_who_went_away_harms_nobody(caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)
    ours, theirs = socket.socketpair()
    worker = Worker.__new__(Worker)
    worker.cfg, worker.log, worker.wsgi = LIMITS, logging.getLogger("test-worker"), None
    theirs.close()
    with closing(ours):
        worker.handle_error(None, ours, None, errors.LimitRequestLine(9_000, 4_094))
    assert "went away: BrokenPipeError" in caplog.text


@pytest.mark.parametrize(
    ("request_head", "code"),
    [
        ("GET /livez HTTP/1.1\r\nHost: a\r\nAuthorization Bearer fw_secret\r\n\r\n", "bad_request"),
        ("GET /livez?fw_secret HTTP/7.1\r\nHost: a\r\n\r\n", "bad_request"),
        ("GET /livez HTTP/1.1\r\nHost: a\r\nExpect: fw_secret\r\n\r\n", "bad_request"),
        ("GET /livez HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: fw_secret\r\n\r\n", "bad_request"),
        (f"GET /fw_secret{'a' * 5_000} HTTP/1.1\r\nHost: a\r\n\r\n", "query_too_long"),
        (f"GET / HTTP/1.1\r\nHost: a\r\nX: fw_secret{'a' * 5_000}\r\n\r\n", "headers_too_large"),
    ],
)
def test_a_real_one_answers_so_and_logs_no_token(
    server: Server, request_head: str, code: str
) -> None:
    status, head, body = talk(server.url, request_head.encode())
    told = json.loads(body)
    assert (told["code"], told["status"]) == (code, status)
    assert status == CODES[code][0]
    assert b"\r\nContent-Type: application/problem+json\r\n" in head
    assert b"\r\nService-Version: " in head
    log = server.log.read_text("utf-8")
    assert told["request_id"] in log
    assert "fw_secret" not in log


def counted(text: str) -> dict[tuple[str, str], float]:
    """Return how many requests of no operation there were, by status and by code of problem."""
    return {
        (sample.name, sample.labels.get("status", sample.labels.get("code", ""))): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
        if sample.name in ("flankwise_requests_total", "flankwise_problems_total")
        if sample.labels["operation"] == ""
    }


def test_what_it_refuses_is_counted_by_code() -> None:
    app = build_app(Settings(access_log=False))
    log = logging.getLogger("test-worker")
    for error in (
        errors.InvalidHeader("a"), errors.LimitRequestLine(9_000, 4_094), ZeroDivisionError("inside"),
    ):  # fmt: skip
        answered(error, log, app)
        answered(error, log, app)
    assert counted(app.test_client().get("/metrics").text) == {
        ("flankwise_requests_total", "400"): 2,
        ("flankwise_requests_total", "414"): 2,
        ("flankwise_requests_total", "500"): 2,
        ("flankwise_problems_total", "bad_request"): 2,
        ("flankwise_problems_total", "query_too_long"): 2,
        ("flankwise_problems_total", "internal"): 2,
    }


def test_a_real_one_counts_them_for_all_workers(server: Server) -> None:
    def count() -> float:
        text = urlopen(server.url + "/metrics").read().decode()
        return counted(text).get(("flankwise_problems_total", "headers_too_large"), 0)

    before = count()
    head = f"GET / HTTP/1.1\r\nHost: a\r\nX: {'a' * 5_000}\r\n\r\n".encode()
    for _ in range(3):
        assert talk(server.url, head).status == 431
    assert count() == before + 3
