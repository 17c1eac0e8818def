"""Stock where one figure is many times another: there a sum, a quotient and a rest go apart."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.errors import Impossible
from flankwise_service.core.stock.bars import bars, wrench
from flankwise_service.core.stock.blank import depth_budget, diameter_aim, missing_depth
from flankwise_service.core.stock.choice import bar_choices, round_for_hexagon
from flankwise_service.core.stock.drills import drill_choices, hole_for_percent
from flankwise_service.core.stock.hexagon import (
    corner_stand_out,
    hexagon,
    wall_to_bore,
    wall_to_flats,
    wrong_turn,
)


def test_each_list_has_its_own_source():
    documents = {(shape, unit): {one.source.document for one in bars(shape, unit)}
                 for shape in ("hexagon", "round") for unit in ("in", "mm")}  # fmt: skip
    assert documents[("hexagon", "mm")] == {"DIN 176"}
    assert documents[("round", "mm")] == {"EN 10278"}
    assert {one.source.place for one in bars("hexagon", "in")} == {"cold drawn hexagon"}
    assert {one.source.place for one in bars("round", "in")} == {"cold finished round"}
    assert {one.undersize_source.document for one in bars("round", "mm")} == {"ISO 286-1"}


@pytest.mark.parametrize(("across", "exact"), [(29.941, True), (29.939, False), (4.995, True),
                                               (4.989, False), (99.81, True), (99.79, False)])  # fmt: skip
def test_a_wrench_is_exact_within_two_thousandths_of_its_size(across, exact):
    found = wrench(across, "mm")
    assert found is not None
    assert found.exact is exact
    assert found.slack == pytest.approx(found.size - across)


def test_a_large_bar_over_a_small_boss():
    (found,) = bar_choices(3.0, 1.0, "mm", shapes=("hexagon",), least_across_flats=30.0, count=1)
    assert (found.bar.name, found.needed) == ("30", 5.0)
    assert found.cut_per_side == 13.5
    assert found.least_cut_per_side == pytest.approx(13.5 - 0.130 / 2)  # h11 of 30 mm
    corners = 30 * 2 / math.sqrt(3)
    assert found.corner_stand_out == pytest.approx((corners - 3) / 2)
    assert found.volume_removed_per_length == pytest.approx(900 * math.sqrt(0.75) - math.pi * 9 / 4)
    assert round_for_hexagon(30.0, 10.0) == pytest.approx(corners + 20)


def test_a_bar_may_just_clean_up_and_no_less():
    """Round 22 h11 may be 21.87; 21.87 cleans up 20.87 and half a millimetre on each side."""
    for diameter, name in [(20.87, "22"), (20.8701, "23")]:
        (found,) = bar_choices(diameter, 0.5, "mm", shapes=("round",), count=1)
        assert found.bar.name == name
    for flats, name in [(30.0, "30"), (30.0001, "32")]:
        (found,) = bar_choices(
            10.0, 0.5, "mm", shapes=("hexagon",), least_across_flats=flats, count=1
        )
        assert found.bar.name == name
    (inch,) = bar_choices(0.75, 0.125, "in", shapes=("round",), count=1)
    assert inch.bar.name == "1"


def test_wide_limits_and_deep_blanks():
    aim = diameter_aim(1.0, 9.0, 0.25)
    assert (aim.diameter, aim.room_below, aim.room_above) == (3.0, 2.0, 6.0)
    assert missing_depth(1.0, 7.0) == 6.0
    deep = depth_budget(50.0, 5.0, 0.5, 0.25)
    assert (deep.needed, deep.spare, deep.missing) == (5.75, 44.25, 0.0)


def test_a_depth_that_lacks_a_millionth_lacks_it():
    """The slack is for what binary sums are off, a thousand-millionth of the depth, no more."""
    assert missing_depth(10.0, 10.0 * (1 + 0.9e-9)) == 0.0
    assert missing_depth(10.0, 10.0 * (1 + 1.1e-9)) == pytest.approx(1.1e-8, rel=1e-3)
    assert missing_depth(1e-3, 1e-3 * (1 + 0.9e-9)) == 0.0
    assert missing_depth(1e-3, 1e-3 * (1 + 1.1e-9)) > 0.0


def test_small_features_in_large_hexagons():
    assert corner_stand_out(30.0, 4.0) == 13.0
    assert wall_to_flats(30.0, 4.0) == 13.0
    assert wall_to_bore(30.0, 4.0) == 13.0
    assert hexagon("across_flats", 30.0).perimeter == pytest.approx(6 * 30 / math.sqrt(3))


@pytest.mark.parametrize(
    ("measure", "factor"),
    [("circumscribed_radius", math.sqrt(3)), ("inscribed_radius", 2.0),
     ("across_corners", math.sqrt(3) / 2)],
)  # fmt: skip
@pytest.mark.parametrize("wanted", [0.25, 1.0, 30.0])
def test_a_wrong_turn_is_taken_within_its_tolerance_and_no_further(measure, factor, wanted):
    for off, found in [(0.0019, True), (-0.0019, True), (0.0021, False), (-0.0021, False)]:
        turn = wrong_turn(wanted, wanted * factor * (1 + off))
        assert (turn is not None) == found
        if turn is not None:
            assert turn.drawn_with == measure
            assert turn.too_large_across_flats == pytest.approx(wanted * (factor * (1 + off) - 1))


def test_a_hole_of_nothing_is_no_hole():
    """D = 1.299 P leaves exactly nothing at 100 %."""
    pitch = 1.0
    whole = 0.75 * math.sqrt(3) * pitch
    assert hole_for_percent(whole + 1e-6, pitch, 100) == pytest.approx(1e-6, rel=1e-6)
    with pytest.raises(Impossible, match="leaves no hole"):
        hole_for_percent(0.75 * math.sqrt(3) * pitch, pitch, 100)


def test_a_drill_may_leave_a_whole_thread_but_not_more():
    """Drills from the percent asked for on both sides; none above 100 or at 0 percent."""
    found = drill_choices(0.25, 0.05, "in", percent=100, count=200)
    percents = [one.percent for one in found]
    assert min(percents) > 0
    assert max(percents) <= 100
    assert found[0].percent == max(percents)
    distances = [abs(one.drill.diameter - (0.25 - 0.0649519)) for one in found]
    assert distances == sorted(distances)
    # A hole that is exactly a drill: 100 % of a pitch made for it.
    pitch = (0.25 - 0.201) / (0.75 * math.sqrt(3))
    whole = drill_choices(0.25, pitch, "in", percent=100, series=("number",), count=1)[0]
    assert whole.drill.name in ("#7", "#6")


def test_a_bar_or_wrench_off_by_what_binary_sums_are_off_still_fits():
    """A thousand-millionth of the size, at any size; more than that is too large."""
    for size, smallest in [(8.0, "8"), (0.125, "1/8")]:
        (found,) = bar_choices(
            size * (1 + 5e-10), 0.0, "in", shapes=("round",), count=1,
        )  # fmt: skip
        assert found.bar.name == smallest
    with pytest.raises(Impossible):
        bar_choices(8.0 * (1 + 2e-9), 0.0, "in", shapes=("round",))
    (next_up,) = bar_choices(0.125 * (1 + 2e-9), 0.0, "in", shapes=("round",), count=1)
    assert next_up.bar.name == "3/16"
    just = wrench(30.0 * (1 + 5e-10), "mm")
    assert just is not None
    assert (just.name, just.slack, just.exact) == ("30", 0.0, True)
    over = wrench(30.0 * (1 + 2e-9), "mm")
    assert over is not None
    assert over.name == "34"
