"""The groove measured: each measure against its definition, worked out some other way."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.form.correction import radius_correction
from flankwise_service.core.form.envelope import cone_reaches, edges
from flankwise_service.core.form.flanks import root_fillet_radius, root_width
from flankwise_service.core.form.model import Cut, Pass, single
from flankwise_service.core.form.pitchline import pitch_line, triangle_pitch_radius
from flankwise_service.core.form.section import Section, section
from flankwise_service.core.form.tolerance import tolerance_use
from support.form_search import reach

TAN30 = math.tan(math.radians(30.0))
M8 = Tooth(30.0, 30.0, 1.25 / 8, 0.75)
INTERNAL = single(M8, 3.0, "internal", 1.25, 1.0)
EXTERNAL = single(M8, 3.0, "external", 1.25, 6.3)
NPT_HOLE = single(Tooth(30.0, 30.0, 0.06, 1.2), 4.0, "internal", 1.411, 2.7, 1, 1 / 16)
NPT_PIPE = single(Tooth(30.0, 30.0, 0.06, 1.2), 4.0, "external", 1.411, 9.7, 1, -1 / 16)


def at(found: Section, radius: float) -> float:
    upper = np.interp(radius, found.radius, found.upper_edge)
    return float(upper - np.interp(radius, found.radius, found.lower_edge))


@pytest.mark.parametrize(("cut", "crest"), [(INTERNAL, 3.375), (EXTERNAL, 3.99)])
def test_groove_equals_ridge_on_the_pitch_line(cut: Cut, crest: float) -> None:
    found = section(cut, crest)
    width = sum(reach(cut, row, found.pitch_diameter / 2) for row in (0, 1))
    assert width == pytest.approx(cut.pitch / 2, abs=1e-9)
    assert found.pitch_diameter == 2 * pitch_line(cut).radius
    assert found.overcut_effect == found.pitch_diameter - found.triangle_pitch_diameter
    assert cut.outward * found.overcut_effect > 0


def test_triangle_pitch_diameter_by_hand() -> None:
    """Groove 0.625 wide: (0.625 - 0.15625) / 2 tan 30 below the root at 4.0."""
    found = section(INTERNAL, 3.375)
    assert found.triangle_pitch_diameter == pytest.approx(8 - (0.625 - 0.15625) / TAN30, abs=1e-13)


@pytest.mark.parametrize("cut", [NPT_HOLE, NPT_PIPE])
def test_pitch_diameter_of_a_taper_is_groove_equals_ridge_along_its_cone(cut: Cut) -> None:
    line = pitch_line(cut)
    tilt = cut.taper / 2
    up, down = line.upper_reach, line.lower_reach
    assert up + down == pytest.approx(cut.pitch / 2, abs=1e-10)
    assert reach(cut, 0, line.radius + tilt * up) == pytest.approx(up, abs=1e-8)
    assert reach(cut, 1, line.radius - tilt * down) == pytest.approx(down, abs=1e-8)


def test_triangle_of_a_taper_lies_on_the_tooth_along_the_cone() -> None:
    radius, tilt, root = triangle_pitch_radius(NPT_HOLE), 1 / 32, NPT_HOLE.root_radius
    up = (0.03 + (root - radius) * TAN30) / (1 + tilt * TAN30)
    down = (0.03 + (root - radius) * TAN30) / (1 - tilt * TAN30)
    assert up + down == pytest.approx(1.411 / 2, abs=1e-13)


@pytest.mark.parametrize(("cut", "crest"), [(INTERNAL, 3.375), (EXTERNAL, 3.99)])
def test_flank_fit_equals_a_general_purpose_fit(cut: Cut, crest: float) -> None:
    """numpy.polyfit over evenly spaced radii of the same zone, 4000 of them."""
    found = section(cut, crest, points=2000).upper_flank
    radius = np.linspace(found.begin_radius, found.end_radius, 4000)
    height = edges(cut, radius)[0]
    slope, start = np.polyfit(radius, height, 1)
    angle = math.degrees(math.atan(-cut.outward * slope))
    assert found.angle == pytest.approx(angle, abs=2e-4)
    assert found.angle_error == found.angle - 30.0
    off = height - (slope * radius + start)
    assert found.straightness == pytest.approx(
        np.ptp(off) * math.cos(math.radians(angle)), rel=0.01
    )
    nominal = height + cut.outward * TAN30 * radius
    assert found.form_deviation == pytest.approx(
        np.ptp(nominal) * math.cos(math.radians(30)), rel=1e-3
    )
    assert found.cut_by_flank


def test_flank_is_fitted_up_to_where_corner_or_arc_takes_over() -> None:
    """Beyond it the edge leaves the flank's helicoid: the search shows a kink in its bend there."""
    end = section(INTERNAL, 3.375).upper_flank.end_radius
    radius = end + np.array([-2e-3, -1e-3, 0.0, 1e-3, 2e-3])
    height = edges(INTERNAL, radius)[0]
    before, after = np.diff(height)[1], np.diff(height)[2]
    assert after < before < 0
    assert before - np.diff(height)[0] == pytest.approx(0, abs=1e-6)
    rounded = single(Tooth(30.0, 30.0, 0.2, 0.75, 0.1), 3.0, "internal", 1.25, 1.0)
    assert section(rounded, 3.375).upper_flank.end_radius < end


