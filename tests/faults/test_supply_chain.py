"""What others wrote is pinned, its licences are known, and the wheel comes out the same each time.

That pins, hashes and bill of materials agree is tested in test_deploy_files.py; that nothing is
depended on that isn't used, in tests/architecture.
"""

from __future__ import annotations

import hashlib
import os
import re
import runpy
import shutil
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from support.server import ROOT

LISTED = ROOT / "deploy" / "licences.txt"
PINS = ROOT / "deploy" / "pins" / "service.txt"
ALLOWED = re.compile(
    r"MIT|MIT License|BSD License|(0BSD|BSD-[23]-Clause)|Apache-2\.0|Apache Software License|"
    r"MPL-2\.0|Mozilla Public License 2\.0 \(MPL 2\.0\)|PSF-2\.0|ISC|Zlib|CC0-1\.0"
)
"""Licences that let a shop use the service without giving its own work away."""


def listed() -> dict[str, tuple[str, str]]:
    rows = [line.split("\t") for line in LISTED.read_text("utf-8").splitlines()]
    return {name: (version, licence) for name, version, licence in rows}


def test_every_pin_of_the_service_is_listed_with_its_licence() -> None:
    pinned = dict(re.findall(r"^([\w.-]+)==(\S+)", PINS.read_text("utf-8"), re.MULTILINE))
    assert {name: version for name, (version, _) in listed().items()} == pinned


def test_every_licence_is_one_that_may_be_used() -> None:
    for name, (_, licence) in listed().items():
        parts = [part.strip() for part in re.split(r" AND | OR |; ", licence)]
        plain = [part if part.endswith("(MPL 2.0)") else part.strip("()") for part in parts]
        assert all(ALLOWED.fullmatch(part) for part in plain), (name, licence)


def test_what_is_installed_states_the_licence_that_is_listed() -> None:
    lines = runpy.run_path(str(ROOT / "deploy" / "pins" / "licences"))["lines"]()
    found = {line.split("\t")[0]: line.split("\t")[2] for line in lines}
    assert len(found) >= 15
    for name, licence in found.items():
        assert listed()[name][1] == licence


@pytest.mark.slow
def test_the_wheel_built_twice_elsewhere_and_later_has_the_same_bytes(tmp_path: Path) -> None:
    pytest.importorskip("hatchling")
    wheels: list[Path] = []
    for place, mask in (("one", 0o022), ("another/and/deeper", 0o077)):
        folder = tmp_path / place
        _export(folder)
        for file in folder.rglob("*"):  # files of a clone carry the time it was made
            os.utime(file, (time.time() - 86_400 * len(wheels),) * 2)
        wheels.append(_built(folder, mask))
        time.sleep(2.1)  # a zip counts in steps of two seconds
    first, second = wheels
    assert first.name == second.name
    with zipfile.ZipFile(first) as archive:
        names = archive.namelist()
    assert any(name == "flankwise/client.py" for name in names)
    assert not any(name.startswith("tests/") or "__pycache__" in name for name in names)
    digests = {hashlib.sha256(wheel.read_bytes()).hexdigest() for wheel in wheels}
    assert len(digests) == 1


def _export(to: Path) -> None:
    """Copy what a wheel is made from, as a clean clone holds it."""
    drop = shutil.ignore_patterns("__pycache__", "*.pyc")
    for name in ("sdk", "service"):
        shutil.copytree(ROOT / name, to / name, ignore=drop)
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copyfile(ROOT / name, to / name)


def _built(folder: Path, mask: int) -> Path:
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", "out"]
    surroundings = {
        name: value for name, value in os.environ.items() if name != "SOURCE_DATE_EPOCH"
    }
    subprocess.run(
        command, cwd=folder, umask=mask, env=surroundings, check=True, capture_output=True
    )
    (wheel,) = (folder / "out").glob("*.whl")
    return wheel
