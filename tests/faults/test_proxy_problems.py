"""What the proxy says itself: problems of the contract, each provoked for real, read by the SDK."""

from __future__ import annotations

import io
import json
import re
import shutil
import socket
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest

import flankwise
from flankwise.transport import Transport
from flankwise_service.web.problems import CODES, MEDIA_TYPE, Problem
from support.proxy import SETTINGS, Proxy, nginx, nginx_or_skip, tls_lines
from support.server import free_port, gunicorn
from support.wire import talk

HEAD = "Host: a\r\nConnection: close\r\n"
JSON = "Content-Type: application/json\r\n"
LINES = "application/x-ndjson"
GOOD = {"unit": "in", "across_flats": 1.25}
SAID = {
    name: (json.loads(text.replace("\\'", "'")), int(status))
    for name, status, text in re.findall(
        r"location = /\.problem/(\w+) \{[^}]*?return (\d+) '(.*)';", SETTINGS.read_text("utf-8")
    )
}
BUSY = 300
"""More connections than one address may hold (256)."""


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    nginx_or_skip()
    with gunicorn(tmp_path_factory.mktemp("said"), "--threads", "4") as running:
        yield running.url


@pytest.fixture(scope="module")
def proxy(shop: str) -> Iterator[Proxy]:
    with nginx(shop, rate=1_000_000) as running:
        yield running


def a_problem(head: bytes, body: bytes, name: str) -> dict[str, Any]:
    """Check one of the proxy's own replies, and return its problem."""
    told: dict[str, Any] = json.loads(body)
    written, status = SAID[name]
    assert head.startswith(f"HTTP/1.1 {status} ".encode())
    assert f"\r\nContent-Type: {MEDIA_TYPE}\r\n".encode() in head
    assert f"\r\nX-Request-Id: {told['request_id']}\r\n".encode() in head + b"\r\n"
    assert b"\r\nCache-Control: no-store" in head
    assert told["instance"] == f"urn:flankwise:request:{told['request_id']}"
    kept = {"instance", "request_id"}
    assert {k: v for k, v in told.items() if k not in kept} == {
        k: v for k, v in written.items() if k not in kept
    }
    return told


@pytest.mark.parametrize("name", SAID)
def test_it_has_the_shape_the_code_and_the_title_of_the_contract(name: str) -> None:
    written, status = SAID[name]
    assert (status, written["title"]) == CODES[written["code"]]
    like = Problem(written["code"], written["detail"]).body("$request_id")
    assert written == json.loads(like)


def test_every_page_of_an_error_is_there_and_used() -> None:
    text = SETTINGS.read_text("utf-8")
    used = re.findall(r"error_page [\d =]+ /\.problem/(\w+);", text)
    assert sorted(used) == sorted(SAID)
    assert set(SAID) == {*PROVOKED, "often", "own", "away"}, "provoke each of them, below"


PROVOKED = {
    "unreadable": f"GET /livez HTTP/9.9\r\n{HEAD}\r\n",
    "inside": f"GET /metrics HTTP/1.1\r\n{HEAD}\r\n",
    "method": f"TRACE /livez HTTP/1.1\r\n{HEAD}\r\n",
    "body": f"POST /v1/plan HTTP/1.1\r\n{HEAD}{JSON}Content-Length: 3000000\r\n\r\n",
    "line": f"GET /{'a' * 9_000} HTTP/1.1\r\n{HEAD}\r\n",
    "headers": f"GET /livez HTTP/1.1\r\n{HEAD}X-A: {'a' * 9_000}\r\n\r\n",
}


@pytest.mark.parametrize("name", PROVOKED)
def test_what_is_refused_before_the_service_is_a_problem(proxy: Proxy, name: str) -> None:
    _, head, body = talk(proxy.url, PROVOKED[name].encode())
    a_problem(head, body, name)


@pytest.mark.parametrize(
    "request_head",
    [
        f"POST /v1/plan HTTP/1.1\r\n{HEAD}{JSON}Transfer-Encoding: x\r\n\r\n",
        f"GET /livez HTTP/1.1\r\n{HEAD}X-Request-Id: a\0b\r\n\r\n",
        "GET /livez HTTP/1.1\r\nConnection: close\r\n\r\n",
        "\r\n\r\nnothing at all\r\n\r\n",
    ],
)
def test_a_head_that_cant_be_read_is_400(proxy: Proxy, request_head: str) -> None:
    _, head, body = talk(proxy.url, request_head.encode())
    a_problem(head, body, "unreadable")


def test_a_method_that_isnt_passed_on_is_told_those_that_are(proxy: Proxy) -> None:
    assert (
        b"\r\nAllow: GET, HEAD, POST, OPTIONS" in talk(proxy.url, PROVOKED["method"].encode()).head
    )


def test_more_headers_than_the_service_takes_are_its_own_problem(proxy: Proxy) -> None:
    many = "".join(f"X-{number}: 1\r\n" for number in range(60))
    status, head, body = talk(proxy.url, f"GET /livez HTTP/1.1\r\n{HEAD}{many}\r\n".encode())
    assert (status, json.loads(body)["code"]) == (431, "headers_too_large")
    assert b"\r\nService-Version: " in head


