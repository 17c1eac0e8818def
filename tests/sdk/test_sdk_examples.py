"""The worked scripts of sdk/examples, each run as a shop would, against a real gunicorn."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from support.server import ROOT, Server

EXAMPLES = ROOT / "sdk" / "examples"
SCRIPTS = sorted(path.name for path in EXAMPLES.glob("*.py"))


def run(
    server: Server, script: str, *arguments: object, typed: str = ""
) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-W", "error", str(EXAMPLES / script), *map(str, arguments),
         "--service", server.url],
        env={**os.environ, "PYTHONPATH": str(ROOT / "sdk")}, input=typed,
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert "Traceback" not in done.stderr, done.stderr
    return done


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(path.read_text("utf-8-sig").splitlines()))


def test_orders_become_programs_and_sheets(server: Server, tmp_path: Path) -> None:
    done = run(server, "orders.py", EXAMPLES / "orders.csv", tmp_path)
    assert (done.returncode, done.stdout.split(",")[0]) == (0, "3 of 3 orders planned"), done.stderr
    assert "planning 3/3" in done.stderr
    told = rows(tmp_path / "orders.csv")
    assert [row["order"] for row in told] == ["A-101", "A-102", "A-103"]
    for row in told:
        assert row["verdict"].startswith("ready")
        program = (tmp_path / row["program"]).read_text("ascii")
        assert program.startswith("%")
        plan = json.loads((tmp_path / f"{row['order']}.plan.json").read_text("utf-8"))
        assert plan["program"]["text"] == program
        sheet = (tmp_path / f"{row['order']}.sheet.html").read_text("utf-8")
        assert plan["limits"]["designation"] in sheet
    assert float(told[2]["bar"]) >= 12  # M12 was to be cut from a bar that the plan proposed


def test_an_order_that_is_refused_keeps_no_other(server: Server, tmp_path: Path) -> None:
    text = (EXAMPLES / "orders.csv").read_text("utf-8")
    text = text.replace("0.875,303", "0.875,unobtainium").replace(
        "14,C45,round,,18", "14,C45,round,,14.2"
    )
    (tmp_path / "orders.csv").write_text(text)
    done = run(server, "orders.py", tmp_path / "orders.csv", tmp_path / "out")
    assert done.returncode == 1
    told = {row["order"]: row for row in rows(tmp_path / "out" / "orders.csv")}
    assert "/stock/material" in told["A-101"]["reason"]
    assert told["A-102"]["program"] == "A-102.nc"
    assert "missing" in told["A-103"]["reason"]
    assert not told["A-103"]["program"]
    assert not (tmp_path / "out" / "A-103.nc").exists()


def test_readings_become_corrections(server: Server, tmp_path: Path) -> None:
    done = run(
        server, "correction_loop.py", EXAMPLES / "sensor-adapter.json", EXAMPLES / "readings.csv"
    )
    lines = done.stdout.splitlines()
    assert done.returncode == 0, done.stdout + done.stderr
    assert lines[0].startswith("three wires of 0.0412")
    assert len(lines) == 5
    # The first reads too large: the offset gets smaller, the last is at the aim.
    assert "smaller" in lines[1]
    left = float(lines[-1].split()[1])
    assert left < 0
    typed = run(
        server,
        "correction_loop.py",
        EXAMPLES / "sensor-adapter.json",
        "-",
        typed="0.8902\n\n0.8871\n0.8862\n",
    )
    assert typed.stdout == done.stdout
    small = run(
        server, "correction_loop.py", EXAMPLES / "sensor-adapter.json", "-", typed="0.8800\n"
    )
    assert small.returncode == 1
    assert "larger" in small.stdout
    job = {"unit": "in", "thread": {"designation": "1/2-14 NPT", "length": 0.5, "side": "internal"},
           "stock": {"material": "C36000", "across_flats": 1.25}, "hole": {"depth": 1.0, "ready": True}}  # fmt: skip
    (tmp_path / "taper.json").write_text(json.dumps(job))
    assert run(server, "correction_loop.py", tmp_path / "taper.json", "-").returncode == 1


def test_a_spreadsheet_of_limits(server: Server, tmp_path: Path) -> None:
    out = tmp_path / "limits.csv"
    done = run(server, "limits_table.py", EXAMPLES / "threads.csv", out, "--unit", "in")
    assert done.returncode == 0, done.stderr
    told = {row["designation"]: row for row in rows(out)}
    assert len(told) == 6
    adapter = told["7/8-14 UNF-2A"]  # ASME B1.1-2003, table of limits of size
    assert (adapter["pitch_diameter_min"], adapter["pitch_diameter_max"]) == ("0.8216", "0.827")
    assert adapter["minor_diameter_min"] == ""
    assert all("ASME" in row["source"] or "ISO" in row["source"] for row in told.values())
    (tmp_path / "odd.csv").write_text("designation,side\n7/8-14 UNG-2A,\nM8-6g,\n")
    done = run(server, "limits_table.py", tmp_path / "odd.csv", out, "--unit", "mm")
    assert done.returncode == 1
    assert "7/8-14 UNG-2A" in rows(out)[0]["designation"]
    assert rows(out)[0]["reason"]
    assert rows(out)[1]["pitch_diameter_max"]


def test_a_night_without_and_with_a_difference(server: Server, tmp_path: Path) -> None:
    run(server, "orders.py", EXAMPLES / "orders.csv", tmp_path)
    done = run(server, "nightly.py", tmp_path)
    assert done.returncode == 0, done.stdout
    assert done.stdout == "3 jobs planned again, 0 differ\n"
    path = tmp_path / "A-101.plan.json"
    plan = json.loads(path.read_text("utf-8"))
    plan["made_by"] = "flankwise 0.9.0"
    plan["passes"][0]["centre_radius"] += 0.001
    plan["program"]["text"] = plan["program"]["text"].replace("G00", "G0", 1)
    path.write_text(json.dumps(plan))
    gone = tmp_path / "A-102.plan.json"
    other = json.loads(gone.read_text("utf-8"))
    other["job"]["thread"]["designation"] = "M20x1.5-9Q"
    gone.write_text(json.dumps(other))
    done = run(server, "nightly.py", tmp_path)
    assert done.returncode == 1
    assert "A-101.plan.json: made by flankwise 0.9.0" in done.stdout
    assert "/passes/0/centre_radius" in done.stdout
    assert "/program/text: 1 lines differ" in done.stdout
    assert "A-102.plan.json" in done.stdout
    assert "refused now" in done.stdout
    assert done.stdout.endswith("3 jobs planned again, 2 differ\n")


@pytest.mark.parametrize("script", SCRIPTS)
def test_every_script_says_what_it_is_for(script: str) -> None:
    done = subprocess.run(
        [sys.executable, str(EXAMPLES / script), "--help"],
        env={**os.environ, "PYTHONPATH": str(ROOT / "sdk")},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert script in done.stdout


def test_every_script_is_run_here() -> None:
    told = Path(__file__).read_text("utf-8")
    assert SCRIPTS
    assert all(f'"{script}"' in told for script in SCRIPTS)
