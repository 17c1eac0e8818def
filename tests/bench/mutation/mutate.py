"""Counts which small changes of core/ the tests notice.

The changes are those of the library cosmic-ray (`changes.py`), a random sample of each folder;
each is tried by the tests that run its line (`runner.py`). A survivor is a gap in the tests, or
a change without a difference: those judged so stand in survivors.txt, each with its reason.
"""

from __future__ import annotations

import argparse
import json
import signal
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from bench.mutation.changes import Change, change, drawn, sites
from bench.mutation.runner import CORE, ROOT, Runs, copied_project, outcome, unchanged

REASONS = Path(__file__).with_name("survivors.txt")
ONE_BY_ONE = "tests/properties/test_one_by_one.py"
TESTS = {
    "units": ["tests/core/test_core_units.py", "tests/core/test_core_written.py",
              "tests/core/plan/test_plan_said_right.py"],
    "errors": ["tests/core/test_core_errors.py"],
    "threads": ["tests/core/threads", "tests/published", "tests/properties/test_threads_properties.py",
                "tests/properties/test_pipe_power_british.py",
                "tests/properties/test_threads_uses_properties.py",
                "tests/properties/test_threads_one_by_one.py"],
    "stock": ["tests/core/stock", "tests/published/test_shop_rows.py",
              "tests/published/test_stock_lists.py", "tests/properties/test_stock_cutting.py",
              ONE_BY_ONE],
    "cutting": ["tests/core/cutting", "tests/published/test_cutting_handbook.py",
                "tests/published/test_shop_rows.py", "tests/published/test_starting_figures.py",
                "tests/properties/test_stock_cutting.py", ONE_BY_ONE],
    "path": ["tests/core/path", "tests/properties/test_path_helix.py", ONE_BY_ONE],
    "form": ["tests/core/form"],
    "gauging": ["tests/core/gauging", "tests/published/test_wires.py",
                "tests/properties/test_gauging_properties.py"],
    "program": ["tests/core/program", "tests/published/test_program_rs274.py",
                "tests/properties/test_program_jobs.py"],
    "drawing": ["tests/core/drawing", "tests/web/test_web_drawing.py"],
    "plan": ["tests/core/plan", "tests/properties/test_plan_properties.py"],
}  # fmt: skip
REPLAYED = (
    "tests/contract/test_contract_examples.py::test_an_example_replayed_gives_what_is_recorded"
)

WRITTEN = (
    "tests/contract/test_contract_written.py"
    "::test_every_generated_file_is_committed_as_it_would_be_written"
)
"""Works out every recorded example of every operation; the slowest, so what lives long meets it."""


@dataclass
class Tally:
    """What became of the changes of one folder."""

    possible: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    seconds: float = 0.0


def main() -> int:
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # the copy is cleared away all the same
    asked = _asked()
    reasons = _reasons()
    begun = time.monotonic()
    tallies: dict[str, Tally] = {}
    with copied_project() as copied:
        _tell_stale(copied, reasons)
        for place, folder in enumerate(asked.folders, 1):
            until = begun + asked.seconds * place / len(asked.folders)
            tallies[folder] = _try_folder(copied, folder, asked, reasons, until)
    return _report(tallies, asked, time.monotonic() - begun)


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--folders", nargs="+", default=["all"], choices=["all", *TESTS])
    parser.add_argument("--sample", type=int, default=60, help="changes of each folder, at most")
    parser.add_argument("--seconds", type=float, default=1800.0, help="for all folders together")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--least", type=float, default=95.0, help="share killed to succeed, in %%")
    parser.add_argument("--only", default="", help="files whose path in core/ holds this")
    parser.add_argument("--tests", nargs="+", default=[], help="these instead of the folder's own")
    asked = parser.parse_args()
    if "all" in asked.folders:
        asked.folders = list(TESTS)
    return asked


def _tests(folder: str) -> list[str]:
    """Return a folder's tests, those that replay its operations' examples, and all examples."""
    replayed = [
        f"{REPLAYED}[{file.stem}: {example['name']}]"
        for file in sorted((ROOT / "openapi" / "examples").glob(f"{folder}*.json"))
        for example in json.loads(file.read_text("utf-8"))
    ]
    return [*TESTS[folder], *replayed, WRITTEN]


