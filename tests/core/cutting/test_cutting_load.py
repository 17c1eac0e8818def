from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise_service.core.cutting.answers import (
    force_figures_for,
    loaded_passes,
    moves_from,
    radial_passes,
    speed_answer,
)
from flankwise_service.core.cutting.chip import held_chip
from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.feed import arc_feed
from flankwise_service.core.cutting.load import (
    ThreadCut,
    diameter_at_tip,
    stiff_thread_depths,
    thread_pass,
    thread_passes,
)
from flankwise_service.core.cutting.materials import STATED
from flankwise_service.core.cutting.time import Move
from flankwise_service.core.errors import BadInput, Impossible, NoSource
from flankwise_service.core.path.segment import Point, Segment
from support.refused import faults_of, told

MILL = Cutter(
    6.0, 3, Tooth(30.0, 30.0, 0.15, 0.8), neck_diameter=4.2, reach=20.0, shank_diameter=6.0,
    overhang=30.0, tip_to_tooth=0.5,
)  # fmt: skip
INSIDE = ThreadCut(MILL, "mm", "internal", 6.8, 1.25, 4000.0, 0.02, 700.0, 0.25)
OUTSIDE = replace(INSIDE, side="external", blank_diameter=8.0)


def inches(cut: ThreadCut) -> ThreadCut:
    """The same cut with every length in inches."""
    mill, tooth = cut.cutter, cut.cutter.tooth
    small = replace(
        mill, diameter=mill.diameter / 25.4, neck_diameter=mill.neck_diameter / 25.4,
        reach=mill.reach / 25.4, shank_diameter=mill.shank_diameter / 25.4,
        overhang=mill.overhang / 25.4, tip_to_tooth=mill.tip_to_tooth / 25.4,
        tooth=replace(tooth, tip_width=tooth.tip_width / 25.4, depth=tooth.depth / 25.4),
    )  # fmt: skip
    return replace(
        cut, cutter=small, unit="in", blank_diameter=cut.blank_diameter / 25.4,
        lead=cut.lead / 25.4, chip_load=cut.chip_load / 25.4,
    )  # fmt: skip


def test_diameter_at_the_tip_grows_inside_and_shrinks_outside():
    assert diameter_at_tip(INSIDE, 0.65) == pytest.approx(8.1)
    assert diameter_at_tip(OUTSIDE, 0.75) == pytest.approx(6.5)
    (fault,) = faults_of(Impossible, diameter_at_tip, OUTSIDE, 4.0)
    assert (fault.greatest, fault.change) == (None, "the depth is radial; keep it below 4")
    assert (fault.pointer, fault.code) == ("/depth", "through_the_axis")
    assert told(BadInput, diameter_at_tip, replace(INSIDE, blank_diameter=0.0), -1.0) == {
        ("/blank_diameter", "out_of_range"), ("/depth", "out_of_range"),
    }  # fmt: skip


@pytest.mark.parametrize("cut", [INSIDE, OUTSIDE], ids=["internal", "external"])
def test_a_pass_puts_the_steps_together(cut):
    done = thread_pass(cut, 0.2, 0.45)
    before, after = diameter_at_tip(cut, 0.2), diameter_at_tip(cut, 0.45)
    assert (done.depth_before, done.depth_after, done.diameter_after) == (0.2, 0.45, after)
    assert done.chip == held_chip(0.02, 6.0, before, after, cut.side)
    assert done.feed == arc_feed(
        4000 * 3 * done.chip.feed_per_tooth_edge, after, 6.0, cut.side, lead=1.25
    )
    assert done.force.greatest_chip_mm == pytest.approx(done.chip.greatest_chip)
    assert done.deflection is not None
    sign = -1 if cut.side == "internal" else 1
    assert done.deflection.pitch_diameter_error_mm * sign > 0


def test_inch_and_metric_are_the_same_cut():
    metric = thread_pass(OUTSIDE, 0.2, 0.45)
    inch = thread_pass(inches(OUTSIDE), 0.2 / 25.4, 0.45 / 25.4)
    assert inch.force.power_kw == pytest.approx(metric.force.power_kw)
    assert inch.force.wall_n == pytest.approx(metric.force.wall_n)
    assert inch.chip.feed_per_tooth * 25.4 == pytest.approx(metric.chip.feed_per_tooth)
    assert inch.deflection is not None
    assert metric.deflection is not None
    assert inch.deflection.deflection_mm == pytest.approx(metric.deflection.deflection_mm)
    tolerance = 0.1
    depths = stiff_thread_depths(OUTSIDE, 0.7, tolerance)
    small = stiff_thread_depths(inches(OUTSIDE), 0.7 / 25.4, tolerance / 25.4)
    assert [one * 25.4 for one in small] == pytest.approx(list(depths))


