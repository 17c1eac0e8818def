from __future__ import annotations

import itertools
import math

import pytest

from flankwise_service.core.cutting.feed import (
    arc_feed,
    centre_diameter,
    centre_feed,
    edge_feed,
    helix_factor,
    ramped_feeds,
)
from flankwise_service.core.cutting.ranges import refuse_outside
from flankwise_service.core.cutting.speed import spindle_speed, surface_speed
from flankwise_service.core.errors import BadInput, Impossible
from support.refused import faults_of, told


def test_speed_in_both_units_is_the_same_cutter():
    inch = spindle_speed(300.0, 0.5, "in")
    metric = spindle_speed(300 * 0.3048, 12.7, "mm")
    assert inch.speed == pytest.approx(metric.speed, rel=1e-12)
    assert (inch.unit, metric.unit) == ("in", "mm")
    assert inch.surface_speed == pytest.approx(300.0)
    assert inch.surface_speed_wanted == 300.0


def test_machine_limits_cap_and_say_which():
    high = spindle_speed(100.0, 6.0, "mm", greatest=4000)
    assert (high.speed, high.capped) == (4000.0, "machine_greatest")
    assert high.wanted == pytest.approx(100_000 / (math.pi * 6))
    assert high.surface_speed == pytest.approx(math.pi * 6 * 4000 / 1000)
    low = spindle_speed(5.0, 50.0, "mm", least=100, greatest=4000)
    assert (low.speed, low.capped) == (100.0, "machine_least")
    assert low.surface_speed == pytest.approx(math.pi * 50 * 100 / 1000)
    assert spindle_speed(5.0, 50.0, "mm", least=500, greatest=500).speed == 500.0
    free = spindle_speed(5.0, 50.0, "mm", least=10)
    assert free.capped == "none"
    assert free.speed == free.wanted


def test_surface_speed_is_the_reverse():
    assert surface_speed(2291.83, 0.5, "in") == pytest.approx(300.0, rel=1e-5)
    assert surface_speed(0, 0.5, "in") == 0.0


def test_a_speed_below_one_turn_a_minute_is_kept_where_no_least_is_given():
    found = spindle_speed(0.1 * math.pi, 1000.0, "mm")
    assert (found.speed, found.capped) == (pytest.approx(0.1), "none")


def test_speed_refusals():
    assert told(BadInput, spindle_speed, 0.0, math.nan, "in", least=-1, greatest=0) == {
        ("/surface_speed", "out_of_range"), ("/diameter", "out_of_range"),
        ("/least", "out_of_range"), ("/greatest", "out_of_range"),
    }  # fmt: skip
    (fault,) = faults_of(BadInput, spindle_speed, 10.0, 6.0, "mm", least=500, greatest=400)
    assert (fault.pointer, fault.code, fault.value) == ("/least", "limits_out_of_order", 500.0)
    assert told(BadInput, surface_speed, -1, 0.0, "mm") == {
        ("/speed", "out_of_range"), ("/diameter", "out_of_range"),
    }  # fmt: skip


def test_ranges_name_the_argument_in_words():
    (fault,) = faults_of(BadInput, refuse_outside, feed_per_tooth=(-1.0, 0, 5, "mm"))
    assert fault.pointer == "/feed_per_tooth"
    assert fault.detail == "feed per tooth -1 mm is below the least allowed, 0 mm"
    assert (fault.least, fault.greatest, fault.unit) == (0, 5, "mm")


def test_edge_feed_is_speed_flutes_and_feed_per_tooth():
    assert edge_feed(1000, 3, 0.05) == pytest.approx(150.0)
    assert edge_feed(1000, 1, 0.05) == pytest.approx(50.0)
    assert told(BadInput, edge_feed, -1, 0, -0.1) == {
        ("/speed", "out_of_range"), ("/flutes", "out_of_range"),
        ("/feed_per_tooth", "out_of_range"),
    }  # fmt: skip


