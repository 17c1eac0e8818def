"""What every request gets: an id, the version, one line in the log, and problems for errors."""

from __future__ import annotations

import gc
import io
import json
import logging
import sys
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.exceptions import BadGateway, HTTPException, ImATeapot, TooManyRequests

from flankwise_service import __version__, create_app
from flankwise_service.config import Settings
from flankwise_service.core import errors
from flankwise_service.core.errors import Fault, Refusal
from flankwise_service.web.access import Access
from flankwise_service.web.app import answer_error, build_app
from flankwise_service.web.front import Front
from flankwise_service.web.log import AccessLog
from flankwise_service.web.lookups import Lookups
from flankwise_service.web.metrics import Meter
from flankwise_service.web.problems import CODES, Problem, of_refusal, of_status, shown

ASKED = "/v1/echo/name?name=a&unit=in"


@pytest.mark.parametrize("path", ["/livez", ASKED, "/nowhere", "/v1/echo/name"])
def test_every_reply_carries_id_version_and_no_sniffing(echo: FlaskClient, path: str) -> None:
    for _ in range(2):  # the second time some come from the kept lookups
        reply = echo.get(path)
        assert len(reply.headers.getlist("X-Request-Id")) == 1
        assert reply.headers["Service-Version"] == __version__
        assert reply.headers["X-Content-Type-Options"] == "nosniff"


def test_an_id_of_the_caller_comes_back(echo: FlaskClient) -> None:
    reply = echo.get("/nowhere", headers={"X-Request-Id": "order-17.b_2"})
    assert reply.headers["X-Request-Id"] == "order-17.b_2"
    assert reply.json["request_id"] == "order-17.b_2"
    assert reply.json["instance"] == "urn:flankwise:request:order-17.b_2"


@pytest.mark.parametrize(
    "given", ["", "a b", "x" * 65, "a\tb", '"a"', "a;b", "<script>", "\u00e9", "a/b", "a:b"]
)
def test_an_id_that_isnt_safe_is_replaced(echo: FlaskClient, given: str) -> None:
    made = echo.get("/livez", headers={"X-Request-Id": given}).headers["X-Request-Id"]
    assert made != given
    assert made.isalnum()


def test_ids_made_here_differ(echo: FlaskClient) -> None:
    assert len({echo.get("/livez").headers["X-Request-Id"] for _ in range(50)}) == 50


def lines(text: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in text.splitlines()]


def test_each_request_is_one_line_of_json(capsys: pytest.CaptureFixture[str]) -> None:
    client = build_app(Settings(), ("support.echo_subject",)).test_client()
    secret = {"Authorization": "Bearer very-secret", "X-Request-Id": "r-1"}
    client.get(ASKED + "&turns=3", headers=secret).close()
    client.get(ASKED + "&turns=3", headers=secret).close()
    client.get("/secret-path?secret-query=1").close()
    client.post("/v1/echo/body", json={"unit": "in", "length": 13, "secret-name": 1}).close()
    out = capsys.readouterr().out
    assert "secret" not in out
    told = lines(out)
    assert [(line["method"], line["operation"], line["status"]) for line in told] == [
        ("GET", "echo_name", 200),
        ("GET", "echo_name", 200),
        ("GET", "", 404),
        ("POST", "echo_body", 422),
    ]
    assert told[0]["request_id"] == "r-1"
    for line in told:
        assert set(line) == {"time", "request_id", "method", "operation", "status", "ms"}
        assert 0 <= line["ms"] < 60_000


def test_a_stream_is_logged_at_its_end(capsys: pytest.CaptureFixture[str]) -> None:
    client = build_app(Settings(), ("support.echo_subject",)).test_client()
    reply = client.post(
        "/v1/echo/body",
        json={"unit": "in", "length": 1},
        headers={"Accept": "application/x-ndjson"},
        buffered=False,
    )
    pieces = reply.iter_encoded()
    next(pieces)
    assert capsys.readouterr().out == ""
    list(pieces)
    reply.close()
    assert len(lines(capsys.readouterr().out)) == 1


