"""One operation from request to reply: queries, media types, entity tags, kept lookups, streams."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

import pytest
from flask import Blueprint, Flask
from flask.testing import FlaskClient

from flankwise_service import __version__
from flankwise_service.config import Settings
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.threads.model import Span
from flankwise_service.web.accept import choose
from flankwise_service.web.app import build_app
from flankwise_service.web.dump import to_json
from flankwise_service.web.lookups import Lookups, Rendered, etag_of
from flankwise_service.web.operation import operation
from flankwise_service.web.problems import Problem
from support import echo_subject

NAME = "/v1/echo/name"
ASKED = f"{NAME}?name=a&unit=in"
BODY = "/v1/echo/body"


def pointers(reply: Any) -> dict[str, str]:
    assert reply.status_code == 422
    return {fault["pointer"]: fault["code"] for fault in reply.json["faults"]}


def test_a_query_is_read_as_numbers_flags_and_text(echo: FlaskClient) -> None:
    reply = echo.get(
        NAME, query_string={"name": "1.5", "unit": "in", "turns": "2.5", "deep": "true"}
    )
    assert reply.json["asked"] == "{'name': '1.5', 'unit': 'in', 'turns': 2.5, 'deep': True}"


@pytest.mark.parametrize(
    ("text", "value"), [("2", 2), ("2.50", 2.5), ("1e0", 1.0), ("2E-1", 0.2), ("0", 0), ("-0", 0)]
)
def test_a_number_in_a_query_is_written_as_in_json(
    echo: FlaskClient, text: str, value: float
) -> None:
    reply = echo.get(f"{ASKED}&turns={text}")
    assert f"'turns': {float(value)}" in reply.json["asked"]


@pytest.mark.parametrize(
    "text", ["", "two", "2,5", "0x2", "02", ".5", "2.", "1_0", "NaN", "inf", "%D9%A2", " 2", "+2",
             "true", "1e", "9" * 40],
)  # fmt: skip
def test_what_json_would_not_call_a_number_is_none(echo: FlaskClient, text: str) -> None:
    assert pointers(echo.get(f"{ASKED}&turns={text}")) == {"/turns": "not_a_number"}


def test_a_number_too_big_for_a_double_is_out_of_range(echo: FlaskClient) -> None:
    assert pointers(echo.get(f"{ASKED}&turns=1e999")) == {"/turns": "out_of_range"}


def test_unknown_and_missing_parameters_are_refused_together(echo: FlaskClient) -> None:
    assert pointers(echo.get(f"{NAME}?name=a&uint=in")) == {
        "/unit": "missing",
        "/uint": "unknown_field",
    }


def test_a_parameter_given_twice_is_refused(echo: FlaskClient) -> None:
    assert pointers(echo.get(f"{ASKED}&unit=mm&name=b")) == {
        "/unit": "given_twice",
        "/name": "given_twice",
    }


def test_a_query_too_long_is_414(echo: FlaskClient) -> None:
    reply = echo.get(f"{ASKED}&x={'y' * 400}")
    assert (reply.status_code, reply.json["code"]) == (414, "query_too_long")


@pytest.mark.parametrize("text", ["name=%ff&unit=in", "&".join(f"a{n}=1" for n in range(51))])
def test_a_query_that_cant_be_read_is_400(echo: FlaskClient, text: str) -> None:
    assert echo.get(f"{NAME}?{text}").status_code == 400


def test_text_in_a_query_is_utf8_and_plus_is_a_space(echo: FlaskClient) -> None:
    assert "'a \u2300'" in echo.get(f"{NAME}?name=a+%E2%8C%80&unit=in").json["asked"]


def test_a_lookup_has_a_strong_tag_and_may_be_kept(echo: FlaskClient) -> None:
    reply = echo.get(ASKED)
    assert reply.headers["ETag"] == etag_of(reply.data, __version__)
    assert not reply.headers["ETag"].startswith("W/")
    assert reply.headers["Cache-Control"] == "public, max-age=86400"
    assert reply.headers["Vary"] == "Accept"


@pytest.mark.parametrize("kept", [False, True])
@pytest.mark.parametrize("form", ["{}", '"other", {}', "W/{}", "*", '"x",{}'])
def test_who_holds_the_bytes_is_told_so(echo: FlaskClient, kept: bool, form: str) -> None:
    etag = f'"{etag_of(json.dumps({"asked": _asked("a")}, separators=(",", ":")).encode(), __version__)[1:-1]}"'
    if kept:
        echo.get(ASKED)
    reply = echo.get(ASKED, headers={"If-None-Match": form.format(etag)})
    assert reply.status_code == 304
    assert reply.data == b""
    assert reply.headers["ETag"] == etag
    assert "Content-Type" not in reply.headers
    assert "Content-Length" not in reply.headers


def _asked(name: str) -> str:
    return f"{{'name': '{name}', 'unit': 'in', 'turns': 1.0, 'deep': False}}"


@pytest.mark.parametrize("kept", [False, True])
def test_who_holds_other_bytes_gets_these(echo: FlaskClient, kept: bool) -> None:
    if kept:
        echo.get(ASKED)
    reply = echo.get(ASKED, headers={"If-None-Match": '"other"'})
    assert (reply.status_code, reply.json["asked"]) == (200, _asked("a"))


@pytest.mark.parametrize("kept", [False, True])
def test_head_is_get_without_the_body(echo: FlaskClient, kept: bool) -> None:
    if kept:
        echo.get(ASKED)
    head, got = echo.head(ASKED), echo.get(ASKED)
    assert head.data == b""
    for name in ("ETag", "Content-Length", "Content-Type", "Cache-Control", "Vary"):
        assert head.headers[name] == got.headers[name]
    assert int(got.headers["Content-Length"]) == len(got.data)


def held(app: Flask) -> Lookups:
    lookups: Lookups = app.extensions["flankwise"].lookups
    return lookups


def test_a_lookup_is_computed_once(
    echo_app: Flask, echo: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = echo.get(ASKED)
    monkeypatch.setattr("flankwise_service.web.operation._answer", None)  # would fail if asked
    again = echo.get(ASKED)
    assert (again.status_code, again.data) == (200, first.data)
    ours = {"X-Request-Id", "Date"}
    assert [pair for pair in again.headers if pair[0] not in ours] == [
        pair for pair in first.headers if pair[0] not in ours
    ]
    assert len(held(echo_app)) == 1


def test_what_shapes_the_bytes_is_in_the_key(echo: FlaskClient) -> None:
    """Nothing kept for one path, query or Accept is ever given for another."""
    asked = [
        (f"{NAME}?name={name}&unit={unit}", accept)
        for name in ("a", "b")
        for unit in ("in", "mm")
        for accept in ("application/json", "text/plain", "text/*;q=0.5")
    ]
    replies = {each: echo.get(each[0], headers={"Accept": each[1]}) for each in asked}
    for path, accept in asked * 2:
        reply = echo.get(path, headers={"Accept": accept})
        fresh = replies[path, accept]
        assert (reply.data, reply.mimetype) == (fresh.data, fresh.mimetype)
    assert len({(r.data, r.mimetype) for r in replies.values()}) == 8


def test_what_is_kept_is_bounded(echo_app: Flask, echo: FlaskClient) -> None:
    for place in range(20):
        echo.get(f"{NAME}?name={place}&unit=in")
    assert len(held(echo_app)) == 4
    echo.get(f"{NAME}?name={'z' * 20}&unit=in", headers={"Accept": "text/plain," * 100 + "*/*"})
    assert len(held(echo_app)) == 4


def test_refusals_and_computations_are_not_kept(echo_app: Flask, echo: FlaskClient) -> None:
    assert echo.get(f"{NAME}?unit=in").status_code == 422
    assert echo.post(BODY, json={"unit": "in", "length": 1}).status_code == 200
    assert echo.get("/livez").headers["Cache-Control"] == "no-store"
    assert len(held(echo_app)) == 0


def rendered(size: int) -> Rendered:
    return Rendered("x", b"x" * size, (), '"x"')


def test_bytes_are_bounded_too() -> None:
    lookups = Lookups(entries=10, most_bytes=100)
    for name in "abc":
        lookups.put((name, "", ""), rendered(39))
    assert lookups.get(("a", "", "")) is None
    assert lookups.get(("b", "", "")) is not None
    lookups.put(("d", "", ""), rendered(100))  # alone too big: not kept, and nothing dropped
    assert len(lookups) == 2
    lookups.put(("c", "", ""), rendered(99))  # there already: stays as it was
    assert len(lookups.get(("c", "", "")).body) == 39
    lookups.put(("e", "", ""), rendered(99))
    assert len(lookups) == 1


def test_none_are_kept_when_none_are_wanted() -> None:
    app = build_app(Settings(access_log=False, lookup_entries=0), ("support.echo_subject",))
    assert app.test_client().get(ASKED).status_code == 200
    assert len(held(app)) == 0


@pytest.mark.parametrize(
    ("accept", "given"),
    [
        (None, "application/json"), ("*/*", "application/json"), ("", "application/json"),
        ("text/plain", "text/plain"), ("text/*", "text/plain"),
        ("application/json;q=0.1, text/plain", "text/plain"),
        ("text/plain;q=0.1, */*", "application/json"),
        ("image/png, text/plain;q=0.2", "text/plain"),
        ("application/json;q=0, */*", "text/plain"),
    ],
)  # fmt: skip
def test_the_reply_is_of_the_kind_asked_for(
    echo: FlaskClient, accept: str | None, given: str
) -> None:
    headers = {} if accept is None else {"Accept": accept}
    reply = echo.get(ASKED, headers=headers)
    assert (reply.status_code, reply.mimetype) == (200, given)


@pytest.mark.parametrize("accept", ["image/png", "text/html", "application/json;q=0", "x"])
def test_a_kind_there_is_none_of_is_406(echo: FlaskClient, accept: str) -> None:
    reply = echo.get(ASKED, headers={"Accept": accept})
    assert (reply.status_code, reply.json["code"]) == (406, "not_acceptable")
    assert "application/json, text/plain" in reply.json["detail"]


def test_choosing_survives_any_header() -> None:
    for header in ("," * 600, "a/b;q=x", ";;;", "*", "text/" + "x" * 5000, "\x80/\xff"):
        try:
            assert choose(header, ("application/json",)) == "application/json"
        except Problem as problem:
            assert problem.status == 406  # noqa: PT017


def test_text_says_its_charset(echo: FlaskClient) -> None:
    reply = echo.get(ASKED, headers={"Accept": "text/plain"})
    assert reply.headers["Content-Type"] == "text/plain; charset=utf-8"
    assert reply.text == _asked("a") + "\n"


def test_a_stream_comes_in_pieces_and_is_not_kept(echo: FlaskClient) -> None:
    reply = echo.post(
        BODY, json={"unit": "in", "length": 1}, headers={"Accept": "application/x-ndjson"}
    )
    assert reply.mimetype == "application/x-ndjson"
    assert "Content-Length" not in reply.headers
    assert reply.text.splitlines()[0] == "first"
    assert reply.headers["Cache-Control"] == "no-store"


def test_a_refusal_of_core_points_into_the_request(echo: FlaskClient) -> None:
    reply = echo.post(BODY, json={"unit": "in", "length": 13})
    assert (reply.status_code, reply.json["code"]) == (422, "impossible")
    (fault,) = reply.json["faults"]
    assert fault == {
        "pointer": "/part/width", "code": "unlucky", "detail": "13 can't be cut", "value": 13.0,
        "least": None, "greatest": None, "unit": None, "change": "choose another", "near": [],
    }  # fmt: skip


def test_the_same_body_gives_the_same_bytes(echo: FlaskClient) -> None:
    replies = {echo.post(BODY, json={"unit": "in", "length": 1}).data for _ in range(3)}
    assert len(replies) == 1


def test_options_tell_the_methods(echo: FlaskClient) -> None:
    assert set(echo.options(BODY).headers["Allow"].split(", ")) == {"OPTIONS", "POST"}
    assert set(echo.options(NAME).headers["Allow"].split(", ")) == {"GET", "HEAD", "OPTIONS"}


def test_two_operations_of_one_name_are_a_mistake(echo_app: Flask) -> None:
    blueprint = Blueprint("twice", __name__)
    operation(
        blueprint, "GET", "/a", id="echo_name", tag="x", asks=echo_subject.EchoQuery,
        replies=echo_subject.EchoReply, summary="Twice",
    )(echo_subject.echo_name)  # fmt: skip
    with pytest.raises(ValueError, match="echo_name is declared twice"):
        echo_app.register_blueprint(blueprint)


def test_json_knows_what_core_returns() -> None:
    with pytest.raises(TypeError) as caught:
        to_json({"x": object()})
    assert str(caught.value.__cause__) == "object has no place in a reply"
    assert to_json({"x": frozenset({"b", "a"})}) == b'{"x":["a","b"]}'
    assert to_json(Span(Decimal("0.8216"), None)) == b'{"min":0.8216,"max":null}'
    assert to_json([Point(0.5, 1, -2.0)]) == b'[{"x":0.5,"y":1,"z":-2.0}]'


def test_a_segment_is_written_with_all_its_fields() -> None:
    piece = Segment(
        "arc", "thread", Point(1.0, 0.0, -1.0), Point(-1.0, 0.0, -0.5), (0.0, 0.0),
        "counterclockwise", 180.0, 120.0, 2, 1,
    )  # fmt: skip
    written = json.loads(to_json([piece]))[0]
    assert tuple(written) == Segment._fields
    assert written == {
        **piece._asdict(),
        "begin": piece.begin._asdict(),
        "end": piece.end._asdict(),
        "centre": [0.0, 0.0],
    }
