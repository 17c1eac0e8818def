"""What a body must be: strict JSON of known length, in UTF-8, and nothing else.

The grammar is RFC 8259's; what is refused beyond it is I-JSON's advice (RFC 7493, section 2).
"""

from __future__ import annotations

import io
import json
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import given
from hypothesis import strategies as st
from werkzeug.test import TestResponse

from flankwise_service.web.body import parse, read_bytes
from flankwise_service.web.problems import Problem

PATH = "/v1/echo/body"
GOOD = b'{"unit":"mm","length":1}'


def post(client: FlaskClient, body: bytes, **headers: str) -> TestResponse:
    given_headers = {"Content-Type": "application/json"} | {
        name.replace("_", "-"): value for name, value in headers.items()
    }
    told = {"CONTENT_LENGTH": str(len(body))}
    return client.post(PATH, data=body, headers=given_headers, environ_overrides=told)


def code(reply: TestResponse) -> tuple[int, str]:
    assert reply.mimetype == "application/problem+json"
    return reply.status_code, reply.json["code"]


def test_a_good_body_is_answered(echo: FlaskClient) -> None:
    assert post(echo, GOOD).status_code == 200


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (b"", "the body is empty"),
        (b"{", "at line 1, column 2"),
        (b'{"unit":"mm","length":NaN}', "at line 1, column 23"),
        (b'{"unit":"mm","length":Infinity}', "at line 1, column 23"),
        (b'{"unit":"mm","length":-Infinity}', "at line 1"),
        (b'{"unit":"mm","length":1e999}', "beyond what a double holds"),
        (b'{"unit":"mm","length":-1e999}', "beyond what a double holds"),
        (b'{"unit":"mm","length":' + b"9" * 3_000 + b"}", "beyond what a double holds"),
        (b'{"unit":"mm","length":01}', "at line 1"),
        (b'{"unit":"mm","length":1,}', "at line 1"),
        (b"{'unit':'mm'}", "at line 1"),
        (b'{"unit":"mm"} {}', "at line 1"),
        (b'{"unit":"m\xffm"}', "at line 1"),
        (b'{"unit":"\\ud800"}', "at line 1"),
        (b'{"unit":"a\nb"}', "at line 1"),
        (b"\xef\xbb\xbf" + GOOD, "byte order mark"),
        (GOOD.decode().encode("utf-16"), "byte order mark"),
        (GOOD.decode().encode("utf-16-le"), "byte order mark"),
        (GOOD.decode().encode("utf-32"), "byte order mark"),
        (b"[" * 9 + b"]" * 9, "nested deeper than 8"),
        (b"[" * 2_000 + b"]" * 2_000, "nested too deep"),
        (b"[" * 4_000, "nested too deep"),
        (b'{"a":' * 500 + b"1" + b"}" * 500, "nested deeper than 8"),
    ],
)
def test_a_body_that_is_no_good_json_is_400(echo: FlaskClient, body: bytes, said: str) -> None:
    reply = post(echo, body)
    assert code(reply) == (400, "bad_json")
    assert said in reply.json["detail"]


@pytest.mark.parametrize("depth", [20, 500, 1_000])
def test_depth_that_hides_below_a_name_given_twice_is_refused(depth: int) -> None:
    with pytest.raises(Problem) as caught:
        parse(b'{"a":' + b"[" * depth + b"]" * depth + b',"a":1}', 8)
    assert caught.value.code in ("bad_values", "bad_json")


def test_nesting_up_to_the_cap_is_read() -> None:
    assert parse(b"[" * 8 + b"]" * 8, 8) == [[[[[[[[]]]]]]]]


@pytest.mark.parametrize(
    ("body", "pointers"),
    [
        (b'{"unit":"mm","unit":"mm","length":1}', ["/unit"]),
        (b'{"unit":"mm","length":1,"part":{"width":1,"width":2}}', ["/part/width"]),
        (b'{"parts":[{"width":1},{"width":1,"width":1}]}', ["/parts/1/width"]),
        (b'{"a":{"b":1,"b":1},"a":1}', ["/a"]),
        (b'{"un\\u0069t":"in","unit":"mm"}', ["/unit"]),
        (b'{"a:b":1,"a:b":2}', ["/a:b"]),
        (b'{"a/b":1,"a/b":2,"c~d":[1],"c~d":2}', ["/a~1b", "/c~0d"]),
    ],
)
def test_a_name_given_twice_is_pointed_at(
    echo: FlaskClient, body: bytes, pointers: list[str]
) -> None:
    reply = post(echo, body)
    assert code(reply) == (422, "bad_values")
    found = [fault["pointer"] for fault in reply.json["faults"]]
    assert all(fault["code"] == "given_twice" for fault in reply.json["faults"])
    assert set(pointers) <= set(found)


def test_colons_in_text_are_no_names() -> None:
    assert parse(b'{"note":"at 10:30: go","a":{"b":":"}}', 8) == {
        "note": "at 10:30: go",
        "a": {"b": ":"},
    }


