"""Hostile requests through the real nginx to a real gunicorn: every one answered, nobody harmed.

Rows that concern the head and the transfer of a request are written as bytes; values inside a
request are tried at every place of every operation's example (a part of them in the quick run).
After all of it the same workers live, and hold no more memory or open files than before.
"""

from __future__ import annotations

import http.client
import json
from collections.abc import Iterator
from contextlib import closing

import pytest

from support.proxy import Proxy, nginx, nginx_or_skip
from support.server import Server, gunicorn
from support.wire import Example, Raw, examples, hostile, talk, written
from support.workers import Load, load_of, settled, workers_of

FAST = 1_000_000  # these tests ask faster than a caller may; the limit has a test of its own
GROWTH = 24 * 2**20
HEAD = "Host: a\r\nConnection: close\r\n"
POST = f"POST /v1/stock/hexagon HTTP/1.1\r\n{HEAD}"
JSON = "Content-Type: application/json\r\n"
GOOD = b'{"unit": "in", "across_flats": 1.25}'
MEGABYTE = b" " * 2**20


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    nginx_or_skip()
    folder = tmp_path_factory.mktemp("hostile-proxy")
    with gunicorn(folder, environment={"FLANKWISE_ACCESS_LOG": "no"}) as running:
        yield running


@pytest.fixture(scope="module")
def proxy(shop: Server) -> Iterator[Proxy]:
    with nginx(shop.url, rate=FAST) as running:
        yield running


@pytest.fixture(scope="module")
def at_first(shop: Server, proxy: Proxy) -> Load:
    for example in examples():  # so that what is kept on purpose is kept already
        method, path, body = example.sent()
        assert ask(proxy, method, path, body)[0] == 200
    return load_of(shop.process.pid)


@pytest.fixture(autouse=True)
def all_stay_well(shop: Server, proxy: Proxy, at_first: Load) -> Iterator[None]:
    before = workers_of(shop.process.pid), workers_of(proxy.process.pid)
    yield
    status, _, body = talk(proxy.url, f"GET /livez HTTP/1.1\r\n{HEAD}\r\n".encode())
    assert (status, json.loads(body)["status"]) == (200, "alive")
    assert (workers_of(shop.process.pid), workers_of(proxy.process.pid)) == before
    assert b"Traceback" not in shop.log.read_bytes()
    now = settled(shop.process.pid, at_first)
    assert now.memory < at_first.memory + GROWTH
    assert now.files <= at_first.files + 40  # kept connections of the proxy


def ask(
    proxy: Proxy, method: str, path: str, body: bytes | None, accept: str = "*/*"
) -> tuple[int, str, bytes]:
    line = http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=30)
    try:
        line.request(method, path, body, {"Content-Type": "application/json", "Accept": accept})
        reply = line.getresponse()
        return reply.status, reply.getheader("Content-Type", ""), reply.read()
    finally:
        line.close()


def post(body: bytes, extra: str = JSON) -> bytes:
    return f"{POST}{extra}Content-Length: {len(body)}\r\n\r\n".encode() + body


BODIES = {
    "nothing": b"",
    "nested a hundred thousand deep": b"[" * 100_000 + b"]" * 100_000,
    "objects nested a hundred thousand deep": b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
    "not a number": b'{"unit":"in","across_flats":NaN}',
    "infinity": b'{"unit":"in","across_flats":-Infinity}',
    "beyond a double": b'{"unit":"in","across_flats":1e999}',
    "five thousand digits": b'{"unit":"in","across_flats":' + b"7" * 5_000 + b"}",
    "half a million digits": b'{"unit":"in","across_flats":' + b"7" * 500_000 + b"}",
    "a name twice": b'{"unit":"in","across_flats":1,"across_flats":2}',
    "a name twice, spelled otherwise": b'{"unit":"in","across_flats":1,"across_fl\\u0061ts":2}',
    "invalid utf-8": b'{"unit":"\xff\xfe"}',
    "utf-8 too long for its letter": b'{"unit":"\xc0\xae"}',
    "a lone surrogate": b'{"unit":"\\ud800"}',
    "utf-16": GOOD.decode().encode("utf-16"),
    "utf-32": GOOD.decode().encode("utf-32"),
    "a byte order mark": b"\xef\xbb\xbf" + GOOD,
    "gzip without saying so": b"\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03" + GOOD,
    "text for a number": b'{"unit":"in","across_flats":"1.25"}',
    "true for a number": b'{"unit":"in","across_flats":true}',
    "minus zero": b'{"unit":"in","across_flats":-0.0}',
    "a subnormal": b'{"unit":"in","across_flats":5e-324}',
    "the greatest double": b'{"unit":"in","across_flats":1.7976931348623157e308}',
    "a nul": b'{"unit":"in\\u0000","across_flats":1}',
    "a bare nul": b'{"unit":"in\x00","across_flats":1}',
    "right to left": '{"unit":"\u202ein","across_flats":1}'.encode(),
    "a letter that looks like another": '{"unit":"\u0456n","across_flats":1}'.encode(),
    "ten thousand unknown names": json.dumps({f"n{i}": i for i in range(10_000)}).encode(),
}  # fmt: skip


