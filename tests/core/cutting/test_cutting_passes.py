from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from flankwise_service.core.cutting.passes import (
    chip_area,
    depth_for_area,
    equal_area_depths,
    equal_step_depths,
    groove_area,
    passes_for_area,
    residual_deflection,
    stiff_depths,
    with_spring_passes,
)
from flankwise_service.core.errors import BadInput, Impossible
from support.refused import faults_of, told

FORMS = [
    (0.15, 30.0, 30.0),
    (0.0, 30.0, 30.0),
    (0.4, 14.5, 14.5),
    (0.2, 7.0, 45.0),
    (0.5, 0.0, 0.0),
]


@pytest.mark.parametrize("form", FORMS)
def test_groove_area_is_the_width_summed_over_the_depth(form):
    tip, upper, lower = form
    slope = math.tan(math.radians(upper)) + math.tan(math.radians(lower))
    area, _ = quad(lambda t: tip + slope * t, 0, 0.6)
    assert groove_area(0.6, *form) == pytest.approx(area, rel=1e-12)
    before, _ = quad(lambda t: tip + slope * t, 0, 0.25)
    assert chip_area(0.25, 0.6, *form) == pytest.approx(area - before, rel=1e-12)


@pytest.mark.parametrize("form", FORMS)
def test_depth_for_area_against_a_root_finder(form):
    area = 0.7 * groove_area(1.0, *form)
    root = brentq(lambda t: groove_area(t, *form) - area, 0, 2, xtol=1e-14)
    assert depth_for_area(area, *form) == pytest.approx(root, rel=1e-10)


def test_depth_for_no_area():
    assert depth_for_area(0.0, 0.0, 30.0, 30.0) == 0.0
    assert depth_for_area(0.0, 0.2, 30.0, 30.0) == 0.0
    assert depth_for_area(0.5, 0.0, 0.0, 0.0) == 0.0  # an edge without width never gets there


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("count", [1, 2, 5])
def test_equal_area_passes_all_take_the_same(form, count):
    depths = equal_area_depths(0.65, count, *form)
    assert len(depths) == count
    assert depths[-1] == 0.65
    areas = [chip_area(a, b, *form) for a, b in zip((0.0, *depths), depths, strict=False)]
    assert areas == pytest.approx([groove_area(0.65, *form) / count] * count, rel=1e-9)


def test_fewest_passes_that_keep_the_area():
    whole = groove_area(0.65, *FORMS[0])
    for count in (1, 2, 3, 7):
        assert passes_for_area(0.65, whole / count, *FORMS[0]) == count
        assert passes_for_area(0.65, whole / count * 0.999, *FORMS[0]) == count + 1
    assert passes_for_area(0.65, 1e6, *FORMS[0]) == 1
    assert told(Impossible, passes_for_area, 0.65, whole / 101, *FORMS[0]) == {
        ("/greatest_area", "too_many_passes")
    }


def test_equal_steps():
    assert equal_step_depths(0.6, 0.2) == pytest.approx((0.2, 0.4, 0.6))
    assert equal_step_depths(0.6, 0.199) == pytest.approx((0.15, 0.3, 0.45, 0.6))
    assert equal_step_depths(0.6, 5.0) == (0.6,)
    (fault,) = faults_of(Impossible, equal_step_depths, 10.0, 0.05)
    assert (fault.pointer, fault.code, fault.value) == ("/greatest_step", "too_many_passes", 0.05)


def test_spring_passes_repeat_the_last_depth():
    assert with_spring_passes((0.3, 0.6), 0) == (0.3, 0.6)
    assert with_spring_passes((0.3, 0.6), 2) == (0.3, 0.6, 0.6, 0.6)
    assert told(BadInput, with_spring_passes, (0.3,), 11) == {("/springs", "out_of_range")}


def test_stiff_passes_keep_every_deflection_within_its_share():
    def bend(before: float, after: float) -> float:
        return 0.05 * (after**2 - before**2)  # grows with depth, as a V-groove's does

    depths = stiff_depths(1.0, bend, greatest_final=0.005, greatest_rough=0.012, least_step=0.001)
    bends = [bend(a, b) for a, b in zip((0.0, *depths), depths, strict=False)]
    assert bends[-1] == pytest.approx(0.005)
    assert all(one <= 0.012 * (1 + 1e-8) for one in bends)
    assert bends[1:-1] == pytest.approx([0.012] * (len(bends) - 2))
    assert depths[-1] == 1.0
    assert sum(bends) == pytest.approx(0.05)


