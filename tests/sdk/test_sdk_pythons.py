"""The SDK on every Python it promises, as far as this machine has them: installed, and used."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest
import tomllib

from support.contract import ROOT
from support.server import Server

VERSIONS = ("3.10", "3.11", "3.12", "3.13", "3.14")
CHECK = """
import json, sys, warnings
warnings.simplefilter("error")
import flankwise
job = json.load(open(sys.argv[2]))
with flankwise.Client(sys.argv[1]) as shop:
    limits = shop.threads_limits("7/8-14 UNF-2A", unit="in")
    plan = shop.plan(**job)
    program = plan.save_program(sys.argv[3])
    drawn = shop.plan_drawing(**plan.job, view="section")
    items = [{"operation": "plan", "request": plan.job}] * 3
    again = list(shop.batch_stream(items))
    try:
        shop.threads_limits("7/8-14 UNG-2A", unit="in")
    except flankwise.Refused as error:
        refused = error.pointers
assert str(plan) and repr(limits) and drawn._repr_svg_() and limits.to_csv()
print(json.dumps([
    ".".join(map(str, sys.version_info[:2])), limits.pitch_diameter.max, plan.verdict,
    program.stat().st_size, [one.status for one in again], refused,
    "flankwise_service" in sys.modules,
]))
"""


def python(version: str) -> str | None:
    found = shutil.which(f"python{version}")
    homes = sorted((Path.home() / ".pyenv" / "versions").glob(f"{version}.*/bin/python"))
    candidates = [*map(str, homes), *([found] if found else [])]
    for candidate in candidates:  # a shim may be there without its Python
        told = subprocess.run([candidate, "-V"], capture_output=True, text=True, check=False)
        if told.stdout.startswith(f"Python {version}."):
            return candidate
    return None


def run(*command: object) -> subprocess.CompletedProcess[str]:
    kept = {
        name: text for name, text in os.environ.items()
        if name not in ("PYTHONPATH", "VIRTUAL_ENV", "PYTHONHOME")
    }  # fmt: skip
    return subprocess.run(
        list(map(str, command)), capture_output=True, text=True, timeout=280, check=False, env=kept
    )


@pytest.mark.slow
@pytest.mark.timeout(600)
@pytest.mark.parametrize("version", VERSIONS)
def test_the_sdk_works_on(version: str, server: Server, tmp_path: Path) -> None:
    base = python(version)
    if base is None:
        pytest.skip(f"this machine has no Python {version}")
    environment = tmp_path / "env"
    assert run(base, "-m", "venv", environment).returncode == 0
    own = environment / "bin" / "python"
    source = tmp_path / "source"
    for name in ("sdk", "service"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, source)
    installed = run(own, "-m", "pip", "install", "-q", "--disable-pip-version-check", source)
    if installed.returncode and re.search(
        r"(?i)connection|no matching distribution|resolve", installed.stderr
    ):
        pytest.skip(f"the package index isn't in reach: {installed.stderr[-200:]}")
    assert installed.returncode == 0, installed.stderr
    (tmp_path / "check.py").write_text(CHECK)
    job = ROOT / "sdk" / "examples" / "sensor-adapter.json"
    done = run(own, tmp_path / "check.py", server.url, job, tmp_path / "a.nc")
    assert done.returncode == 0, done.stdout + done.stderr
    told = json.loads(done.stdout)
    # ASME B1.1-2003, row 7/8-14 UNF-2A.
    assert told[:3] == [version, 0.8270, "ready"]
    assert told[3] > 1000
    assert told[4:] == [[200] * 3, ["/designation"], False]
    at_a_shell = environment / "bin" / "flankwise"
    done = run(at_a_shell, "limits", "M8-6g", "--unit", "mm", "--service", server.url)
    assert (done.returncode, done.stderr) == (0, "")


def test_the_least_version_is_the_one_promised() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["requires-python"] == f">={VERSIONS[0]}"
    assert project["dependencies"] == ["requests"]
