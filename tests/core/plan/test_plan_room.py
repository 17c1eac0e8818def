"""A cutter that finds no way into its hole: what would go, tried out by planning it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.errors import Fault, Impossible, Refusal
from flankwise_service.core.plan.compare import compared
from flankwise_service.core.plan.compose import work
from flankwise_service.core.plan.job import (
    CutterAsked,
    HoleAsked,
    Job,
    ProgramAsked,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.room import narrowed, shortened, with_room
from flankwise_service.core.plan.sizes import sizes

MILL = CutterAsked(
    22.0, 5, tip_to_tooth=0.9, neck_diameter=18.5, reach=26, shank_diameter=16, overhang=42
)
SOCKET = Job(
    "mm", ThreadAsked("M24x1.5-6G", 18), StockAsked("304", "round", diameter=40),
    hole=HoleAsked(24, drilled_diameter=20), cutter=MILL, program=ProgramAsked(radius_offset=6),
)  # fmt: skip


def wide(job: Job) -> Fault:
    """Return the one fault of a job."""
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    (fault,) = caught.value.faults
    return fault


def no_way_in(diameter: float = 22.0, value: float = 1.0) -> Impossible:
    return Impossible(
        Fault("/cutter/diameter", "lead_in_material", "it ends short", "use half_arc", value)
    )


@pytest.mark.parametrize("diameter", [20.0, 21.4, 22.0, 23.0])
def test_the_greatest_cutter_told_goes_and_the_next_one_does_not(diameter: float) -> None:
    asked = narrowed(SOCKET, diameter)
    fault = wide(asked)
    assert (fault.pointer, fault.value, fault.unit) == ("/cutter/diameter", diameter, "mm")
    assert fault.greatest == pytest.approx(19.8)
    assert fault.change.startswith("take a cutter of at most 19.8 mm")
    assert work(narrowed(SOCKET, fault.greatest or 0.0), "0").plan.program is not None
    assert wide(narrowed(SOCKET, 19.9)).code == "lead_in_material"


def test_in_inches_too() -> None:
    """The same socket, its lengths divided by 25.4: the greatest cutter in steps of 0.005 in."""
    assert MILL.tip_to_tooth is not None
    inch = Job(
        "in", ThreadAsked("M24x1.5-6G", 18 / 25.4), StockAsked("304", "round", diameter=40 / 25.4),
        hole=HoleAsked(24 / 25.4, drilled_diameter=20 / 25.4),
        cutter=CutterAsked(
            22 / 25.4, 5, tip_to_tooth=0.9 / 25.4, neck_diameter=18.5 / 25.4, reach=26 / 25.4,
            shank_diameter=16 / 25.4, overhang=42 / 25.4,
        ),
        program=ProgramAsked(radius_offset=6),
    )  # fmt: skip
    fault = wide(inch)
    assert (fault.greatest, fault.unit) == (pytest.approx(0.78), "in")
    assert 0.78 <= 19.88 / 25.4 < 0.785
    assert work(narrowed(inch, 0.78), "0").plan.program is not None


def test_the_field_that_takes_the_room_is_named_and_leaving_it_out_helps() -> None:
    words = "leave program.radius_offset out: the straight moves that switch it on and off take 1"
    near = narrowed(SOCKET, 20.0)
    assert words in wide(near).change
    assert work(replace(near, program=ProgramAsked()), "0").plan.program is not None
    assert "or set cutting.radial_clearance to 0.1 mm (each tried out)" in wide(near).change
    closer = replace(near, cutting=replace(near.cutting, radial_clearance=0.1))
    assert work(closer, "0").plan.program is not None


def test_a_field_that_does_not_help_is_not_named() -> None:
    """Without a radius offset the way in is free up to the hole; from 21.1 on the root is off."""
    bare = replace(SOCKET, program=ProgramAsked())
    fault = wide(narrowed(bare, 22.3))
    assert fault.code == "cutter_enters_hole"
    assert fault.change == f"take a cutter of at most {fault.greatest:g} mm (tried out)"
    assert 21.0 <= (fault.greatest or 0.0) < 21.5
    assert work(narrowed(bare, fault.greatest or 0.0), "0").plan.program is not None
    next_one = work(narrowed(bare, (fault.greatest or 0.0) + 0.1), "0").plan
    assert [one.code for one in next_one.checks if one.state == "refused"] == [
        "major_diameter_as_cut"
    ]
    # With 22 mm the offset alone isn't in the way: leaving it out would end in that refusal.
    assert "radius_offset" not in wide(SOCKET).change


# -- each way of the search


def test_where_nothing_goes_nothing_is_promised() -> None:
    found = with_room(SOCKET, no_way_in(), lambda job: False)
    assert type(found) is Impossible
    (fault,) = found.faults
    assert (fault.greatest, fault.value) == (None, 22.0)
    assert fault.change == "take a much smaller cutter, or leave it out and the plan proposes one"
    assert fault.detail == "the cutter finds no way in and out beside the blank: it ends short"


def test_the_search_goes_down_to_a_fifth_and_names_what_goes_in_whole_steps() -> None:
    def goes_below(limit: float, job: Job) -> bool:
        return job.cutter is not None and job.cutter.diameter <= limit

    for limit, greatest in ((21.97, 21.9), (17.6, 17.6), (10.05, 10.0), (4.4, 4.4)):
        (fault,) = with_room(SOCKET, no_way_in(), lambda job, at=limit: goes_below(at, job)).faults  # type: ignore[misc]
        assert fault.greatest == pytest.approx(greatest)
    (none,) = with_room(SOCKET, no_way_in(), lambda job: goes_below(4.39, job)).faults
    assert none.greatest is None


def test_a_step_below_that_does_not_go_is_not_promised() -> None:
    """A cutter between 17.62 and 17.68 goes, the whole step below it doesn't."""
    (fault,) = with_room(
        narrowed(SOCKET, 22.05), no_way_in(),
        lambda job: job.cutter is not None and 17.62 <= job.cutter.diameter <= 17.68,
    ).faults  # fmt: skip
    assert fault.greatest is None


