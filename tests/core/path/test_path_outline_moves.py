"""Where a move comes nearest to a place, by hand."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.path.outline import Hexagon, Move
from flankwise_service.core.path.segment import Point, Segment
from flankwise_service.core.path.stretch import stretches

# Three quarters of a turn about (1, 2), from (4, 2) by way of (1, 5) and (-2, 2).
ARC = Move(
    Segment("arc", "thread", Point(4, 2, 0), Point(1, -1, 3), (1, 2), "counterclockwise", 270.0)
)


def test_an_arc_is_nearest_and_farthest_where_its_radius_points_along_the_place() -> None:
    near = list(ARC.nearest((1.0, 9.0)))
    assert near == pytest.approx([90 / 270])  # the farthest, at 270 degrees, is its own end
    both = list(ARC.nearest((1 + math.sqrt(0.5), 2 + math.sqrt(0.5))))
    assert both == pytest.approx([45 / 270, 225 / 270])


def test_every_place_of_an_arc_is_as_near_to_its_centre() -> None:
    assert list(ARC.nearest((1.0, 2.0))) == []


def test_a_straight_move_is_nearest_at_the_foot_and_a_plunge_everywhere_alike() -> None:
    straight = Move(Segment("line", "thread", Point(0, 0, 0), Point(8, 0, 0)))
    assert list(straight.nearest((2.0, 5.0))) == [0.25]
    plunge = Move(Segment("line", "plunge", Point(1, 1, 5), Point(1, 1, 0)))
    assert list(plunge.nearest((2.0, 5.0))) == []


def test_where_a_move_crosses_a_line_by_hand() -> None:
    """The arc about (1, 2) with radius 3: across y = 3.5 at 30 and 150 degrees, across x = 1 at 90."""
    assert sorted(ARC.crossing((7.0, 3.5), (1.0, 0.0))) == pytest.approx([30 / 270, 150 / 270])
    assert sorted(ARC.crossing((7.0, 3.5), (-5.0, 0.0))) == pytest.approx([30 / 270, 150 / 270])
    (up,) = ARC.crossing((1.0, -8.0), (0.0, 2.0))  # at 270 degrees it ends
    assert up == pytest.approx(90 / 270)
    slanting = sorted(ARC.crossing((-4.0, -3.0), (1.0, 1.0)))  # y = x + 1: through the centre
    assert slanting == pytest.approx([45 / 270, 225 / 270])
    assert list(ARC.crossing((0.0, 5.001), (1.0, 0.0))) == []
    assert len(list(ARC.crossing((0.0, 4.999), (1.0, 0.0)))) == 2
    straight = Move(Segment("line", "thread", Point(2, -1, 0), Point(6, 7, 0)))
    assert list(straight.crossing((10.0, 1.0), (3.0, 0.0))) == pytest.approx([0.25])
    assert list(straight.crossing((3.0, 10.0), (0.0, 1.0))) == pytest.approx([0.25])
    assert list(straight.crossing((9.0, 1.0), (1.0, 2.0))) == []  # runs alongside


def test_a_hexagon_marks_where_flats_corners_and_strips_begin() -> None:
    """Past x = 7, 2 beyond the flat at x = 5: level with its corners, and nearest to each."""
    hexagon = Hexagon(0.0, 0.0, 10.0)
    side = 10 / math.sqrt(3)
    straight = Move(Segment("rapid", "link", Point(7, -10, 0), Point(7, 10, 0)))
    marks = {round(20 * share - 10, 9) for share in hexagon.marks(straight)}
    level = {round(side / 2, 9), round(-side / 2, 9)}
    through = {round(7 * math.tan(math.radians(30)), 9), round(-7 * math.tan(math.radians(30)), 9)}
    assert level <= marks
    assert through <= marks  # from the centre through the corners: there the next flat takes over
    round_it = Move(
        Segment("arc", "link", Point(7, 0, 0), Point(7, 0, 0), (0, 0), "counterclockwise", 360.0)
    )
    turns = {round(360 * share, 6) % 360 for share in hexagon.marks(round_it)}
    assert {float(30 * n) for n in range(1, 12)} <= turns
    strip = math.degrees(math.asin(side / 2 / 7))
    assert {round(at, 6) for at in (strip, 60 - strip, 60 + strip, 360 - strip)} <= turns


def test_where_an_arc_runs_along_an_edge() -> None:
    """Square to (0, 1): where its radius points up, at 90 degrees; down, at 270, it ends."""
    assert list(ARC.square_to((0.0, 1.0))) == pytest.approx([90 / 270])
    both = list(ARC.square_to((-math.sqrt(0.5), -math.sqrt(0.5))))
    assert sorted(both) == pytest.approx([45 / 270, 225 / 270])
    straight = Move(Segment("line", "thread", Point(0, 0, 0), Point(8, 0, 0)))
    assert list(straight.square_to((0.0, 1.0))) == []


def test_no_place_of_a_move_is_farther_from_its_middle_than_it_can_reach() -> None:
    """A straight move reaches half its length; an arc at most its half's length, or a diameter."""
    straight = Move(Segment("line", "thread", Point(0, 0, 0), Point(2, 3, 6)))
    assert straight.reach() == 3.5
    quarter = Move(
        Segment("arc", "thread", Point(4, 2, 0), Point(1, 5, 8), (1, 2), "counterclockwise", 90.0)
    )
    assert quarter.reach() == pytest.approx(math.hypot(3 * math.pi / 4, 4.0))
    assert ARC.reach() == pytest.approx(math.hypot(2 * 3.0, 1.5))
    for move in (straight, quarter, ARC):
        middle = move.at(0.5)
        farthest = max(math.dist(move.at(n / 200), middle) for n in range(201))
        assert farthest <= move.reach() + 1e-12


def test_an_arc_of_no_radius_is_a_way_straight_down() -> None:
    """Where a helix runs on its own axis: nothing turns, so nothing is crossed nor nearest."""
    turning = Segment(
        "arc", "lead_in", Point(1, 2, 5), Point(1, 2, 0), (1, 2), "counterclockwise", 180.0
    )
    down = Move(turning)
    assert list(down.nearest((4.0, 2.0))) == []
    assert list(down.crossing((4.0, 2.0), (1.0, 1.0))) == []
    assert list(down.square_to((0.0, 1.0))) == []
    assert down.at(0.4) == (1.0, 2.0, 3.0)
    assert down.reach() == 2.5


def test_a_height_a_stretch_never_has_is_answered_with_where_it_begins() -> None:
    arcs = [
        Segment("arc", "thread", begin, end, (0, 0), "clockwise", 180.0)
        for begin, end in [
            (Point(3, 0, 4), Point(-3, 0, 2)),
            (Point(-3, 0, 2), Point(3, 0, 0)),
        ]
    ]
    (stretch,) = stretches(arcs, (0, 0))
    assert stretch.at_height(9.0) == (0, Point(3, 0, 4))
    # half of the second half turn: clockwise from (-3, 0) by way of (0, 3)
    assert stretch.at_height(1.0) == (1, pytest.approx((0.0, 3.0, 1.0)))
