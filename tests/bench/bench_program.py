"""How fast programs are written, read and proved, and how the cost grows with the path.

python tests/bench/bench_program.py
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "service"), str(ROOT / "tests")]

from flankwise_service.core.path.segment import Segment  # noqa: E402
from flankwise_service.core.program.interpreter import read_program  # noqa: E402
from flankwise_service.core.program.program import write_program  # noqa: E402
from flankwise_service.core.program.setup import Operation  # noqa: E402
from flankwise_service.core.program.writer import program_lines  # noqa: E402
from support.program_jobs import MILL, MM, arc, line  # noqa: E402


def path(arcs: int) -> list[Segment]:
    """Return a helix of quarter turns."""
    begin = (4.0, 0.0, 0.5)
    found = [line((4.0, 0.0, 2.0), begin)]
    for _ in range(arcs):
        found.append(arc(tuple(found[-1].end), (0.0, 0.0), 90.0, 0.0001))  # type: ignore[arg-type]
    last = found[-1].end
    found.append(line(tuple(last), (last.x, last.y, 25.0), None))
    return found


def milliseconds(work: Callable[[], object], runs: int) -> float:
    """Return the median processor time of `work`, milliseconds."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append((time.process_time() - start) * 1e3)
    return statistics.median(times)


def main() -> None:
    """Print the figures: whole, and for each segment."""
    print("segments     write      read   write, read and prove   microseconds a segment")
    for arcs in (100, 230, 1000, 5000, 10_000):
        job = [Operation(MILL, path(arcs))]
        text = write_program(MM, job).text
        runs = max(3, 4000 // arcs)
        write = milliseconds(lambda job=job: list(program_lines(MM, job)), runs)  # type: ignore[misc]
        read = milliseconds(lambda text=text: read_program(text), runs)  # type: ignore[misc]
        whole = milliseconds(lambda job=job: write_program(MM, job), runs)  # type: ignore[misc]
        print(f"{arcs:8} {write:9.2f} {read:9.2f} {whole:20.2f} {whole * 1e3 / arcs:20.1f}")


if __name__ == "__main__":
    main()
