"""What one core can answer, from processor time, and the cores that a given load takes."""

from __future__ import annotations

import statistics
from dataclasses import asdict

from bench.asks import feed, helix, hexagon, limits, plan
from bench.floors import HELIX_TURNS
from bench.goals import Part
from bench.load import wrk
from bench.options import Options
from bench.servers import gunicorn

LOADS = (("limits, kept", limits), ("feed", feed), ("hexagon", hexagon),
         ("path of 100 segments", lambda: helix(HELIX_TURNS)), ("whole plan", plan))  # fmt: skip
BUSY = 0.7
"""Share of a core that may be used before the tail of latency grows."""


def run(options: Options) -> Part:
    """Return requests a second for each fully used core."""
    part = Part("cores")
    with gunicorn(workers=options.workers) as server:
        for name, asks in LOADS:
            wrk(asks(), server, 1)
            loads = [wrk(asks(), server, options.seconds) for _ in range(options.rounds)]
            part.raw[name] = [asdict(load) for load in loads]
            cpu = statistics.median(load.cpu_ms for load in loads)
            part.tell(f"{name}: requests a second of one core", 1e3 / cpu, "/s",
                      note=f"{cpu:.3f} ms each; 1000 a second take {cpu / BUSY:.1f} cores at 70 %")  # fmt: skip
    return part
