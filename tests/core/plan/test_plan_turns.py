"""The turns told are those that the program makes, counted in its text."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import CutterAsked, CuttingAsked, Job
from flankwise_service.core.plan.told import turns_words
from support.jobs import adapter, others

COMB = CutterAsked(
    0.5, 4, tip_to_tooth=0.04, neck_diameter=0.38, reach=1.1, shank_diameter=0.5, overhang=1.5,
    holder_diameter=1.6, number=3, rows=5, row_pitch=1 / 14,
)  # fmt: skip
ONE = CuttingAsked(passes=1, deflection_share=1.0)
JOBS = {
    "one row": adapter(cutting=ONE),
    "five rows": adapter(cutter=COMB, cutting=ONE),
    "two starts": replace(others()["two-start"], cutting=ONE),
}


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_the_turns_told_are_those_of_the_path(job: Job) -> None:
    done = work(job, "1.0.0")
    motion = done.plan.motion
    assert len(done.plan.passes) == 1
    swept = sum(one.sweep for one in done.thread_segments if one.purpose == "thread")
    assert motion.turns_cut * motion.runs == pytest.approx(swept / 360, abs=1e-9)
    assert f"makes {round(motion.turns_cut, 2):g}" in turns_words(motion, done.plan.cutter.rows)


def test_of_several_rows_each_turns_once_and_a_little() -> None:
    plan = work(JOBS["five rows"], "1.0.0").plan
    assert 1.0 < plan.motion.turns_cut < 1.1
    assert plan.motion.turns == pytest.approx(0.875 * 14)
    assert plan.motion.runs == 3
    assert "its 5 rows cutting side by side, in each of 3 runs" in turns_words(plan.motion, 5)
    assert work(JOBS["two starts"], "1.0.0").plan.motion.runs == 2
