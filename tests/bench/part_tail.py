"""The tail of latency under 70 % of the greatest rate, and whether anything grows with time."""

from __future__ import annotations

import statistics
from dataclasses import asdict

from bench.asks import Asks, feed, helix, hexagon
from bench.goals import Part
from bench.load import CONNECTIONS, Load, wrk
from bench.options import Options
from bench.servers import Running, gunicorn

SHARE = 0.7
SLICES = 6
TRIES = 4
"""Runs after which the pause is near enough; what was really asked for is told."""


def run(options: Options) -> Part:
    """Return p99 over the median, and the growth of memory and latency over the soak."""
    part = Part("tail")
    mixed = (*feed(), *hexagon(), *helix(5)[:8])
    with gunicorn(workers=options.workers) as server:
        greatest = max(wrk(mixed, server, options.seconds).rate for _ in range(3))
        pause = _pause_for(server, mixed, SHARE * greatest, options.seconds)
        _tail(
            part,
            [wrk(mixed, server, options.seconds, pause=pause) for _ in range(options.rounds)],
            greatest,
        )
        _soak(part, server, mixed, pause, options.soak)
    return part


def _pause_for(server: Running, asks: Asks, rate: float, seconds: float) -> float:
    """Return the pause, in milliseconds, with which all connections together ask at `rate`."""
    pause = CONNECTIONS / rate * 1e3
    for _ in range(TRIES):
        found = wrk(asks, server, seconds, pause=pause).rate
        pause = max(0.5, pause + CONNECTIONS * 1e3 * (1 / rate - 1 / found))
    return pause


def _tail(part: Part, loads: list[Load], greatest: float) -> None:
    part.raw["tail"] = [asdict(load) for load in loads]
    part.tell("greatest rate of a mix of feed, hexagon and short paths", greatest, "/s")
    part.tell(
        "share of it asked for here", statistics.median(load.rate for load in loads) / greatest
    )
    part.tell("median latency", statistics.median(load.p50 for load in loads), "ms")
    part.tell("p99 over median", statistics.median(load.p99 / load.p50 for load in loads), aim=5,
              note=f"p99 {statistics.median(load.p99 for load in loads):.1f} ms")  # fmt: skip


def _soak(part: Part, server: Running, asks: Asks, pause: float, seconds: float) -> None:
    memory, loads = [server.resident_bytes()], []
    for _ in range(SLICES):
        loads.append(wrk(asks, server, seconds / SLICES, pause=pause))
        memory.append(server.resident_bytes())
    part.raw["soak"] = {"memory": memory, "loads": [asdict(load) for load in loads]}
    note = f"{seconds:g} s, {sum(load.requests for load in loads):,} requests"
    half = SLICES // 2
    part.tell("memory at the end over memory at the middle of the soak",
              memory[-1] / memory[half], aim=1.02, note=note)  # fmt: skip
    # the least of each half: what grows, grows there too, and a neighbour's burst doesn't show
    later, sooner = (min(load.p50 for load in some) for some in (loads[half:], loads[:half]))
    part.tell("median latency, second half over first half", later / sooner, aim=1.25)
