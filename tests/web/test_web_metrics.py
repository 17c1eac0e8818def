"""Counts: in one process, and added up over the workers of a real gunicorn."""

from __future__ import annotations

import json
import logging
import os
import shutil
import signal
import time
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest
from flask.testing import FlaskClient
from prometheus_client.parser import text_string_to_metric_families

from flankwise_service import __version__
from flankwise_service.web.metrics import Meter, make_shared_folder
from support.server import Server, gunicorn
from support.workers import workers_of


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


# -- where counting can't be done


def get(running: Server, path: str) -> str:
    return str(urlopen(running.url + path).read().decode())


def renewed(running: Server) -> None:
    """Have all workers replaced, and wait until only new ones are left."""
    before = set(workers_of(running.process.pid))
    running.process.send_signal(signal.SIGHUP)
    until = time.monotonic() + 30
    while time.monotonic() < until:
        now = set(workers_of(running.process.pid))
        if now and not now & before:
            return
        time.sleep(0.05)
    raise AssertionError("the workers stayed")


def folder_of(running: Server) -> Path:
    (found,) = Path("/dev/shm").glob(f"flankwise-counts-{running.process.pid}-*")
    return found


@pytest.mark.skipif(not Path("/dev/shm").is_dir(), reason="counts are elsewhere here")
def test_the_folder_of_counts_may_vanish_while_it_runs(tmp_path: Path) -> None:
    """As by RemoveIPC= at a logout (logind.conf(5)); HUP then starts workers without it."""
    with gunicorn(tmp_path) as running:
        folder = folder_of(running)
        shutil.rmtree(folder)
        assert '"alive"' in get(running, "/livez")
        assert "flankwise_requests_total{" in get(running, "/metrics"), "the worker's own, at least"
        renewed(running)
        for _ in range(3):
            assert '"alive"' in get(running, "/livez")
        assert folder.is_dir(), "made anew, and kept by HUP"
        found = counts(get(running, "/metrics"))
        assert found[requests("livez", "GET", 200)] >= 2
        assert found["flankwise_build_info", (("version", __version__),)] == 1
    assert not folder.exists(), "it goes with the service, after a HUP too"


@pytest.mark.skipif(not Path("/dev/shm").is_dir(), reason="counts are elsewhere here")
def test_a_folder_that_cant_be_made_anew_costs_counts_and_no_answer(tmp_path: Path) -> None:
    with gunicorn(tmp_path) as running:
        folder = folder_of(running)
        shutil.rmtree(folder)
        folder.write_text("in the way")
        renewed(running)
        for _ in range(3):
            assert '"alive"' in get(running, "/livez")
        assert get(running, "/metrics") is not None
        folder.unlink()
    said = (tmp_path / "gunicorn.log").read_text()
    assert said.count("requests are no longer counted by process") == 1
    assert "Traceback" not in said


def test_the_folder_is_made_where_none_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "counts"
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(folder))
    make_shared_folder()
    assert folder.stat().st_mode & 0o777 == 0o700
    make_shared_folder()
    monkeypatch.setattr(os, "geteuid", lambda: folder.stat().st_uid + 1)
    if folder.stat().st_uid != 0:
        with pytest.raises(FileExistsError):
            make_shared_folder()
    other = tmp_path / "link"
    other.symlink_to(folder)
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(other))
    with pytest.raises(FileExistsError):
        make_shared_folder()
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(tmp_path / "no" / "where"))
    with pytest.raises(FileNotFoundError):
        make_shared_folder()


@pytest.mark.parametrize("error", [OSError("gone"), TypeError("closed"), ValueError("closed")])
def test_what_counting_raises_is_said_once_and_reaches_no_caller(
    error: Exception, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fail(*_: Any) -> None:
        raise error

    for name in ("inc", "dec"):
        meter = Meter()
        monkeypatch.setattr(meter._under_way, name, fail)
        caplog.clear()
        with caplog.at_level(logging.ERROR):
            for _ in range(3):
                meter.begin()
                meter.done("livez", "GET", 200, 0.1, "")
        assert caplog.text.count("no longer counted") == 1
        assert str(error) in caplog.text


def test_a_meter_that_cant_be_made_counts_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(tmp_path / "no" / "where"))
    meter = Meter()
    meter.begin_worker()
    meter.begin()
    meter.done("livez", "GET", 200, 0.1, "")
    assert meter.text() == b""
    assert caplog.text.count("no longer counted") == 1


def test_counts_that_cant_be_read_are_left_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setenv("PROMETHEUS_MULTIPROC_DIR", str(tmp_path))
    meter = Meter()
    meter.begin()
    (tmp_path / "counter_1.db").write_bytes(b"\x09" * 4000)
    assert b"flankwise_requests_in_flight 1.0" in meter.text(), "this process's own"
    assert "can't be read" in caplog.text
