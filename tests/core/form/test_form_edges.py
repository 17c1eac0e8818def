"""The exact edges against a plain search, and against the other way round (tilt.left_behind)."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.cutter import Tooth
from flankwise_service.core.errors import Impossible
from flankwise_service.core.form.envelope import cone_reaches, edges
from flankwise_service.core.form.model import Cut, Pass, checked, single
from flankwise_service.core.form.tilt import left_behind
from support.form_cases import CASES, Case
from support.form_search import reach

M8 = Tooth(30.0, 30.0, 1.25 / 8, 0.75)


@st.composite
def cuts(draw: st.DrawFn, tapers: bool = True) -> Cut:
    """Any tooth that can be drawn, on any helix a shop would cut and many it wouldn't."""
    radius = draw(st.floats(1.0, 12.0))
    upper, lower = draw(st.floats(1.0, 60.0)), draw(st.floats(1.0, 60.0))
    tip = draw(st.floats(0.02, 1.0))
    room = sum(math.tan(math.radians(45 - a / 2)) for a in (upper, lower))
    q = draw(st.sampled_from([0.0, 0.3, 0.999])) * tip / room
    depth = draw(st.floats(0.1, 0.5)) * radius
    side = draw(st.sampled_from(["internal", "external"]))
    centre = draw(st.floats(0.25, 8.0)) + (radius if side == "external" else 0.0)
    taper = draw(st.sampled_from([0.0, 1 / 16, -1 / 16])) if tapers else 0.0
    pitch, starts = draw(st.floats(0.3, 4.0)), draw(st.integers(1, 4))
    assume(q <= depth)
    cut = single(Tooth(upper, lower, tip, depth, q), radius, side, pitch, centre, starts, taper)
    flattest = math.tan(math.radians(min(upper, lower)))
    base = cut.lead / (2 * math.pi) / flattest
    assume(taper == 0.0 or base <= 0.8 * min(centre, cut.root_radius))
    return checked(cut)


def radius_of(cut: Cut, share: float) -> float:
    """A radius on the flank; a hole admits its cutter, so none inside the cutter's own radius."""
    depth = cut.tooth.depth
    if cut.side == "internal":
        depth = min(depth, cut.passes[0].centre_radius)
    return cut.root_radius - cut.outward * depth * share


@given(cut=cuts(tapers=False), share=st.floats(0.001, 0.99))
@settings(max_examples=120, deadline=None)
def test_edges_equal_a_plain_search(cut: Cut, share: float) -> None:
    radius = radius_of(cut, share)
    exact = edges(cut, np.array([radius]))
    for row in (0, 1):
        searched = reach(cut, row, radius)
        assert exact[row, 0] == pytest.approx(searched, abs=1e-7 * (1 + cut.lead))


@given(cut=cuts(), share=st.floats(0.02, 0.99))
@settings(max_examples=400, deadline=None)
def test_edges_of_a_taper_equal_a_plain_search(cut: Cut, share: float) -> None:
    radius = radius_of(cut, share)
    exact = edges(cut, np.array([radius]))
    for row in (0, 1):
        searched = reach(cut, row, radius)
        assert exact[row, 0] <= searched + 1e-7 * (1 + cut.lead)
        assert exact[row, 0] >= searched - 1e-7 * (1 + cut.lead)


@pytest.mark.parametrize("tip_radius", [0.0, 0.05])
def test_a_taper_cuts_a_little_beyond_the_root_of_angle_zero(tip_radius: float) -> None:
    """A thousandth of a turn on the cutter stands further out: what it reaches there is cut."""
    tooth = Tooth(30.0, 30.0, 0.2, 0.9, tip_radius)
    cut = checked(single(tooth, 3.0, "internal", 1.411, 2.0, 1, 1 / 16))
    for beyond in (1e-8, 1e-7, 1e-6, 2e-6):
        exact = edges(cut, np.array([cut.root_radius + beyond]))
        searched = [reach(cut, row, cut.root_radius + beyond) for row in (0, 1)]
        assert exact[:, 0].tolist() == pytest.approx(searched, abs=1e-9)