def test_a_machine_too_slow_for_the_feed_thins_the_chip():
    free = thread_pass(OUTSIDE, 0.2, 0.45)
    half = thread_pass(replace(OUTSIDE, greatest_feed=free.feed.path_feed / 2), 0.2, 0.45)
    assert half.feed.capped
    assert half.force.greatest_chip_mm == pytest.approx(free.force.greatest_chip_mm / 2)
    assert half.force.tangential_mean_n < free.force.tangential_mean_n
    standing = thread_pass(replace(OUTSIDE, speed=0.0), 0.2, 0.45)
    assert standing.feed.path_feed == standing.force.power_kw == 0.0


def test_a_spring_pass_runs_at_the_plain_chip_load():
    first, spring = thread_passes(INSIDE, (0.65, 0.65))
    assert spring.force.chip_area_mm2 == 0.0
    assert spring.chip.feed_per_tooth_edge == pytest.approx(0.02)
    assert spring.deflection is not None
    assert spring.deflection.deflection_mm == 0.0
    assert first.force.chip_area_mm2 > 0


def test_passes_join_where_they_end():
    done = thread_passes(INSIDE, (0.3, 0.5, 0.65))
    assert [(one.depth_before, one.depth_after) for one in done] == [
        (0.0, 0.3), (0.3, 0.5), (0.5, 0.65),
    ]  # fmt: skip


def test_rows_cut_all_at_once():
    one = thread_pass(INSIDE, 0.2, 0.45)
    three = thread_pass(replace(INSIDE, cutter=replace(MILL, rows=3, row_pitch=1.25)), 0.2, 0.45)
    assert three.force.power_kw == pytest.approx(3 * one.force.power_kw)


def test_deflection_is_left_open_where_the_cutter_is_not_described():
    bare = replace(INSIDE, cutter=Cutter(6.0, 3, MILL.tooth))
    assert thread_pass(bare, 0.0, 0.3).deflection is None
    assert told(BadInput, stiff_thread_depths, bare, 0.65, 0.1) == {
        ("/cutter/neck_diameter", "needed"), ("/cutter/overhang", "needed"),
    }  # fmt: skip


@pytest.mark.parametrize("milling", ["climb", "conventional"])
def test_stiff_passes_keep_the_pitch_diameter_within_its_shares(milling):
    cut = replace(OUTSIDE, milling=milling, kc11_n_per_mm2=2050.0)
    tolerance = 0.112
    depths = stiff_thread_depths(cut, 0.7, tolerance, final_share=0.1, rough_share=0.3)
    climbing = thread_passes(replace(cut, milling="climb"), depths)
    errors = [abs(one.deflection.pitch_diameter_error_mm) for one in climbing]
    assert errors[-1] <= 0.1 * tolerance * (1 + 1e-8)
    assert max(errors) <= 0.3 * tolerance * (1 + 1e-8)
    assert len(depths) > 1
    assert depths[-1] == 0.7
    # no pass fewer would do: the greatest final step is used up
    assert errors[-1] == pytest.approx(0.1 * tolerance, rel=1e-6)


def test_shares_of_tolerance_are_a_tenth_and_a_half_unless_said():
    stiff = replace(OUTSIDE, kc11_n_per_mm2=2050.0)
    said = stiff_thread_depths(stiff, 0.7, 0.112, final_share=0.1, rough_share=0.5, least_step=0.01)
    assert stiff_thread_depths(stiff, 0.7, 0.112) == said
    assert len(said) > 1
    assert said != stiff_thread_depths(stiff, 0.7, 0.112, final_share=0.1, rough_share=0.2)
    tolerance = {"pitch_diameter_tolerance": 0.112}
    assert tuple(one.depth_after for one in loaded_passes(stiff, 0.7, **tolerance)) == said


def test_a_cutter_too_weak_for_the_tolerance_is_refused():
    weak = replace(OUTSIDE, cutter=replace(MILL, neck_diameter=1.0), kc11_n_per_mm2=2050.0)
    assert told(Impossible, stiff_thread_depths, weak, 0.7, 0.02) == {
        ("/least_step", "cutter_too_weak")
    }
    assert told(
        BadInput, stiff_thread_depths, OUTSIDE, 0.7, 0.0, final_share=0, rough_share=0
    ) == {
        ("/pitch_diameter_tolerance", "out_of_range"), ("/final_share", "out_of_range"),
        ("/rough_share", "out_of_range"),
    }  # fmt: skip
    gross = stiff_thread_depths(OUTSIDE, 0.7, 1.0, least_step=0.7)
    assert gross == (0.7,)


