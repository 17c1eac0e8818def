from __future__ import annotations

import itertools
import math
from fractions import Fraction

import pytest

from flankwise_service.core.errors import BadInput, Impossible
from flankwise_service.core.stock.bars import (
    WRENCHES_MM,
    bars,
    fraction_name,
    undersize_h11,
    wrench,
)
from flankwise_service.core.stock.choice import bar_choices, needed_size, round_for_hexagon
from flankwise_service.core.stock.mass import circle_area, mass_per_length
from support.refused import faults_of, told


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("shape", ["hexagon", "round"])
def test_lists_rise_and_name_every_source(shape, unit):
    listed = bars(shape, unit)
    assert all(a.size < b.size for a, b in itertools.pairwise(listed))
    assert len({one.name for one in listed}) == len(listed)
    for one in listed:
        assert (one.shape, one.unit) == (shape, unit)
        assert one.source.document
        assert one.source.standing in ("memory", "common practice, no source")
        assert (one.undersize is None) == (unit == "in") == (one.undersize_source is None)


def test_inch_names_are_their_sizes():
    for one in bars("hexagon", "in") + bars("round", "in"):
        whole, _, rest = one.name.rpartition("-")
        assert float(Fraction(whole or 0) + Fraction(rest)) == one.size
    assert fraction_name(Fraction(2)) == "2"


def test_ends_and_steps_of_the_inch_lists():
    sizes = [one.size for one in bars("hexagon", "in")]
    assert (sizes[0], sizes[-1]) == (0.125, 3.0)
    assert 1.4375 in sizes
    assert 1.5625 not in sizes
    rounds = [one.size for one in bars("round", "in")]
    assert (rounds[0], rounds[-1]) == (0.0625, 8.0)
    assert {1.9375, 2.125, 4.25} <= set(rounds)
    assert not {2.0625, 4.125} & set(rounds)


def test_every_iso_272_width_up_to_100_is_a_wrench_and_most_are_bar():
    # Source: ISO 272:1982 widths across flats (memory); shop.csv rows M8 13 and M10 16 (memory).
    assert {13, 16} <= set(WRENCHES_MM)
    metric = {one.size for one in bars("hexagon", "mm")}
    assert {size for size in WRENCHES_MM if size >= 4} <= metric


@pytest.mark.parametrize(
    ("size", "tolerance"),
    [(3, 0.060), (3.1, 0.075), (10, 0.090), (17, 0.110), (30, 0.130), (32, 0.160), (80, 0.190),
     (120, 0.220), (180, 0.250), (250, 0.290)],
)  # fmt: skip
def test_h11_steps(size, tolerance):
    # Source: ISO 286-1:2010 Table 1, IT11 (memory).
    assert undersize_h11(size) == tolerance


def test_bar_refusals():
    assert told(BadInput, undersize_h11, 251) == {("/size_mm", "out_of_range")}
    assert told(BadInput, bars, "octagon", "mm") == {("/shape", "unknown_shape")}
    assert told(BadInput, wrench, 0.0, "mm") == {("/across_flats", "out_of_range")}


def test_wrench_is_the_next_that_goes_over():
    found = wrench(29.4, "mm")
    assert found is not None
    assert (found.size, found.name, found.exact) == (30.0, "30", False)
    assert found.slack == pytest.approx(0.6)
    exact = wrench(30.0, "mm")
    assert exact is not None
    assert exact.exact
    assert exact.slack == 0.0
    assert exact.source.document == "ISO 272"
    inch = wrench(1.2499, "in")
    assert inch is not None
    assert (inch.name, inch.exact) == ("1-1/4", True)
    assert inch.source.standing == "common practice, no source"
    assert wrench(100.5, "mm") is None
    assert wrench(3.01, "in") is None


def test_a_hexagon_made_by_its_corners_still_gets_its_wrench():
    # 1.25 across flats as it comes back from across corners is off by a rounding of the float.
    found = wrench(1.25 / math.sqrt(0.75) * math.sqrt(0.75) * (1 + 1e-15), "in")
    assert found is not None
    assert found.name == "1-1/4"


def test_mass_of_a_bar_against_its_volume():
    # A bar 1 m long of 30 mm hexagon: volume by geometry, density of steel 7.85 g/cm3 (memory).
    area = 30.0**2 * math.sqrt(3) / 2
    grams = area * 1000 / 1000 * 7.85
    found = mass_per_length(area, 7.85, "mm")
    assert found.kilograms_per_metre == pytest.approx(grams / 1000)
    assert found.pounds_per_inch is None
    assert found.pounds_per_foot is None
    inch = mass_per_length(area / 25.4**2, 7.85, "in")
    # the same bar by the foot: 0.3048 m of it, in pounds of 0.45359237 kg
    assert inch.pounds_per_foot == pytest.approx(grams / 1000 * 0.3048 / 0.45359237)
    assert inch.pounds_per_inch == pytest.approx(inch.pounds_per_foot / 12)
    assert inch.kilograms_per_metre is None