def test_flank_on_an_external_thread_begins_where_the_corner_ends() -> None:
    flank = section(EXTERNAL, 3.99).lower_flank
    assert 3.3 < flank.begin_radius < 3.35
    assert flank.end_radius == 3.99


def test_overcut_is_the_edge_less_the_tooth() -> None:
    found = section(INTERNAL, 3.375)
    radius = found.pitch_diameter / 2
    tooth = 1.25 / 16 + (4.0 - radius) * TAN30
    assert found.upper_flank.overcut == pytest.approx(reach(INTERNAL, 0, radius) - tooth, abs=1e-9)


@pytest.mark.parametrize(("cut", "crest"), [(NPT_HOLE, 5.9), (NPT_PIPE, 6.7)])
def test_overcut_of_a_taper_is_taken_where_its_cone_meets_the_edge(cut: Cut, crest: float) -> None:
    found = section(cut, crest)
    radius = found.pitch_diameter / 2
    for row, flank in enumerate((found.upper_flank, found.lower_flank)):
        edge = cone_reaches(cut, np.array([radius]), np.zeros(1))[row, 0]
        there = radius + (1 if row == 0 else -1) * cut.taper / 2 * edge
        tooth = cut.tooth.tip_width / 2 + abs(cut.root_radius - there) * TAN30
        assert flank.overcut == pytest.approx(edge - tooth, abs=1e-9)


def test_unequal_flanks_keep_their_own_angles() -> None:
    cut = single(Tooth(45.0, 7.0, 0.4, 1.2), 6.0, "external", 2.0, 12.0)
    found = section(cut, 7.1)
    assert found.upper_flank.angle == pytest.approx(45.0, abs=0.2)
    assert found.lower_flank.angle == pytest.approx(7.0, abs=0.7)
    turned = section(cut, 7.1, flank_angles=(45.0, 8.0))
    assert turned.lower_flank.nominal_angle == 8.0
    assert turned.lower_flank.form_deviation > found.lower_flank.form_deviation


