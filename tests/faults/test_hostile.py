"""Hostile requests to a real gunicorn, directly and through the real nginx: nobody is harmed.

Rows that concern the head and the transfer of a request are written as bytes; values inside a
request are tried at every place of every operation's example (a part of them in the quick run).
After each test the same workers live, and hold no more memory or open files than before.
"""

from __future__ import annotations

import http.client
import json
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from typing import Any

import pytest
from flask.testing import FlaskClient

from faults.hostile_rows import (
    BODIES,
    CHUNKED,
    DESIGNATIONS,
    FIGURES,
    GOOD,
    HEAD,
    JSON,
    REQUESTS,
    post,
)  # fmt: skip
from support.proxy import nginx, nginx_or_skip
from support.server import Server, gunicorn
from support.wire import TEXTS, Example, Raw, examples, hostile, put, talk, written
from support.workers import Load, load_of, settled, workers_of

FAST = 1_000_000  # these tests ask faster than a caller may; the limit has a test of its own
GROWTH = 40 * 2**20
"""What sixteen threads keep of their largest plan, and bounded caches fill with what is asked here
(measured: 20 to 26 MiB, after which it stays); one leaked body of each row would be far more."""
ALL = list(examples())
BY_NAME = {example.operation: example for example in ALL}
WRITERS = (
    "program", "plan", "plan_sheet", "drawing_section", "drawing_path", "drawing_hexagon",
    "drawing_setup",
)  # fmt: skip
"""Operations that write texts of the request into a program, a sheet or a drawing."""


@dataclass(frozen=True)
class Target:
    """Where requests are sent, and the masters of all processes that they meet."""

    url: str
    masters: tuple[int, ...]

    @property
    def direct(self) -> bool:
        return len(self.masters) == 1

    def line(self) -> closing[http.client.HTTPConnection]:
        host = self.url.removeprefix("http://")
        return closing(http.client.HTTPConnection(host, timeout=60))


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = tmp_path_factory.mktemp("hostile")
    with gunicorn(folder, environment={"FLANKWISE_ACCESS_LOG": "no"}) as running:
        yield running


@pytest.fixture(scope="module", params=["directly", "through the proxy"])
def target(shop: Server, request: pytest.FixtureRequest) -> Iterator[Target]:
    if request.param == "directly":
        yield Target(shop.url, (shop.process.pid,))
        return
    nginx_or_skip()
    with nginx(shop.url, rate=FAST) as running:
        yield Target(running.url, (shop.process.pid, running.process.pid))


@pytest.fixture(scope="module")
def at_first(shop: Server, target: Target) -> Load:
    with target.line() as line:
        for example in ALL:  # so that what is kept on purpose is kept already
            _, path, body = example.sent()
            assert ask(line, example, path, body)[0] == 200
    return load_of(shop.process.pid)


@pytest.fixture(autouse=True)
def all_stay_well(shop: Server, target: Target, at_first: Load) -> Iterator[None]:
    before = [workers_of(master) for master in target.masters]
    yield
    status, _, body = talk(target.url, f"GET /livez HTTP/1.1\r\n{HEAD}\r\n".encode())
    assert (status, json.loads(body)["status"]) == (200, "alive")
    assert [workers_of(master) for master in target.masters] == before
    assert b"Traceback" not in shop.log.read_bytes()
    now = settled(shop.process.pid, at_first)
    assert now.memory < at_first.memory + GROWTH
    assert now.files <= at_first.files + 40  # kept connections of the proxy


def ask(
    line: http.client.HTTPConnection, example: Example, path: str, body: bytes | None
) -> tuple[int, str, bytes]:
    headers = {"Content-Type": "application/json", "Accept": example.accept}
    line.request(example.method, path, body, headers)
    reply = line.getresponse()
    return reply.status, reply.getheader("Content-Type", ""), reply.read()


def sent(example: Example, text: bytes) -> tuple[str, bytes | None]:
    """Return path and body for what `hostile` made: a GET's path, or a POST's body."""
    return (text.decode(), None) if example.method == "GET" else (example.path, text)


@pytest.mark.parametrize("name", BODIES)
def test_bodies_are_refused_with_a_reason(target: Target, name: str) -> None:
    status, head, body = talk(target.url, post(BODIES[name]))
    assert status in (400, 422)
    assert b"application/problem+json" in head
    problem = json.loads(body)
    assert problem["detail"]
    assert problem["status"] == status


def test_bad_lines_of_a_stream_are_refused_and_the_good_ones_answered(target: Target) -> None:
    good = b'{"operation": "stock_hexagon", "request": ' + GOOD + b"}"
    bad = [body for body in BODIES.values() if body and b"\n" not in body]
    bad += [b" " * 2**20 + good, b'{"operation": "plan", "request": {}}']
    lines = [piece for body in bad for piece in (good, body)]
    with target.line() as line:
        line.request(
            "POST", "/v1/batch/stream", b"\n".join(lines), {"Content-Type": "application/x-ndjson"}
        )
        reply = line.getresponse()
        *told, last = [json.loads(row) for row in reply.read().splitlines()]
    assert reply.status == 200
    assert [row["status"] for row in told[::2]] == [200] * len(bad)
    assert {row["status"] for row in told[1::2]} == {400, 413, 422}
    assert last == {"summary": {"count": len(lines), "refused": len(bad)}}