class FullDisk(io.StringIO):
    def write(self, text: str) -> int:
        raise OSError(28, "No space left on device")


def test_a_log_that_cant_be_written_fails_no_request() -> None:
    log = AccessLog(True, FullDisk())
    log.write("r", "GET", "x", 200, 1.0)
    closed = io.StringIO()
    closed.close()
    AccessLog(True, closed).write("r", "GET", "x", 200, 1.0)


def test_no_log_where_none_is_wanted(capsys: pytest.CaptureFixture[str]) -> None:
    build_app(Settings(access_log=False)).test_client().get("/livez")
    assert capsys.readouterr().out == ""


def test_the_inner_application_is_closed_even_when_it_fails() -> None:
    closed: list[str] = []

    class Chunks:
        def __iter__(self) -> Any:
            return iter([b"x"])

        def close(self) -> None:
            closed.append("inner")
            raise RuntimeError("while closing")

    def inner(environ: Any, start_response: Any) -> Any:
        start_response("200 OK", [])
        return Chunks()

    out = io.StringIO()
    front = Front(inner, Lookups(1, 1), Access(), AccessLog(True, out), Meter())
    environ = {"REQUEST_METHOD": "POST", "PATH_INFO": "/", "QUERY_STRING": ""}
    chunks = front(environ, lambda status, headers, exc_info=None: None)
    with pytest.raises(RuntimeError):
        chunks.close()  # type: ignore[attr-defined]
    assert closed == ["inner"]
    assert lines(out.getvalue())[0]["status"] == 200


def test_a_failure_inside_is_500_and_tells_nothing(
    echo: FlaskClient, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR):
        reply = echo.post(
            "/v1/echo/body", json={"unit": "in", "length": 14}, headers={"X-Request-Id": "r-14"}
        )
    assert (reply.status_code, reply.json["code"]) == (500, "internal")
    assert "secret inside" not in reply.text
    assert "RuntimeError" not in reply.text
    assert "r-14" in caplog.text
    assert "secret inside" in caplog.text


@pytest.mark.parametrize(
    ("method", "path", "status", "code"),
    [
        ("GET", "/nothing", 404, "no_such_path"),
        ("GET", "/v1/echo/name/", 404, "no_such_path"),
        ("GET", "//v1/echo/name", 404, "no_such_path"),
        ("GET", "/v1/../livez", 404, "no_such_path"),
        ("GET", "/%2e%2e/etc/passwd", 404, "no_such_path"),
        ("GET", "/v1/echo/body", 405, "method_not_allowed"),
        ("DELETE", "/v1/echo/name", 405, "method_not_allowed"),
        ("TRACE", "/livez", 405, "method_not_allowed"),
        ("BREW", "/livez", 405, "method_not_allowed"),
        ("GET", "/livez?x=1", 422, "bad_values"),
    ],
)
def test_every_error_is_a_problem(
    echo: FlaskClient, method: str, path: str, status: int, code: str
) -> None:
    reply = echo.open(path, method=method)
    assert reply.status_code == status
    assert reply.mimetype == "application/problem+json"
    assert reply.json["code"] == code
    assert reply.json["status"] == status
    assert reply.json["type"] == f"urn:flankwise:problem:{code}"
    assert reply.json["title"] == CODES[code][1]
    assert reply.headers["Cache-Control"] == "no-store"


