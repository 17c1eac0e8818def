from __future__ import annotations

import itertools
import math

import pytest

from flankwise_service.core.cutting.cost import batch_cost
from flankwise_service.core.cutting.time import (
    Move,
    feed_held_on_radius,
    machining_time,
    move_time,
    moves_of,
    piece_length,
)
from flankwise_service.core.errors import BadInput
from flankwise_service.core.path.segment import Point, Segment
from support.refused import told

ORIGIN = Point(0.0, 0.0, 0.0)


def arc(begin: Point, end: Point, sense: str, sweep: float, feed: float = 300.0) -> Segment:
    return Segment("arc", "thread", begin, end, (0.0, 0.0), sense, sweep, feed)


def line(begin: Point, end: Point, feed: float | None = 300.0) -> Segment:
    return Segment("rapid" if feed is None else "line", "link", begin, end, feed=feed)


def stepped(length: float, entry: float, leave: float, speed: float, rate: float) -> float:
    """Walk a move in small steps of way: the speed is the least that all three limits allow."""
    steps = 200_000
    way, seconds = length / steps, 0.0
    for i in range(steps):
        done = (i + 0.5) * way
        up = math.sqrt(entry**2 + 2 * rate * done)
        down = math.sqrt(leave**2 + 2 * rate * (length - done))
        seconds += way / min(speed, up, down)
    return seconds


@pytest.mark.parametrize(
    ("length", "entry", "leave", "speed", "rate"),
    [(10, 0, 0, 5, 20), (1, 0, 0, 50, 20), (10, 5, 0, 5, 20), (10, 1, 3, 5, 20), (2, 5, 5, 5, 20),
     (0.5, 0.0, math.sqrt(20.0), 50, 20)],
)  # fmt: skip
def test_a_trapezoid_against_small_steps(length, entry, leave, speed, rate):
    found = move_time(length, entry, leave, speed, rate)
    assert found == pytest.approx(stepped(length, entry, leave, speed, rate), rel=3e-3)


def test_ideal_time_plus_what_acceleration_costs():
    spent = machining_time([Move(100.0, 600.0)], rapid=10_000, acceleration=100.0)
    # 10 mm/s: 0.1 s up, 0.1 s down, each covering half of what full speed would
    assert spent.cutting_s == pytest.approx(10.0 + 0.1)
    assert spent.slowed_s == pytest.approx(0.1)
    assert spent.cutting_length == 100.0
    assert (spent.rapid_s, spent.rapid_length) == (0.0, 0.0)


def test_rapids_cuts_changes_and_handling_are_kept_apart():
    spent = machining_time(
        [Move(50.0, None), Move(10.0, 300.0), Move(25.0, None)],
        rapid=6000, acceleration=1e6, tool_changes=2, tool_change_s=5.0, handling_s=30.0,
    )  # fmt: skip
    assert spent.rapid_s == pytest.approx(0.75, rel=1e-3)
    assert spent.cutting_s == pytest.approx(2.0, rel=1e-3)
    assert spent.tool_change_s == 10.0
    assert spent.total_s == pytest.approx(42.75, rel=1e-3)
    assert (spent.cutting_length, spent.rapid_length) == (10.0, 75.0)


def test_a_feed_faster_than_the_rapid_is_run_at_the_rapid():
    slow = machining_time([Move(100.0, 9000.0)], rapid=600, acceleration=1e6)
    assert slow.cutting_s == pytest.approx(10.0, rel=1e-3)


def test_smooth_moves_carry_their_speed_and_corners_stop_it():
    split = [Move(5.0, 600.0), Move(5.0, 600.0, smooth=True)]
    whole = machining_time([Move(10.0, 600.0)], rapid=10_000, acceleration=50.0)
    smooth = machining_time(split, rapid=10_000, acceleration=50.0)
    corner = machining_time([Move(5.0, 600.0)] * 2, rapid=10_000, acceleration=50.0)
    assert smooth.cutting_s == pytest.approx(whole.cutting_s)
    assert corner.cutting_s == pytest.approx(whole.cutting_s + 10.0 / 50.0)


def test_the_machine_looks_ahead_over_many_short_moves():
    """Twenty short smooth moves run as one: no move may end faster than the rest can stop."""
    short = [Move(0.5, 3000.0, smooth=i > 0) for i in range(20)]
    whole = machining_time([Move(10.0, 3000.0)], rapid=10_000, acceleration=100.0)
    assert machining_time(short, rapid=10_000, acceleration=100.0).cutting_s == pytest.approx(
        whole.cutting_s
    )


