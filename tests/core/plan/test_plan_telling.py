"""What the steps of a plan refuse is told of figures that the job states."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import BadInput, Fault, Impossible, Refusal
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    BossAsked,
    CutterAsked,
    CuttingAsked,
    HoleAsked,
    Job,
    StockAsked,
)
from flankwise_service.core.plan.telling import told
from support.jobs import job_of, plan, port


def fault(job: Job) -> Fault:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    (found,) = caught.value.faults
    return found


def hole(**changes: object) -> Job:
    return job_of("M20x1.5-6H", hole=HoleAsked(22.0), **changes)


@pytest.mark.parametrize(
    ("job", "pointer", "value", "words"),
    [
        (job_of("Rp 3/8", hole=HoleAsked(25.0), cutter=CutterAsked(190.0, 4)),
         "/cutter/diameter", 190.0, "too wide for the hole"),
        (job_of("M20x1.5-6g", boss=BossAsked(22.0, ready=True, diameter=15.0)),
         "/boss/diameter", 15.0, "a boss of 15 mm lies beyond the whole thread"),
        (hole(cutting=CuttingAsked(radius_offset=1.0)),
         "/cutting/radius_offset", 1.0, "corrected by 1 mm the cutter doesn't reach the blank"),
        (hole(cutter=CutterAsked(12.0, 4, neck_diameter=0.02, reach=30.0, overhang=40.0)),
         "/cutter/neck_diameter", 0.02, "a neck of 0.02 mm bends without end"),
        (replace(hole(), stock=StockAsked("6082", across_flats=18.4)),
         "/stock/across_flats", 18.4, "wall between thread and outside"),
        (replace(hole(), stock=StockAsked("6082", across_corners=20.0)),
         "/stock/across_corners", 20.0, "wall between thread and outside"),
        (replace(hole(), stock=StockAsked("6082", "round", diameter=18.0)),
         "/stock/diameter", 18.0, "wall between thread and outside"),
        (hole(cutter=CutterAsked(1.0, 4)),
         "/cutter/diameter", 1.0, "asks for a tooth 0.8631 mm deep"),
    ],
)  # fmt: skip
def test_a_refusal_names_what_the_job_states(
    job: Job, pointer: str, value: float, words: str
) -> None:
    found = fault(job)
    assert (found.pointer, found.value, found.unit) == (pointer, value, "mm")
    assert words in found.detail
    assert found.change


def test_a_cutter_wider_than_told_for_its_tooth_goes() -> None:
    found = fault(hole(cutter=CutterAsked(1.0, 4)))
    assert found.least == pytest.approx(2 * 0.8631, abs=1e-3)
    assert plan(hole(cutter=CutterAsked(1.75, 4))).cutter.diameter == 1.75


def test_where_the_job_states_nothing_the_nearest_part_of_it_is_named() -> None:
    """No job met these so far: a proposed cutter, a bar that was proposed, a tooth stated."""
    bare, cutter = hole(), port().cutter
    assert cutter is not None
    for job, begin, at in (
        (bare, "/cutter/passes/0", "/cutter"),
        (bare, "/cutting/rigid_deflection", "/cutter"),
        (hole(cutter=CutterAsked(12.0, 4)), "/cutting/rigid_deflection", "/cutter"),
        (bare, "/stock/diameter", "/stock/diameter"),
        (bare, "/cutter/tooth/depth", "/cutter/tooth/depth"),
        (bare, "/thread/length", "/thread/length"),
    ):
        (found,) = told(job, Impossible(Fault(begin, "x", "d", "c", [1]))).faults
        assert (found.pointer, found.detail) == (at, "d")
    boss = job_of("M20x1.5-6g", boss=BossAsked(22.0), cutter=CutterAsked(12.0, 4))
    (found,) = told(boss, Impossible(Fault("/cutter/passes", "no_pitch_line", "", ""))).faults
    assert "too wide for its lead" in found.detail
    nothing = Impossible(Fault("/cutter/passes", "cuts_nothing", "", ""))
    assert told(boss, nothing).faults[0].pointer == "/cutter/diameter"


def test_what_is_said_twice_is_told_once_and_stays_of_its_kind() -> None:
    twice = BadInput(*(Fault(f"/cutter/passes/{n}/centre_radius", "x", "", "") for n in (0, 1)))
    found = told(hole(cutter=CutterAsked(12.0, 4)), twice)
    assert type(found) is BadInput
    assert len(found.faults) == 1