@pytest.mark.parametrize(("cut", "crest"), [(INTERNAL, 3.375), (EXTERNAL, 3.99)])
def test_functional_diameter_by_a_search_for_the_mating_ridge(cut: Cut, crest: float) -> None:
    """The perfect ridge, half a pitch wide at r0, grown until it touches the groove's flank."""
    found = section(cut, crest)
    radius = np.array(found.radius)
    zone = (radius >= found.upper_flank.begin_radius) & (radius <= found.upper_flank.end_radius)
    height = np.array(found.upper_edge)[zone]

    def clear(r0: float) -> float:
        ridge = cut.pitch / 4 + cut.outward * (r0 - radius[zone]) * TAN30
        return float((height - ridge).min())

    low, high = 3.0, 4.2
    for _ in range(60):
        middle = (low + high) / 2
        fits = clear(middle) >= 0
        low, high = (middle, high) if fits == (cut.side == "internal") else (low, middle)
    assert found.functional_diameter == pytest.approx(2 * low, abs=1e-10)
    assert cut.outward * found.functional_effect < 0


def test_functional_diameter_on_a_cone() -> None:
    """The same search, the ridge half a pitch wide along the cone through r0."""
    found = section(NPT_HOLE, 5.6)
    radius = np.array(found.radius)
    zone = (radius >= found.upper_flank.begin_radius) & (radius <= found.upper_flank.end_radius)
    up, down = np.array(found.upper_edge)[zone], -np.array(found.lower_edge)[zone]
    tilt = 1 / 32
    up_at = float((up + TAN30 * radius[zone]).min())
    down_at = float((down + TAN30 * radius[zone]).min())

    def width(r0: float) -> float:
        return (up_at - TAN30 * r0) / (1 + tilt * TAN30) + (down_at - TAN30 * r0) / (
            1 - tilt * TAN30
        )

    assert width(found.functional_diameter / 2) == pytest.approx(1.411 / 2, abs=1e-12)


def test_grooves_out_of_step_cost_the_functional_diameter_1_732_times() -> None:
    """Lead error of a 60 degree thread: 1.732 (cot 30) in pitch diameter. Handbooks; memory."""
    true, spread = section(INTERNAL, 3.375), section(INTERNAL, 3.375, pitch_spread=0.01)
    lost = true.functional_diameter - spread.functional_diameter
    assert lost == pytest.approx(0.01 * 1.7320508, rel=1e-7)
    outer = section(EXTERNAL, 3.99, pitch_spread=0.01).functional_diameter
    assert outer - section(EXTERNAL, 3.99).functional_diameter == pytest.approx(0.0173205, rel=1e-5)


def test_major_and_minor_of_each_side() -> None:
    inner, outer = section(INTERNAL, 3.375), section(EXTERNAL, 3.99)
    assert (inner.major_diameter, inner.minor_diameter) == (8.0, 6.75)
    assert outer.major_diameter == 7.98
    assert outer.minor_diameter == pytest.approx(6.6, abs=1e-14)
    assert inner.radius[0] == 3.375
    assert inner.radius[-1] == 4.0
    assert outer.radius[0] == pytest.approx(3.3, abs=1e-14)
    assert outer.radius[-1] == 3.99
    assert all(a < b for a, b in zip(outer.radius, outer.radius[1:], strict=False))


def test_crest_is_the_pitch_less_the_groove() -> None:
    for cut, crest in ((INTERNAL, 3.375), (EXTERNAL, 3.99)):
        found = section(cut, crest)
        assert found.crest_width == pytest.approx(1.25 - at(found, crest), abs=1e-12)
        assert found.crest_left_by == "blank"


@pytest.mark.parametrize(("cut", "crest"), [(NPT_HOLE, 5.6), (NPT_PIPE, 6.4)])
def test_crest_of_a_taper_is_as_wide_as_its_cone_leaves_it(cut: Cut, crest: float) -> None:
    """Both edges searched where the cone through the crest meets them, one above, one below."""
    up = down = 0.6
    for _ in range(8):
        up = reach(cut, 0, crest + cut.taper / 2 * up)
        down = reach(cut, 1, crest - cut.taper / 2 * down)
    found = section(cut, crest)
    assert found.crest_left_by == "blank"
    assert found.crest_width == pytest.approx(1.411 - up - down, abs=2e-6)


