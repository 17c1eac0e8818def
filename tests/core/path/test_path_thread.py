"""The thread's path by hand: turns, order, rows, timing, relief, blunt start, lines, memory."""

from __future__ import annotations

import itertools
import math
import tracemalloc
from dataclasses import replace

import pytest

from flankwise_service.core.path.lines import arc_radius, as_lines, chords, place_on
from flankwise_service.core.path.request import RadialPass, thread_turns
from flankwise_service.core.path.runs import (
    blunt_offsets,
    run_count,
    runs,
    total_turns,
    turns_in_one,
)
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.spiral import Spiral, chord_angle, count_pieces
from flankwise_service.core.path.thread import thread_path
from flankwise_service.core.path.totals import Tally, extent, segment_length, totals
from support.many import MANY, many
from support.path_jobs import CUTTER, EXTERNAL, INTERNAL, from_axis

ONE = replace(EXTERNAL, passes=EXTERNAL.passes[-1:])


def test_16_threads_per_inch_over_0_8_inch_are_12_8_turns() -> None:
    """Common practice, no source: length over lead, no turns asked for."""
    assert thread_turns(0.8, 0.0625) == pytest.approx(12.8, abs=1e-12)
    job = replace(
        ONE, pitch=0.0625, length=0.8, blank_diameter=0.75, turns_above_face=0.0,
        cutter=replace(CUTTER, diameter=0.375), passes=(RadialPass(0.53, 10.0),), clearance=0.02,
        clearance_height=0.2,
    )  # fmt: skip
    assert totals(thread_path(job)).arc_turns == pytest.approx(12.8)
    assert total_turns(job) == pytest.approx(12.8)
    more = replace(job, turns_above_face=1.0, turns_below_length=0.5)
    assert totals(thread_path(more)).arc_turns == pytest.approx(14.3)
    assert totals(thread_path(more)).least.z < -0.8 - 0.5 * 0.0625


def test_by_default_the_tooth_just_leaves_the_part() -> None:
    thread = [s for s in thread_path(ONE) if s.purpose == "thread"]
    half = 0.15 / 2 + 0.9 * math.tan(math.radians(30))
    assert thread[0].begin.z == pytest.approx(half)
    assert thread[-1].end.z == -15.0


def test_the_groove_crosses_the_face_at_the_start_angle() -> None:
    job = replace(ONE, start_angle=40.0, turns_above_face=0.0)
    (begin, *_) = [s.begin for s in thread_path(job) if s.purpose == "thread"]
    assert begin.z == pytest.approx(0.0, abs=1e-12)
    assert math.degrees(math.atan2(begin.y, begin.x)) == pytest.approx(40.0)


def test_passes_then_starts_in_order() -> None:
    job = replace(EXTERNAL, starts=3)
    order = [(s.radial_pass, s.start) for s in thread_path(job) if s.purpose == "lead_in"]
    assert order == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]


@pytest.mark.parametrize(
    ("rows", "starts", "count"),
    [(1, 1, 1), (4, 1, 3), (20, 1, 1), (3, 3, 3), (4, 2, 4), (5, 2, 4), (2, 3, 3)],
)
def test_runs_of_a_cutter_of_several_rows(rows: int, starts: int, count: int) -> None:
    """15 mm at pitch 1.5, 0.59 above the face: 10.4 pitches to cover."""
    cutter = replace(CUTTER, rows=rows, row_pitch=1.5)
    job = replace(ONE, cutter=cutter, starts=starts)
    assert run_count(job) == count == len(list(runs(job)))
    whole = turns_in_one(rows, starts) == 1
    turns = totals(thread_path(job)).arc_turns
    each = (15 + 0.5946152422706632) / (1.5 * starts) if whole else 370 / 360
    assert turns == pytest.approx(each * count)
    assert turns == pytest.approx(total_turns(job))


def test_runs_follow_the_motion_along_z() -> None:
    cutter = replace(CUTTER, rows=4, row_pitch=1.5)
    down = [run.z_begin for run in runs(replace(ONE, cutter=cutter))]
    assert down == sorted(down, reverse=True)
    up = list(runs(replace(ONE, cutter=cutter, milling="conventional")))
    assert [run.z_begin for run in up] == [-15.0, -9.0, -3.0]
    assert [run.z_end - run.z_begin for run in up] == pytest.approx([1.5 * 37 / 36] * 3)


