"""A small shop floor to break: services, the proxy before them, and callers who compare answers."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory

import flankwise
from flankwise.transport import Transport
from flankwise_service.config import Settings
from flankwise_service.web.app import build_app
from support.proxy import Proxy, nginx
from support.server import Server, free_port, gunicorn
from support.wire import Example, examples
from support.workers import workers_of

CALLED = (
    "threads_limits", "threads_list", "stock_hexagon", "stock_drill", "cutting_feed", "path_helix",
    "form_section", "gauging_over_wires", "program", "drawing_section", "plan",
)  # fmt: skip
"""Light and heavy, kept and computed, short and long replies."""


@dataclass(frozen=True)
class Call:
    """A request, and the bytes it is answered with when nothing is wrong."""

    example: Example
    answer: bytes

    def made(self, transport: Transport) -> bytes:
        example = self.example
        if example.method == "GET":
            return transport.get(example.path, example.request, example.accept).content
        return transport.post(example.path, example.request, example.accept).content


def calls() -> list[Call]:
    """Return the calls, each answered by an application in this process, apart from all faults."""
    client = build_app(Settings(access_log=False)).test_client()
    found = []
    for example in examples():
        if example.operation in CALLED:
            method, path, body = example.sent()
            headers = {"Accept": example.accept}
            kind = "application/json" if body is not None else None
            reply = client.open(path, method=method, data=body, content_type=kind, headers=headers)
            assert reply.status_code == 200, (example.operation, reply.data[:500])
            found.append(Call(example, reply.data))
    return found


@dataclass
class Outcome:
    """What a fault did to those who called meanwhile."""

    fault: str
    times: int = 0
    calls: int = 0
    failed: list[str] = field(default_factory=list)
    different: list[str] = field(default_factory=list)
    slowest: float = 0.0
    seconds: float = 0.0
    remark: str = ""

    @property
    def lost(self) -> int:
        return len(self.failed) + len(self.different)


class Callers:
    """Threads that call through the SDK, one call after the other, until they are told to stop."""

    def __init__(
        self,
        url: str,
        made: Sequence[Call],
        threads: int = 4,
        pause: float = 0.05,
        retries: int = 4,
    ) -> None:
        self._url, self._made, self._pause, self._retries = url, made, pause, retries
        self._enough = threading.Event()
        self._lock = threading.Lock()
        self.calls = 0
        self.failed: list[str] = []
        self.different: list[str] = []
        self.slowest = 0.0
        self._threads = [
            threading.Thread(target=self._call, args=(number,)) for number in range(threads)
        ]

    def __enter__(self) -> Callers:
        for thread in self._threads:
            thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._enough.set()
        for thread in self._threads:
            thread.join(60)
        assert not any(thread.is_alive() for thread in self._threads), "a call never came back"

    def more(self, count: int, seconds: float = 30.0) -> None:
        """Wait until so many further calls were answered."""
        aim, until = self.calls + count, time.monotonic() + seconds
        while self.calls < aim and time.monotonic() < until:
            time.sleep(0.02)

    def _call(self, number: int) -> None:
        with Transport(self._url, timeout=(5.0, 60.0), retries=self._retries) as transport:
            while not self._enough.wait(self._pause):
                number += 1
                self._one(self._made[number % len(self._made)], transport)

    def _one(self, call: Call, transport: Transport) -> None:
        begun = time.monotonic()
        name = call.example.operation
        try:
            same = call.made(transport) == call.answer
            failure = None
        except flankwise.FlankwiseError as error:
            same, failure = True, f"{name}: {type(error).__name__}: {error}"
        with self._lock:
            self.calls += 1
            self.slowest = max(self.slowest, time.monotonic() - begun)
            if failure is not None:
                self.failed.append(failure)
            if not same:
                self.different.append(name)


class Instance:
    """One service that can be stopped and started again on its port."""

    def __init__(
        self,
        *options: str,
        environment: Mapping[str, str] | None = None,
        prints_to: Path | None = None,
        door: socket.socket | None = None,
    ) -> None:
        self.port = free_port() if door is None else door.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self._options, self._environment = options, environment
        self._prints_to, self._door = prints_to, door
        self._stack = ExitStack()
        self.server: Server | None = None

    @property
    def pid(self) -> int:
        assert self.server is not None
        return self.server.process.pid

    @property
    def workers(self) -> tuple[int, ...]:
        return workers_of(self.pid)

    def start(self) -> None:
        folder = Path(self._stack.enter_context(TemporaryDirectory(prefix="flankwise-faults-")))
        self.server = self._stack.enter_context(
            gunicorn(folder, *self._options, environment=self._environment, port=self.port,
                     prints_to=self._prints_to, door=self._door)
        )  # fmt: skip

    def stop(self) -> None:
        """Stop it gently (SIGTERM), and wait until it is gone."""
        self._stack.close()
        self.server = None


@dataclass
class Floor:
    """The services, the proxy before them, and what is called."""

    instances: list[Instance]
    proxy: Proxy
    made: list[Call]
    threads: int = 4

    @contextmanager
    def called(self, fault: str, remark: str = "") -> Iterator[tuple[Outcome, Callers]]:
        """Call through the proxy while the block breaks things, and note what became of it."""
        outcome, begun = Outcome(fault, remark=remark), time.monotonic()
        with Callers(self.proxy.url, self.made, self.threads) as callers:
            callers.more(len(self.made))
            yield outcome, callers
            callers.more(2 * len(self.made))
        outcome.calls, outcome.slowest = callers.calls, callers.slowest
        outcome.failed, outcome.different = callers.failed, callers.different
        outcome.seconds = time.monotonic() - begun


@contextmanager
def floor(*instances: Instance, made: list[Call] | None = None) -> Iterator[Floor]:
    """Start the services and the proxy with the project's own settings; stop them at the end."""
    with ExitStack() as stack:
        for instance in instances:
            stack.callback(instance.stop)
            instance.start()
        proxy = stack.enter_context(nginx(*(instance.url for instance in instances)))
        yield Floor(list(instances), proxy, made or calls())
