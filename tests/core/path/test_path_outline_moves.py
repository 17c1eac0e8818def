"""Where a move comes nearest to a place, by hand."""

from __future__ import annotations

import math

import pytest

from flankwise_service.core.path.outline import Move
from flankwise_service.core.path.segment import Point, Segment

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
