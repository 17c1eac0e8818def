"""A tooth that the plan took from the thread itself: nothing of it can be checked, and it says so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import CutterAsked, Job
from flankwise_service.core.plan.tool_fit import cutter_checks, not_checked
from flankwise_service.core.plan.tooth import is_assumed
from support.jobs import ASSUMED_TOOTH, adapter, not_passed, plan, port, sizes_of

UNCHECKED = "; the tooth is assumed, not checked"


def with_tooth(job: Job, tooth: Tooth, assumed: bool = False) -> Job:
    assert job.cutter is not None
    return replace(job, cutter=replace(job.cutter, tooth=tooth, tooth_assumed=assumed))


def checks(job: Job) -> dict[str, Check]:
    return {one.code: one for one in plan(job).checks}


def own(job: Job) -> Tooth:
    """A tooth of the same figures, measured on a real cutter."""
    return plan(job).cutter.tooth


@pytest.mark.parametrize("job", [adapter(), port(), adapter(cutter=None), port(cutter=None)])
def test_one_caution_names_the_tooth_and_what_cannot_fail_says_so(job: Job) -> None:
    found = checks(job)
    tooth = plan(job).cutter.tooth
    assert not_passed(plan(job)) == ASSUMED_TOOTH
    angle = found["flank_angle"]
    assert angle.state == "caution"
    assert angle.detail.startswith(
        "the tooth is assumed to suit the thread, not checked: flank angles 30 and 30 deg, tip"
    )
    assert ("tip radius" in angle.detail) == bool(tooth.tip_radius)
    assert angle.change.endswith("state it as cutter.tooth")
    for code in ("tip_width", "tooth_depth"):
        assert found[code].state == "passed"
        assert found[code].detail.endswith(UNCHECKED)


@pytest.mark.parametrize("job", [adapter(), port()])
def test_a_tooth_that_is_stated_is_checked(job: Job) -> None:
    stated = with_tooth(job, own(job))
    assert plan(stated).verdict == "ready"
    for one in checks(stated).values():
        assert "assumed" not in one.detail
    shallow = with_tooth(job, replace(own(job), depth=0.7 * own(job).depth))
    assert checks(shallow)["tooth_depth"].state == "caution"


@pytest.mark.parametrize("job", [adapter(), port()])
def test_the_plans_own_document_keeps_saying_that_it_is_assumed(job: Job) -> None:
    first = plan(job)
    written = first.job.cutter
    assert written is not None
    assert written.tooth == first.cutter.tooth
    assert written.tooth_assumed
    again = plan(first.job)
    assert again.checks == first.checks
    assert again.job == first.job
    measured = plan(with_tooth(job, own(job)))
    assert measured.job.cutter is not None
    assert not measured.job.cutter.tooth_assumed


def test_an_assumed_tooth_taken_to_another_thread_is_refused_as_any_other() -> None:
    trapezoidal = Tooth(15.0, 15.0, 0.3, 0.8)
    at = sizes_of("M20x1.5-6H")
    cutter = CutterAsked(12.0, 4).with_tooth(trapezoidal, 1.0)
    found = {one.code: one for one in cutter_checks(cutter, at, 18.5, assumed=True)}
    assert found["flank_angle"].state == "refused"
    wide = CutterAsked(12.0, 4).with_tooth(Tooth(30.0, 30.0, 0.8, 1.2), 1.0)
    found = {one.code: one for one in cutter_checks(wide, at, 18.5, assumed=True)}
    assert found["tip_width"].state == "refused"
    assert UNCHECKED not in found["tip_width"].detail
    caution = Check("tooth_depth", "caution", "less deep")
    assert not_checked(caution) is caution


def test_when_a_tooth_is_assumed() -> None:
    job = port()
    tooth = Tooth(30.0, 30.0, 0.19, 1.0)
    assert is_assumed(replace(job, cutter=None))
    assert is_assumed(job)
    assert is_assumed(with_tooth(job, tooth, assumed=True))
    assert not is_assumed(with_tooth(job, tooth))
