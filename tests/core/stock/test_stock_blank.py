from __future__ import annotations

import math

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.stock.blank import (
    blank_depth_needed,
    check_blank_depth,
    deepest_thread,
    depth_budget,
    diameter_aim,
    is_inside,
    missing_depth,
)
from support.refused import faults_of, told


def test_aim_lies_at_the_fraction_asked():
    aim = diameter_aim(0.8579, 0.8682, 0.25)
    assert aim.diameter == pytest.approx(0.860475)
    assert aim.room_below == pytest.approx(0.002575)
    assert aim.room_above == pytest.approx(0.007725)
    assert (aim.least, aim.greatest, aim.fraction) == (0.8579, 0.8682, 0.25)
    assert diameter_aim(10, 10).diameter == 10.0
    assert diameter_aim(10, 11).diameter == 10.5


def test_aim_refuses_limits_out_of_order_and_out_of_range():
    (fault,) = faults_of(BadInput, diameter_aim, 2.0, 1.0)
    assert (fault.pointer, fault.code, fault.value) == ("/least", "limits_out_of_order", 2.0)
    assert told(BadInput, diameter_aim, 0.0, math.inf, 1.1) == {
        ("/least", "out_of_range"),
        ("/greatest", "out_of_range"),
        ("/fraction", "out_of_range"),
    }


def test_basic_size_is_outside_the_limits_of_a_class_with_allowance():
    # 7/8-14 UNF-2A: major 0.8579 to 0.8734 would be wrong; ASME B1.1 prints 0.8631 to 0.8734.
    assert not is_inside(0.8750, 0.8631, 0.8734)
    assert is_inside(0.8734, 0.8631, 0.8734)
    assert is_inside(0.8631, 0.8631, 0.8734)
    assert not is_inside(0.8630, 0.8631, 0.8734)


def test_depth_needed_is_thread_half_a_tooth_and_clearance():
    assert blank_depth_needed(0.875, 0.045, 0.020) == pytest.approx(0.940)
    assert blank_depth_needed(20, 0, 0) == 20.0


def test_seven_eighths_of_thread_on_three_quarters_of_blank_is_refused_in_figures():
    (fault,) = faults_of(Impossible, check_blank_depth, 0.750, 0.875, 0.045, 0.020)
    assert (fault.pointer, fault.code) == ("/blank_depth", "blank_too_shallow")
    assert fault.value == 0.75
    assert fault.least == pytest.approx(0.940)
    assert "0.19 is missing" in fault.detail
    assert "0.94 deep" in fault.detail
    assert "0.19 deeper" in fault.change
    assert "longer than 0.685" in fault.change


def test_even_without_a_tooth_the_eighth_is_missing():
    (fault,) = faults_of(Impossible, check_blank_depth, 0.750, 0.875, 0.0, 0.0)
    assert "0.125 is missing" in fault.detail


def test_a_blank_just_deep_enough_passes_for_all_that_binary_sums_are_off():
    assert 0.875 + 0.046 + 0.02 > 0.941
    budget = check_blank_depth(0.941, 0.875, 0.046, 0.02)
    assert budget.missing == 0.0
    assert budget.needed == pytest.approx(0.941)
    assert missing_depth(0.9349999, 0.935) == pytest.approx(1e-7, rel=1e-3)


def test_budget_tells_where_the_depth_goes():
    budget = depth_budget(25.0, 20.0, 0.7, 0.5)
    assert (budget.thread_length, budget.half_tooth, budget.clearance) == (20.0, 0.7, 0.5)
    assert budget.needed == pytest.approx(21.2)
    assert budget.available == 25.0
    assert budget.spare == pytest.approx(3.8)
    assert budget.missing == 0.0
    short = depth_budget(21.0, 20.0, 0.7, 0.5)
    assert short.spare == pytest.approx(-0.2)
    assert short.missing == pytest.approx(0.2)


def test_deepest_thread_is_what_the_blank_leaves():
    assert deepest_thread(0.750, 0.045, 0.020) == pytest.approx(0.685)
    assert deepest_thread(0.05, 0.045, 0.020) == 0.0


def test_depths_out_of_range_are_told_together():
    assert told(BadInput, blank_depth_needed, 0.0, -1.0, math.nan) == {
        ("/thread_length", "out_of_range"),
        ("/half_tooth", "out_of_range"),
        ("/clearance", "out_of_range"),
    }
    assert told(BadInput, missing_depth, -1.0, -1.0) == {
        ("/blank_depth", "out_of_range"),
        ("/needed", "out_of_range"),
    }
    assert told(BadInput, deepest_thread, -1.0, 0.0, 0.0) == {("/blank_depth", "out_of_range")}
    assert told(BadInput, deepest_thread, 1.0, -1.0, 0.0) == {("/half_tooth", "out_of_range")}
