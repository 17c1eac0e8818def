"""Hostile requests over a real gunicorn: never a 5xx, a hang or a dead worker.

The bytes go over a plain socket, since no client would send most of them.
"""

from __future__ import annotations

import json
import re
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest

from support.server import Server, gunicorn

TIMEOUT = 20.0
JSON = "Content-Type: application/json\r\n"
POST = "POST /v1/stock/hexagon HTTP/1.1\r\nHost: a\r\nConnection: close\r\n"
GOOD = b'{"unit": "in", "across_flats": 1.25}'


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = tmp_path_factory.mktemp("hostile")
    with gunicorn(folder, environment={"FLANKWISE_ACCESS_LOG": "no"}) as running:
        yield running


def talk(server: Server, *pieces: bytes) -> tuple[int, bytes, bytes]:
    """Send the pieces, return status, head and body of the answer."""
    host, port = server.url.removeprefix("http://").split(":")
    with socket.create_connection((host, int(port)), timeout=TIMEOUT) as line:
        try:
            for piece in pieces:
                line.sendall(piece)
        except (BrokenPipeError, ConnectionResetError):
            pass  # refused before all was sent; the answer may still be there
        answer = b""
        try:
            while chunk := line.recv(65_536):
                answer += chunk
        except ConnectionResetError:
            pass
    head, _, body = answer.partition(b"\r\n\r\n")
    status = re.match(rb"HTTP/1\.1 (\d{3})", head)
    return (int(status[1]) if status else 0), head, body


def post(body: bytes, extra: str = JSON) -> bytes:
    return f"{POST}{extra}Content-Length: {len(body)}\r\n\r\n".encode() + body


def workers(server: Server) -> list[str]:
    listing = Path(f"/proc/{server.process.pid}/task/{server.process.pid}/children")
    return listing.read_text().split() if listing.exists() else []


@pytest.fixture(autouse=True)
def the_service_stays_well(shop: Server) -> Iterator[None]:
    before = workers(shop)
    yield
    status, _, body = talk(shop, b"GET /livez HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n")
    assert (status, json.loads(body)["status"]) == (200, "alive")
    assert workers(shop) == before
    assert b"Traceback" not in shop.log.read_bytes()


def test_the_way_there_is_good(shop: Server) -> None:
    status, head, _ = talk(shop, post(GOOD))
    assert status == 200
    assert b"Service-Version: " in head


BODIES = {
    "nothing": b"",
    "no json": b"unit=in",
    "nested a hundred thousand deep": b"[" * 100_000,
    "objects nested deep": b'{"a":' * 50_000,
    "not a number": b'{"unit":"in","across_flats":NaN}',
    "infinity": b'{"unit":"in","across_flats":Infinity}',
    "beyond a double": b'{"unit":"in","across_flats":1e999}',
    "five thousand digits": b'{"unit":"in","across_flats":' + b"7" * 5_000 + b"}",
    "a greatest double": b'{"unit":"in","across_flats":1e308}',
    "a subnormal": b'{"unit":"in","across_flats":5e-324}',
    "minus zero": b'{"unit":"in","across_flats":-0.0}',
    "text": b'{"unit":"in","across_flats":"1.25"}',
    "true": b'{"unit":"in","across_flats":true}',
    "twice": b'{"unit":"in","unit":"mm","across_flats":1}',
    "invalid utf-8": b'{"unit":"\xff\xfe"}',
    "utf-16": GOOD.decode().encode("utf-16"),
    "a nul": b'{"unit":"in\\u0000","across_flats":1}',
    "right to left": '{"unit":"\u202ein","across_flats":1}'.encode(),
    "a letter that looks like another": '{"unit":"\u0456n","across_flats":1}'.encode(),
    "a list": b"[]",
    "null": b"null",
}


@pytest.mark.parametrize("name", BODIES)
def test_bodies(shop: Server, name: str) -> None:
    status, head, body = talk(shop, post(BODIES[name]))
    assert status in (400, 411, 422)
    assert b"application/problem+json" in head
    assert json.loads(body)["detail"]


