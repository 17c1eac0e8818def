"""How soon a worker answers, how long the import takes, how soon the command line says its help."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

from bench.goals import Part
from bench.options import Options
from bench.servers import OUT, gunicorn

IMPORT = """
import time
begun = time.perf_counter()
import flankwise_service.wsgi
print((time.perf_counter() - begun) * 1e3)
"""


def run(options: Options) -> Part:
    """Return the medians, each of a few fresh processes."""
    part = Part("start")
    OUT.mkdir(parents=True, exist_ok=True)
    for name, aim, once in (
        ("import of the service", 500, _import),
        ("python -m flankwise --help", 200, _help),
        ("gunicorn with one worker, to the first reply", 1000, _ready),
    ):
        once()
        times = [once() for _ in range(options.rounds)]
        part.raw[name] = times
        part.tell(name, statistics.median(times), "ms", aim=aim, note=f"least {min(times):.0f}")
    return part


def _import() -> float:
    return float(_run("-c", IMPORT))


def _help() -> float:
    begun = time.perf_counter()
    _run("-m", "flankwise", "--help")
    return (time.perf_counter() - begun) * 1e3


def _ready() -> float:
    with gunicorn(workers=1, name="start") as server:
        return server.ready_seconds * 1e3


def _run(*arguments: str) -> str:
    return subprocess.run(
        [sys.executable, *arguments],
        capture_output=True,
        text=True,
        check=True,
        cwd=OUT,
        timeout=60,
    ).stdout
