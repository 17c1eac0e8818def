"""Puts load on a server with wrk, in bounded runs, and says what came of it."""

from __future__ import annotations

import json
import statistics
import subprocess
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from bench.asks import Asks
from bench.servers import OUT, Running

CONNECTIONS = 16
SCRIPT = """
local bodies = {{ {bodies} }}
local paths = {{ {paths} }}
local made, at = {{}}, 0
init = function(args)
    for i = 1, #paths do
        local headers = {{}}
        if bodies[i] then headers["Content-Type"] = "application/json" end
        made[i] = wrk.format("{method}", paths[i], headers, bodies[i])
    end
end
request = function()
    at = at % #made + 1
    return made[at]
end
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
PAUSE = """
delay = function() return math.floor(-math.log(1 - math.random()) * {pause} + 0.5) end
"""
"""Between two requests of one connection: random, like callers that know nothing of each other."""


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


def wrk(
    asks: Asks, server: Running, seconds: float, connections: int = CONNECTIONS,
    pause: float = 0.0,
) -> Load:  # fmt: skip
    """Return what wrk finds in one run, the asks in turns; any reply not 2xx or 3xx ends the bench.

    With `pause`, each connection waits that many milliseconds on average before its next request.
    """
    script = OUT / f"ask-{threading.get_ident()}.lua"  # two may run side by side
    bodies = ",".join("nil" if ask.body is None else f"[==[{ask.body.decode()}]==]" for ask in asks)
    script.write_text(SCRIPT.format(
        bodies=bodies, paths=",".join(f"[==[{ask.path}]==]" for ask in asks),
        method="GET" if asks[0].body is None else "POST",
        more=PAUSE.format(pause=pause) if pause else "",
    ))  # fmt: skip
    before = server.cpu_seconds()
    run = subprocess.run(
        ["wrk", "-t1", f"-c{connections}", f"-d{max(1, round(seconds))}s", "-s", str(script),
         server.url],
        capture_output=True, text=True, check=True, timeout=seconds + 60,
    )  # fmt: skip
    used = server.cpu_seconds() - before
    told = json.loads(run.stdout.splitlines()[-1])
    if told["bad"] or not told["requests"]:
        where = asks[0].path
        raise RuntimeError(f"{where}: {told['bad']} of {told['requests']} requests failed")
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