def test_loaded_passes_compare_with_the_tolerance():
    two = loaded_passes(INSIDE, 0.65, passes=2, spring_passes=1, pitch_diameter_tolerance=0.16)
    assert len(two) == 3
    assert two[0].deflection is not None
    assert two[0].share_of_tolerance == pytest.approx(
        abs(two[0].deflection.pitch_diameter_error_mm) / 0.16
    )
    assert two[0].force.chip_area_mm2 == pytest.approx(two[1].force.chip_area_mm2)
    assert two[2].share_of_tolerance == 0.0
    stiff = loaded_passes(INSIDE, 0.65, pitch_diameter_tolerance=0.16, final_share=0.05)
    assert stiff[-1].share_of_tolerance == pytest.approx(0.05, rel=1e-6)
    (single,) = loaded_passes(INSIDE, 0.65)
    assert single.share_of_tolerance is None
    bare = replace(INSIDE, cutter=Cutter(6.0, 3, MILL.tooth))
    (unknown,) = loaded_passes(bare, 0.65, passes=1, pitch_diameter_tolerance=0.16)
    assert unknown.share_of_tolerance is unknown.deflection is None


def test_a_depth_beyond_the_tooth_is_refused():
    (fault,) = faults_of(Impossible, loaded_passes, INSIDE, 0.81)
    assert (fault.pointer, fault.code, fault.greatest) == ("/depth", "tooth_too_shallow", 0.8)
    assert loaded_passes(INSIDE, 0.8)[0].depth_after == 0.8


def test_force_figures_stated_or_listed():
    kc11, mc = force_figures_for(None, 2000, 0.25)
    assert (kc11.value, mc.value, kc11.source, mc.source) == (2000.0, 0.25, STATED, STATED)
    kc11, mc = force_figures_for("303", 1900, None)
    assert (kc11.value, kc11.source, mc.value) == (1900.0, STATED, 0.21)
    assert told(BadInput, force_figures_for, None, 2000, None) == {("/material", "needed")}
    assert told(NoSource, force_figures_for, "POM", None, None) == {
        ("/material", "no_cutting_force")
    }


def test_speed_from_a_material_or_stated():
    middle = speed_answer("mm", 10.0, material="303")
    assert middle.spindle.surface_speed_wanted == pytest.approx(87.5)
    assert middle.surface_speed_window is not None
    assert (middle.surface_speed_window.least, middle.surface_speed_window.greatest) == (
        65.0,
        110.0,
    )
    assert middle.chip_load_window is not None
    assert middle.chip_load_window.greatest == pytest.approx(0.06)
    inch = speed_answer("in", 0.5, surface_speed=300.0, material="303", greatest_speed=2000)
    assert inch.spindle.capped == "machine_greatest"
    assert inch.chip_load_window is not None
    assert inch.chip_load_window.greatest == pytest.approx(0.006 * 0.5)
    least = speed_answer("in", 6.0, surface_speed=3.0, least_speed=20)
    assert least.spindle.capped == "machine_least"
    assert least.surface_speed_window is least.chip_load_window is None
    assert told(BadInput, speed_answer, "mm", 10.0) == {("/surface_speed", "needed")}
    assert told(BadInput, speed_answer, "mm", 10.0, material="303", fraction=2) == {
        ("/fraction", "out_of_range")
    }


def test_radial_passes_by_each_way():
    form = (0.15, 30.0, 30.0)
    steps = radial_passes(0.6, form, "equal_step", greatest_step=0.2, spring_passes=1)
    assert [one.step for one in steps] == pytest.approx([0.2, 0.2, 0.2, 0.0])
    assert steps[-1].chip_area == 0.0
    areas = radial_passes(0.6, form, "equal_area", passes=3)
    assert len({round(one.chip_area, 9) for one in areas}) == 1
    by_area = radial_passes(0.6, form, "equal_area", greatest_area=areas[0].chip_area * 1.0001)
    assert [one.depth for one in by_area] == pytest.approx([one.depth for one in areas])
    assert len(radial_passes(0.6, form, "equal_step", passes=4)) == 4
    for method in ("equal_step", "equal_area"):
        assert [one.depth for one in radial_passes(0.6, form, method, passes=1)] == [0.6]
    for method, given in [
        ("equal_area", {}), ("equal_area", {"passes": 2, "greatest_area": 1.0}),
        ("equal_area", {"greatest_step": 1.0}), ("equal_area", {"passes": 2, "greatest_step": 1.0}),
        ("equal_step", {"greatest_area": 1.0}), ("equal_step", {"passes": 2, "greatest_step": 1.0}),
    ]:  # fmt: skip
        assert told(BadInput, radial_passes, 0.6, form, method, **given) == {("/passes", "one_way")}
    assert told(BadInput, radial_passes, 0.6, form, "equal_step", passes=101) == {
        ("/passes", "out_of_range")
    }


def test_moves_stated_or_of_segments():
    move = Move(1.0, 100.0)
    segment = Segment("line", "link", Point(0, 0, 0), Point(0, 0, 2.0), feed=100.0)
    assert moves_from([move], []) == (move,)
    assert moves_from([], [segment]) == (Move(2.0, 100.0),)
    assert told(BadInput, moves_from, [], []) == {("/moves", "one_way")}
    assert told(BadInput, moves_from, [move], [segment]) == {("/moves", "one_way")}