def _reasons() -> dict[str, str]:
    """Return the changes judged to make no difference, as `file: line -> changed line`.

    Each by itself without its spaces, for those of a changed line are the library's.
    """
    found = {}
    for line in REASONS.read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            said = line.partition(" ## ")[0].strip()
            found[_unspaced(said)] = said
    return found


def _unspaced(text: str) -> str:
    """Return a text without its spaces."""
    return "".join(text.split())


def _tell_stale(copied: Path, reasons: dict[str, str]) -> None:
    """Print what survivors.txt names of lines that aren't there any more."""
    for bare, said in reasons.items():
        name, _, lines = bare.partition(":")
        file = copied / CORE / name
        text = _unspaced(file.read_text("utf-8")) if file.exists() else ""
        if lines.partition("->")[0] not in text:
            print(f"survivors.txt names a line that is gone: {said}", flush=True)


def _files(copied: Path, folder: str, only: str) -> Iterator[Path]:
    base = copied / CORE
    single = base / f"{folder}.py"
    for file in [single] if single.exists() else sorted((base / folder).rglob("*.py")):
        if only in str(file.relative_to(base)):
            yield file


def _try_folder(
    copied: Path, folder: str, asked: argparse.Namespace, reasons: dict[str, str], until: float
) -> Tally:
    begun = time.monotonic()
    files = {str(file.relative_to(copied)): file for file in _files(copied, folder, asked.only)}
    offered = {name: sites(file.read_text("utf-8")) for name, file in files.items()}
    tally = Tally(possible=sum(map(len, offered.values())))
    if not tally.possible:
        return tally
    runs = unchanged(copied, asked.tests or _tests(folder))
    for node in runs.failing:
        print(f"left out, for it fails without any change: {node}", flush=True)
    for name, site in drawn(offered, asked.seed):
        if tally.counts.total() >= asked.sample or time.monotonic() > until:
            break
        made = change(files[name].read_text("utf-8"), site)
        if made is not None:
            doctests = [] if asked.tests else _doctests(files[name])
            became = _became(copied, files[name], made, runs, doctests, reasons)
            tally.counts[became] += 1
            if tally.counts.total() % 20 == 0:
                print(f"{folder}: {tally.counts.total()} tried", file=sys.stderr, flush=True)
    tally.seconds = time.monotonic() - begun
    return tally


def _doctests(file: Path) -> list[str]:
    return [] if file.name.startswith("__") else ["--doctest-modules", str(file)]


def _became(
    copied: Path, file: Path, made: Change, runs: Runs,
    doctests: list[str], reasons: dict[str, str],
) -> str:  # fmt: skip
    said = f"{file.relative_to(copied / CORE)}: {made.said}"
    if _unspaced(said) in reasons:
        return "named"
    became = outcome(copied, file, made.text, runs, made.line, doctests)
    if became == "survived":
        print(f"survived  {said}  (line {made.line}, {made.kind})", flush=True)
    return became


COLUMNS = ("killed", "timed out", "named", "survived")


def _report(tallies: dict[str, Tally], asked: argparse.Namespace, seconds: float) -> int:
    print(f"\nchanges of core/, seed {asked.seed}, at most {asked.sample} of each folder")
    print(
        "named: makes no difference, see survivors.txt; killed %: of those that make one, timed out counts"
    )
    print(f"{'folder':9} {'possible':>8} {'tried':>6} {'killed':>7} {'timed out':>9} {'named':>6} "
          f"{'survived':>9} {'killed %':>9} {'seconds':>8}")  # fmt: skip
    total = Tally(seconds=seconds)
    for folder, tally in tallies.items():
        _row(folder, tally)
        total.possible += tally.possible
        total.counts.update(tally.counts)
    percent = _row("all", total)
    return 0 if percent >= asked.least else 1


def _row(name: str, tally: Tally) -> float:
    killed, timed_out, named, survived = (tally.counts[column] for column in COLUMNS)
    caught = killed + timed_out
    percent = 100.0 * caught / max(1, caught + survived)
    print(f"{name:9} {tally.possible:8} {tally.counts.total():6} {killed:7} {timed_out:9} {named:6} "
          f"{survived:9} {percent:9.1f} {tally.seconds:8.0f}")  # fmt: skip
    return percent


if __name__ == "__main__":
    sys.exit(main())