def test_feeds_change_within_a_smooth_path():
    moves = [Move(5.0, 600.0), Move(5.0, 1200.0, smooth=True)]
    spent = machining_time(moves, rapid=10_000, acceleration=100.0)
    # up to 10 mm/s, run, then from 10 to 20 mm/s and down to rest
    first = 0.1 + (5.0 - 0.5) / 10
    second = 0.1 + 0.2 + (5.0 - 1.5 - 2.0) / 20
    assert spent.cutting_s == pytest.approx(first + second)


def test_a_small_circle_cannot_be_run_at_any_feed():
    held = feed_held_on_radius(0.5, 800.0)
    assert held == pytest.approx(60 * 20.0)
    spent = machining_time([Move(100.0, 6000.0, radius=0.5)], rapid=10_000, acceleration=800.0)
    assert spent.cutting_s == pytest.approx(100 / 20 + 20 / 800, rel=1e-9)
    wide = machining_time([Move(100.0, 600.0, radius=50.0)], rapid=10_000, acceleration=800.0)
    assert wide.cutting_s == pytest.approx(10 + 10 / 800, rel=1e-9)


def test_length_of_a_helical_turn_is_the_sum_of_its_chords():
    turn = arc(Point(2.0, 0.0, 0.0), Point(2.0, 0.0, 1.25), "counterclockwise", 360.0)
    points = [
        (2 * math.cos(t), 2 * math.sin(t), 1.25 * t / (2 * math.pi))
        for t in (2 * math.pi * i / 5000 for i in range(5001))
    ]
    chords = math.fsum(math.dist(a, b) for a, b in itertools.pairwise(points))
    assert piece_length(turn) == pytest.approx(chords, rel=1e-6)
    assert piece_length(line(ORIGIN, Point(3.0, 4.0, 12.0))) == 13.0


def test_tangential_pieces_go_on_smoothly_and_corners_do_not():
    path = [
        line(Point(2.0, -5.0, 0.0), Point(2.0, 0.0, 0.0)),
        arc(Point(2.0, 0.0, 0.0), Point(-2.0, 0.0, 0.0), "counterclockwise", 180.0),
        arc(Point(-2.0, 0.0, 0.0), Point(2.0, 0.0, 0.0), "counterclockwise", 180.0),
        line(Point(2.0, 0.0, 0.0), Point(2.0, 5.0, 0.0)),
        line(Point(2.0, 5.0, 0.0), Point(9.0, 5.0, 0.0)),
        line(Point(9.0, 5.0, 0.0), Point(9.0, 5.0, 0.0)),
        line(Point(9.0, 5.0, 0.0), Point(9.0, 5.0, 8.0), None),
    ]
    moves = moves_of(path)
    assert [one.smooth for one in moves] == [False, True, True, True, False, False]
    assert [one.radius for one in moves] == [None, 2.0, 2.0, None, None, None]
    assert [one.feed for one in moves] == [300.0] * 5 + [None]
    assert moves[1].length == pytest.approx(2 * math.pi)


def test_sense_of_an_arc_decides_where_it_goes_on():
    toward = line(Point(2.0, -5.0, 0.0), Point(2.0, 0.0, 0.0))
    clockwise = arc(Point(2.0, 0.0, 0.0), Point(2.0, 0.0, 0.0), "clockwise", 360.0)
    assert [one.smooth for one in moves_of([toward, clockwise])] == [False, False]
    away = line(Point(2.0, 0.0, 0.0), Point(2.0, -5.0, 0.0))
    assert [one.smooth for one in moves_of([clockwise, away])] == [False, True]


def test_a_helix_and_the_line_along_its_slope_are_smooth():
    radius, lead = 2.0, 4.0
    turn = arc(Point(radius, 0, 0), Point(radius, 0, lead), "counterclockwise", 360.0)
    up = lead / (2 * math.pi * radius)
    along = line(Point(radius, 0, lead), Point(radius, 1.0, lead + up))
    flat = line(Point(radius, 0, lead), Point(radius, 1.0, lead))
    assert moves_of([turn, along])[1].smooth
    assert not moves_of([turn, flat])[1].smooth
    assert moves_of([turn, flat], corner=30.0)[1].smooth
    # curvature of a helix: radius (1 + slope^2)
    assert moves_of([turn])[0].radius == pytest.approx(radius * (1 + up**2))


