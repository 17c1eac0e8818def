"""Tries changes of one file with the tests that run the changed line.

cosmic-ray's own runner starts a process for each change, which loads Python, numpy and pytest
again and runs every test: ten seconds and more. Here a changed copy of the project lies in a
temporary folder, the tests run once, unchanged, noting which test runs which line, and each change
is tried by those in a process forked from one that has the libraries loaded: one or two seconds.
"""

from __future__ import annotations

import functools
import gc
import importlib
import json
import os
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import coverage
import hypothesis
import pytest

ROOT = Path(__file__).resolve().parents[3]
CORE = "service/flankwise_service/core"
OPTIONS = ["-q", "-x", "--assert=plain", "-p", "no:cacheprovider", "-p", "no:schemathesis", "-p", "no:xdist",
           "-p", "no:anyio", "-m", "not slow", "--no-header"]  # fmt: skip
LOADED = ("flask.testing", "hypothesis.strategies", "marshmallow", "numpy", "orjson", "prometheus_client",
          "pytest_cov.plugin", "pytest_timeout", "requests", "_hypothesis_pytestplugin")  # fmt: skip
"""Loaded once, not by every child."""

MOST_NODES = 400
PRINTED, NOTED = "printed.txt", "noted.txt"
"""What the last child printed, and what it noted of each test."""

KEPT = {"identify._index", "listing._all_listed", "register._all_designations"}
"""What the service works out once of every thread: too slow to do again for each test."""

UNCHANGED = 1200.0
"""Seconds for all tests of a folder, once."""

Outcome = Literal["killed", "timed out", "survived"]


@dataclass(frozen=True)
class Runs:
    """What the unchanged tests did: who runs which line of which file, how long all take."""

    tests: list[str]
    by_line: dict[str, dict[int, set[str]]]
    seconds: float
    took: dict[str, float]
    """Seconds of each test, the quickest first."""
    failing: list[str]

    def of(self, name: str, line: int) -> list[str]:
        """Return the tests that run a line, the quickest first; all where that isn't known."""
        nodes = self.by_line.get(name, {}).get(line) or set(self.took)
        return (
            [one for one in self.took if one in nodes] if len(nodes) <= MOST_NODES else self.tests
        )


@contextmanager
def copied_project() -> Iterator[Path]:
    """Yield a folder with a copy of the project, for as long as it is used."""
    to = Path(tempfile.mkdtemp(prefix="flankwise-mutants-"))
    drop = shutil.ignore_patterns("__pycache__", "*.pyc", ".hypothesis")
    try:
        for name in ("service", "sdk", "tests", "openapi", "deploy"):
            shutil.copytree(ROOT / name, to / name, ignore=drop)
        for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
            shutil.copy(ROOT / name, to)
        for name in LOADED:
            importlib.import_module(name)
        yield to
    finally:
        shutil.rmtree(to, ignore_errors=True)


def unchanged(copied: Path, tests: list[str]) -> Runs:
    """Run the tests without any change, and note which of them runs which line of core/."""
    begun = time.monotonic()
    data_file = Path(tempfile.mkdtemp(dir=copied)) / "coverage"
    settings = data_file.with_name("coverage.ini")
    settings.write_text(
        f"[run]\nbranch = false\ndata_file = {data_file}\nsource = {copied / CORE}\n"
    )
    (copied / NOTED).write_text("")
    options = ["--cov", "--cov-report=", "--cov-context=test", f"--cov-config={settings}"]
    # Bytecode is written of unchanged files only; a changed file is newer than its bytecode.
    sys.dont_write_bytecode = False
    code = _in_child(copied, [*options, "--maxfail=20", *tests], UNCHANGED, Forgetting())
    sys.dont_write_bytecode = True
    if code not in (0, 1):
        said = (copied / PRINTED).read_text("utf-8", "replace")[-2000:]
        raise SystemExit(f"the tests can't run unchanged (status {code}):\n{said}")
    data = coverage.CoverageData(str(data_file))
    data.read()
    by_line = {
        os.path.relpath(measured, copied): {
            line: _nodes(contexts) for line, contexts in data.contexts_by_lineno(measured).items()
        }
        for measured in data.measured_files()
    }
    noted = [json.loads(line) for line in (copied / NOTED).read_text().splitlines()]
    took = dict(sorted(((node, took) for node, took, _ in noted), key=lambda one: one[1]))
    failing = [node for node, _, failed in noted if failed]
    return Runs(tests, by_line, time.monotonic() - begun, took, failing)