JSON_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=3), inner),
    max_leaves=12,
)


@given(JSON_VALUES)
def test_whatever_json_writes_is_read_back_as_json_does(value: Any) -> None:
    text = json.dumps(value)
    assert parse(text.encode(), 100) == json.loads(text)


@given(JSON_VALUES, st.sampled_from(["a", "k:", "\u00e4", '"']))
def test_any_object_with_a_name_twice_is_refused(value: Any, name: str) -> None:
    key, inner = json.dumps(name), json.dumps(value)
    text = f'[{{{key}:{inner},"other":[],{key}:{inner}}}]'
    with pytest.raises(Problem) as caught:
        parse(text.encode(), 100)
    assert f"/0/{name}" in {fault.pointer for fault in caught.value.faults}


@pytest.mark.parametrize(
    "content_type",
    ["", "text/plain", "text/json", "application/x-www-form-urlencoded", "application/jsonp",
     "application/json; charset=utf-16", "application/json; charset=latin-1",
     "application/problem+json"],
)  # fmt: skip
def test_another_content_type_is_415(echo: FlaskClient, content_type: str) -> None:
    reply = post(echo, GOOD, Content_Type=content_type)
    assert code(reply) == (415, "unsupported_media_type")
    assert reply.headers["Accept"] == "application/json"


@pytest.mark.parametrize(
    "content_type",
    ["application/json", "Application/JSON", "application/json; charset=utf-8",
     'application/json;charset="UTF-8"'],
)  # fmt: skip
def test_json_by_any_spelling_of_its_name_is_taken(echo: FlaskClient, content_type: str) -> None:
    assert post(echo, GOOD, Content_Type=content_type).status_code == 200


@pytest.mark.parametrize("coding", ["gzip", "deflate", "br", "gzip, identity"])
def test_a_compressed_body_is_415(echo: FlaskClient, coding: str) -> None:
    reply = post(echo, GOOD, Content_Encoding=coding)
    assert code(reply) == (415, "unsupported_media_type")
    assert "compressed" in reply.json["detail"]


def test_identity_is_no_compression(echo: FlaskClient) -> None:
    assert post(echo, GOOD, Content_Encoding="identity").status_code == 200


def test_a_body_over_the_cap_is_413_and_one_at_the_cap_is_read(echo: FlaskClient) -> None:
    padded = GOOD + b" " * (4_096 - len(GOOD))
    assert post(echo, padded).status_code == 200
    assert code(post(echo, padded + b" ")) == (413, "body_too_large")


def environ(body: bytes, **more: str) -> dict[str, Any]:
    return {"wsgi.input": io.BytesIO(body), **more}


@pytest.mark.parametrize(
    ("arrives", "told", "left"),
    [(2_000_000, 2_000_000, 0), (1_000, 2_000_000, 0), (2_100_000, 2_100_000, 2_100_000)],
)
def test_what_is_refused_for_its_length_is_read_away_first_if_a_proxy_would_send_it(
    arrives: int, told: int, left: int
) -> None:
    asked = environ(b" " * arrives, CONTENT_LENGTH=str(told))
    with pytest.raises(Problem) as caught:
        read_bytes(asked, 1_048_576)
    assert caught.value.code == "body_too_large"
    assert len(asked["wsgi.input"].read()) == left


def test_a_body_without_length_is_411() -> None:
    for told in ({}, {"CONTENT_LENGTH": ""}, {"HTTP_TRANSFER_ENCODING": "chunked"}):
        with pytest.raises(Problem) as caught:
            read_bytes(environ(GOOD, **told), 100)
        assert (caught.value.status, caught.value.code) == (411, "length_required")


def test_chunks_win_over_a_length_that_is_told_too() -> None:
    with pytest.raises(Problem) as caught:
        read_bytes(environ(GOOD, CONTENT_LENGTH="24", HTTP_TRANSFER_ENCODING="chunked"), 100)
    assert caught.value.status == 411


@pytest.mark.parametrize("told", ["-1", "+5", "1e3", "5 ", "five", "\u0665"])
def test_a_length_that_is_no_number_is_400(told: str) -> None:
    with pytest.raises(Problem) as caught:
        read_bytes(environ(GOOD, CONTENT_LENGTH=told), 100)
    assert (caught.value.status, caught.value.code) == (400, "bad_request")


def test_a_length_of_thousands_of_digits_is_413_and_nothing_is_read() -> None:
    held = environ(GOOD, CONTENT_LENGTH="9" * 5_000)
    with pytest.raises(Problem) as caught:
        read_bytes(held, 100)
    assert caught.value.status == 413
    assert held["wsgi.input"].tell() == 0


def test_a_body_cut_short_is_400() -> None:
    with pytest.raises(Problem) as caught:
        read_bytes(environ(GOOD, CONTENT_LENGTH="80"), 100)
    assert (caught.value.status, caught.value.code) == (400, "body_cut_short")