def test_one_pass_where_the_cutter_is_stiff_enough():
    found = stiff_depths(
        1.0, lambda a, b: 1e-9 * (b - a), greatest_final=1, greatest_rough=1, least_step=0.01
    )
    assert found == (1.0,)


def test_finish_share_keeps_a_finishing_pass():
    found = stiff_depths(
        1.0, lambda a, b: 1e-9 * (b - a), greatest_final=1, greatest_rough=1, least_step=0.01,
        finish_share=0.1,
    )  # fmt: skip
    assert found == pytest.approx((0.9, 1.0))


def test_no_first_pass_thinner_than_the_least_step():
    # Steps of 0.3 from the bottom: 1.0, 0.7, 0.4, 0.1; 0.1 is thinner than 0.15, so 0.4 gives way.
    found = stiff_depths(
        1.0, lambda a, b: b - a, greatest_final=0.3, greatest_rough=0.3, least_step=0.15
    )
    assert found == pytest.approx((0.15, 0.4, 0.7, 1.0))
    shared = stiff_depths(
        0.4, lambda a, b: b - a, greatest_final=0.3, greatest_rough=0.3, least_step=0.25
    )
    assert shared == pytest.approx((0.2, 0.4))


def test_a_cutter_too_weak_is_refused_with_its_figures():
    (fault,) = faults_of(
        Impossible, stiff_depths, 1.0, lambda a, b: b - a,
        greatest_final=0.01, greatest_rough=0.5, least_step=0.02,
    )  # fmt: skip
    assert (fault.pointer, fault.code) == ("/least_step", "cutter_too_weak")
    assert fault.value == pytest.approx(0.02)
    assert (fault.least, fault.greatest) == (None, None), "a deflection is no step"
    assert "0.01 is allowed" in fault.detail
    assert "thicker neck" in fault.change


def test_more_than_a_hundred_passes_are_refused():
    assert told(
        Impossible, stiff_depths, 1.0, lambda a, b: b - a,
        greatest_final=0.009, greatest_rough=0.009, least_step=0.001,
    ) == {("/greatest_rough", "too_many_passes")}  # fmt: skip


def test_residual_deflection_is_where_cutter_and_cut_come_to_rest():
    """Walk the balance: the cutter takes a, force K a bends it by step - a."""
    rigid, step = 0.012, 0.1
    left = step
    for springs in range(4):
        # deflection rigid/step for each unit of depth really taken; taken = left - bent
        taken = brentq(lambda a, left=left: rigid / step * a - (left - a), 0, left)
        left -= taken
        assert residual_deflection(rigid, step, springs) == pytest.approx(left, rel=1e-9)
    assert residual_deflection(0.0, 0.1, 0) == 0.0


def test_passes_refusals():
    assert told(BadInput, groove_area, -1.0, -1.0, 81.0, -1.0) == {
        ("/depth", "out_of_range"), ("/tip_width", "out_of_range"),
        ("/flank_angle_upper", "out_of_range"), ("/flank_angle_lower", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, chip_area, 0.7, 0.6, *FORMS[0]) == {("/depth_before", "out_of_range")}
    assert told(BadInput, depth_for_area, -1.0, *FORMS[0]) == {("/area", "out_of_range")}
    assert told(BadInput, equal_area_depths, 0.0, 0, *FORMS[0]) == {
        ("/depth", "out_of_range"), ("/passes", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, passes_for_area, 0.0, 0.0, *FORMS[0]) == {
        ("/depth", "out_of_range"), ("/greatest_area", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, equal_step_depths, 0.0, 0.0) == {
        ("/depth", "out_of_range"), ("/greatest_step", "out_of_range"),
    }  # fmt: skip
    assert told(
        BadInput, stiff_depths, 1.0, lambda a, b: b - a,
        greatest_final=0.0, greatest_rough=0.0, least_step=2.0, finish_share=0.0,
    ) == {
        ("/greatest_final", "out_of_range"), ("/greatest_rough", "out_of_range"),
        ("/least_step", "out_of_range"), ("/finish_share", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, residual_deflection, -1.0, 0.0, 11) == {
        ("/rigid_deflection", "out_of_range"), ("/step", "out_of_range"),
        ("/springs", "out_of_range"),
    }  # fmt: skip
