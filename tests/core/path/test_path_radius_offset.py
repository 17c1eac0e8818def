"""A thread with straight leads, written with a radius offset: read back, displaced, it holds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import Refusal
from flankwise_service.core.path.request import Helix
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.program.program import write_program
from flankwise_service.core.program.setup import Operation, Setup, Tool
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL

HOLE = replace(
    INTERNAL, blank_diameter=18.45, pitch=1.5, cutter=replace(CUTTER, diameter=12.0),
    passes=tuple(replace(one, radius=r) for one, r in zip(INTERNAL.passes, (3.6, 4.0), strict=True)),
)  # fmt: skip


def written(job: Helix, side: str) -> str:
    tool = Tool(
        number=1, spindle_speed=3000, length_offset=1, coolant="off", tip_to_tooth=0.5,
        radius_offset=11, radius_side=side, name="",
    )  # type: ignore[arg-type]  # fmt: skip
    setup = Setup(unit="mm", thread=None, version="0", safe_height=5.0)
    return write_program(setup, [Operation(tool, list(thread_path(job)), "thread")]).text


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("milling", ["climb", "conventional"])
@pytest.mark.parametrize("job", [EXTERNAL, HOLE], ids=["boss", "hole"])
def test_an_offset_goes_on_and_off_in_the_straight_pieces(
    job: Helix, hand: str, milling: str
) -> None:
    job = replace(job, hand=hand, milling=milling, straight_lead=2.0, plunge_feed=100.0)
    side = "left" if milling == "climb" else "right"
    text = written(job, side)
    code = "G41 D11" if side == "left" else "G42 D11"
    assert text.count(code) == text.count("G40 G01 ") == len(job.passes)


def test_without_straight_leads_it_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        written(EXTERNAL, "left")
    assert {fault.code for fault in caught.value.faults} >= {"no_straight_lead"}