def test_a_relief_takes_the_tooth_in_its_middle() -> None:
    job = replace(ONE, relief_width=2.0)
    ends = [s.end.z for s in thread_path(job) if s.purpose == "thread"]
    assert min(ends) == -16.0


def test_a_blunt_start_mills_the_ridge_away_over_the_first_pitch() -> None:
    job = replace(ONE, blunt_start=True)
    extra = list(thread_path(job))[len(list(thread_path(ONE))) - 1 :]
    offsets = blunt_offsets(job)
    assert len(offsets) == 9  # tip 0.15, pitch 1.5: nine rows of the tip between two grooves
    assert [round(o, 3) for o in offsets] == [round(0.15 * k, 3) for k in range(1, 10)]
    thread = [s for s in extra if s.purpose == "thread"]
    assert {round(from_axis(job, s.end), 9) for s in thread} == {12.3}
    # every one ends at the angle where the groove is a pitch deep: one turn below the face
    ends = [s for s, after in itertools.pairwise(extra) if after.purpose == "lead_out"]
    assert [s.end.z + 1.5 for s in ends] == pytest.approx(list(offsets))
    assert all(abs(s.end.y) < 1e-9 and s.end.x > 0 for s in ends)
    assert blunt_offsets(ONE) == ()


def test_a_blunt_start_of_two_starts_going_up() -> None:
    job = replace(ONE, blunt_start=True, milling="conventional", starts=2)
    path = list(thread_path(job))[len(list(thread_path(replace(job, blunt_start=False)))) - 1 :]
    assert sum(s.purpose == "lead_in" for s in path) == 18
    assert {s.start for s in path if s.purpose == "thread"} == {1, 2}
    begins = [s.end for s in path if s.purpose == "lead_in" and s.start == 1]
    assert [place.z + 1.5 for place in begins] == pytest.approx(list(blunt_offsets(job)))


def test_free_moves_are_rapid_but_a_fed_way_down() -> None:
    fed = [s for s in thread_path(replace(ONE, plunge_feed=90.0)) if s.purpose == "plunge"]
    assert [(s.kind, s.feed) for s in fed] == [("line", 90.0)]
    inside = list(thread_path(replace(INTERNAL, plunge_feed=90.0)))
    assert [s.purpose for s in inside[:2]] == ["plunge", "lead_in"]
    assert all(s.feed is None for s in inside if s.kind == "rapid")


def test_between_passes_a_hole_is_not_left_and_a_boss_is_jumped_over() -> None:
    links = [s for s in thread_path(INTERNAL) if s.purpose == "link"]
    assert max(max(s.begin.z, s.end.z) for s in links) < INTERNAL.clearance_height
    over = [s for s in thread_path(replace(EXTERNAL, starts=2)) if s.purpose == "link"]
    tops = [s for s in over if s.begin.z == s.end.z]
    assert tops
    assert {s.begin.z for s in tops} == {5.5}


def test_a_radial_lead_in_a_hole_is_reached_along_the_axis() -> None:
    job = replace(INTERNAL, lead_in="radial", lead_out="radial", passes=INTERNAL.passes[:1])
    purposes = [s.purpose for s in thread_path(job)]
    assert purposes[:3] == ["plunge", "approach", "lead_in"]
    assert purposes[-3:] == ["lead_out", "retract", "retract"]


def test_a_hundred_thousand_turns_take_no_more_memory_than_ten() -> None:
    small = replace(ONE, pitch=0.001, length=9.0, greatest_sweep=90)
    tracemalloc.start()
    count = sum(1 for _ in thread_path(small))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert count > 9000 * 4
    assert peak < 2_000_000


@pytest.mark.slow
def test_hundreds_of_thousands_of_segments() -> None:
    pitch = 1.5e-4 if MANY else 7.5e-4
    job = replace(EXTERNAL, pitch=pitch, length=14.0, greatest_sweep=90)
    job = replace(job, passes=(RadialPass(12.3, 1.0),) * 3)
    found = totals(thread_path(job))
    assert found.segments > many(200_000, 1_000_000)
    assert found.arc_turns == pytest.approx(3 * (14.0 + 0.5946152422706632) / pitch)