@pytest.mark.parametrize("name", REQUESTS)
def test_requests_are_refused(target: Target, name: str) -> None:
    pieces, expected, *directly = REQUESTS[name]
    status, head, body = talk(target.url, *pieces)
    assert status in (directly[0] if target.direct and directly else expected)
    if status >= 400:
        assert b"application/problem+json" in head
        assert json.loads(body)["status"] == status


@pytest.mark.parametrize("designation", DESIGNATIONS)
def test_designations_that_are_none_are_refused(target: Target, designation: str) -> None:
    path = f"/v1/threads/limits?unit=in&designation={designation}"
    status, _, body = talk(target.url, f"GET {path} HTTP/1.1\r\n{HEAD}\r\n".encode())
    assert status == 422
    assert json.loads(body)["faults"]


@pytest.mark.parametrize(("operation", "pointer", "figure"), FIGURES)
def test_sizes_that_are_none_are_refused_and_the_limit_is_told(
    target: Target, operation: str, pointer: str, figure: str
) -> None:
    example = BY_NAME[operation]
    place = tuple(pointer.split("/")[1:])
    with target.line() as line:
        body = written(put(example.request, place, Raw(figure)))
        status, _, reply = ask(line, example, example.path, body)
    assert status == 422
    (fault,) = json.loads(reply)["faults"]
    assert fault["pointer"] == pointer
    assert float(figure) > fault["greatest"] or float(figure) < fault["least"]
    assert fault["least"] < fault["greatest"] < 1e9


def test_chunks_pass_the_proxy_as_a_whole_and_are_refused_without_one(target: Target) -> None:
    chunk = f"{len(GOOD):x}\r\n".encode() + GOOD + b"\r\n0\r\n\r\n"
    status, _, body = talk(target.url, CHUNKED, chunk)
    if target.direct:
        assert (status, json.loads(body)["code"]) == (411, "length_required")
    else:
        assert (status, body) == (200, talk(target.url, post(GOOD)).body)


def test_a_hidden_second_request_is_never_answered(target: Target) -> None:
    hidden = f"GET /readyz HTTP/1.1\r\n{HEAD}\r\n".encode()
    for extra in ("", "Transfer-Encoding: identity\r\n", "Transfer_Encoding: chunked\r\n"):
        _, _, rest = talk(target.url, post(b"0\r\n\r\n" + hidden, JSON + extra))
        assert b'"ready"' not in rest


def test_a_body_that_looks_like_a_request_is_none(target: Target) -> None:
    hidden = f"GET /readyz HTTP/1.1\r\n{HEAD}\r\n".encode()
    kept = (
        f"POST /v1/stock/hexagon HTTP/1.1\r\nHost: a\r\n{JSON}Content-Length: {len(hidden)}\r\n\r\n"
    )
    after = f"GET /livez HTTP/1.1\r\n{HEAD}\r\n".encode()
    _, _, rest = talk(target.url, kept.encode() + hidden + after)
    assert b'"alive"' in rest
    assert b'"ready"' not in rest


def test_an_id_cant_split_the_head(target: Target) -> None:
    request = f"GET /livez HTTP/1.1\r\n{HEAD}X-Request-Id: a%0d%0aSet-Cookie: x=1\r\n\r\n"
    status, head, _ = talk(target.url, request.encode())
    assert status == 200
    assert b"Set-Cookie" not in head
    assert b"%0d" not in head


@pytest.mark.parametrize("operation", WRITERS)
def test_hostile_texts_come_out_as_the_application_writes_them(
    target: Target, web: FlaskClient, operation: str
) -> None:
    """What the application does to them is judged in tests/web/test_web_comments_and_markup.py."""
    example = BY_NAME[operation]
    every = 7 if operation.startswith("plan") else 2
    tried: list[Any] = [
        (place, bad, text) for place, bad, text in hostile(example) if bad in TEXTS
    ][::every]
    taken = 0
    with target.line() as line:
        for place, bad, text in tried:
            path, body = sent(example, text)
            status, _, reply = ask(line, example, path, body)
            own = web.post(
                path, data=body, content_type="application/json",
                headers={"Accept": example.accept},
            )  # fmt: skip
            assert status == own.status_code, (place, bad)
            if status == 200:
                taken += 1
                assert reply == own.data, (place, bad)
            else:
                assert json.loads(reply).get("faults") == own.json.get("faults"), (place, bad)
    assert taken > 0 or operation == "drawing_section"  # its texts are all words of lists


def sweep(target: Target, example: Example, every: int, from_: int) -> int:
    """Send every `every`th hostile variant of a request; return how many were sent."""
    variants = list(hostile(example))[from_ % every :: every]
    with target.line() as line:
        for place, bad, text in variants:
            status, kind, reply = ask(line, example, *sent(example, text))
            said = f"{example.operation} {place} {str(bad)[:80]}"
            if status != 200:
                assert status in (400, 413, 414, 422), (said, reply[:300])
                assert json.loads(reply)["status"] == status
            elif kind == "application/json":
                assert b"NaN" not in reply
                json.loads(reply)
    return len(variants)


@pytest.mark.parametrize("operation", BY_NAME)
def test_hostile_values_at_places_of_every_operation(target: Target, operation: str) -> None:
    if BY_NAME[operation].request:
        assert sweep(target, BY_NAME[operation], 40, list(BY_NAME).index(operation)) > 0


@pytest.mark.slow
@pytest.mark.parametrize("operation", BY_NAME)
def test_hostile_values_at_every_place_of_every_operation(target: Target, operation: str) -> None:
    if BY_NAME[operation].request:
        assert sweep(target, BY_NAME[operation], 1, 0) > 20