def test_an_address_that_asks_too_often_is_asked_to_wait(shop: str) -> None:
    with nginx(shop) as proxy:
        found: list[tuple[bytes, bytes]] = []

        def ask(_: int) -> None:
            status, head, body = talk(proxy.url, f"GET /livez HTTP/1.1\r\n{HEAD}\r\n".encode())
            if status != 200:
                found.append((head, body))

        with ThreadPoolExecutor(16) as callers:
            for _ in range(20):  # a burst of 400 passes, and 200 a second
                list(callers.map(ask, range(400)))
                if found:
                    break
        head, body = found[0]
        a_problem(head, body, "often")
        assert b"\r\nRetry-After: 1\r\n" in head + b"\r\n"


def test_an_address_that_holds_too_many_connections_is_asked_to_wait(proxy: Proxy) -> None:
    begun = f"POST /v1/stock/hexagon HTTP/1.1\r\n{HEAD}{JSON}Content-Length: 40\r\n\r\n".encode()
    with ExitStack() as stack:
        for _ in range(BUSY):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", proxy.port), 10))
            line.sendall(begun)
        for _ in range(200):  # until the proxy has read the heads of them all
            status, head, body = talk(proxy.url, f"GET /livez HTTP/1.1\r\n{HEAD}\r\n".encode())
            if status != 200:
                break
        a_problem(head, body, "often")


def test_a_proxy_that_cant_keep_a_body_says_that_it_is_its_own_fault(shop: str) -> None:
    with nginx(shop) as proxy:
        shutil.rmtree(proxy.folder / "client_body")
        (proxy.folder / "client_body").write_text("in the way")
        large = b" " * 500_000
        request = f"POST /v1/plan HTTP/1.1\r\n{HEAD}{JSON}Content-Length: {len(large)}\r\n\r\n"
        _, head, body = talk(proxy.url, request.encode(), large)
        a_problem(head, body, "own")
        with Transport(proxy.url, retries=0) as sdk, pytest.raises(flankwise.ServiceFault):
            sdk.post_json("/v1/plan", {"text": "a" * len(large)})


# -- read by the SDK


def test_the_sdk_raises_what_each_of_them_stands_for(proxy: Proxy) -> None:
    with Transport(proxy.url, retries=0) as sdk:
        with pytest.raises(flankwise.Refused) as large:
            sdk.post_json("/v1/plan", {"text": "a" * 3_000_000})
        with pytest.raises(flankwise.NotOffered) as inside:
            sdk.get("/metrics", {}, "text/plain")
        with pytest.raises(flankwise.Refused) as long:
            sdk.get("/v1/threads/limits", {"designation": "M" * 9_000}, "application/json")
    codes = [error.value.code for error in (large, inside, long)]
    assert codes == ["body_too_large", "no_such_path", "query_too_long"]
    for error in (large, inside, long):
        assert error.value.request_id == error.value.raw["request_id"]


def test_the_sdk_says_when_nobody_is_behind_the_proxy(shop: str) -> None:
    with nginx(shop) as proxy:
        text = (proxy.folder / "nginx.conf").read_text("utf-8")
        away = text.replace(shop.removeprefix("http://"), f"127.0.0.1:{free_port()}")
        (proxy.folder / "nginx.conf").write_text(away, "utf-8")
        proxy.reload()
        with Transport(proxy.url, retries=0) as sdk:
            for _ in range(200):  # until the settings are read
                try:
                    sdk.post_json("/v1/stock/hexagon", GOOD)
                except flankwise.Unavailable as error:
                    told = error
                    break
                except flankwise.Unreachable:
                    continue  # a connection of the worker that the reload ends
    assert (told.status, told.code) == (503, "not_ready")
    assert told.request_id == told.raw["request_id"]


def test_the_sdk_says_when_an_address_asks_too_often(shop: str) -> None:
    with nginx(shop, rate=1) as proxy:

        def ask(_: int) -> flankwise.Unavailable | None:
            with Transport(proxy.url, retries=0) as sdk:
                try:
                    sdk.get_json("/livez", {})
                except flankwise.Unavailable as error:
                    return error
            return None

        with ThreadPoolExecutor(8) as callers:
            refused = [error for error in callers.map(ask, range(450)) if error is not None]
    assert {(error.status, error.code) for error in refused} == {(429, "too_many_requests")}


# -- by TLS


def test_tls_has_the_same_limits_and_problems(shop: str, tmp_path: Path) -> None:
    port = free_port()
    with nginx(shop, rate=1_000_000, inside=tls_lines(tmp_path, port)):
        url = f"https://localhost:{port}"
        trusted = str(tmp_path / "flankwise.crt")
        with Transport(url, retries=0, verify=trusted) as sdk:
            reply = sdk.post("/v1/stock/hexagon", GOOD, "application/json")
            assert reply.headers["Strict-Transport-Security"] == "max-age=31536000"
            with pytest.raises(flankwise.Refused) as large:
                sdk.post_json("/v1/plan", {"text": "a" * 3_000_000})
            with pytest.raises(flankwise.NotOffered):
                sdk.get("/metrics", {}, "text/plain")
            stream = b" " * 3_000_000  # more than one call may be, less than a stream
            whole = io.BytesIO(stream)
            with sdk.post_file("/v1/batch/stream", whole, len(stream), LINES) as taken:
                assert taken.status_code == 200
                assert b"summary" in taken.content
        assert large.value.code == "body_too_large"
        plain = talk(f"http://127.0.0.1:{port}", f"GET /livez HTTP/1.1\r\n{HEAD}\r\n".encode())
        a_problem(plain.head, plain.body, "unreadable")
