"""Engagement and chip thickness against circles walked point by point, and areas removed."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from flankwise_service.core.cutting.chip import (
    chip_factor,
    chip_on_flank,
    greatest_chip,
    held_chip,
    mean_chip,
)
from flankwise_service.core.cutting.engagement import engagement_on_circle, engagement_straight
from flankwise_service.core.cutting.feed import centre_diameter
from flankwise_service.core.errors import BadInput, Impossible
from support.refused import told

CASES = [
    (6.0, 7.5, 8.0, "internal"),
    (6.0, 6.8, 8.1, "internal"),
    (9.9, 10.2, 12.0, "internal"),
    (2.0, 18.0, 20.0, "internal"),
    (6.0, 8.0, 7.5, "external"),
    (40.0, 22.0, 20.4, "external"),
    (3.0, 56.0, 52.0, "external"),
]


def walked(cutter: float, before: float, after: float, side: str, steps: int = 200_000) -> float:
    """Walk half the cutter's circle from the wall and measure the arc that meets material."""
    centre = (after - cutter) / 2 if side == "internal" else (after + cutter) / 2
    inside = 0
    for i in range(steps):
        angle = math.pi * (i + 0.5) / steps
        along = math.cos(angle) if side == "internal" else -math.cos(angle)
        reach = math.hypot(centre + cutter / 2 * along, cutter / 2 * math.sin(angle))
        inside += reach > before / 2 if side == "internal" else reach < before / 2
    return 180.0 * inside / steps


@pytest.mark.parametrize(("cutter", "before", "after", "side"), CASES)
def test_engagement_is_the_arc_that_meets_material(cutter, before, after, side):
    found = engagement_on_circle(cutter, before, after, side)
    assert found == pytest.approx(walked(cutter, before, after, side), abs=2e-3)


@pytest.mark.parametrize(("cutter", "before", "after", "side"), CASES)
def test_a_tooth_removes_the_ring_between_old_and_new_wall(cutter, before, after, side):
    """Sum of chip thickness over the arc, times the advance, is the ring's own share of area."""
    feed = 0.01
    angle = engagement_on_circle(cutter, before, after, side)
    per_tooth = mean_chip(feed, angle) * math.radians(angle) * cutter / 2
    turn = feed / (centre_diameter(after, cutter, side) / 2)
    ring = abs(after**2 - before**2) / 8 * turn
    assert per_tooth == pytest.approx(ring, rel=1e-9)


def test_inside_wraps_more_and_outside_less_than_a_straight_wall():
    straight = engagement_straight(6.0, 0.25)
    inside = engagement_on_circle(6.0, 7.5, 8.0, "internal")
    outside = engagement_on_circle(6.0, 8.0, 7.5, "external")
    assert outside < straight < inside
    assert engagement_on_circle(6.0, 1e5, 1e5 + 0.5, "internal") == pytest.approx(
        straight, abs=1e-3
    )
    assert engagement_on_circle(6.0, 1e5 + 0.5, 1e5, "external") == pytest.approx(
        straight, abs=1e-3
    )


def test_ends_of_engagement():
    assert engagement_on_circle(6.0, 8.0, 8.0, "internal") == 0.0
    assert engagement_on_circle(6.0, 8.0, 8.0, "external") == 0.0
    assert engagement_on_circle(6.0, 0.0, 8.0, "internal") == 180.0
    assert engagement_on_circle(1.0, 30.0, 10.0, "external") == 180.0
    assert engagement_straight(10.0, 0.0) == 0.0
    assert engagement_straight(10.0, 12.0) == 180.0


