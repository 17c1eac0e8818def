"""Counts which small changes of core/ the tests notice.

A changed copy of the project lies in a temporary folder; the checkout itself isn't touched. First
the tests of each folder run once, unchanged, noting which test runs which line. Then each mutant
of a random sample is tried by the tests that run its line, in a process of its own, forked from
one that has the libraries loaded already. A survivor is a gap in the tests, or a change without
a difference: those judged so stand in survivors.txt, each with its reason.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import coverage
import hypothesis
import numpy as np  # noqa: F401  # loaded once here, not by every child
import pytest
from sites import Mutant, count, mutant

ROOT = Path(__file__).resolve().parents[3]
REASONS = Path(__file__).with_name("survivors.txt")
CORE = "service/flankwise_service/core"
TESTS = {
    "units": ["tests/core/test_core_units.py"],
    "errors": ["tests/core/test_core_errors.py"],
    "threads": ["tests/core/threads", "tests/published", "tests/properties/test_threads_properties.py",
                "tests/properties/test_pipe_power_british.py",
                "tests/properties/test_threads_uses_properties.py"],
    "stock": ["tests/core/stock", "tests/published/test_shop_rows.py",
              "tests/properties/test_stock_cutting.py"],
    "cutting": ["tests/core/cutting", "tests/published/test_cutting_handbook.py",
                "tests/properties/test_stock_cutting.py"],
    "path": ["tests/core/path", "tests/properties/test_path_helix.py"],
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


def _recorded(folder: str) -> list[str]:
    """Return the tests that replay the recorded examples of a folder's operations."""
    return [
        f"{REPLAYED}[{file.stem}: {example['name']}]"
        for file in sorted((ROOT / "openapi" / "examples").glob(f"{folder}*.json"))
        for example in json.loads(file.read_text("utf-8"))
    ]


for _folder in TESTS:
    TESTS[_folder] += _recorded(_folder)
COMMON = ["-q", "-x", "--assert=plain", "-p", "no:cacheprovider", "-p", "no:schemathesis", "-p", "no:xdist",
          "-m", "not slow", "--no-header"]  # fmt: skip
MOST_NODES = 400


@dataclass
class Tally:
    """What became of the mutants of one folder."""

    killed: int = 0
    timed_out: int = 0
    equal: int = 0
    survived: list[str] = field(default_factory=list)
    possible: int = 0
    seconds: float = 0.0

    @property
    def tried(self) -> int:
        return self.killed + self.timed_out + self.equal + len(self.survived)


def main() -> int:
    asked = _asked()
    reasons = _reasons()
    copied = Path(tempfile.mkdtemp(prefix="flankwise-mutants-"))
    begun = time.monotonic()
    tallies: dict[str, Tally] = {}
    try:
        _copy(copied)
        share = asked.seconds / len(asked.folders)
        for place, folder in enumerate(asked.folders, 1):
            until = begun + share * place
            tallies[folder] = _try_folder(copied, folder, asked, reasons, until)
    finally:
        shutil.rmtree(copied, ignore_errors=True)
    return _report(tallies, asked, time.monotonic() - begun)


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--folders", nargs="+", default=list(TESTS), choices=list(TESTS))
    parser.add_argument("--sample", type=int, default=60, help="mutants of each folder, at most")
    parser.add_argument("--seconds", type=float, default=1200.0, help="for all folders together")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--least", type=float, default=95.0, help="share killed to succeed, in %%")
    parser.add_argument("--only", default="", help="files whose name holds this")
    return parser.parse_args()


def _reasons() -> dict[str, str]:
    """Return the changes judged to make no difference: file, change before -> after, and why."""
    found = {}
    for line in REASONS.read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            change, _, why = line.partition(" ## ")
            found[change.strip()] = why.strip()
    return found


def _copy(to: Path) -> None:
    drop = shutil.ignore_patterns("__pycache__", "*.pyc", ".hypothesis")
    for name in ("service", "sdk", "tests", "openapi", "deploy"):
        shutil.copytree(ROOT / name, to / name, ignore=drop)
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, to)


def _files(copied: Path, folder: str, only: str) -> Iterator[Path]:
    base = copied / CORE
    single = base / f"{folder}.py"
    for file in [single] if single.exists() else sorted((base / folder).rglob("*.py")):
        if only in file.name:
            yield file


def _try_folder(
    copied: Path, folder: str, asked: argparse.Namespace, reasons: dict[str, str], until: float
) -> Tally:
    begun = time.monotonic()
    runs, normal = _lines_by_test(copied, folder)
    found = [
        (file, place)
        for file in _files(copied, folder, asked.only)
        for place in range(count(file.read_text("utf-8")))
    ]
    random.Random(asked.seed).shuffle(found)
    tally = Tally(possible=len(found))
    for file, place in found[: asked.sample]:
        if time.monotonic() > until:
            break
        made = mutant(file.read_text("utf-8"), place)
        _try_one(copied, folder, file, made, runs, normal, reasons, tally)
    tally.seconds = time.monotonic() - begun
    return tally