def outcome(
    copied: Path, file: Path, text: str, runs: Runs, line: int, doctests: list[str]
) -> Outcome:
    """Return what becomes of a changed file: whether one of the tests notices.

    The tests that run the line come first. Where none of them does, all are tried: what a fixture
    or a cache of the tests holds is noted for the first test alone that asked for it.
    """
    before = file.read_text("utf-8")
    left_out = [f"--deselect={node}" for node in runs.failing]
    most = 60 + 6 * runs.seconds
    some = runs.of(os.path.relpath(file, copied), line)
    file.write_text(text, "utf-8")
    try:
        code = _in_child(copied, [*left_out, *doctests, *some], min(120.0, most))
        if code == 0 and some is not runs.tests:
            code = _in_child(copied, [*left_out, *runs.tests], most)
    finally:
        file.write_text(before, "utf-8")
    if code is None:
        return "timed out"
    return "killed" if code else "survived"


def _nodes(contexts: list[str]) -> set[str]:
    """Return the tests named in coverage's contexts; none where the line runs on import too."""
    return set() if "" in contexts else {context.rpartition("|")[0] for context in contexts}


def _in_child(
    copied: Path, arguments: list[str], most: float, noting: Noting | None = None
) -> int | None:
    """Return pytest's status from a process of its own, None where it took too long."""
    child = os.fork()
    if child == 0:
        _be_child(copied, arguments, noting or Noting())
    until = time.monotonic() + most
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _be_child(copied: Path, arguments: list[str], noting: Noting) -> None:
    status = 99
    try:
        os.setpgid(0, 0)
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        silence = os.open(copied / PRINTED, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600)
        for stream in (0, 1, 2):
            os.dup2(silence, stream)
        os.chdir(copied)
        paths = [str(copied / "service"), str(copied / "sdk"), str(copied / "tests")]
        sys.path[:0] = paths
        os.environ["PYTHONPATH"] = os.pathsep.join(paths)
        for name in ("COVERAGE_FILE", "PYTHONDONTWRITEBYTECODE", "PYTEST_ADDOPTS"):
            os.environ.pop(name, None)
        status = int(pytest.main([*OPTIONS, *arguments], plugins=[noting]))
    except BaseException:
        traceback.print_exc()
        sys.stderr.flush()
    finally:
        os._exit(status)


class Noting:
    """Notes how long each test takes and whether it fails, for the run without a change."""

    def pytest_sessionstart(self) -> None:
        """Ask for any counterexample, not for the least: after conftest, before the tests load."""
        hypothesis.settings.register_profile(
            "mutation", database=None, deadline=None, derandomize=True,
            phases=[hypothesis.Phase.explicit, hypothesis.Phase.generate],
        )  # fmt: skip
        hypothesis.settings.load_profile("mutation")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call" or report.failed:
            with Path(NOTED).open("a", encoding="utf-8") as file:
                file.write(json.dumps((report.nodeid, report.duration, report.failed)) + "\n")


class Forgetting(Noting):
    """Has every test work out for itself what the service keeps, so that it is seen to run it.

    A change is tried in a process that holds nothing yet, so there it needs no forgetting.
    """

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self) -> None:
        """Empty what functools keeps for the service's functions."""
        for kept in _caches(len(sys.modules)):
            kept.cache_clear()


@functools.lru_cache(maxsize=1)
def _caches(modules: int) -> list[functools._lru_cache_wrapper[object]]:
    """Return the service's functions that keep what they gave; looked for with new modules only."""
    return [
        one
        for one in gc.get_objects()
        if isinstance(one, functools._lru_cache_wrapper)
        and str(getattr(one, "__module__", "")).startswith("flankwise_service")
        and f"{one.__module__.rpartition('.')[2]}.{one.__qualname__}" not in KEPT
    ]