def test_crest_cut_back_by_the_tooths_body() -> None:
    """A full-form tooth 0.6 deep in a hole bored small: the body cuts the crest at 4.0 - 0.6."""
    full = single(replace(M8, depth=0.6), 3.0, "internal", 1.25, 1.0)
    found = section(full, 3.2)
    assert found.crest_left_by == "tooth body"
    assert found.minor_diameter == pytest.approx(6.8, abs=1e-14)
    shaft = single(replace(M8, depth=0.6), 3.0, "external", 1.25, 6.3)
    assert section(shaft, 4.1).major_diameter == pytest.approx(7.8, abs=1e-14)
    assert section(shaft, 4.1).crest_left_by == "tooth body"


@pytest.mark.parametrize(
    ("cut", "crest"),
    [
        (single(replace(M8, depth=1.4), 3.0, "internal", 1.25, 1.3), 3.01),
        (single(replace(M8, depth=1.4), 3.0, "external", 1.25, 6.0), 4.3),
    ],
)
def test_grooves_that_meet_leave_a_sharp_crest(cut: Cut, crest: float) -> None:
    found = section(cut, crest)
    assert found.crest_left_by == "sharp"
    assert found.crest_width == pytest.approx(0.0, abs=2e-6)
    edge = (found.minor_diameter if cut.side == "internal" else found.major_diameter) / 2
    width = sum(reach(cut, row, edge) for row in (0, 1))
    assert width == pytest.approx(1.25, abs=2e-6)


def test_root_flat_and_fillet() -> None:
    """A tip 0.3 wide with radius 0.1: 0.3 - 2 * 0.1 tan 30 stays flat."""
    rounded = single(Tooth(30.0, 30.0, 0.3, 0.75, 0.1), 3.0, "internal", 1.25, 1.0)
    assert root_width(rounded) == pytest.approx(0.3 - 0.2 * math.tan(math.radians(30)), abs=1e-14)
    assert root_width(INTERNAL) == 1.25 / 8
    twice = replace(INTERNAL, passes=(Pass(0.9, 0.3), Pass(1.0, -0.02), Pass(1.0, 0.03)))
    assert root_width(twice) == pytest.approx(1.25 / 8 + 0.05, abs=1e-14)


@pytest.mark.parametrize("tip_radius", [0.0, 0.08])
@pytest.mark.parametrize(("side", "centre"), [("internal", 1.0), ("external", 6.3)])
def test_root_radius_is_the_bend_of_the_edge_at_the_root(
    tip_radius: float, side: str, centre: float
) -> None:
    """From the plain search: radius of curvature z^2 / 2 dr of the edge, dr from the root."""
    cut = single(Tooth(30.0, 30.0, 0.3, 0.75, tip_radius), 3.0, side, 1.25, centre)  # type: ignore[arg-type]
    dr = 1e-6
    flat = root_width(cut) / 2
    height = reach(cut, 0, cut.root_radius - cut.outward * dr, levels=8) - flat
    assert root_fillet_radius(cut) == pytest.approx(height**2 / (2 * dr), rel=2e-3)


def test_tolerance_use() -> None:
    found = section(INTERNAL, 3.375, pitch_diameter_limits=(7.188, 7.348))
    use = found.tolerance_use
    assert use is not None
    assert use.tolerance == pytest.approx(0.16)
    assert use.used_by_overcut == pytest.approx(100 * found.overcut_effect / 0.16)
    assert use.used_by_form == pytest.approx(-100 * found.functional_effect / 0.16)
    assert use.position == pytest.approx(100 * (found.pitch_diameter - 7.188) / 0.16)
    assert use.pitch_diameter_inside
    assert use.functional_diameter_inside
    assert section(INTERNAL, 3.375).tolerance_use is None