@given(cut=cuts(tapers=False))
@settings(max_examples=60, deadline=None)
def test_edges_equal_what_each_point_of_the_tooth_leaves(cut: Cut) -> None:
    """The other way round: every point the tooth leaves lies on the edge, or inside the groove."""
    touches = []
    for row in (0, 1):
        radius, height = left_behind(cut, row, 0.0, 80)
        depth = cut.outward * (cut.root_radius - radius)
        inside = (depth > 0) & (depth <= cut.tooth.depth)
        inside &= (cut.side == "external") | (radius >= cut.cutter_radius)
        exact = edges(cut, radius[inside])[row]
        assert np.all(exact >= height[inside] - 1e-9)
        touches.extend(np.isclose(exact, height[inside], rtol=0, atol=1e-9).tolist())
    assert not touches or any(touches)


def test_a_steep_helix_close_to_the_axis_cuts_with_its_tip_arc() -> None:
    """The circle that a line of greatest height touches is wider than the cutter's path: 1.13."""
    cut = checked(single(Tooth(10.0, 10.0, 0.2, 0.9, 0.1), 3.0, "internal", 1.25, 0.9))
    for radius in (3.02, 3.05, 3.08):
        exact = edges(cut, np.array([radius]))
        searched = [reach(cut, row, radius) for row in (0, 1)]
        assert exact[:, 0].tolist() == pytest.approx(searched, abs=1e-7)


def test_a_flank_square_to_the_axis_leaves_nothing_behind_but_its_tip() -> None:
    """Its points are dropped, with no figure divided by nothing; those of the tip arc are kept."""
    cut = checked(single(Tooth(45.0, 0.0, 0.2, 0.9, 0.1), 3.0, "internal", 1.25, 1.0))
    for row in (0, 1):
        radius, height = left_behind(cut, row, 0.0, 80)
        assert radius.size > 0
        assert np.isfinite(radius).all()
        assert np.isfinite(height).all()


def test_edges_equal_what_each_point_leaves_to_the_last_digits() -> None:
    for case in CASES:
        if case.taper == 0.0 and "corner" not in case.name:
            for row in (0, 1):
                radius, height = left_behind(case.cut, row, 0.0, 400)
                inside = case.cut.outward * (case.cut.root_radius - radius) > 0
                exact = edges(case.cut, radius[inside])[row]
                assert exact == pytest.approx(height[inside], abs=2e-12)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_edges_of_the_cases_equal_a_plain_search(case: Case) -> None:
    exact = edges(case.cut, np.array(case.radii))
    for row in (0, 1):
        for n, radius in enumerate(case.radii):
            assert exact[row, n] == pytest.approx(reach(case.cut, row, radius), abs=1e-8)


def test_taper_settles_where_the_first_steps_fall_short() -> None:
    """A tip arc of 0.02 on steep flanks: three steps would leave it 5 micrometres low."""
    tooth = Tooth(7.0, 7.0, 0.125, 1.0, 0.021)
    cut = single(tooth, 2.0, "internal", 1.5, 5.0, 2, 1 / 16)
    for row in (0, 1):
        searched = reach(cut, row, 6.5)
        assert edges(cut, np.array([6.5]))[row, 0] == pytest.approx(searched, abs=1e-10)


def test_the_corner_cuts_highest_after_the_flank_has_had_its_turn() -> None:
    """A great cutter on a centre path hardly wider than the flank's base circle: found by trial."""
    tooth = Tooth(24.733801573062344, 24.733801573062344, 0.1, 2.5)
    cut = single(tooth, 3.0, "internal", 3.4801474352635413, 1.206671792887194)
    radius = 3.0004125965052615
    searched = reach(cut, 0, radius, levels=8)
    assert edges(cut, np.array([radius])) == pytest.approx(searched, abs=1e-9)
    swept = 2 * math.asin(
        math.sqrt((9.0 - (radius - 1.206671792887194) ** 2) / (4 * radius * 1.206671792887194))
    )
    assert searched == pytest.approx(cut.lead * swept / (2 * math.pi) + 0.05, abs=1e-8)