def test_other_refusals_and_faults_stay_as_they_are() -> None:
    other = Fault("/stock/material", "unknown_material", "d", "c", "cheese")
    away = Impossible(other)
    assert with_room(SOCKET, away, lambda job: True) is away
    long = Impossible(Fault("/cutter/diameter", "too_long", "d", "c"))
    assert with_room(SOCKET, long, lambda job: True) is long
    mixed = with_room(SOCKET, Impossible(other, *no_way_in().faults), lambda job: True)
    assert mixed.faults[0] == other
    assert mixed.faults[1].greatest == pytest.approx(17.6 / 0.8 - 0.1, abs=0.11)


def test_a_cutter_that_the_plan_proposed_names_fields_only() -> None:
    bare = replace(SOCKET, cutter=None)
    assert narrowed(bare, 3.0) is bare
    (fault,) = with_room(bare, no_way_in(), lambda job: job.program.radius_offset is None).faults
    assert (fault.greatest, fault.value) == (None, None)
    assert fault.change.startswith("leave program.radius_offset out")
    assert fault.change.endswith("(tried out)")


def test_a_taper_thread_keeps_its_length_for_the_search() -> None:
    asked = ThreadAsked("1/2-14 NPT", 0.55, side="internal")
    job = Job("in", asked, StockAsked("6082"), hole=HoleAsked(1.0, ready=True))
    assert shortened(job, sizes(asked, "in")) == job
    two_start = ThreadAsked("M16xPh4P2-6H", 40.0)
    long = Job("mm", two_start, StockAsked("6082"))
    assert shortened(long, sizes(two_start, "mm")).thread.length == 12.0
    short = replace(long, thread=replace(two_start, length=5.0))
    assert shortened(short, sizes(two_start, "mm")).thread.length == 5.0


def test_cutters_that_are_compared_are_not_tried_in_other_sizes() -> None:
    with pytest.raises(Refusal) as caught:
        work(SOCKET, "0", advise=False)
    (fault,) = caught.value.faults
    assert (fault.code, fault.greatest) == ("lead_in_material", None)
    (found,) = compared(SOCKET, [MILL], "0")
    assert found.reasons == (fault.detail,)
