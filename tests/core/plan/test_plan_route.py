"""The thread's way in the plan: room below, lead-ins, depth budget, collisions; each at its limit."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.errors import Impossible
from flankwise_service.core.path.collision import Approach
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.plan import clear, route
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.common import defaults
from flankwise_service.core.plan.compose import laid, milled
from flankwise_service.core.plan.job import (
    BossAsked,
    CuttingAsked,
    HoleAsked,
    Job,
    Machine,
    ProgramAsked,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.preparing import prepared
from flankwise_service.core.plan.result import BlankPlan
from flankwise_service.core.plan.sizes import sizes
from support.jobs import adapter, others, plan, port

TAN30 = math.tan(math.radians(30))


@pytest.mark.parametrize(
    ("job", "floor"),
    [
        (adapter(boss=BossAsked(1.0)), 1.0),
        (adapter(boss=BossAsked(1.0, shoulder=False)), 1.0),  # the bar goes on below it
        (adapter(boss=BossAsked(1.0, ready=True)), 1.0),
        (adapter(boss=BossAsked(1.0, shoulder=False, ready=True)), None),
        (port(hole=HoleAsked(22)), 22), (port(hole=HoleAsked(22, through=True)), None),
        (port(hole=None), None),
    ],
)  # fmt: skip
def test_what_stands_below_the_thread(job: Job, floor: float | None) -> None:
    assert route.floor_depth(job) == floor


def test_air_beside_the_cutter_is_at_most_a_quarter_of_the_play_in_a_hole() -> None:
    job = port()
    at, used = sizes(job.thread, "mm"), defaults(job)
    cutter = Cutter(12.0, 4, Tooth(30, 30, 0.15, 1.2))
    for hole, air in [(14.0, 0.25), (16.0, 0.5), (17.0, 0.5), (12.4, 0.05)]:
        assert route.radial_clearance(at, cutter, hole, used) == pytest.approx(air)
    boss = adapter()
    outside = route.radial_clearance(sizes(boss.thread, "in"), cutter, 0.1, defaults(boss))
    assert outside == pytest.approx(0.5 / 25.4)


def test_the_paths_request_says_what_the_job_says() -> None:
    asked = laid_out(port(program=ProgramAsked(centre_x=3.0, centre_y=-4.0))).helix
    assert (asked.side, asked.hand, asked.milling) == ("internal", "right", "climb")
    assert (asked.pitch, asked.length, asked.starts) == (1.5, 16, 1)
    assert asked.centre == (3.0, -4.0)
    assert (asked.greatest_sweep, asked.chord_tolerance, asked.radial_tolerance) == (90, None, None)
    assert (asked.taper, asked.turns_below_length, asked.straight_lead) == (0.0, 0.0, 0.0)
    lines = laid_out(port(machine=Machine(helical_arcs=False))).helix
    assert lines.chord_tolerance == 0.002
    pipe = laid_out(others()["1/2-14 NPT internal"]).helix
    assert pipe.taper == 0.0625
    assert pipe.radial_tolerance == pytest.approx(0.001 / 25.4)
    # The least of the hole, at the end of the thread (0.55 in below the face).
    face = prepared(others()["1/2-14 NPT internal"]).crest.diameter
    assert pipe.blank_diameter == pytest.approx(face - 0.0625 * 0.55)
    nipple = Job(
        "in", ThreadAsked("1/2-14 NPT", 0.53, side="external"),
        StockAsked("C36000", across_flats=1.0), boss=BossAsked(0.8, ready=True, diameter=0.81),
    )  # fmt: skip
    assert laid_out(nipple).helix.blank_diameter == pytest.approx(0.81 + 0.0625 * 0.53)


def laid_out(job: Job) -> route.Route:
    ready = prepared(job)
    return laid(ready, milled(ready)).route


def test_a_through_hole_threaded_to_its_end_is_left_by_half_a_tooth() -> None:
    """Run below the length: half a tooth, in turns of the lead; only where the thread ends there."""

    def below(length: float) -> float:
        job = port(thread=ThreadAsked("M20x1.5-6H", length), hole=HoleAsked(16, through=True))
        return laid_out(job).helix.turns_below_length

    cutter = prepared(port()).cutter
    half = max(cutter.tooth.tip_width / 2 + cutter.tooth.depth * TAN30, cutter.tip_to_tooth)
    assert below(16) == pytest.approx(half / 1.5)
    assert below(15.99) == 0.0
    blind = laid_out(port(thread=ThreadAsked("M20x1.5-6H", 18), hole=HoleAsked(22)))
    assert blind.helix.turns_below_length == 0.0


def test_only_the_lead_in_is_ramped_and_by_the_middle_of_each_piece() -> None:
    begin, end = Point(1, 0, 0), Point(-1, 0, 0)
    arc = Segment("arc", "lead_in", begin, end, (0, 0), "counterclockwise", 180.0, 80.0)
    out = arc._replace(purpose="lead_out")
    line = Segment("line", "lead_in", begin, end, feed=80.0)
    found = list(route.ramped([arc, out, line, arc._replace(sweep=90.0, end=Point(0, 1, 0))]))
    assert [piece.purpose for piece in found] == [
        *["lead_in"] * 4, "lead_out", "lead_in", *["lead_in"] * 2,
    ]  # fmt: skip
    # Half the feed at first contact, rising to the whole: 0.5 + 0.5 (i + 1/2)/n
    assert [piece.feed for piece in found[:4]] == [45.0, 55.0, 65.0, 75.0]
    assert [piece.feed for piece in found[4:]] == [80.0, 80.0, 50.0, 70.0]
    assert [piece.sweep for piece in found[-2:]] == [45.0, 45.0]


def blank(kind: str = "hole", depth: float = 22.0) -> BlankPlan:
    return BlankPlan(kind, 18.5, 18.4, 18.6, depth, True, None, None, None, None, None)  # type: ignore[arg-type]


def budget_check(found: object, kind: str = "hole", depth: float = 22.0) -> Check:
    (one,) = clear.budget_checks(port(), blank(kind, depth), found)  # type: ignore[arg-type]
    return one


def test_a_blank_without_a_floor_is_as_deep_as_its_thread_at_least() -> None:
    cutter = Cutter(12.0, 4, Tooth(30, 30, 0.15, 1.2), tip_to_tooth=2.0)
    found = SimpleNamespace(
        budget=None,
        helix=SimpleNamespace(cutter=cutter),
        totals=SimpleNamespace(least=Point(0, 0, -17.0)),
    )
    just = budget_check(found, depth=16.0)
    assert (just.state, just.figure, just.limit) == ("passed", 16.0, 16)
    # The lowest tooth at 17, the tip 2 below it, the part ends at 16: 3 mm come out.
    assert "leave more than 3 mm free below the part" in just.change
    assert budget_check(found, depth=18.999).change.startswith("leave more than 0.001 mm")
    assert budget_check(found, depth=19.0).change == ""
    assert budget_check(found, "boss", 16.0).change == ""
    short = budget_check(found, depth=15.0)
    assert (short.state, short.change) == ("refused", "make the hole 1 mm deeper")


def test_where_the_depth_goes_is_told_in_figures() -> None:
    """Thread and run-out to the lowest place, half a tooth (the tip), the clearance."""
    found = laid_out(port())
    budget = found.budget
    assert budget is not None
    half = prepared(port()).cutter.tip_to_tooth
    lowest = max(-found.totals.least.z, 16.0)
    assert budget.thread_length == lowest
    assert budget.needed == pytest.approx(lowest + half + 0.5)
    assert budget.available == 22
    passed = budget_check(found)
    assert passed.state == "passed"
    assert "bottom of the hole" in passed.detail
    below = f"{half:.4g} of the tool below its lowest tooth's middle"
    assert f"{lowest - 16:.4g} run-out + {below} + 0.5 clearance" in passed.detail
    assert f"{22 - budget.needed:.4g} to spare" in passed.detail


def test_a_missing_depth_names_the_longest_thread_that_would_do() -> None:
    job = port(hole=HoleAsked(17.0))
    found = laid_out(job)
    assert not found.fits
    assert found.entry_at_bottom == "radial"
    budget = found.budget
    assert budget is not None
    (one,) = clear.budget_checks(job, blank(depth=17.0), found)
    run_out = budget.thread_length - 16
    longest = 17.0 - budget.half_tooth - run_out - 0.5
    assert f"make the hole {budget.needed - 17:.4g} mm deeper" in one.change
    assert f"no longer than {longest:.4g} mm" in one.change
    assert (one.state, one.figure, one.limit) == ("refused", 17.0, budget.needed)
    assert "plough into the bottom of the hole" in one.detail
    assert found.fits is False
    assert replace(found, budget=None).fits is True


def test_the_stock_as_the_thread_mill_finds_it() -> None:
    hexagon = route.stock_around(
        adapter(), sizes(adapter().thread, "in"), blank("boss", 1.0),
        SimpleNamespace(shape="hexagon", size=1.25), 0.875,  # type: ignore[arg-type]
    )  # fmt: skip
    assert (hexagon.across_flats, hexagon.outside_diameter) == (1.25, None)
    assert hexagon.diameter == 18.5
    bar = SimpleNamespace(shape="round", size=1.25)
    taper = sizes(ThreadAsked("1/2-14 NPT", 0.8, side="external"), "in")
    boss = route.stock_around(adapter(), taper, blank("boss"), bar, 0.8)  # type: ignore[arg-type]
    assert (boss.across_flats, boss.outside_diameter) == (None, 1.25)
    assert boss.diameter == pytest.approx(18.5 + 0.05)
    opening = sizes(ThreadAsked("1/2-14 NPT", 0.8, side="internal"), "in")
    hole = route.stock_around(port(), opening, blank(), bar, 0.8)  # type: ignore[arg-type]
    assert hole.diameter == 18.5


@pytest.mark.parametrize(
    ("clearance", "unit", "state"),
    [(-1e-6, "mm", "refused"), (0.0, "mm", "caution"), (0.0999, "mm", "caution"),
     (0.1, "mm", "passed"), (0.0039, "in", "caution"), (0.0040, "in", "passed")],
)  # fmt: skip
def test_a_clearance_below_a_tenth_of_a_millimetre_is_close(
    clearance: float, unit: str, state: str
) -> None:
    near = Approach(clearance, "neck", "hole wall", 3, Point(1.0, 2.0, -3.0))
    (one,) = clear.collision_checks((near,), unit)  # type: ignore[arg-type]
    assert (one.code, one.state, one.figure) == ("clearance_neck_hole_wall", state, clearance)
    assert not one.acceptable
    assert ("X 1 Y 2 Z -3" in one.detail) == (state != "passed")


@pytest.mark.parametrize(
    ("tool", "words"),
    [("teeth", "the blank deeper"), ("neck", "thinner neck"), ("shank", "longer reach"),
     ("holder", "farther from the holder")],
)  # fmt: skip
def test_each_part_of_the_tool_has_its_own_way_out(tool: str, words: str) -> None:
    near = Approach(-0.25, tool, "shoulder", 3, Point(1.0, 2.0, -3.0))  # type: ignore[arg-type]
    (one,) = clear.collision_checks((near,), "mm")
    assert words in one.change
    verb = "cut" if tool == "teeth" else "cuts"
    assert f"the {tool} {verb} 0.25 mm into the shoulder" in one.detail
    free = replace(near, clearance=5.0)
    (one,) = clear.collision_checks((free,), "mm")
    assert f"the {tool} {'stay' if tool == 'teeth' else 'stays'} 5 mm clear" in one.detail


def test_the_gentlest_way_that_fits_is_a_half_arc_then_a_quarter_then_straight() -> None:
    """Half arcs at both ends where there is room; at the bottom less where there is not."""
    roomy = laid_out(port())
    assert (roomy.helix.lead_in, roomy.helix.lead_out) == ("half_arc", "half_arc")
    assert roomy.entry_at_bottom == "half_arc"
    # Climbing in a right-hand hole goes upward: the lead-in is at the bottom.
    tight = laid_out(port(hole=HoleAsked(16 + 1.0 + 0.5 + 0.2)))
    assert tight.entry_at_bottom in ("quarter_arc", "radial")
    assert tight.helix.lead_in == tight.entry_at_bottom
    assert tight.helix.lead_out == "half_arc"
    down = laid_out(port(cutting=CuttingAsked(milling="conventional"), hole=HoleAsked(17.7)))
    assert down.helix.lead_out == down.entry_at_bottom
    assert down.helix.lead_in == "half_arc"


def test_turns_are_of_the_thread_alone() -> None:
    job = port()
    motion = route.motion_plan(job, laid_out(job))
    assert motion.turns == pytest.approx(16 / 1.5)
    assert motion.lead == 1.5
    double = port(thread=ThreadAsked("M20xPh3P1.5-6H", 16))
    assert route.motion_plan(double, laid_out(double)).turns == pytest.approx(16 / 3)


def test_a_path_of_too_many_pieces_is_not_planned(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = port(machine=Machine(helical_arcs=False, chord_tolerance=0.0001))
    for job, pointer, words in (
        (lines, "/machine/chord_tolerance", "a wider machine.chord_tolerance"),
        (port(), "/thread/length", "a shorter thread"),
    ):
        monkeypatch.setattr(route, "MOST_PLANNED", 100)
        with pytest.raises(Impossible) as caught:
            plan(job)
        (fault,) = caught.value.faults
        assert (fault.pointer, fault.code) == (pointer, "too_many_segments")
        assert words in fault.change
        monkeypatch.undo()
    assert plan(lines).program