def test_first_and_second_highest_where_the_height_rises_again() -> None:
    """Lead so coarse that past the flank's highest the corner cuts higher still."""
    cut = single(Tooth(30.0, 30.0, 0.1, 0.4), 3.0, "internal", 3.59, 1.0)
    for radius in np.linspace(3.62, 3.99, 20):
        searched = reach(cut, 0, float(radius))
        assert edges(cut, np.array([radius]))[0, 0] == pytest.approx(searched, abs=1e-7)


def test_mirrored_tooth_mirrors_the_groove() -> None:
    radii = np.linspace(3.4, 3.99, 9)
    one = edges(single(Tooth(45.0, 7.0, 0.2, 0.75), 3.0, "internal", 1.25, 1.0, 2), radii)
    other = edges(single(Tooth(7.0, 45.0, 0.2, 0.75), 3.0, "internal", 1.25, 1.0, 2), radii)
    assert one[0] == pytest.approx(other[1], abs=1e-15)
    assert one[1] == pytest.approx(other[0], abs=1e-15)


def test_taper_turned_over_mirrors_the_groove() -> None:
    radii = np.linspace(3.4, 3.95, 9)
    up = edges(single(M8, 3.0, "internal", 1.25, 1.0, 1, 1 / 16), radii)
    down = edges(single(M8, 3.0, "internal", 1.25, 1.0, 1, -1 / 16), radii)
    assert up[0] == pytest.approx(down[1], abs=1e-12)
    assert np.abs(up[0] - up[1]).max() > 1e-4


@pytest.mark.parametrize("tip_radius", [0.0, 0.05])
def test_a_vanishing_taper_is_a_parallel_thread(tip_radius: float) -> None:
    tooth = Tooth(30.0, 30.0, 0.2, 0.75, tip_radius)
    radii = np.linspace(3.4, 3.999, 30)
    parallel = edges(single(tooth, 3.0, "internal", 1.25, 1.0), radii)
    nearly = edges(single(tooth, 3.0, "internal", 1.25, 1.0, 1, 1e-9), radii)
    assert nearly == pytest.approx(parallel, abs=1e-8)


def test_two_rows_of_radii_are_each_sides_own() -> None:
    cut = single(M8, 3.0, "internal", 1.25, 1.0)
    both = edges(cut, np.array([[3.5, 3.6], [3.7, 3.8]]))
    assert both[0] == pytest.approx(edges(cut, np.array([3.5, 3.6]))[0], abs=0)
    assert both[1] == pytest.approx(edges(cut, np.array([3.7, 3.8]))[1], abs=0)


def test_nothing_is_cut_beyond_the_root() -> None:
    cut = single(M8, 3.0, "internal", 1.25, 1.0)
    assert np.all(edges(cut, np.array([4.01, 5.0])) == -np.inf)
    assert edges(cut, np.array([4.0]))[0, 0] == pytest.approx(1.25 / 16, abs=1e-15)


def test_shallow_pass_adds_nothing_below_a_deep_one() -> None:
    radii = np.linspace(3.4, 3.99, 9)
    deep = single(M8, 3.0, "internal", 1.25, 1.0)
    both = Cut(M8, 3.0, "internal", 1.25, (Pass(0.8), Pass(1.0)))
    assert edges(both, radii) == pytest.approx(edges(deep, radii), abs=1e-15)


