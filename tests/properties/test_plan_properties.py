"""Properties of whole plans over random jobs."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import Refusal
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    CuttingAsked,
    HoleAsked,
    Job,
    Machine,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.result import Plan
from support.jobs import adapter, plan, port

THREADS = (
    "M6-6H", "M8x1-6g", "M10-6H", "M12x1.5-6g-LH", "M20x1.5-6H", "M24-6g", "M30x2-6H",
    "M16xPh4P2-6g", "G 1/2 A", "1/2-13 UNC-2B", "3/4-16 UNF-3A", "1-8 UNC-2A-LH", "2-12 UN-2B",
)  # fmt: skip


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    designation = draw(st.sampled_from(THREADS))
    internal = "H" in designation.replace("LH", "").replace("Ph", "") or "B" in designation
    length = draw(st.floats(3.0, 40.0))
    depth = length + draw(st.floats(0.0, 15.0))
    blank = (
        {"hole": HoleAsked(depth, through=draw(st.booleans()))}
        if internal
        else {"boss": BossAsked(depth, shoulder=draw(st.booleans()))}
    )
    milling = draw(st.sampled_from(("climb", "conventional")))
    sweep = draw(st.sampled_from((90.0, 180.0, 360.0)))
    return Job(
        "mm",
        ThreadAsked(designation, length, pitch_diameter_aim=draw(st.floats(0.1, 0.9))),
        StockAsked(draw(st.sampled_from(("303", "6082", "C45", "CW614N")))),
        cutting=CuttingAsked(milling=milling),
        machine=Machine(greatest_sweep=sweep),
        **blank,  # type: ignore[arg-type]
    )


@settings(deadline=None, max_examples=60)
@given(jobs())
def test_every_job_gives_a_plan_that_holds_together_or_says_what_to_change(job: Job) -> None:
    try:
        found = plan(job)
    except Refusal as refusal:
        mute = [fault for fault in refusal.faults if not (fault.detail and fault.change)]
    else:
        mute = []
        check_plan(found)
    assert mute == []


def check_plan(found: Plan) -> None:
    """Assert what holds of every plan that could be made."""
    refused = [one for one in found.checks if one.state == "refused"]
    assert (found.verdict == "refused") == bool(refused)
    assert (found.program is None) == bool(refused)
    assert all(one.change for one in refused)
    aim = found.form.correction.aim
    assert found.form.pitch_diameter == pytest.approx(aim, abs=1e-7 * aim)
    radii = [one.centre_radius for one in found.passes]
    outward = 1 if found.limits.side == "internal" else -1
    assert all(outward * (b - a) >= -1e-12 for a, b in pairwise(radii))
    if found.program is not None:
        assert found.program.replay.equal
        assert found.program.replay.position_error <= 0.001


@settings(deadline=None, max_examples=15)
@given(st.floats(5.0, 9.0), st.floats(1.02, 1.3))
def test_a_stiffer_neck_bends_less(neck: float, stiffer: float) -> None:
    cutter = port().cutter
    assert cutter is not None
    asked = CuttingAsked(passes=2, spring_passes=0)

    def effect(diameter: float) -> float:
        changed = replace(cutter, neck_diameter=diameter)
        return plan(port(cutter=changed, cutting=asked)).passes[-1].pitch_diameter_effect or 0.0

    assert effect(neck * stiffer) < effect(neck)


@settings(deadline=None, max_examples=15)
@given(st.floats(0.02, 0.08), st.floats(1.1, 2.0))
def test_more_feed_takes_less_time_and_more_force(chip: float, faster: float) -> None:
    one = plan(port(cutting=CuttingAsked(passes=2, chip_load=chip)))
    other = plan(port(cutting=CuttingAsked(passes=2, chip_load=chip * faster)))
    assert other.time.cutting_s < one.time.cutting_s
    assert other.passes[0].work.force.torque_mean_nm > one.passes[0].work.force.torque_mean_nm


@settings(deadline=None, max_examples=10)
@given(st.integers(2, 6))
def test_fewer_and_deeper_passes_ask_for_more_force(count: int) -> None:
    many = plan(adapter(cutting=CuttingAsked(passes=count, spring_passes=0)))
    few = plan(adapter(cutting=CuttingAsked(passes=count - 1, spring_passes=0)))
    loads = [max(one.work.force.power_kw for one in found.passes) for found in (many, few)]
    assert loads[1] > loads[0]


@settings(deadline=None, max_examples=15)
@given(st.floats(6.0, 17.0))
def test_the_overcut_grows_with_the_cutter(diameter: float) -> None:
    def overcut(size: float) -> float:
        return plan(port(cutter=CutterAsked(size, 4))).form.overcut_effect

    assert overcut(diameter) > overcut(diameter * 0.95)
