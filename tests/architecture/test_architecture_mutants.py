"""The tool that counts what no test notices still counts: `sh tests/bench/mutation/run`."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest

from support.source import ROOT

ONE = "tests/core/test_core_units.py::test_surface_speeds_are_feet_or_metres_a_minute"
COLUMNS = ("possible", "tried", "killed", "timed out", "named", "survived")


def test_one_test_kills_what_it_looks_at_and_the_rest_survives_and_fails_the_run() -> None:
    pytest.importorskip("cosmic_ray")
    asked = ["--folders", "units", "--sample", "6", "--seed", "3", "--tests", ONE]
    kept = {name: value for name, value in os.environ.items() if not name.startswith("COV")}
    done = subprocess.run(
        [sys.executable, "-m", "bench.mutation.mutate", *asked],
        cwd=ROOT,
        env=kept | {"PYTHONPATH": "tests"},
        capture_output=True,
        text=True,
        timeout=200,
        check=False,
    )
    row = re.search(r"^all" + r" +(\d+)" * len(COLUMNS), done.stdout, re.MULTILINE)
    assert row, done.stdout + done.stderr
    counts = dict(zip(COLUMNS, map(int, row.groups()), strict=True))
    told = re.findall(r"^survived  units\.py: (.+) -> (.+)  \(line", done.stdout, re.MULTILINE)
    assert counts["killed"] >= 1
    assert counts["survived"] == len(told) >= 1
    assert counts["tried"] == counts["killed"] + counts["survived"] == 6
    assert not any("FEET" in before and "if" in before for before, _ in told), "that one is tested"
    assert done.returncode == 1