def test_tolerance_use_tells_each_diameter_apart() -> None:
    use = tolerance_use(7.19, 7.1, 7.18, (7.188, 7.348))
    assert use is not None
    assert (use.pitch_diameter_inside, use.functional_diameter_inside) == (True, False)
    over = tolerance_use(7.35, 7.1, 7.34, (7.188, 7.348))
    assert over is not None
    assert (over.pitch_diameter_inside, over.functional_diameter_inside) == (False, True)


def test_at_a_limit_a_diameter_is_still_inside() -> None:
    limits = (7.188, 7.348)
    expected = {7.1879: False, 7.188: True, 7.25: True, 7.348: True, 7.3481: False}
    for size, inside in expected.items():
        use = tolerance_use(size, 7.1, 7.25, limits)
        other = tolerance_use(7.25, 7.1, size, limits)
        assert use is not None
        assert other is not None
        assert (use.pitch_diameter_inside, use.functional_diameter_inside) == (inside, True)
        assert (other.pitch_diameter_inside, other.functional_diameter_inside) == (True, inside)


@pytest.mark.parametrize(("radius", "centre"), [(1.6, None), (2.4, None), (3.0, None), (3.3, None)])
def test_the_corrected_flank_does_not_know_the_cutter(radius: float, centre: None) -> None:
    """The involute helicoid: on one pitch line every cutter leaves the same flank."""
    tooth = replace(M8, tip_width=0.08)
    start = single(tooth, radius, "internal", 1.25, 4.05 - radius)
    found = radius_correction(start, 7.268)
    cut = single(tooth, radius, "internal", 1.25, found.centre_radius)
    height = edges(cut, np.array([3.4, 3.5, 3.6, 3.7, 3.8]))[0]
    small = single(tooth, 1.2, "internal", 1.25, 2.85)
    other = single(tooth, 1.2, "internal", 1.25, radius_correction(small, 7.268).centre_radius)
    assert height == pytest.approx(edges(other, np.array([3.4, 3.5, 3.6, 3.7, 3.8]))[0], abs=1e-11)
    assert section(cut, 3.375).functional_effect == pytest.approx(
        section(other, 3.375).functional_effect, abs=1e-6
    )


def test_coarse_lead_is_cut_by_the_corner_and_says_so() -> None:
    cut = single(Tooth(14.5, 14.5, 0.3, 0.9), 3.0, "internal", 1.25, 1.0, 4)
    found = section(cut, 3.3)
    flank, crest = found.upper_flank, found.minor_diameter / 2
    assert not flank.cut_by_flank
    assert flank.begin_radius == pytest.approx(crest + (4.0 - crest) / 4)
    assert flank.end_radius == pytest.approx(4.0 - (4.0 - crest) / 4)
    nearly = single(Tooth(14.5, 14.5, 0.3, 0.9), 3.0, "internal", 1.25, 1.0, 1)
    assert section(nearly, 3.3).upper_flank.cut_by_flank


def test_straight_flank_too_short_to_fit_falls_back() -> None:
    """On these external threads the corner cuts all, or all but the outermost, of the flank."""
    cut = single(Tooth(5.0, 5.0, 0.5, 0.9), 3.0, "external", 1.25, 4.6, 2)
    assert not section(cut, 2.4).upper_flank.cut_by_flank
    nearly = single(Tooth(3.9, 3.9, 0.5, 0.75), 3.0, "external", 1.25, 6.3)
    flank = section(nearly, 3.95).upper_flank
    assert not flank.cut_by_flank
    assert (flank.begin_radius, flank.end_radius) == pytest.approx((3.4625, 3.7875))
    # where the corner hands over lies beyond the crest: no straight flank is left at all
    coarse = single(Tooth(30.0, 30.0, 0.276, 1.312, 0.0756), 4.17, "external", 2.52, 9.01, 8)
    assert not section(coarse, 5.63).upper_flank.cut_by_flank