def _try_one(
    copied: Path, folder: str, file: Path, made: Mutant,
    runs: dict[str, dict[int, list[str]]], normal: float, reasons: dict[str, str], tally: Tally,
) -> None:  # fmt: skip
    name = str(file.relative_to(copied))
    short = name.removeprefix(CORE + "/")
    stands_in = file.read_text("utf-8").splitlines()[made.line - 1].strip()
    said = f"{short}: {made.before} -> {made.after} in {stands_in}"
    if said in reasons:
        tally.equal += 1
        return
    nodes = runs.get(name, {}).get(made.line, [])
    tests = nodes if 0 < len(nodes) <= MOST_NODES else TESTS[folder]
    before = file.read_text("utf-8")
    file.write_text(made.text, "utf-8")
    try:
        doctests = [] if file.name.startswith("__") else ["--doctest-modules", str(file)]
        code = _in_child(copied, [*doctests, *tests], min(120.0, 20 + 6 * normal))
    finally:
        file.write_text(before, "utf-8")
    if code is None:
        tally.timed_out += 1
    elif code != 0:
        tally.killed += 1
    else:
        tally.survived.append(f"{said}  (line {made.line}, {made.kind})")
        print(f"survived  {said}  (line {made.line}, {made.kind})", flush=True)


def _lines_by_test(copied: Path, folder: str) -> tuple[dict[str, dict[int, list[str]]], float]:
    """Return, by file and line, the tests that run it; and how long all of them take."""
    data_file = copied / f".coverage-{folder}"
    begun = time.monotonic()
    options = [
        "--cov",
        "--cov-report=",
        "--cov-context=test",
        f"--cov-config={_config(copied, data_file)}",
    ]
    failing = copied / "failing.txt"
    failing.write_text("")
    code = _in_child(copied, [*options, "--maxfail=20", *TESTS[folder]], 1200)
    if code not in (0, 1):
        raise SystemExit(f"the tests of {folder} can't run unchanged (status {code})")
    for node in failing.read_text().splitlines():
        print(f"left out, for it fails without any change: {node}", flush=True)
        COMMON.append(f"--deselect={node}")
    seconds = time.monotonic() - begun
    data = coverage.CoverageData(str(data_file))
    data.read()
    runs: dict[str, dict[int, list[str]]] = {}
    for measured in data.measured_files():
        by_line = data.contexts_by_lineno(measured)
        name = os.path.relpath(measured, copied)
        runs[name] = {line: _nodes(contexts) for line, contexts in by_line.items()}
    return runs, seconds


def _nodes(contexts: list[str]) -> list[str]:
    """Return the tests named in coverage's contexts; none where the line runs on import too."""
    if "" in contexts:
        return []
    return sorted({context.rpartition("|")[0] for context in contexts})


def _config(copied: Path, data_file: Path) -> Path:
    file = copied / "coverage.ini"
    file.write_text(f"[run]\nbranch = false\ndata_file = {data_file}\nsource = {copied / CORE}\n")
    return file


def _in_child(copied: Path, arguments: list[str], most: float) -> int | None:
    """Return pytest's status from a process of its own, None where it took too long."""
    child = os.fork()
    if child == 0:
        _be_child(copied, arguments)
    until = time.monotonic() + most
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _be_child(copied: Path, arguments: list[str]) -> None:
    status = 99
    try:
        os.setpgid(0, 0)
        log = os.environ.get("FLANKWISE_MUTATION_LOG", os.devnull)
        silence = os.open(log, os.O_RDWR | os.O_CREAT | os.O_APPEND)
        for stream in (0, 1, 2):
            os.dup2(silence, stream)
        os.chdir(copied)
        paths = [str(copied / "service"), str(copied / "sdk"), str(copied / "tests")]
        sys.path[:0] = paths
        os.environ["PYTHONPATH"] = os.pathsep.join(paths)
        sys.dont_write_bytecode = True
        # A counterexample is enough: it needn't be made small, and the same ones every time.
        hypothesis.settings.register_profile(
            "mutation", database=None, deadline=None, derandomize=True,
            phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
        )  # fmt: skip
        hypothesis.settings.load_profile("mutation")
        status = int(pytest.main([*COMMON, *arguments], plugins=[Failing()]))
    except BaseException:
        traceback.print_exc()
        sys.stderr.flush()
    finally:
        os._exit(status)


class Failing:
    """Notes the tests that fail, for the run without a change."""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            with Path("failing.txt").open("a", encoding="utf-8") as file:
                file.write(report.nodeid + "\n")


def _report(tallies: dict[str, Tally], asked: argparse.Namespace, seconds: float) -> int:
    print(f"\nmutants of core/, seed {asked.seed}, at most {asked.sample} of each folder")
    print(f"{'folder':9} {'possible':>8} {'tried':>6} {'killed':>7} {'timeout':>8} "
          f"{'equal':>6} {'survived':>9} {'killed %':>9} {'seconds':>8}")  # fmt: skip
    total: Counter[str] = Counter()
    for folder, tally in tallies.items():
        survived = len(tally.survived)
        counts = {"possible": tally.possible, "tried": tally.tried, "killed": tally.killed,
                  "timed_out": tally.timed_out, "equal": tally.equal, "survived": survived}  # fmt: skip
        total.update(counts)
        _row(folder, counts, tally.seconds)
    percent = _row("all", total, seconds)
    return 0 if percent >= asked.least else 1


def _row(name: str, counts: dict[str, int] | Counter[str], seconds: float) -> float:
    caught = counts["killed"] + counts["timed_out"]
    percent = 100.0 * caught / max(1, caught + counts["survived"])
    print(f"{name:9} {counts['possible']:8} {counts['tried']:6} {counts['killed']:7} "
          f"{counts['timed_out']:8} {counts['equal']:6} {counts['survived']:9} "
          f"{percent:9.1f} {seconds:8.0f}")  # fmt: skip
    return percent


if __name__ == "__main__":
    sys.exit(main())