def test_405_says_what_is_allowed(echo: FlaskClient) -> None:
    reply = echo.delete("/v1/echo/body")
    assert set(reply.headers["Allow"].split(", ")) == {"POST", "OPTIONS"}


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (ImATeapot(), "bad_request"),
        (TooManyRequests(), "too_many_requests"),
        (BadGateway("inner words"), "internal"),
        (Refusal(Fault("/a", "b", "c", "d")), "refused"),
        (Problem("not_ready", "x"), "not_ready"),
    ],
)
def test_other_errors_become_problems_too(
    echo_app: Flask, error: Exception, code: str, caplog: pytest.LogCaptureFixture
) -> None:
    with echo_app.test_request_context():
        reply = answer_error(error)
    assert reply.json["code"] == code
    assert "inner words" not in reply.get_data(as_text=True)
    if not isinstance(error, HTTPException):
        assert reply.status_code == CODES[code][0]


def test_the_kind_of_refusal_is_the_code() -> None:
    fault = Fault("/a", "b", "c", "d")
    codes = {
        kind.__name__: of_refusal(kind(fault)).code
        for kind in vars(errors).values()
        if isinstance(kind, type) and issubclass(kind, Refusal)
    }
    assert codes == {
        "Refusal": "refused",
        "BadInput": "bad_input",
        "UnknownThread": "unknown_thread",
        "NoSource": "no_source",
        "Impossible": "impossible",
        "Collision": "collision",
    }

    class Unheard(errors.Collision):
        """A kind nobody listed takes the code of its parent."""

    assert of_refusal(Unheard(fault)).code == "collision"


def test_titles_of_refusals_are_those_of_core() -> None:
    for kind in (Refusal, errors.BadInput, errors.UnknownThread, errors.NoSource,
                 errors.Impossible, errors.Collision):  # fmt: skip
        assert of_refusal(kind(Fault("/a", "b", "c", "d"))).title == kind.title


@pytest.mark.parametrize(
    ("pointer", "moved"),
    [("/a", "/x"), ("/a/b", "/y"), ("/a/b/c", "/y/c"), ("/a/c", "/x/c"), ("/ab", "/z/ab"),
     ("", "/z")],
)  # fmt: skip
def test_the_longest_beginning_of_a_pointer_is_moved(pointer: str, moved: str) -> None:
    refusal = Refusal(Fault(pointer, "code", "detail", "change"))
    places = {"": "/z", "/a": "/x", "/a/b": "/y"}
    assert of_refusal(refusal, places).faults[0].pointer == moved
    assert of_refusal(refusal, {"/other": "/x"}).faults[0].pointer == pointer


def test_every_status_has_words() -> None:
    assert of_status(413, "x").code == "body_too_large"
    assert of_status(418, "x").status == 400
    assert of_status(507, "x").status == 500


@pytest.mark.parametrize(
    ("value", "seen"),
    [
        ("x" * 80, "x" * 80), ("x" * 81, "x" * 79 + "\u2026"), (True, True), (None, None),
        (2**53, 2**53), (2**60, float(2**60)), (10**400, None), (1.5, 1.5),
        (float("nan"), None), (float("inf"), None), ([1], None), ({"a": 1}, None),
    ],
)  # fmt: skip
def test_a_value_is_shown_only_as_far_as_it_is_safe(value: Any, seen: Any) -> None:
    assert shown(value) == seen


def test_create_app_reads_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_ACCESS_LOG", "no")
    app = create_app()
    assert app.extensions["flankwise"].settings.access_log is False
    assert create_app(Settings(lookup_age=7)).extensions["flankwise"].settings.lookup_age == 7


def test_what_gunicorn_loads_is_the_application(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_ACCESS_LOG", "no")
    sys.modules.pop("flankwise_service.wsgi", None)
    from flankwise_service.wsgi import app

    assert gc.isenabled()
    assert app.test_client().get("/readyz").json == {"status": "ready", "version": __version__}


def test_the_contract_is_served_and_kept(web: FlaskClient) -> None:
    reply = web.get("/openapi.json")
    assert reply.json["openapi"] == "3.1.0"
    assert (
        web.get("/openapi.json", headers={"If-None-Match": reply.headers["ETag"]}).status_code
        == 304
    )
    assert web.head("/openapi.json").data == b""
