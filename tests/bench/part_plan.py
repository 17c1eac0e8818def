"""The whole plan: form, checks and proved program from one job document."""

from __future__ import annotations

import statistics
from collections.abc import Callable
from dataclasses import asdict

from bench.asks import plan
from bench.goals import Part
from bench.inside import answer, application, cpu_ms
from bench.load import wrk
from bench.options import Options
from bench.servers import gunicorn

RUNS = 60


def run(options: Options) -> Part:
    """Return processor time and latency of a whole plan, and where the time goes."""
    part = Part("plan")
    asks = plan()
    app = application()
    whole = [cpu_ms(lambda ask=ask: answer(app, ask)) for ask in asks * 2][2:]  # type: ignore[misc]
    part.raw["in_process_ms"] = whole
    part.tell("whole plan, median, in the process, no drawing", statistics.median(whole), "ms", aim=3,
              note=f"least {min(whole):.1f}")  # fmt: skip
    with gunicorn(workers=1) as server:
        wrk(asks, server, 1, connections=1)
        alone = [wrk(asks, server, options.seconds, connections=1) for _ in range(options.rounds)]
    part.raw["alone"] = [asdict(load) for load in alone]
    cpu = statistics.median(load.cpu_ms for load in alone)
    part.tell("whole plan over HTTP, processor time of one core", cpu, "ms", aim=10,
              note=f"least {min(load.cpu_ms for load in alone):.1f}")  # fmt: skip
    part.tell("whole plan over HTTP, median latency of one caller",
              statistics.median(load.p50 for load in alone), "ms")  # fmt: skip
    for name, median in steps().items():
        part.tell(f"  of which {name}", median, "ms")
    return part


def steps() -> dict[str, float]:
    """Return the median processor time of each step of a plan, milliseconds."""
    import orjson

    from flankwise_service.core.form.offset import diameter_per_depth
    from flankwise_service.core.plan import compose, preparing
    from flankwise_service.core.plan.measuring import gauging_plan
    from flankwise_service.web.dump import to_json
    from flankwise_service.web.load import load
    from flankwise_service.web.plan import job_from
    from flankwise_service.web.schemas.plan import JobAsk

    spent: dict[str, list[float]] = {}

    def step(name: str, work: Callable[[], object]) -> object:
        found: list[object] = []
        spent.setdefault(name, []).append(cpu_ms(lambda: found.append(work())))
        return found[0]

    schema, asks = JobAsk(), plan()
    for place in range(RUNS):
        raw = orjson.loads(asks[place % len(asks)].body or b"")
        job = job_from(load(schema, raw))
        step("loading the job", lambda raw=raw: job_from(load(schema, raw)))  # type: ignore[misc]
        ready = preparing.prepared(job)
        step("thread, bar, blank, tools", lambda job=job: preparing.prepared(job))  # type: ignore[misc]
        cut = compose.milled(ready)
        step("form, speed, passes", lambda ready=ready: compose.milled(ready))  # type: ignore[misc]
        path = compose.laid(ready, cut)
        step("paths and collisions", lambda ready=ready, cut=cut: compose.laid(ready, cut))  # type: ignore[misc]
        step("gauging", lambda job=job, ready=ready, cut=cut: gauging_plan(  # type: ignore[misc]
            job, ready.sizes, diameter_per_depth(cut.cut)))  # fmt: skip
        done = compose.work(job, "bench")
        checks = done.plan.checks
        step("program, written and proved", lambda ready=ready, cut=cut, path=path, checks=checks:  # type: ignore[misc]
             compose._program(ready, cut, path, checks, "bench"))  # fmt: skip
        step("dump as JSON", lambda done=done: to_json(done.plan))  # type: ignore[misc]
    return {name: statistics.median(times) for name, times in spent.items()}
