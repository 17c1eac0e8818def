"""Single steps of the plan: checks, what is left out, blank, passes, form, measuring."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.material_table import find_material
from flankwise_service.core.errors import BadInput
from flankwise_service.core.path.blank_request import Bore
from flankwise_service.core.plan import blank as blanks
from flankwise_service.core.plan import milling, shape
from flankwise_service.core.plan.bar import bar_checks, plan_bar
from flankwise_service.core.plan.bar_reading import hexagon_reading_check
from flankwise_service.core.plan.blank_fit import blank_checks
from flankwise_service.core.plan.check import Check, at_least, at_most, inside
from flankwise_service.core.plan.common import assumed_words, defaults, sweep_of
from flankwise_service.core.plan.engagement import engagement_check
from flankwise_service.core.plan.job import (
    BossAsked,
    CuttingAsked,
    EndMill,
    GaugingAsked,
    HoleAsked,
    Machine,
    ProgramAsked,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.measuring import gauging_check, gauging_plan
from flankwise_service.core.plan.sizes import sizes
from support.jobs import adapter, job_of, port, sizes_of
from support.refused import faults_of

TAN30 = math.tan(math.radians(30))


# -- checks: what is exactly at its limit passes


def test_a_figure_at_its_limit_passes_and_a_step_beyond_is_refused() -> None:
    beyond, below = math.nextafter(2.0, 3.0), math.nextafter(2.0, 1.0)
    assert at_most("x", 2.0, 2.0, "x", "mm", "").state == "passed"
    assert at_most("x", beyond, 2.0, "x", "mm", "", caution_share=2.0).state == "passed"
    assert at_most("x", 2.0 * (1 + 2e-12), 2.0, "x", "mm", "").state == "refused"
    assert at_least("x", 2.0, 2.0, "x", "mm", "").state == "passed"
    assert at_least("x", below, 2.0, "x", "mm", "").state == "passed"
    assert at_least("x", 2.0 * (1 - 2e-12), 2.0, "x", "mm", "").state == "refused"
    assert inside("x", 2.0, 2.0, None, "x", "mm", "").state == "passed"
    assert inside("x", 2.0, None, 2.0, "x", "mm", "").state == "passed"
    # A limit forgives a solver's last bits, 1e-12 of the size, and no more.
    assert inside("x", below, 2.0, None, "x", "mm", "").state == "passed"
    assert inside("x", beyond, 1.0, 2.0, "x", "mm", "").state == "passed"
    assert inside("x", 2.0 * (1 - 2e-12), 2.0, None, "x", "mm", "").limit == 2.0
    assert inside("x", 2.0 * (1 + 2e-12), 1.0, 2.0, "x", "mm", "").limit == 2.0
    assert inside("x", 9.0, None, None, "x", "mm", "").state == "passed"


def test_only_what_is_said_to_be_acceptable_is() -> None:
    assert not Check("x", "refused", "").acceptable
    assert not at_most("x", 3.0, 2.0, "x", "mm", "").acceptable
    assert not at_least("x", 1.0, 2.0, "x", "mm", "").acceptable
    assert at_most("x", 3.0, 2.0, "x", "mm", "", acceptable=True).acceptable
    assert at_least("x", 1.0, 2.0, "x", "mm", "", acceptable=True).acceptable
    caution = at_most("x", 1.9, 2.0, "x", "mm", "", acceptable=True, caution_share=0.9)
    assert (caution.state, caution.acceptable) == ("caution", True)


# -- heights and clearances left to the plan (common practice, no source)


@pytest.mark.parametrize(("unit", "per_mm"), [("mm", 1.0), ("in", 1 / 25.4)])
def test_what_a_job_leaves_out_is_the_shops_usual(unit: str, per_mm: float) -> None:
    used = defaults(job_of("M20x1.5-6H", unit, 16 * per_mm))
    assert used.clearance_height == pytest.approx(2.0 * per_mm)
    assert used.safe_height == pytest.approx(25.0 * per_mm)
    assert used.radial_clearance == pytest.approx(0.5 * per_mm)
    assert used.axial_clearance == pytest.approx(0.5 * per_mm)
    assert used.outside_clearance == pytest.approx(1.0 * per_mm)
    assert used.chord_tolerance == pytest.approx(0.002 * per_mm)
    assert used.radial_tolerance == pytest.approx(0.001 * per_mm)
    assert used.rapid == pytest.approx(10_000 * per_mm)
    assert used.acceleration == pytest.approx(2000 * per_mm)
    assert (used.tool_change_s, used.straight_lead) == (10.0, 0.0)
    with_offset = defaults(
        job_of("M20x1.5-6H", unit, 16 * per_mm, program=ProgramAsked(radius_offset=5))
    )
    assert with_offset.straight_lead == pytest.approx(1.0 * per_mm)


def test_what_a_job_states_is_taken() -> None:
    job = port(
        program=ProgramAsked(clearance_height=3.0, safe_height=40.0),
        cutting=CuttingAsked(radial_clearance=0.25, axial_clearance=0.75),
        machine=Machine(rapid=5000, acceleration=900, chord_tolerance=0.01, tool_change_seconds=4),
    )
    used = defaults(job)
    assert (used.clearance_height, used.safe_height) == (3.0, 40.0)
    assert (used.radial_clearance, used.axial_clearance) == (0.25, 0.75)
    assert (used.rapid, used.acceleration, used.chord_tolerance) == (5000, 900, 0.01)
    assert used.tool_change_s == 4
    assert assumed_words(job, used) == ()
    assert defaults(port(machine=Machine(tool_change_seconds=0))).tool_change_s == 0


def test_the_safe_height_left_out_is_never_below_the_clearance_height() -> None:
    assert defaults(port(program=ProgramAsked(clearance_height=30.0))).safe_height == 30.0


@pytest.mark.parametrize(
    ("machine", "told"),
    [(Machine(), True), (Machine(rapid=5000), True), (Machine(acceleration=900), True),
     (Machine(rapid=5000, acceleration=900), False)],
)  # fmt: skip
def test_the_machines_figures_taken_for_the_time_are_told(machine: Machine, told: bool) -> None:
    job = port(machine=machine)
    words = " ".join(assumed_words(job, defaults(job)))
    assert ("for the time" in words) == told


def test_arcs_are_of_90_180_or_360_degrees() -> None:
    assert [sweep_of(one) for one in (90.0, 180.0, 360.0)] == [90, 180, 360]
    for wrong in (89.9, 91.0, 270.0, 0.0):
        (fault,) = faults_of(BadInput, sweep_of, wrong)
        assert (fault.pointer, fault.value) == ("/machine/greatest_sweep", wrong)


def mill(**changes: object) -> Cutter:
    made = Cutter(12.0, 4, Tooth(30.0, 30.0, 0.15, 1.2), neck_diameter=9.0, reach=22.0)
    return replace(made, **changes)  # type: ignore[arg-type]


# -- the bar


def test_a_bar_round_a_hole_keeps_a_tenth_of_the_thread_as_wall() -> None:
    """Greatest major 20 (no limit upward: the basic one), so 2 mm, 24 mm in all."""
    job = port(stock=StockAsked("6082", "round", diameter=24.0))
    at = sizes(job.thread, job.unit)
    greatest = float(at.limits.major_diameter.max or at.limits.basic.major_diameter)
    found = SimpleNamespace(density_g_per_cm3=SimpleNamespace(value=2.7))
    for wall, state, acceptable in [(0.1, "passed", False), (0.0999, "refused", True),
                                    (0.0, "refused", False)]:  # fmt: skip
        size = greatest * (1 + 2 * wall)
        sized = replace(job, stock=replace(job.stock, diameter=size))
        bar = plan_bar(sized, at, 18.526, found)  # type: ignore[arg-type]
        assert bar.wall == pytest.approx(wall * greatest)
        bar = replace(bar, wall=wall * greatest)
        (one,) = bar_checks(sized, at, bar, 18.526)
        assert (one.state, one.acceptable) == (state, acceptable), wall
        if state == "refused":
            assert f"at least {1.2 * greatest:.5g} mm diameter" in one.change


def test_a_bar_cleans_up_with_the_wanted_stock_on_both_sides() -> None:
    job = adapter(stock=StockAsked("303", "round", diameter=1.0, clean_up=0.05))
    at = sizes(job.thread, job.unit)
    found = SimpleNamespace(density_g_per_cm3=SimpleNamespace(value=7.9))
    for blank, state in [(0.9, "passed"), (0.9001, "refused")]:
        bar = plan_bar(job, at, blank, found)  # type: ignore[arg-type]
        assert bar.corner_stand_out == pytest.approx((1.0 - blank) / 2)
        (one,) = bar_checks(job, at, bar, blank)
        assert (one.state, one.limit) == (state, pytest.approx(blank + 0.1))
    # pi/4 square inches of 7.9 g/cm3: 1 in3 is 16.387064 cm3, 1 lb is 453.59237 g
    assert bar.mass_per_length == pytest.approx(math.pi / 4 * 16.387064 * 7.9 / 453.59237)
    assert bar.mass_unit == "lb/in"


@pytest.mark.parametrize(
    ("size", "state"),
    [(30.0, "passed"), (30.029, "passed"), (29.971, "passed"), (30.031, "caution"),
     (51.96, "caution"), (60.02, "passed"), (34.64, "caution"), (25.98, "caution"),
     (33.3, "passed")],
)  # fmt: skip
def test_a_size_no_bar_has_is_doubted_where_a_wrong_turn_gives_it(size: float, state: str) -> None:
    """51.96 and 34.64 are 30 by radius and over corners, 25.98 is 30 the other way (geometry);
    30.031 is off 30 by more than a thousandth, but within the twice of 15; 60 is sold.
    """
    bar = SimpleNamespace(shape="hexagon", size=size)
    (one,) = hexagon_reading_check(StockAsked("6082", across_flats=size), bar, "mm")  # type: ignore[arg-type]
    assert one.state == state
    assert hexagon_reading_check(
        StockAsked("6082", "round", diameter=size), SimpleNamespace(shape="round", size=size), "mm"  # type: ignore[arg-type]
    ) == ()  # fmt: skip


# -- blank and end mill


@pytest.mark.parametrize(
    ("limit", "unit", "size"),
    [(12.0, "mm", 12.0), (11.99, "mm", 10.0), (0.5, "mm", 1.0), (99.0, "mm", 25.0),
     (7.9, "mm", 6.0), (0.5, "in", 0.5), (0.49, "in", 7 / 16), (0.01, "in", 1 / 16),
     (3.0, "in", 1.0), (1.0, "mm", 1.0), (2.5, "mm", 2.0), (3.5, "mm", 3.0), (4.5, "mm", 4.0),
     (5.5, "mm", 5.0), (9.0, "mm", 8.0), (18.0, "mm", 16.0), (22.0, "mm", 20.0)],
)  # fmt: skip
def test_common_end_mills(limit: float, unit: str, size: float) -> None:
    assert blanks._handy(limit, job_of("M20x1.5-6H", unit)) == size


def test_an_end_mill_is_proposed_below_the_hole_or_as_large_as_the_boss_is_deep() -> None:
    hole, boss = port(end_mill=None), adapter(end_mill=None)
    at = sizes(hole.thread, "mm")
    made, words = blanks.end_mill(hole, at, blanks.crest(hole, at), 5)
    # 0.6 of 18.526 mm is 11.1: the next common one down
    assert (made.diameter, made.flutes, made.flute_length, made.number) == (10.0, 4, 22.0, 2)
    assert words is not None
    assert "tool number 2" in words
    at = sizes(boss.thread, "in")
    made, _words = blanks.end_mill(boss, at, blanks.crest(boss, at), 2)
    assert (made.diameter, made.flute_length, made.number) == (1.0, 1.0, 3)
    short = replace(boss, boss=BossAsked(0.2))
    made, _words = blanks.end_mill(short, at, blanks.crest(short, at), 1)
    # half of 0.868 in is more than 0.2: 7/16 is below 0.434... the next sixteenth down is 3/8
    assert made.diameter == 3 / 8
    assert made.flute_length == 3 / 8


def test_a_hole_is_bored_no_steeper_than_six_degrees() -> None:
    tight = Bore(18.5, 22.0, 16.0, 300.0, 4.0, 1.0, 2.0)
    circle = math.pi * (18.5 - 16.0)
    step = blanks._no_steeper(tight).depth_per_turn
    assert step == pytest.approx(circle * math.tan(math.radians(6.0)))
    roomy = replace(tight, cutter_diameter=6.0, depth_per_turn=1.0)
    assert blanks._no_steeper(roomy).depth_per_turn == 1.0
    # As large as the hole there is no circle to go round: left to the path's own refusal.
    assert blanks._no_steeper(replace(tight, cutter_diameter=18.5)).depth_per_turn == 4.0


def test_a_blank_is_milled_at_the_middle_of_the_materials_window() -> None:
    """6082 with carbide: 150 to 350 m/min, chip 0.005 to 0.010 of the diameter."""
    job = port(end_mill=EndMill(10.0, 4, 25.0))
    at = sizes(job.thread, "mm")
    found, own = find_material("6082"), blanks.crest(job, at)
    done = blanks.blank_plan(job, at, own, found, job.end_mill)
    assert done.speed.speed == pytest.approx(1000 * 250 / (math.pi * 10))
    assert done.edge_feed == pytest.approx(done.speed.speed * 4 * 0.075)
    assert done.depth_per_level == 5.0  # half the diameter
    low = blanks.blank_plan(job, at, own, found, EndMill(10.0, 4, 3.0))
    assert low.depth_per_level == 3.0
    shallow = replace(job, hole=HoleAsked(2.0))
    assert blanks.blank_plan(shallow, at, own, found, job.end_mill).depth_per_level == 2.0
    held = replace(job, machine=Machine(greatest_spindle_speed=6000, greatest_feed=500))
    done = blanks.blank_plan(held, at, own, found, job.end_mill)
    assert (done.speed.speed, done.edge_feed) == (6000, 500)
    tiny = blanks.blank_plan(job, at, own, found, EndMill(0.1, 4, 3.0))
    assert tiny.speed.speed == 200_000


def test_checks_of_the_end_mill_at_their_limits() -> None:
    job = port(hole=HoleAsked(22.0))
    at = sizes(job.thread, "mm")
    found, own = find_material("6082"), blanks.crest(job, at)

    def of_mill(made: EndMill) -> dict[str, Check]:
        done = blanks.blank_plan(job, at, own, found, made)
        return {one.code: one for one in blank_checks(job, at, done)}

    just = of_mill(EndMill(0.95 * own.diameter, 4, 22.0, overhang=22.5))
    assert {one.state for one in just.values()} == {"passed"}
    none = of_mill(EndMill(0.951 * own.diameter, 4, 21.99, overhang=22.49))
    refused = {code for code, one in none.items() if one.state == "refused"}
    assert refused == {"end_mill_reach", "end_mill_overhang", "end_mill_fits"}
    assert none["end_mill_reach"].acceptable
    assert not none["end_mill_overhang"].acceptable
    assert "end_mill_overhang" not in of_mill(EndMill(10.0, 4, 22.0))
    assert "18.526 mm is the middle" in none["blank_inside_limits"].change or (
        none["blank_inside_limits"].state == "passed"
    )


def test_a_blank_outside_its_limits_is_told_the_middle() -> None:
    job = port(hole=HoleAsked(22.0, ready=True, diameter=18.7))
    at = sizes(job.thread, "mm")
    done = blanks.blank_plan(
        job, at, blanks.crest(job, at), find_material("6082"), EndMill(1, 2, 3)
    )
    (one,) = blank_checks(job, at, done)
    assert (one.state, one.limit) == ("refused", 18.676)  # ISO 965-2, M20x1.5-6H
    assert "its hole bored to 18.526 mm (18.376 to 18.676 mm)" in one.change


# -- passes


@pytest.mark.parametrize(
    ("pitch_mm", "count"),
    [(0.2, 1), (0.8, 1), (0.81, 2), (1.6, 2), (1.61, 3), (1.99, 3), (2.0, 3), (2.01, 4), (3.0, 4),
     (6.0, 7)],
)  # fmt: skip
def test_usual_number_of_passes(pitch_mm: float, count: int) -> None:
    """One for each 0.8 mm of pitch below 2 mm, then the pitch in mm and one (common practice)."""
    assert milling.usual_passes(pitch_mm) == count


# -- measuring and length of engagement


def test_a_thread_is_long_beyond_one_and_a_half_diameters() -> None:
    at = sizes_of("7/8-14 UNF-2B", "in", 1.0)
    for length, state in [(0.0715, "passed"), (0.0714, "refused"), (1.3125, "passed"),
                          (1.3126, "caution")]:  # fmt: skip
        one = engagement_check(job_of("7/8-14 UNF-2B", "in", length), at)
        assert one.state == state
    pipe = sizes_of("1/2-14 NPT", "in", 2.0, side="internal")
    assert engagement_check(job_of("1/2-14 NPT", "in", 2.0), pipe).state == "passed"


def test_an_uncertainty_of_half_the_tolerance_is_a_caution() -> None:
    job = port()
    at = sizes(job.thread, "mm")
    found = gauging_plan(job, at, 2.0)
    assert found is not None
    room = found.greatest_reading - found.least_reading
    for share, state in [(0.499, "passed"), (0.501, "caution")]:
        asked = replace(job, gauging=GaugingAsked(uncertainty=share * room / 2))
        assert gauging_check(asked, at, found).state == state
    assert len(found.table) == 9


@pytest.mark.parametrize(("aim", "reading"), [(0.0, "least_reading"), (1.0, "greatest_reading")])
def test_an_aim_at_a_limit_can_be_measured(aim: float, reading: str) -> None:
    job = port(thread=ThreadAsked("M20x1.5-6H", 16, pitch_diameter_aim=aim))
    found = gauging_plan(job, sizes(job.thread, "mm"), 2.0)
    assert found is not None
    assert found.aimed_reading == pytest.approx(getattr(found, reading))


# -- the form


def test_the_root_of_the_nominal_triangle() -> None:
    """At the pitch diameter the groove is P/2 wide; it narrows to the tip's width at its root."""
    for name, sign in (("M20x1.5-6H", 1), ("M20x1.5-6g", -1)):
        at = sizes_of(name)
        middle = sum(at.pitch_diameter) / 2
        root = shape._triangle_root(at, mill())
        assert root == pytest.approx(middle / 2 + sign * (0.75 - 0.15) / (2 * TAN30))