def test_engagement_refusals():
    assert told(BadInput, engagement_straight, 0.0, -1.0) == {
        ("/cutter_diameter", "out_of_range"), ("/radial_depth", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, engagement_on_circle, 6.0, 8.5, 8.0, "internal") == {
        ("/diameter_after", "wrong_way")
    }
    assert told(BadInput, engagement_on_circle, 6.0, 8.0, 8.5, "external") == {
        ("/diameter_after", "wrong_way")
    }
    assert told(BadInput, engagement_on_circle, 6.0, 0.0, 8.0, "external") == {
        ("/diameter_before", "out_of_range")
    }
    assert told(Impossible, engagement_on_circle, 8.0, 7.0, 8.0, "internal") == {
        ("/cutter_diameter", "cutter_too_large")
    }


@pytest.mark.parametrize("angle", [1.0, 25.0, 60.0, 90.0, 130.0, 180.0])
def test_chip_thickness_is_the_feed_seen_along_the_radius(angle):
    rad = math.radians(angle)
    mean, _ = quad(lambda x: 0.1 * math.sin(x), 0, rad)
    assert mean_chip(0.1, angle) == pytest.approx(mean / rad, rel=1e-9)
    greatest = max(0.1 * math.sin(rad * i / 1000) for i in range(1001))
    assert greatest_chip(0.1, angle) == pytest.approx(greatest, rel=1e-5)


def test_chip_thickness_where_nothing_is_cut():
    assert mean_chip(0.1, 0.0) == 0.0
    assert greatest_chip(0.1, 0.0) == 0.0
    assert mean_chip(0.1, 1e-12) == pytest.approx(0.1 * math.radians(1e-12) / 2)


def test_flank_takes_a_thinner_chip():
    assert chip_on_flank(0.1, 30.0) == pytest.approx(0.05)
    assert chip_on_flank(0.1, 14.5) == pytest.approx(0.1 * math.sin(math.radians(14.5)))


@pytest.mark.parametrize(("cutter", "before", "after", "side"), CASES)
def test_held_chip_is_the_chip_wanted(cutter, before, after, side):
    held = held_chip(0.02, cutter, before, after, side, greatest_factor=10.0)
    assert not held.capped, held
    assert held.greatest_chip == pytest.approx(0.02)
    assert greatest_chip(held.feed_per_tooth, held.engagement) == pytest.approx(0.02)
    ratio = after / centre_diameter(after, cutter, side)
    assert held.feed_per_tooth_edge == pytest.approx(held.feed_per_tooth * ratio)
    assert held.mean_chip == mean_chip(held.feed_per_tooth, held.engagement)
    assert held.factor == chip_factor(held.engagement)
    assert held.chip_wanted == 0.02


def test_the_cap_holds_the_axis_around_a_boss_and_says_so():
    light = held_chip(0.02, 6.0, 8.0, 7.99, "external")
    assert light.capped
    assert light.feed_per_tooth == pytest.approx(0.04)
    assert light.feed_per_tooth_edge < 0.04
    assert light.greatest_chip < 0.02


def test_the_cap_holds_the_edge_inside_a_hole():
    # The edge advances D/(D - d) = 4 times as far as the axis.
    held = held_chip(0.02, 6.0, 7.0, 8.0, "internal")
    assert held.capped
    assert held.feed_per_tooth_edge == pytest.approx(0.04)
    assert held.feed_per_tooth == pytest.approx(0.01)
    assert held.greatest_chip == pytest.approx(0.01 * held.factor)
    nothing = held_chip(0.02, 6.0, 8.0, 8.0, "internal", greatest_factor=1.5)
    assert (nothing.capped, nothing.feed_per_tooth_edge) == (True, pytest.approx(0.03))
    assert nothing.greatest_chip == 0.0


def test_just_under_the_cap_the_chip_is_held():
    free = held_chip(0.02, 6.0, 16.0, 18.0, "internal")
    assert not free.capped
    assert free.greatest_chip == pytest.approx(0.02)
    needed = free.feed_per_tooth_edge / 0.02
    assert not held_chip(0.02, 6.0, 16.0, 18.0, "internal", greatest_factor=needed * 1.001).capped
    assert held_chip(0.02, 6.0, 16.0, 18.0, "internal", greatest_factor=needed * 0.999).capped


def test_chip_refusals():
    assert told(BadInput, mean_chip, -0.1, 181.0) == {
        ("/feed_per_tooth", "out_of_range"), ("/engagement", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, greatest_chip, math.nan, 10.0) == {("/feed_per_tooth", "out_of_range")}
    assert told(BadInput, chip_factor, -1.0) == {("/engagement", "out_of_range")}
    assert told(BadInput, chip_on_flank, -1.0, 90.0) == {
        ("/chip", "out_of_range"), ("/flank_angle", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, held_chip, 0.0, 6.0, 7.0, 8.0, "internal", greatest_factor=0.5) == {
        ("/chip_wanted", "out_of_range"), ("/greatest_factor", "out_of_range"),
    }  # fmt: skip