def test_one_inch_round_steel_weighs_2_67_lb_for_a_foot():
    # Source: common weight tables of steel bar, 1 in round = 2.67 lb/ft, hexagon 2.945 (memory).
    assert mass_per_length(circle_area(1.0), 7.85, "in").pounds_per_foot == pytest.approx(
        2.67, abs=0.01
    )
    assert mass_per_length(math.sqrt(0.75), 7.85, "in").pounds_per_foot == pytest.approx(
        2.945, abs=0.01
    )


def test_mass_refusals():
    assert told(BadInput, mass_per_length, -1.0, 0.1, "mm") == {
        ("/area", "out_of_range"),
        ("/density_g_per_cm3", "out_of_range"),
    }
    assert told(BadInput, circle_area, -1.0) == {("/diameter", "out_of_range")}
    assert circle_area(0) == 0.0


def test_the_smallest_hexagon_that_cleans_up_a_seven_eighths_boss():
    found = bar_choices(0.8734, 0.03, "in", shapes=("hexagon",), density_g_per_cm3=8.0)
    assert [one.bar.name for one in found] == ["15/16", "1", "1-1/16"]
    first = found[0]
    assert first.needed == pytest.approx(0.9334)
    assert first.cut_per_side == pytest.approx((0.9375 - 0.8734) / 2)
    assert first.least_cut_per_side == first.cut_per_side
    assert first.across_corners == pytest.approx(0.9375 * 2 / math.sqrt(3))
    assert first.corner_stand_out == pytest.approx((first.across_corners - 0.8734) / 2)
    assert first.wrench is not None
    assert first.wrench.name == "15/16"
    assert first.mass is not None
    assert first.mass.pounds_per_foot == pytest.approx(2.64, abs=0.01)
    removed = 0.9375**2 * math.sqrt(0.75) - math.pi * 0.8734**2 / 4
    assert first.volume_removed_per_length == pytest.approx(removed)


def test_metric_bar_counts_at_the_bottom_of_its_tolerance():
    # 28 h11 may be 27.87: it cleans up 26.87 + 2 * 0.5 but not 26.88 + 2 * 0.5.
    (just,) = bar_choices(26.87, 0.5, "mm", shapes=("hexagon",), count=1)
    assert just.bar.name == "28"
    assert just.least_cut_per_side == pytest.approx(0.5)
    (next_up,) = bar_choices(26.88, 0.5, "mm", shapes=("hexagon",), count=1)
    assert next_up.bar.name == "30"


def test_round_bar_has_no_corners_and_no_wrench():
    (found,) = bar_choices(20.0, 0.5, "mm", shapes=("round",), count=1)
    assert found.bar.name == "22"
    assert found.across_corners is found.corner_stand_out is found.wrench is found.mass is None
    assert found.volume_removed_per_length == pytest.approx(math.pi / 4 * (22**2 - 20**2))


def test_wall_and_least_flats_ask_for_more_bar():
    plain, walled = (
        bar_choices(20.0, 0.5, "mm", shapes=("hexagon",), least_wall=wall, count=1)[0]
        for wall in (0.0, 3.0)
    )
    assert (plain.bar.name, walled.bar.name) == ("22", "28")
    wide, round_one = bar_choices(20.0, 0.5, "mm", least_across_flats=36.0, count=1)
    assert (wide.bar.name, round_one.bar.name) == ("36", "22")


def test_needed_size_and_round_for_hexagon():
    assert needed_size(20.0, 0.5, 3.0) == 27.0
    assert round_for_hexagon(30.0, 0.5) == pytest.approx(30 * 2 / math.sqrt(3) + 1.0)


def test_choice_refusals():
    (fault,) = faults_of(Impossible, bar_choices, 2.99, 0.01, "in", shapes=("hexagon",), count=1)
    assert (fault.pointer, fault.code) == ("/diameter", "no_standard_bar")
    assert "3.01 in" in fault.detail
    # what hexagon can't give, round bar still can
    (kept,) = bar_choices(2.99, 0.01, "in", count=1)
    assert kept.bar.shape == "round"
    assert told(BadInput, bar_choices, 0.0, -1.0, "mm", least_wall=-1.0) == {
        ("/diameter", "out_of_range"),
        ("/allowance", "out_of_range"),
        ("/least_wall", "out_of_range"),
    }
    assert told(BadInput, bar_choices, 20.0, 0.5, "mm", least_across_flats=-1.0, count=0) == {
        ("/least_across_flats", "out_of_range"),
        ("/count", "out_of_range"),
    }