def test_runout_makes_the_cutter_larger_by_half_of_it() -> None:
    at = sizes_of("M20x1.5-6H")
    true, out = shape.first_cut(at, mill(), 0.0), shape.first_cut(at, mill(), 0.05)
    assert (true.cutter_radius, out.cutter_radius) == (6.0, pytest.approx(6.025))
    assert true.deepest.centre_radius - out.deepest.centre_radius == pytest.approx(0.025)
    assert true.root_radius == pytest.approx(out.root_radius)


@pytest.mark.parametrize(
    ("asked", "begins"),
    [
        ({"hole": HoleAsked(22.0, ready=True)}, "hole: 18.526 mm, not measured"),
        ({"boss": BossAsked(22.0, ready=True)}, "boss: 18.526 mm, not measured"),
        ({"hole": HoleAsked(22.0, diameter=18.5)}, "hole: the 18.5 mm stated is no finished size"),
        ({"boss": BossAsked(22.0, diameter=19.9)}, "boss: the 19.9 mm stated is no finished size"),
    ],
)  # fmt: skip
def test_what_is_taken_for_granted_is_said_of_the_hole_or_of_the_boss(
    asked: dict[str, Any], begins: str
) -> None:
    (kind,) = asked
    ready = asked[kind].ready
    job = job_of("M20x1.5-6H", **asked)
    (told,) = blanks.assumed_of(job, blanks.Crest(18.526, 18.376, 18.676, ready))
    assert told.startswith(begins)
    assert blanks.assumed_of(job, blanks.Crest(18.526, 18.376, 18.676, not ready)) == ()
