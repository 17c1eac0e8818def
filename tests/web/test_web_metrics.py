"""Counts: in one process, and added up over the workers of a real gunicorn."""

from __future__ import annotations

import json
import time
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import Request, urlopen

from flask.testing import FlaskClient
from prometheus_client.parser import text_string_to_metric_families

from flankwise_service import __version__
from support.server import gunicorn


def counts(text: str) -> dict[tuple[str, tuple[tuple[str, str], ...]], float]:
    return {
        (sample.name, tuple(sorted(sample.labels.items()))): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
    }


def requests(operation: str, method: str, status: int) -> tuple[str, tuple[tuple[str, str], ...]]:
    labels = (("method", method), ("operation", operation), ("status", str(status)))
    return "flankwise_requests_total", labels


def test_requests_are_counted_by_operation_and_status(echo: FlaskClient) -> None:
    for _ in range(3):
        echo.get("/v1/echo/name?name=a&unit=in").close()
    echo.post("/v1/echo/body", json={"unit": "in", "length": 13}).close()
    echo.get("/nowhere").close()
    echo.open("/nowhere", method="BREW").close()
    reply = echo.get("/metrics")
    assert reply.headers["Content-Type"] == "text/plain; version=0.0.4; charset=utf-8"
    assert reply.headers["Cache-Control"] == "no-store"
    found = counts(reply.text)
    assert found[requests("echo_name", "GET", 200)] == 3
    assert found[requests("echo_body", "POST", 422)] == 1
    assert found[requests("", "GET", 404)] == 1
    assert found[requests("", "other", 404)] == 1
    assert (
        found["flankwise_problems_total", (("code", "impossible"), ("operation", "echo_body"))] == 1
    )
    assert found["flankwise_problems_total", (("code", "no_such_path"), ("operation", ""))] == 2
    assert found["flankwise_request_seconds_count", (("operation", "echo_name"),)] == 3
    assert found["flankwise_build_info", (("version", __version__),)] == 1
    assert found["flankwise_requests_in_flight", ()] == 1  # the one that asks


def test_two_applications_count_apart(echo: FlaskClient, web: FlaskClient) -> None:
    before = counts(web.get("/metrics").text)
    echo.get("/v1/echo/name?name=a&unit=in").close()
    assert requests("echo_name", "GET", 200) not in before
    assert requests("echo_name", "GET", 200) not in counts(web.get("/metrics").text)


def test_workers_of_one_service_are_added_up(tmp_path: Path) -> None:
    with gunicorn(tmp_path, "--workers", "2") as running:
        for _ in range(40):
            urlopen(running.url + "/v1/threads/limits?designation=M8-6g&unit=mm").read()
        try:
            urlopen(
                Request(
                    running.url + "/v1/stock/hexagon", b"{}", {"Content-Type": "application/json"}
                )
            )
        except HTTPError as error:
            assert json.loads(error.read())["code"] == "bad_values"  # noqa: PT017
        # A worker counts once the reply is out: the last count may come a moment after it.
        for _ in range(50):
            found = counts(urlopen(running.url + "/metrics").read().decode())
            if requests("stock_hexagon", "POST", 422) in found:
                break
            time.sleep(0.1)
    assert found[requests("threads_limits", "GET", 200)] == 40
    assert found[requests("stock_hexagon", "POST", 422)] == 1
    assert found["flankwise_build_info", (("version", __version__),)] == 1
