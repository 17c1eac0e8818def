"""What a plan says of a job that won't do: at which figure, by how much, and what would do."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.plan.check import Check, inside
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    CuttingAsked,
    Job,
    Machine,
    StockAsked,
    ThreadAsked,
)
from support.jobs import adapter, port


def check(job: Job, code: str) -> Check:
    return next(one for one in work(job, "0").plan.checks if one.code == code)


def stud(designation: str, **asked: float) -> Job:
    """A threaded stud, its cutter stated to the tooth."""
    tooth = Tooth(30.0, 30.0, 0.15, 0.9)
    return Job(
        "mm", ThreadAsked(designation, 10.0, **asked), StockAsked("303", "round", diameter=12.0),
        boss=BossAsked(14.0), cutter=CutterAsked(8.0, 3, reach=20.0, tooth=tooth),
    )  # fmt: skip


@pytest.mark.parametrize("aim", [0.0, 0.5, 1.0])
def test_an_aim_at_a_limit_lands_on_it(aim: float) -> None:
    """M8-6g: 7.042 to 7.160 (ISO 965-2). The last bits of a double don't make scrap of it."""
    job = stud("M8-6g", pitch_diameter_aim=aim, crest_aim=aim)
    found = work(job, "0").plan
    assert found.form.correction.aim == (7.042, 7.101, 7.16)[int(2 * aim)]
    assert found.blank.diameter == pytest.approx((7.760, 7.866, 7.972)[int(2 * aim)], abs=1e-12)
    assert check(job, "pitch_diameter_as_cut").state == "passed"
    assert check(job, "major_diameter_as_cut").state == "passed"


def test_a_last_printed_digit_beyond_a_limit_is_beyond_it() -> None:
    for least, greatest, at, off in ((7.042, 7.16, 7.16, 1e-9), (7.042, 7.16, 7.042, -1e-9)):
        assert inside("x", at, least, greatest, "d", "mm", "").state == "passed"
        assert inside("x", at * (1 + 1e-15), least, greatest, "d", "mm", "").state == "passed"
        assert inside("x", at + off, least, greatest, "d", "mm", "").state == "refused"


def test_missing_depth_is_told_without_a_thread_of_no_length() -> None:
    shallow = check(adapter(depth=0.05), "axial_budget")
    assert shallow.state == "refused"
    assert "thread no longer" not in shallow.change
    assert "or thread no longer than 0.8403 in" in check(adapter(depth=0.9), "axial_budget").change


def test_only_what_is_missing_of_a_cutter_is_asked_for() -> None:
    job = port()
    assert job.cutter is not None
    known = job.cutter
    bare = replace(known, neck_diameter=0.0, shank_diameter=None)
    for cutter, asked in (
        (replace(known, overhang=None), "state overhang of the cutter"),
        (replace(known, shank_diameter=None, overhang=None), "state overhang of the cutter"),
        (bare, "state neck_diameter of the cutter"),
        (replace(bare, overhang=None), "state overhang and neck_diameter of the cutter"),
    ):
        assert check(replace(job, cutter=cutter), "deflection").change == asked


@pytest.mark.parametrize(("job", "unit"), [(adapter(), "ft/min"), (port(), "m/min")])
def test_a_surface_speed_is_told_with_its_unit(job: Job, unit: str) -> None:
    slow = replace(job, machine=Machine(100.0), cutting=CuttingAsked(milling="climb"))
    told = check(slow, "spindle_speed").detail
    assert told.endswith(unit)
    assert "at 100 rev/min" in told
