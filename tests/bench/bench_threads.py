"""How fast threads are: a lookup in core after first use, the whole list, a refusal.

python tests/bench/bench_threads.py
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "service"))

from flankwise_service.core.errors import Refusal
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.listing import page


def microseconds(work: Callable[[], object], runs: int) -> tuple[float, float]:
    """Return the first and the median time of `work`, microseconds."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1e6)
    return times[0], statistics.median(times)


def refused(text: str) -> None:
    """Ask for what is refused."""
    try:
        limits(text)
    except Refusal:
        return
    raise AssertionError(text)


def main() -> None:
    """Print the figures, with the aim of each where there is one."""
    rows: list[tuple[str, Callable[[], object], int, str]] = [
        ("lookup 7/8-14 UNF-2A", lambda: limits_in(limits("7/8-14 UNF-2A"), "mm"), 2000, "100 after first"),
        ("lookup M20x1.5-6H", lambda: limits_in(limits("M20x1.5-6H"), "in"), 2000, "100 after first"),
        ("whole list", lambda: page(count=5000), 20, "1,000,000"),
        ("refusal 15/16-18 UN", lambda: refused("15/16-18 UN"), 500, ""),
        ("refusal of what is no thread", lambda: refused("hello there"), 100, ""),
        ("refusal of 5000 digits", lambda: refused("9" * 5000), 500, ""),
    ]  # fmt: skip
    for name, work, runs, aim in rows:
        first, median = microseconds(work, runs)
        print(f"{name:32} first {first:10.0f}  median {median:9.1f} microseconds  aim {aim or '-'}")


if __name__ == "__main__":
    main()