@given(scale=st.sampled_from([1 / 25.4, 25.4, 1e-2, 1e2]), starts=st.integers(1, 3))
@settings(max_examples=12, deadline=None)
def test_lengths_scale_angles_stay(scale: float, starts: int) -> None:
    """The same groove in inches and millimetres, or a hundred times as large."""
    one = section(replace(INTERNAL, starts=starts), 3.375)
    tooth = Tooth(30.0, 30.0, M8.tip_width * scale, M8.depth * scale)
    cut = single(tooth, 3.0 * scale, "internal", 1.25 * scale, scale, starts)
    other = section(cut, 3.375 * scale)
    assert other.pitch_diameter == pytest.approx(one.pitch_diameter * scale, rel=1e-11)
    assert other.functional_diameter == pytest.approx(one.functional_diameter * scale, rel=1e-11)
    assert other.upper_flank.angle == pytest.approx(one.upper_flank.angle, rel=1e-9)
    assert other.upper_edge[50] == pytest.approx(one.upper_edge[50] * scale, rel=1e-11)


@given(points=st.integers(120, 2000))
@settings(max_examples=15, deadline=None)
def test_measures_do_not_depend_on_the_count_of_points(points: int) -> None:
    fine, other = section(INTERNAL, 3.375, points=4000), section(INTERNAL, 3.375, points=points)
    assert len(other.radius) == len(other.upper_edge) == len(other.lower_edge) == points
    assert other.pitch_diameter == fine.pitch_diameter
    assert other.upper_flank.angle == pytest.approx(fine.upper_flank.angle, abs=3e-3)
    assert other.functional_diameter == pytest.approx(fine.functional_diameter, abs=1e-4)


def test_deepest_pass_rules_the_root() -> None:
    cut = replace(INTERNAL, passes=(Pass(0.6), Pass(1.0), Pass(0.9)))
    assert cut.root_radius == 4.0
    assert section(cut, 3.375) == section(INTERNAL, 3.375)
    shaft = replace(EXTERNAL, passes=(Pass(6.6), Pass(6.3), Pass(6.4)))
    assert section(shaft, 3.99) == section(EXTERNAL, 3.99)


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"crest_radius": 0.0}, "/crest_radius", "out_of_range"),
        ({"crest_radius": 10**400}, "/crest_radius", "out_of_range"),
        ({"points": 15}, "/points", "out_of_range"),
        ({"points": 10**9}, "/points", "out_of_range"),
        ({"pitch_spread": -0.1}, "/pitch_spread", "out_of_range"),
        ({"flank_angles": (90.0, 30.0)}, "/flank_angles/0", "out_of_range"),
        ({"pitch_diameter_limits": (7.3, 7.2)}, "/pitch_diameter_limits", "limits_crossed"),
        ({"pitch_diameter_limits": (7.3, math.nan)}, "/pitch_diameter_limits/1", "out_of_range"),
    ],
)
def test_section_refuses_bad_input(change: dict[str, object], pointer: str, code: str) -> None:
    with pytest.raises(BadInput) as refused:
        section(INTERNAL, **{"crest_radius": 3.375, **change})  # type: ignore[arg-type]
    assert (pointer, code) in [(fault.pointer, fault.code) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("cut", "crest", "code"),
    [
        (INTERNAL, 4.0, "cuts_nothing"),
        (EXTERNAL, 3.3, "cuts_nothing"),
        (INTERNAL, 4.0 - 3e-6, "cuts_nothing"),
        (EXTERNAL, 3.3 + 3e-6, "cuts_nothing"),
        (INTERNAL, 2.9, "hole_smaller_than_cutter"),
        (INTERNAL, 3.8, "no_pitch_line"),
        (EXTERNAL, 3.4, "no_pitch_line"),
        (single(replace(M8, tip_width=0.7), 3.0, "internal", 1.25, 1.0), 3.375, "no_pitch_line"),
    ],
)
def test_section_refuses_what_cannot_be_cut(cut: Cut, crest: float, code: str) -> None:
    with pytest.raises(Impossible) as refused:
        section(cut, crest)
    assert code in [fault.code for fault in refused.value.faults]
