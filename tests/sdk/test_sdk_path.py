"""The client's calls of the subject path, against a real service."""

from __future__ import annotations

import inspect
import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import flankwise
from flankwise.calls.path import PathCalls
from support.server import Server

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"


def stored(operation: str, index: int) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((EXAMPLES / f"{operation}.json").read_text("utf-8"))[index]
    return found["request"]  # type: ignore[no-any-return]


@pytest.fixture
def shop(server: Server) -> Iterator[flankwise.Client]:
    with flankwise.Client(server.url) as client:
        yield client


def test_a_thread_whole_and_segment_by_segment(shop: flankwise.Client) -> None:
    asked = stored("path_helix", 0)
    whole = shop.path_helix(**asked)
    assert whole.motion == "downward"
    assert whole.thread_turns == pytest.approx(asked["length"] / asked["pitch"])
    assert tuple(shop.path_helix_segments(**asked)) == whole.segments
    assert len(whole.segments) == whole.totals.segments
    arcs = [one for one in whole.segments if one.purpose == "thread"]
    for one in arcs:
        assert one.centre is not None
        rise = -whole.lead * one.sweep / 360
        assert one.end.z - one.begin.z == pytest.approx(rise)
        assert math.dist((one.end.x, one.end.y), one.centre) == pytest.approx(
            asked["passes"][one.radial_pass - 1]["radius"]
        )


def test_a_blank_and_its_refusal(shop: flankwise.Client) -> None:
    found = shop.path_blank(**stored("path_blank", 0))
    assert found.totals.least.z == -0.95
    with pytest.raises(flankwise.Refused) as caught:
        shop.path_blank(unit="in")
    assert caught.value.pointers == ("/bore",)


def test_a_path_goes_back_as_it_came_to_be_looked_at(shop: flankwise.Client) -> None:
    asked = stored("path_collision", 0)
    by_thread = shop.path_collision(**asked)
    path = shop.path_helix(unit="in", **asked["helix"])
    by_segments = shop.path_collision(
        unit="in",
        stock=asked["stock"],
        segments=path.segments,  # type: ignore[arg-type]
        cutter=asked["helix"]["cutter"],
        least_clearance=asked["least_clearance"],
    )
    assert by_segments == by_thread
    assert by_thread.approaches[0].tool == "neck"


def test_segments_are_asked_for_as_the_whole_path_is() -> None:
    whole = inspect.signature(PathCalls.path_helix).parameters
    lines = dict(inspect.signature(PathCalls.path_helix_segments).parameters)
    assert lines.pop("progress").default is None
    assert lines == dict(whole)
