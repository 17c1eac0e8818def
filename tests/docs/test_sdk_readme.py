"""sdk/README.md: what it shows runs, what it names is there."""

from __future__ import annotations

import re

import pytest

import flankwise
from flankwise import errors, results
from flankwise.testing import FakeService
from support.contract import ROOT
from support.server import Server

TEXT = (ROOT / "sdk" / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"```python\n(.*?)```", TEXT, re.DOTALL)


@pytest.mark.parametrize("place", range(len(BLOCKS)))
def test_what_is_shown_runs(place: int, server: Server, capsys: pytest.CaptureFixture[str]) -> None:
    exec(BLOCKS[place].replace("http://127.0.0.1:8000", server.url), {})
    said = capsys.readouterr().out
    # ASME B1.1-2003, row 7/8-14 UNF-2A; three requests: two plans, and one livez after its retry.
    assert said in ("0.8216 0.827\n", "3 requests reached the fake\n")


def test_both_blocks_are_there() -> None:
    assert len(BLOCKS) == 2


def test_what_is_named_exists() -> None:
    words = set(re.findall(r"`(?:shop|service|plan|drawing|sheet)\.(\w+)", TEXT))
    for name in words:
        places = (
            flankwise.Client, FakeService, results.PlanReply, flankwise.Drawing, flankwise.Sheet,
        )  # fmt: skip
        assert any(hasattr(place, name) for place in places), name
    for name in re.findall(r"`([A-Z]\w+Error|[A-Z][a-z]+[A-Za-z]*)`", TEXT):
        assert hasattr(flankwise, name) or hasattr(errors, name), name
    for script in re.findall(r"`(\w+\.py) ", TEXT):
        assert (ROOT / "sdk" / "examples" / script).is_file()
    assert set(re.findall(r"`(\w+\.py) ", TEXT)) == {
        path.name for path in (ROOT / "sdk" / "examples").glob("*.py")
    }