REQUESTS = {
    "a hundred megabytes announced": (post(b"")[:-4].replace(b"Length: 0", b"Length: 104857600"), 413),
    "no length": (f"{POST}{JSON}\r\n".encode(), 411),
    "gzip": (post(GOOD, f"{JSON}Content-Encoding: gzip\r\n"), 415),
    "a form": (post(GOOD, "Content-Type: application/x-www-form-urlencoded\r\n"), 415),
    "two lengths": (post(GOOD, f"{JSON}Content-Length: 3\r\n"), 400),
    "a negative length": (f"{POST}{JSON}Content-Length: -5\r\n\r\n".encode(), 400),
    "a length of letters": (f"{POST}{JSON}Content-Length: abc\r\n\r\n".encode(), 400),
    "length and chunks": (post(GOOD, f"{JSON}Transfer-Encoding: chunked\r\n"), 400),
    "up a folder": (b"GET /../../etc/passwd HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n", 404),
    "up a folder, encoded": (
        b"GET /%2e%2e%2f%2e%2e%2fetc/passwd HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n", 404,
    ),
    "a nul in the path": (b"GET /%00 HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n", 404),
    "bytes that are no text in the query": (
        b"GET /v1/threads/limits?designation=%ff%fe&unit=in HTTP/1.1\r\nHost: a\r\n"
        b"Connection: close\r\n\r\n", 400,
    ),
    "an own method": (b"BREW /livez HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n", 405),
}  # fmt: skip


@pytest.mark.parametrize("name", REQUESTS)
def test_requests(shop: Server, name: str) -> None:
    request, expected = REQUESTS[name]
    pieces = (request + b"\r\n\r\n",) if b"\r\n\r\n" not in request else (request,)
    status, head, body = talk(shop, *pieces)
    assert status == expected
    assert b"problem+json" in head
    assert json.loads(body)["status"] == expected


def test_chunks_are_answered_411(shop: Server) -> None:
    request = f"{POST}{JSON}Transfer-Encoding: chunked\r\n\r\n".encode()
    chunk = f"{len(GOOD):x}\r\n".encode() + GOOD + b"\r\n0\r\n\r\n"
    status, _, body = talk(shop, request, chunk)
    assert (status, json.loads(body)["code"]) == (411, "length_required")


def test_a_body_larger_than_the_cap_is_answered_even_while_it_is_sent(shop: Server) -> None:
    body = b" " * 3_000_000
    status, _, _ = talk(shop, post(body))
    assert status in (413, 0)  # 0: the line was cut while the client still sent


@pytest.mark.parametrize(
    "head",
    [
        b"GET /livez HTTP/1.1\r\nHost: a\r\n" + b"X-A: 1\r\n" * 5_000,
        b"GET /livez HTTP/1.1\r\nHost: a\r\nX-A: " + b"a" * 100_000 + b"\r\n",
        b"GET /" + b"a" * 100_000 + b" HTTP/1.1\r\nHost: a\r\n",
        b"GET /livez HTTP/1.1\r\nHost: a\r\nX-Request-Id: a\x00b\r\n",
        b"GET /livez HTTP/1.1\r\nHost: a\r\n: nameless\r\n",
        b"GET /livez HTTP/9.9\r\nHost: a\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00",
        b"\r\n" * 1_000,
    ],
)
def test_heads_that_are_none(shop: Server, head: bytes) -> None:
    status, told, body = talk(shop, head + b"\r\n")
    assert status == 0 or 400 <= status < 500
    if status:
        assert b"application/problem+json" in told
        assert json.loads(body)["code"] in ("bad_request", "headers_too_large", "query_too_long")


def test_an_id_cant_split_the_head(shop: Server) -> None:
    request = (
        b"GET /livez HTTP/1.1\r\nHost: a\r\nConnection: close\r\n"
        b"X-Request-Id: a%0d%0aSet-Cookie: x=1\r\n\r\n"
    )
    status, head, _ = talk(shop, request)
    assert status == 200
    assert b"Set-Cookie" not in head
    assert b"%0d" not in head


def test_a_second_request_hidden_in_a_body_is_never_answered(shop: Server) -> None:
    hidden = b"GET /readyz HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n"
    request = (
        b"POST /v1/stock/hexagon HTTP/1.1\r\nHost: a\r\n" + JSON.encode()
        + f"Content-Length: {len(hidden)}\r\n\r\n".encode() + hidden
        + b"GET /livez HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n"
    )  # fmt: skip
    _, _, rest = talk(shop, request)
    assert b'"alive"' in rest
    assert b'"ready"' not in rest


@pytest.mark.parametrize(
    "designation",
    ["%F0%9F%94%A9", "M8%0AM9", "M8)(G0 Z-99", "%3Cscript%3E", "%E2%80%AE6-8M", "\u041c8".encode().hex(),
     "9" * 60, "1/0-14 UNF", "1e308-14 UN", "M" + "9" * 50, "-0", "M8x0", "Ph999999999P1"],
)  # fmt: skip
def test_designations_are_limits_or_a_reason(shop: Server, designation: str) -> None:
    path = "/v1/threads/limits?unit=in&designation=" + designation.replace(" ", "%20")
    status, _, body = talk(
        shop, f"GET {path} HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n".encode()
    )
    assert status == 422
    assert json.loads(body)["faults"]
