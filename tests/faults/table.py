"""Runs every fault for longer than CI does, and prints what became of those who called."""

from __future__ import annotations

import argparse
import http.client
import socket
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, closing
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "service"), str(ROOT / "sdk"), str(ROOT / "tests")]

from faults import scenarios  # noqa: E402
from faults.rig import Call, Instance, Outcome, calls, floor  # noqa: E402
from support.proxy import nginx  # noqa: E402
from support.server import gunicorn  # noqa: E402
from support.wire import examples, hostile  # noqa: E402
from support.workers import load_of, workers_of  # noqa: E402

HEAD = f"{'fault':34} {'times':>6} {'calls':>6} {'failed':>7} {'different':>10} {'slowest s':>10} {'took s':>7}"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=3, help="how often each fault is done")
    parser.add_argument(
        "--slow-seconds", type=float, default=15.0, help="how long slow callers stay"
    )
    parser.add_argument(
        "--every", type=int, default=4, help="every how manieth hostile value is sent"
    )
    asked = parser.parse_args()
    begun = time.monotonic()
    print("callers through the SDK, four at a time, each answer compared byte for byte\n")
    print(HEAD)
    lost = 0
    for outcome in outcomes(asked):
        tell(outcome)
        lost += outcome.lost
    print(f"\nlost: {lost}; all of it took {time.monotonic() - begun:.0f} s")
    return 1 if lost else 0


def outcomes(asked: argparse.Namespace) -> Iterator[Outcome]:
    made, times = calls(), asked.times
    with floor(Instance("--workers", "2"), Instance(), made=made) as shop:
        yield scenarios.worker_killed(shop, times)
        yield scenarios.reloaded(shop, times)
        yield scenarios.proxy_restarted(shop, times)
        yield scenarios.proxy_reloaded(shop, times)
        yield scenarios.slow_callers(shop, 200, asked.slow_seconds)
        yield scenarios.rolling_restart(shop, times)
    with (
        socket.create_server(("127.0.0.1", 0), backlog=2048) as door,
        floor(Instance(door=door), made=made) as shop,
    ):
        yield scenarios.only_service_restarted(shop, times)
    with floor(Instance("--workers", "2", "--timeout", "4"), made=made) as shop:
        yield scenarios.worker_frozen(shop, min(times, 2))
    yield from logs_and_clock(made, times)
    yield hostile_values(asked.every)


def logs_and_clock(made: list[Call], times: int) -> Iterator[Outcome]:
    with ExitStack() as stack:
        folder = Path(stack.enter_context(TemporaryDirectory(prefix="flankwise-clock-")))
        clock = scenarios.Clock(folder)
        with floor(Instance(environment=clock.environment), made=made) as shop:
            yield scenarios.clock_jumps(shop, clock, 4 * times)
        with floor(Instance(prints_to=Path("/dev/full")), made=made) as shop:
            yield scenarios.log_lost(shop, "log on a full disk", 3.0)
        pipe = stack.enter_context(scenarios.full_pipe(folder))
        with floor(Instance(prints_to=pipe), made=made) as shop:
            yield scenarios.log_lost(shop, "log into a pipe nobody reads", 3.0)


def hostile_values(every: int) -> Outcome:
    """Send hostile values to every place of every operation, over and over the same workers."""
    outcome, begun = Outcome("hostile values in requests"), time.monotonic()
    with (
        TemporaryDirectory(prefix="flankwise-hostile-") as name,
        gunicorn(Path(name), environment={"FLANKWISE_ACCESS_LOG": "no"}) as server,
        nginx(server.url, rate=1_000_000) as proxy,
    ):
        workers, sent, before = workers_of(server.process.pid), 0, None
        with closing(http.client.HTTPConnection("127.0.0.1", proxy.port, timeout=60)) as line:
            for example in [*examples()] * 2:
                for place, _, text in list(hostile(example))[sent % every :: every]:
                    got = example.method == "GET"
                    path, body = (text.decode(), None) if got else (example.path, text)
                    asked_at = time.monotonic()
                    line.request(example.method, path, body, {"Content-Type": "application/json"})
                    reply = line.getresponse()
                    reply.read()
                    sent += 1
                    outcome.slowest = max(outcome.slowest, time.monotonic() - asked_at)
                    if reply.status >= 500:
                        outcome.failed.append(f"{example.operation} {place}: {reply.status}")
                if example.operation == "batch" and before is None:
                    before = load_of(server.process.pid).memory
        grown = load_of(server.process.pid).memory - (before or 0)
        if workers_of(server.process.pid) != workers:
            outcome.failed.append("a worker was replaced")
    outcome.times = outcome.calls = sent
    outcome.remark = f"second round: memory grew by {grown / 2**20:.1f} MiB"
    outcome.seconds = time.monotonic() - begun
    return outcome


def tell(outcome: Outcome) -> None:
    print(f"{outcome.fault:34} {outcome.times:6} {outcome.calls:6} {len(outcome.failed):7} "
          f"{len(outcome.different):10} {outcome.slowest:10.2f} {outcome.seconds:7.1f}  "
          f"{outcome.remark}", flush=True)  # fmt: skip
    for what in (outcome.failed + outcome.different)[:5]:
        print(f"    {what}")


if __name__ == "__main__":
    sys.exit(main())
