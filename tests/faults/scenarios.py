"""Each fault, done so many times to a running floor while callers call."""

from __future__ import annotations

import os
import signal
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from faults.rig import Floor, Outcome
from support.server import ROOT
from support.workers import load_of

PATIENCE = 30.0


def worker_killed(shop: Floor, times: int) -> Outcome:
    """SIGKILL a worker; its master starts another."""
    with shop.called("SIGKILL of a worker") as (outcome, callers):
        for number in range(times):
            instance = shop.instances[number % len(shop.instances)]
            gone = instance.workers[0]
            os.kill(gone, signal.SIGKILL)
            _until(lambda i=instance, g=gone: g not in i.workers and len(i.workers) > 0)
            callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def worker_frozen(shop: Floor, times: int) -> Outcome:
    """SIGSTOP a worker, as if it hung; its master gives it up and starts another."""
    with shop.called("worker that hangs (SIGSTOP)") as (outcome, callers):
        for number in range(times):
            instance = shop.instances[number % len(shop.instances)]
            gone = instance.workers[0]
            os.kill(gone, signal.SIGSTOP)
            _until(lambda i=instance, g=gone: g not in i.workers and len(i.workers) > 0)
            callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def reloaded(shop: Floor, times: int) -> Outcome:
    """HUP: the master replaces its workers, one after the other."""
    with shop.called("HUP to a service") as (outcome, callers):
        for number in range(times):
            instance = shop.instances[number % len(shop.instances)]
            before = set(instance.workers)
            os.kill(instance.pid, signal.SIGHUP)
            _until(lambda i=instance, b=before: not b & set(i.workers) and len(i.workers) > 0)
            callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def rolling_restart(shop: Floor, times: int) -> Outcome:
    """TERM one service after the other, and start it again before the next."""
    with shop.called("SIGTERM, rolling restart of two") as (outcome, callers):
        for _ in range(times):
            for instance in shop.instances:
                instance.stop()
                callers.more(len(shop.made))
                instance.start()
                callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def only_service_restarted(shop: Floor, times: int) -> Outcome:
    """TERM the only service there is, and start it again: callers wait at a door held open."""
    with shop.called("SIGTERM, the only one, door held") as (outcome, callers):
        for _ in range(times):
            shop.instances[0].stop()
            shop.instances[0].start()
            callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def proxy_restarted(shop: Floor, times: int) -> Outcome:
    """SIGKILL the proxy with all its workers, and start it again."""
    with shop.called("proxy killed and started again") as (outcome, callers):
        for _ in range(times):
            shop.proxy.restart()
            callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def proxy_reloaded(shop: Floor, times: int) -> Outcome:
    """HUP to the proxy: it reads its settings again."""
    with shop.called("HUP to the proxy") as (outcome, callers):
        for _ in range(times):
            shop.proxy.reload()
            callers.more(len(shop.made))
            outcome.times += 1
    return outcome


def slow_callers(shop: Floor, times: int, seconds: float) -> Outcome:
    """Callers that send a byte a second: half of them their heads, half of them their bodies."""
    with shop.called("callers at 1 byte a second") as (outcome, callers), ExitStack() as stack:
        lines = [
            stack.enter_context(socket.create_connection(("127.0.0.1", shop.proxy.port), 10))
            for _ in range(times)
        ]
        head = b"POST /v1/plan HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\n"
        for line in lines[times // 2 :]:
            line.sendall(head + b"Content-Length: 4000\r\n\r\n")
        until = time.monotonic() + seconds
        before = callers.calls
        alive = set(lines)
        for number in range(int(seconds)):
            for line in list(alive):
                try:
                    line.sendall(
                        head[number % len(head) :][:1] if line in lines[: times // 2] else b" "
                    )
                except OSError:
                    alive.discard(line)  # let go by the proxy
            time.sleep(max(0.0, until - seconds + number + 1 - time.monotonic()))
        outcome.times = times
        outcome.remark = f"{times - len(alive)} let go, {callers.calls - before} calls meanwhile"
    return outcome


CLOCK = """
import os, time
def _off():
    try:
        with open(os.environ["TEST_CLOCK"], encoding="ascii") as file:
            return int(file.read() or 0)
    except (OSError, ValueError):
        return 0
_ns, _s = time.time_ns, time.time
time.time = lambda: _s() + _off()
time.time_ns = lambda: _ns() + _off() * 10**9
"""
"""Loaded by Python at its start (site): a wall clock that a file sets. The real one is shared."""


class Clock:
    """A wall clock for one service, which can jump."""

    def __init__(self, folder: Path) -> None:
        self._file = folder / "clock"
        self.jump(0)
        (folder / "sitecustomize.py").write_text(CLOCK)
        paths = [str(folder), str(ROOT / "service"), str(ROOT / "sdk")]
        self.environment = {"TEST_CLOCK": str(self._file), "PYTHONPATH": os.pathsep.join(paths)}

    def jump(self, seconds: int) -> None:
        new = self._file.with_suffix(".new")
        new.write_text(str(seconds))
        new.replace(self._file)


def clock_jumps(shop: Floor, clock: Clock, times: int) -> Outcome:
    """Set a service's wall clock on by an hour, back by a day, on by ten years, right again."""
    workers = [instance.workers for instance in shop.instances]
    with shop.called("jump of the clock") as (outcome, callers):
        for number in range(times):
            clock.jump((3_600, -86_400, 315_360_000, 0)[number % 4])
            callers.more(2 * len(shop.made))
            outcome.times += 1
        clock.jump(0)
    if [instance.workers for instance in shop.instances] != workers:
        outcome.failed.append("a worker was replaced")
    return outcome


def log_lost(shop: Floor, fault: str, seconds: float) -> Outcome:
    """Call services whose standard output takes no lines."""
    workers = [instance.workers for instance in shop.instances]
    with shop.called(fault) as (outcome, callers):
        callers.more(4 * len(shop.made))
        before = [load_of(instance.pid).memory for instance in shop.instances]
        time.sleep(seconds)
        grown = sum(load_of(one.pid).memory for one in shop.instances) - sum(before)
        outcome.times, outcome.remark = 1, f"memory grew by {grown / 2**20:.1f} MiB"
    if grown > 24 * 2**20:
        outcome.failed.append(outcome.remark)
    if [instance.workers for instance in shop.instances] != workers:
        outcome.failed.append("a worker was replaced")
    return outcome


@contextmanager
def full_pipe(folder: Path) -> Iterator[Path]:
    """Make a pipe that nobody reads, and that is full already."""
    pipe = folder / "pipe"
    os.mkfifo(pipe)
    held = os.open(pipe, os.O_RDWR | os.O_NONBLOCK)
    try:
        with suppress(BlockingIOError):
            while True:
                os.write(held, b"x" * 4096)
        yield pipe
    finally:
        os.close(held)


def _until(holds: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE
    while not holds() and time.monotonic() < until:
        time.sleep(0.02)
    assert holds(), "it didn't come back"
