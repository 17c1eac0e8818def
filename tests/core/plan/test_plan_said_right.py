"""What a plan says to do is enough when it is done; and what can't be made isn't ready."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.errors import Refusal
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import BossAsked, EndMill, HoleAsked, Job, StockAsked
from flankwise_service.core.plan.result import Plan
from flankwise_service.core.units import written, written_down, written_up
from support.jobs import adapter, job_of, plan, port


def check(made: Plan, code: str) -> Check:
    return next(one for one in made.checks if one.code == code)


@settings(deadline=None, max_examples=200)
@given(st.floats(1e-4, 2000.0), st.sampled_from(["in", "mm"]))
def test_a_figure_to_follow_is_rounded_to_the_safe_side(length: float, unit: str) -> None:
    up, down, near = (float(f(length, unit)) for f in (written_up, written_down, written))
    assert down * (1 - 1e-12) <= length <= up * (1 + 1e-12)
    assert down <= near <= up
    assert up - down <= 1.01 * 10 ** (-3 if unit == "mm" else -4) * max(1.0, length / 10)


@pytest.mark.parametrize("depth", [17.0, 16.9, 17.37])
def test_a_thread_too_long_for_its_hole_fits_when_made_as_told(depth: float) -> None:
    told = check(plan(port(hole=HoleAsked(depth, drilled_diameter=16.0))), "axial_budget")
    assert told.state == "refused"
    deeper = float(re.search(r"hole (\d+\.?\d*) mm deeper", told.change)[1])  # type: ignore[index]
    longest = float(re.search(r"no longer than (\d+\.?\d*) mm", told.change)[1])  # type: ignore[index]
    deep = port(hole=HoleAsked(depth + deeper, drilled_diameter=16.0))
    assert check(plan(deep), "axial_budget").state == "passed"
    job = port(hole=HoleAsked(depth, drilled_diameter=16.0))
    short = replace(job, thread=replace(job.thread, length=longest))
    assert check(plan(short), "axial_budget").state == "passed"


def test_an_end_mill_as_long_as_told_reaches() -> None:
    job = port(hole=HoleAsked(22.40049), end_mill=EndMill(10.0, 3, 20.0))
    told = check(plan(job), "end_mill_reach").change
    long = float(re.search(r"cuts (\d+\.?\d*) mm", told)[1])  # type: ignore[index]
    assert check(plan(replace(job, end_mill=EndMill(10.0, 3, long))), "end_mill_reach").state == (
        "passed"
    )


def test_a_boss_is_not_wider_than_its_bar() -> None:
    boss = BossAsked(22.0, ready=True)
    job = job_of("M20x1.5-6g", boss=boss)
    thin = replace(job, stock=StockAsked("6082", "round", diameter=10.0))
    made = plan(thin)
    assert made.verdict == "refused"
    told = check(made, "boss_within_bar")
    assert (told.state, told.acceptable, told.figure) == ("refused", True, 10.0)
    assert plan(replace(thin, accept=("boss_within_bar",))).program is not None
    hexagon = replace(job, stock=StockAsked("6082", across_flats=19.0))  # 21.94 over its corners
    assert check(plan(hexagon), "boss_within_bar").state == "passed"
    assert "boss_within_bar" not in {one.code for one in plan(job).checks}


def test_an_end_mill_that_nobody_sells_is_not_proposed_as_ready() -> None:
    deep = plan(port(hole=HoleAsked(400.0, drilled_diameter=16.0)))
    told = check(deep, "end_mill_slender")
    assert (told.state, told.acceptable, deep.program) == ("refused", True, None)
    mill = deep.job.end_mill
    assert mill is not None
    own = plan(port(hole=HoleAsked(400.0, drilled_diameter=16.0), end_mill=mill))
    assert check(own, "end_mill_slender").state == "caution"
    assert "end_mill_slender" not in {one.code for one in plan(port()).checks}


def test_one_number_for_two_tools_is_told_beside_a_cutter_too_large() -> None:
    job = port(end_mill=EndMill(10.0, 3, 25.0, number=2))
    cutter = replace(job.cutter, diameter=19.5, number=2)  # type: ignore[type-var]
    with pytest.raises(Refusal) as caught:
        work(replace(job, cutter=cutter), "0")
    assert {fault.pointer for fault in caught.value.faults} == {
        "/cutter/diameter", "/end_mill/number",
    }  # fmt: skip


def test_a_bar_as_large_as_told_cleans_up() -> None:
    job: Job = adapter(stock=StockAsked("303", across_flats=0.85))
    told = check(plan(job), "bar_cleans_up")
    assert told.limit is not None
    just = adapter(stock=StockAsked("303", across_flats=told.limit))
    assert check(plan(just), "bar_cleans_up").state in ("passed", "caution")