@pytest.mark.parametrize("name", BODIES)
def test_bodies_are_refused_with_a_reason(proxy: Proxy, name: str) -> None:
    status, head, body = talk(proxy.url, post(BODIES[name]))
    assert status in (400, 422)
    assert b"application/problem+json" in head
    problem = json.loads(body)
    assert problem["detail"]
    assert problem["status"] == status


CHUNKED = f"{POST}{JSON}Transfer-Encoding: chunked\r\n\r\n".encode()
MEGABYTE_CHUNK = b"100000\r\n" + MEGABYTE + b"\r\n"
REQUESTS: dict[str, tuple[tuple[bytes, ...], set[int]]] = {
    "100 MB with their length": (
        (f"{POST}{JSON}Content-Length: 104857600\r\n\r\n".encode(), *[MEGABYTE] * 100), {413, 0},
    ),
    "100 MB without a length": ((f"{POST}{JSON}\r\n".encode(), *[MEGABYTE] * 100), {411, 400, 0}),
    "100 MB in chunks": ((CHUNKED, *[MEGABYTE_CHUNK] * 100, b"0\r\n\r\n"), {413, 0}),
    "a chunk whose size is a lie": ((CHUNKED, b"fffffffffffffffff\r\nx"), {400, 413}),
    "a chunk of no number": ((CHUNKED, b"zz\r\nx\r\n0\r\n\r\n"), {400}),
    "just over the service's cap": ((post(b" " * (2**20 + 1)),), {413}),
    "a length of 10^30": ((f"{POST}{JSON}Content-Length: {10**30}\r\n\r\n".encode(),), {400, 413}),
    "gzip": ((post(GOOD, f"{JSON}Content-Encoding: gzip\r\n"),), {415}),
    "two lengths": ((post(GOOD, f"{JSON}Content-Length: 3\r\n"),), {400}),
    "length and chunks": ((post(GOOD, f"{JSON}Transfer-Encoding: chunked\r\n"),), {400}),
    "chunks spelled to be overlooked": (
        (post(GOOD, f"{JSON}Transfer-Encoding: xchunked\r\n"),), {400},
    ),
    "a negative length": ((f"{POST}{JSON}Content-Length: -5\r\n\r\n".encode(),), {400}),
    "up a folder": ((f"GET /../../etc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 404}),
    "up a folder, encoded": (
        (f"GET /v1/%2e%2e/%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 404},
    ),
    "up a folder, encoded twice": (
        (f"GET /v1/..%252f..%252fetc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404},
    ),
    "up a folder with a backslash": (
        (f"GET /v1/..%5c..%5cetc/passwd HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404},
    ),
    "the counts, from outside": ((f"GET /metrics HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404}),
    "the counts, by another spelling": (
        (f"GET /./%6detrics HTTP/1.1\r\n{HEAD}\r\n".encode(),), {404},
    ),
    "a nul in the path": ((f"GET /%00 HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 404}),
    "a bare nul in the head": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}X-Request-Id: a\0b\r\n\r\n".encode(),), {400},
    ),
    "five thousand headers": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}".encode() + b"X-A: 1\r\n" * 5_000 + b"\r\n",),
        {431},
    ),
    "a header of a hundred thousand letters": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}X-A: {'a' * 100_000}\r\n\r\n".encode(),), {431},
    ),
    "a line of a hundred thousand letters": (
        (f"GET /{'a' * 100_000} HTTP/1.1\r\n{HEAD}\r\n".encode(),), {414},
    ),
    "a line too long for the service alone": (
        (f"GET /v1/threads/limits?designation={'M' * 6_000} HTTP/1.1\r\n{HEAD}\r\n".encode(),),
        {414},
    ),
    "sixty headers": (
        (f"GET /livez HTTP/1.1\r\n{HEAD}".encode()
         + b"".join(b"X-%d: 1\r\n" % i for i in range(60)) + b"\r\n",), {431},
    ),
    "no host": ((b"GET /livez HTTP/1.1\r\nConnection: close\r\n\r\n",), {400}),
    "a host of another": (
        (b"GET /livez HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n",), {200},
    ),
    "two hosts": ((f"GET /livez HTTP/1.1\r\nHost: b\r\n{HEAD}\r\n".encode(),), {400}),
    "a folded header": ((f"GET /livez HTTP/1.1\r\n{HEAD}X-A: 1\r\n 2\r\n\r\n".encode(),), {200, 400}),
    "another version": ((f"GET /livez HTTP/9.9\r\n{HEAD}\r\n".encode(),), {400}),
    "tls": ((b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\0" * 64 + b"\r\n\r\n",), {400, 0}),
    "an own method": ((f"BREW /livez HTTP/1.1\r\n{HEAD}\r\n".encode(),), {405}),
    "trace": ((f"TRACE /livez HTTP/1.1\r\n{HEAD}\r\n".encode(),), {405}),
    "connect": ((f"CONNECT a:80 HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400, 405}),
    "text that isn't percent-encoded utf-8": (
        (f"GET /v1/threads/limits?designation=%ff%fe&unit=in HTTP/1.1\r\n{HEAD}\r\n".encode(),), {400},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", REQUESTS)
def test_requests_are_refused(proxy: Proxy, name: str) -> None:
    pieces, expected = REQUESTS[name]
    status, head, body = talk(proxy.url, *pieces)
    assert status in expected
    if status >= 400:
        assert b"application/problem+json" in head
        assert json.loads(body)["status"] == status


def test_chunks_within_the_cap_are_taken_by_the_proxy_and_passed_on_whole(proxy: Proxy) -> None:
    chunk = f"{len(GOOD):x}\r\n".encode() + GOOD + b"\r\n0\r\n\r\n"
    status, _, body = talk(proxy.url, CHUNKED, chunk)
    assert status == 200
    assert json.loads(body) == json.loads(talk(proxy.url, post(GOOD)).body)


def test_a_hidden_second_request_is_never_answered(proxy: Proxy) -> None:
    hidden = f"GET /readyz HTTP/1.1\r\n{HEAD}\r\n".encode()
    for extra in ("", "Transfer-Encoding: identity\r\n", "Transfer_Encoding: chunked\r\n"):
        _, _, rest = talk(proxy.url, post(b"0\r\n\r\n" + hidden, JSON + extra))
        assert b'"ready"' not in rest


def test_a_thousand_million_turns_are_refused_and_the_limit_is_told(proxy: Proxy) -> None:
    helix = next(example for example in examples() if example.operation == "path_helix")
    asked = {**helix.request, "length": Raw("1e9"), "pitch": Raw("1.0")}
    if "lead" in asked:
        asked["lead"] = Raw("1.0")
    status, _, body = ask(proxy, "POST", helix.path, written(asked))
    assert status == 422
    fault = next(item for item in json.loads(body)["faults"] if item["pointer"] == "/length")
    assert fault["greatest"] is not None
    assert fault["greatest"] < 1e9


def sweep(proxy: Proxy, example: Example, every: int, from_: int) -> int:
    """Send every `every`th hostile variant of a request; return how many were sent."""
    with closing(http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=60)) as line:
        variants = list(hostile(example))[from_ % every :: every]
        for place, bad, text in variants:
            answered(line, example, text, f"{example.operation} {place} {str(bad)[:80]}")
    return len(variants)


def answered(line: http.client.HTTPConnection, example: Example, text: bytes, said: str) -> None:
    got = example.method == "GET"
    path, body = (text.decode(), None) if got else (example.path, text)
    headers = {"Content-Type": "application/json", "Accept": example.accept}
    line.request(example.method, path, body, headers)
    reply = line.getresponse()
    answer = reply.read()
    if reply.status != 200:
        assert reply.status in (400, 413, 414, 422), (said, answer[:300])
        assert json.loads(answer)["status"] == reply.status
    elif reply.getheader("Content-Type") == "application/json":
        assert b"NaN" not in answer
        json.loads(answer)


ALL = list(examples())


@pytest.mark.parametrize("number", range(len(ALL)), ids=[example.operation for example in ALL])
def test_hostile_values_at_places_of_every_operation(proxy: Proxy, number: int) -> None:
    if ALL[number].request:
        assert sweep(proxy, ALL[number], 40, number) > 0


@pytest.mark.slow
@pytest.mark.parametrize("number", range(len(ALL)), ids=[example.operation for example in ALL])
def test_hostile_values_at_every_place_of_every_operation(proxy: Proxy, number: int) -> None:
    if ALL[number].request:
        assert sweep(proxy, ALL[number], 1, 0) > 20