def test_segments_that_cannot_be_timed_are_named():
    no_feed = line(ORIGIN, Point(1.0, 0.0, 0.0))._replace(feed=None)
    no_centre = arc(ORIGIN, Point(1.0, 0.0, 0.0), "clockwise", 90.0)._replace(centre=None)
    no_sweep = arc(Point(1.0, 0.0, 0.0), Point(0.0, 1.0, 0.0), "clockwise", 0.0)
    on_centre = arc(ORIGIN, Point(1.0, 0.0, 0.0), "clockwise", 90.0)
    to_centre = arc(Point(1.0, 0.0, 0.0), ORIGIN, "clockwise", 90.0)
    assert told(BadInput, moves_of, [no_feed, no_centre, no_sweep, on_centre, to_centre]) == {
        ("/segments/0/feed", "needed"), ("/segments/1/centre", "not_an_arc"),
        ("/segments/2/centre", "not_an_arc"), ("/segments/3/centre", "not_an_arc"),
        ("/segments/4/centre", "not_an_arc"),
    }  # fmt: skip
    assert told(BadInput, moves_of, [], corner=181) == {("/corner", "out_of_range")}
    assert moves_of([]) == ()


def test_time_refusals():
    assert told(
        BadInput, machining_time, [], rapid=0, acceleration=0, tool_changes=-1, tool_change_s=-1,
        handling_s=-1,
    ) == {(f"/{name}", "out_of_range") for name in (
        "rapid", "acceleration", "tool_changes", "tool_change_s", "handling_s")}  # fmt: skip
    bad = [Move(1.0, 1.0), Move(0.0, 0.0, 0.0)]
    assert told(BadInput, machining_time, bad, rapid=1, acceleration=1) == {
        ("/moves/1/length", "out_of_range"), ("/moves/1/feed", "out_of_range"),
        ("/moves/1/radius", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, machining_time, [Move(0.0, None)], rapid=1, acceleration=1) == {
        ("/moves/0/length", "out_of_range"),
    }  # fmt: skip
    assert told(BadInput, feed_held_on_radius, -1, 0) == {
        ("/radius", "out_of_range"), ("/acceleration", "out_of_range"),
    }  # fmt: skip
    empty = machining_time([], rapid=1, acceleration=1)
    assert empty.total_s == empty.slowed_s == 0.0


def test_cost_of_a_batch_worked_by_hand():
    # 50 parts of 72 s at 90 an hour, 30 min setup, a 100 cutter that lasts 20 min, 24 s in cut.
    cost = batch_cost(
        72.0, 50, hourly_rate=90.0, setup_minutes=30.0, cutter_price=100.0,
        cutter_life_minutes=20.0, cutting_seconds_per_part=24.0, material_per_part=3.0,
    )  # fmt: skip
    assert cost.machine_per_part == pytest.approx(1.80)
    assert cost.setup_per_part == pytest.approx(0.90)
    assert cost.cutter_per_part == pytest.approx(2.00)
    assert cost.material_per_part == 3.0
    assert cost.per_part == pytest.approx(7.70)
    assert cost.batch == pytest.approx(385.0)
    assert cost.batch_hours == pytest.approx(1.5)
    assert cost.cutters_used == pytest.approx(1.0)


def test_cutters_are_counted_by_the_whole_time_or_not_at_all():
    whole = batch_cost(60.0, 1, hourly_rate=0, cutter_price=10.0, cutter_life_minutes=4.0)
    assert whole.cutter_per_part == pytest.approx(2.5)
    none = batch_cost(60.0, 1, hourly_rate=0, cutter_price=10.0)
    assert none.cutter_per_part == none.cutters_used == 0.0


def test_cost_refusals():
    assert told(
        BadInput, batch_cost, -1, 0, hourly_rate=-1, setup_minutes=-1, cutter_price=-1,
        cutter_life_minutes=0, cutting_seconds_per_part=-1, material_per_part=-1,
    ) == {(f"/{name}", "out_of_range") for name in (
        "seconds_per_part", "parts", "hourly_rate", "setup_minutes", "cutter_price",
        "cutter_life_minutes", "cutting_seconds_per_part", "material_per_part")}  # fmt: skip
