"""What must hold for any hexagon, blank, cut and path, not only for the cases thought of."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from flankwise_service.core.cutting.chip import held_chip, mean_chip
from flankwise_service.core.cutting.cutter import Cutter, Tooth
from flankwise_service.core.cutting.deflection import Section, bending_compliance, deflect
from flankwise_service.core.cutting.engagement import engagement_on_circle
from flankwise_service.core.cutting.feed import arc_feed, centre_diameter
from flankwise_service.core.cutting.force import pass_load, pass_strips, specific_force
from flankwise_service.core.cutting.load import ThreadCut, stiff_thread_depths, thread_pass
from flankwise_service.core.cutting.passes import equal_area_depths, groove_area, stiff_depths
from flankwise_service.core.cutting.speed import spindle_speed
from flankwise_service.core.cutting.time import Move, machining_time
from flankwise_service.core.errors import Impossible, Refusal
from flankwise_service.core.stock.bars import bars
from flankwise_service.core.stock.blank import check_blank_depth, diameter_aim
from flankwise_service.core.stock.choice import bar_choices, needed_size
from flankwise_service.core.stock.drills import drill_choices
from flankwise_service.core.stock.hexagon import MEASURES, hexagon, wrong_turn

QUICK = settings(deadline=None, max_examples=60)
sizes = st.floats(0.5, 200.0)
sides = st.sampled_from(["internal", "external"])
anything = st.one_of(
    st.floats(), st.integers(), st.integers(10**300, 10**400), st.just(-(10**400)),
    st.just(5e-324), st.just(1e308),
)  # fmt: skip


@QUICK
@given(st.sampled_from(MEASURES), st.sampled_from(MEASURES), sizes)
def test_a_hexagon_survives_any_round_trip(first, second, size):
    whole = hexagon(first, size)
    again = hexagon(second, getattr(whole, second))
    for name in (*MEASURES, "area", "perimeter"):
        assert getattr(again, name) == pytest.approx(getattr(whole, name), rel=1e-12)


@QUICK
@given(sizes, st.sampled_from(["circumscribed_radius", "inscribed_radius", "across_corners"]))
def test_every_wrong_turn_is_found_from_the_drawing(size, taken):
    turn = wrong_turn(size, hexagon(taken, size).across_flats)
    assert turn is not None
    assert turn.drawn_with == taken
    assert turn.wanted.across_flats == pytest.approx(size)


@QUICK
@given(sizes, st.floats(0, 5), st.sampled_from(["in", "mm"]), st.sampled_from(["hexagon", "round"]))
def test_the_bar_chosen_cleans_up_and_none_smaller_would(diameter, allowance, unit, shape):
    needed = needed_size(diameter, allowance)
    try:
        (found,) = bar_choices(diameter, allowance, unit, shapes=(shape,), count=1)
    except Impossible:
        assert all(one.size - (one.undersize or 0) < needed for one in bars(shape, unit))
        return
    assert found.bar.size - (found.bar.undersize or 0) >= needed * (1 - 1e-8)
    for one in bars(shape, unit):
        if one.size < found.bar.size:
            assert one.size - (one.undersize or 0) < needed


@QUICK
@given(st.floats(0.1, 100), st.floats(0, 2), st.floats(0, 2), st.floats(0, 150))
def test_a_blank_passes_just_when_it_is_deep_enough(thread, tooth, clearance, depth):
    lack = thread + tooth + clearance - depth
    assume(abs(lack) > 1e-6)
    if lack > 0:
        with pytest.raises(Impossible):
            check_blank_depth(depth, thread, tooth, clearance)
    else:
        assert check_blank_depth(depth, thread, tooth, clearance).spare == pytest.approx(-lack)


@QUICK
@given(sizes, st.floats(0, 1), st.floats(0, 1))
def test_an_aim_is_inside_its_limits(least, width, fraction):
    aim = diameter_aim(least, least + width, fraction)
    assert aim.least <= aim.diameter <= aim.greatest + 1e-12
    assert aim.room_below + aim.room_above == pytest.approx(width, abs=1e-9)


@st.composite
def cuts(draw):
    """A cutter on a circle, with a step it can take: side, cutter, before, after."""
    side = draw(sides)
    cutter = draw(st.floats(1.0, 40.0))
    step = draw(st.floats(0.01, 0.4)) * cutter
    if side == "internal":
        after = cutter * draw(st.floats(1.05, 6.0)) + 2 * step
        return side, cutter, after - 2 * step, after
    after = draw(st.floats(2.0, 150.0))
    return side, cutter, after + 2 * step, after


@QUICK
@given(cuts())
def test_the_chips_of_a_turn_are_the_ring_removed(cut):
    side, cutter, before, after = cut
    angle = engagement_on_circle(cutter, before, after, side)
    assume(angle < 179.9)  # a cutter buried whole leaves part of the ring to its next turn
    across = centre_diameter(after, cutter, side)
    per_tooth = mean_chip(0.01, angle) * math.radians(angle) * cutter / 2
    teeth_of_a_turn = math.pi * across / 0.01
    ring = math.pi / 4 * abs(after**2 - before**2)
    assert per_tooth * teeth_of_a_turn == pytest.approx(ring, rel=1e-7)


@QUICK
@given(cuts(), st.floats(0.005, 0.2))
def test_held_chips_are_never_thicker_than_wanted(cut, wanted):
    side, cutter, before, after = cut
    held = held_chip(wanted, cutter, before, after, side)
    assert held.greatest_chip <= wanted * (1 + 1e-9)
    assert held.capped or held.greatest_chip == pytest.approx(wanted)
    assert held.mean_chip <= held.greatest_chip
    assert max(held.feed_per_tooth, held.feed_per_tooth_edge) <= 2 * wanted * (1 + 1e-12)
    assert (held.feed_per_tooth_edge > held.feed_per_tooth) == (side == "internal")


@QUICK
@given(cuts(), st.floats(0, 5))
def test_inch_and_metric_feeds_are_the_same_motion(cut, lead):
    side, cutter, _, after = cut
    metric = arc_feed(400.0, after, cutter, side, lead=lead)
    inch = arc_feed(400.0 / 25.4, after / 25.4, cutter / 25.4, side, lead=lead / 25.4)
    assert inch.path_feed * 25.4 == pytest.approx(metric.path_feed)
    # edge and centre need the same time for a turn
    turn = math.hypot(math.pi * metric.centre_diameter, lead) / metric.path_feed
    assert math.pi * after / turn == pytest.approx(metric.edge_feed)


@QUICK
@given(st.floats(1, 500), st.floats(1, 100), st.floats(100, 20_000))
def test_speed_never_leaves_the_machine(surface, diameter, greatest):
    found = spindle_speed(surface, diameter, "mm", greatest=greatest)
    assert found.speed <= greatest
    assert found.speed <= found.wanted
    assert (found.capped == "none") == (found.speed == found.wanted)


@QUICK
@given(st.floats(0.1, 5), st.integers(1, 12), st.floats(0, 1), st.floats(0, 45), st.floats(0, 45))
def test_equal_areas_rise_to_the_full_depth(depth, count, tip, upper, lower):
    assume(tip > 0.01 or upper + lower > 1)
    form = (tip, upper, lower)
    depths = equal_area_depths(depth, count, *form)
    assert list(depths) == sorted(depths)
    areas = [groove_area(one, *form) for one in depths]
    whole = groove_area(depth, *form)
    assert areas == pytest.approx([whole * i / count for i in range(1, count + 1)], rel=1e-7)


TOOTH = Tooth(30.0, 30.0, 0.15, 1.2)


@QUICK
@given(cuts(), st.floats(500, 4000), st.floats(0.1, 0.35), st.floats(0.1, 0.9))
def test_a_deeper_pass_raises_force_and_power(cut, kc11, mc, less):
    side, cutter, before, after = cut
    step = abs(after - before) / 2
    shallow_after = before + (after - before) * less
    loads = []
    for reached in (shallow_after, after):
        done = abs(reached - before) / 2
        loads.append(
            pass_load(
                pass_strips(0.0, done, 0.15, 30.0, 30.0),
                engagement=engagement_on_circle(cutter, before, reached, side),
                step_mm=done,
                feed_per_tooth_mm=0.02,
                cutter_diameter_mm=cutter,
                flutes=4,
                speed=3000,
                kc11=kc11,
                mc=mc,
            )
        )
    assert step > 0
    shallow, deep = loads
    assert deep.tangential_mean_n > shallow.tangential_mean_n
    assert deep.power_kw > shallow.power_kw
    assert deep.chip_area_mm2 > shallow.chip_area_mm2


@QUICK
@given(st.floats(0.01, 1), st.floats(1.01, 3), st.floats(0.1, 0.4))
def test_thin_chips_cost_more_force_for_their_area(chip, thicker, mc):
    assert specific_force(2000, mc, chip) > specific_force(2000, mc, chip * thicker)


@QUICK
@given(st.floats(5, 60), st.floats(2, 20), st.floats(1.05, 2.0), st.floats(1, 500))
def test_deflection_falls_with_stiffness(reach, neck, stiffer, force):
    base = (Section(reach, neck), Section(20.0, 2 * neck))
    thick = (Section(reach, neck * stiffer), Section(20.0, 2 * neck))
    short = (Section(reach / stiffer, neck), Section(20.0, 2 * neck))
    bends = [
        deflect(force, one, "carbide", internal=True).deflection_mm for one in (base, thick, short)
    ]
    assert bends[0] > bends[1]
    assert bends[0] > bends[2]
    assert bends[0] == pytest.approx(force * bending_compliance(base, 600_000.0))
    assert deflect(force, base, "high speed steel", internal=True).deflection_mm > bends[0]


@QUICK
@given(st.floats(0.2, 1.5), st.floats(0.02, 0.3), st.floats(0.02, 0.3), sides)
def test_stiff_passes_hold_their_promise(depth, final, tolerance, side):
    mill = Cutter(6.0, 3, TOOTH, neck_diameter=4.2, reach=20.0, shank_diameter=6.0, overhang=30.0)
    cut = ThreadCut(mill, "mm", side, 12.0, 1.5, 3000.0, 0.02, 2050.0, 0.21)
    try:
        depths = stiff_thread_depths(cut, depth, tolerance, final_share=final)
    except Impossible:
        return
    assert list(depths) == sorted(depths)
    assert depths[-1] == depth
    begins = (0.0, *depths[:-1])
    for begin, end in zip(begins, depths, strict=True):
        bent = thread_pass(replace(cut, milling="climb"), begin, end).deflection
        assert bent is not None
        share = final if end == depth else 0.5
        assert abs(bent.pitch_diameter_error_mm) <= share * tolerance * (1 + 1e-6)


@QUICK
@given(st.floats(0.1, 10), st.floats(0.01, 1), st.floats(0.01, 1), st.floats(0.001, 0.01))
def test_stiff_depths_rise_and_keep_within_their_limits(depth, final, rough, least):
    try:
        depths = stiff_depths(
            depth, lambda a, b: (b - a) * (a + b + 0.1),
            greatest_final=final, greatest_rough=rough, least_step=min(least, depth),
        )  # fmt: skip
    except Impossible:
        return
    begins = (0.0, *depths[:-1])
    assert all(a < b for a, b in zip(begins, depths, strict=True))
    bends = [(b - a) * (a + b + 0.1) for a, b in zip(begins, depths, strict=True)]
    assert bends[-1] <= final * (1 + 1e-8)
    assert all(one <= rough * (1 + 1e-8) for one in bends[:-1])


moves = st.lists(
    st.builds(
        Move, st.floats(0.01, 50), st.one_of(st.none(), st.floats(10, 5000)),
        st.one_of(st.none(), st.floats(0.1, 100)), st.booleans(),
    ),
    min_size=1, max_size=12,
)  # fmt: skip


@QUICK
@given(moves, st.floats(10, 10_000), st.floats(1.1, 3))
def test_time_falls_with_feed_and_with_acceleration(path, acceleration, more):
    def seconds(of: list[Move], rate: float) -> float:
        return machining_time(of, rapid=5000, acceleration=rate).total_s

    base = seconds(path, acceleration)
    faster = [one if one.feed is None else one._replace(feed=one.feed * more) for one in path]
    assert seconds(faster, acceleration) <= base * (1 + 1e-9)
    assert seconds(path, acceleration * more) <= base * (1 + 1e-9)
    ideal = math.fsum(one.length / (min(one.feed or 5000, 5000) / 60) for one in path)
    assert base >= ideal * (1 - 1e-9)
    corners = [one._replace(smooth=False) for one in path]
    assert seconds(corners, acceleration) >= base * (1 - 1e-9)


@QUICK
@given(st.floats(0.1, 50), st.floats(10, 5000), st.floats(10, 10_000), st.integers(2, 20))
def test_a_straight_move_cut_in_pieces_takes_the_same_time(length, feed, acceleration, pieces):
    split = [Move(length / pieces, feed, None, i > 0) for i in range(pieces)]
    whole = machining_time([Move(length, feed)], rapid=5000, acceleration=acceleration)
    again = machining_time(split, rapid=5000, acceleration=acceleration)
    assert again.total_s == pytest.approx(whole.total_s, rel=1e-9)


@QUICK
@given(st.data())
def test_any_number_at_all_is_computed_or_refused(data):
    """No ZeroDivisionError, no OverflowError, no NaN: a figure or a refusal."""
    one, two, three, four = (data.draw(anything) for _ in range(4))
    side = data.draw(sides)
    calls = [
        lambda: hexagon("side", one).area,
        lambda: wrong_turn(one, two, three) or 0.0,
        lambda: diameter_aim(one, two, three).diameter,
        lambda: check_blank_depth(one, two, three, four).spare,
        lambda: bar_choices(one, two, "mm", least_wall=three)[0].cut_per_side,
        lambda: drill_choices(one, two, "in", percent=three, series=("letter",))[0].percent,
        lambda: spindle_speed(one, two, "in", least=three, greatest=four).speed,
        lambda: arc_feed(one, two, three, side, lead=four).path_feed,
        lambda: held_chip(one, two, three, four, side).feed_per_tooth,
        lambda: equal_area_depths(one, 3, two, three, four)[0],
        lambda: machining_time([Move(one, two, three)], rapid=four, acceleration=100).total_s,
        lambda: (
            thread_pass(
                ThreadCut(Cutter(one, 3, TOOTH), "mm", side, two, three, four, 0.02, 2000, 0.2),
                0,
                0.3,
            ).force.power_kw
        ),
    ]
    for call in calls:
        try:
            found = call()
        except Refusal:
            continue
        assert not isinstance(found, float) or math.isfinite(found)
