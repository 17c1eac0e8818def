"""What the SDK adds to a bare call, what a batch saves, and a million segments in little memory."""

from __future__ import annotations

import json
import os
import socket
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from urllib.parse import urlsplit

from bench.asks import example, helix_body
from bench.goals import Part
from bench.options import Options
from bench.servers import OUT, Running, gunicorn
from flankwise import Client
from support.server import ROOT

CALLS = 150
MILLION = helix_body(25_000, 10, 90)
"""25 000 turns, four arcs a turn, ten passes."""
CHILD = """
import json, resource, sys
from flankwise import Client
asked, url = json.loads(sys.stdin.read()), sys.argv[1]
small = asked | {"passes": asked["passes"][:1], "length": asked["pitch"] * 50}
peak = lambda: resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
with Client(url) as shop:
    sum(1 for _ in shop.path_helix_segments(**small))
    before = peak()
    count = sum(1 for _ in shop.path_helix_segments(**asked))
print(json.dumps({"count": count, "grown_kb": peak() - before}))
"""


def run(options: Options) -> Part:
    """Return the ratios that the contract promises to other shop software."""
    part = Part("sdk")
    _imports(part)
    paths = {
        "PYTHONPATH": os.pathsep.join(str(ROOT / name) for name in ("service", "sdk", "tests"))
    }
    with gunicorn(workers=1, name="sdk", environment=paths) as server, Client(server.url) as shop:
        _calls(part, server, shop, options.rounds)
        _batches(part, shop, options.rounds)
        _first_byte(part, server)
        _million(part, server)
    return part


def _imports(part: Part) -> None:
    """In processes of their own, by turns, the least of each: what the SDK adds to requests."""
    least = {"requests": 1e9, "requests, flankwise; flankwise.Client": 1e9}
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "sdk")}
    surroundings["PYTHONPYCACHEPREFIX"] = str(OUT / "pyc")  # an installed package has its .pyc
    surroundings.pop("PYTHONDONTWRITEBYTECODE", None)
    for _ in range(12):
        for what, known in least.items():
            code = f"import time; a = time.perf_counter(); import {what}; print(time.perf_counter() - a)"
            done = subprocess.run(
                [sys.executable, "-c", code], env=surroundings, capture_output=True, text=True,
                check=True,
            )  # fmt: skip
            least[what] = min(known, float(done.stdout) * 1e3)
    bare, ours = least.values()
    part.raw["import ms"] = list(least.values())
    part.tell("import of the client over requests itself", ours - bare, "ms", aim=150,
              note=f"{ours / bare:.2f} times {bare:.0f} ms")  # fmt: skip


class Bare:
    """One keep-alive connection, a request made beforehand, a reply read to its length."""

    def __init__(self, url: str, path: str, body: bytes) -> None:
        parts = urlsplit(url)
        self.to = socket.create_connection((parts.hostname or "", parts.port or 80))
        self.to.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.request = (
            f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        ).encode() + body

    def call(self) -> bytes:
        """Return the body of one reply."""
        self.to.sendall(self.request)
        held = b""
        while b"\r\n\r\n" not in held:
            held += self.to.recv(65_536)
        head, _, body = held.partition(b"\r\n\r\n")
        if not head.startswith(b"HTTP/1.1 200"):
            raise RuntimeError(head.decode())
        length = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0])
        while len(body) < length:
            body += self.to.recv(65_536)
        return body


def _calls(part: Part, server: Running, shop: Client, rounds: int) -> None:
    """SDK and socket in turns, so that neighbours on the machine disturb both alike."""
    feed = example("cutting_feed")
    plan = example("plan")
    for name, path, asked, call, times in (
        ("cutting_feed", "/v1/cutting/feed", feed, lambda: shop.cutting_feed(**feed), CALLS),
        ("plan", "/v1/plan", plan, lambda: shop.plan_document(plan), CALLS // 15),
    ):
        bare = Bare(server.url, path, json.dumps(asked).encode())
        ratios = []
        for _ in range(rounds):
            floor, ours = _median(bare.call, times), _median(call, times)
            ratios.append(ours / floor)
            part.raw.setdefault(name, []).append((floor * 1e3, ours * 1e3))
        floor_ms, ours_ms = part.raw[name][-1]
        part.tell(f"SDK call over a bare socket call, {name}", statistics.median(ratios), "times",
                  aim=2.5, note=f"{ours_ms:.2f} over {floor_ms:.2f} ms")  # fmt: skip


def _median(call: Callable[[], object], times: int) -> float:
    call()
    taken = []
    for _ in range(times):
        begun = time.perf_counter()
        call()
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def _batches(part: Part, shop: Client, rounds: int) -> None:
    feed = example("cutting_feed")
    items = [{"operation": "cutting_feed", "request": feed}] * 100
    ratios = []
    for _ in range(rounds):
        one_by_one = _median(lambda: [shop.cutting_feed(**feed) for _ in range(100)], 3)
        together = _median(lambda: shop.batch(items), 5)  # type: ignore[arg-type]
        ratios.append(one_by_one / together)
    part.raw["batch"] = ratios
    part.tell("batch of 100 over 100 calls, faster by", statistics.median(ratios), "times",
              aim=10, at_least=True)  # fmt: skip


def _first_byte(part: Part, server: Running) -> None:
    """From the last byte of the request to the first byte of the body of a million segments."""
    body = json.dumps(MILLION).encode()
    taken = []
    for _ in range(7):
        bare = Bare(server.url, "/v1/path/helix", body)
        begun = time.perf_counter()
        bare.to.sendall(bare.request)
        held = b""
        while len(held.partition(b"\r\n\r\n")[2]) < 1:
            held += bare.to.recv(65_536)
        taken.append((time.perf_counter() - begun) * 1e3)
        bare.to.close()
    part.raw["first byte ms"] = taken
    part.tell("first byte of a million segments", statistics.median(taken), "ms", aim=50)


def _million(part: Part, server: Running) -> None:
    held = server.peak_bytes()
    begun = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", CHILD, server.url], input=json.dumps(MILLION), text=True,
        capture_output=True, check=True, timeout=600,
        env={"PYTHONPATH": str(ROOT / "sdk")},
    )  # fmt: skip
    told = json.loads(done.stdout)
    note = f"{told['count']:,} segments in {time.perf_counter() - begun:.0f} s"
    part.tell("memory a million segments add to the client", told["grown_kb"] / 1024, "MiB",
              aim=20, note=note)  # fmt: skip
    part.tell("memory they add to the service", (server.peak_bytes() - held) / 2**20, "MiB", aim=20)
    part.raw["million"] = told