def test_passes_too_far_apart_leave_a_ridge() -> None:
    with pytest.raises(Impossible) as refused:
        edges(
            Cut(M8, 3.0, "internal", 1.25, (Pass(1.0, -0.4), Pass(1.0, 0.4))), np.array([3.9, 3.99])
        )
    (fault,) = refused.value.faults
    assert fault.code == "ridge_left"
    one = edges(single(M8, 3.0, "internal", 1.25, 1.0), np.array([3.99]))[0, 0]
    assert fault.value == pytest.approx(0.8 - 2 * one, abs=1e-12)
    assert "3.99" in fault.detail


def test_a_ridge_is_where_no_pass_before_reaches_not_where_the_first_does_not() -> None:
    at = np.array([3.99])
    half = edges(single(M8, 3.0, "internal", 1.25, 1.0), at)[0, 0]
    three = tuple(Pass(1.0, shift) for shift in (-1.8 * half, 0.0, 1.8 * half))
    upper, lower = edges(Cut(M8, 3.0, "internal", 1.25, three), at)[:, 0]
    assert (upper, lower) == (pytest.approx(2.8 * half), pytest.approx(2.8 * half))
    with pytest.raises(Impossible, match="leave a ridge"):
        edges(Cut(M8, 3.0, "internal", 1.25, three[::2]), at)


def test_cone_reaches_meet_the_edges_on_the_cone() -> None:
    cut = single(M8, 3.0, "internal", 1.25, 1.0, 1, 1 / 16)
    radius = 3.6
    upper, lower = cone_reaches(cut, np.array([radius]), np.zeros(1))[:, 0].tolist()
    at = np.array([[radius + upper / 32], [radius - lower / 32]])
    assert edges(cut, at)[:, 0].tolist() == pytest.approx([upper, lower], abs=1e-10)


def test_reaches_of_passes_beside_each_other_are_the_edges_of_them_all() -> None:
    """Each pass widens the side it is shifted to; both ways of working that out agree."""
    cut = Cut(M8, 3.0, "internal", 1.25, (Pass(1.0, 0.0), Pass(1.0, 0.07)))
    at = np.array([3.6])
    reaches = cone_reaches(cut, at, np.zeros(1))[:, 0]
    assert reaches.tolist() == pytest.approx(edges(cut, at)[:, 0].tolist(), abs=1e-12)
    assert reaches[0] - reaches[1] == pytest.approx(0.07, abs=1e-12)


def test_cone_reaches_move_with_depth() -> None:
    cut = single(M8, 3.0, "internal", 1.25, 1.0)
    moved = cone_reaches(cut, np.array([3.6, 3.6, 3.6]), np.array([-1.0, 0.02, 0.0]))
    assert np.all(moved[:, 0] == -np.inf)
    assert moved[0, 1] == pytest.approx(edges(cut.moved(0.02), np.array([3.6]))[0, 0], abs=1e-15)
    assert moved[0, 2] == pytest.approx(edges(cut, np.array([3.6]))[0, 0], abs=1e-15)


def test_many_radii_are_worked_out_in_blocks_without_a_seam() -> None:
    passes = tuple(Pass(float(c)) for c in np.linspace(0.5, 1.0, 100))
    cut = Cut(M8, 3.0, "internal", 1.25, passes)
    radii = np.linspace(3.35, 3.999, 700)
    one = single(M8, 3.0, "internal", 1.25, 1.0)
    assert np.array_equal(edges(cut, radii), edges(one, radii))
    pairs = np.stack((radii, radii[::-1]))
    assert np.array_equal(edges(cut, pairs)[1], edges(one, radii)[1][::-1])


@pytest.mark.parametrize("taper", [0.0, 1 / 16])
def test_a_radius_that_is_no_number_comes_out_as_not_cut(taper: float) -> None:
    """It never settles; the count of steps ends it, and nothing but "not cut" comes out."""
    cut = single(Tooth(30.0, 30.0, 0.2, 0.75, 0.1), 3.0, "internal", 1.25, 1.0, 1, taper)
    assert np.all(edges(cut, np.array([np.nan, 3.6]))[:, 0] == -np.inf)
