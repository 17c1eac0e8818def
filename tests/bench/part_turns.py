"""What it brings that long computations of a worker take turns, and what light calls pay for it.

One worker with turns and one without answer the same in turns: plans for sixteen callers; light
calls beside them; and plans beside somebody who asks for long paths one after the other.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import asdict

from bench.asks import Asks, feed, helix, hexagon, plan
from bench.goals import Part
from bench.load import Load, interleaved, median_rate, ratio, wrk
from bench.options import Options
from bench.servers import Running, gunicorn

BOTH = ("turns", "without-turns")


def run(options: Options) -> Part:
    """Return plans a second and the latency of who waits, with turns and without."""
    part = Part("turns")
    with ExitStack() as stack:
        waits: dict[str, dict[str, str]] = {BOTH[0]: {}, BOTH[1]: {"FLANKWISE_TURN_WAIT": "0"}}
        servers = {
            who: stack.enter_context(gunicorn(workers=1, environment=wait, name=who))
            for who, wait in waits.items()
        }
        plans, light, long = plan(), feed() + hexagon(), helix(2000)[:2]

        alone = _each(servers, options, lambda server: wrk(plans, server, options.seconds))
        _keep(part, "plans, 16 callers", alone)
        rates = " and ".join(f"{median_rate(one):.0f}" for one in alone.values())
        part.tell("plans a second with turns over without", ratio(*alone.values()), aim=1.0,
                  at_least=True, note=rates)  # fmt: skip
        _tell(part, "a plan among 16 callers, p99", alone, "p99")

        beside = _each(servers, options, lambda server: _beside(
            server, options.seconds, light, plans, 8))  # fmt: skip
        _keep(part, "light calls beside 8 planners", beside)
        part.tell("a light call beside 8 planners: median with turns over without",
                  1 / _shorter(beside), aim=0.6)  # fmt: skip
        _tell(part, "a light call beside 8 planners, median", beside, "p50")
        _tell(part, "a light call beside 8 planners, p99", beside, "p99")

        behind = _each(servers, options, lambda server: _beside(
            server, max(4.0, options.seconds), plans, long, 1))  # fmt: skip
        _keep(part, "plans beside long paths", behind)
        _tell(part, "a plan beside paths of 8000 segments, median", behind, "p50")
        _tell(part, "a plan beside paths of 8000 segments, p99", behind, "p99")
    return part


def _each(
    servers: dict[str, Running], options: Options, run: Callable[[Running], Load]
) -> dict[str, list[Load]]:
    return interleaved(
        {name: lambda server=server: run(server) for name, server in servers.items()},  # type: ignore[misc]
        options.rounds,
    )


def _beside(server: Running, seconds: float, asks: Asks, others: Asks, callers: int) -> Load:
    """Return the load of two unhurried callers while `callers` others ask without a pause."""
    with ThreadPoolExecutor(1) as pool:
        around = pool.submit(wrk, others, server, seconds + 1, callers)
        found = wrk(asks, server, seconds, connections=2, pause=20)
        around.result()
    return found


def _shorter(found: dict[str, list[Load]]) -> float:
    """Return how many times longer the median is without turns, median over the rounds."""
    pairs = zip(*(found[who] for who in BOTH), strict=True)
    return statistics.median(without.p50 / with_turns.p50 for with_turns, without in pairs)


def _keep(part: Part, name: str, found: dict[str, list[Load]]) -> None:
    part.raw[name] = {who: [asdict(load) for load in loads] for who, loads in found.items()}


def _tell(part: Part, name: str, found: dict[str, list[Load]], what: str) -> None:
    """Tell a figure with turns, and beside it the one without."""
    with_turns, without = (
        statistics.median(getattr(load, what) for load in found[who]) for who in BOTH
    )
    part.tell(name, with_turns, "ms", note=f"without turns {without:.1f}")