def test_chords_of_an_arc_stay_within_the_tolerance_and_end_where_it_ends() -> None:
    arc = Segment("arc", "thread", Point(5, 0, 0), Point(0, 5, 1), (0, 0), "counterclockwise", 90.0)
    pieces = list(chords(arc, 0.01))
    assert pieces[0].begin == arc.begin
    assert pieces[-1].end == arc.end
    middles = [math.hypot(*place_on(s, 0.5)[:2]) for s in pieces]
    assert 5 - 0.01 <= min(middles) <= max(middles) < 5
    assert len(list(chords(arc, 0.0025))) in (2 * len(pieces), 2 * len(pieces) - 1)
    straight = Segment("line", "link", Point(0, 0, 0), Point(1, 0, 0))
    assert list(as_lines([straight, arc], 0.01)) == [straight, *pieces]


def test_chord_angle_is_the_sagitta_and_at_most_a_quarter() -> None:
    angle = chord_angle(10.0, 0.5)
    assert 10.0 * (1 - math.cos(math.radians(angle / 2))) == pytest.approx(0.5)
    assert chord_angle(1.0, 5.0) == 90.0
    assert chord_angle(1.0, 1 - math.sqrt(0.5)) == 90.0
    assert chord_angle(1e5, 1e-7) == pytest.approx(math.degrees(2 * math.sqrt(2e-12)))


def test_count_pieces_never_leaves_a_sliver() -> None:
    assert count_pieces(360.0, 360) == 1
    assert count_pieces(360.0 * (1 + 1e-13), 360) == 1
    assert count_pieces(361.0, 360) == 2
    assert count_pieces(0.0, 360) == 1


def test_a_spiral_knows_its_sense_and_slope() -> None:
    curve = Spiral(0, 0, 2.0, 1.0, 30.0, -1, -0.01, 0.0, 90.0)
    assert curve.sense == "clockwise"
    assert curve._replace(turn=1).sense == "counterclockwise"
    assert curve.slope == pytest.approx(-0.01 * 180 / math.pi / 2)
    assert curve.point_at(90.0) == pytest.approx((1.0, -math.sqrt(3), 0.1))


def test_totals_by_hand() -> None:
    arc = Segment("arc", "thread", Point(1, 0, 0), Point(1, 0, 2), (0, 0), "clockwise", 360.0, 5.0)
    down = Segment("rapid", "plunge", Point(1, 0, 5), Point(1, 0, 0))
    away = Segment("line", "retract", Point(1, 0, 2), Point(4, 0, 6), feed=9.0)
    found = totals([down, arc, away])
    assert (found.segments, found.arcs, found.lines, found.rapids) == (3, 1, 1, 1)
    assert found.rapid_length == 5
    assert found.thread_length == pytest.approx(math.hypot(math.tau, 2))
    assert found.cutting_length == pytest.approx(math.hypot(math.tau, 2) + 5)
    assert found.arc_turns == 1
    assert found.least == pytest.approx((-1, -1, 0))
    assert found.greatest == pytest.approx((4, 1, 6))
    assert found.height == 6
    assert (found.begin, found.end) == (down.begin, away.end)
    assert segment_length(away) == 5
    quarters = list(extent(arc))[2:]
    assert [place.z for place in quarters] == pytest.approx([1.5, 1.0, 0.5])
    assert arc_radius(away) == 0.0
    assert arc.rise == 2


def test_a_path_of_nothing_stays_at_the_origin() -> None:
    found = Tally().totals()
    assert found.segments == 0
    assert found.least == found.greatest == found.begin == (0, 0, 0)


@pytest.mark.parametrize("portion", [1, 3, 1000])
def test_a_tally_takes_a_path_in_portions(portion: int) -> None:
    tally, path = Tally(), list(thread_path(ONE))
    for index in range(0, len(path) + portion, portion):
        tally.take(path[index : index + portion])
    assert tally.totals() == totals(thread_path(ONE))