def test_centre_feed_keeps_the_edge_at_its_feed():
    """In the time the centre goes once round its circle, the edge goes once round the wall."""
    for side, diameter, cutter in (("internal", 20.0, 12.0), ("external", 20.0, 12.0)):
        around = math.pi * centre_diameter(diameter, cutter, side)
        minutes = around / centre_feed(400.0, diameter, cutter, side)
        assert math.pi * diameter / minutes == pytest.approx(400.0)
    assert centre_feed(400.0, 20.0, 12.0, "internal") == pytest.approx(160.0)
    assert centre_feed(400.0, 20.0, 12.0, "external") == pytest.approx(640.0)


def test_a_cutter_as_large_as_its_hole_is_refused():
    (fault,) = faults_of(Impossible, centre_diameter, 12.0, 12.0, "internal")
    assert (fault.pointer, fault.code) == ("/cutter_diameter", "cutter_too_large")
    assert (fault.greatest, fault.change) == (None, "take a cutter smaller than 12")
    assert centre_diameter(12.0, 40.0, "external") == 52.0
    assert told(BadInput, centre_diameter, 0.0, -1.0, "external") == {
        ("/diameter_cut", "out_of_range"), ("/cutter_diameter", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, centre_feed, -1.0, 12.0, 6.0, "internal") == {
        ("/edge_feed", "out_of_range")
    }


def test_helix_is_longer_than_its_circle_by_a_sum_of_chords():
    """The length of one turn, summed over short chords, against the formula."""
    across, lead, pieces = 3.2, 1.25, 20_000
    points = [
        (
            across / 2 * math.cos(2 * math.pi * i / pieces),
            across / 2 * math.sin(2 * math.pi * i / pieces),
            lead * i / pieces,
        )
        for i in range(pieces + 1)
    ]
    length = math.fsum(math.dist(a, b) for a, b in itertools.pairwise(points))
    assert helix_factor(across, lead) == pytest.approx(length / (math.pi * across), rel=1e-7)
    assert helix_factor(across, 0) == 1.0
    assert told(BadInput, helix_factor, 0.0, -1.0) == {
        ("/centre_diameter", "out_of_range"), ("/lead", "out_of_range"),
    }  # fmt: skip


def test_path_feed_is_told_along_the_helix():
    fed = arc_feed(300.0, 8.0, 6.0, "internal", lead=1.25)
    assert fed.edge_feed == 300.0
    assert fed.centre_feed == pytest.approx(75.0)
    assert fed.centre_factor == pytest.approx(0.25)
    assert fed.centre_diameter == 2.0
    assert fed.path_feed == pytest.approx(75.0 * math.hypot(2 * math.pi, 1.25) / (2 * math.pi))
    assert fed.helix_factor == pytest.approx(fed.path_feed / fed.centre_feed)
    assert not fed.capped


def test_the_machines_greatest_feed_caps_all_three():
    free = arc_feed(800.0, 20.0, 12.0, "external", lead=2.0)
    capped = arc_feed(800.0, 20.0, 12.0, "external", lead=2.0, greatest_feed=500.0)
    assert capped.capped
    assert capped.path_feed == pytest.approx(500.0)
    share = 500.0 / free.path_feed
    assert capped.edge_feed == pytest.approx(800.0 * share)
    assert capped.centre_feed == pytest.approx(free.centre_feed * share)
    still = arc_feed(0.0, 20.0, 12.0, "external")
    assert (still.path_feed, still.capped) == (0.0, False)
    assert told(BadInput, arc_feed, 1.0, 20.0, 12.0, "external", greatest_feed=0.0) == {
        ("/greatest_feed", "out_of_range")
    }


def test_ramp_rises_evenly_and_never_reaches_past_the_feed():
    feeds = ramped_feeds(200.0, 4, 0.5)
    assert feeds == pytest.approx((112.5, 137.5, 162.5, 187.5))
    assert sum(feeds) / 4 == pytest.approx(150.0)
    assert ramped_feeds(200.0, 3, 1.0) == (200.0, 200.0, 200.0)
    assert ramped_feeds(200.0, 1, 0.5) == (150.0,)
    assert told(BadInput, ramped_feeds, 1.0, 1001, 1.01) == {
        ("/pieces", "out_of_range"), ("/share_at_begin", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, ramped_feeds, -1.0, 0, 0.0) == {
        ("/feed", "out_of_range"), ("/pieces", "out_of_range"), ("/share_at_begin", "out_of_range"),
    }  # fmt: skip
