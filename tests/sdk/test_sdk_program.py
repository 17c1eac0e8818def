"""The client's calls of the subjects program and drawing, against a real service."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import flankwise
from support.server import Server
from support.svg import parsed, words

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"


def stored(operation: str, index: int = 0) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((EXAMPLES / f"{operation}.json").read_text("utf-8"))[index]
    return found["request"]  # type: ignore[no-any-return]


@pytest.fixture
def shop(server: Server) -> Iterator[flankwise.Client]:
    with flankwise.Client(server.url) as client:
        yield client


def test_from_a_path_to_a_program_and_back(shop: flankwise.Client) -> None:
    asked = stored("path_helix")
    path = shop.path_helix(**asked)
    job: dict[str, Any] = {
        "unit": asked["unit"],
        "setup": {"safe_height": 2.0 if asked["unit"] == "in" else 50.0},
        "operations": [
            {
                "tool": {
                    "number": 5, "spindle_speed": 4000, "length_offset": 5,
                    "tip_to_tooth": asked["cutter"].get("tip_to_tooth", 0.0),
                },
                "segments": path.segments,
            }
        ],
    }  # fmt: skip
    written = shop.program(**job)
    assert written.replay.equal
    assert written.bytes == len(written.text)
    assert shop.program_compare(text=written.text, **job) == written.replay
    read = shop.program_replay(unit=asked["unit"], text=written.text, most_motions=3)
    assert len(read.motions) == 3
    assert read.motion_count == written.replay.motions
    assert read.states[read.motions[0].state].tool == 5
    with pytest.raises(flankwise.Refused) as caught:
        shop.program_compare(text=written.text.replace("M03", "M04"), **job)
    assert caught.value.faults[0].pointer == "/text"


def test_drawings_come_as_svg(shop: flankwise.Client) -> None:
    for name, call in (
        ("section", shop.drawing_section), ("path", shop.drawing_path),
        ("hexagon", shop.drawing_hexagon), ("setup", shop.drawing_setup),
    ):  # fmt: skip
        asked = stored(f"drawing_{name}")
        root = parsed(call(**asked))
        assert words(root).splitlines()[0] == (asked.get("name") or asked.get("designation"))
