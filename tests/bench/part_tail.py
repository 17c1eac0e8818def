"""The tail of latency under 70 % of the greatest rate, and whether anything grows with time.

Neighbours on the machine make a tail too. So the floor servers are asked in turns with the service
for requests of the same kind, and their own p99 over median is told beside the service's: what both
have is the machine's. Feed and hexagon are asked alone as well: in the mix the median is that of a
cheap request and the 99th percentile that of a dear one (a path), however short the queue.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import asdict, dataclass

from bench.asks import Asks, elsewhere, feed, helix, hexagon
from bench.goals import Part
from bench.load import CONNECTIONS, Load, wrk
from bench.options import Options
from bench.servers import Running, gunicorn

SHARE = 0.7
WAITED = 0.4
"""Latency at that share over latency at the greatest rate, near enough; the share is told."""
SLICES = 6


@dataclass(frozen=True)
class Round:
    """One run at the greatest rate, and right after it one at the share of it."""

    greatest: Load
    share: Load

    @property
    def tail(self) -> float:
        """p99 over the median."""
        return self.share.p99 / self.share.p50


def run(options: Options) -> Part:
    """Return p99 over the median, and the growth of memory and latency over the soak."""
    part = Part("tail")
    with ExitStack() as stack:
        # never replaced: a new worker would hide what grows
        lasting = {"FLANKWISE_MAX_REQUESTS": "0"}
        service = stack.enter_context(gunicorn(workers=options.workers, environment=lasting))
        floor = stack.enter_context(
            gunicorn("bench.floors:build()", workers=options.workers, name="floor")
        )
        cheap, mix = (_cheap(), _cheap(floor=True)), (_mix(), _mix(floor=True))
        _compare(part, options, "feed and hexagon", cheap, (service, floor))
        rounds = _compare(part, options, "feed, hexagon and short paths", mix, (service, floor))
        greatest = statistics.median(one.greatest.rate for one in rounds)
        _soak(part, service, mix[0], _pause(greatest), options.soak)
    return part


def _cheap(floor: bool = False) -> Asks:
    if floor:
        return elsewhere(feed(), "/feed") + elsewhere(hexagon(), "/hexagon")
    return feed() + hexagon()


def _mix(floor: bool = False) -> Asks:
    paths = helix(5)[:8]
    return _cheap(floor) + (elsewhere(paths, "/helix") if floor else paths)


def _compare(
    part: Part,
    options: Options,
    name: str,
    asks: tuple[Asks, Asks],
    servers: tuple[Running, Running],
) -> list[Round]:
    """Tell the tail of the service and of its floor; return the service's rounds."""
    found: tuple[list[Round], list[Round]] = ([], [])
    for server, some in zip(servers, asks, strict=True):
        wrk(some, server, 1)
    for _ in range(options.rounds):
        for rounds, server, some in zip(found, servers, asks, strict=True):
            rounds.append(_round(some, server, options.seconds))
    service, floor = found
    part.raw[name] = {
        who: [asdict(one) for one in rounds]
        for who, rounds in (("service", service), ("floor", floor))
    }
    part.tell(f"p99 over median: {name}", _tail(service), aim=5, note=_note(service))
    part.tell("  the floor servers' own, in turns with it", _tail(floor), note=_note(floor))
    return service


def _round(asks: Asks, server: Running, seconds: float) -> Round:
    greatest = wrk(asks, server, seconds / 2)
    return Round(greatest, wrk(asks, server, seconds, pause=_pause(greatest.rate)))


def _pause(greatest: float) -> float:
    """Return the pause in ms with which all connections together ask at the share of `greatest`."""
    return CONNECTIONS / greatest * 1e3 * (1 / SHARE - WAITED)


def _tail(rounds: Sequence[Round]) -> float:
    return statistics.median(one.tail for one in rounds)


def _note(rounds: Sequence[Round]) -> str:
    p50, p99, rate, share = (
        statistics.median(figures)
        for figures in zip(
            *(
                (
                    one.share.p50,
                    one.share.p99,
                    one.greatest.rate,
                    one.share.rate / one.greatest.rate,
                )
                for one in rounds
            ),
            strict=True,
        )
    )
    return f"{p99:.1f} / {p50:.1f} ms at {share:.2f} of {rate:,.0f} a second"


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
