"""Runs the parts asked for, prints each figure beside its goal, writes results and pictures.

sh tests/bench/run
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import shutil
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict
from importlib import import_module

from bench.goals import Goal, Part
from bench.options import Options
from bench.servers import OUT

PARTS = ("floor", "plan", "size", "tail", "turns", "start", "processes", "cores", "sdk")


def main(arguments: Sequence[str] | None = None) -> int:
    """Return 0 when the bench ran, whatever the figures; with --strict, 1 where one is short."""
    parser = argparse.ArgumentParser(prog="sh tests/bench/run", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="part", help="of: " + " ".join(PARTS))
    parser.add_argument("--seconds", type=float, default=2.0, help="length of one run of wrk")
    parser.add_argument("--rounds", type=int, default=5, help="runs of each contestant, in turns")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--soak", type=float, default=30.0, help="seconds of steady load")
    parser.add_argument("--strict", action="store_true", help="fail where a figure is short")
    asked = parser.parse_args(arguments)
    unknown = set(asked.parts) - set(PARTS)
    if unknown:
        parser.error(f"no such part: {', '.join(sorted(unknown))}; there are: {' '.join(PARTS)}")
    options = Options(asked.seconds, asked.rounds, asked.workers, asked.soak)
    OUT.mkdir(parents=True, exist_ok=True)
    machine = _machine()
    print(f"{machine['cores']} cores, load average {machine['load_before']}, {machine['python']}")
    print(
        f"A fixed loop took {machine['fixed_loop_ms']} ms (tenth, half, nine tenths of the tries)."
    )
    print("Absolute rates are this machine's at this minute; ratios are what counts.")
    parts = [_run(name, options) for name in asked.parts or PARTS]
    machine["load_after"] = _load()
    _write(parts, options, machine)
    return _sum_up([goal for part in parts for goal in part.goals], asked.strict)


def _run(name: str, options: Options) -> Part:
    print(f"\n{name}", flush=True)
    part: Part = import_module(f"bench.part_{name}").run(options)
    return part


def _machine() -> dict[str, object]:
    return {
        "cores": os.cpu_count(), "load_before": _load(), "python": platform.python_version(),
        "system": platform.platform(), "wrk": shutil.which("wrk"), "nginx": shutil.which("nginx"),
        "fixed_loop_ms": _fixed_loop(),
        "time": time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime()),
    }  # fmt: skip


def _fixed_loop() -> list[float]:
    """Return how unsteady the machine itself is: one loop, timed a few hundred times."""
    times = []
    for _ in range(400):
        begun = time.perf_counter()
        total = 0.0
        for step in range(20_000):
            total += step * 0.5
        times.append((time.perf_counter() - begun) * 1e3)
    times.sort()
    return [round(times[place], 2) for place in (40, 200, 360)]


def _load() -> list[float]:
    return [round(value, 2) for value in os.getloadavg()]


def _write(parts: Sequence[Part], options: Options, machine: dict[str, object]) -> None:
    told = {
        "machine": machine,
        "options": asdict(options),
        "parts": {
            part.name: {
                "goals": [{**asdict(goal), "met": goal.met} for goal in part.goals],
                "measured": part.raw,
            }
            for part in parts
        },
    }
    (OUT / "result.json").write_text(json.dumps(told, indent=1))
    for part in parts:
        for name, text in part.pictures.items():
            (OUT / name).write_text(text)


def _sum_up(goals: Sequence[Goal], strict: bool) -> int:
    judged = [goal for goal in goals if goal.met is not None]
    short = [goal for goal in judged if not goal.met]
    print(f"\n{len(judged) - len(short)} of {len(judged)} goals met")
    for goal in short:
        print("  " + goal.line())
    print(f"all figures: {OUT / 'result.json'}, pictures beside it")
    return 1 if short and strict else 0


if __name__ == "__main__":
    sys.exit(main())
