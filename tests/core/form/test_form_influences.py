"""Runout, wear, rows out of step, tilt: each against the definition or a limit known by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.form.condition import condition_effect, highest_tooth
from flankwise_service.core.form.model import Cut, Pass, single
from flankwise_service.core.form.pitchline import pitch_line, triangle_pitch_radius
from flankwise_service.core.form.rows import rows_effect
from flankwise_service.core.form.section import section
from flankwise_service.core.form.tilt import lead_angle, tilt_effect, tooth_points
from flankwise_service.core.threads.model import Side
from support.form_search import tilted_reach

M8 = Tooth(30.0, 30.0, 0.15, 0.85)
INTERNAL = single(M8, 3.0, "internal", 1.25, 1.0)
EXTERNAL = single(M8, 3.0, "external", 1.25, 6.3)


@pytest.mark.parametrize(("flutes", "least"), [(1, -0.01), (2, 0.0), (3, 0.005), (4, 0.0070710678)])
def test_highest_tooth_of_a_cutter_off_its_axis(flutes: int, least: float) -> None:
    low, high = highest_tooth(0.02, flutes)
    assert low == pytest.approx(least, abs=1e-10)
    assert high == 0.01


def test_highest_tooth_by_a_search_over_where_the_runout_lies() -> None:
    heights = []
    for step in range(3600):
        at = 2 * math.pi * step / 3600
        heights.append(max(0.01 * math.cos(at - 2 * math.pi * n / 5) for n in range(5)))
    assert highest_tooth(0.02, 5) == pytest.approx((min(heights), max(heights)), abs=1e-6)


@pytest.mark.parametrize(("side", "sign"), [("internal", 1), ("external", -1)])
def test_runout_cuts_deeper_and_wear_shallower(side: Side, sign: int) -> None:
    cut = INTERNAL if side == "internal" else EXTERNAL
    effect = condition_effect(cut, flutes=3, runout=0.02, radial_wear=0.008)
    larger = replace(cut, cutter_radius=3.01)
    smaller = replace(cut, cutter_radius=2.992)
    true = 2 * pitch_line(cut).radius
    assert effect.pitch_diameter == true
    assert effect.by_runout_greatest == pytest.approx(
        2 * pitch_line(larger).radius - true, abs=1e-14
    )
    assert effect.by_wear == pytest.approx(2 * pitch_line(smaller).radius - true, abs=1e-14)
    assert (
        sign * effect.by_runout_greatest > sign * effect.by_runout_least > 0 > sign * effect.by_wear
    )
    assert (effect.deeper_least, effect.deeper_greatest) == pytest.approx((-0.003, 0.002))
    both = 2 * pitch_line(replace(cut, cutter_radius=3.002)).radius
    ends = (effect.pitch_diameter_least, effect.pitch_diameter_greatest)
    assert (ends[1] if side == "internal" else ends[0]) == pytest.approx(both, abs=1e-12)
    assert ends[0] < ends[1]


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"runout": -0.1}, "/runout"),
        ({"radial_wear": 0.5}, "/radial_wear"),
        ({"flutes": 0}, "/flutes"),
        ({"runout": 1.0}, "/runout"),
    ],
)
def test_condition_refuses(change: dict[str, float], pointer: str) -> None:
    with pytest.raises(BadInput) as refused:
        condition_effect(INTERNAL, **{"flutes": 3, **change})  # type: ignore[arg-type]
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


@pytest.mark.parametrize(("side", "sign"), [("internal", -1), ("external", 1)])
def test_rows_out_of_step_cost_the_functional_diameter(side: Side, sign: int) -> None:
    """11 rows 0.001 too far apart: grooves 0.010 out of step, 1.732 times that in diameter."""
    cut = INTERNAL if side == "internal" else EXTERNAL
    effect = rows_effect(cut, rows=11, row_pitch=1.251)
    assert effect.row_pitch_error == pytest.approx(0.001, abs=1e-12)
    assert effect.pitch_spread == pytest.approx(0.010, abs=1e-12)
    assert effect.functional_change == pytest.approx(sign * 0.0173205, abs=1e-7)
    assert effect.cut == cut
    crest = 3.375 if side == "internal" else 3.99
    with_spread = section(effect.cut, crest, pitch_spread=effect.pitch_spread)
    plain = section(cut, crest)
    change = with_spread.functional_diameter - plain.functional_diameter
    assert change == pytest.approx(effect.functional_change, abs=1e-12)


def test_rows_too_close_cost_as_much() -> None:
    wide, close = (rows_effect(INTERNAL, rows=6, row_pitch=p) for p in (1.252, 1.248))
    assert close.row_pitch_error == pytest.approx(-wide.row_pitch_error)
    assert close.pitch_spread == pytest.approx(wide.pitch_spread)


def test_several_rows_through_one_groove_widen_it() -> None:
    """Three rows, starts 2: shifts of -0.02, 0, 0.02 about the middle; 4 of 10 steps taken."""
    cut = replace(INTERNAL, starts=2, passes=(Pass(0.9), Pass(1.0)))
    effect = rows_effect(cut, rows=11, row_pitch=1.26, rows_through=3)
    shifts = [round(one.shift, 9) for one in effect.cut.passes]
    assert shifts == [-0.02, 0.0, 0.02] * 2
    assert [one.centre_radius for one in effect.cut.passes] == [0.9] * 3 + [1.0] * 3
    assert effect.pitch_spread == pytest.approx(0.01 * (10 - 4))
    wide = section(effect.cut, 3.5).pitch_diameter - section(cut, 3.5).pitch_diameter
    assert wide == pytest.approx(0.04 / math.tan(math.radians(30)), rel=0.02)


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"rows": 0}, "/rows"),
        ({"row_pitch": 1.3}, "/row_pitch"),
        ({"rows_through": 4}, "/rows_through"),
        ({"rows_through": 0}, "/rows_through"),
    ],
)
def test_rows_refuse(change: dict[str, float], pointer: str) -> None:
    with pytest.raises(BadInput) as refused:
        rows_effect(INTERNAL, **{"rows": 3, "row_pitch": 1.25, **change})  # type: ignore[arg-type]
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


def test_lead_angle_by_hand() -> None:
    assert lead_angle(math.pi, 1.0) == pytest.approx(45.0)
    with pytest.raises(BadInput) as refused:
        lead_angle(1.0, 0.0)
    assert refused.value.faults[0].pointer == "/diameter"


@pytest.mark.parametrize("cut", [INTERNAL, EXTERNAL, single(M8, 2.0, "internal", 1.25, 2.1, 2)])
def test_upright_by_tilt_equals_upright_by_the_edges(cut: Cut) -> None:
    """Two ways that share no formula: where each point cuts, and how high at each radius."""
    told = tilt_effect(cut, 0.0)
    assert told.pitch_diameter_tilted == pytest.approx(told.pitch_diameter_upright, abs=2e-8)
    assert told.overcut_tilted == pytest.approx(told.overcut_upright, abs=2e-8)


def test_tilt_to_the_lead_angle_takes_nearly_all_the_overcut_away() -> None:
    told = tilt_effect(INTERNAL)
    assert told.tilt == told.lead_angle
    assert told.lead_angle == pytest.approx(
        math.degrees(math.atan(1.25 / (math.pi * told.pitch_diameter_upright))), abs=1e-9
    )
    assert 0 < told.overcut_tilted < 0.05 * told.overcut_upright
    assert told.cost_of_no_tilt == told.pitch_diameter_upright - told.pitch_diameter_tilted
    line = pitch_line(INTERNAL).radius
    tooth = 0.075 + (4.0 - line) * math.tan(math.radians(30))
    assert told.overcut_upright == pytest.approx(
        pitch_line(INTERNAL).upper_reach - tooth, abs=1e-11
    )
    assert told.pitch_diameter_upright == 2 * line
    assert told.pitch_diameter_tilted > 2 * triangle_pitch_radius(INTERNAL)


@pytest.mark.parametrize("tilt", [-2.0, 1.0, 4.0])
@pytest.mark.parametrize("cut", [INTERNAL, EXTERNAL, single(M8, 2.0, "internal", 1.25, 2.1, 2)])
def test_tilted_groove_is_half_a_pitch_wide_by_a_plain_search(cut: Cut, tilt: float) -> None:
    told = tilt_effect(cut, tilt)
    radius = told.pitch_diameter_tilted / 2
    width = sum(tilted_reach(cut, row, radius, tilt) for row in (0, 1))
    assert width == pytest.approx(0.625, abs=2e-7)


def test_tilt_the_wrong_way_makes_it_worse() -> None:
    right, wrong = tilt_effect(EXTERNAL, 2.0), tilt_effect(EXTERNAL, -2.0)
    assert right.overcut_tilted < right.overcut_upright < wrong.overcut_tilted
    assert right.cost_of_no_tilt < 0


def test_left_over_after_tilt_vanishes_with_the_lead() -> None:
    """Tilted, what is left comes from curvature alone and falls with the square of the lead."""
    left = [
        tilt_effect(single(replace(M8, tip_width=0.15 * lead / 1.25), 3.0, "internal", lead, 1.0))
        for lead in (0.6, 0.3)
    ]
    assert left[0].overcut_tilted > 3 * left[1].overcut_tilted


def test_tooth_points_run_along_the_drawn_tooth() -> None:
    cut = single(Tooth(30.0, 10.0, 0.3, 0.85, 0.05), 3.0, "internal", 1.25, 1.0)
    for row, angle in ((0, 30.0), (1, 10.0)):
        rho, width, slope = tooth_points(cut, row, 400)
        assert rho[0] == pytest.approx(3.0)
        assert rho[-1] == pytest.approx(2.15)
        tangent = math.tan(math.radians(angle))
        assert width[-1] == pytest.approx(0.15 + 0.85 * tangent)
        assert slope[0] == pytest.approx(math.pi / 2)
        middle = 0.15 - 0.05 * math.tan(math.radians(45 - angle / 2))
        arc = (rho[:100] - 2.95) ** 2 + (width[:100] - middle) ** 2
        assert arc == pytest.approx(0.05**2, abs=1e-15)


@pytest.mark.parametrize(
    ("cut", "tilt", "pointer"),
    [(INTERNAL, 31.0, "/tilt"), (replace(INTERNAL, taper=1 / 16), None, "/taper")],
)
def test_tilt_refuses(cut: object, tilt: float | None, pointer: str) -> None:
    with pytest.raises(BadInput) as refused:
        tilt_effect(cut, tilt)  # type: ignore[arg-type]
    assert [fault.pointer for fault in refused.value.faults] == [pointer]


def test_tilt_that_leaves_no_pitch_line_is_refused() -> None:
    coarse = single(Tooth(45.0, 7.0, 0.15625, 0.9, 0.05), 3.0, "internal", 1.25, 1.2, 2)
    with pytest.raises(Impossible) as refused:
        tilt_effect(coarse, 4.0)
    assert refused.value.faults[0].code == "no_pitch_line"
