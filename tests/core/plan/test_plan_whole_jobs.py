"""Whole jobs, as a user asks for them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from flankwise_service.core.errors import BadInput, Impossible, NoSource, Refusal, UnknownThread
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.compose import verdict, work
from flankwise_service.core.plan.job import (
    BossAsked,
    Costs,
    CutterAsked,
    CuttingAsked,
    GaugingAsked,
    HoleAsked,
    Job,
    Machine,
    ProgramAsked,
    StockAsked,
    ThreadAsked,
)
from flankwise_service.core.plan.result import Plan
from flankwise_service.core.units import convert
from support.jobs import ASSUMED_TOOTH, adapter, not_passed, others, plan, port


def check(found: Plan, code: str) -> Check:
    return next(one for one in found.checks if one.code == code)


def refusal(job: Job) -> Refusal:
    with pytest.raises(Refusal) as caught:
        work(job, "0")
    return caught.value


def test_the_adapter_is_ready_and_its_figures_hang_together() -> None:
    found = plan(adapter())
    assert not_passed(found) == ASSUMED_TOOTH
    assert found.program is not None
    assert found.program.replay.equal
    # 16 * 0.875... turns are length * threads per inch: 0.875 * 14 (common practice, no source).
    assert found.motion.turns == pytest.approx(12.25)
    assert (found.motion.sense, found.motion.motion) == ("clockwise", "downward")
    # Across corners = across flats * 2/sqrt(3): geometry.
    assert found.bar.across_corners == pytest.approx(1.25 * 2 / math.sqrt(3))
    assert found.form.pitch_diameter == pytest.approx((0.8216 + 0.8270) / 2, abs=1e-7)
    last = found.passes[-1]
    assert last.centre_radius == pytest.approx(found.form.correction.centre_radius)
    assert 2 * (last.centre_radius - 0.25) == pytest.approx(found.form.minor_diameter)
    edge = last.work.feed
    factor = (found.form.minor_diameter + 0.5) / found.form.minor_diameter
    assert edge.centre_feed / edge.edge_feed == pytest.approx(factor)
    assert "7/8-14 UNF-2A" in found.program.text
    assert found.made_by == "flankwise 0"


def test_the_port_is_ready_and_climbs_upward() -> None:
    found = plan(port())
    assert not_passed(found) == ASSUMED_TOOTH
    assert (found.motion.sense, found.motion.motion) == ("counterclockwise", "upward")
    assert found.form.pitch_diameter == pytest.approx((19.026 + 19.216) / 2, abs=1e-6)
    assert found.form.overcut_effect > 0
    assert found.gauging is not None
    assert found.gauging.method == "between balls"
    assert check(found, "wall_thickness").state == "passed"


@pytest.mark.parametrize("name", others())
def test_eight_other_jobs_plan_without_an_unexplained_caution(name: str) -> None:
    found = plan(others()[name])
    assert found.verdict != "refused", [c for c in found.checks if c.state == "refused"]
    for one in found.checks:
        # A caution has a figure in words and says what to do.
        assert one.state == "passed" or (one.detail and one.change), one
    assert found.program is not None
    assert found.program.replay.equal
    assert found.assumed


def test_a_blank_too_shallow_at_a_shoulder_is_refused_with_the_missing_length() -> None:
    found = plan(adapter(depth=0.750))
    assert found.verdict == "refused"
    assert found.program is None
    budget = found.blank.budget
    assert budget is not None
    one = check(found, "axial_budget")
    # thread + half a tooth (here tip_to_tooth 0.040) + 0.5 mm clearance - 0.750; straight lead-out.
    missing = 0.875 + 0.040 + 0.5 / 25.4 - 0.750
    assert budget.missing == pytest.approx(missing)
    assert f"{missing:.4g} in is missing" in one.detail
    assert not one.acceptable
    assert check(found, "clearance_teeth_shoulder").state == "refused"


def test_the_gentlest_lead_out_that_fits_is_taken() -> None:
    needed = 0.875 + 0.040 + 0.5 / 25.4
    half = plan(adapter(depth=needed + 1 / 14 / 2))
    none = plan(adapter(depth=needed + 1e-6))
    assert half.motion.lead_out == "half_arc"
    assert none.motion.lead_out == "radial"
    assert not_passed(half) == not_passed(none) == ASSUMED_TOOTH


def test_rows_a_little_off_pitch_show_in_the_functional_diameter() -> None:
    def rows(pitch: float) -> Plan:
        cutter = CutterAsked(
            12, 4, rows=10, row_pitch=pitch, neck_diameter=9.0, reach=22, shank_diameter=12,
            overhang=35,
        )  # fmt: skip
        return plan(port(cutter=cutter, accept=("deflection",)))

    true, off, far = rows(1.5), rows(1.503), rows(1.514)
    assert off.form.pitch_diameter == pytest.approx(true.form.pitch_diameter, abs=1e-6)
    # The known figure for lead error of 60 degree threads: cot(30) times the error over 9 rows.
    change = off.form.functional_diameter - true.form.functional_diameter
    assert change == pytest.approx(-9 * 0.003 / math.tan(math.radians(30)), rel=1e-3)
    assert check(far, "functional_diameter_as_cut").state == "refused"


def test_a_collision_cannot_be_accepted_but_a_wall_can() -> None:
    shallow = refusal(adapter(depth=0.750, accept=("axial_budget", "clearance_teeth_shoulder")))
    assert [one.pointer for one in shallow.faults] == ["/accept/0", "/accept/1"]
    thin = port(stock=StockAsked("6082", across_flats=22), accept=("wall_thickness",))
    assert plan(replace(thin, accept=())).verdict == "refused"
    found = plan(thin)
    assert found.verdict == "ready with cautions"
    assert found.program is not None
    assert "ACCEPTED BY THE CALLER" in found.program.text
    gone = plan(port(stock=StockAsked("6082", across_flats=20), accept=("wall_thickness",)))
    assert gone.verdict == "refused"


def test_inch_and_metric_plan_the_same_part() -> None:
    inch = adapter()
    metric = Job(
        "mm",
        ThreadAsked("7/8-14 UNF-2A", 0.875 * 25.4),
        StockAsked("303", across_flats=1.25 * 25.4),
        boss=BossAsked(25.4),
        cutter=CutterAsked(
            12.7, 4, tip_to_tooth=1.016, neck_diameter=9.652, reach=27.94, shank_diameter=12.7,
            overhang=38.1, holder_diameter=40.64, number=3,
        ),
        machine=Machine(8000, 5080, 5.5, rapid=15240, acceleration=2032, tool_change_seconds=8),
    )  # fmt: skip
    one, other = plan(inch), plan(metric)
    assert [a.code for a in one.checks] == [b.code for b in other.checks]
    for a, b in zip(one.passes, other.passes, strict=True):
        assert convert(a.centre_radius, "in", "mm") == pytest.approx(b.centre_radius, abs=1e-6)
        assert a.work.force.power_kw == pytest.approx(b.work.force.power_kw, rel=1e-6)
    assert one.speed.speed == pytest.approx(other.speed.speed, rel=1e-9)


def test_conventional_and_left_hand_go_the_other_ways() -> None:
    conventional = plan(adapter(cutting=CuttingAsked(milling="conventional")))
    assert (conventional.motion.sense, conventional.motion.motion) == (
        "counterclockwise",
        "upward",
    )
    left = plan(others()["left-hand"])
    assert (left.motion.hand, left.motion.sense, left.motion.motion) == (
        "left",
        "clockwise",
        "upward",
    )


def test_missing_parts_are_proposed_and_said() -> None:
    found = plan(port(cutter=None, end_mill=None, stock=StockAsked("6082")))
    assert not_passed(found) == ASSUMED_TOOTH
    assert found.bar.proposed
    assert found.bar.size == pytest.approx(25.0)
    assert found.bar.others
    words = " ".join(found.assumed)
    for part in ("thread mill:", "tooth:", "end mill:", "bar:", "clearance height", "rapid"):
        assert part in words
    stated = plan(adapter())
    assert not stated.bar.proposed
    assert not any("end mill" in line or "rapid" in line for line in stated.assumed)


def test_every_fault_of_a_job_is_told_at_once() -> None:
    bad = adapter(
        thread=ThreadAsked("7/8-13 UNF-2A", 0.875),
        stock=StockAsked("303x9", across_flats=1.25, across_corners=1.4434, diameter=1.0),
        machine=Machine(greatest_sweep=45.0),
    )
    found = refusal(bad)
    assert {fault.pointer for fault in found.faults} == {
        "/thread/designation", "/stock/material", "/stock/across_corners", "/stock/diameter",
        "/machine/greatest_sweep",
    }  # fmt: skip
    assert type(found) is BadInput
    assert all(fault.change for fault in found.faults)


@pytest.mark.parametrize(
    ("job", "kind", "pointer"),
    [
        (adapter(thread=ThreadAsked("7/8-13 UNF-2A", 0.875)), UnknownThread, "/thread/designation"),
        (adapter(thread=ThreadAsked("7/8-14 UNF-2B", 0.875)), BadInput, "/boss"),
        (adapter(boss=None), BadInput, "/boss"),
        (adapter(machine=Machine(greatest_sweep=180.0), program=ProgramAsked(arc_form="radius")),
         BadInput, "/machine/greatest_sweep"),
        (port(hole=None), BadInput, "/hole"),
        (port(boss=BossAsked(5.0)), BadInput, "/boss"),
        (adapter(stock=StockAsked("unobtanium")), NoSource, "/stock/material"),
        (adapter(stock=StockAsked("POM-C")), NoSource, "/stock/material"),
        (adapter(stock=StockAsked("303", "round", across_flats=1.0)), BadInput,
         "/stock/across_flats"),
        (port(cutter=CutterAsked(19, 4)), Impossible, "/cutter/diameter"),
        (port(cutter=CutterAsked(12, 4, rows=8)), Impossible, "/cutter/row_pitch"),
        (port(cutter=CutterAsked(12, 4, rows=8, row_pitch=1.25)), Impossible, "/cutter/row_pitch"),
        (port(cutter=CutterAsked(12, 4, greatest_pitch=1.0)), Impossible,
         "/cutter/greatest_pitch"),
        (adapter(cutter=CutterAsked(0.5, 4, tip_to_tooth=0.001)), BadInput,
         "/cutter/tip_to_tooth"),
        (port(gauging=GaugingAsked(0.3)), Impossible, "/gauging/wire_diameter"),
        (adapter(thread=ThreadAsked("1/2-14 NPT", 0.5, side="external"), boss=BossAsked(1.0)),
         BadInput, "/boss/ready"),
        (port(thread=ThreadAsked("Rc 3/4", 14.0), hole=HoleAsked(22.0)), BadInput, "/hole/ready"),
    ],
)  # fmt: skip
def test_what_cannot_be_planned_is_refused_where_it_is_wrong(
    job: Job, kind: type[Refusal], pointer: str
) -> None:
    found = refusal(job)
    assert type(found) is kind
    assert pointer in {fault.pointer for fault in found.faults}
    assert all(fault.detail and fault.change for fault in found.faults)


def test_a_taper_boss_that_is_ready_is_planned_and_not_milled() -> None:
    nipple = Job(
        "in",
        ThreadAsked("1/2-14 NPT", 0.53, side="external"),
        StockAsked("C36000", across_flats=1.0),
        boss=BossAsked(0.8, ready=True),
    )
    found = plan(nipple)
    assert found.verdict != "refused"
    assert found.blank_path is None
    assert found.blank.end_mill is None
    assert found.gauging is None
    assert check(found, "gauging").state == "passed"


def test_a_blank_measured_outside_its_limits_is_refused() -> None:
    found = plan(adapter(boss=BossAsked(1.0, ready=True, diameter=0.8750)))
    assert found.verdict == "refused"
    assert check(found, "blank_inside_limits").limit == pytest.approx(0.8734)
    small = plan(adapter(boss=BossAsked(1.0, ready=True, diameter=0.8600)))
    assert check(small, "blank_inside_limits").limit == pytest.approx(0.8631)


def test_a_radius_offset_moves_the_pitch_diameter_twice_as_far() -> None:
    before = plan(adapter())
    after = plan(adapter(cutting=CuttingAsked(radius_offset=-0.0005)))
    moved = after.form.pitch_diameter - before.form.pitch_diameter
    assert moved == pytest.approx(-0.001, rel=2e-3)
    inside = plan(port(cutting=CuttingAsked(radius_offset=-0.01)))
    moved = inside.form.pitch_diameter - plan(port()).form.pitch_diameter
    assert moved == pytest.approx(0.02, rel=5e-2)
    far = plan(adapter(cutting=CuttingAsked(radius_offset=0.01)))
    assert check(far, "pitch_diameter_as_cut").state == "refused"


def test_runout_is_allowed_for() -> None:
    true, running = plan(adapter()), plan(adapter(cutting=CuttingAsked(runout=0.001)))
    assert running.form.pitch_diameter == pytest.approx(true.form.pitch_diameter, abs=1e-9)
    centre = true.passes[-1].centre_radius
    assert running.passes[-1].centre_radius == pytest.approx(centre + 0.0005, abs=1e-5)


def test_passes_as_asked() -> None:
    equal = plan(adapter(cutting=CuttingAsked(passes=4, pass_method="constant depth")))
    depths = [one.work.depth_after for one in equal.passes]
    assert depths == pytest.approx([depths[-1] * n / 4 for n in (1, 2, 3, 4)])
    area = plan(adapter(cutting=CuttingAsked(passes=4, spring_passes=1)))
    assert [one.spring for one in area.passes] == [False] * 4 + [True]
    areas = [one.work.force.chip_area_mm2 for one in area.passes[:4]]
    assert areas == pytest.approx([areas[0]] * 4)
    effects = [one.pitch_diameter_effect or 0.0 for one in area.passes]
    assert effects[4] < effects[3]
    stiff = plan(adapter(cutting=CuttingAsked(pass_method="stiffness", deflection_share=0.05)))
    tolerance = 0.8270 - 0.8216
    assert (stiff.passes[-1].pitch_diameter_effect or 1.0) <= 0.05 * tolerance
    one = plan(adapter(cutting=CuttingAsked(passes=1)))
    assert len(one.passes) == 1
    weak = plan(adapter(cutting=CuttingAsked(passes=1, spring_passes=0, deflection_share=0.001)))
    assert check(weak, "deflection").state == "refused"
    taken = plan(
        adapter(
            cutting=CuttingAsked(passes=1, spring_passes=0, deflection_share=0.001),
            accept=("deflection",),
        )
    )
    assert check(taken, "deflection").state == "accepted"


def test_what_is_not_stated_of_the_cutter_is_a_caution_not_a_guess() -> None:
    found = plan(adapter(cutter=CutterAsked(0.5, 4)))
    assert check(found, "reach").state == "caution"
    assert check(found, "deflection").state == "caution"
    assert found.verdict == "ready with cautions"
    short = plan(adapter(cutter=CutterAsked(0.5, 4, reach=0.5, neck_diameter=0.38)))
    assert check(short, "reach").state == "refused"


def test_machine_limits_hold_speed_feed_and_power() -> None:
    slow = plan(adapter(machine=Machine(500, 2, 0.001)))
    assert slow.speed.speed == 500
    assert check(slow, "spindle_speed").state == "caution"
    assert check(slow, "feed").state == "caution"
    assert max(one.work.feed.path_feed for one in slow.passes) == pytest.approx(2)
    assert check(slow, "spindle_power").state == "refused"
    unstated = {one.code for one in plan(adapter(machine=Machine())).checks}
    assert not {"spindle_speed", "feed", "spindle_power"} & unstated


def test_own_speed_and_chip_load() -> None:
    found = plan(adapter(cutting=CuttingAsked(surface_speed=100.0, chip_load=0.001)))
    # N = 12 V/(pi D)
    assert found.speed.speed == pytest.approx(12 * 100 / (math.pi * 0.5))
    assert found.passes[0].work.chip.chip_wanted == 0.001


def test_a_control_without_helical_arcs_gets_lines() -> None:
    found = plan(port(machine=Machine(helical_arcs=False, chord_tolerance=0.01)))
    assert found.path.arcs == 0
    assert found.program is not None
    assert "G02" not in found.program.text
    assert "G03" not in found.program.text


def test_a_program_as_asked() -> None:
    asked = ProgramAsked(
        number=4711, work_offset="G57", coolant="off", arc_form="radius", line_numbers=True,
        unit_codes="G70 G71", clearance_height=0.2, safe_height=2.0, centre_x=1.0, centre_y=-2.0,
    )  # fmt: skip
    found = plan(adapter(program=asked))
    assert found.program is not None
    text = found.program.text
    for word in ("O4711", "G57", "G70", " R", "N10 ", "Z2.0000"):
        assert word in text
    assert "M08" not in text
    assert found.path.least.x == pytest.approx(1.0 - found.path.greatest.x + 1.0, abs=0.5)


def test_a_through_hole_is_threaded_all_the_way() -> None:
    found = plan(
        port(thread=ThreadAsked("M20x1.5-6H", 22), hole=HoleAsked(22, through=True), end_mill=None,
             cutter=CutterAsked(12, 4, tip_to_tooth=1.0, neck_diameter=9.0, reach=30,
                                shank_diameter=12, overhang=45))
    )  # fmt: skip
    assert found.blank.budget is None
    assert found.path.least.z < -22
    assert check(found, "axial_budget").state == "passed"
    beyond = plan(
        port(thread=ThreadAsked("M20x1.5-6H", 24), hole=HoleAsked(22, through=True),
             cutter=CutterAsked(12, 4, tip_to_tooth=1.0, neck_diameter=9.0, reach=40,
                                shank_diameter=12, overhang=45))
    )  # fmt: skip
    assert check(beyond, "axial_budget").state == "refused"


def test_a_boss_without_shoulder_has_no_floor() -> None:
    found = plan(adapter(boss=BossAsked(0.9, shoulder=False, ready=True, diameter=0.868)))
    assert found.blank.budget is None
    assert not_passed(found) == ASSUMED_TOOTH


def test_a_bar_that_does_not_clean_up_is_refused_with_the_next_one() -> None:
    found = plan(adapter(stock=StockAsked("303", across_flats=0.75)))
    one = check(found, "bar_cleans_up")
    assert one.state == "refused"
    assert "15/16" in one.change or "7/8" in one.change
    across = plan(adapter(stock=StockAsked("303", across_corners=1.25 * 2 / math.sqrt(3))))
    assert across.bar.size == pytest.approx(1.25)
    huge = plan(adapter(stock=StockAsked("303", across_flats=0.75, clean_up=40.0)))
    assert check(huge, "bar_cleans_up").change == "take a larger bar than any standard one"
    assert plan(adapter(stock=StockAsked("303", "round", diameter=1.25))).bar.across_corners is None
    with pytest.raises(Refusal) as none:
        plan(adapter(stock=StockAsked("303", clean_up=40.0)))
    assert none.value.faults[0].pointer.startswith("/stock")


def test_end_mill_checks() -> None:
    short = plan(adapter(end_mill=replace(adapter().end_mill, flute_length=0.5)))  # type: ignore[type-var]
    assert check(short, "end_mill_reach").state == "refused"
    assert check(short, "end_mill_reach").acceptable


def test_cost_only_with_a_rate() -> None:
    assert plan(adapter()).cost is None
    found = plan(adapter(costs=Costs(60.0, 30.0)))
    assert found.cost is not None
    assert found.cost.per_part == pytest.approx(found.time.total_s / 60 + 30.0 / 12)


def test_long_thread_and_coarse_gauge_are_cautions() -> None:
    long = plan(
        adapter(
            1.5, 1.7,
            cutter=replace(adapter().cutter, reach=1.8, overhang=2.2),  # type: ignore[type-var]
            end_mill=None,
        )
    )  # fmt: skip
    assert check(long, "thread_length").state == "caution"
    coarse = plan(adapter(gauging=GaugingAsked(uncertainty=0.002)))
    told = check(coarse, "gauging")
    assert (told.state, told.limit) == ("caution", 0.5)


def test_aims_move_the_sizes() -> None:
    thread = ThreadAsked("7/8-14 UNF-2A", 0.875, pitch_diameter_aim=0.25, crest_aim=0.75)
    found = plan(adapter(thread=thread))
    assert found.form.pitch_diameter == pytest.approx(0.8216 + 0.25 * 0.0054, abs=1e-7)
    assert found.blank.diameter == pytest.approx(0.8631 + 0.75 * 0.0103, abs=1e-9)


@pytest.mark.parametrize(
    ("states", "expected"),
    [
        (["passed"], "ready"),
        (["passed", "caution"], "ready with cautions"),
        (["passed", "accepted"], "ready with cautions"),
        (["caution", "refused"], "refused"),
    ],
)
def test_verdict(states: list[Any], expected: str) -> None:
    assert verdict(tuple(Check("x", state, "") for state in states)) == expected


def test_a_radius_offset_at_the_control_is_switched_in_straight_pieces() -> None:
    for job in (adapter(), port()):
        found = plan(replace(job, program=ProgramAsked(radius_offset=9)))
        assert not_passed(found) == ASSUMED_TOOTH
        assert found.program is not None
        on = [line for line in found.program.text.splitlines() if "G41 D9" in line]
        off = [line for line in found.program.text.splitlines() if line.startswith("G40 ")]
        assert len(on) == len(off) == len(found.passes)
        assert all(line.startswith("G41 D9 G01 ") for line in on)


def test_a_tooth_less_deep_than_the_thread_is_told() -> None:
    cutter = adapter().cutter
    assert cutter is not None
    tooth = plan(adapter()).cutter.tooth
    shallow = replace(cutter, tooth=replace(tooth, depth=0.042))
    found = plan(adapter(cutter=shallow))
    assert check(found, "tooth_depth").state == "caution"
    assert check(plan(adapter()), "tooth_depth").state == "passed"


def test_a_thread_of_less_than_one_pitch_is_refused() -> None:
    one = check(plan(adapter(length=0.05)), "thread_length")
    assert (one.state, one.acceptable) == ("refused", True)
    assert one.limit == pytest.approx(1 / 14)


def test_a_job_is_for_one_part_unless_it_says_more() -> None:
    assert Job("mm", ThreadAsked("M8-6g", 10.0), StockAsked("303")).quantity == 1
