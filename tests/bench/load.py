"""Puts load on a server with wrk, in bounded runs, and says what came of it."""

from __future__ import annotations

import json
import statistics
import subprocess
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from bench.asks import Ask
from bench.servers import OUT, Running

CONNECTIONS = 16
SCRIPT = """
wrk.method = "{method}"
{more}
done = function(summary, latency, requests)
    local errors = summary.errors
    print(string.format(
        '{{"requests":%d,"seconds":%f,"bytes":%d,"p50":%f,"p90":%f,"p99":%f,"max":%f,"bad":%d}}',
        summary.requests, summary.duration / 1e6, summary.bytes, latency:percentile(50) / 1e3,
        latency:percentile(90) / 1e3, latency:percentile(99) / 1e3, latency.max / 1e3,
        errors.connect + errors.read + errors.write + errors.status + errors.timeout))
end
"""


@dataclass(frozen=True)
class Load:
    """What one run of wrk found; times in milliseconds."""

    requests: int
    seconds: float
    bytes: int
    p50: float
    p90: float
    p99: float
    max: float
    bad: int
    cpu_ms: float = 0.0
    """Processor time of the server for each request."""

    @property
    def rate(self) -> float:
        """Requests a second."""
        return self.requests / self.seconds


def wrk(ask: Ask, server: Running, seconds: float, connections: int = CONNECTIONS) -> Load:
    """Return what wrk finds in one run; any reply that isn't 2xx or 3xx ends the bench."""
    script = OUT / "ask.lua"
    more = ""
    if ask.body is not None:
        more = f'wrk.headers["Content-Type"] = "application/json"\nwrk.body = [==[{ask.body.decode()}]==]'
    method = "GET" if ask.body is None else "POST"
    script.write_text(SCRIPT.format(method=method, more=more))
    before = server.cpu_seconds()
    run = subprocess.run(
        ["wrk", "-t1", f"-c{connections}", f"-d{max(1, round(seconds))}s", "-s", str(script),
         server.url + ask.path],
        capture_output=True, text=True, check=True, timeout=seconds + 60,
    )  # fmt: skip
    used = server.cpu_seconds() - before
    told = json.loads(run.stdout.splitlines()[-1])
    if told["bad"] or not told["requests"]:
        raise RuntimeError(f"{ask.path}: {told['bad']} of {told['requests']} requests failed")
    return Load(**told, cpu_ms=used * 1e3 / told["requests"])


def interleaved(asks: Mapping[str, Callable[[], Load]], rounds: int) -> dict[str, list[Load]]:
    """Return the runs of each, taken in turns (A B A B), after one short warm-up each."""
    found: dict[str, list[Load]] = {name: [] for name in asks}
    for run in asks.values():
        run()
    for _ in range(rounds):
        for name, run in asks.items():
            found[name].append(run())
    return found


def median_rate(loads: Sequence[Load]) -> float:
    """Return the median of requests a second."""
    return statistics.median(load.rate for load in loads)


def ratio(upper: Sequence[Load], lower: Sequence[Load]) -> float:
    """Return the median over the rounds of one rate over the other of the same round."""
    return statistics.median(a.rate / b.rate for a, b in zip(upper, lower, strict=True))


def cpu_ratio(upper: Sequence[Load], lower: Sequence[Load]) -> float:
    """Return the same by processor time, which neighbours on the machine disturb far less."""
    return statistics.median(b.cpu_ms / a.cpu_ms for a, b in zip(upper, lower, strict=True))
