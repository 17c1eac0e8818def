"""What the floor of a shop does to a service, in small: nobody who calls notices any of it.

The long form, with a table, is `sh tests/faults/run`. Every fault here meets two services behind
the real proxy, one whose log is a full disk, and one whose clock jumps; every answer is compared
byte for byte with that of an application no fault has met.
"""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from faults import scenarios
from faults.rig import Floor, Instance, Outcome, floor
from support.proxy import nginx_or_skip
from support.server import gunicorn
from support.workers import ended, workers_of


@dataclass
class Broken:
    floor: Floor
    clock: scenarios.Clock


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Broken]:
    nginx_or_skip()
    clock = scenarios.Clock(tmp_path_factory.mktemp("clock"))
    first = Instance("--workers", "2", prints_to=Path("/dev/full"))
    second = Instance(environment=clock.environment)
    with floor(first, second) as running:
        running.threads = 2
        yield Broken(running, clock)


def nothing_lost(outcome: Outcome, times: int) -> None:
    assert outcome.failed == []
    assert outcome.different == []
    assert outcome.times == times
    assert outcome.calls >= 30


def test_a_log_without_room(shop: Broken) -> None:
    nothing_lost(scenarios.log_lost(shop.floor, "log on a full disk", 0.2), 1)


def test_a_clock_that_jumps(shop: Broken) -> None:
    nothing_lost(scenarios.clock_jumps(shop.floor, shop.clock, 4), 4)


def test_a_worker_killed(shop: Broken) -> None:
    nothing_lost(scenarios.worker_killed(shop.floor, 2), 2)


def test_a_service_told_to_reload(shop: Broken) -> None:
    nothing_lost(scenarios.reloaded(shop.floor, 1), 1)


def test_a_proxy_killed_and_one_that_reloads(shop: Broken) -> None:
    nothing_lost(scenarios.proxy_restarted(shop.floor, 1), 1)
    nothing_lost(scenarios.proxy_reloaded(shop.floor, 1), 1)


def test_two_hundred_callers_at_a_byte_a_second(shop: Broken) -> None:
    nothing_lost(scenarios.slow_callers(shop.floor, 200, 2.0), 200)


def test_two_services_restarted_one_after_the_other(shop: Broken) -> None:
    nothing_lost(scenarios.rolling_restart(shop.floor, 1), 1)


def until(holds: Callable[[], bool], seconds: float = 25.0) -> bool:
    end = time.monotonic() + seconds
    while not holds() and time.monotonic() < end:
        time.sleep(0.02)
    return holds()


@pytest.mark.parametrize("replaced_first", [True, False])
def test_no_worker_outlives_a_master_that_reloaded(tmp_path: Path, replaced_first: bool) -> None:
    with gunicorn(tmp_path, "--workers", "2") as server:
        master = server.process.pid
        assert until(lambda: len(workers_of(master)) == 2)
        seen = set(workers_of(master))
        try:
            os.kill(master, signal.SIGHUP)
            if replaced_first:
                assert until(lambda: len(set(workers_of(master)) - seen) == 2)
                assert until(lambda: not seen & set(workers_of(master)))
            server.process.terminate()
            end = time.monotonic() + 25.0  # its workers may have 20 s
            while server.process.poll() is None and time.monotonic() < end:
                seen |= set(workers_of(master))
                time.sleep(0.005)
            assert server.process.returncode == 0
            # At once: a worker that is left alone sees so within a second, and may serve meanwhile.
            assert [process for process in seen if not ended(process)] == []
        finally:
            for left in [process for process in seen if not ended(process)]:
                os.kill(left, signal.SIGKILL)
